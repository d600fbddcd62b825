/** Convex clipping of patches of a face, on flat arrays without allocation. */
import { clipCircle, NO_RING } from './circleRing';
import { arcs, CELL_LINE, corners, lines } from './patches';

/** Of an arc this short (square of its chord) rounding tells where its ends lie; a line cuts it as it cuts its chord. */
const SHORT_ARC_SQUARE = 1e-18;

const HALF_ROOT_3 = Math.sqrt(3) / 2;

/** Where the last clipped patch lies: one number. */
export const clippedAt = new Int32Array(1);

/**
 * The arc that a line leaves of the whole circle, in as many parts as keep each within a third of a turn: marks its first
 * corner, at `write`, and puts those between its ends. @returns the place of its last corner
 */
function startSegment(write: number, hu: number, hv: number, h0: number, square: number): number {
  arcs[write++] = 1;
  if (h0 <= 0 && 4 * h0 * h0 >= square) return write;
  const perLength = 1 / Math.sqrt(square);
  const u = hu * perLength;
  const v = hv * perLength;
  if (4 * h0 * h0 < square) {
    corners[2 * write] = u;
    corners[2 * write + 1] = v;
    arcs[write++] = 1;
    return write;
  }
  for (let sign = -1; sign <= 1; sign += 2) {
    corners[2 * write] = u / 2 - sign * HALF_ROOT_3 * v;
    corners[2 * write + 1] = v / 2 + sign * HALF_ROOT_3 * u;
    arcs[write++] = 1;
  }
  return write;
}

/**
 * Clips the patch at `from` to the lines from `first` up to `end`. What is left lies at `clippedAt`, behind the patch, which
 * stays as it is.
 * @returns its number of corners; 0 where nothing is left
 */
export function clipPatch(round: boolean, from: number, count: number, first: number, end: number): number {
  if (!round) return clipStraight(from, count, first, end);
  if (from > 0 || end - first < 2) return clipRound(from, count, first, end);
  clippedAt[0] = count;
  const left = clipCircle(count, first, end);
  return left === NO_RING ? clipRound(from, count, first, end) : left;
}

/** As `clipPatch`, to a cell of the face (middle u, v and half sizes), along the axes asked for. */
export function clipToCell(
  round: boolean,
  from: number,
  count: number,
  cell: Float64Array,
  cutU: boolean,
  cutV: boolean,
): number {
  let left = count;
  clippedAt[0] = from;
  for (let side = 0; side < 4 && left > 0; side++) {
    const alongU = side < 2;
    if (alongU ? !cutU : !cutV) continue;
    const sign = side % 2 === 0 ? 1 : -1;
    const axis = alongU ? 0 : 1;
    lines[3 * CELL_LINE] = cell[2 + axis]! - sign * cell[axis]!;
    lines[3 * CELL_LINE + 1] = alongU ? sign : 0;
    lines[3 * CELL_LINE + 2] = alongU ? 0 : sign;
    left = clipPatch(round, clippedAt[0]!, left, CELL_LINE, CELL_LINE + 1);
  }
  return left;
}

function clipStraight(from: number, count: number, first: number, end: number): number {
  let read = 2 * from;
  let readEnd = 2 * (from + count);
  for (let edge = 3 * first; edge < 3 * end; edge += 3) {
    const h0 = lines[edge]!;
    const hu = lines[edge + 1]!;
    const hv = lines[edge + 2]!;
    let write = readEnd;
    let u = corners[readEnd - 2]!;
    let v = corners[readEnd - 1]!;
    let before = h0 + hu * u + hv * v;
    for (let i = read; i < readEnd; i += 2) {
      const nextU = corners[i]!;
      const nextV = corners[i + 1]!;
      const after = h0 + hu * nextU + hv * nextV;
      if (before < 0 ? after >= 0 : after < 0) {
        const t = before / (before - after);
        corners[write] = u + t * (nextU - u);
        corners[write + 1] = v + t * (nextV - v);
        write += 2;
      }
      if (after >= 0) {
        corners[write] = nextU;
        corners[write + 1] = nextV;
        write += 2;
      }
      u = nextU;
      v = nextV;
      before = after;
    }
    read = readEnd;
    readEnd = write;
    if (readEnd - read < 6) return 0;
  }
  clippedAt[0] = read >> 1;
  return (readEnd - read) >> 1;
}

/** As above where some sides are arcs: a line meets the circle in two points, and each arc holds none, one or both. */
function clipRound(from: number, count: number, first: number, last: number): number {
  let read = from;
  let readEnd = from + count;
  for (let edge = 3 * first; edge < 3 * last; edge += 3) {
    const h0 = lines[edge]!;
    const hu = lines[edge + 1]!;
    const hv = lines[edge + 2]!;
    const square = hu * hu + hv * hv;
    const beyond = square - h0 * h0;
    if (beyond <= 0) {
      if (h0 < 0) return 0;
      continue; // the whole circle is on the kept side
    }
    // Where the line meets the circle, going counter-clockwise: into the kept side, out of it.
    const scale = 1 / square;
    const along = -h0 * scale;
    const across = Math.sqrt(beyond) * scale;
    const inU = hu * along + hv * across;
    const inV = hv * along - hu * across;
    const outU = hu * along - hv * across;
    const outV = hv * along + hu * across;
    let write = readEnd;
    if (read === 0) {
      write = startSegment(write, hu, hv, h0, square);
      corners[2 * readEnd] = inU;
      corners[2 * readEnd + 1] = inV;
      corners[2 * write] = outU;
      corners[2 * write + 1] = outV;
      arcs[write++] = 0;
      read = readEnd;
      readEnd = write;
      continue;
    }
    let u = corners[2 * readEnd - 2]!;
    let v = corners[2 * readEnd - 1]!;
    let isArc = arcs[readEnd - 1] === 1;
    let before = h0 + hu * u + hv * v;
    let kept = before >= 0;
    for (let i = read; i < readEnd; i++) {
      const nextU = corners[2 * i]!;
      const nextV = corners[2 * i + 1]!;
      const after = h0 + hu * nextU + hv * nextV;
      const keeps = after >= 0;
      const chordSquare = (nextU - u) * (nextU - u) + (nextV - v) * (nextV - v);
      if (!isArc || chordSquare < SHORT_ARC_SQUARE) {
        if (kept !== keeps) {
          const t = before / (before - after);
          corners[2 * write] = u + t * (nextU - u);
          corners[2 * write + 1] = v + t * (nextV - v);
          arcs[write++] = keeps && isArc ? 1 : 0;
        }
      } else if (kept !== keeps) {
        corners[2 * write] = keeps ? inU : outU;
        corners[2 * write + 1] = keeps ? inV : outV;
        arcs[write++] = keeps ? 1 : 0;
      } else {
        // Both ends on one side: the arc holds both points if it spans the line's normal there, or else none.
        const turn = u * hv - v * hu;
        const nextTurn = hu * nextV - hv * nextU;
        if (keeps ? turn < 0 && nextTurn < 0 : turn > 0 && nextTurn > 0) {
          corners[2 * write] = keeps ? outU : inU;
          corners[2 * write + 1] = keeps ? outV : inV;
          arcs[write++] = keeps ? 0 : 1;
          corners[2 * write] = keeps ? inU : outU;
          corners[2 * write + 1] = keeps ? inV : outV;
          arcs[write++] = keeps ? 1 : 0;
        }
      }
      isArc = arcs[i] === 1;
      if (keeps) {
        corners[2 * write] = nextU;
        corners[2 * write + 1] = nextV;
        arcs[write++] = isArc ? 1 : 0;
      }
      u = nextU;
      v = nextV;
      before = after;
      kept = keeps;
    }
    read = readEnd;
    readEnd = write;
    if (readEnd - read < 2) return 0;
  }
  clippedAt[0] = read;
  return readEnd - read;
}
