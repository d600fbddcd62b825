/** The throw chart as plain shapes: drawn by the page and written to a file alike. Pixels of the chart's own box. */
import { scaleLinear, scaleLog } from 'd3-scale';
import type { ThrowResult, ThrowRow } from '../../sim/coverage/coverageTasks';

export type Ink = 'grid' | 'axis' | 'level' | 'range' | 'limit' | 'present' | 'words' | 'quiet';
export type ChartShape =
  | {
      readonly kind: 'path';
      readonly ink: Ink;
      readonly points: readonly (readonly [number, number])[];
      readonly dash?: string;
    }
  | { readonly kind: 'dot'; readonly ink: Ink; readonly at: readonly [number, number] }
  | {
      readonly kind: 'text';
      readonly ink: Ink;
      readonly at: readonly [number, number];
      readonly words: string;
      readonly anchor: 'start' | 'middle' | 'end';
    };
export interface ChartModel {
  readonly width: number;
  readonly height: number;
  readonly shapes: readonly ChartShape[];
  /** Left, right, top and bottom of the plots. */
  readonly plot: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
  readonly xOf: (distanceM: number) => number;
  readonly distanceAt: (x: number) => number;
  readonly levelY: (illuminanceLx: number) => number;
  readonly rangeY: (stops: number) => number;
}
export interface ChartWords {
  readonly level: (illuminanceLx: number) => string;
  readonly distance: (distanceM: number) => string;
}

const LEFT = 58;
const RIGHT = 92;
const TOP = 26;
const FOOT = 40;
const BETWEEN = 42;
/** Each series its own dash, so that a print without colour tells them apart. */
export const RANGE_DASH = '7 4';
export const LIMITS = [
  { stops: 1, words: '1 stop' },
  { stops: 2 / 3, words: '2/3' },
  { stops: 1 / 2, words: '1/2' },
  { stops: 1 / 3, words: '1/3' },
] as const;

type Scale = (value: number) => number;
type Place = readonly [number, number];

function grid(left: number, right: number, ticks: readonly { y: number; words: string }[]): ChartShape[] {
  return ticks.flatMap(({ y, words }): ChartShape[] => [
    {
      kind: 'path',
      ink: 'grid',
      points: [
        [left, y],
        [right, y],
      ],
    },
    { kind: 'text', ink: 'quiet', at: [left - 8, y + 4], words, anchor: 'end' },
  ]);
}

/** A curve in as many pieces as unlit rows leave of it, with its name at its end. */
function curve(ink: 'level' | 'range', words: string, places: readonly (Place | null)[]): ChartShape[] {
  const pieces: Place[][] = [[]];
  for (const place of places) {
    if (place) pieces.at(-1)!.push(place);
    else if (pieces.at(-1)!.length > 0) pieces.push([]);
  }
  const end = places.findLast((place) => place !== null);
  const dash = ink === 'range' ? { dash: RANGE_DASH } : {};
  const lines = pieces
    .filter((points) => points.length > 1)
    .map((points): ChartShape => ({ kind: 'path', ink, points, ...dash }));
  return end ? [...lines, { kind: 'text', ink, at: [end[0] + 8, end[1] + 4], words, anchor: 'start' }] : lines;
}

/** Names of marks nearer to each other than this go one row higher, px. */
const NAME_PX = 30;

/** The limits as lines; those that are reached with a mark and their name over it, the others named once at the end. */
function marks(result: ThrowResult, left: number, xOf: Scale, rangeY: Scale): ChartShape[] {
  const end = xOf(result.rows.at(-1)?.distanceM ?? 0);
  const shapes: ChartShape[] = [];
  const missed: string[] = [];
  let [lastX, isHigh] = [-Infinity, false];
  for (const { stops, words } of LIMITS) {
    const y = rangeY(stops);
    const markM = result.marks.find((each) => each.stops === stops)?.distanceM ?? null;
    const x = markM === null ? null : xOf(markM);
    const line: readonly Place[] = [
      [left, y],
      [x ?? end, y],
    ];
    shapes.push({ kind: 'path', ink: 'limit', points: line, dash: '2 3' });
    if (x === null) {
      missed.push(words);
      continue;
    }
    isHigh = x - lastX < NAME_PX && !isHigh;
    lastX = x;
    shapes.push({ kind: 'text', ink: 'quiet', at: [x, y - (isHigh ? 24 : 9)], words, anchor: 'middle' });
    shapes.push({ kind: 'dot', ink: 'range', at: [x, y] });
  }
  const [first] = missed;
  if (first !== undefined) {
    const y = rangeY(LIMITS.find(({ words }) => words === first)!.stops);
    shapes.push({
      kind: 'text',
      ink: 'quiet',
      at: [end, y - 9],
      words: `${missed.join(', ')} not reached`,
      anchor: 'end',
    });
  }
  return shapes;
}

/** Least and greatest level, at least an octave apart; something to draw where no row is lit. */
function levelSpan(lit: readonly number[]): [number, number] {
  if (lit.length === 0) return [1, 10];
  const [least, most] = [Math.min(...lit), Math.max(...lit)];
  return most >= 2 * least ? [least, most] : [least / 2, most * 2];
}

/** Level (log) over range (square root) against distance, one axis of distance for both. */
export function chartModel(result: ThrowResult, width: number, height: number, words: ChartWords): ChartModel {
  const { rows, present } = result;
  const [left, right, bottom] = [LEFT, width - RIGHT, height - FOOT];
  const middle = TOP + (bottom - TOP - BETWEEN) * 0.5;
  const near = Math.min(rows[0]?.distanceM ?? 1, present.distanceM);
  const far = Math.max(rows.at(-1)?.distanceM ?? 2, present.distanceM);
  const x = scaleLinear([near, far], [left, right]);
  const lit = rows.filter(({ meanLx }) => meanLx > 0).map(({ meanLx }) => meanLx);
  const level = scaleLog(levelSpan(lit), [middle, TOP]);
  const most = Math.max(1, ...rows.map(({ rangeStops }) => Math.min(8, rangeStops ?? 0)));
  const range = scaleLinear([0, Math.sqrt(most)], [bottom, middle + BETWEEN]);
  const rangeY: Scale = (stops) => range(Math.sqrt(Math.min(most, Math.max(0, stops))));
  const levelTicks = level.ticks(4).filter((tick) => /^[125]0*(\.0+)?$/.test(String(tick)) || tick < 1);
  const wholeStops = [2, 4, 6, 8].filter((stops) => stops <= most);
  const place = (row: ThrowRow, y: number | null): Place | null => (y === null ? null : [x(row.distanceM), y]);
  const presentX = x(present.distanceM);
  const shapes: ChartShape[] = [
    ...grid(
      left,
      right,
      levelTicks.map((tick) => ({ y: level(tick), words: words.level(tick) })),
    ),
    ...grid(
      left,
      right,
      [0, ...wholeStops].map((stops) => ({ y: rangeY(stops), words: String(stops) })),
    ),
    ...x.ticks(8).map((tick): ChartShape => ({
      kind: 'text',
      ink: 'quiet',
      at: [x(tick), bottom + 18],
      words: words.distance(tick),
      anchor: 'middle',
    })),
    {
      kind: 'path',
      ink: 'axis',
      points: [
        [left, bottom],
        [right, bottom],
      ],
    },
    { kind: 'text', ink: 'words', at: [left, TOP - 11], words: 'Mean level', anchor: 'start' },
    {
      kind: 'text',
      ink: 'words',
      at: [left, middle + BETWEEN - 11],
      words: 'Range, brightest to darkest, stops',
      anchor: 'start',
    },
    { kind: 'text', ink: 'words', at: [right, bottom + 34], words: 'Distance', anchor: 'end' },
    ...marks(result, left, x, rangeY),
    {
      kind: 'path',
      ink: 'present',
      points: [
        [presentX, TOP],
        [presentX, bottom],
      ],
      dash: '12 3 2 3',
    },
    { kind: 'text', ink: 'present', at: [presentX + 5, TOP + 10], words: 'stands here', anchor: 'start' },
    ...curve(
      'level',
      'level',
      rows.map((row) => place(row, row.meanLx > 0 ? level(row.meanLx) : null)),
    ),
    ...curve(
      'range',
      'range',
      rows.map((row) => place(row, row.rangeStops === null ? null : rangeY(row.rangeStops))),
    ),
  ];
  // Words last: on their casing no line strikes them out.
  shapes.sort((one, other) => Number(one.kind === 'text') - Number(other.kind === 'text'));
  const distanceAt = (at: number): number => Math.min(far, Math.max(near, x.invert(at)));
  return { width, height, shapes, plot: { left, right, top: TOP, bottom }, xOf: x, distanceAt, levelY: level, rangeY };
}

/** Inks of a chart on paper: dark on white. */
const PAPER: Readonly<Record<Ink, string>> = {
  grid: '#c5cccf',
  axis: '#333333',
  level: '#9b590b',
  range: '#005f99',
  limit: '#575d63',
  present: '#333333',
  words: '#000000',
  quiet: '#333333',
};
const escaped = (raw: string): string => raw.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
const pathOf = (points: readonly Place[]): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');
export { pathOf };

/** The chart as an SVG file for print. */
export function chartSvg(model: ChartModel, title: string): string {
  const parts = model.shapes.map((shape) => {
    const colour = PAPER[shape.ink];
    switch (shape.kind) {
      case 'path': {
        const width = shape.ink === 'level' || shape.ink === 'range' ? 2 : 1;
        const dash = shape.dash === undefined ? '' : ` stroke-dasharray="${shape.dash}"`;
        return `<path d="${pathOf(shape.points)}" fill="none" stroke="${colour}" stroke-width="${width}"${dash}/>`;
      }
      case 'dot':
        return `<circle cx="${shape.at[0].toFixed(1)}" cy="${shape.at[1].toFixed(1)}" r="4" fill="#ffffff" stroke="${colour}" stroke-width="2"/>`;
      case 'text':
        return `<text x="${shape.at[0].toFixed(1)}" y="${shape.at[1].toFixed(1)}" fill="${colour}" text-anchor="${shape.anchor}" paint-order="stroke" stroke="#ffffff" stroke-width="4" stroke-linejoin="round">${escaped(shape.words)}</text>`;
    }
  });
  const { width, height } = model;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height + 24}" viewBox="0 -24 ${width} ${height + 24}" font-family="Archivo, sans-serif" font-size="12"><title>${escaped(title)}</title><rect y="-24" width="100%" height="100%" fill="#ffffff"/><text x="8" y="-8" font-weight="600">${escaped(title)}</text>${parts.join('')}</svg>\n`;
}
