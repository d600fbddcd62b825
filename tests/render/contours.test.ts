import { describe, expect, it } from 'vitest';
import { contourLines, gentleCells, levelContours, maskOutlines, stopContours } from '../../src/render/contours';

const place = { columns: 60, rows: 40, leftM: 1, bottomM: 0.5, widthM: 6, heightM: 4 };
const cell = (i: number): [number, number] => [
  place.leftM + ((i % 60) + 0.5) * 0.1,
  place.bottomM + (Math.floor(i / 60) + 0.5) * 0.1,
];
const all = new Uint8Array(2400).fill(1);
/** Level of a source that stands 2 m in front of the point 4, 2.5 of the surface. */
const spot = Float32Array.from({ length: 2400 }, (_, i) => {
  const [x, y] = cell(i);
  return (4000 * 2) / (4 + (x - 4) ** 2 + (y - 2.5) ** 2) ** 1.5;
});

describe('contours', () => {
  it('follow the series 100 125 160 200 250 320 400 500 630 800 1000, whole stops heavy', () => {
    const levels = levelContours(99, 1001);
    // Eleven lines are more than ten: thirds are left out.
    expect(levels.map((level) => level.value)).toEqual([125, 250, 500, 1000]);
    const few = levelContours(99, 700);
    expect(few.map((level) => level.value)).toEqual([100, 125, 160, 200, 250, 320, 400, 500, 630]);
    expect(few.filter((level) => level.heavy).map((level) => level.value)).toEqual([125, 250, 500]);
    expect(
      levelContours(900, 2100)
        .filter((level) => level.heavy)
        .map((level) => level.value),
    ).toEqual([1000, 2000]);
  });
  it('are labelled in stops on a map of stops', () => {
    expect(stopContours(-0.7, 0.4).map((level) => level.label)).toEqual(['\u22122/3', '\u22121/3', '0', '+1/3']);
  });
  it('lie where the level is: circles round a source, to a tenth of a cell', () => {
    const [line] = contourLines(spot, place, [{ value: 500, heavy: true, label: '500' }], all, 'log');
    const radius = Math.sqrt(((4000 * 2) / 500) ** (2 / 3) - 4);
    const path = line!.paths.flat();
    expect(path.length).toBeGreaterThan(40);
    for (let i = 0; i < path.length; i += 2) {
      expect(Math.abs(Math.hypot(path[i]! - 4, path[i + 1]! - 2.5) - radius)).toBeLessThan(0.01);
    }
  });
  it('stay inside the lit patch and do not hug its gaps', () => {
    const lit = Uint8Array.from({ length: 2400 }, (_, i) => (cell(i)[0] < 4 ? 1 : 0));
    const gapped = spot.map((level, i) => (lit[i] === 1 ? level : NaN));
    const [line] = contourLines(gapped, place, [{ value: 500, heavy: true, label: '500' }], lit, 'log');
    const xs = line!.paths.flat().filter((_, i) => i % 2 === 0);
    expect(Math.max(...xs)).toBeLessThan(4.1);
    const length = line!.paths.reduce((sum, path) => sum + path.length / 2, 0);
    expect(length).toBeGreaterThan(10);
    // A line along the gap would run straight up x = 4 for its whole height.
    expect(xs.filter((x) => x > 3.94).length).toBeLessThan(6);
  });
  it('have no part along the edge of the grid', () => {
    const rising = Float32Array.from({ length: 2400 }, (_, i) => 100 + 10 * cell(i)[0]);
    const [line] = contourLines(rising, place, [{ value: 130, heavy: true, label: '' }], all, 'linear');
    expect(line!.paths).toHaveLength(1);
    const path = line!.paths[0]!;
    // The last half cell at either end is drawn to the middle of the cell's side.
    for (let i = 2; i < path.length - 2; i += 2) expect(path[i]).toBeCloseTo(3, 6);
    expect(Math.abs(path[0]! - 3)).toBeLessThanOrEqual(0.0501);
  });
  it('are left out across a shadow edge', () => {
    const edge = Float32Array.from({ length: 2400 }, (_, i) => (cell(i)[0] < 4 ? 9 : 4));
    const gentle = gentleCells(edge, place, all, 10);
    expect(gentle[20 * 60 + 10]).toBe(1);
    expect(gentle[20 * 60 + 29]).toBe(0);
    expect(gentle[20 * 60 + 30]).toBe(0);
  });
  it('outline a mask with straight sides, and leave out specks', () => {
    const mask = Uint8Array.from({ length: 2400 }, (_, i) => {
      const [x, y] = cell(i);
      return (x > 2 && x < 5 && y > 1 && y < 3) || i === 5 ? 1 : 0;
    });
    const rings = maskOutlines(mask, place);
    expect(rings).toHaveLength(1);
    expect(rings[0]!.length / 2).toBeLessThanOrEqual(8);
    const xs = rings[0]!.filter((_, i) => i % 2 === 0);
    expect(Math.abs(Math.min(...xs) - 2)).toBeLessThan(0.06);
    expect(Math.abs(Math.max(...xs) - 5)).toBeLessThan(0.06);
  });
});
