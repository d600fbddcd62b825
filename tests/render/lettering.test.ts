import { describe, expect, it } from 'vitest';
import { levelDimension, roundLength, uprightDimension } from '../../src/render/dimensions';
import { formatDegrees, formatFineLength, formatLength, formatLevel, formatThirds } from '../../src/render/format';
import { segmentMeetsBox } from '../../src/render/labelGrid';
import { estimateTextWidth, LabelPlacer, type Label } from '../../src/render/labels';
import { flattenSvgPath } from '../../src/render/svgPath';
import { LAMP_SYMBOLS } from '../../src/render/symbols';
import { cssTokens, INKS } from '../../src/render/tokens';

const metric = { length: 'metres', illuminance: 'lux' } as const;
const feet = { length: 'feet', illuminance: 'footcandles' } as const;
const THIN = '\u2009';

describe('figures', () => {
  it('letters levels to 3 figures, 2 under 100', () => {
    expect(formatLevel(1063, metric)).toBe(`1060${THIN}lx`);
    expect(formatLevel(99.4, metric)).toBe(`99${THIN}lx`);
    expect(formatLevel(43_846, metric)).toBe(`43${THIN}800${THIN}lx`);
    expect(formatLevel(1063, feet)).toBe(`99${THIN}fc`);
    expect(formatLevel(34.4, feet)).toBe(`3.2${THIN}fc`);
  });
  it('letters stops in thirds with a real minus', () => {
    expect(formatThirds(2.62)).toBe('+2 2/3');
    expect(formatThirds(-0.3)).toBe('\u22121/3');
    expect(formatThirds(0.1)).toBe('0');
    expect(formatThirds(-4)).toBe('\u22124');
  });
  it('letters lengths in centimetres, edges in millimetres, feet to the quarter inch', () => {
    expect(formatLength(6.24, metric)).toBe(`6.24${THIN}m`);
    expect(formatFineLength(0.0724, metric)).toBe(`72${THIN}mm`);
    // 20 ft 5 3/4 in = 245.75 in = 6.24205 m (the inch is 25.4 mm).
    expect(formatLength(6.24205, feet)).toBe('20\u2032 5 3/4\u2033');
    expect(formatDegrees(-13.4)).toBe('\u221213°');
  });
});

describe('placing labels', () => {
  const placer = (): LabelPlacer => new LabelPlacer(estimateTextWidth, INKS.dark, null, 400, 300);
  const label = (x: number, y: number, extra: Partial<Label> = {}): Label => ({
    lines: [[{ text: 'Customs desk' }]],
    places: [
      { x, y, anchor: 'centre' },
      { x, y: y + 40, anchor: 'centre' },
    ],
    ...extra,
  });

  it('moves a label that would overlap, and drops it when it has nowhere to go', () => {
    const some = placer();
    const first = some.place(label(100, 100))!;
    const second = some.place(label(105, 102))!;
    expect(second.top).toBeGreaterThan(first.bottom);
    expect(some.place(label(105, 102))).toBeNull();
    expect(some.texts).toHaveLength(2);
  });
  it('keeps off lines when it can, and clear of the edge of the sheet always', () => {
    const some = placer();
    some.avoid([[0, 100, 400, 100]]);
    expect(some.place(label(100, 100))!.top).toBeGreaterThan(100);
    expect(some.place({ lines: [[{ text: 'Customs desk' }]], places: [{ x: 2, y: 50, anchor: 'centre' }] })).toBeNull();
  });
  it('is left out rather than cross more lines than allowed', () => {
    const some = placer();
    some.avoid([
      [0, 100, 400, 100],
      [0, 140, 400, 140],
    ]);
    expect(some.place(label(100, 100, { mostCrossings: 0 }))).toBeNull();
  });
  it('draws a leader only from farther than 40 px', () => {
    const some = placer();
    some.place(label(100, 100, { leaderTo: { x: 100, y: 120 } }));
    expect(some.leaders).toHaveLength(0);
    some.place(label(200, 100, { leaderTo: { x: 200, y: 200 } }));
    expect(some.leaders).toHaveLength(1);
    expect(some.leaders[0]!.slice(2)).toEqual([200, 200]);
  });
  it('knows when a line crosses a box', () => {
    const box = { left: 10, top: 10, right: 20, bottom: 20 };
    expect(segmentMeetsBox(0, 0, 30, 30, box)).toBe(true);
    expect(segmentMeetsBox(12, 12, 13, 13, box)).toBe(true);
    expect(segmentMeetsBox(0, 25, 30, 25, box)).toBe(false);
    expect(segmentMeetsBox(0, 0, 9, 9, box)).toBe(false);
  });
});

describe('dimensions', () => {
  it('has a line, two extension lines and two ticks at 45°', () => {
    const { paths, places } = levelDimension(10, 200, 60, 40, 50);
    expect(paths).toHaveLength(5);
    for (const tick of paths.slice(3)) {
      expect(Math.abs(tick[2]! - tick[0]!)).toBe(Math.abs(tick[3]! - tick[1]!));
    }
    expect(places[0]!.anchor).toBe('above');
    expect(places[0]!.x).toBeCloseTo(105.5, 6);
  });
  it('letters upright ones along the line, and beside it where there is no room', () => {
    expect(uprightDimension(10, 200, 30, 60, 50).turnDeg).toBe(-90);
    expect(uprightDimension(10, 40, 30, 60, 50).turnDeg).toBe(0);
  });
  it('takes 1, 2 or 5 for the scale bar', () => {
    expect(roundLength(36, 110)).toBe(2);
    expect(roundLength(20, 110)).toBe(5);
    expect(roundLength(300, 110)).toBeCloseTo(0.2, 12);
  });
});

describe('symbols', () => {
  it('flattens every lamp symbol inside its 24-unit box', () => {
    for (const symbol of Object.values(LAMP_SYMBOLS)) {
      const points = symbol.flatMap((part) => part.paths.flatMap((path) => path.points));
      expect(Math.min(...points)).toBeGreaterThanOrEqual(0);
      expect(Math.max(...points)).toBeLessThanOrEqual(24);
    }
  });
  it('draws arcs as the circle they belong to', () => {
    const [ring] = flattenSvgPath('M7 12a5 5 0 1 0 10 0a5 5 0 1 0-10 0');
    for (let i = 0; i < ring!.points.length; i += 2) {
      expect(Math.hypot(ring!.points[i]! - 12, ring!.points[i + 1]! - 12)).toBeCloseTo(5, 9);
    }
  });
  it('mirrors the control point of T', () => {
    const [wave] = flattenSvgPath('M0 0q2.5 3.5 5 0t5 0');
    const lowest = Math.min(...wave!.points.filter((_, i) => i % 2 === 1));
    expect(lowest).toBeCloseTo(-1.75, 9);
  });
  it('refuses commands that it does not draw', () => {
    expect(() => flattenSvgPath('M0 0S1 1 2 2')).toThrow();
  });
});

describe('tokens', () => {
  it('reads as CSS custom properties', () => {
    expect(cssTokens('dark')['--ink-1']).toBe('#ededea');
    expect(cssTokens('light')['--line-grid']).toBe('#e2e7e9');
    expect(cssTokens('dark')['--net-single']).toBe('#54c57a');
  });
});
