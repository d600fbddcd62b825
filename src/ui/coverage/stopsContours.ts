/** Contours of a map of stops, a third of a stop apart: paths in cells, row 0 at the foot, and a name for each. */
import { contours } from 'd3-contour';
import type { GridResult } from '../../sim/results';
import { signedFixed } from '../words/format';

/** Stops of each lit cell off a level; NaN elsewhere. */
export const stopsOffMean = ({ illuminanceLx, mask }: GridResult, meanLx: number): Float32Array =>
  Float32Array.from(illuminanceLx, (level, cell) => (mask[cell] === 1 && level > 0 ? Math.log2(level / meanLx) : NaN));

const THIRD = 1 / 3;
const MOST_STOPS = 4;
/** A ring shorter than this is a speck, cells; a name nearer to another than this is left out, per cent. */
const LEAST_RING = 6;
const NAME_ROOM = 9;

export interface StopsContour {
  readonly stops: number;
  readonly path: string;
  readonly isWhole: boolean;
}
export interface ContourName {
  readonly words: string;
  /** Of the map's width and height, per cent, from its top left corner. */
  readonly left: number;
  readonly top: number;
}

/** "-1", "+1/3", "0": stops as the trade writes thirds. */
export function thirdWords(thirds: number): string {
  const [whole, rest] = [Math.trunc(thirds / 3), Math.abs(thirds % 3)];
  if (thirds === 0) return '0';
  const sign = thirds < 0 ? '\u2212' : '+';
  const part = rest === 0 ? '' : `${rest}/3`;
  const wholePart = whole === 0 ? '' : signedFixed(Math.abs(whole), 0).replace('+', '');
  return `${sign}${wholePart}${wholePart !== '' && part !== '' ? '\u2009' : ''}${part}`;
}

/**
 * @param stops one value a cell, row-major, row 0 lowest; NaN where there is no light or no surface
 * @returns contours between the cells' middles; none where the map is even to a third of a stop
 */
export function stopsContours(
  stops: ArrayLike<number>,
  columns: number,
  rows: number,
): { readonly lines: readonly StopsContour[]; readonly names: readonly ContourName[] } {
  const values = Array.from(stops, (value) => (Number.isFinite(value) ? value : -100));
  const known = values.filter((value) => value > -100);
  if (known.length === 0) return { lines: [], names: [] };
  const [least, most] = [known.reduce((a, b) => Math.min(a, b)), known.reduce((a, b) => Math.max(a, b))];
  const first = Math.max(-3 * MOST_STOPS, Math.ceil(least / THIRD));
  const last = Math.min(3 * MOST_STOPS, Math.floor(most / THIRD));
  const thirds = Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => first + i);
  const draw = contours().size([columns, rows]);
  const lines: StopsContour[] = [];
  const names: ContourName[] = [];
  for (const third of thirds) {
    // A hair under the threshold, so that a level that is met exactly is drawn.
    const { coordinates } = draw.contour(values, third * THIRD - 1e-9);
    const rings = coordinates.flat().map((ring) => ring.map(([x, y]) => [x!, rows - y!] as const));
    const pieces = rings
      .filter((ring) => ring.length >= LEAST_RING)
      .flatMap((ring) => insidePieces(ring, columns, rows));
    if (pieces.length === 0) continue;
    const path = pieces
      .map((piece) => piece.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(2)} ${y.toFixed(2)}`).join(''))
      .join('');
    lines.push({ stops: third * THIRD, path, isWhole: third % 3 === 0 });
    const longest = pieces.reduce((a, b) => (b.length > a.length ? b : a));
    const name = nameAt(longest, thirdWords(third), columns, rows, names);
    if (name) names.push(name);
  }
  return { lines, names };
}

type Place = readonly [number, number];

/** The parts of a ring that are no edge of the map: d3 closes its rings along it. */
function insidePieces(ring: readonly Place[], columns: number, rows: number): Place[][] {
  const isInside = ([x, y]: Place): boolean => x > 0.5 && y > 0.5 && x < columns - 0.5 && y < rows - 0.5;
  const pieces: Place[][] = [];
  let piece: Place[] = [];
  for (const place of ring) {
    if (isInside(place)) piece.push(place);
    else {
      if (piece.length > 1) pieces.push([...piece, place]);
      piece = [place];
    }
  }
  if (piece.length > 1) pieces.push(piece);
  return pieces;
}

/** A place on the contour for its name, clear of the edges and of other names; null for none. */
function nameAt(
  piece: readonly Place[],
  words: string,
  columns: number,
  rows: number,
  others: readonly ContourName[],
): ContourName | null {
  for (const share of [0.5, 0.25, 0.75, 0.1, 0.9]) {
    const [x, y] = piece[Math.floor(share * (piece.length - 1))]!;
    const [left, top] = [(100 * x) / columns, (100 * y) / rows];
    const isClear = others.every((other) => Math.hypot(other.left - left, other.top - top) > NAME_ROOM);
    if (isClear && left > 4 && left < 96 && top > 6 && top < 94) return { words, left, top };
  }
  return null;
}
