/** A lamp whose output is its own meter readings, in the kernel. */
import { describe, expect, test } from 'vitest';
import type { Distribution, Emitter, Output } from '../../src/scene/schema';
import { fitOfLamp, virtualOriginOf } from '../../src/sim/solve/readingsOutput';
import { lm63, steps } from '../files/photometry/compose';
import { facing, lamp, meterOf } from '../validation/scenes';

const along = (distances: readonly number[], lux: (d: number) => number): Output => ({
  kind: 'readings',
  readings: distances.map((distanceM) => ({ distanceM, illuminanceLx: lux(distanceM) })),
});
const lawful = (d: number): number => 24_000 / (d + 0.6) ** 2;
const webs = { spot: lm63({ verticalDeg: steps(0, 40, 5), horizontalDeg: [0], intensity: (g) => 900 * (1 - g / 40) }) };
const made = (emitter: Emitter, distribution: Distribution, output: Output) =>
  lamp(facing([0, 0, 0], 90, 0), emitter, distribution, output);
function luxAt(source: ReturnType<typeof made>, distanceM: number): number {
  return meterOf({ sources: { source }, webs })({ at: [distanceM, 0, 0], normal: [-1, 0, 0] });
}

describe('readings as output', () => {
  const beam: Distribution = { kind: 'beam', beamAngleDeg: 20 };
  test('a beam takes output and origin from the fit: it reads what the meter read, and the law beyond', () => {
    const source = made({ shape: 'point' }, beam, along([2, 3, 5, 8], lawful));
    expect(virtualOriginOf(source)).toBeCloseTo(0.6, 8);
    for (const distanceM of [2, 5, 8, 20]) expect(luxAt(source, distanceM) / lawful(distanceM)).toBeCloseTo(1, 8);
    const typed = made({ shape: 'point' }, { ...beam, virtualOriginM: 0.6 }, { kind: 'candela', candela: 24_000 });
    expect(luxAt(source, 3.3)).toBeCloseTo(luxAt(typed, 3.3), 6);
  });

  test('an origin that is typed holds; the output alone is fitted', () => {
    const source = made({ shape: 'point' }, { ...beam, virtualOriginM: 0.6 }, along([4], lawful));
    expect(luxAt(source, 10)).toBeCloseTo(lawful(10), 8);
    expect(fitOfLamp(source)).toMatchObject({ ok: true, limit: 'originGiven' });
  });

  test('a web is scaled to its axis, wherever its file puts it', () => {
    const source = made({ shape: 'point' }, { kind: 'web', webId: 'spot' }, along([2, 3, 5, 8], lawful));
    for (const distanceM of [2, 8]) expect(luxAt(source, distanceM) / lawful(distanceM)).toBeCloseTo(1, 8);
  });

  test('a matt face has no origin behind it, and readings in its near zone do not count', () => {
    const [candela, radiusM] = [1000, 0.5];
    // A Lambertian disc on its axis: I / (d² + R²) (check values 2.1).
    const source = made(
      { shape: 'disc', diameterM: 2 * radiusM },
      { kind: 'lambertian' },
      along([0.5, 1, 8, 12], (d) => candela / (d * d + radiusM * radiusM)),
    );
    expect(virtualOriginOf(source)).toBe(0);
    expect(luxAt(source, 1) / (candela / 1.25)).toBeCloseTo(1, 2);
    const fit = fitOfLamp(source);
    expect(fit?.ok && fit.candela.value / candela).toBeCloseTo(1, 2);
  });

  test('readings that rise with distance: the farthest counts; dark ones give no light', () => {
    const rising = made(
      { shape: 'point' },
      beam,
      along([2, 4], (d) => 100 * d),
    );
    expect(luxAt(rising, 4)).toBeCloseTo(400, 6);
    expect(
      luxAt(
        made(
          { shape: 'point' },
          beam,
          along([2, 4], () => 0),
        ),
        3,
      ),
    ).toBe(0);
  });
});
