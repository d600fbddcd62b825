/** Contour lines of a field of levels, in cells from its lower left corner, left out where they would bunch. */
import { contours } from 'd3-contour';
import { contourLevels, type LogRange } from '../../sim/colour/colourMaps';
import type { GridResult } from '../../sim/results';

export interface ContourLine {
  readonly valueLx: number;
  readonly heavy: boolean;
  /** Cells from the left and from the foot of the grid. */
  readonly points: readonly (readonly [number, number])[];
}

/** Contours lie a third of a stop apart. */
const CONTOUR_STOPS = 1 / 3;

/** Cells where the level changes so fast that contours would lie nearer than `leastGapCells`, or off the surface. */
function steepCells(grid: GridResult, stops: Float64Array, leastGapCells: number): Uint8Array {
  const { columns, rows, mask } = grid;
  const steepest = CONTOUR_STOPS / leastGapCells;
  const steep = new Uint8Array(columns * rows).fill(1);
  const differs = (index: number, other: number): boolean =>
    mask[other] !== 1 || !(Math.abs((stops[index] ?? NaN) - (stops[other] ?? NaN)) <= steepest);
  for (let row = 1; row < rows - 1; row += 1) {
    for (let column = 1; column < columns - 1; column += 1) {
      const index = row * columns + column;
      const neighbours = [index - 1, index + 1, index - columns, index + columns];
      if (mask[index] === 1 && !neighbours.some((other) => differs(index, other))) steep[index] = 0;
    }
  }
  return steep;
}

/** Cells that keep `reach` cells away from any steep one that is not merely the grid's own rim. */
function steadyCells(grid: GridResult, steep: Uint8Array, reach: number): Uint8Array {
  const { columns, rows } = grid;
  const steady = new Uint8Array(columns * rows);
  const isSteep = (row: number, column: number): boolean =>
    row > 0 && column > 0 && row < rows - 1 && column < columns - 1 && steep[row * columns + column] === 1;
  for (let row = 1; row < rows - 1; row += 1) {
    for (let column = 1; column < columns - 1; column += 1) {
      let near = false;
      for (let up = -reach; up <= reach && !near; up += 1) {
        for (let right = -reach; right <= reach && !near; right += 1) near = isSteep(row + up, column + right);
      }
      if (!near) steady[row * columns + column] = 1;
    }
  }
  return steady;
}

/** Runs of a closed ring that stay in steady cells. */
function steadyRuns(
  ring: readonly (readonly number[])[],
  steady: Uint8Array,
  columns: number,
): (readonly [number, number])[][] {
  const runs: [number, number][][] = [];
  let run: [number, number][] = [];
  for (const [right = 0, up = 0] of ring) {
    if (steady[Math.floor(up) * columns + Math.floor(right)] === 1) run.push([right, up]);
    else {
      if (run.length > 1) runs.push(run);
      run = [];
    }
  }
  if (run.length > 1) runs.push(run);
  // A ring begins anywhere: its last run may go on in its first.
  const first = runs[0];
  const last = runs.at(-1);
  const [start, end] = [ring[0], ring.at(-1)];
  if (first && last && first !== last && start && end && start[0] === end[0] && start[1] === end[1]) {
    const joins = first[0]?.[0] === start[0] && first[0]?.[1] === start[1] && last.at(-1)?.[0] === end[0];
    if (joins) return [[...last, ...first.slice(1)], ...runs.slice(1, -1)];
  }
  return runs;
}

/**
 * Contour lines a third of a stop apart.
 * @param leastGapCells lines nearer to each other than this, in cells, are left out: across a shadow edge they would
 *   run together into a black bar
 */
export function contourLines(grid: GridResult, range: LogRange, leastGapCells: number): ContourLine[] {
  const { columns, rows, illuminanceLx, mask } = grid;
  if (columns < 3 || rows < 3) return [];
  const floor = Math.log2(range.minimum) - 10;
  const stops = Float64Array.from(illuminanceLx, (level, index) =>
    mask[index] === 1 && level > 0 ? Math.max(floor, Math.log2(level)) : floor,
  );
  const steady = steadyCells(grid, steepCells(grid, stops, leastGapCells), Math.round(leastGapCells / 2));
  // The library takes plain arrays; lines between cells are placed by exposure, not by lux, as the eye sees them.
  const values = Array.from(stops);
  const finder = contours().size([columns, rows]);
  return contourLevels(range).flatMap(({ valueLx, heavy }) =>
    finder
      .contour(values, Math.log2(valueLx))
      .coordinates.flat()
      .flatMap((ring) => steadyRuns(ring, steady, columns))
      .map((points) => ({ valueLx, heavy, points })),
  );
}
