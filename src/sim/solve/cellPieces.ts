/**
 * Lays out the pieces that may cover a face from the receivers of one cell, once for all of them, for the compiled kernel
 * (kernel/heldCell.ts): groups, their pieces, these pieces' edges.
 */
import {
  HELD_EDGES,
  HELD_GROUPS,
  HELD_PIECES,
  heldCoefficient,
  heldEdgeEnd,
  heldOwns,
  heldPieceEnd,
  heldRow,
  heldThrough,
  ROW,
} from './kernelModule';

export class CellPieces {
  /** What the groups let through that cover the whole face from everywhere in the cell. */
  share = 1;
  groupCount = 0;
  private pieceCount = 0;
  private edgeCount = 0;

  clear(): void {
    this.share = 1;
    this.groupCount = 0;
    this.pieceCount = 0;
    this.edgeCount = 0;
  }

  /** Whether so many groups, pieces and edges can be laid out. */
  hasRoomFor(groups: number, pieces: number, edges: number): boolean {
    return groups <= HELD_GROUPS && pieces <= HELD_PIECES && edges <= HELD_EDGES;
  }

  /** Starts a group whose pieces follow. */
  addGroup(through: number): void {
    heldThrough[this.groupCount] = through;
    heldPieceEnd[this.groupCount++] = this.pieceCount;
  }

  /** Starts a piece of the last group; its edges follow. */
  addPiece(coefficient: number): void {
    heldCoefficient[this.pieceCount] = coefficient;
    heldEdgeEnd[this.pieceCount++] = this.edgeCount;
    heldPieceEnd[this.groupCount - 1] = this.pieceCount;
  }

  /** An edge of the last piece, from its row in a table. */
  addEdge(from: Float64Array, edge: number, owns: number): void {
    const read = edge * ROW;
    const write = this.edgeCount * ROW;
    for (let i = 0; i < ROW; i++) heldRow[write + i] = from[read + i]!;
    heldOwns[this.edgeCount++] = owns;
    heldEdgeEnd[this.pieceCount - 1] = this.edgeCount;
  }
}
