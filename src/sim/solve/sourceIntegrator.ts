/**
 * Direct illuminance of one source at receivers on one plane, behind everything that blocks or dims it.
 *
 * For each receiver every convex piece of every layer is found to cover the whole face, none of it, or part of it (its
 * edges cross the face as straight lines, edgeTable.ts). The face's polygon is then clipped by the crossing edges and
 * the product over layers is expanded: for a layer of opacity k with full cover m and partial pieces p,
 *   F(layer, polygon) = (1 - k m) F(next, polygon) - k Σ ± F(next, polygon ∩ p),
 * down to the bare kernel over the clipped polygon. Soft edges come out exact; nothing is sampled.
 */
import type { Role } from '../../scene/schema';
import { addScaled, dot, subtract, type Vec3 } from '../geometry/vector';
import { wovenTransmittance } from '../photometry/filters';
import { PolygonStack } from './clipping';
import type { BlockerLayer, CompiledSource } from './compiled';
import { buildEdgeTable, type EdgeTable, type ReceiverPlane } from './edgeTable';
import { discFace, rectangleFace, sphereSilhouette, tubeSilhouette, type EmitterFace } from './emitterFace';
import { emissionOf, faceNormal, type Emission } from './kernel';
import { FaceQuadrature, type KernelMode } from './faceQuadrature';
import type { Quality } from './quality';

/** Receivers nearer to a layer's plane than this are not blocked by it, m. */
const ON_PLANE_M = 1e-6;

/** A layer that does something to the light on its way to the present receiver. */
export interface ActiveLayer {
  layer: BlockerLayer;
  /** Solid pieces minus holes that cover the whole face: 0 or 1. */
  fullCover: number;
  /** Pieces that cover part of the face: each a run of crossing edges. */
  partial: { hole: boolean; firstEdge: number; endEdge: number }[];
}

export const ALL_ROLES: readonly Role[] = ['set', 'cut', 'shade', 'spread'];

export class SourceIntegrator {
  private readonly quadrature: FaceQuadrature;
  private readonly stack = new PolygonStack();
  private readonly layers: readonly BlockerLayer[];
  private plane: ReceiverPlane = { origin: [0, 0, 0], axisX: [1, 0, 0], axisY: [0, 1, 0], normal: [0, 0, 1] };
  private table: EdgeTable | null = null;
  private planeLayers: readonly BlockerLayer[] = [];
  private active: ActiveLayer[] = [];
  /** h0, hu, hv of the edges that cross the face of the present receiver. */
  private readonly crossing: number[] = [];
  private face: EmitterFace | null = null;
  private normal: Vec3 = [0, 0, 1];
  private emission: Emission | null = null;
  private horizon: readonly [number, number, number] | null = null;
  private readonly source: CompiledSource;
  private readonly quality: Quality;

  constructor(source: CompiledSource, layers: readonly BlockerLayer[], quality: Quality) {
    this.source = source;
    this.quality = quality;
    this.layers = layers.filter((layer) => layer.onlySourceId === null || layer.onlySourceId === source.id);
    this.quadrature = new FaceQuadrature(this.stack, quality);
  }

  /** Sets the receivers' plane; `ignored` layers are those that the receivers lie on. */
  usePlane(plane: ReceiverPlane, ignored: (layer: BlockerLayer) => boolean): void {
    this.plane = plane;
    this.planeLayers = this.layers.filter((layer) => !ignored(layer));
    this.table = null;
  }

  /**
   * Takes the receiver at origin + x X + y Y as the present one and works out what stands in its light.
   * @returns false where the source cannot reach it whatever stands between: behind the lamp, below the horizon
   */
  moveTo(x: number, y: number): boolean {
    const { plane } = this;
    const point = addScaled(addScaled(plane.origin, plane.axisX, x), plane.axisY, y);
    this.face = this.faceFrom(point);
    if (this.face === null) return false;
    this.emission = emissionOf(this.source, this.face, plane.receptor ?? 'flat');
    this.normal = faceNormal(this.emission, this.face);
    const { kind } = this.source.profile;
    const allRound = this.source.shape.kind === 'point' && (kind === 'flat' || kind === 'web');
    if (!allRound && dot(this.normal, this.face.towards) >= 0) return false;
    if (!this.raiseHorizon()) return false;
    if (this.sameFaceEverywhere()) {
      this.table ??= buildEdgeTable(this.planeLayers, this.faceFrom(plane.origin)!, plane, this.atInfinity());
      this.classify(this.table, x, y);
    } else {
      const here = { ...plane, origin: point };
      this.classify(buildEdgeTable(this.planeLayers, this.face, here, false), 0, 0);
    }
    return true;
  }

  /**
   * Illuminance of the present receiver at level 1, lx, counting the layers whose role is in `roles`.
   * @param mode `bare` leaves out a projection spot's field edge and shutters
   */
  illuminanceLx(roles: readonly Role[], mode: 'full' | 'bare' = 'full'): number {
    return Math.max(0, this.integrate(roles, mode)[0]!);
  }

  /** Unit vector to the middle of the light that arrives, counting the layers in `roles` (weighted by the face's area). */
  arrivalDirection(roles: readonly Role[]): Vec3 {
    const face = this.face!;
    const [area, u, v] = this.integrate(roles, 'area');
    const centre =
      area! > 0 ? addScaled(addScaled(face.towards, face.halfU, u! / area!), face.halfV, v! / area!) : face.towards;
    const size = Math.hypot(...centre);
    return [centre[0] / size, centre[1] / size, centre[2] / size];
  }

  private atInfinity(): boolean {
    return this.source.shape.kind === 'sun';
  }
  private sameFaceEverywhere(): boolean {
    return this.source.shape.kind !== 'sphere' && this.source.shape.kind !== 'tube';
  }

  /** The face as the receiver at `point` sees it; null from inside the emitter. */
  private faceFrom(point: Vec3): EmitterFace | null {
    const { frame, shape } = this.source;
    const corners = this.quality.discCorners;
    const scaled = (axis: Vec3, by: number): Vec3 => [axis[0] * by, axis[1] * by, axis[2] * by];
    switch (shape.kind) {
      case 'point':
        return rectangleFace(subtract(frame.origin, point), [0, 0, 0], [0, 0, 0]);
      case 'disc': {
        const { radiusM } = shape;
        const towards = subtract(frame.origin, point);
        return discFace(towards, scaled(frame.right, radiusM), scaled(frame.up, radiusM), corners);
      }
      case 'rectangle': {
        const towards = subtract(frame.origin, point);
        return rectangleFace(towards, scaled(frame.right, shape.halfWidthM), scaled(frame.up, shape.halfHeightM));
      }
      case 'sphere':
        return sphereSilhouette(frame.origin, shape.radiusM, point, corners);
      case 'tube':
        return tubeSilhouette(frame.origin, frame.right, shape.halfLengthM, shape.radiusM, point);
      case 'sun': {
        const { tangentRadius } = shape;
        return discFace(frame.origin, scaled(frame.right, tangentRadius), scaled(frame.up, tangentRadius), corners);
      }
    }
  }

  /** @returns false where the whole face is below the receiver's horizon */
  private raiseHorizon(): boolean {
    const { towards, halfU, halfV, extentU, extentV, round } = this.face!;
    const { normal, receptor } = this.plane;
    this.horizon = null;
    if (receptor === 'dome') return true;
    const h0 = dot(normal, towards);
    const hu = dot(normal, halfU);
    const hv = dot(normal, halfV);
    const reach = round ? Math.hypot(hu, hv) : Math.abs(hu) * extentU + Math.abs(hv) * extentV;
    this.horizon = h0 < reach ? [h0, hu, hv] : null;
    return h0 + reach > 0;
  }

  /** Sorts the pieces of every layer into: covers the whole face, none of it, part of it. */
  private classify(table: EdgeTable, x: number, y: number): void {
    this.active = [];
    this.crossing.length = 0;
    for (const group of table.groups) {
      const [c, cx, cy] = group.receiverHeight;
      if ((c + cx * x + cy * y) * group.receiverSide <= ON_PLANE_M) continue;
      let found: ActiveLayer | null = null;
      for (const piece of group.pieces) {
        const first = this.crossing.length;
        const cover = this.coverOf(table, piece.firstEdge, piece.endEdge, x, y);
        if (cover === 'none') continue;
        if (found === null) {
          found = { layer: group.layer, fullCover: 0, partial: [] };
          this.active.push(found);
        }
        if (group.beyond) this.crossing.push(...group.beyond);
        if (cover === 'whole' && !group.beyond) found.fullCover += piece.hole ? -1 : 1;
        else found.partial.push({ hole: piece.hole, firstEdge: first, endEdge: this.crossing.length });
      }
    }
  }

  /** Cover of the face by one convex piece; the edges that cross the face are appended to `crossing`. */
  private coverOf(
    table: EdgeTable,
    firstEdge: number,
    endEdge: number,
    x: number,
    y: number,
  ): 'whole' | 'none' | 'part' {
    const { edges, ownsEdge } = table;
    const { round, extentU, extentV } = this.face!;
    const start = this.crossing.length;
    for (let edge = firstEdge; edge < endEdge; edge++) {
      const at = 9 * edge;
      const h0 = edges[at]! + edges[at + 1]! * x + edges[at + 2]! * y;
      const hu = edges[at + 3]! + edges[at + 4]! * x + edges[at + 5]! * y;
      const hv = edges[at + 6]! + edges[at + 7]! * x + edges[at + 8]! * y;
      const reach = round ? Math.sqrt(hu * hu + hv * hv) : Math.abs(hu) * extentU + Math.abs(hv) * extentV;
      if (h0 < -reach || (h0 === -reach && (reach > 0 || ownsEdge[edge] === 0))) {
        this.crossing.length = start;
        return 'none';
      }
      if (h0 < reach) this.crossing.push(h0, hu, hv);
    }
    return this.crossing.length === start ? 'whole' : 'part';
  }

  /** Sum over the face, in three numbers: the integral itself, and its first moments in u and v (mode `area`). */
  private integrate(roles: readonly Role[], mode: KernelMode): Float64Array {
    const { quadrature } = this;
    const chosen = this.active.filter((active) => roles.includes(active.layer.role));
    quadrature.begin(this.emission!, this.face!, this.normal, this.plane.normal, mode);
    let share = 1;
    const woven: { stops: number; layer: BlockerLayer }[] = [];
    const clipping: ActiveLayer[] = [];
    for (const active of chosen) {
      if (active.partial.length > 0) clipping.push(active);
      else if (active.layer.weave === null) share *= 1 - active.layer.opacity * active.fullCover;
      else if (active.fullCover !== 0) woven.push({ stops: active.layer.weave.stops, layer: active.layer });
      if (share === 0) return quadrature.total;
    }
    if (this.source.shape.kind === 'point')
      quadrature.addPoint(share * this.pointTransmittance(woven.map((w) => w.layer)));
    else
      quadrature.addFace(
        share,
        woven.map((w) => w.layer),
        clipping,
        this.crossing,
        this.horizon,
      );
    return quadrature.total;
  }

  private pointTransmittance(woven: readonly BlockerLayer[]): number {
    const { towards } = this.face!;
    return woven.reduce(
      (share, layer) => share * wovenTransmittance(layer.weave!.stops, towards, layer.weave!.frame),
      1,
    );
  }
}
