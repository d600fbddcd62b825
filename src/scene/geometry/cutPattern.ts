/** The holes of a cucoloris, made from a seed: the same seed gives the same cut everywhere. */
import type { Point2 } from '../schema';

/** Holes keep to their own cell, so that none touches another or the rim; shares of the cell. */
const LEAST_RADIUS = 0.2;
const MOST_RADIUS = 0.42;
const KEPT_FREE = 0.04;
const LEAST_CORNERS = 6;
const MORE_CORNERS = 3;

/** Seeded numbers in [0, 1). @source the mulberry32 recurrence, public domain */
function numbersFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/**
 * @returns `holes` convex outlines, counter-clockwise, inside a sheet of `widthM` x `heightM` about its middle
 * @remarks One hole to a cell of a grid, its corners on an ellipse of its own at uneven turns.
 */
export function cutPattern(seed: number, holes: number, widthM: number, heightM: number): Point2[][] {
  const next = numbersFrom(seed);
  const columns = Math.max(1, Math.min(holes, Math.round(Math.sqrt((holes * widthM) / heightM))));
  const rows = Math.ceil(holes / columns);
  const cells = Array.from({ length: columns * rows }, (_, cell) => cell);
  for (let i = cells.length - 1; i > 0; i--) {
    const other = Math.floor(next() * (i + 1));
    [cells[i], cells[other]] = [cells[other]!, cells[i]!];
  }
  const [cellWidthM, cellHeightM] = [widthM / columns, heightM / rows];
  return cells.slice(0, holes).map((cell) => {
    const along = (size: number, index: number, wholeM: number): readonly [middle: number, radius: number] => {
      const radius = LEAST_RADIUS + (MOST_RADIUS - LEAST_RADIUS) * next();
      const room = 0.5 - KEPT_FREE - radius;
      return [(index + 0.5 + room * (2 * next() - 1)) * size - wholeM / 2, radius * size];
    };
    const [x, radiusX] = along(cellWidthM, cell % columns, widthM);
    const [y, radiusY] = along(cellHeightM, Math.floor(cell / columns), heightM);
    const corners = LEAST_CORNERS + Math.floor(MORE_CORNERS * next());
    return Array.from({ length: corners }, (_, corner): Point2 => {
      const turn = (2 * Math.PI * (corner + 0.7 * next())) / corners;
      return [x + radiusX * Math.cos(turn), y + radiusY * Math.sin(turn)];
    });
  });
}
