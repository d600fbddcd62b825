/** What covers the face as one receiver sees it: edges across the face, by piece and by group. */
import { GROUP_CAPACITY, Marks, Numbers, PIECE_CAPACITY, Places } from './memory';
import { FIRST_LINE, FIRST_OPEN, lines } from './patches';

/** A transmittance below this is darkness left over from rounding. */
export const DARK: f64 = 1e-12;

/** Pieces that cover part of the face: what each adds to the transmittance of its group, and its lines across the face. */
export const coefficient = changetype<Numbers>(memory.data(8 * PIECE_CAPACITY, 16));
export const lineFrom = changetype<Places>(memory.data(4 * PIECE_CAPACITY, 16));
export const lineTo = changetype<Places>(memory.data(4 * PIECE_CAPACITY, 16));

/** Groups that cover part of the face: which, their pieces, what the pieces that cover all of it leave, 1 if woven. */
export const groupId = changetype<Places>(memory.data(4 * GROUP_CAPACITY, 16));
export const pieceFrom = changetype<Places>(memory.data(4 * GROUP_CAPACITY, 16));
export const pieceTo = changetype<Places>(memory.data(4 * GROUP_CAPACITY, 16));
export const through = changetype<Numbers>(memory.data(8 * GROUP_CAPACITY, 16));
export const isWoven = changetype<Marks>(memory.data(GROUP_CAPACITY, 16));

/** Covers that there is room for: that of the face, of one of its quarters, of a quarter of that, and so on. */
export const COVERS = 8;

@unmanaged
export class Cover {
  /** Transmittance of the groups that cover the whole face alike. */
  share: f64;
  /** Polygons that the expansion of the product over the groups may come to at most. */
  leaves: f64;
  /** Lines of the convex part of the face that lets light through at all, as far as single groups tell. */
  openFrom: i32;
  openTo: i32;
  /** Other groups that cover part of the face. */
  groupFrom: i32;
  groupTo: i32;
  pieceEnd: i32;
  lineEnd: i32;

  /** A group of which pieces from `pieceEnd` up to `end` cover part of the face, the others leave `left`. */
  addGroup(id: i32, woven: boolean, end: i32, left: f64): void {
    const first = this.pieceEnd;
    this.pieceEnd = end;
    this.lineEnd = lineTo[end - 1];
    if (!woven && this.addOpen(first, end, left)) return;
    const n = this.groupTo++;
    const isDark = Math.abs(left) < DARK;
    groupId[n] = id;
    isWoven[n] = woven ? 1 : 0;
    pieceFrom[n] = first;
    pieceTo[n] = end;
    through[n] = isDark ? 0 : left;
    // What threads let through beside the pieces is not dark, it is one with what the others let through.
    this.leaves *= end - first + (isDark && !woven ? 0 : 1);
  }

  /**
   * A group that lets light through in one convex part of the face only: in a hole, or beside opaque pieces of which one
   * edge each crosses the face (pieces of a group do not overlap). Then one cut stands for a sum over its pieces.
   */
  private addOpen(first: i32, end: i32, left: f64): boolean {
    const isHole = Math.abs(left) < DARK;
    if (isHole && end - first > 1) return false;
    for (let piece = first; !isHole && piece < end; piece++) {
      if (lineTo[piece] - lineFrom[piece] > 1) return false;
      if (Math.abs(coefficient[piece] + left) >= DARK) return false;
    }
    const sign: f64 = isHole ? 1 : -1;
    let write = this.openTo;
    for (let read = lineFrom[first]; read < lineTo[end - 1]; read++) {
      lines.put(write++, sign * lines.h0(read), sign * lines.hu(read), sign * lines.hv(read));
    }
    this.openTo = write;
    this.share *= isHole ? coefficient[first] : left;
    return true;
  }
}

/** The covers, by depth. */
export const covers = memory.data(COVERS * offsetof<Cover>(), 16);

export function coverAt(depth: i32): Cover {
  return changetype<Cover>(covers + depth * offsetof<Cover>());
}

/** Starts a cover anew, behind what the cover holds that it is a quarter of. */
export function clearCover(depth: i32): void {
  const cover = coverAt(depth);
  const isWhole = depth === 0;
  const parent = coverAt(isWhole ? 0 : depth - 1);
  cover.share = 1;
  cover.leaves = 1;
  cover.groupFrom = isWhole ? 0 : parent.groupTo;
  cover.groupTo = cover.groupFrom;
  cover.pieceEnd = isWhole ? 0 : parent.pieceEnd;
  cover.lineEnd = isWhole ? FIRST_LINE : parent.lineEnd;
  cover.openFrom = isWhole ? FIRST_OPEN : parent.openTo;
  cover.openTo = cover.openFrom;
}

/** A group of the cover at a depth, see `Cover`. */
export function addGroup(depth: i32, id: i32, woven: boolean, end: i32, left: f64): void {
  coverAt(depth).addGroup(id, woven, end, left);
}
