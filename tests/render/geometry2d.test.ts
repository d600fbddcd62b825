import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  dashPath,
  distanceToPath,
  hatchRings,
  insideIntervals,
  insideRings,
  simplifyRing,
  splitByRings,
  subtractIntervals,
} from '../../src/render/geometry2d';

const square = [0, 0, 10, 0, 10, 10, 0, 10];
const hole = [4, 4, 6, 4, 6, 6, 4, 6];
const lengthOf = (path: readonly number[]): number => {
  let sum = 0;
  for (let i = 0; i + 3 < path.length; i += 2) sum += Math.hypot(path[i + 2]! - path[i]!, path[i + 3]! - path[i + 1]!);
  return sum;
};

describe('flat geometry', () => {
  it('counts a hole as outside', () => {
    expect(insideRings([square, hole], 2, 2)).toBe(true);
    expect(insideRings([square, hole], 5, 5)).toBe(false);
    expect(insideIntervals([square, hole], 0, 5, 10, 5)).toEqual([
      [0, 0.4],
      [0.6, 1],
    ]);
  });
  it('takes openings out of a wall', () => {
    const rest = subtractIntervals(
      [[0, 9]],
      [
        [2, 3],
        [5, 6],
      ],
    );
    expect(rest).toEqual([
      [0, 2],
      [3, 5],
      [6, 9],
    ]);
    expect(subtractIntervals([[0, 2]], [[-1, 3]])).toEqual([]);
  });
  it('splits a line at the edge of a map and loses nothing', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -20, max: 30, noNaN: true }), { minLength: 6, maxLength: 20 }),
        (values) => {
          const path = values.slice(0, values.length - (values.length % 2));
          const { inside, outside } = splitByRings(path, [square]);
          const total = [...inside, ...outside].reduce((sum, piece) => sum + lengthOf(piece), 0);
          expect(total).toBeCloseTo(lengthOf(path), 6);
        },
      ),
    );
    const { inside, outside } = splitByRings([-5, 5, 15, 5], [square]);
    expect(inside).toEqual([[0, 5, 10, 5]]);
    expect(outside).toEqual([
      [-5, 5, 0, 5],
      [10, 5, 15, 5],
    ]);
  });
  it('dashes carry on round corners', () => {
    const dashes = dashPath([0, 0, 10, 0, 10, 10], [7, 4]);
    expect(dashes[0]).toEqual([0, 0, 7, 0]);
    expect(dashes[1]!.slice(0, 2)).toEqual([10, 1]);
    expect(dashes.reduce((sum, dash) => sum + lengthOf(dash), 0)).toBeCloseTo(7 + 7, 9);
  });
  it('hatches at 45 degrees with the asked pitch, inside only', () => {
    const lines = hatchRings([square, hole], 2);
    for (const [x0, y0, x1, y1] of lines as [number, number, number, number][]) {
      expect(Math.abs(x1 - x0)).toBeCloseTo(Math.abs(y1 - y0), 9);
      expect(insideRings([square, hole], (x0 + x1) / 2, (y0 + y1) / 2)).toBe(true);
    }
    const area = lines.reduce((sum, line) => sum + lengthOf(line) * 2, 0);
    expect(area).toBeGreaterThan(0.9 * 96);
    expect(area).toBeLessThan(1.1 * 96);
  });
  it('straightens a staircase and keeps the corners', () => {
    const stairs: number[] = [];
    for (let i = 0; i < 20; i++) stairs.push(i, i * 0.5, i + 1, i * 0.5);
    stairs.push(20, 30, 0, 30);
    const straight = simplifyRing(stairs, 0.7);
    expect(straight.length / 2).toBeLessThanOrEqual(5);
    expect(distanceToPath(straight, 20, 30, true)).toBeLessThan(0.7);
  });
});
