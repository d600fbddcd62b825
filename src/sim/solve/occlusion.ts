/**
 * What stands between an emitter and the receivers of a plane: first for a whole cell of receivers, then for one.
 *
 * `narrow` sorts pieces for all receivers of a rectangle at once: out of the light, over the whole face, or over part of
 * it for some receiver. Only the last stay in the list that its smaller cells start from (Warnock's subdivision on the
 * receivers' side). `gather` does the same for one receiver and leaves the edges that cross the face it sees.
 * Everything is kept in flat arrays, so that the inner loops allocate nothing.
 */
import type { Vec3 } from '../../scene/geometry/vector';
import { bodyReach, ROW, SLACK, SOFT, TURNED, type EdgeTable } from './edgeTable';
import type { EmitterFace } from './emitterFace';
import { lines } from './clipping';
import { coefficient, DARK, FaceCover, lineFrom, lineTo } from './faceCover';

/**
 * A half-shadow that is narrow against a cell bends the light strongly within it: values between receivers are
 * interpolated only where every half-shadow is at least so many times as wide as half the cell. Within a half-shadow
 * light is smooth; where one begins or ends in the cell it has a kink, which checks may miss.
 */
const PENUMBRA_OVER_CELL = {
  /** The half-shadow of a disc begins with the power 3/2 of the way into it, no kink. */
  round: { within: 4, ending: 7 },
  straight: { within: 5, ending: 12 },
} as const;

export class Occlusion {
  readonly table: EdgeTable;
  /** Receiver x, y on the plane; of a cell its centre. */
  readonly at = new Float64Array(2);
  /** Half width and height of a cell, m. */
  readonly half = new Float64Array(2);
  /** After `narrow`: some half-shadow is too narrow for the cell. */
  sharp = false;

  /** What `gather` found. */
  readonly cover: FaceCover;
  /** Gate parts that only the kernel can tell, because they are soft over the face. */
  softGate = 0;

  /** Rows of the edges that cross a face at its present place, nine numbers each: the table's, or those of a held face. */
  private rows: Float64Array;
  private turning: boolean;
  private readonly heldRows: Float64Array;
  private readonly face: EmitterFace;
  private readonly axis: Vec3;
  private readonly radiusM: number;
  private readonly groupTotal: number;
  private readonly bits: Int32Array;
  private readonly list: Int32Array;
  private readonly covers: Float64Array;
  private readonly settled: Int32Array;
  private readonly settledCount: Int32Array;
  private readonly from: Int32Array;
  private readonly to: Int32Array;
  private readonly marked: Uint8Array;
  private readonly h = new Float64Array(2);
  private readonly penumbra: { readonly within: number; readonly ending: number };

  /**
   * @param axis, radiusM the emitter's body, where its face turns with the receiver
   * @param levels        cells within cells that `narrow` may go down
   */
  constructor(table: EdgeTable, face: EmitterFace, axis: Vec3, radiusM: number, levels: number) {
    this.table = table;
    this.face = face;
    this.axis = axis;
    this.radiusM = radiusM;
    this.rows = table.edges;
    this.turning = table.turning;
    this.heldRows = new Float64Array(table.turning ? table.edges.length : 0);
    this.penumbra = face.round ? PENUMBRA_OVER_CELL.round : PENUMBRA_OVER_CELL.straight;
    const { groups } = table;
    const pieces = table.pieceGroup.length;
    const edges = table.ownsEdge.length;
    this.groupTotal = groups.length;
    this.bits = Int32Array.from(groups, (group) => group.bit);
    this.list = new Int32Array(levels * (edges + 2 * pieces) + 2);
    this.covers = new Float64Array(levels * groups.length);
    this.settled = new Int32Array(levels * groups.length);
    this.marked = new Uint8Array(groups.length);
    this.settledCount = new Int32Array(levels);
    this.from = new Int32Array(levels);
    this.to = new Int32Array(levels);
    this.cover = new FaceCover(groups);
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
   * @returns false where the cell is dark whatever the receiver
   */
  narrow(level: number, roles: number): boolean {
    const { table, list, covers, h, half, marked, groupTotal } = this;
    const into = (level + 1) * groupTotal;
    for (let id = 0; id < groupTotal; id++) {
      covers[into + id] = covers[level * groupTotal + id]!;
      marked[id] = 0;
    }
    this.sharp = false;
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
          const within = Math.abs(h[0]!) + slack <= h[1]!;
          const least = within ? this.penumbra.within : this.penumbra.ending;
          if (h[1]! + this.softness(edge) < least * slack) this.sharp = true;
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
      if (cover < DARK && !this.cover.isWovenGroup(id) && (this.bits[id]! & roles) !== 0) return false;
      if (Math.abs(cover - 1) > DARK) settled[level * groupTotal + count++] = id;
    }
    this.settledCount[level] = count;
    return true;
  }

  /**
   * Finds what covers the face of the receiver `at`, from the list of the cell at `level`.
   * @param roles bits of the things that count, and of the gate parts that count as hard edges
   * @param soft  bits of the gate parts that are smooth over the face
   * @returns false where no light comes through
   */
  gather(level: number, roles: number, soft: number): boolean {
    const { list, groupTotal, covers, settled, cover, bits } = this;
    const { pieceGroup, coefficients } = this.table;
    cover.clear();
    this.softGate = 0;
    for (let i = 0; i < this.settledCount[level]!; i++) {
      const id = settled[level * groupTotal + i]!;
      if (!this.addWhole(id, covers[level * groupTotal + id]!, roles, soft)) return false;
    }
    let read = this.from[level]!;
    const end = this.to[level]!;
    while (read < end) {
      const id = pieceGroup[list[read]!]!;
      const bit = bits[id]!;
      const counts = (bit & (roles | soft)) !== 0;
      const first = cover.pieceEnd;
      let pieces = first;
      let to = cover.lineEnd;
      let left = covers[level * groupTotal + id]!;
      do {
        const piece = list[read]!;
        const stop = read + 2 + list[read + 1]!;
        if (counts) {
          const found = this.cross(read + 2, stop, to);
          if (found === to) left += coefficients[piece]!;
          else if (found > to) {
            coefficient[pieces] = coefficients[piece]!;
            lineFrom[pieces] = to;
            lineTo[pieces++] = found;
            to = found;
          }
        }
        read = stop;
      } while (read < end && pieceGroup[list[read]!] === id);
      if (!counts) continue;
      if (pieces === first) {
        if (!this.addWhole(id, left, roles, soft)) return false;
      } else if ((bit & soft) !== 0) this.softGate |= bit;
      else cover.addGroup(id, pieces, left);
    }
    return true;
  }

  /** A group that covers the whole face alike; false where it is opaque. */
  private addWhole(id: number, through: number, roles: number, soft: number): boolean {
    const bit = this.bits[id]!;
    if ((bit & (roles | soft)) === 0) return true;
    if ((bit & soft) === 0) return this.cover.addWhole(id, through);
    if (through < 1 - DARK) this.softGate |= bit;
    return through >= DARK;
  }

  /**
   * Writes the edges of one piece that cross the face to the cover from `first` on.
   * @returns their end; `first` where the piece covers the whole face, -1 where it covers nothing of it
   */
  private cross(from: number, stop: number, first: number): number {
    return this.turning ? this.crossTurned(from, stop, first) : this.crossFixed(from, stop, first);
  }

  /**
   * Takes the face as it is now for all receivers, until `release`. Then the edges listed at `level` are affine in the
   * receiver as those of a fixed face: with n(r) = A + x B + y C and the face's centre at s, n·(s - r) has no second order.
   * @param from s, from the plane's origin
   * @param axisX, axisY of the plane
   */
  hold(level: number, from: Float64Array, axisX: Float64Array, axisY: Float64Array): void {
    const { table, list, heldRows, face } = this;
    const { edges, turned } = table;
    let read = this.from[level]!;
    const end = this.to[level]!;
    while (read < end) {
      const stop = read + 2 + list[read + 1]!;
      for (let k = read + 2; k < stop; k++) {
        const i = list[k]! * ROW;
        const j = list[k]! * TURNED;
        for (let step = 0; step < 3; step++) {
          heldRows[i + step] = normalAlong(edges, i + step, from) + turned[j + step]!;
          heldRows[i + 3 + step] = normalAlong(edges, i + step, face.halfU);
          heldRows[i + 6 + step] = normalAlong(edges, i + step, face.halfV);
        }
        heldRows[i + 1]! -= normalAlong(edges, i, axisX);
        heldRows[i + 2]! -= normalAlong(edges, i, axisY);
      }
      read = stop;
    }
    this.rows = heldRows;
    this.turning = false;
  }

  release(): void {
    this.rows = this.table.edges;
    this.turning = this.table.turning;
  }

  private crossFixed(from: number, stop: number, first: number): number {
    const { table, list, at, rows } = this;
    const { round, extentU } = this.face;
    const x = at[0]!;
    const y = at[1]!;
    let write = 3 * first;
    for (let k = from; k < stop; k++) {
      const i = list[k]! * ROW;
      const h0 = rows[i]! + rows[i + 1]! * x + rows[i + 2]! * y;
      const hu = rows[i + 3]! + rows[i + 4]! * x + rows[i + 5]! * y;
      const hv = rows[i + 6]! + rows[i + 7]! * x + rows[i + 8]! * y;
      const square = h0 * h0;
      const reach = Math.abs(hu) * extentU + Math.abs(hv);
      if (square >= (round ? hu * hu + hv * hv : reach * reach)) {
        if (h0 < 0 || (h0 === 0 && table.ownsEdge[list[k]!] === 0)) return -1;
        continue;
      }
      lines[write] = h0;
      lines[write + 1] = hu;
      lines[write + 2] = hv;
      write += 3;
    }
    return write / 3;
  }

  /** The nine numbers are those of the normal n(r): its products with the face as this receiver sees it. */
  private crossTurned(from: number, stop: number, first: number): number {
    const { table, list, at } = this;
    const { edges: rows, turned } = table;
    const { towards, halfU, halfV, round, extentU } = this.face;
    const tx = towards[0]!;
    const ty = towards[1]!;
    const tz = towards[2]!;
    const ux = halfU[0]!;
    const uy = halfU[1]!;
    const uz = halfU[2]!;
    const vx = halfV[0]!;
    const vy = halfV[1]!;
    const vz = halfV[2]!;
    const x = at[0]!;
    const y = at[1]!;
    let write = 3 * first;
    for (let k = from; k < stop; k++) {
      const edge = list[k]!;
      const i = edge * ROW;
      const j = edge * TURNED;
      const a = rows[i]! + rows[i + 1]! * x + rows[i + 2]! * y;
      const b = rows[i + 3]! + rows[i + 4]! * x + rows[i + 5]! * y;
      const c = rows[i + 6]! + rows[i + 7]! * x + rows[i + 8]! * y;
      const lift = turned[j]! + turned[j + 1]! * x + turned[j + 2]! * y;
      const h0 = a * tx + b * ty + c * tz + lift;
      const hu = a * ux + b * uy + c * uz;
      const hv = a * vx + b * vy + c * vz;
      const reach = round ? Math.sqrt(hu * hu + hv * hv) : Math.abs(hu) * extentU + Math.abs(hv);
      if (h0 >= reach || h0 <= -reach) {
        if (h0 < 0 || (h0 === 0 && table.ownsEdge[edge] === 0)) return -1;
        continue;
      }
      lines[write] = h0;
      lines[write + 1] = hu;
      lines[write + 2] = hv;
      write += 3;
    }
    return write / 3;
  }
}

/** One of the three numbers c, cx, cy of n(r)'s parts, at `first`, `first + 3` and `first + 6`, times a vector. */
function normalAlong(rows: Float64Array, first: number, vector: Float64Array): number {
  return rows[first]! * vector[0]! + rows[first + 3]! * vector[1]! + rows[first + 6]! * vector[2]!;
}
