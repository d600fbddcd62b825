import { describe, expect, test } from 'vitest';
import Color from 'colorjs.io';
import {
  BALANCE,
  INCIDENCE,
  SHARE,
  TIDE,
  colourAt,
  colourTable,
  contourLevels,
  halfDecadeTicks,
  hexFromRgb,
  logRangeAround,
  placeOnLog,
  rgbFromHex,
} from '../../../src/sim/colour/colourMaps';

const lightness = (hex: string): number => new Color(hex).to('oklab').coords[0] ?? NaN;

describe('maps', () => {
  test.each([
    ['Tide', TIDE],
    ['Balance', BALANCE],
    ['Share', SHARE],
  ])('%s grows lighter all the way, in OKLab by an independent library', (_name, map) => {
    const along = Array.from({ length: 101 }, (_, step) => lightness(hexFromRgb(colourAt(map, step / 100))));
    along.slice(1).forEach((value, index) => expect(value).toBeGreaterThan(along[index] ?? NaN));
  });
  test('incidence runs the other way: square on is pale', () =>
    expect(lightness(INCIDENCE[0] ?? '')).toBeGreaterThan(lightness(INCIDENCE.at(-1) ?? '')));
  test('stops are met exactly, ends hold, and NaN is the dark end', () => {
    TIDE.forEach((hex, index) => expect(hexFromRgb(colourAt(TIDE, index / (TIDE.length - 1)))).toBe(hex));
    expect(colourAt(TIDE, 7)).toEqual(rgbFromHex('#fdf8d6'));
    expect(colourAt(TIDE, NaN)).toEqual(rgbFromHex('#060b18'));
    expect(colourAt(BALANCE, 0.5)).toEqual(rgbFromHex('#878683'));
  });
  test('between stops the light is mixed, not the code values', () => {
    // Half way from black to white in linear light is sRGB 188 (IEC 61966-2-1).
    expect(colourAt(['#000000', '#ffffff'], 0.5)).toEqual([188, 188, 188]);
  });
  test('a table holds the ends and is opaque', () => {
    const table = colourTable(TIDE, 256);
    expect([...table.slice(0, 4)]).toEqual([6, 11, 24, 255]);
    expect([...table.slice(-4)]).toEqual([253, 248, 214, 255]);
  });
});

describe('log scale', () => {
  test('half-decades around the content', () => {
    const range = logRangeAround([0, 40, NaN, 700, -3, Infinity]);
    expect(range.minimum).toBeCloseTo(10 ** 1.5, 9);
    expect(range.maximum).toBeCloseTo(1000, 9);
    expect(halfDecadeTicks(range).map((tick) => tick.label)).toEqual([32, 100, 320, 1000]);
    expect(placeOnLog(range.maximum, range)).toBe(1);
    expect(placeOnLog(100, range)).toBeCloseTo(1 / 3, 9);
    expect(placeOnLog(0, range)).toBe(0);
  });
  test('at least a decade, at most four, and something for a dark field', () => {
    expect(logRangeAround([100]).maximum / logRangeAround([100]).minimum).toBeCloseTo(10, 9);
    expect(logRangeAround([1e-9, 500])).toEqual({ minimum: 10 ** -1, maximum: 10 ** 3 });
    expect(logRangeAround([0, 0])).toEqual({ minimum: 1, maximum: 10 });
  });
  test('a thin tail of shadow does not stretch it', () => {
    const lit = Array.from({ length: 99 }, (_, index) => 200 + index);
    expect(logRangeAround([0.001, ...lit]).minimum).toBeCloseTo(10 ** 1.5, 9);
  });
  test('contours a third of a stop apart inside the range', () => {
    const levels = contourLevels({ minimum: 100, maximum: 1000 });
    expect(levels.map((level) => level.valueLx)).toEqual([125, 160, 200, 250, 320, 400, 500, 630, 800]);
    expect(levels.filter((level) => level.heavy).map((level) => level.valueLx)).toEqual([200, 500]);
    levels.slice(1).forEach((level, index) => {
      expect(Math.abs(Math.log2(level.valueLx / (levels[index]?.valueLx ?? NaN)) - 1 / 3)).toBeLessThan(0.03);
    });
  });
});
