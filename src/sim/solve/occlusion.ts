/**
 * What stands between an emitter and one receiver of a cell: `gather` sorts the pieces of the cell's list for the receiver
 * and leaves the edges that cross the face it sees.
 */
import type { Vec3 } from '../../scene/geometry/vector';
import { CellPieces } from './cellPieces';
import { coefficient, DARK, FIRST_OPEN, lineFrom, lines, lineTo, ROW } from './kernelModule';
import { TURNED, type EdgeTable } from './edgeTable';
import type { EmitterFace } from './emitterFace';
import { FaceCover, tooManyEdges } from './faceCover';
import { PieceLists } from './pieceLists';

export class Occlusion extends PieceLists {
  /** What `gather` found. */
  readonly cover: FaceCover;
  /** Gate parts that only the kernel can tell, because they are soft over the face. */
  softGate = 0;

  /** Rows of the edges that cross a face at its present place, nine numbers each: the table's, or those of a held face. */
  private rows: Float64Array;
  private turning: boolean;
  private readonly cellPieces = new CellPieces();
  private readonly heldRows: Float64Array;

  /**
   * @param axis, radiusM the emitter's body, where its face turns with the receiver
   * @param levels        cells within cells that `narrow` may go down
   */
  constructor(table: EdgeTable, face: EmitterFace, axis: Vec3, radiusM: number, levels: number) {
    super(table, face, axis, radiusM, levels);
    this.rows = table.edges;
    this.turning = table.turning;
    this.heldRows = new Float64Array(table.turning ? table.edges.length : 0);
    this.cover = new FaceCover(table.groups);
  }

  /**
   * Finds what covers the face of the receiver `at`, from the list of the cell at `level`.
   * @param roles bits of the things that count, and of the gate parts that count as hard edges
   * @param soft  bits of the gate parts that are smooth over the face
   * @returns false where no light comes through
   * @throws {RangeError} if more edges cross the face than are kept
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
          if (to + stop - read > FIRST_OPEN) throw tooManyEdges();
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

  /** Whether the whole table can be laid out for the receivers of a cell. */
  canLay(): boolean {
    const { groups, pieceGroup, ownsEdge } = this.table;
    return !this.hasWeaves && this.cellPieces.hasRoomFor(groups.length, pieceGroup.length, ownsEdge.length);
  }

  /**
   * Lays out the list of the cell at `level` for the compiled kernel: of a face that stands still or is held, behind
   * neither weaves nor the gate of a projection spot.
   */
  lay(level: number, roles: number): CellPieces {
    const { list, covers, groupTotal, table, cellPieces, bits, rows } = this;
    cellPieces.clear();
    cellPieces.share = this.shareAt(level, roles)!;
    let read = this.from[level]!;
    const end = this.to[level]!;
    let last = -1;
    while (read < end) {
      const piece = list[read]!;
      const id = table.pieceGroup[piece]!;
      const stop = read + 2 + list[read + 1]!;
      if ((bits[id]! & roles) !== 0) {
        if (id !== last) cellPieces.addGroup(covers[level * groupTotal + id]!);
        last = id;
        cellPieces.addPiece(table.coefficients[piece]!);
        for (let k = read + 2; k < stop; k++) cellPieces.addEdge(rows, list[k]!, table.ownsEdge[list[k]!]!);
      }
      read = stop;
    }
    return cellPieces;
  }

  release(): void {
    this.rows = this.table.edges;
    this.turning = this.table.turning;
  }

  /** Share of a point source's light that comes to the receiver `at`, from the list of the cell at `level`; not past weaves. */
  pointShare(level: number, roles: number): number {
    const { list, groupTotal, covers, bits, table, at } = this;
    let passed = this.shareAt(level, roles)!;
    let read = this.from[level]!;
    const end = this.to[level]!;
    while (read < end) {
      const id = table.pieceGroup[list[read]!]!;
      let left = covers[level * groupTotal + id]!;
      do {
        const stop = read + 2 + list[read + 1]!;
        if (this.isInside(read + 2, stop, at[0]!, at[1]!)) left += table.coefficients[list[read]!]!;
        read = stop;
      } while (read < end && table.pieceGroup[list[read]!] === id);
      if ((bits[id]! & roles) === 0) continue;
      if (left < DARK) return 0;
      passed *= left;
    }
    return passed;
  }

  /** Whether a point source at its place is seen within all the edges listed. */
  private isInside(from: number, stop: number, x: number, y: number): boolean {
    const { list, rows, table } = this;
    for (let k = from; k < stop; k++) {
      const i = list[k]! * ROW;
      const h0 = rows[i]! + rows[i + 1]! * x + rows[i + 2]! * y;
      if (h0 < 0 || (h0 === 0 && table.ownsEdge[list[k]!] === 0)) return false;
    }
    return true;
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
