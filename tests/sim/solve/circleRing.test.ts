/** Clipping round a ring of lines at once against clipping line after line, which tests/sim/solve/clipping.test.ts holds to. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  cell,
  clipCircle,
  clippedAt,
  clipPatch,
  lines,
  moments,
  NO_RING,
  patchMoments,
} from '../../../src/sim/solve/kernelModule';
import { CIRCLE_ARCS, startPatch } from '../../../src/sim/solve/patches';

type Line = readonly [h0: number, hu: number, hv: number];

const circle = Float64Array.from({ length: 2 * CIRCLE_ARCS }, (_, i) => {
  const turn = (2 * Math.PI * (i >> 1)) / CIRCLE_ARCS;
  return i % 2 === 0 ? Math.cos(turn) : Math.sin(turn);
});

function momentsAt(place: number, count: number): number[] {
  if (count === 0) return [0, 0, 0, 0, 0, 0];
  cell.fill(0);
  patchMoments(true, place, count, false);
  return [...moments.subarray(0, 6)];
}

/** Line after line. */
function byTurns(ring: readonly Line[]): number[] {
  lines.set(ring.flat());
  let count = startPatch(circle, true);
  clippedAt[0] = 0;
  for (let i = 0; i < ring.length && count > 0; i++) count = clipPatch(true, clippedAt[0]!, count, i, i + 1);
  return momentsAt(clippedAt[0]!, count);
}

/** All at once; null where the lines are no ring. */
function atOnce(ring: readonly Line[]): number[] | null {
  lines.set(ring.flat());
  const place = startPatch(circle, true);
  const count = clipCircle(place, 0, ring.length);
  return count === NO_RING ? null : momentsAt(place, count);
}

const meetsCircle = ([h0, hu, hv]: Line): boolean => Math.abs(h0) < Math.hypot(hu, hv);
const turned = (h0: number, turn: number, size: number): Line => [
  h0 * size,
  Math.cos(turn) * size,
  Math.sin(turn) * size,
];
const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1_000_000 }).map((k) => min + ((max - min) * k) / 1_000_000);

/** Sides of polygons with their corners on an ellipse, each scaled, those left out that leave the circle whole. */
const outline = fc
  .record({
    angles: fc.array(between(0, 2 * Math.PI), { minLength: 3, maxLength: 9 }),
    x: between(-1.5, 1.5),
    y: between(-1.5, 1.5),
    radius: between(0.05, 2),
    squash: between(0.2, 1),
    sizes: fc.array(between(0.1, 10), { minLength: 9, maxLength: 9 }),
    first: fc.nat(8),
    reverse: fc.boolean(),
  })
  .map(({ angles, x, y, radius, squash, sizes, first, reverse }) => {
    const corners = [...angles]
      .sort((a, b) => a - b)
      .map((turn) => [x + radius * Math.cos(turn), y + squash * radius * Math.sin(turn)] as const);
    const sides = corners.map(([u, v], i): Line => {
      const [nextU, nextV] = corners[(i + 1) % corners.length]!;
      const size = sizes[i]! / Math.max(1e-9, Math.hypot(nextU - u, nextV - v));
      const hu = -(nextV - v) * size;
      const hv = (nextU - u) * size;
      return [-(hu * u + hv * v), hu, hv];
    });
    const ring = sides.filter(meetsCircle);
    const from = first % Math.max(1, ring.length);
    const rolled = [...ring.slice(from), ...ring.slice(0, from)];
    return {
      ring: reverse ? rolled.reverse() : rolled,
      isBeyond: sides.some((side) => side[0] < 0 && !meetsCircle(side)),
    };
  })
  .filter(({ ring, isBeyond }) => !isBeyond && ring.length > 1);

describe('the circle clipped to a ring', () => {
  test('of the sides of convex outlines is what clipping line after line leaves, and such lines are nearly always a ring', () => {
    let rings = 0;
    const count = 4000;
    fc.assert(
      fc.property(outline, ({ ring }) => {
        const found = atOnce(ring);
        if (found === null) return;
        rings++;
        byTurns(ring).forEach((value, i) => expect(found[i]).toBeCloseTo(value, 10));
      }),
      { numRuns: count, seed: 3 },
    );
    expect(rings).toBeGreaterThan(0.99 * count);
  });
  test('of any lines, in any order, is what clipping line after line leaves, or is told to be none', () => {
    let rings = 0;
    const any = fc.record({ h0: between(-1, 1), turn: between(0, 2 * Math.PI), size: between(0.1, 10) });
    fc.assert(
      fc.property(fc.array(any, { minLength: 2, maxLength: 6 }), (chosen) => {
        const ring = chosen.map(({ h0, turn, size }) => turned(h0, turn, size)).filter(meetsCircle);
        const found = ring.length > 1 ? atOnce(ring) : null;
        if (found === null) return;
        rings++;
        byTurns(ring).forEach((value, i) => expect(found[i]).toBeCloseTo(value, 10));
      }),
      { numRuns: 20_000, seed: 4 },
    );
    expect(rings).toBeGreaterThan(2000);
  });
  test('of lines that lie on each other, turned round and scaled, is what they leave one after another, or is told to be none', () => {
    const pool = fc.array(fc.tuple(between(-1, 1), between(0, 2 * Math.PI)), { minLength: 2, maxLength: 3 });
    const picks = fc.array(fc.tuple(fc.nat(2), fc.constantFrom(1, -1, 0.07, -0.07, 3.1)), {
      minLength: 2,
      maxLength: 6,
    });
    fc.assert(
      fc.property(pool, picks, (given, chosen) => {
        const ring = chosen
          .map(([index, size]) => turned(given[index % given.length]![0], given[index % given.length]![1], size))
          .filter(meetsCircle);
        const found = ring.length > 1 ? atOnce(ring) : null;
        if (found !== null) byTurns(ring).forEach((value, i) => expect(found[i]).toBeCloseTo(value, 10));
      }),
      { numRuns: 20_000, seed: 5 },
    );
  });
  test('of three lines that have nothing in common leaves nothing', () => {
    // Two nearly the same way and one against them, in which an outline behind the receiver can show.
    const ring: Line[] = [
      [-0.0111, -0.0045, 0.0106],
      [-0.014, -0.0057, 0.0137],
      [0.021, 0.0089, -0.0211],
    ];
    expect(byTurns(ring)[0]).toBe(0);
    expect(atOnce(ring)?.[0] ?? 0).toBe(0);
  });
});
