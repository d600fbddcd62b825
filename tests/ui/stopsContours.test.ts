/** Contours of a map of stops against a plane whose contours are straight and known by hand. */
import { describe, expect, test } from 'vitest';
import { stopsContours, thirdWords } from '../../src/ui/coverage/stopsContours';

const [columns, rows] = [31, 11];
/** From -0.9 at the left cell's middle to +0.9 at the right one's. */
const ramp = Float32Array.from({ length: columns * rows }, (_, i) => -0.9 + (1.8 * (i % columns)) / (columns - 1));
const xsOf = (path: string): number[] => [...path.matchAll(/[ML](-?[\d.]+) /g)].map(([, x]) => Number(x));

describe('an even ramp from -0.9 to +0.9 stop', () => {
  const { lines, names } = stopsContours(ramp, columns, rows);
  test('has a contour each third of a stop, upright, where the ramp meets it', () => {
    expect(lines.map(({ stops }) => Number(stops.toFixed(3)))).toEqual([-0.667, -0.333, 0, 0.333, 0.667]);
    for (const { stops, path } of lines) {
      // Cell middles lie at half cells: stops s is met at 0.5 + 30 (s + 0.9) / 1.8.
      for (const x of xsOf(path)) expect(Math.abs(x - (0.5 + (30 * (stops + 0.9)) / 1.8))).toBeLessThan(0.02);
    }
    expect(lines.filter(({ isWhole }) => isWhole)).toHaveLength(1);
  });
  test('names them in thirds, clear of each other', () => {
    expect(names.map(({ words }) => words)).toEqual(['−2/3', '−1/3', '0', '+1/3', '+2/3']);
  });
});

test('an even map and a dark one have none', () => {
  expect(stopsContours(new Float32Array(columns * rows).fill(0.1), columns, rows).lines).toEqual([]);
  expect(stopsContours(new Float32Array(columns * rows).fill(NaN), columns, rows).lines).toEqual([]);
});
test('rows count from the foot: what is bright below is drawn low', () => {
  const upright = Float32Array.from({ length: columns * rows }, (_, i) => 1 - Math.floor(i / columns) / 5);
  const [top, , , foot] = stopsContours(upright, columns, rows).lines;
  const yOf = (path: string): number => Number(/M[\d.]+ ([\d.]+)/.exec(path)![1]);
  // The darkest contour lies highest on the map, at the least y of the picture.
  expect(yOf(top!.path)).toBeLessThan(yOf(foot!.path));
});
test.each([
  [0, '0'],
  [3, '+1'],
  [-4, '−1\u20091/3'],
  [5, '+1\u20092/3'],
])('%d thirds are "%s"', (thirds, words) => expect(thirdWords(thirds)).toBe(words));
