import { describe, expect, test } from 'vitest';
import { contourLines } from '../../src/files/picture/contourLines';
import { base64, encodePng } from '../../src/files/picture/encodePng';
import { fieldPictureSvg } from '../../src/files/picture/fieldPicture';
import { escapeXml } from '../../src/files/picture/svg';
import { rasteriseSvg } from '../../src/cli/rasterise';
import { TIDE, colourAt, logRangeAround, placeOnLog } from '../../src/sim/colour/colourMaps';
import type { GridResult } from '../../src/sim/results';
import { decodePng } from './decodePng';

/** A grid of one metre a cell whose level is given at each cell's middle. */
function gridOf(columns: number, rows: number, level: (rightM: number, upM: number) => number): GridResult {
  const illuminanceLx = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      illuminanceLx[row * columns + column] = level(column + 0.5, row + 0.5);
    }
  }
  const mask = new Uint8Array(columns * rows).fill(1);
  const place = { leftM: 0, bottomM: 0, widthM: columns, heightM: rows };
  return { surfaceId: 'wall', columns, rows, ...place, mask, layers: [], illuminanceLx };
}
const range = { minimum: 100, maximum: 1000 };

describe('PNG writer', () => {
  test('an independent reader gets the pixels back', () => {
    const pixels = Uint8Array.from({ length: 5 * 3 * 4 }, (_, index) => (index * 37) % 256);
    expect(decodePng(encodePng(5, 3, pixels))).toEqual({ width: 5, height: 3, rgba: pixels });
  });
  test.each([
    [0, 3],
    [2.5, 3],
    [5, 4],
  ])('refuses %d by %d for 15 pixels', (width, height) => {
    expect(() => encodePng(width, height, new Uint8Array(60))).toThrow(RangeError);
  });
  test('base64 as Node writes it, past one piece', () => {
    const bytes = Uint8Array.from({ length: 70_001 }, (_, index) => (index * 7) % 256);
    expect(base64(bytes)).toBe(Buffer.from(bytes).toString('base64'));
  });
});

describe('contours', () => {
  // A decade over 40 cells: ten contours a decade lie 4 cells apart, where log level says.
  const even = gridOf(40, 12, (rightM) => 100 * 10 ** (rightM / 40));
  test('lie where the level is', () => {
    const lines = contourLines(even, range, 2);
    expect(lines.map((line) => line.valueLx)).toEqual([125, 160, 200, 250, 320, 400, 500, 630, 800]);
    for (const { valueLx, points } of lines) {
      expect(points.length).toBeGreaterThan(8);
      for (const [right] of points) expect(Math.abs(right - 40 * Math.log10(valueLx / 100))).toBeLessThan(1e-4);
    }
    expect(lines.filter((line) => line.heavy).map((line) => line.valueLx)).toEqual([200, 500]);
  });
  test('are left out where they would bunch: all of them 4 cells apart, and those at a shadow edge', () => {
    expect(contourLines(even, range, 5)).toEqual([]);
    const shadowed = gridOf(40, 12, (rightM, upM) => (upM > 6 ? 1e-3 : 1) * 100 * 10 ** (rightM / 40));
    const lines = contourLines(shadowed, range, 2);
    expect(lines.length).toBe(9);
    for (const { points } of lines) for (const [, up] of points) expect(up).toBeLessThan(5);
  });
  test('stay off what is not surface, and off a grid too small for them', () => {
    const holed = { ...even, mask: even.mask.map((_, index) => (index % 40 >= 20 ? 0 : 1)) };
    const reach = contourLines(holed, range, 2).flatMap((line) => line.points.map(([right]) => right));
    expect(Math.max(...reach)).toBeLessThan(20);
    expect(
      contourLines(
        gridOf(2, 2, () => 300),
        range,
        2,
      ),
    ).toEqual([]);
  });
});

describe('picture of a field', () => {
  const pictureOf = (grid: GridResult, title = 'North wall, Bare') => ({
    grid,
    title,
    subtitle: 'Illuminance',
    captions: ['Min 100 lx'],
    outlines: [],
    keyLx: 200,
    standing: true,
  });

  test('cells keep their own colour, lowest row at the foot', async () => {
    const level = (rightM: number, upM: number): number => (upM < 2 ? 400 : 100) + (rightM < 5 ? 0 : 50);
    const grid = gridOf(10, 4, level);
    const { svg, width } = fieldPictureSvg(pictureOf(grid));
    const { rgba, ...size } = decodePng(await rasteriseSvg(svg, width));
    const at = (x: number, y: number): number[] => [
      ...rgba.subarray((y * size.width + x) * 4, (y * size.width + x) * 4 + 3),
    ];
    const scale = logRangeAround(grid.illuminanceLx);
    const colourOf = (levelLx: number): number[] => [...colourAt(TIDE, placeOnLog(levelLx, scale))];
    const apart = (one: number[], other: number[]): number =>
      Math.max(...one.map((value, channel) => Math.abs(value - (other[channel] ?? NaN))));
    // The map begins 74 px from the left and 84 px from the top and is 1000 px wide: 100 px a metre.
    expect(size.width).toBe(width);
    expect(apart(at(74 + 50, 84 + 350), colourOf(400))).toBeLessThanOrEqual(1);
    expect(apart(at(74 + 950, 84 + 350), colourOf(450))).toBeLessThanOrEqual(1);
    expect(apart(at(74 + 50, 84 + 50), colourOf(100))).toBeLessThanOrEqual(1);
    expect(apart(at(74 + 950, 84 + 50), colourOf(150))).toBeLessThanOrEqual(1);
  });
  test('letters are drawn with the font that is brought along', async () => {
    const grid = gridOf(10, 4, () => 300);
    const [bare, titled] = await Promise.all(
      ['', 'North wall'].map(async (title) => {
        const { svg, width } = fieldPictureSvg(pictureOf(grid, title));
        const { rgba, width: pixelWidth } = decodePng(await rasteriseSvg(svg, width));
        const band = rgba.subarray(0, 40 * pixelWidth * 4);
        return band.filter((value, index) => index % 4 === 0 && value < 80).length;
      }),
    );
    expect(bare).toBe(0);
    expect(titled).toBeGreaterThan(200);
  });
  test('says so when nothing is lit, and names the wedge only when it is there', () => {
    const dark = fieldPictureSvg(pictureOf(gridOf(10, 4, () => 0))).svg;
    expect(dark).toContain('No light reaches this surface.');
    expect(dark).not.toContain('Wedge');
    expect(fieldPictureSvg(pictureOf(gridOf(10, 4, () => 300))).svg).toContain('the camera is set for 200 lx');
  });
  test('names of the scene cannot break the drawing', async () => {
    const { svg } = fieldPictureSvg(
      pictureOf(
        gridOf(10, 4, () => 300),
        '</text><script>"&\u0000',
      ),
    );
    expect(svg).not.toContain('<script>');
    await expect(rasteriseSvg(svg, 400)).resolves.toBeInstanceOf(Uint8Array);
    expect(escapeXml('a<b>&"\u0007')).toBe('a&lt;b&gt;&amp;&quot;');
  });
});
