/**
 * What one point (u, v) of an emitter's face gives a receiver, and its second-order expansion over a small part of the
 * face. All kernels are per unit of (u, v) area: illuminance = ∫∫ kernel du dv over the visible part.
 */
import { dot, type Vec3 } from '../geometry/vector';
import type { CompiledSource, Profile } from './compiled';
import type { EmitterFace } from './emitterFace';
import { fieldShare, gateShare, profileShare } from './profile';

/** Coefficients of 1, u, v, uu, uv, vv about a cell's centre. */
export type Quadratic = Float64Array;

/** A source at work on one receiver: `forward`, `right`, `up` are the lamp's axes, right as seen from behind. */
export interface Emission {
  readonly profile: Profile;
  /** Peak candela over the face's area; candela itself for a point. */
  readonly candelaPerUnit: number;
  readonly forward: Vec3;
  readonly right: Vec3;
  readonly up: Vec3;
  /** Sphere, tube and sun shine evenly towards the receiver: their silhouette's own normal counts, not the lamp's axis. */
  readonly faceFollows: boolean;
  readonly receptor: 'flat' | 'dome';
}

export function emissionOf(source: CompiledSource, face: EmitterFace, receptor: 'flat' | 'dome'): Emission {
  const { frame, shape } = source;
  const faceFollows = shape.kind === 'sphere' || shape.kind === 'tube' || shape.kind === 'sun';
  const right: Vec3 = [-frame.right[0], -frame.right[1], -frame.right[2]];
  return {
    profile: source.profile,
    candelaPerUnit: candelaPerUnit(source, face),
    forward: frame.forward,
    right,
    up: frame.up,
    faceFollows,
    receptor,
  };
}

function candelaPerUnit(source: CompiledSource, face: EmitterFace): number {
  const { shape, peakCandela } = source;
  switch (shape.kind) {
    case 'point':
      return peakCandela;
    case 'sun': // peakCandela is its luminance already
      return peakCandela * face.areaPerUnit;
    case 'sphere': // luminance I / (π R²), then the silhouette's own area
      return (peakCandela / (Math.PI * shape.radiusM ** 2)) * face.areaPerUnit;
    case 'tube':
      return (peakCandela / (4 * shape.halfLengthM * shape.radiusM)) * face.areaPerUnit;
    case 'disc':
      return peakCandela / Math.PI;
    case 'rectangle':
      return peakCandela / 4;
  }
}

/** Outward normal of a face that turns towards its receiver. */
function followingNormal(face: EmitterFace): Vec3 {
  const { halfU: a, halfV: b, towards } = face;
  const normal: Vec3 = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const size = Math.hypot(...normal);
  const sign = dot(normal, towards) < 0 ? 1 : -1;
  return [(sign * normal[0]) / size, (sign * normal[1]) / size, (sign * normal[2]) / size];
}

/** Cosine side of the face: how much of the profile's cosine a plane face gives; N = -w·normal, the same all over it. */
export function faceNormal(emission: Emission, face: EmitterFace): Vec3 {
  return emission.faceFollows ? followingNormal(face) : emission.forward;
}

/**
 * Kernel at (u, v).
 * @param bare leaves out a projection spot's field edge and shutters (the judgement's bare lamp)
 */
export function kernelAt(
  emission: Emission,
  face: EmitterFace,
  normal: Vec3,
  receiverNormal: Vec3,
  u: number,
  v: number,
  bare: boolean,
): number {
  const { towards: w, halfU: U, halfV: V } = face;
  const x = w[0] + u * U[0] + v * V[0];
  const y = w[1] + u * U[1] + v * V[1];
  const z = w[2] + u * U[2] + v * V[2];
  const square = x * x + y * y + z * z;
  const away = Math.sqrt(square);
  const cosine = (receiverNormal[0] * x + receiverNormal[1] * y + receiverNormal[2] * z) / away;
  const received = emission.receptor === 'dome' ? (1 + cosine) / 2 : cosine;
  if (received <= 0) return 0;
  const { profile } = emission;
  const depth = -(normal[0] * x + normal[1] * y + normal[2] * z);
  let share: number;
  if (profile.kind === 'projection') {
    if (depth <= 0) return 0;
    const [px, py] = picturePoint(
      emission,
      profile,
      x,
      y,
      z,
      depth,
      u * U[0] + v * V[0],
      u * U[1] + v * V[1],
      u * U[2] + v * V[2],
    );
    share = fieldShare(profile, px, py) * (bare ? 1 : gateShare(profile, px, py));
  } else if (profile.kind === 'web') {
    share = profileShare(profile, depth / away, -dot([x, y, z], emission.right), -dot([x, y, z], emission.up));
  } else {
    share = profileShare(profile, depth / away, 0, 0);
  }
  return (emission.candelaPerUnit * share * received) / square;
}

/**
 * Picture coordinates of the ray that leaves the lens at offset o towards the receiver: X = w·right / w·axis, with
 * o·right / f added when focused at f.
 */
function picturePoint(
  emission: Emission,
  profile: Extract<Profile, { kind: 'projection' }>,
  x: number,
  y: number,
  z: number,
  depth: number,
  offsetX: number,
  offsetY: number,
  offsetZ: number,
): [number, number] {
  const { right, up } = emission;
  const { perFocusM } = profile;
  // (x, y, z) runs from the receiver to the lens, the ray runs the other way.
  const px = -(x * right[0] + y * right[1] + z * right[2]) / depth;
  const py = -(x * up[0] + y * up[1] + z * up[2]) / depth;
  if (perFocusM === 0) return [px, py];
  return [
    px + perFocusM * (offsetX * right[0] + offsetY * right[1] + offsetZ * right[2]),
    py + perFocusM * (offsetX * up[0] + offsetY * up[1] + offsetZ * up[2]),
  ];
}

/**
 * Picture points over the lens as seen by one receiver: x0 + xu u + xv v, y0 + yu u + yv v, tangents. The ray's depth
 * along the axis is the same for every lens point, so the picture is affine in the lens offset.
 */
export function gatePicture(emission: Emission, face: EmitterFace, normal: Vec3) {
  const profile = emission.profile as Extract<Profile, { kind: 'projection' }>;
  const { towards: w, halfU, halfV } = face;
  const depth = -dot(normal, w);
  const [x0, y0] = picturePoint(emission, profile, w[0], w[1], w[2], depth, 0, 0, 0);
  const shrink = profile.perFocusM - 1 / depth;
  const [xu, xv] = [shrink * dot(halfU, emission.right), shrink * dot(halfV, emission.right)];
  const [yu, yv] = [shrink * dot(halfU, emission.up), shrink * dot(halfV, emission.up)];
  return {
    profile,
    perUnit: Math.max(Math.hypot(xu, yu), Math.hypot(xv, yv)),
    at: (u: number, v: number): readonly [number, number] => [x0 + u * xu + v * xv, y0 + u * yu + v * yv],
  };
}

/** Gauss nodes of three points on -1..1 and their weights: exact to fifth order. */
const NODE = Math.sqrt(3 / 5);

/**
 * Least-squares quadratic through a function at the 3 x 3 Gauss points of the cell [u0 ± du] x [v0 ± dv].
 * Integrals over the whole cell are then exact to fifth order.
 */
export function fitQuadratic(
  f: (u: number, v: number) => number,
  u0: number,
  v0: number,
  du: number,
  dv: number,
  out: Quadratic,
): void {
  const a = NODE * du;
  const b = NODE * dv;
  const f00 = f(u0, v0);
  const fp0 = f(u0 + a, v0);
  const fm0 = f(u0 - a, v0);
  const f0p = f(u0, v0 + b);
  const f0m = f(u0, v0 - b);
  const fpp = f(u0 + a, v0 + b);
  const fpm = f(u0 + a, v0 - b);
  const fmp = f(u0 - a, v0 + b);
  const fmm = f(u0 - a, v0 - b);
  // Weighted least squares with the Gauss weights (5, 8, 5)/18 on each axis: Legendre projections up to order two.
  const wp = 5 / 18;
  const w0 = 8 / 18;
  const rowM = wp * (fmm + fmp) + w0 * fm0;
  const row0 = wp * (f0m + f0p) + w0 * f00;
  const rowP = wp * (fpm + fpp) + w0 * fp0;
  const colM = wp * (fmm + fpm) + w0 * f0m;
  const col0 = wp * (fm0 + fp0) + w0 * f00;
  const colP = wp * (fmp + fpp) + w0 * f0p;
  const mean = wp * (rowM + rowP) + w0 * row0;
  const p1u = 3 * wp * NODE * (rowP - rowM);
  const p1v = 3 * wp * NODE * (colP - colM);
  const legendre2 = (3 * NODE * NODE - 1) / 2; // P2 at the outer nodes; -1/2 at the middle
  const p2u = 5 * (wp * legendre2 * (rowM + rowP) - 0.5 * w0 * row0);
  const p2v = 5 * (wp * legendre2 * (colM + colP) - 0.5 * w0 * col0);
  const puv = 9 * wp * wp * NODE * NODE * (fpp - fpm - fmp + fmm);
  out[0] = mean - 0.5 * (p2u + p2v);
  out[1] = p1u / du;
  out[2] = p1v / dv;
  out[3] = (1.5 * p2u) / (du * du);
  out[4] = puv / (du * dv);
  out[5] = (1.5 * p2v) / (dv * dv);
}

/**
 * Taylor expansion to second order of the kernel I N^n z / d^(n+3) of a cos^n face about (u0, v0): N, the height of the
 * receiver over the face's plane, is the same for all its points.
 */
export function expandCosine(
  emission: Emission,
  face: EmitterFace,
  normal: Vec3,
  receiverNormal: Vec3,
  exponent: number,
  u0: number,
  v0: number,
  out: Quadratic,
): void {
  const { towards: t, halfU: U, halfV: V } = face;
  const w: Vec3 = [t[0] + u0 * U[0] + v0 * V[0], t[1] + u0 * U[1] + v0 * V[1], t[2] + u0 * U[2] + v0 * V[2]];
  const square = dot(w, w);
  const height = -dot(w, normal);
  const received = dot(w, receiverNormal);
  const m = (exponent + 3) / 2;
  const k0 = (emission.candelaPerUnit * height ** exponent) / square ** m;
  const a = (2 * dot(U, w)) / square;
  const b = (2 * dot(V, w)) / square;
  const zu = dot(U, receiverNormal);
  const zv = dot(V, receiverNormal);
  const second = (m * (m + 1)) / 2;
  // (1 + q)^-m with q = a u + b v + |U|²/D uu + 2 U·V/D uv + |V|²/D vv, times (z + zu u + zv v).
  const cuu = second * a * a - (m * dot(U, U)) / square;
  const cvv = second * b * b - (m * dot(V, V)) / square;
  const cuv = 2 * second * a * b - (2 * m * dot(U, V)) / square;
  out[0] = k0 * received;
  out[1] = k0 * (zu - m * a * received);
  out[2] = k0 * (zv - m * b * received);
  out[3] = k0 * (cuu * received - m * a * zu);
  out[4] = k0 * (cuv * received - m * (a * zv + b * zu));
  out[5] = k0 * (cvv * received - m * b * zv);
}
