/** What covers an emitter's face as one receiver sees it: edges across the face, by piece and by group. */
import {
  addGroup,
  clearCover,
  coefficient,
  coverNumbers,
  coverPlaces,
  COVERS,
  DARK,
  FIRST_OPEN,
  GROUP_CAPACITY,
  groupId,
  lineFrom,
  lines,
  lineTo,
  PIECE_CAPACITY,
  pieceFrom,
  pieceTo,
  through,
} from './kernelModule';
import type { EdgeGroup } from './edgeTable';

/** Numbers and places of a cover in the compiled kernel. */
const SHARE = 0;
const LEAVES = 1;
const OPEN_FROM = 0;
const OPEN_TO = 1;
const GROUP_FROM = 2;
const GROUP_TO = 3;
const PIECE_END = 4;
const LINE_END = 5;

/** One of the covers of the compiled kernel (kernel/cover.ts), each part's numbers behind those of what it is part of. */
export class FaceCover {
  readonly groups: readonly EdgeGroup[];
  /** Woven groups that cover the whole face. */
  wovenCount = 0;
  readonly woven: Int32Array;
  private readonly depth: number;
  private readonly numbers: Float64Array;
  private readonly places: Int32Array;
  private readonly weaves: Uint8Array;
  private readonly hasWeaves: boolean;

  /**
   * @param parent the cover that this one is part of
   * @throws {RangeError} if there is no room for so many parts of parts
   */
  constructor(groups: readonly EdgeGroup[], parent: FaceCover | null = null) {
    this.groups = groups;
    this.depth = parent === null ? 0 : parent.depth + 1;
    if (this.depth >= COVERS) throw new RangeError(`more than ${COVERS} covers, each of a part of the one before`);
    this.numbers = coverNumbers(this.depth);
    this.places = coverPlaces(this.depth);
    this.woven = new Int32Array(groups.length);
    this.weaves = Uint8Array.from(groups, ({ layer }) => (layer !== null && layer.weave !== null ? 1 : 0));
    this.hasWeaves = this.weaves.includes(1);
  }

  /** Transmittance of the groups that cover the whole face alike. */
  get share(): number {
    return this.numbers[SHARE]!;
  }

  /** Polygons that the expansion of the product over the groups may come to at most. */
  get leaves(): number {
    return this.numbers[LEAVES]!;
  }

  /** Lines of the convex part of the face that lets light through at all, as far as single groups tell. */
  get openFrom(): number {
    return this.places[OPEN_FROM]!;
  }
  get openTo(): number {
    return this.places[OPEN_TO]!;
  }

  /** Other groups that cover part of the face. */
  get groupFrom(): number {
    return this.places[GROUP_FROM]!;
  }
  get groupTo(): number {
    return this.places[GROUP_TO]!;
  }
  get pieceEnd(): number {
    return this.places[PIECE_END]!;
  }
  get lineEnd(): number {
    return this.places[LINE_END]!;
  }

  /** Starts anew, behind what the cover holds that this one is part of. */
  clear(): void {
    this.wovenCount = 0;
    clearCover(this.depth);
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
    const lineEnd = lineTo[end - 1]!;
    if (!(lineEnd <= FIRST_OPEN && end <= PIECE_CAPACITY && this.groupTo < GROUP_CAPACITY)) {
      throw tooManyEdges();
    }
    addGroup(this.depth, id, this.weaves[id] === 1, end, left);
  }

  /** A group that covers the whole face alike; false where it is opaque. */
  addWhole(id: number, left: number): boolean {
    if (this.weaves[id] === 1) {
      if (left < 0.5) this.woven[this.wovenCount++] = id;
      return true;
    }
    if (left < DARK) return false;
    this.numbers[SHARE]! *= left;
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
   * @throws {RangeError} if more edges cross the parts than are kept
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
        if (end + lineTo[whole]! - lineFrom[whole]! > FIRST_OPEN) throw tooManyEdges();
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

export const tooManyEdges = (): RangeError =>
  new RangeError(`more than ${FIRST_OPEN} edges cross the light of one lamp at one place`);
