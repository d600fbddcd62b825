/** A biquadratic through nine values of a cell, for filling the receivers between them. */

/** Chebyshev points of three on -1..1: ±cos 30°, 0. */
const NODE = Math.sqrt(3) / 2;

/** Where the nine values are taken, row by row, as shares of the half cell. */
export const NODES: readonly (readonly [s: number, t: number])[] = [-NODE, 0, NODE].flatMap((t) =>
  [-NODE, 0, NODE].map((s) => [s, t] as const),
);
/** Where the fit is checked: in the corners, beyond all nodes, where both axes' errors add up. */
export const CHECKS: readonly (readonly [s: number, t: number])[] = [
  [1, 1],
  [-1, -1],
  [1, -1],
  [-1, 1],
];

/** Turns values at NODES (in place) into coefficients of s^i t^j at 3 j + i. */
export function fitBiquadratic(values: Float64Array): void {
  for (let column = 0; column < 3; column++) toPowers(values, column, 3);
  for (let row = 0; row < 9; row += 3) toPowers(values, row, 1);
}

/**
 * Coefficients, as above, of the bilinear function through values at (s, t) = (-1, -1), (1, -1), (-1, 1), (1, 1), bent by a
 * multiple of (1 - s²)(1 - t²) to meet the value in the middle.
 */
export function fitBentBilinear(
  a: number,
  b: number,
  c: number,
  d: number,
  middle: number,
  coefficients: Float64Array,
): void {
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

/**
 * Writes the biquadratic to the receivers of columns x rows cells from `first` on, whose outer ones lie at s, t = ±1.
 * Light is never negative.
 */
export function fillBiquadratic(
  c: Float64Array,
  out: Float32Array,
  first: number,
  stride: number,
  columns: number,
  rows: number,
): void {
  const perColumn = columns > 1 ? 2 / (columns - 1) : 0;
  const perRow = rows > 1 ? 2 / (rows - 1) : 0;
  for (let row = 0; row < rows; row++) {
    const t = row * perRow - 1;
    const a = c[0]! + t * (c[3]! + t * c[6]!);
    const b = c[1]! + t * (c[4]! + t * c[7]!);
    const d = c[2]! + t * (c[5]! + t * c[8]!);
    // In columns from the left instead of s.
    const start = a - b + d;
    const slope = (b - 2 * d) * perColumn;
    const bend = d * perColumn * perColumn;
    const at = first + row * stride;
    for (let column = 0; column < columns; column++) {
      const value = start + column * (slope + column * bend);
      out[at + column] = value > 0 ? value : 0;
    }
  }
}
