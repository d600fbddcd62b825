/** A biquadratic through nine values of a cell, for filling the receivers between them. */

/** Chebyshev points of three on -1..1: ±cos 30°, 0. */
const NODE = Math.sqrt(3) / 2;

/** A place in a cell, from -1 to 1 between its outer receivers. */
export type Place = readonly [s: number, t: number];

/** Where the nine values are taken, row by row. */
export const NODES: readonly Place[] = [-NODE, 0, NODE].flatMap((t) => [-NODE, 0, NODE].map((s): Place => [s, t]));

/** Turns values at NODES (in place) into coefficients of s^i t^j at 3 j + i. */
export function fitBiquadratic(values: Float64Array): void {
  for (let column = 0; column < 3; column++) toPowers(values, column, 3);
  for (let row = 0; row < 9; row += 3) toPowers(values, row, 1);
}

/**
 * Coefficients, as above, of the bilinear function through values at (s, t) = (-1, -1), (1, -1), (-1, 1), (1, 1), bent by a
 * multiple of (1 - s²)(1 - t²) to meet the value in the middle.
 */
export function fitBentBilinear(corners: Float64Array, middle: number, coefficients: Float64Array): void {
  const a = corners[0]!;
  const b = corners[1]!;
  const c = corners[2]!;
  const d = corners[3]!;
  const bend = middle - (a + b + c + d) / 4;
  coefficients[0] = middle;
  coefficients[1] = (b - a + d - c) / 4;
  coefficients[2] = -bend;
  coefficients[3] = (c - a + d - b) / 4;
  coefficients[4] = (a - b - c + d) / 4;
  coefficients[5] = 0;
  coefficients[6] = -bend;
  coefficients[7] = 0;
  coefficients[8] = bend;
}

function toPowers(values: Float64Array, start: number, stride: number): void {
  const low = values[start]!;
  const middle = values[start + stride]!;
  const high = values[start + 2 * stride]!;
  values[start] = middle;
  values[start + stride] = (high - low) / (2 * NODE);
  values[start + 2 * stride] = (low + high - 2 * middle) / (2 * NODE * NODE);
}

export function biquadraticAt(c: Float64Array, s: number, t: number): number {
  return (
    c[0]! + s * (c[1]! + s * c[2]!) + t * (c[3]! + s * (c[4]! + s * c[5]!) + t * (c[6]! + s * (c[7]! + s * c[8]!)))
  );
}

/** A cell of columns x rows receivers from (column, row) on. */
export interface Cell {
  column: number;
  row: number;
  columns: number;
  rows: number;
}

/**
 * Writes `share` times the biquadratic over `fitted`, whose outer receivers lie at s, t = ±1, to the receivers of a cell
 * within it. Light is never negative.
 */
export function fillBiquadratic(
  fitted: Cell,
  c: Float64Array,
  cell: Cell,
  share: number,
  out: Float32Array,
  stride: number,
): void {
  const { columns, rows } = cell;
  const perColumn = fitted.columns > 1 ? 2 / (fitted.columns - 1) : 0;
  const perRow = fitted.rows > 1 ? 2 / (fitted.rows - 1) : 0;
  const left = (cell.column - fitted.column) * perColumn - 1;
  for (let row = 0; row < rows; row++) {
    const t = (cell.row + row - fitted.row) * perRow - 1;
    const a = c[0]! + t * (c[3]! + t * c[6]!);
    const b = c[1]! + t * (c[4]! + t * c[7]!);
    const d = c[2]! + t * (c[5]! + t * c[8]!);
    // In columns from the cell's left instead of s.
    const start = share * (a + left * (b + left * d));
    const slope = share * (b + 2 * left * d) * perColumn;
    const bend = share * d * perColumn * perColumn;
    const at = (cell.row + row) * stride + cell.column;
    for (let column = 0; column < columns; column++) {
      const value = start + column * (slope + column * bend);
      out[at + column] = value > 0 ? value : 0;
    }
  }
}
