/**
 * Which pieces stand between an emitter and the receivers of a cell, for cells within cells: `narrow` sorts the pieces for
 * all receivers of a rectangle at once: out of the light, over the whole face, or over part of it for some receiver. Only
 * the last stay in the list that the smaller cells start from (Warnock's subdivision on the receivers' side).
 * Everything is kept in flat arrays, so that the inner loops allocate nothing.
 */
import type { Vec3 } from '../../scene/geometry/vector';
import { bodyReach, SLACK, SOFT, TURNED, type EdgeTable } from './edgeTable';
import type { EmitterFace } from './emitterFace';
import { DARK, ROW } from './kernelModule';

/**
 * A half-shadow that is narrow against a cell bends the light strongly within it: values between receivers are
 * interpolated only where every half-shadow is at least `within` times as wide as half the cell. Within a half-shadow
 * light is smooth; where one begins or ends in the cell it has a kink, which is looked at unless the half-shadow is
 * `ending` times as wide. For wide cells, of which more values are looked at, half of it.
 */
const PENUMBRA_OVER_CELL = {
  /** The half-shadow of a disc begins with the power 3/2 of the way into it, no kink. */
  round: { within: 4, ending: 7 },
  straight: { within: 5, ending: 18 },
} as const;
const WIDE_CELL = 0.5;

/** Kinks of a cell that are looked at. */
export const MOST_KINKS = 3;

export class PieceLists {
  readonly table: EdgeTable;
  /** Receiver x, y on the plane; of a cell its centre. */
  readonly at = new Float64Array(2);
  /** Half width and height of a cell, m. */
  readonly half = new Float64Array(2);
  /** After `narrow`: some half-shadow is too narrow for the cell. */
  sharp = false;
  /**
   * Where in the cell half-shadows begin that are not narrow but might bend the light unseen: how many, and of the first of
   * them the places, s, t from -1 to 1, in turn.
   */
  readonly kinks = new Float64Array(2 * MOST_KINKS);
  kinkCount = 0;
  /** A level that lists nothing: the open light. */
  readonly openLevel: number;
  readonly hasWeaves: boolean;

  protected readonly face: EmitterFace;
  protected readonly groupTotal: number;
  protected readonly bits: Int32Array;
  /** Of each level, behind those of the wider cells: a piece, how many of its edges may cross the face, and these. */
  protected readonly list: Int32Array;
  protected readonly from: Int32Array;
  protected readonly to: Int32Array;
  /** Of each level and group: what its pieces that cover the whole face let through. */
  protected readonly covers: Float64Array;
  /** Groups without a piece in the list that still do something. */
  protected readonly settled: Int32Array;
  protected readonly settledCount: Int32Array;
  private readonly axis: Vec3;
  private readonly radiusM: number;
  private readonly weaves: readonly boolean[];
  private readonly marked: Uint8Array;
  private readonly h = new Float64Array(2);
  /** The face has no extent, so no edge reaches over it. */
  private readonly isPoint: boolean;
  private readonly penumbra: { readonly within: number; readonly ending: number };

  /**
   * @param axis, radiusM the emitter's body, where its face turns with the receiver
   * @param levels        cells within cells that `narrow` may go down
   */
  constructor(table: EdgeTable, face: EmitterFace, axis: Vec3, radiusM: number, levels: number) {
    const { groups } = table;
    const pieces = table.pieceGroup.length;
    const edges = table.ownsEdge.length;
    this.table = table;
    this.face = face;
    this.axis = axis;
    this.radiusM = radiusM;
    this.penumbra = face.round ? PENUMBRA_OVER_CELL.round : PENUMBRA_OVER_CELL.straight;
    this.isPoint = face.areaPerUnit === 0 && !table.turning;
    this.openLevel = levels;
    this.groupTotal = groups.length;
    this.bits = Int32Array.from(groups, (group) => group.bit);
    this.weaves = groups.map(({ layer }) => layer !== null && layer.weave !== null);
    this.hasWeaves = this.weaves.includes(true);
    this.list = new Int32Array(levels * (edges + 2 * pieces) + 2);
    this.covers = new Float64Array((levels + 1) * groups.length);
    this.settled = new Int32Array((levels + 1) * groups.length);
    this.settledCount = new Int32Array(levels + 1);
    this.from = new Int32Array(levels + 1);
    this.to = new Int32Array(levels + 1);
    this.marked = new Uint8Array(groups.length);
    this.listAll();
  }

  /** Level 0: every edge of every piece. */
  private listAll(): void {
    const { table, list } = this;
    let at = 0;
    for (let piece = 0; piece < table.pieceGroup.length; piece++) {
      const first = table.firstEdge[piece]!;
      const end = table.firstEdge[piece + 1]!;
      list[at++] = piece;
      list[at++] = end - first;
      for (let edge = first; edge < end; edge++) list[at++] = edge;
    }
    this.to[0] = at;
    table.groups.forEach((group, id) => {
      this.covers[id] = group.base;
      if (table.pieceGroup.indexOf(id) < 0) this.settled[this.settledCount[0]!++] = id;
    });
  }

  /** True where no piece covers part of the face from some receiver of the level's cell. */
  isSettled(level: number): boolean {
    return this.from[level] === this.to[level];
  }

  /**
   * h at the middle of the face (or body) in h[0], its reach there in h[1]; at the present `at`. Where h is beyond
   * `slack` and a bound of the reach, that bound stands for the reach of a round face.
   */
  private meetBody(edge: number, slack: number): void {
    const { edges, turned } = this.table;
    const { h, at } = this;
    const x = at[0]!;
    const y = at[1]!;
    const i = edge * ROW;
    const a = edges[i]! + edges[i + 1]! * x + edges[i + 2]! * y;
    if (this.isPoint) {
      h[0] = a;
      h[1] = 0;
      return;
    }
    const b = edges[i + 3]! + edges[i + 4]! * x + edges[i + 5]! * y;
    const c = edges[i + 6]! + edges[i + 7]! * x + edges[i + 8]! * y;
    if (this.table.turning) {
      const k = edge * TURNED;
      h[0] = turned[k + 3]! + turned[k + 4]! * x + turned[k + 5]! * y;
      h[1] = bodyReach(a, b, c, this.axis, this.radiusM) + turned[k + 6]!;
      return;
    }
    const most = Math.abs(b) + Math.abs(c);
    h[0] = a;
    h[1] = this.face.round && Math.abs(a) <= most + slack ? Math.sqrt(b * b + c * c) : most;
  }

  /**
   * Sorts the pieces of `level` for the cell about `at` and lists what is left at `level + 1`; sets `sharp`.
   * @param roles bits of the groups that may darken the whole cell
   * @param isWide the cell is wide, see above
   * @returns false where the cell is dark whatever the receiver
   */
  narrow(level: number, roles: number, isWide: boolean): boolean {
    const { table, list, covers, h, half, marked, groupTotal } = this;
    const into = (level + 1) * groupTotal;
    for (let id = 0; id < groupTotal; id++) {
      covers[into + id] = covers[level * groupTotal + id]!;
      marked[id] = 0;
    }
    this.sharp = false;
    this.kinkCount = 0;
    let write = this.to[level]!;
    this.from[level + 1] = write;
    let read = this.from[level]!;
    const end = this.to[level]!;
    while (read < end) {
      const piece = list[read]!;
      const stop = read + 2 + list[read + 1]!;
      const head = write;
      write += 2;
      let outside = false;
      for (let k = read + 2; k < stop; k++) {
        const edge = list[k]!;
        const slack = table.slack[edge * SLACK]! * half[0]! + table.slack[edge * SLACK + 1]! * half[1]!;
        this.meetBody(edge, slack);
        const reach = h[1]! + slack;
        if (h[0]! < -reach) {
          outside = true;
          break;
        }
        if (h[0]! <= reach) {
          list[write++] = edge;
          if (!this.sharp) this.judgeHalfShadow(edge, slack, isWide);
        }
      }
      read = stop;
      if (outside) write = head;
      else if (write === head + 2) {
        write = head;
        covers[into + table.pieceGroup[piece]!]! += table.coefficients[piece]!;
      } else {
        list[head] = piece;
        list[head + 1] = write - head - 2;
        marked[table.pieceGroup[piece]!] = 1;
      }
    }
    this.to[level + 1] = write;
    return this.settle(level + 1, roles);
  }

  /**
   * What a level without pieces lets through from everywhere on the face to every receiver of its cell.
   * @returns null where a woven net stands in the light, which lets through what its slant says
   */
  shareAt(level: number, roles: number): number | null {
    const { groupTotal, covers, settled, bits } = this;
    let share = 1;
    for (let i = 0; i < this.settledCount[level]!; i++) {
      const id = settled[level * groupTotal + i]!;
      if ((bits[id]! & roles) === 0) continue;
      if (this.weaves[id]!) return null;
      share *= covers[level * groupTotal + id]!;
    }
    return share;
  }

  /** Sets `sharp` where the half-shadow at an edge is too narrow for the cell; notes where in the cell it has to be looked at. */
  private judgeHalfShadow(edge: number, slack: number, isWide: boolean): void {
    const { h, penumbra } = this;
    const least = isWide ? WIDE_CELL * slack : slack;
    const middle = Math.abs(h[0]!);
    const reach = h[1]!;
    const wide = reach + this.softness(edge);
    if (wide < penumbra.within * least) this.sharp = true;
    else if (wide < penumbra.ending * least && middle + slack > reach) this.noteKink(edge, middle - reach);
  }

  /** Notes the place nearest to the cell's middle where the half-shadow at an edge begins: `beyond` in the middle, 0 there. */
  private noteKink(edge: number, beyond: number): void {
    const { at, half, h, kinks } = this;
    const k = 2 * this.kinkCount++;
    if (k >= kinks.length) return;
    at[0]! += half[0]!;
    this.meetBody(edge, Infinity);
    const alongS = Math.abs(h[0]!) - h[1]! - beyond;
    at[0]! -= half[0]!;
    at[1]! += half[1]!;
    this.meetBody(edge, Infinity);
    const alongT = Math.abs(h[0]!) - h[1]! - beyond;
    at[1]! -= half[1]!;
    const step = -beyond / (alongS * alongS + alongT * alongT);
    kinks[k] = Math.max(-1, Math.min(1, step * alongS));
    kinks[k + 1] = Math.max(-1, Math.min(1, step * alongT));
  }

  private softness(edge: number): number {
    const { soft } = this.table;
    const i = edge * SOFT;
    return soft[i]! + soft[i + 1]! * this.at[0]! + soft[i + 2]! * this.at[1]!;
  }

  /** Lists the groups that have no piece left but still do something; false where one of them is opaque. */
  private settle(level: number, roles: number): boolean {
    const { groupTotal, covers, marked, settled } = this;
    let count = 0;
    for (let id = 0; id < groupTotal; id++) {
      if (marked[id] === 1) continue;
      const cover = covers[level * groupTotal + id]!;
      if (cover < DARK && !this.weaves[id]! && (this.bits[id]! & roles) !== 0) return false;
      if (Math.abs(cover - 1) > DARK) settled[level * groupTotal + count++] = id;
    }
    this.settledCount[level] = count;
    return true;
  }
}
