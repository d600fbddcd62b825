import { describe, expect, it } from 'vitest';
import { beamFigure, halfAnglesOf, litFans } from '../../src/render/beamGeometry';
import { castRay } from '../../src/render/raycast';
import { thingsOfRoom, withFlag, withLamp } from './scene';

const figureOf = (things = thingsOfRoom()): ReturnType<typeof beamFigure> =>
  beamFigure(things, things.lamps[0]!, things.lamps[0]!.frame.right, 20);

describe('half angles', () => {
  it('of a bare cosine source: 50 % at acos(0.5), the 10 % edge too wide to draw', () => {
    expect(halfAnglesOf({ kind: 'lambertian' })!.beamDeg).toBeCloseTo(60, 9);
    expect(halfAnglesOf({ kind: 'lambertian' })!.fieldDeg).toBeNull();
  });
  it('of cos n: acos(s^(1/n))', () => {
    // cos^4: 0.5^(1/4) = 0.840896, acos 32.765°; 0.1^(1/4) = 0.562341, acos 55.783°.
    const angles = halfAnglesOf({ kind: 'cosinePower', exponent: 4 })!;
    expect(angles.beamDeg).toBeCloseTo(32.765, 3);
    expect(angles.fieldDeg).toBeCloseTo(55.783, 2);
  });
  it('of a beam and of a projection spot: half of the full angles as they are typed', () => {
    expect(halfAnglesOf({ kind: 'beam', beamAngleDeg: 26, fieldAngleDeg: 40 })).toEqual({ beamDeg: 13, fieldDeg: 20 });
    expect(halfAnglesOf({ kind: 'projection', fieldAngleDeg: 36, edgeWidthDeg: 1.5 })).toEqual({
      beamDeg: 18,
      fieldDeg: null,
    });
  });
  it('are none for light that leaves evenly', () => {
    expect(halfAnglesOf({ kind: 'uniform' })).toBeNull();
  });
});

describe('beams stop at what blocks them', () => {
  it('the axis goes through the window to the far wall, the edges end on the outer face', () => {
    const figure = figureOf();
    expect(figure.axis.surfaceId).toBe('east');
    expect(figure.axis.atM[0]).toBeCloseTo(9, 9);
    expect(figure.axis.passed).toEqual(['west/window']);
    for (const edge of figure.beam) {
      expect(edge.surfaceId).toBe('west');
      expect(edge.atM[0]).toBeCloseTo(-0.3, 9);
    }
    // 20° beside the axis, 3.7 m off: 3.7 tan 20° = 1.347 m.
    expect(figure.beam.map((edge) => Math.abs(edge.atM[1] - 2.6))).toEqual([
      expect.closeTo(1.347, 3),
      expect.closeTo(1.347, 3),
    ]);
  });
  it('a ray that enters the window at a slant ends on the reveal', () => {
    const things = thingsOfRoom();
    // Crosses the outer face 0.05 m inside the north jamb (y = 3.2) going 45° north: meets the jamb 0.05 m deeper.
    const hit = castRay(things, [-1.3, 2.15, 1.5], [Math.SQRT1_2, Math.SQRT1_2, 0], 20);
    expect(hit.surfaceId).toBe('west');
    expect(hit.atM[0]).toBeCloseTo(-0.25, 9);
    expect(hit.atM[1]).toBeCloseTo(3.2, 9);
  });
  it('the filled cone is only what passes the window', () => {
    const fans = litFans(figureOf());
    expect(fans).toHaveLength(1);
    for (const ray of fans[0]!) expect(ray.atM[0]).toBeGreaterThan(-0.3);
  });
  it('a flag stops the axis, a net would not', () => {
    expect(figureOf(thingsOfRoom(withFlag())).axis.modifierId).toBe('flag');
    const setup = withFlag().setups[0]!;
    const net = { ...setup.modifiers['flag']!, material: { kind: 'net' as const, stops: 1 } };
    const netted = { ...withFlag(), setups: [{ ...setup, modifiers: { flag: net } }] };
    expect(figureOf(thingsOfRoom(netted)).axis.modifierId).toBeNull();
  });
  it('a lamp that is off has an axis but no beam', () => {
    const figure = figureOf(thingsOfRoom(withLamp({ off: true })));
    expect(figure.beam).toHaveLength(0);
    expect(figure.cone).toHaveLength(0);
    expect(figure.axis.surfaceId).toBe('east');
  });
});
