/**
 * What one point (u, v) of an emitter's face gives a receiver, and a quadratic through it over a small part of the face.
 * All kernels are per unit of (u, v) area: illuminance = ∫∫ kernel du dv over the visible part.
 */
import type { Vec3 } from '../../scene/geometry/vector';
import type { CompiledSource, Profile } from './compiled';
import { facesReceiver, type EmitterFace } from './emitterFace';
import { FACE, face as presentFace } from './kernelModule';
import { valueTowards } from '../photometry/web/grid';
import { fieldShare, gateShare, profileShare } from './profile';

/** Coefficients of 1, u, v, uu, uv, vv about a cell's centre. */
export type Quadratic = Float64Array;

/** Gauss nodes of three points on -1..1: exact to fifth order. */
const NODE = Math.sqrt(3 / 5);
const OUTER = 5 / 18;
const MIDDLE = 8 / 18;

/** A function on the face, at the point that `uv` holds. */
export interface OnFace {
  readonly uv: Float64Array;
  value(): number;
}

/** A source at work on one receiver of a plane; `face` is as that receiver sees it. */
export class Kernel implements OnFace {
  readonly uv = new Float64Array(2);
  readonly profile: Profile;
  /** Parts of a projection spot's gate that count, as bits; those that are hard edges are left to the clipping. */
  gateParts = 0;
  /** Outward normal of the face: N = -w·normal is the same for all its points. */
  readonly normal: Float64Array;
  /** Candela of the whole face; for the sun its luminance. Per unit of (u, v) it depends on the face's area. */
  private readonly source: CompiledSource;
  private readonly face: EmitterFace;
  private readonly receiverNormal: Float64Array;
  private readonly dome: boolean;
  private readonly turns: boolean;
  private readonly right: Vec3;
  /** Exponent n of a face that shines as cos^n, where it does. */
  private readonly exponent: number;
  /** True where the profile has no closed expansion whatever the gate. */
  private readonly shaped: boolean;
  /** U·U, U·V, V·V of the face, then U·n and V·n of the receiver's normal, then candela per unit of (u, v). */
  readonly about = new Float64Array(6);
  /** Lengths of U and V, m. */
  readonly size = new Float64Array(2);

  constructor(source: CompiledSource, face: EmitterFace, receiverNormal: Vec3, dome: boolean) {
    this.source = source;
    this.profile = source.profile;
    this.face = face;
    this.receiverNormal = new Float64Array(receiverNormal);
    this.dome = dome;
    // Spheres, tubes and the sun shine evenly towards the receiver: their silhouette's own normal counts.
    this.turns = facesReceiver(source) || source.shape.kind === 'sun';
    this.normal = new Float64Array(source.frame.forward);
    const { right } = source.frame;
    this.right = [-right[0], -right[1], -right[2]]; // as seen from behind
    const { profile } = source;
    this.exponent = profile.kind === 'cosine' ? profile.exponent : 0;
    this.shaped =
      dome ||
      profile.kind === 'beam' ||
      profile.kind === 'web' ||
      profile.kind === 'crated' ||
      (profile.kind === 'projection' && profile.peaking > 0);
    this.measureFace();
  }

  /** True where no closed expansion exists and a quadratic has to be fitted. */
  get isFitted(): boolean {
    return this.shaped || this.gateParts !== 0;
  }

  /** Products of the face's halves, which stay the same for all receivers of a face that does not turn. */
  private measureFace(): void {
    const { halfU: U, halfV: V } = this.face;
    const { receiverNormal: n, about } = this;
    about[0] = U[0]! * U[0]! + U[1]! * U[1]! + U[2]! * U[2]!;
    about[1] = U[0]! * V[0]! + U[1]! * V[1]! + U[2]! * V[2]!;
    about[2] = V[0]! * V[0]! + V[1]! * V[1]! + V[2]! * V[2]!;
    about[3] = U[0]! * n[0]! + U[1]! * n[1]! + U[2]! * n[2]!;
    about[4] = V[0]! * n[0]! + V[1]! * n[1]! + V[2]! * n[2]!;
    about[5] = this.candelaPerUnit();
    this.size[0] = Math.sqrt(about[0]!);
    this.size[1] = Math.sqrt(about[2]!);
  }

  /** Brings the normal and the products up to date after the face has turned. */
  turn(): void {
    if (!this.turns) return;
    this.measureFace();
    const { halfU: a, halfV: b, towards } = this.face;
    const x = a[1]! * b[2]! - a[2]! * b[1]!;
    const y = a[2]! * b[0]! - a[0]! * b[2]!;
    const z = a[0]! * b[1]! - a[1]! * b[0]!;
    const size = Math.sqrt(x * x + y * y + z * z);
    const sign = x * towards[0]! + y * towards[1]! + z * towards[2]! < 0 ? 1 : -1;
    this.normal[0] = (sign * x) / size;
    this.normal[1] = (sign * y) / size;
    this.normal[2] = (sign * z) / size;
  }

  /** Peak candela over the face's area; candela itself for a point. */
  candelaPerUnit(): number {
    const { shape, peakCandela, profile } = this.source;
    // A web is spread evenly over the silhouette; an evenly bright skin is dimmer there where it bends away.
    if (profile.kind === 'web' && shape.kind === 'sphere') return peakCandela / Math.PI;
    if (profile.kind === 'web' && shape.kind === 'tube') return peakCandela / 4;
    switch (shape.kind) {
      case 'point':
        return peakCandela;
      case 'sun': // peakCandela is its luminance already
        return peakCandela * this.face.areaPerUnit;
      case 'sphere': // luminance I / (π R²), then the silhouette's own area
        return (peakCandela / (Math.PI * shape.radiusM * shape.radiusM)) * this.face.areaPerUnit;
      case 'tube':
        return (peakCandela / (4 * shape.halfLengthM * shape.radiusM)) * this.face.areaPerUnit;
      case 'disc':
        return peakCandela / Math.PI;
      case 'rectangle':
        return peakCandela / 4;
    }
  }

  /** Distance of the receiver before the face's plane, m; not above 0 behind it. */
  height(): number {
    const { towards: w } = this.face;
    const { normal } = this;
    return -(w[0]! * normal[0]! + w[1]! * normal[1]! + w[2]! * normal[2]!);
  }

  /** Kernel at `uv`. */
  value(): number {
    const { towards: w, halfU: U, halfV: V } = this.face;
    const { receiverNormal: n, normal, profile, uv } = this;
    const u = uv[0]!;
    const v = uv[1]!;
    const offsetX = u * U[0]! + v * V[0]!;
    const offsetY = u * U[1]! + v * V[1]!;
    const offsetZ = u * U[2]! + v * V[2]!;
    const x = w[0]! + offsetX;
    const y = w[1]! + offsetY;
    const z = w[2]! + offsetZ;
    const square = x * x + y * y + z * z;
    const away = Math.sqrt(square);
    const cosine = (n[0]! * x + n[1]! * y + n[2]! * z) / away;
    const received = this.dome ? (1 + cosine) / 2 : cosine;
    const depth = -(normal[0]! * x + normal[1]! * y + normal[2]! * z);
    const { right } = this;
    const { up } = this.source.frame;
    // (x, y, z) runs from the receiver to the face, the ray runs the other way.
    let share: number;
    if (profile.kind === 'projection') {
      if (depth <= 0) return 0;
      const f = profile.perFocusM;
      const px =
        f * (offsetX * right[0] + offsetY * right[1] + offsetZ * right[2]) -
        (x * right[0] + y * right[1] + z * right[2]) / depth;
      const py =
        f * (offsetX * up[0] + offsetY * up[1] + offsetZ * up[2]) - (x * up[0] + y * up[1] + z * up[2]) / depth;
      share = fieldShare(profile, px, py) * gateShare(profile, px, py, this.gateParts);
    } else if (profile.kind === 'web') {
      const toRight = -(x * right[0] + y * right[1] + z * right[2]);
      const toUp = -(x * up[0] + y * up[1] + z * up[2]);
      const { forward } = this.source.frame; // a web keeps its axis where the face turns
      share = valueTowards(profile.grid, -(x * forward[0] + y * forward[1] + z * forward[2]), toRight, toUp);
    } else if (profile.kind === 'crated') {
      const toRight = -(x * right[0] + y * right[1] + z * right[2]) / depth;
      const toUp = -(x * up[0] + y * up[1] + z * up[2]) / depth;
      share = profileShare(profile, depth / away, toRight, toUp);
    } else {
      share = profileShare(profile, depth / away, 0, 0);
    }
    return (this.about[5]! * share * received) / square;
  }

  /** Makes the face, as the present receiver sees it, the compiled kernel's: its series there are of I N^n z / d^(n+3). */
  enter(): void {
    const { towards, halfU, halfV, extentU } = this.face;
    const { receiverNormal, normal, about } = this;
    for (let i = 0; i < 3; i++) {
      presentFace[FACE.towards + i] = towards[i]!;
      presentFace[FACE.halfU + i] = halfU[i]!;
      presentFace[FACE.halfV + i] = halfV[i]!;
      presentFace[FACE.receiverNormal + i] = receiverNormal[i]!;
      presentFace[FACE.normal + i] = normal[i]!;
    }
    for (let i = 0; i < about.length; i++) presentFace[FACE.about + i] = about[i]!;
    presentFace[FACE.exponent] = this.exponent;
    presentFace[FACE.extentU] = extentU;
  }
}

const samples = new Float64Array(9);

/**
 * Least-squares quadratic through a function at the 3 x 3 Gauss points of a cell (middle u, v and half sizes), about its
 * middle. Integrals over the whole cell are then exact to fifth order.
 */
export function fitQuadratic(f: OnFace, cell: Float64Array, out: Quadratic): void {
  const { uv } = f;
  const u0 = cell[0]!;
  const v0 = cell[1]!;
  const du = cell[2]!;
  const dv = cell[3]!;
  for (let j = 0; j < 3; j++) {
    for (let i = 0; i < 3; i++) {
      uv[0] = u0 + (i - 1) * NODE * du;
      uv[1] = v0 + (j - 1) * NODE * dv;
      samples[3 * j + i] = f.value();
    }
  }
  const s = samples;
  // Weighted least squares with the Gauss weights (5, 8, 5)/18 on each axis: Legendre projections up to order two.
  const rowM = OUTER * (s[0]! + s[2]!) + MIDDLE * s[1]!;
  const row0 = OUTER * (s[3]! + s[5]!) + MIDDLE * s[4]!;
  const rowP = OUTER * (s[6]! + s[8]!) + MIDDLE * s[7]!;
  const columnM = OUTER * (s[0]! + s[6]!) + MIDDLE * s[3]!;
  const column0 = OUTER * (s[1]! + s[7]!) + MIDDLE * s[4]!;
  const columnP = OUTER * (s[2]! + s[8]!) + MIDDLE * s[5]!;
  const mean = OUTER * (rowM + rowP) + MIDDLE * row0;
  const legendre2 = (3 * NODE * NODE - 1) / 2; // P2 at the outer nodes; -1/2 at the middle
  const p2u = 5 * (OUTER * legendre2 * (columnM + columnP) - 0.5 * MIDDLE * column0);
  const p2v = 5 * (OUTER * legendre2 * (rowM + rowP) - 0.5 * MIDDLE * row0);
  out[0] = mean - 0.5 * (p2u + p2v);
  out[1] = (3 * OUTER * NODE * (columnP - columnM)) / du;
  out[2] = (3 * OUTER * NODE * (rowP - rowM)) / dv;
  out[3] = (1.5 * p2u) / (du * du);
  out[4] = (9 * OUTER * OUTER * NODE * NODE * (s[8]! - s[2]! - s[6]! + s[0]!)) / (du * dv);
  out[5] = (1.5 * p2v) / (dv * dv);
}
