/** What covers an emitter's face as one receiver sees it: edges across the face, by piece and by group. */
import { FIRST_LINE, LINE_CAPACITY, lines } from './patches';
import type { EdgeGroup } from './edgeTable';

/** A transmittance below this is darkness left over from rounding. */
export const DARK = 1e-12;

/** Pieces and groups of all covers under way. */
const PIECE_CAPACITY = 1 << 16;
export const GROUP_CAPACITY = 1 << 14;

/**
 * What covers the face and the parts of it, each cover's numbers behind those of the cover that it is part of. One integral
 * is under way at a time: constants of the module are reached quicker than fields.
 */
export const coefficient = new Float64Array(PIECE_CAPACITY);
/** Lines of a piece across the face, in `lines`. */
export const lineFrom = new Int32Array(PIECE_CAPACITY);
export const lineTo = new Int32Array(PIECE_CAPACITY);
/** Groups that cover part of the face: their pieces, and what the pieces that cover all of it leave. */
export const groupId = new Int32Array(GROUP_CAPACITY);
export const pieceFrom = new Int32Array(GROUP_CAPACITY);
export const pieceTo = new Int32Array(GROUP_CAPACITY);
export const through = new Float64Array(GROUP_CAPACITY);

/** Lines of the open part of the face lie apart. */
const FIRST_OPEN = LINE_CAPACITY / 2;

export class FaceCover {
  readonly groups: readonly EdgeGroup[];
  /** The cover that this one is part of. */
  private readonly parent: FaceCover | null;
  /** Transmittance of the groups that cover the whole face alike. */
  share = 1;
  /** Woven groups that cover the whole face. */
  wovenCount = 0;
  readonly woven: Int32Array;
  /** Polygons that the expansion of the product over the groups may come to at most. */
  leaves = 1;
  /** Lines of the convex part of the face that lets light through at all, as far as single groups tell. */
  openFrom = FIRST_OPEN;
  openTo = FIRST_OPEN;
  /** Other groups that cover part of the face. */
  groupFrom = 0;
  groupTo = 0;
  pieceEnd = 0;
  lineEnd = FIRST_LINE;
  private readonly weaves: Uint8Array;
  private readonly hasWeaves: boolean;

  constructor(groups: readonly EdgeGroup[], parent: FaceCover | null = null) {
    this.groups = groups;
    this.parent = parent;
    this.woven = new Int32Array(groups.length);
    this.weaves = Uint8Array.from(groups, ({ layer }) => (layer !== null && layer.weave !== null ? 1 : 0));
    this.hasWeaves = this.weaves.includes(1);
  }

  /** Starts anew, behind what the cover holds that this one is part of. */
  clear(): void {
    const { parent } = this;
    this.share = 1;
    this.leaves = 1;
    this.wovenCount = 0;
    this.groupFrom = parent === null ? 0 : parent.groupTo;
    this.groupTo = this.groupFrom;
    this.pieceEnd = parent === null ? 0 : parent.pieceEnd;
    this.lineEnd = parent === null ? FIRST_LINE : parent.lineEnd;
    this.openFrom = parent === null ? FIRST_OPEN : parent.openTo;
    this.openTo = this.openFrom;
  }

  /** True where group n of those that cover part of the face is woven. */
  isWoven(n: number): boolean {
    return this.hasWeaves && this.weaves[groupId[n]!] === 1;
  }

  meetsWeave(): boolean {
    if (!this.hasWeaves) return false;
    if (this.wovenCount > 0) return true;
    for (let n = this.groupFrom; n < this.groupTo; n++) if (this.isWoven(n)) return true;
    return false;
  }

  /** Least height of the vector `towards` over the nets that it meets, m: how steeply the face is seen through a weave. */
  leastOverWeaves(towards: Float64Array): number {
    let least = Infinity;
    for (let i = 0; i < this.wovenCount; i++) least = Math.min(least, this.overWeave(this.woven[i]!, towards));
    for (let n = this.groupFrom; n < this.groupTo; n++) {
      if (this.isWoven(n)) least = Math.min(least, this.overWeave(groupId[n]!, towards));
    }
    return least;
  }

  private overWeave(id: number, towards: Float64Array): number {
    const [x, y, z] = this.groups[id]!.layer!.weave!.frame.forward;
    return Math.abs(x * towards[0]! + y * towards[1]! + z * towards[2]!);
  }

  /**
   * A group of which pieces from `pieceEnd` up to `end` cover part of the face, the others leave `left`.
   * @throws {RangeError} if more edges cross the face than are kept
   */
  addGroup(id: number, end: number, left: number): void {
    const first = this.pieceEnd;
    this.pieceEnd = end;
    this.lineEnd = lineTo[end - 1]!;
    if (!(this.lineEnd <= FIRST_OPEN && end <= PIECE_CAPACITY && this.groupTo < GROUP_CAPACITY)) {
      throw new RangeError(`more than ${FIRST_OPEN} edges cross the light of one lamp at one place`);
    }
    if (this.weaves[id] === 0 && this.addOpen(first, end, left)) return;
    const n = this.groupTo++;
    const isDark = Math.abs(left) < DARK;
    groupId[n] = id;
    pieceFrom[n] = first;
    pieceTo[n] = end;
    through[n] = isDark ? 0 : left;
    this.leaves *= end - first + (isDark ? 0 : 1);
  }

  /**
   * A group that lets light through in one convex part of the face only: in a hole, or beside opaque pieces of which one
   * edge each crosses the face (pieces of a group do not overlap). Then one cut stands for a sum over its pieces.
   */
  private addOpen(first: number, end: number, left: number): boolean {
    const isHole = Math.abs(left) < DARK;
    if (isHole && end - first > 1) return false;
    for (let piece = first; !isHole && piece < end; piece++) {
      if (lineTo[piece]! - lineFrom[piece]! > 1) return false;
      if (Math.abs(coefficient[piece]! + left) >= DARK) return false;
    }
    const sign = isHole ? 1 : -1;
    let write = 3 * this.openTo;
    for (let read = 3 * lineFrom[first]!; read < 3 * lineTo[end - 1]!; read++) lines[write++] = sign * lines[read]!;
    this.openTo = write / 3;
    this.share *= isHole ? coefficient[first]! : left;
    return true;
  }

  /** A group that covers the whole face alike; false where it is opaque. */
  addWhole(id: number, left: number): boolean {
    if (this.weaves[id] === 1) {
      if (left < 0.5) this.woven[this.wovenCount++] = id;
      return true;
    }
    if (left < DARK) return false;
    this.share *= left;
    return true;
  }

  /** Least and most that the groups let through anywhere on the face, whole covers left out. */
  bounds(): [least: number, most: number] {
    let least = 1;
    let most = 1;
    for (let n = this.groupFrom; n < this.groupTo; n++) {
      let low = through[n]!;
      let high = low;
      for (let piece = pieceFrom[n]!; piece < pieceTo[n]!; piece++) {
        low += Math.min(0, coefficient[piece]!);
        high += Math.max(0, coefficient[piece]!);
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
    for (let n = this.groupFrom; n < this.groupTo; n++) {
      const id = groupId[n]!;
      const first = into.pieceEnd;
      let piece = first;
      let end = into.lineEnd;
      let left = through[n]!;
      for (let whole = pieceFrom[n]!; whole < pieceTo[n]!; whole++) {
        const found = crossCell(whole, cell, end);
        if (found === end) left += coefficient[whole]!;
        else if (found > end) {
          coefficient[piece] = coefficient[whole]!;
          lineFrom[piece] = end;
          lineTo[piece++] = found;
          end = found;
        }
      }
      if (piece > first) into.addGroup(id, piece, left);
      else if (!into.addWhole(id, left)) return false;
    }
    return true;
  }
}

/** Copies the lines of a piece that cross the cell to `first` on; their end, or -1 where the piece is beside the cell. */
function crossCell(piece: number, cell: Float64Array, first: number): number {
  let write = 3 * first;
  for (let read = 3 * lineFrom[piece]!; read < 3 * lineTo[piece]!; read += 3) {
    const h0 = lines[read]!;
    const hu = lines[read + 1]!;
    const hv = lines[read + 2]!;
    const middle = h0 + hu * cell[0]! + hv * cell[1]!;
    const reach = Math.abs(hu) * cell[2]! + Math.abs(hv) * cell[3]!;
    if (middle <= -reach) return -1;
    if (middle >= reach) continue;
    lines[write] = h0;
    lines[write + 1] = hu;
    lines[write + 2] = hv;
    write += 3;
  }
  return write / 3;
}
