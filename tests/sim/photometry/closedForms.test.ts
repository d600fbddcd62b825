/** Edges of the closed forms: limits, horizons, refusals, and one law against another. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Vec3 } from '../../../src/scene/geometry/vector';
import { frameFromPose } from '../../../src/scene/geometry/frames';
import {
  discIlluminanceOnAxis,
  discIlluminanceParallel,
  discIlluminancePerpendicular,
  lineIlluminance,
  pointIlluminance,
  sphereIlluminance,
  tubeIlluminance,
  uniformPolygonIlluminance,
} from '../../../src/sim/photometry/closedForms';
import { wovenTransmittance } from '../../../src/sim/photometry/filters';
import { umbraLength } from '../../../src/sim/photometry/penumbra';

const within = (low: number, high: number) =>
  fc.integer({ min: 0, max: 1e6 }).map((i) => low + ((high - low) * i) / 1e6);

describe('refusals', () => {
  test.each([
    ['a point at no distance', () => pointIlluminance(100, 0, 0)],
    ['a disc dipping below the horizon', () => discIlluminanceOnAxis(1, 1, 1, 0.8)],
    ['an upright receiver under the disc', () => discIlluminancePerpendicular(1, 1, 1, 0.9)],
    ['a receiver inside a sphere', () => sphereIlluminance(1, [0, 0, 0], 1, [0.5, 0, 0], [1, 0, 0])],
    ['a receiver inside a tube', () => tubeIlluminance(1, 0.1, 1, 0.1)],
  ])('%s', (_what, call) => expect(call).toThrow(RangeError));

  test('grazing light and light from behind are nothing', () => {
    expect(pointIlluminance(100, 1, 2)).toBe(0);
    expect(sphereIlluminance(1, [0, 0, -3], 1, [0, 0, 0], [0, 0, 1])).toBe(0);
    expect(
      uniformPolygonIlluminance(
        1,
        [
          [0, 0, -1],
          [1, 0, -1],
          [0, 1, -1],
        ],
        [0, 0, 0],
        [0, 0, 1],
      ),
    ).toBe(0);
  });
});

describe('one law against another', () => {
  const ring = (radius: number, height: number, offset: number): Vec3[] =>
    Array.from({ length: 720 }, (_, i) => {
      const angle = (i * Math.PI) / 360;
      return [offset + radius * Math.cos(angle), radius * Math.sin(angle), height];
    });
  test('property: a 720-gon by the contour formula is the disc, parallel and upright', () => {
    fc.assert(
      fc.property(within(0.1, 1), within(0.3, 4), within(1.01, 4), (radius, height, offset) => {
        const parallel = uniformPolygonIlluminance(1000, ring(radius, height, offset), [0, 0, 0], [0, 0, 1]);
        expect(parallel / discIlluminanceParallel(1000, radius, height, offset)).toBeCloseTo(1, 4);
        const upright = uniformPolygonIlluminance(1000, ring(radius, height, offset), [0, 0, 0], [1, 0, 0]);
        expect(upright / discIlluminancePerpendicular(1000, radius, height, offset)).toBeCloseTo(1, 4);
      }),
      { seed: 3, numRuns: 50 },
    );
  });

  test('property: a sphere is the disc of its silhouette, cut by the horizon or not', () => {
    fc.assert(
      fc.property(within(1.05, 5), within(0, Math.PI), (far, angle) => {
        const normal: Vec3 = [Math.sin(angle), 0, Math.cos(angle)];
        const silhouette = ring(Math.sqrt(1 - 1 / far ** 2), far - 1 / far, 0);
        const expected = uniformPolygonIlluminance(1000, silhouette, [0, 0, 0], normal);
        expect(Math.abs(sphereIlluminance(1000, [0, 0, far], 1, [0, 0, 0], normal) - expected)).toBeLessThan(0.1);
      }),
      { seed: 4, numRuns: 80 },
    );
  });

  test('a thin tube is a line of 2 r L; a far disc its point, to ten digits', () => {
    expect(tubeIlluminance(1000, 1e-5, 1.2, 1) / lineIlluminance(2e-2, 1.2, 1)).toBeCloseTo(1, 4);
    const point = pointIlluminance(1000 * Math.PI * 0.01, 1000, 0);
    expect(discIlluminanceParallel(1000, 0.1, 1000, 0) / point).toBeCloseTo(1, 7);
    expect(discIlluminanceParallel(1000, 0.1, 1e4, 0) / discIlluminanceOnAxis(1000, 0.1, 1e4)).toBeCloseTo(1, 10);
  });

  test('either way round, a polygon lights the same', () => {
    const corners: Vec3[] = [
      [1, -1, 2],
      [2, 1, 3],
      [0, 1, 2.5],
    ];
    const there = uniformPolygonIlluminance(1000, corners, [0, 0, 0], [0, 0, 1]);
    expect(uniformPolygonIlluminance(1000, [...corners].reverse(), [0, 0, 0], [0, 0, 1])).toBeCloseTo(there, 12);
  });
});

describe('woven nets', () => {
  const net = frameFromPose({ positionM: [0, 0, 0], aim: { panDeg: 30, tiltDeg: 10 } });
  test('denser at any slant, alike either way, dark along the mesh and never negative', () => {
    const straight = wovenTransmittance(1, net.forward, net);
    expect(straight).toBeCloseTo(0.5, 12);
    fc.assert(
      fc.property(within(-3, 3), within(-3, 3), (a, b) => {
        const direction = net.forward.map((f, i) => f + a * net.right[i]! + b * net.up[i]!) as unknown as Vec3;
        const raked = wovenTransmittance(1, direction, net);
        expect(raked).toBeLessThanOrEqual(straight + 1e-12);
        expect(raked).toBeGreaterThanOrEqual(0);
        const back = direction.map((x) => -x) as unknown as Vec3;
        expect(wovenTransmittance(1, back, net)).toBeCloseTo(raked, 12);
      }),
      { seed: 6, numRuns: 100 },
    );
    expect(wovenTransmittance(1, net.right, net)).toBe(0);
  });

  test('raked about either wire it is (1 - k)(1 - k/cos t), about both the product of the two', () => {
    const wire = 1 - 2 ** -0.5;
    const raked = (a: number, b: number) =>
      wovenTransmittance(1, net.forward.map((f, i) => f + a * net.right[i]! + b * net.up[i]!) as unknown as Vec3, net);
    // A slope of 3/4 is a slant of cosine 4/5.
    expect(raked(0.75, 0)).toBeCloseTo((1 - wire) * (1 - 1.25 * wire), 12);
    expect(raked(0, 0.75)).toBeCloseTo((1 - wire) * (1 - 1.25 * wire), 12);
    expect(raked(0.75, 0.75)).toBeCloseTo((1 - 1.25 * wire) ** 2, 12);
  });
});

test('a source no wider than the strip leaves full shadow without end', () => {
  expect(umbraLength(0.3, 0.3, 5)).toBe(Infinity);
  expect(umbraLength(0.05, 0.6, 6)).toBeCloseTo(0.5454545455, 9);
});
