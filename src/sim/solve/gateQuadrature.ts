/** Integrals of a kernel that is not smooth over the face: a projection spot's field edge and shutters cross the lens. */
import type { Profile } from './compiled';

/** Symmetric rule of seven points on a triangle, exact to fifth order (Radon 1948): barycentric a, a, 1 - 2a. */
const A1 = (6 - Math.sqrt(15)) / 21;
const A2 = (6 + Math.sqrt(15)) / 21;
const W0 = 9 / 40;
const W1 = (155 - Math.sqrt(15)) / 1200;
const W2 = (155 + Math.sqrt(15)) / 1200;
const RULE: readonly (readonly [a: number, b: number, weight: number])[] = [
  [1 / 3, 1 / 3, W0],
  [A1, A1, W1],
  [A1, 1 - 2 * A1, W1],
  [1 - 2 * A1, A1, W1],
  [A2, A2, W2],
  [A2, 1 - 2 * A2, W2],
  [1 - 2 * A2, A2, W2],
];

/** Splits that a triangle may go through; it halves in size at each. */
const DEEPEST = 7;

export interface GateView {
  readonly profile: Extract<Profile, { kind: 'projection' }>;
  /** Picture point of the lens centre and tangents per unit of (u, v), with the picture's axes in (u, v). */
  readonly at: (u: number, v: number) => readonly [x: number, y: number];
  readonly perUnit: number;
  /** Largest triangle, as a share of an edge's width. */
  readonly share: number;
}

/** True where no soft edge of the gate comes within `reach` (radians) of the picture point. */
export function clearOfEdges(profile: GateView['profile'], x: number, y: number, reach: number): boolean {
  const offField = Math.abs(Math.atan(Math.hypot(x, y)) - profile.halfFieldRad);
  if (offField < profile.edgeWidthRad / 2 + reach) return false;
  return profile.cuts.every(
    (cut) => Math.abs(Math.atan(x * cut.right + y * cut.up - cut.offset)) >= cut.edgeWidthRad / 2 + reach,
  );
}

function narrowestEdge(profile: GateView['profile']): number {
  return profile.cuts.reduce((least, cut) => Math.min(least, cut.edgeWidthRad), profile.edgeWidthRad);
}

/** ∫∫ f du dv over the triangle, split near the gate's edges until f is smooth enough for the rule. */
function overTriangle(
  f: (u: number, v: number) => number,
  gate: GateView,
  corners: readonly [number, number, number, number, number, number],
  depth: number,
): number {
  const [u0, v0, u1, v1, u2, v2] = corners;
  const cu = (u0 + u1 + u2) / 3;
  const cv = (v0 + v1 + v2) / 3;
  const size = Math.max(Math.hypot(u0 - cu, v0 - cv), Math.hypot(u1 - cu, v1 - cv), Math.hypot(u2 - cu, v2 - cv));
  const reach = size * gate.perUnit;
  const [x, y] = gate.at(cu, cv);
  if (depth < DEEPEST && reach > gate.share * narrowestEdge(gate.profile) && !clearOfEdges(gate.profile, x, y, reach)) {
    const [a, b] = [(u0 + u1) / 2, (v0 + v1) / 2];
    const [c, d] = [(u1 + u2) / 2, (v1 + v2) / 2];
    const [e, g] = [(u2 + u0) / 2, (v2 + v0) / 2];
    return (
      overTriangle(f, gate, [u0, v0, a, b, e, g], depth + 1) +
      overTriangle(f, gate, [a, b, u1, v1, c, d], depth + 1) +
      overTriangle(f, gate, [e, g, c, d, u2, v2], depth + 1) +
      overTriangle(f, gate, [a, b, c, d, e, g], depth + 1)
    );
  }
  const area = Math.abs((u1 - u0) * (v2 - v0) - (u2 - u0) * (v1 - v0)) / 2;
  let sum = 0;
  for (const [s, t, weight] of RULE) {
    sum += weight * f(u0 + s * (u1 - u0) + t * (u2 - u0), v0 + s * (v1 - v0) + t * (v2 - v0));
  }
  return sum * area;
}

/** ∫∫ f du dv over a convex polygon at `offset` of `data`. */
export function integrateOverPolygon(
  f: (u: number, v: number) => number,
  gate: GateView,
  data: Float64Array,
  offset: number,
  count: number,
): number {
  let sum = 0;
  for (let i = 1; i + 1 < count; i++) {
    sum += overTriangle(
      f,
      gate,
      [
        data[offset]!,
        data[offset + 1]!,
        data[offset + 2 * i]!,
        data[offset + 2 * i + 1]!,
        data[offset + 2 * i + 2]!,
        data[offset + 2 * i + 3]!,
      ],
      0,
    );
  }
  return sum;
}
