/** The present face as the present receiver sees it, and the light of its points as a series in u and v. */
import { pow } from './host';
import { Numbers } from './memory';
import { cell } from './patches';

/** Gauss nodes of five points on -1..1, beside 0. */
const INNER5: f64 = 0.5384693101056831;
const OUTER5: f64 = 0.906179845938664;

/** All numbers, in this order. Vectors in the room's axes, m; for the sun directions. */
@unmanaged
export class Face {
  /** From the receiver to the face's centre. */
  towardsX: f64;
  towardsY: f64;
  towardsZ: f64;
  halfUX: f64;
  halfUY: f64;
  halfUZ: f64;
  halfVX: f64;
  halfVY: f64;
  halfVZ: f64;
  /** The receiver's normal. */
  receiverX: f64;
  receiverY: f64;
  receiverZ: f64;
  /** The face's own, to where it shines. */
  normalX: f64;
  normalY: f64;
  normalZ: f64;
  /** U·U, U·V, V·V, then U·n and V·n of the receiver's normal. */
  uu: f64;
  uv: f64;
  vv: f64;
  un: f64;
  vn: f64;
  /** Candela per unit of (u, v) along the normal; of one that shines as cos^exponent. */
  candela: f64;
  exponent: f64;
  /** Largest |u| on the face; |v| is at most 1. */
  extentU: f64;
}

export const face = changetype<Face>(memory.data(offsetof<Face>(), 16));

/** Of the cell that was last expanded, at its middle: |w|², U·w, n·w, height over the face. */
let square: f64 = 0;
let alongW: f64 = 0;
let received: f64 = 0;
let height: f64 = 0;

/**
 * Taylor expansion to second order of the light I N^n z / d^(n+3) of a cos^n face about the middle of the present cell: N,
 * the height of the receiver over the face's plane, is the same for all its points.
 * @param out coefficients of 1, u, v, uu, uv, vv
 */
export function expand(out: Numbers): void {
  const u0 = cell[0];
  const v0 = cell[1];
  const x = face.towardsX + u0 * face.halfUX + v0 * face.halfVX;
  const y = face.towardsY + u0 * face.halfUY + v0 * face.halfVY;
  const z = face.towardsZ + u0 * face.halfUZ + v0 * face.halfVZ;
  const perSquare = 1 / (x * x + y * y + z * z);
  const exponent = face.exponent;
  height = -(x * face.normalX + y * face.normalY + z * face.normalZ);
  received = x * face.receiverX + y * face.receiverY + z * face.receiverZ;
  const m = (exponent + 3) / 2;
  const root = Math.sqrt(perSquare);
  const k0 = face.candela * power(height * root, exponent) * perSquare * root;
  const a = 2 * (face.halfUX * x + face.halfUY * y + face.halfUZ * z) * perSquare;
  const b = 2 * (face.halfVX * x + face.halfVY * y + face.halfVZ * z) * perSquare;
  const zu = face.un;
  const zv = face.vn;
  const second = (m * (m + 1)) / 2;
  // (1 + q)^-m with q = a u + b v + |U|²/D uu + 2 U·V/D uv + |V|²/D vv, times (z + zu u + zv v).
  const cuu = second * a * a - m * face.uu * perSquare;
  const cvv = second * b * b - m * face.vv * perSquare;
  const cuv = 2 * second * a * b - 2 * m * face.uv * perSquare;
  square = 1 / perSquare;
  alongW = a / (2 * perSquare);
  out[0] = k0 * received;
  out[1] = k0 * (zu - m * a * received);
  out[2] = k0 * (zv - m * b * received);
  out[3] = k0 * (cuu * received - m * a * zu);
  out[4] = k0 * (cuv * received - m * (a * zv + b * zu));
  out[5] = k0 * (cvv * received - m * b * zv);
}

/**
 * As `expand` for a slim face, to fourth order in u: through the light at the five Gauss points along u, which keeps it good
 * for faces that are long against their distance. The other terms are those of `expand`.
 * @param out gets those of uuu and uuuu as well
 */
export function expandSlim(out: Numbers): void {
  expand(out);
  const half = cell[2];
  const middle = out[0];
  const innerLow = lightAlongU(-INNER5 * half);
  const innerHigh = lightAlongU(INNER5 * half);
  const outerLow = lightAlongU(-OUTER5 * half);
  const outerHigh = lightAlongU(OUTER5 * half);
  const inner2 = ((innerLow + innerHigh) / 2 - middle) / (INNER5 * INNER5);
  const outer2 = ((outerLow + outerHigh) / 2 - middle) / (OUTER5 * OUTER5);
  const inner1 = (innerHigh - innerLow) / (2 * INNER5);
  const outer1 = (outerHigh - outerLow) / (2 * OUTER5);
  const fourth = (outer2 - inner2) / (OUTER5 * OUTER5 - INNER5 * INNER5);
  const third = (outer1 - inner1) / (OUTER5 * OUTER5 - INNER5 * INNER5);
  out[1] = (inner1 - third * INNER5 * INNER5) / half;
  out[3] = (inner2 - fourth * INNER5 * INNER5) / (half * half);
  out[6] = third / (half * half * half);
  out[7] = fourth / (half * half * half * half);
}

/** Light of the point at (u0 + step, v0) of the cell that was last expanded. */
function lightAlongU(step: f64): f64 {
  const awaySquare = square + step * (2 * alongW + step * face.uu);
  const seen = received + step * face.un;
  const exponent = face.exponent;
  if (exponent === 1) return (face.candela * height * seen) / (awaySquare * awaySquare);
  const away = Math.sqrt(awaySquare);
  return (face.candela * power(height / away, exponent) * seen) / (awaySquare * away);
}

/** base ** exponent; quick for the small whole exponents that lamps are given. */
function power(base: f64, exponent: f64): f64 {
  if (exponent === 1) return base;
  if (exponent === 0) return 1;
  if (exponent === 2) return base * base;
  if (exponent === 4) return base * base * (base * base);
  return pow(base, exponent);
}

/** Product of two quadratics, cut off after second order; `out` may be one of them. */
export function multiply(a: Numbers, b: Numbers, out: Numbers): void {
  const a0 = a[0];
  const au = a[1];
  const av = a[2];
  const b0 = b[0];
  const bu = b[1];
  const bv = b[2];
  const uu = a0 * b[3] + au * bu + a[3] * b0;
  const uv = a0 * b[4] + au * bv + av * bu + a[4] * b0;
  const vv = a0 * b[5] + av * bv + a[5] * b0;
  out[0] = a0 * b0;
  out[1] = a0 * bu + au * b0;
  out[2] = a0 * bv + av * b0;
  out[3] = uu;
  out[4] = uv;
  out[5] = vv;
}
