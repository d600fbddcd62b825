/**
 * The pieces that may cover a face from the receivers of one cell, laid out once for all of them in the order in which each
 * reads them: groups, their pieces, these pieces' edges.
 */
import { lines } from './patches';
import { ROW, type EdgeTable } from './edgeTable';
import type { EmitterFace } from './emitterFace';
import { coefficient, DARK, lineFrom, lineTo, type FaceCover } from './faceCover';

export class CellPieces {
  /** What the groups let through that cover the whole face from everywhere in the cell. */
  share = 1;
  private readonly face: EmitterFace;
  private groupCount = 0;
  private pieceCount = 0;
  private edgeCount = 0;
  /** Of each group: which it is, where its pieces end, and what those that cover the whole face leave. */
  private readonly ids: Int32Array;
  private readonly pieceEnds: Int32Array;
  private readonly covers: Float64Array;
  /** Of each piece, where its edges end. */
  private readonly edgeEnds: Int32Array;
  private readonly coefficients: Float64Array;
  /** Of each edge the nine numbers of h0, hu, hv, and whether a ray exactly on it counts as inside. */
  private readonly rows: Float64Array;
  private readonly owns: Uint8Array;

  constructor(table: EdgeTable, face: EmitterFace) {
    const pieces = table.pieceGroup.length;
    this.face = face;
    this.ids = new Int32Array(table.groups.length);
    this.pieceEnds = new Int32Array(table.groups.length);
    this.covers = new Float64Array(table.groups.length);
    this.edgeEnds = new Int32Array(pieces);
    this.coefficients = new Float64Array(pieces);
    this.rows = new Float64Array(table.edges.length);
    this.owns = new Uint8Array(table.ownsEdge.length);
  }

  clear(): void {
    this.share = 1;
    this.groupCount = 0;
    this.pieceCount = 0;
    this.edgeCount = 0;
  }

  /** Starts a group whose pieces follow. */
  addGroup(id: number, cover: number): void {
    this.ids[this.groupCount] = id;
    this.covers[this.groupCount] = cover;
    this.pieceEnds[this.groupCount++] = this.pieceCount;
  }

  /** Starts a piece of the last group; its edges follow. */
  addPiece(opacity: number): void {
    this.coefficients[this.pieceCount] = opacity;
    this.edgeEnds[this.pieceCount++] = this.edgeCount;
    this.pieceEnds[this.groupCount - 1] = this.pieceCount;
  }

  /** An edge of the last piece, from its row in a table. */
  addEdge(from: Float64Array, edge: number, owns: number): void {
    const { rows } = this;
    const read = edge * ROW;
    const write = this.edgeCount * ROW;
    for (let i = 0; i < ROW; i++) rows[write + i] = from[read + i]!;
    this.owns[this.edgeCount++] = owns;
    this.edgeEnds[this.pieceCount - 1] = this.edgeCount;
  }

  /**
   * Finds what covers the face of the receiver at (x, y).
   * @param cover is written over
   * @returns false where no light comes through
   */
  gather(x: number, y: number, cover: FaceCover): boolean {
    const { ids, pieceEnds, covers, edgeEnds, coefficients, rows, owns } = this;
    const { round, extentU } = this.face;
    cover.clear();
    cover.share = this.share;
    let piece = 0;
    let edge = 0;
    for (let group = 0; group < this.groupCount; group++) {
      const first = cover.pieceEnd;
      const pieceEnd = pieceEnds[group]!;
      let crossing = first;
      let line = cover.lineEnd;
      let left = covers[group]!;
      for (; piece < pieceEnd; piece++) {
        const start = line;
        const end = edgeEnds[piece]!;
        let isInside = true;
        for (; edge < end; edge++) {
          const i = edge * ROW;
          const h0 = rows[i]! + rows[i + 1]! * x + rows[i + 2]! * y;
          const hu = rows[i + 3]! + rows[i + 4]! * x + rows[i + 5]! * y;
          const hv = rows[i + 6]! + rows[i + 7]! * x + rows[i + 8]! * y;
          const reach = Math.abs(hu) * extentU + Math.abs(hv);
          if (h0 * h0 < (round ? hu * hu + hv * hv : reach * reach)) {
            lines[3 * line] = h0;
            lines[3 * line + 1] = hu;
            lines[3 * line + 2] = hv;
            line++;
          } else if (h0 < 0 || (h0 === 0 && owns[edge] === 0)) {
            isInside = false;
            break;
          }
        }
        edge = end;
        if (!isInside) {
          line = start;
          continue;
        }
        if (line === start) left += coefficients[piece]!;
        else {
          coefficient[crossing] = coefficients[piece]!;
          lineFrom[crossing] = start;
          lineTo[crossing++] = line;
        }
      }
      if (crossing > first) cover.addGroup(ids[group]!, crossing, left);
      else if (left < DARK) return false;
      else cover.share *= left;
    }
    return true;
  }
}
