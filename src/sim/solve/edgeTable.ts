/**
 * Shadow edges as straight lines on the emitter's face.
 *
 * For a receiver r, a piece's edge (a, b) and a point s of the face, det(a - r, b - r, s - r) tells the side on which
 * the ray r-s passes the edge. For fixed r it is affine in (u, v) of the face, h(u, v) = h0 + hu u + hv v; for a fixed
 * point of the face it is affine in r, because the terms in r ⊗ r cancel. So for receivers on one plane, r = O + x X + y Y,
 * every edge is nine numbers, built once: each of h0, hu, hv is c + cx x + cy y. docs/physics.md derives it.
 */
import { cross, dot, subtract, type Vec3 } from '../geometry/vector';
import type { BlockerLayer } from './compiled';
import type { EmitterFace } from './emitterFace';

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

/** One layer seen from one of its sides. */
export interface EdgeGroup {
  readonly layer: BlockerLayer;
  readonly layerIndex: number;
  /** Receivers must lie on this side of the layer's plane (+1 along its normal). */
  readonly receiverSide: 1 | -1;
  /** Signed distance of the receiver from the layer's plane: c + cx x + cy y, m. */
  readonly receiverHeight: readonly [c: number, cx: number, cy: number];
  /** Where the face reaches through the layer's plane: "beyond it" as h0, hu, hv; else null. */
  readonly beyond: readonly [h0: number, hu: number, hv: number] | null;
  readonly pieces: readonly { readonly hole: boolean; readonly firstEdge: number; readonly endEdge: number }[];
}

export interface EdgeTable {
  readonly groups: readonly EdgeGroup[];
  /** Nine numbers an edge: h0, hu, hv, each as c, cx, cy. */
  readonly edges: Float64Array;
  /** 1 where a ray exactly on the edge counts as inside: neighbours share an edge, only one of them owns it. */
  readonly ownsEdge: Uint8Array;
}

/** @param faceAt the face for a receiver at the plane's origin; it must look the same from the whole plane */
export function buildEdgeTable(
  layers: readonly BlockerLayer[],
  face: EmitterFace,
  plane: ReceiverPlane,
  atInfinity: boolean,
): EdgeTable {
  const groups: EdgeGroup[] = [];
  const edges: number[] = [];
  const owns: number[] = [];
  layers.forEach((layer, layerIndex) => {
    for (const receiverSide of sidesSeen(layer, face, plane, atInfinity)) {
      const pieces = layer.pieces.map((piece) => {
        const firstEdge = owns.length;
        piece.corners.forEach((a, i) => {
          const b = piece.corners[(i + 1) % piece.corners.length]!;
          pushEdge(edges, a, b, face, plane, atInfinity, -receiverSide);
          owns.push(isBefore(a, b) ? 1 : 0);
        });
        return { hole: piece.hole, firstEdge, endEdge: owns.length };
      });
      const { normal, origin } = layer;
      const receiverHeight = [
        dot(normal, subtract(plane.origin, origin)),
        dot(normal, plane.axisX),
        dot(normal, plane.axisY),
      ] as const;
      const beyond = beyondPlane(layer, face, plane, atInfinity, receiverSide);
      groups.push({ layer, layerIndex, receiverSide, receiverHeight, beyond, pieces });
    }
  });
  return { groups, edges: new Float64Array(edges), ownsEdge: new Uint8Array(owns) };
}

/** Height of the face's centre over the layer's plane, and how far the face reaches from it, m (sun: direction cosines). */
function faceHeights(layer: BlockerLayer, face: EmitterFace, plane: ReceiverPlane, atInfinity: boolean) {
  const lift = atInfinity ? 0 : dot(layer.normal, subtract(plane.origin, layer.origin));
  const centre = dot(layer.normal, face.towards) + lift;
  const perU = dot(layer.normal, face.halfU);
  const perV = dot(layer.normal, face.halfV);
  return { centre, perU, perV, reach: Math.abs(perU) * face.extentU + Math.abs(perV) * face.extentV };
}

/** Sides of the layer from which some of the face can be seen through it. */
function sidesSeen(layer: BlockerLayer, face: EmitterFace, plane: ReceiverPlane, atInfinity: boolean): (1 | -1)[] {
  const { centre, reach } = faceHeights(layer, face, plane, atInfinity);
  const sides: (1 | -1)[] = [];
  if (centre + reach > ON_PLANE_M) sides.push(-1);
  if (centre - reach < -ON_PLANE_M) sides.push(1);
  return sides;
}

function beyondPlane(
  layer: BlockerLayer,
  face: EmitterFace,
  plane: ReceiverPlane,
  atInfinity: boolean,
  receiverSide: 1 | -1,
): EdgeGroup['beyond'] {
  const { centre, perU, perV, reach } = faceHeights(layer, face, plane, atInfinity);
  if (Math.abs(centre) >= reach) return null;
  return [-receiverSide * centre, -receiverSide * perU, -receiverSide * perV];
}

/**
 * Appends h0, hu, hv of edge (a, b) as affine functions of the receiver. With A = a × b, B = b - a and n = A + B × r
 * (which is (a - r) × (b - r)): h = n·(s - r) = n·s - A·r for a face at a place, n·s for directions.
 */
function pushEdge(
  edges: number[],
  a: Vec3,
  b: Vec3,
  face: EmitterFace,
  plane: ReceiverPlane,
  atInfinity: boolean,
  sign: number,
): void {
  // Relative to the plane's origin, so that far-away scenes lose no digits.
  const from = subtract(a, plane.origin);
  const to = subtract(b, plane.origin);
  const moment = cross(from, to);
  const along = subtract(to, from);
  const turnX = cross(along, plane.axisX);
  const turnY = cross(along, plane.axisY);
  const c = face.towards; // seen from the plane's origin
  const fallX = atInfinity ? 0 : dot(moment, plane.axisX);
  const fallY = atInfinity ? 0 : dot(moment, plane.axisY);
  edges.push(sign * dot(moment, c), sign * (dot(turnX, c) - fallX), sign * (dot(turnY, c) - fallY));
  for (const half of [face.halfU, face.halfV]) {
    edges.push(sign * dot(moment, half), sign * dot(turnX, half), sign * dot(turnY, half));
  }
}

function isBefore(a: Vec3, b: Vec3): boolean {
  if (a[0] !== b[0]) return a[0] < b[0];
  if (a[1] !== b[1]) return a[1] < b[1];
  return a[2] < b[2];
}
