/**
 * Shadow edges as straight lines on the emitter's face.
 *
 * For a receiver r, a piece's edge (a, b) and a point s of the face, det(a - r, b - r, s - r) tells the side on which
 * the ray r-s passes the edge. For fixed r it is affine in (u, v) of the face, h(u, v) = h0 + hu u + hv v; for a fixed
 * point of the face it is affine in r, because the terms in r ⊗ r cancel. So for receivers on one plane, r = O + x X + y Y,
 * every edge is nine numbers, built once: each of h0, hu, hv is c + cx x + cy y. Where the face turns with the receiver
 * (sphere, tube) the nine numbers are those of the normal n(r) = (a - r) × (b - r) instead. docs/physics.md derives it.
 */
import type { Role } from '../../scene/schema';
import { cross, dot, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { BlockerLayer, CompiledSource } from './compiled';
import { facesReceiver, type EmitterFace } from './emitterFace';
import { gateParts, type GatePart } from './gateEdges';
import { beyondOutlet } from './outlet';
import type { Quality } from './quality';

/** Receivers and sources nearer than this to a layer's plane lie on it, and what lies on a plane does not cross it, m. */
const ON_PLANE_M = 1e-6;

export interface ReceiverPlane {
  readonly origin: Vec3;
  readonly axisX: Vec3;
  readonly axisY: Vec3;
  readonly normal: Vec3;
  /** A dome weighs light by (1 + cos)/2 and has no horizon; a flat disc (if absent) by the cosine. */
  readonly receptor?: 'flat' | 'dome';
}

/** Numbers kept for each edge in the four parts of a table, `edges` (ROW) and these: what is read together lies together. */
export const TURNED = 7;
export const SLACK = 2;
export const SOFT = 3;

/** What a group is, as a bit: its role among things, or which part of a projection spot's gate. */
export const ROLE_BITS: Readonly<Record<Role, number>> = { set: 1, cut: 2, shade: 4, spread: 8 };
export const FIRST_GATE_BIT = 4;

/**
 * A factor of the transmittance: one layer seen from one of its sides, or one part of a gate. Its value on the face is
 * `base` plus the coefficients of the pieces that cover the spot.
 */
export interface EdgeGroup {
  readonly layer: BlockerLayer | null;
  readonly bit: number;
  readonly base: number;
}

export interface EdgeTable {
  readonly groups: readonly EdgeGroup[];
  readonly pieceGroup: Int32Array;
  readonly coefficients: Float64Array;
  /** Edges of piece p: firstEdge[p] up to firstEdge[p + 1]. */
  readonly firstEdge: Int32Array;
  /** c, cx, cy of three functions: h0, hu, hv, or the three parts of n if the face turns. */
  readonly edges: Float64Array;
  /**
   * Of a face that turns, c, cx, cy of what is added to n·(s - r) and of h at the emitter's centre, then what is added
   * to the reach of its body, where its silhouette may stand out of it.
   */
  readonly turned: Float64Array;
  /** Most that h can change on any point of the face for a step of 1 m in x, in y. */
  readonly slack: Float64Array;
  /** Half width of a soft edge, in the units of h, as c, cx, cy; 0 for things, which have hard edges. */
  readonly soft: Float64Array;
  /** 1 where a ray exactly on the edge counts as inside: neighbours share an edge, only one of them owns it. */
  readonly ownsEdge: Uint8Array;
  readonly turning: boolean;
}

/** The emitter as the table needs it: a face for all receivers of the plane, or a body that turns its face to each. */
interface Emitter {
  readonly atInfinity: boolean;
  readonly turning: boolean;
  /** From the plane's origin to the centre; for the sun the direction to it. */
  readonly centre: Vec3;
  readonly halves: readonly [Vec3, Vec3];
  readonly round: boolean;
  /** Axis times half length, and radius, of a body. */
  readonly axis: Vec3;
  readonly radiusM: number;
}

type PlaneOf = Pick<BlockerLayer, 'origin' | 'normal'>;

const vec = (array: Float64Array): Vec3 => [array[0]!, array[1]!, array[2]!];

function emitterOf(source: CompiledSource, face: EmitterFace, plane: ReceiverPlane): Emitter {
  const { shape, frame } = source;
  const atInfinity = shape.kind === 'sun';
  return {
    atInfinity,
    turning: facesReceiver(source),
    centre: atInfinity ? frame.origin : subtract(frame.origin, plane.origin),
    halves: [vec(face.halfU), vec(face.halfV)],
    round: face.round,
    axis: shape.kind === 'tube' ? vec(face.halfU) : [0, 0, 0],
    radiusM: shape.kind === 'sphere' || shape.kind === 'tube' ? shape.radiusM : 0,
  };
}

/** How far the emitter reaches along a normal of any length: half the width of its values n·s. */
function reachAlong(emitter: Emitter, normal: Vec3): number {
  const { turning, axis, radiusM, halves, round } = emitter;
  if (turning) return bodyReach(normal[0], normal[1], normal[2], axis, radiusM);
  const [u, v] = [dot(normal, halves[0]), dot(normal, halves[1])];
  return round ? Math.hypot(u, v) : Math.abs(u) + Math.abs(v);
}

/** As above for a cylinder (or, with no axis, a sphere): |n·axis| + radius |n across the axis|; never too small. */
export function bodyReach(x: number, y: number, z: number, axis: Vec3, radiusM: number): number {
  const along = x * axis[0] + y * axis[1] + z * axis[2];
  return Math.abs(along) + radiusM * Math.sqrt(x * x + y * y + z * z);
}

/**
 * @param source its face must look the same from the whole plane, or be a sphere or tube
 * @param face   of that source (any receiver's, if it turns)
 */
export function buildEdgeTable(
  source: CompiledSource,
  layers: readonly BlockerLayer[],
  face: EmitterFace,
  plane: ReceiverPlane,
  quality: Quality,
): EdgeTable {
  const table = new TableBuilder(emitterOf(source, face, plane), plane);
  for (const layer of beyondOutlet(source, layers)) {
    for (const side of table.sidesSeen(layer)) table.addLayer(layer, side);
  }
  if (source.image) table.addMirrorSide(source.image);
  if (source.profile.kind === 'projection') {
    gateParts(source.profile, quality).forEach((part, index) => {
      table.addGatePart(part, 1 << (FIRST_GATE_BIT + index), source);
    });
  }
  return table.finish();
}

class TableBuilder {
  private readonly groups: EdgeGroup[] = [];
  private readonly pieceGroup: number[] = [];
  private readonly coefficients: number[] = [];
  private readonly firstEdge: number[] = [];
  private readonly edges: number[] = [];
  private readonly turned: number[] = [];
  private readonly slack: number[] = [];
  private readonly soft: number[] = [];
  private readonly owns: number[] = [];
  private readonly emitter: Emitter;
  private readonly plane: ReceiverPlane;

  constructor(emitter: Emitter, plane: ReceiverPlane) {
    this.emitter = emitter;
    this.plane = plane;
  }

  /** Height of the emitter's centre over the layer's plane, m; for the sun a direction cosine. */
  private heightOver(layer: PlaneOf): number {
    const lift = this.emitter.atInfinity ? 0 : dot(layer.normal, subtract(this.plane.origin, layer.origin));
    return dot(layer.normal, this.emitter.centre) + lift;
  }

  /** Sides (+1 along the normal) that receivers may be on and see some of the emitter through the layer. */
  sidesSeen(layer: PlaneOf): (1 | -1)[] {
    const height = this.heightOver(layer);
    // A silhouette can stand out of its body by less than the body's own reach.
    const reach = reachAlong(this.emitter, layer.normal) * (this.emitter.turning ? 2 : 1);
    const sides: (1 | -1)[] = [];
    if (height + reach > ON_PLANE_M) sides.push(-1);
    if (height - reach < -ON_PLANE_M) sides.push(1);
    return sides;
  }

  addLayer(layer: BlockerLayer, side: 1 | -1): void {
    const straddles = this.sidesSeen(layer).length > 1;
    for (const piece of layer.pieces) {
      const dims = layer.weave === null ? (piece.opacity ?? layer.opacity) : 1;
      this.startPiece(piece.hole ? dims : -dims);
      this.pushReceiverSide(layer, side);
      if (straddles) this.pushBeyond(layer, side);
      piece.corners.forEach((a, i) => {
        const b = piece.corners[(i + 1) % piece.corners.length]!;
        this.pushEdge(a, b, -side);
        this.owns.push(isBefore(a, b) ? 1 : 0);
      });
    }
    this.groups.push({ layer, bit: ROLE_BITS[layer.role], base: 1 });
  }

  /** What of an image stands before its mirror is no image: that part of the source lies behind the glass. */
  addMirrorSide(mirror: PlaneOf): void {
    if (this.sidesSeen(mirror).length < 2) return;
    this.startPiece(-1);
    this.pushBeyond(mirror, -1);
    this.groups.push({ layer: null, bit: ROLE_BITS.cut, base: 1 });
  }

  addGatePart(part: GatePart, bit: number, source: CompiledSource): void {
    for (const { weight, edges } of part.pieces) {
      this.startPiece(weight);
      for (const edge of edges) {
        this.pushGateEdge(source, edge.right, edge.up, edge.offset, edge.soft);
        this.owns.push(1);
      }
    }
    this.groups.push({ layer: null, bit, base: 0 });
  }

  private startPiece(coefficient: number): void {
    this.pieceGroup.push(this.groups.length);
    this.coefficients.push(coefficient);
    this.firstEdge.push(this.owns.length);
  }

  finish(): EdgeTable {
    return {
      groups: this.groups,
      pieceGroup: new Int32Array(this.pieceGroup),
      coefficients: new Float64Array(this.coefficients),
      firstEdge: new Int32Array([...this.firstEdge, this.owns.length]),
      edges: new Float64Array(this.edges),
      turned: new Float64Array(this.turned),
      slack: new Float64Array(this.slack),
      soft: new Float64Array(this.soft),
      ownsEdge: new Uint8Array(this.owns),
      turning: this.emitter.turning,
    };
  }

  /** A condition on the receiver alone: it lies on `side` of the layer's plane. */
  private pushReceiverSide(layer: BlockerLayer, side: number): void {
    const { plane } = this;
    const h0 = side * dot(layer.normal, subtract(plane.origin, layer.origin)) - ON_PLANE_M;
    const height = [h0, side * dot(layer.normal, plane.axisX), side * dot(layer.normal, plane.axisY)] as const;
    const zero = [0, 0, 0] as const;
    if (this.emitter.turning) this.pushRow([zero, zero, zero], height, height, zero, 0);
    else this.pushRow([height, zero, zero], zero, zero, zero, 0);
    this.owns.push(0);
  }

  /** A condition on the point of the face alone: it lies beyond the layer's plane. */
  private pushBeyond(layer: PlaneOf, side: number): void {
    const { emitter, plane } = this;
    const { normal } = layer;
    const zero = [0, 0, 0] as const;
    const across = (axis: Vec3) => [-side * dot(normal, axis), 0, 0] as const;
    const height = [-side * this.heightOver(layer), 0, 0] as const;
    if (emitter.turning) {
      const row = [0, 1, 2].map((i) => [-side * normal[i]!, 0, 0] as const);
      const lift = [
        -side * dot(normal, subtract(plane.origin, layer.origin)),
        -side * dot(normal, plane.axisX),
        -side * dot(normal, plane.axisY),
      ] as const;
      this.pushRow(row, lift, height, zero, reachAlong(emitter, normal));
    } else {
      this.pushRow([height, across(emitter.halves[0]), across(emitter.halves[1])], zero, zero, zero, 0);
    }
    this.owns.push(0);
  }

  /**
   * Edge (a, b) of a piece. With A = a × b, B = b - a and n = A + B × r (which is (a - r) × (b - r)):
   * h = n·(s - r) = n·s - A·r for a face at a place, n·s for directions.
   */
  private pushEdge(a: Vec3, b: Vec3, sign: number): void {
    const { plane, emitter } = this;
    // Relative to the plane's origin, so that far-away scenes lose no digits.
    const from = subtract(a, plane.origin);
    const to = subtract(b, plane.origin);
    const scaled = (v: Vec3): Vec3 => [sign * v[0], sign * v[1], sign * v[2]];
    const moment = scaled(cross(from, to));
    const along = scaled(subtract(to, from));
    const turnX = cross(along, plane.axisX);
    const turnY = cross(along, plane.axisY);
    const fallX = emitter.atInfinity ? 0 : dot(moment, plane.axisX);
    const fallY = emitter.atInfinity ? 0 : dot(moment, plane.axisY);
    const c = emitter.centre;
    const h0 = [dot(moment, c), dot(turnX, c) - fallX, dot(turnY, c) - fallY] as const;
    const zero = [0, 0, 0] as const;
    if (emitter.turning) {
      const row = [0, 1, 2].map((i) => [moment[i]!, turnX[i]!, turnY[i]!] as const);
      this.pushRow(row, zero, h0, zero, 0);
      return;
    }
    const of = (half: Vec3) => [dot(moment, half), dot(turnX, half), dot(turnY, half)] as const;
    this.pushRow([h0, of(emitter.halves[0]), of(emitter.halves[1])], zero, zero, zero, 0);
  }

  /**
   * A straight edge in a projection spot's picture, X right + Y up <= offset. Times the depth along the axis, which is
   * the same for every lens point and affine in the receiver, it is one more edge function of nine numbers.
   */
  private pushGateEdge(source: CompiledSource, right: number, up: number, offset: number, soft: number): void {
    const { plane, emitter } = this;
    const { frame } = source;
    const perFocusM = source.profile.kind === 'projection' ? source.profile.perFocusM : 0;
    // The picture's right is as seen from behind, the frame's as seen by somebody who looks at the lens.
    const m: Vec3 = [0, 1, 2].map((i) => -right * frame.right[i]! + up * frame.up[i]!) as unknown as Vec3;
    const depth = [
      -dot(frame.forward, emitter.centre),
      dot(frame.forward, plane.axisX),
      dot(frame.forward, plane.axisY),
    ] as const;
    const h0 = [
      offset * depth[0] + dot(m, emitter.centre),
      offset * depth[1] - dot(m, plane.axisX),
      offset * depth[2] - dot(m, plane.axisY),
    ] as const;
    const over = (half: Vec3) => {
      const k = dot(m, half);
      return [k * (1 - perFocusM * depth[0]), -k * perFocusM * depth[1], -k * perFocusM * depth[2]] as const;
    };
    const softness = [soft * depth[0], soft * depth[1], soft * depth[2]] as const;
    const zero = [0, 0, 0] as const;
    this.pushRow([h0, over(emitter.halves[0]), over(emitter.halves[1])], zero, zero, softness, 0);
  }

  private pushRow(
    row: readonly (readonly [number, number, number])[],
    lift: readonly [number, number, number],
    centre: readonly [number, number, number],
    soft: readonly [number, number, number],
    margin: number,
  ): void {
    const [first, second, third] = row as [(typeof row)[0], (typeof row)[0], (typeof row)[0]];
    const slack = (axis: 1 | 2): number => {
      if (this.emitter.turning) {
        return Math.abs(centre[axis]) + reachAlong(this.emitter, [first[axis], second[axis], third[axis]]);
      }
      const [u, v] = [second[axis], third[axis]];
      return Math.abs(first[axis]) + (this.emitter.round ? Math.hypot(u, v) : Math.abs(u) + Math.abs(v));
    };
    // Number by number: tables are made anew whenever something moves, and spreading takes several times as long.
    this.edges.push(first[0], first[1], first[2], second[0], second[1], second[2], third[0], third[1], third[2]);
    if (this.emitter.turning) this.turned.push(lift[0], lift[1], lift[2], centre[0], centre[1], centre[2], margin);
    this.slack.push(slack(1), slack(2));
    this.soft.push(soft[0], soft[1], soft[2]);
  }
}

function isBefore(a: Vec3, b: Vec3): boolean {
  if (a[0] !== b[0]) return a[0] < b[0];
  if (a[1] !== b[1]) return a[1] < b[1];
  return a[2] < b[2];
}
