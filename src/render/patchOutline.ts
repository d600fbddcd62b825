/** The outline of a lit patch as it is drawn: past many narrow shadows (a blind's slats) it runs round them all. */
import type { SunCheckDrawing } from '../sim/results';
import { maskOutlines } from './contours';

/** More rings than this are stripes: drawn one by one they would hide the light that they bound. */
const MOST_RINGS = 20;
/** Shadows are closed over up to this many cells to either side. */
const WIDEST_REACH = 16;

type Cells = SunCheckDrawing['grid'];

/** Cells within `reach` cells along a row or column of one that is set (`value` 1), or of one that is not (0). */
function spread(mask: Uint8Array, { columns, rows }: Cells, reach: number, value: 0 | 1): Uint8Array {
  const out = mask.slice();
  const along = (start: number, step: number, count: number): void => {
    let left = 0;
    const visit = (i: number): void => {
      const at = start + i * step;
      if (mask[at] === value) left = reach;
      else if (left > 0) {
        out[at] = value;
        left--;
      }
    };
    for (let i = 0; i < count; i++) visit(i);
    left = 0;
    for (let i = count - 1; i >= 0; i--) visit(i);
  };
  for (let row = 0; row < rows; row++) along(row * columns, 1, columns);
  for (let column = 0; column < columns; column++) along(column, columns, rows);
  return out;
}

/** The mask with gaps of up to 2 x `reach` cells filled; its own cells stay. */
function closed(mask: Uint8Array, grid: Cells, reach: number): Uint8Array {
  const shrunk = spread(spread(mask, grid, reach, 1), grid, reach, 0);
  return shrunk.map((cell, i) => cell | mask[i]!);
}

const outlines = new WeakMap<SunCheckDrawing, number[][]>();

/** Outlines of a patch's lit cells in surface metres, traced once. */
export function litOutlines(drawing: SunCheckDrawing): number[][] {
  const known = outlines.get(drawing);
  if (known) return known;
  const { grid } = drawing;
  let rings = maskOutlines(grid.lit, grid);
  for (let reach = 1; rings.length > MOST_RINGS && reach <= WIDEST_REACH; reach *= 2) {
    rings = maskOutlines(closed(grid.lit, grid, reach), grid);
  }
  outlines.set(drawing, rings);
  return rings;
}
