/**
 * Clipped discs against polygons of so many corners that the difference is below the tolerance, and against the closed
 * forms of a circular segment (any handbook of mathematics; here from memory).
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cell, clippedAt, clipPatch, lines, moments, patchMoments } from '../../../src/sim/solve/kernelModule';
import { CIRCLE_ARCS, startPatch } from '../../../src/sim/solve/patches';

const circleOf = (corners: number, radius: number): Float64Array =>
  Float64Array.from({ length: 2 * corners }, (_, i) => {
    const turn = (2 * Math.PI * (i >> 1)) / corners;
    return radius * (i % 2 === 0 ? Math.cos(turn) : Math.sin(turn));
  });
const FINE = 6000;
const step = (2 * Math.PI) / FINE;
const fine = circleOf(FINE, Math.sqrt(step / Math.sin(step)));

/** Area and moments of what is left of the unit disc, or of the polygon that stands for it, clipped edge after edge. */
function momentsOf(corners: Float64Array, round: boolean, edges: Float64Array, about: readonly number[]): number[] {
  lines.set(edges);
  const count = clipPatch(round, 0, startPatch(corners, round), 0, edges.length / 3);
  if (count === 0) return [0, 0, 0, 0, 0, 0];
  cell.set(about);
  patchMoments(round, clippedAt[0]!, count, false);
  return [...moments.subarray(0, 6)];
}
const disc = (edges: readonly number[], about: readonly number[] = [0, 0]): number[] =>
  momentsOf(circleOf(CIRCLE_ARCS, 1), true, Float64Array.from(edges), about);

describe('a disc', () => {
  test('that nothing clips has π, and π/4 about each axis', () => {
    const [area, u, v, uu, uv, vv] = disc([]);
    expect(area).toBeCloseTo(Math.PI, 14);
    expect(uu).toBeCloseTo(Math.PI / 4, 14);
    expect(vv).toBeCloseTo(Math.PI / 4, 14);
    for (const zero of [u, v, uv]) expect(zero).toBeCloseTo(0, 14);
  });
  test('cut at t leaves the segment acos t - t sqrt(1 - t²), its moment 2/3 (1 - t²)^1.5', () => {
    for (const t of [-0.99, -0.5, 0, 0.2, 0.999]) {
      for (let turn = 0; turn < 6.4; turn += 0.35) {
        const [area, u, v] = disc([-t, Math.cos(turn), Math.sin(turn)]);
        expect(area).toBeCloseTo(Math.acos(t) - t * Math.sqrt(1 - t * t), 12);
        expect(Math.hypot(u!, v!)).toBeCloseTo((2 / 3) * (1 - t * t) ** 1.5, 12);
      }
    }
  });
  test('cut away by a line beyond it is nothing, kept by one it is whole', () => {
    expect(disc([-1.2, 1, 0])[0]).toBe(0);
    expect(disc([1.2, 1, 0])[0]).toBeCloseTo(Math.PI, 14);
    expect(disc([1, 0, -1])[0]).toBeCloseTo(Math.PI, 14);
  });
  test('cut by a line and by the same line turned round leaves nothing', () => {
    for (const t of [-0.7, 0, 0.4]) {
      for (let turn = 0; turn < 6.4; turn += 0.1) {
        const [u, v] = [Math.cos(turn), Math.sin(turn)];
        expect(Math.abs(disc([-t, u, v, t, -u, -v])[0]!)).toBeLessThan(1e-12);
      }
    }
  });
  test('clipped by up to five lines is what a polygon of 6000 corners is', () => {
    const line = fc.record({
      turn: fc.oneof(
        fc.double({ min: 0, max: 6.3, noNaN: true }),
        fc.integer({ min: 0, max: 3 }).map((k) => (k * Math.PI) / 2),
      ),
      at: fc.oneof(fc.double({ min: -1.1, max: 1.1, noNaN: true }), fc.constantFrom(-0.5, 0, 0.25, 0.5)),
      size: fc.double({ min: 0.1, max: 10, noNaN: true }),
    });
    const about = fc.tuple(fc.constantFrom(0, 0.3), fc.constantFrom(0, -0.2));
    fc.assert(
      fc.property(fc.array(line, { minLength: 1, maxLength: 5 }), about, (lines, middle) => {
        const edges = lines.flatMap(({ turn, at, size }) => [-at * size, Math.cos(turn) * size, Math.sin(turn) * size]);
        const exact = disc(edges, middle);
        const polygon = momentsOf(fine, false, Float64Array.from(edges), middle);
        exact.forEach((value, i) => expect(Math.abs(value - polygon[i]!)).toBeLessThan(2e-5));
      }),
      { numRuns: 400, seed: 7 },
    );
  });
  test('clipped by lines that lie on each other, turned round and scaled, is what the polygon is', () => {
    const pool = fc.array(
      fc.record({
        turn: fc.double({ min: 0, max: 6.3, noNaN: true }),
        at: fc.double({ min: -1, max: 1, noNaN: true }),
      }),
      {
        minLength: 2,
        maxLength: 3,
      },
    );
    const picks = fc.array(fc.record({ index: fc.nat(2), size: fc.constantFrom(1, -1, 0.07, -0.07, 3.1) }), {
      minLength: 2,
      maxLength: 7,
    });
    fc.assert(
      fc.property(pool, picks, (lines, chosen) => {
        const edges = chosen.flatMap(({ index, size }) => {
          const { turn, at } = lines[index % lines.length]!;
          return [-at * size, Math.cos(turn) * size, Math.sin(turn) * size];
        });
        const polygon = momentsOf(fine, false, Float64Array.from(edges), [0, 0]);
        disc(edges).forEach((value, i) => expect(Math.abs(value - polygon[i]!)).toBeLessThan(2e-5));
      }),
      { numRuns: 3000, seed: 11 },
    );
  });
  test('cut to a point on a line that is given again leaves nothing for the next line to bring back', () => {
    const [a, b] = [
      [0.4857148803736653, 0.572235183089497, 0.5185974956607424],
      [0.058671631144738834, -0.2625195559240958, 0.27418568480176625],
    ];
    const edges = [
      ...[...a!, ...b!.map((x) => -x), 0.7227281370142622, 0.6049525606516412, 0.5395619505986897],
      ...[-0.00407127915563258, 0.018216476602519835, -0.01902600015589458],
      ...[-0.510068367591602, -0.6009267525269057, -0.5445996998182756],
      ...[0.4857148803736653, 0.5722351830894967, 0.5185974956607423],
      ...[0.0586716311447395, -0.26251955592409565, 0.27418568480176614],
    ];
    expect(Math.abs(disc(edges)[0]!)).toBeLessThan(1e-12);
  });
});

test('a slim face has its third and fourth moments along u', () => {
  const count = startPatch(new Float64Array([-1, -1, 1, -1, 1, 1, -1, 1]), false);
  cell.fill(0);
  patchMoments(false, 0, count, true);
  expect([...moments]).toEqual([4, 0, 0, 4 / 3, 0, 4 / 3, 0, 4 / 5].map((value) => expect.closeTo(value, 14)));
  cell[0] = 1;
  patchMoments(false, 0, count, true); // ∫ (u - 1)³ = -8, ∫ (u - 1)⁴ = 64/5
  expect(moments[6]).toBeCloseTo(-8, 12);
  expect(moments[7]).toBeCloseTo(64 / 5, 12);
});

/** Lines round an outline about the middle, in an order that is no way round, so that a disc is cut side after side too. */
const outlineOf = (sides: number, radius: number): number[] =>
  Array.from({ length: sides }, (_, i) => {
    const turn = (2 * Math.PI * ((i * 377) % sides)) / sides;
    return [radius, -Math.cos(turn), -Math.sin(turn)];
  }).flat();

describe.each([
  ['a disc', true],
  ['a square', false],
])('%s cut to outlines of a thousand sides', (_what, round) => {
  const SIDES = 1000;
  const face = round ? circleOf(CIRCLE_ARCS, 1) : new Float64Array([-1, -1, 1, -1, 1, 1, -1, 1]);
  const areaOf = (radius: number): number => SIDES * radius ** 2 * Math.tan(Math.PI / SIDES);

  test('is the outline', () => {
    const [area, u, v] = momentsOf(face, round, Float64Array.from(outlineOf(SIDES, 0.9)), [0, 0]);
    expect(area).toBeCloseTo(areaOf(0.9), 10);
    for (const zero of [u, v]) expect(zero).toBeCloseTo(0, 10);
  });
  test('one after another is the last of eleven, each within the one before', () => {
    let count = startPatch(face, round);
    let from = 0;
    for (let k = 0; k < 11; k++) {
      lines.set(outlineOf(SIDES, 0.95 - k / 20));
      count = clipPatch(round, from, count, 0, SIDES);
      from = clippedAt[0]!;
    }
    cell.fill(0);
    patchMoments(round, from, count, false);
    expect(moments[0]).toBeCloseTo(areaOf(0.45), 10);
  });
  test('is refused where there is no room for its corners, with a line that says so', () => {
    lines.set(outlineOf(31_000, 0.9));
    expect(() => clipPatch(round, 0, startPatch(face, round), 0, 31_000)).toThrow(/^more than 60000 corners/);
  });
});
