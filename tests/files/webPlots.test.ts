/** Plots of a web: curves through the right points, both planes where they differ, the same figures in the table. */
import { describe, expect, test } from 'vitest';
import {
  cartesianPlot,
  curvesOf,
  polarPlot,
  shortCandela,
  webTable,
  type PlotInks,
} from '../../src/files/picture/webPlots';
import { readPhotometricText } from '../../src/scene/webs/readPhotometricText';
import { gridOf, type WebGrid } from '../../src/sim/photometry/web/grid';
import { lm63, radians, steps, type Lm63Parts } from './photometry/compose';

const INKS: PlotInks = { grid: '#111', label: '#222', across: '#333', upright: '#444' };
function gridFrom(parts: Lm63Parts): WebGrid {
  const read = readPhotometricText(lm63(parts), 'a.ies');
  if (!read.ok) throw new Error(read.fault.found);
  return gridOf(read.file);
}
const cosine = gridFrom({
  verticalDeg: steps(0, 90, 5),
  horizontalDeg: [0],
  intensity: (g) => 1000 * Math.cos(radians(g)),
});
const oval = gridFrom({
  verticalDeg: steps(0, 90, 5),
  horizontalDeg: steps(0, 90, 45),
  intensity: (g, c) => (g <= 20 ? 1000 - 20 * g - (c / 90) * 20 * g : 0),
});
const both = gridFrom({ verticalDeg: steps(0, 180, 30), horizontalDeg: [0], intensity: () => 500 });

/** Points of the path with this stroke. */
function pointsOf(svg: string, stroke: string): [number, number][] {
  const d = new RegExp(`<path d="([^"]+)"[^>]*stroke="${stroke}"`).exec(svg)?.[1] ?? '';
  return d
    .split(/[ML]/)
    .slice(1)
    .map((pair) => pair.split(' ').map(Number) as [number, number]);
}

describe('polar', () => {
  test('a cosine is a circle through the lamp', () => {
    const { svg, width } = polarPlot(cosine, INKS, 300);
    const points = pointsOf(svg, INKS.across);
    expect(points.length).toBeGreaterThan(180);
    const [x0, y0] = [width / 2, 18];
    const diameter = Math.max(...points.map(([, y]) => y)) - y0;
    for (const [x, y] of points) expect(Math.hypot(x - x0, y - y0 - diameter / 2)).toBeCloseTo(diameter / 2, 0);
    expect(svg).not.toContain(INKS.upright);
    expect(svg).toContain('>1000<');
  });
  test('light all round takes the whole circle', () => {
    const { svg, height } = polarPlot(both, INKS, 300);
    expect(height).toBe(300);
    expect(Math.min(...pointsOf(svg, INKS.across).map(([, y]) => y))).toBeLessThan(150 - 60);
  });
});

describe('Cartesian', () => {
  test('planes that differ are two lines, the second dashed, each to its own width', () => {
    const { svg } = cartesianPlot(oval, INKS, 300);
    const wide = pointsOf(svg, INKS.across);
    const narrow = pointsOf(svg, INKS.upright);
    expect(svg).toMatch(/stroke="#444"[^>]*stroke-dasharray="6 3"/);
    const top = Math.min(...wide.map(([, y]) => y));
    const lit = (points: [number, number][]): number => points.filter(([, y]) => y < top + 100).length;
    expect(lit(wide)).toBeGreaterThan(lit(narrow));
    expect(svg).toContain('50 %');
    expect(svg).toContain('10 %');
  });
});

test('curves and table are the web’s own values', () => {
  const [across, upright] = curvesOf(oval, 20);
  expect(across!.candela[across!.anglesDeg.indexOf(-7)]).toBeCloseTo(860, 9);
  expect(upright!.candela[upright!.anglesDeg.indexOf(7)]).toBeCloseTo(720, 9);
  const { sides, rows } = webTable(oval);
  expect(sides).toEqual(['across', 'upright']);
  expect(rows.find(({ angleDeg }) => angleDeg === 10)!.candela).toEqual([
    expect.closeTo(800, 9),
    expect.closeTo(600, 9),
  ]);
  expect(webTable(cosine).sides).toEqual(['across']);
  expect(webTable(cosine).rows.length).toBeLessThanOrEqual(25);
});

test.each([
  [0.51, '0.51'],
  [1234, '1230'],
  [41_234, '41.2k'],
  [2_340_000, '2.34M'],
])('%d cd on a ring', (candela, letters) => expect(shortCandela(candela)).toBe(letters));
