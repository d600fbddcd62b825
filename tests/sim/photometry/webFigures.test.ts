/** Derived figures of photometric files against closed forms. */
import { describe, expect, test } from 'vitest';
import { readPhotometricText } from '../../../src/scene/webs/readPhotometricText';
import { cosinePowerHalfAngle } from '../../../src/sim/photometry/beams';
import { bendRad } from '../../../src/sim/photometry/web/bend';
import { planeProfile, webFigures, type WebFigures } from '../../../src/sim/photometry/web/figures';
import { gridOf, type WebGrid } from '../../../src/sim/photometry/web/grid';
import { lm63, radians, steps, type Lm63Parts } from '../../files/photometry/compose';

function gridFrom(parts: Lm63Parts): WebGrid {
  const read = readPhotometricText(lm63(parts), 'a.ies');
  if (!read.ok) throw new Error(read.fault.found);
  return gridOf(read.file);
}
const figures = (parts: Lm63Parts): WebFigures => webFigures(gridFrom(parts));
const fullDeg = (spread: { fromDeg: number; toDeg: number } | null): number =>
  spread === null ? NaN : spread.toDeg - spread.fromDeg;

describe('round beams', () => {
  // cos^n: flux 2 pi I0 / (n + 1), half-angle acos(share^(1/n)); a table of quarter degrees is within 2e-4.
  test.each([1, 4, 20, 120])('power %d of the cosine', (power) => {
    const { fluxLm, peakCd, peakOffDeg, planes, axisCd } = figures({
      verticalDeg: steps(0, 90, 0.25),
      horizontalDeg: [0],
      intensity: (g) => 5000 * Math.cos(radians(g)) ** power,
    });
    expect(fluxLm / ((2 * Math.PI * 5000) / (power + 1))).toBeCloseTo(1, 3);
    expect([peakCd, axisCd, peakOffDeg]).toEqual([5000, 5000, 0]);
    for (const { beam, field } of planes) {
      expect(fullDeg(beam)).toBeCloseTo((360 / Math.PI) * cosinePowerHalfAngle(power, 0.5), 2);
      expect(fullDeg(field)).toBeCloseTo((360 / Math.PI) * cosinePowerHalfAngle(power, 0.1), 1);
    }
  });

  test('between two angles the crossing is on the straight line', () => {
    const { planes } = figures({
      verticalDeg: [0, 10, 20],
      horizontalDeg: [0],
      intensity: (g) => [100, 80, 0][g / 10]!,
    });
    expect(planes[0]!.beam).toEqual({ fromDeg: expect.closeTo(-13.75, 9), toDeg: expect.closeTo(13.75, 9) });
    expect(planes[1]!.field!.toDeg).toBeCloseTo(18.75, 9);
  });

  test('a table that ends over the level ends the beam; light all round has none', () => {
    const even = (to: number): WebFigures =>
      figures({ verticalDeg: steps(0, to, 10), horizontalDeg: [0], intensity: () => 100 });
    expect(fullDeg(even(40).planes[0]!.beam)).toBeCloseTo(80, 9);
    expect(even(180).planes.map(({ beam, field }) => [beam, field])).toEqual([
      [null, null],
      [null, null],
    ]);
    // 4 pi I0 all round
    expect(even(180).fluxLm).toBeCloseTo(400 * Math.PI, 6);
  });
});

describe('beams that are not round', () => {
  const oval: Lm63Parts = {
    verticalDeg: steps(0, 90, 1),
    horizontalDeg: steps(0, 90, 10),
    intensity: (g, c) => 1000 * Math.pow(0.5, (g / (10 + 10 * Math.sin(radians(c)))) ** 2),
  };
  test('each plane has its own angles', () => {
    const [across, upright] = figures(oval).planes;
    expect([across!.side, upright!.side]).toEqual(['across', 'upright']);
    expect(fullDeg(across!.beam)).toBeCloseTo(20, 9);
    expect(fullDeg(upright!.beam)).toBeCloseTo(40, 9);
  });

  test('a peak off the axis: its direction, and a beam about it', () => {
    const { peakAt, peakOffDeg, planes, axisCd } = figures({
      type: 2,
      verticalDeg: steps(-90, 90, 5),
      horizontalDeg: steps(-90, 90, 5),
      intensity: (v, h) => Math.max(0, 100 - 4 * Math.abs(v - 20) - 2 * Math.abs(h)),
    });
    expect(peakOffDeg).toBeCloseTo(20, 9);
    expect(peakAt.up).toBeCloseTo(Math.sin(radians(20)), 12);
    expect(peakAt.right).toBeCloseTo(0, 12);
    expect(axisCd).toBeCloseTo(20, 9);
    // Upright: 100 at 20 degrees, 4 a degree down: 50 at 7.5 and 32.5. Level plane: 20 at most, so no beam, but a field.
    expect(planes[1]!.beam).toEqual({ fromDeg: expect.closeTo(7.5, 9), toDeg: expect.closeTo(32.5, 9) });
    expect(planes[0]!.beam).toBeNull();
    expect(fullDeg(planes[0]!.field)).toBeCloseTo(10, 9);
  });

  test('plane profiles have the table’s own angles on both sides', () => {
    const profile = planeProfile(
      gridFrom({ verticalDeg: [0, 5, 30], horizontalDeg: [0, 90, 180, 270, 360], intensity: (g, c) => 1 + g + c }),
      'upright',
    );
    expect(profile.anglesDeg.map((angle) => Math.round(angle))).toEqual([-30, -5, 0, 5, 30]);
    [301, 276, 1, 96, 121].forEach((value, i) => expect(profile.candela[i]).toBeCloseTo(value, 9));
  });
});

test('a bell bends over 0.85 of its half-angle: 1 / sqrt(2 ln 2)', () => {
  const grid = gridFrom({
    verticalDeg: steps(0, 90, 0.25),
    horizontalDeg: [0],
    intensity: (g) => Math.pow(0.5, (g / 12) ** 2),
  });
  // The table's second differences do not reach over the axis itself; beside it the bell bends nearly as much.
  expect(bendRad(grid) / ((12 * Math.PI) / 180 / Math.sqrt(2 * Math.LN2))).toBeCloseTo(1, 2);
});
