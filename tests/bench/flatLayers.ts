/** Layers as flat arrays for the plain sampled peer: every ray against every piece, without allocation. */
import { dot, subtract, type Vec3 } from '../../src/scene/geometry/vector';
import { slantTransmittance } from '../../src/sim/solve/weave';
import { axesAcross } from '../../src/sim/solve/emitterFace';
import type { BlockerLayer } from '../../src/sim/solve/compiled';

/** Numbers kept for a layer: normal, its offset, and two axes in its plane with theirs. */
const LAYER_NUMBERS = 12;

export class FlatLayers {
  private readonly layers: readonly BlockerLayer[];
  private readonly planes: Float64Array;
  /** Edges of all pieces as a x + b y + c >= 0 in the layer's own axes. */
  private readonly edges: Float64Array;
  /** For each layer the first of its pieces; for each piece the first of its edges, and its sign. */
  private readonly firstPiece: Int32Array;
  private readonly firstEdge: Int32Array;
  private readonly sign: Int8Array;

  constructor(layers: readonly BlockerLayer[]) {
    this.layers = layers;
    this.planes = new Float64Array(layers.length * LAYER_NUMBERS);
    const edges: number[] = [];
    const firstPiece = [0];
    const firstEdge = [0];
    const sign: number[] = [];
    layers.forEach(({ normal, origin, pieces }, index) => {
      const [x, y] = axesAcross(normal);
      const rows = [normal, x, y].flatMap((axis) => [...axis, dot(axis, origin)]);
      this.planes.set(rows, index * LAYER_NUMBERS);
      for (const { corners, hole } of pieces) {
        const local = corners.map((corner) => {
          const offset = subtract(corner, origin);
          return [dot(offset, x), dot(offset, y)] as const;
        });
        local.forEach(([ax, ay], i) => {
          const [bx, by] = local[(i + 1) % local.length]!;
          edges.push(ay - by, bx - ax, ax * by - bx * ay);
        });
        sign.push(hole ? -1 : 1);
        firstEdge.push(edges.length / 3);
      }
      firstPiece.push(sign.length);
    });
    this.edges = new Float64Array(edges);
    this.firstPiece = new Int32Array(firstPiece);
    this.firstEdge = new Int32Array(firstEdge);
    this.sign = new Int8Array(sign);
  }

  /** Share of the light along the ray from (px, py, pz) to that plus (rx, ry, rz) that all layers let through. */
  transmittance(px: number, py: number, pz: number, rx: number, ry: number, rz: number): number {
    const { planes, layers } = this;
    let left = 1;
    for (let layer = 0; layer < layers.length; layer++) {
      const at = layer * LAYER_NUMBERS;
      const rate = planes[at]! * rx + planes[at + 1]! * ry + planes[at + 2]! * rz;
      const t = (planes[at + 3]! - planes[at]! * px - planes[at + 1]! * py - planes[at + 2]! * pz) / rate;
      if (!(t > 0 && t < 1)) continue;
      const [hx, hy, hz] = [px + t * rx, py + t * ry, pz + t * rz];
      const x = planes[at + 4]! * hx + planes[at + 5]! * hy + planes[at + 6]! * hz - planes[at + 7]!;
      const y = planes[at + 8]! * hx + planes[at + 9]! * hy + planes[at + 10]! * hz - planes[at + 11]!;
      if (this.cover(layer, x, y) <= 0) continue;
      const { weave, opacity } = layers[layer]!;
      left *= weave === null ? 1 - opacity : slantTransmittance(weave, [rx, ry, rz] as Vec3);
      if (left === 0) return 0;
    }
    return left;
  }

  private cover(layer: number, x: number, y: number): number {
    const { edges, firstEdge } = this;
    let cover = 0;
    for (let piece = this.firstPiece[layer]!; piece < this.firstPiece[layer + 1]!; piece++) {
      let inside = true;
      for (let edge = firstEdge[piece]!; inside && edge < firstEdge[piece + 1]!; edge++) {
        inside = edges[3 * edge]! * x + edges[3 * edge + 1]! * y + edges[3 * edge + 2]! >= 0;
      }
      if (inside) cover += this.sign[piece]!;
    }
    return cover;
  }
}
