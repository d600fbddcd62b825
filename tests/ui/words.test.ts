/** What the panels say: figures with their limits, levels behind a map, cautions of a dark set. */
import { describe, expect, test } from 'vitest';
import { CRISP_EDGE_LIMITS, DEFAULT_LIMITS, DUV_LIMITS } from '../../src/sim/judgement/limits';
import { SUN_FIGURES, type GridResult, type SunCheck } from '../../src/sim/results';
import { darkCaution } from '../../src/ui/words/dark';
import { againstLimit, figureRows, worstRow } from '../../src/ui/words/figures';
import { METRIC, type Units } from '../../src/ui/words/format';
import { levelTable } from '../../src/ui/words/levels';
import { limitText } from '../../src/sim/judgement/figureWords';
import { NO_RESULTS } from '../../src/ui/stores/results';
import { tinyScene } from './tinyScene';

const IMPERIAL: Units = { length: 'feet', illuminance: 'footcandles' };

/** A check without any figure but those that are given. */
function check(figures: Partial<SunCheck>): SunCheck {
  const none = Object.fromEntries(SUN_FIGURES.map((figure) => [figure, null]));
  const verdict = { verdict: 'notEnough', worst: null, confidence: null, flags: [], sentence: '', reasons: {} };
  return { ...none, surfaceId: 'w', sourceId: 'l', scores: {}, drawing: null, ...verdict, ...figures } as SunCheck;
}
const rowOf = (made: SunCheck, key: string, units = METRIC) => {
  const row = figureRows(made, units, '± 1 stop').find((one) => one.key === key);
  if (!row) throw new Error(`no row ${key}`);
  return row;
};

describe('figures', () => {
  test('every numeral and every limit in words is the judgement’s own', () => {
    const rows = figureRows(check({}), METRIC, '± 1 stop');
    const numerals = (key: string) => rows.find((row) => row.key === key)?.limits?.numerals.map(({ at }) => at);
    for (const [key, limits] of [
      ['falloffStops', DEFAULT_LIMITS.fallOff],
      ['fanDeg', DEFAULT_LIMITS.fan],
      ['lineFanDeg', DEFAULT_LIMITS.lineFan],
      ['stepStopsPer10cm', DEFAULT_LIMITS.step],
      ['altitudeOffDeg', DEFAULT_LIMITS.height],
      ['windowSpreadDeg', DEFAULT_LIMITS.windowSpread],
      ['windowLevelStops', DEFAULT_LIMITS.windowLevel],
      ['cctOffMired', DEFAULT_LIMITS.colour],
      ['duvOff', DUV_LIMITS],
      ['hazeDeg', DEFAULT_LIMITS.haze],
    ] as const) {
      expect(numerals(key), key).toEqual([limits.good, limits.passable]);
      const words = rows.find((row) => row.key === key)?.limitWords ?? '';
      expect(words, key).toContain(` ${limitText(limits.good)} `);
      expect(words, key).toMatch(new RegExp(`${limitText(limits.passable)}$`));
    }
    expect(numerals('edgeRatio')).toEqual([
      2 ** -CRISP_EDGE_LIMITS.good,
      DEFAULT_LIMITS.edge.good,
      DEFAULT_LIMITS.edge.passable,
    ]);
  });

  test('limits are said as the trade says them', () => {
    expect([1 / 3, 2 / 3, 0.25, 0.1, 4, 0.003].map(limitText)).toEqual(['1/3', '2/3', '1/4', '0.1', '4', '0.003']);
  });

  test('the class of a row is that of its own score; colour’s rows are each held against their own limit', () => {
    const made = check({ falloffStops: 0.5, cctOffMired: 60, duvOff: 0.001, scores: { fallOff: 1.5, colour: 2.3 } });
    expect(rowOf(made, 'falloffStops').verdict).toBe('passable');
    expect(rowOf(made, 'cctOffMired').verdict).toBe('givesAway');
    expect(rowOf(made, 'duvOff').verdict).toBe('reads');
    expect(rowOf(made, 'stepStopsPer10cm').verdict).toBeNull();
  });

  test('the worst figure stands against the limit that it has passed', () => {
    const made = check({ falloffStops: 2.1, scores: { fallOff: 3.65 }, worst: 'fallOff' });
    const worst = worstRow(figureRows(made, METRIC, '± 1 stop'), 'fallOff');
    expect(worst && againstLimit(worst)).toBe('2.1 stops against 2/3');
    expect(worstRow(figureRows(made, METRIC, '± 1 stop'), 'step')).toBeNull();
  });

  test('a missing figure keeps its reason; a far one is "over"; a level carries its band', () => {
    const made = check({ apparentDistanceM: 250, overKeyStops: 4.94, reasons: { fill: 'no opening' } });
    expect(rowOf(made, 'fill')).toMatchObject({ value: null, text: '-', reason: 'no opening' });
    expect(rowOf(made, 'apparentDistanceM').text).toBe('over 100 m');
    expect(rowOf(made, 'apparentDistanceM', IMPERIAL).text).toBe('over 328 ft'); // 100 / 0.3048
    expect(rowOf(made, 'overKeyStops').text).toBe('+4.9 stops ± 1 stop');
  });
});

describe('levels behind a map', () => {
  /** Level of a cell: 100 a column, 1 a row from the foot. */
  function grid(columns: number, rows: number): GridResult {
    const illuminanceLx = Float32Array.from(
      { length: columns * rows },
      (_, cell) => 100 * (cell % columns) + Math.floor(cell / columns),
    );
    const mask = new Uint8Array(columns * rows).fill(1);
    return {
      surfaceId: 'w',
      columns,
      rows,
      leftM: 1,
      bottomM: 0,
      widthM: 5,
      heightM: 2.5,
      mask,
      layers: [],
      illuminanceLx,
    };
  }
  test('five by five places, from the top down, each headed by where it is', () => {
    const table = levelTable(grid(10, 10), 'illuminance', 100, METRIC);
    expect(table.columnHeads).toEqual(['1.75\u2009m', '2.75\u2009m', '3.75\u2009m', '4.75\u2009m', '5.75\u2009m']);
    expect(table.rows.map((row) => row.head)).toEqual(
      ['2.38', '1.88', '1.38', '0.88', '0.38'].map((metres) => `${metres}\u2009m`),
    );
    expect(table.rows.at(-1)?.cells[0]).toBe('101\u2009lx');
    expect(table.rows[0]?.cells[4]).toBe('909\u2009lx');
  });
  test('a grid of fewer cells gives fewer places; off the surface there is a dash', () => {
    const small = grid(3, 2);
    small.mask[0] = 0;
    const table = levelTable(small, 'illuminance', 100, METRIC);
    expect(table.rows.map((row) => row.cells.length)).toEqual([3, 3]);
    expect(table.rows[1]?.cells[0]).toBe('-');
  });
  test('stops off are over the reference, lamp over sun only where both are', () => {
    const one = grid(1, 1);
    one.illuminanceLx[0] = 400;
    expect(levelTable(one, 'stopsOff', 100, METRIC).rows[0]?.cells).toEqual(['+2']); // log2(400 / 100)
    expect(levelTable(one, 'lampOverSun', 100, METRIC).rows[0]?.cells).toEqual(['-']);
    expect(levelTable(one, 'lampOverSun', 100, METRIC, new Float32Array([200])).rows[0]?.cells).toEqual(['+1']);
    one.illuminanceLx[0] = 0;
    expect(levelTable(one, 'stopsOff', 100, METRIC).rows[0]?.cells).toEqual(['none']);
  });
});

describe('nothing lit', () => {
  const field = (level: number, revision: number) => ({
    rough: false,
    revision,
    result: { illuminanceLx: new Float32Array([0, level]) } as GridResult,
  });
  const state = (wall: number, floor: number) => ({
    ...NO_RESULTS,
    revision: 3,
    fields: { 'north-wall': field(wall, 3), floor: field(floor, 3) },
  });
  test('is said where every shown surface is dark, with the reason that the scene tells', () => {
    const scene = tinyScene();
    expect(darkCaution(scene, 'b', state(0, 0))).toBe('No light reaches north wall and floor: the setup has no lamp.');
    expect(darkCaution(scene, 'a', state(0, 0))).toMatch(/stand in the way/);
    expect(darkCaution(scene, 'a', state(0, 5))).toBeNull();
    expect(darkCaution(scene, 'a', { ...state(0, 0), revision: 4 })).toBeNull();
    expect(darkCaution(scene, 'a', { ...state(0, 0), status: { kind: 'stopped' } })).toBeNull();
  });
});
