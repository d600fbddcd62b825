/** A biquadratic through nine values of a cell, for filling the receivers between them. */

/** A place in a cell, from -1 to 1 between the sides of its frame. */
export type Place = readonly [s: number, t: number];

/**
 * Turns nine values, row by row, into coefficients of s^i t^j at 3 j + i, in place.
 * @param middleS, middleT the values lie at s = -1, middleS and 1, and at t = -1, middleT and 1
 */
export function fitBiquadratic(values: Float64Array, middleS: number, middleT: number): void {
  for (let column = 0; column < 3; column++) toPowers(values, column, 3, middleT);
  for (let row = 0; row < 9; row += 3) toPowers(values, row, 1, middleS);
}

/**
 * Coefficients, as above, of the bilinear function through the corners of nine values at s, t = -1, 0, 1, row by row, bent by
 * a multiple of (1 - s²)(1 - t²) to meet the one in the middle.
 */
export function fitBentBilinear(nine: Float64Array, coefficients: Float64Array): void {
  const a = nine[0]!;
  const b = nine[2]!;
  const c = nine[6]!;
  const d = nine[8]!;
  const middle = nine[4]!;
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

/** Newton's divided differences of three values, as powers. */
function toPowers(values: Float64Array, start: number, stride: number, middle: number): void {
  const low = values[start]!;
  const between = values[start + stride]!;
  const high = values[start + 2 * stride]!;
  const before = (between - low) / (middle + 1);
  const after = (high - between) / (1 - middle);
  const bend = (after - before) / 2;
  values[start] = between - middle * (before + bend);
  values[start + stride] = before + bend * (1 - middle);
  values[start + 2 * stride] = bend;
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

/** What a cell is fitted between, in columns and rows of the grid; its sides may lie between receivers. */
export interface Frame {
  left: number;
  bottom: number;
  width: number;
  height: number;
}

/**
 * Writes `share` times the biquadratic over `frame`, whose sides lie at s, t = ±1, to the receivers of a cell
 * within it. Light is never negative.
 */
export function fillBiquadratic(
  frame: Frame,
  c: Float64Array,
  cell: Cell,
  share: number,
  out: Float32Array,
  stride: number,
): void {
  const { columns, rows } = cell;
  const perColumn = 2 / frame.width;
  const perRow = 2 / frame.height;
  const left = (cell.column - frame.left) * perColumn - 1;
  for (let row = 0; row < rows; row++) {
    const t = (cell.row + row - frame.bottom) * perRow - 1;
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
