/** What covers an emitter's face as one receiver sees it: edges across the face, by piece and by group. */
import type { EdgeGroup } from './edgeTable';

/** A transmittance below this is darkness left over from rounding. */
export const DARK = 1e-12;

export interface CoverCapacity {
  readonly pieces: number;
  readonly edges: number;
}

export class FaceCover {
  readonly groups: readonly EdgeGroup[];
  readonly capacity: CoverCapacity;
  /** Transmittance of the groups that cover the whole face alike. */
  share = 1;
  /** Woven groups that cover the whole face. */
  wovenCount = 0;
  readonly woven: Int32Array;
  /** Polygons that the expansion of the product over the groups may come to at most. */
  leaves = 1;
  /** Edges h0, hu, hv of the convex part of the face that lets light through at all, as far as single groups tell. */
  openEdges = 0;
  readonly open: Float64Array;
  /** Other groups that cover part of the face: their pieces, and what the pieces that cover all of it leave. */
  groupCount = 0;
  readonly groupId: Int32Array;
  readonly groupFrom: Int32Array;
  readonly groupTo: Int32Array;
  readonly through: Float64Array;
  readonly coefficient: Float64Array;
  readonly edgeFrom: Int32Array;
  readonly edgeTo: Int32Array;
  /** h0, hu, hv of the edges that cross the face. */
  readonly crossing: Float64Array;
  private readonly weaves: Uint8Array;
  private readonly hasWeaves: boolean;

  constructor(groups: readonly EdgeGroup[], capacity: CoverCapacity) {
    this.groups = groups;
    this.capacity = capacity;
    const { pieces, edges } = capacity;
    this.woven = new Int32Array(groups.length);
    this.groupId = new Int32Array(groups.length);
    this.groupFrom = new Int32Array(groups.length);
    this.groupTo = new Int32Array(groups.length);
    this.through = new Float64Array(groups.length);
    this.coefficient = new Float64Array(pieces);
    this.edgeFrom = new Int32Array(pieces);
    this.edgeTo = new Int32Array(pieces);
    this.crossing = new Float64Array(3 * edges);
    this.open = new Float64Array(3 * edges);
    this.weaves = Uint8Array.from(groups, ({ layer }) => (layer !== null && layer.weave !== null ? 1 : 0));
    this.hasWeaves = this.weaves.includes(1);
  }

  clear(): void {
    this.share = 1;
    this.wovenCount = 0;
    this.groupCount = 0;
    this.openEdges = 0;
    this.leaves = 1;
  }

  /** True where the n-th group that covers part of the face is woven. */
  isWoven(n: number): boolean {
    return this.weaves[this.groupId[n]!] === 1;
  }
  /** True where group `id` is woven. */
  isWovenGroup(id: number): boolean {
    return this.weaves[id] === 1;
  }

  meetsWeave(): boolean {
    if (!this.hasWeaves) return false;
    if (this.wovenCount > 0) return true;
    for (let n = 0; n < this.groupCount; n++) if (this.isWoven(n)) return true;
    return false;
  }

  /** Least height of the vector `towards` over the nets that it meets, m: how steeply the face is seen through a weave. */
  leastOverWeaves(towards: Float64Array): number {
    let least = Infinity;
    for (let i = 0; i < this.wovenCount; i++) least = Math.min(least, this.overWeave(this.woven[i]!, towards));
    for (let n = 0; n < this.groupCount; n++) {
      if (this.isWoven(n)) least = Math.min(least, this.overWeave(this.groupId[n]!, towards));
    }
    return least;
  }

  private overWeave(id: number, towards: Float64Array): number {
    const [x, y, z] = this.groups[id]!.layer!.weave!.frame.forward;
    return Math.abs(x * towards[0]! + y * towards[1]! + z * towards[2]!);
  }

  addGroup(id: number, firstPiece: number, endPiece: number, through: number): void {
    if (this.weaves[id] === 0 && this.addOpen(firstPiece, endPiece, through)) return;
    const n = this.groupCount++;
    this.groupId[n] = id;
    this.groupFrom[n] = firstPiece;
    this.groupTo[n] = endPiece;
    const isDark = Math.abs(through) < DARK;
    this.through[n] = isDark ? 0 : through;
    this.leaves *= endPiece - firstPiece + (isDark ? 0 : 1);
  }

  /**
   * A group that lets light through in one convex part of the face only: in a hole, or beside opaque pieces of which one
   * edge each crosses the face (pieces of a group do not overlap). Then one cut stands for a sum over its pieces.
   */
  private addOpen(firstPiece: number, endPiece: number, through: number): boolean {
    const isHole = Math.abs(through) < DARK;
    if (isHole && endPiece - firstPiece > 1) return false;
    for (let piece = firstPiece; !isHole && piece < endPiece; piece++) {
      if (this.edgeTo[piece]! - this.edgeFrom[piece]! > 1) return false;
      if (Math.abs(this.coefficient[piece]! + through) >= DARK) return false;
    }
    const { crossing, open } = this;
    const sign = isHole ? 1 : -1;
    let write = 3 * this.openEdges;
    for (let read = 3 * this.edgeFrom[firstPiece]!; read < 3 * this.edgeTo[endPiece - 1]!; read++) {
      open[write++] = sign * crossing[read]!;
    }
    this.openEdges = write / 3;
    this.share *= isHole ? this.coefficient[firstPiece]! : through;
    return true;
  }

  /** A group that covers the whole face alike; false where it is opaque. */
  addWhole(id: number, through: number): boolean {
    if (this.weaves[id] === 1) {
      if (through < 0.5) this.woven[this.wovenCount++] = id;
      return true;
    }
    if (through < DARK) return false;
    this.share *= through;
    return true;
  }

  /** Least and most that the groups let through anywhere on the face, whole covers left out. */
  bounds(): [least: number, most: number] {
    let least = 1;
    let most = 1;
    for (let n = 0; n < this.groupCount; n++) {
      let low = this.through[n]!;
      let high = low;
      for (let piece = this.groupFrom[n]!; piece < this.groupTo[n]!; piece++) {
        low += Math.min(0, this.coefficient[piece]!);
        high += Math.max(0, this.coefficient[piece]!);
      }
      // A weave lets through what its slant says: nothing at the least.
      least *= this.isWoven(n) ? 0 : Math.max(0, low);
      most *= Math.min(1, high);
    }
    return [least, most];
  }

  /**
   * What covers a part of the face.
   * @param cell middle u, v and half sizes of the part
   * @param into is overwritten; its share counts the part's own whole covers alone
   * @returns false where the part is dark
   */
  narrowTo(cell: Float64Array, into: FaceCover): boolean {
    into.clear();
    for (let i = 0; i < this.wovenCount; i++) into.woven[into.wovenCount++] = this.woven[i]!;
    let pieces = 0;
    let edges = 0;
    for (let n = 0; n < this.groupCount; n++) {
      const firstPiece = pieces;
      let through = this.through[n]!;
      for (let piece = this.groupFrom[n]!; piece < this.groupTo[n]!; piece++) {
        const found = this.crossCell(piece, cell, into, edges);
        if (found === edges) through += this.coefficient[piece]!;
        else if (found > edges) {
          into.coefficient[pieces] = this.coefficient[piece]!;
          into.edgeFrom[pieces] = edges;
          into.edgeTo[pieces++] = found;
          edges = found;
        }
      }
      if (pieces > firstPiece) into.addGroup(this.groupId[n]!, firstPiece, pieces, through);
      else if (!into.addWhole(this.groupId[n]!, through)) return false;
    }
    return true;
  }

  /** Copies the edges of a piece that cross the cell; their end, or -1 where the piece is beside the cell. */
  private crossCell(piece: number, cell: Float64Array, into: FaceCover, first: number): number {
    const { crossing } = this;
    let edges = first;
    for (let edge = this.edgeFrom[piece]!; edge < this.edgeTo[piece]!; edge++) {
      const hu = crossing[3 * edge + 1]!;
      const hv = crossing[3 * edge + 2]!;
      const middle = crossing[3 * edge]! + hu * cell[0]! + hv * cell[1]!;
      const reach = Math.abs(hu) * cell[2]! + Math.abs(hv) * cell[3]!;
      if (middle <= -reach) return -1;
      if (middle >= reach) continue;
      into.crossing.set(crossing.subarray(3 * edge, 3 * edge + 3), 3 * edges);
      edges++;
    }
    return edges;
  }
}
