/** Convex clipping of patches of a face, without allocation. */
import { clipCircle, NO_RING } from './circleRing';
import { refuseCorners } from './host';
import { CORNER_CAPACITY, Places } from './memory';
import { arcs, cell, CELL_LINE, corners, lines } from './patches';

/** Of an arc this short (square of its chord) rounding tells where its ends lie; a line cuts it as it cuts its chord. */
const SHORT_ARC_SQUARE: f64 = 1e-18;

const HALF_ROOT_3: f64 = 0.8660254037844386;

/** Corners that the cuts of one patch may take before the last is moved back to where the first lay. */
const ROOM = 2_000;
/** Corners that a line, or a line of a ring, adds at most. */
const MOST_ADDED = 6;

/** Where the last clipped patch lies: one number. */
export const clippedAt = changetype<Places>(memory.data(4, 16));

/**
 * Clips the patch at `from` to the lines from `first` up to `end`. What is left lies at `clippedAt`, behind the patch, which
 * stays as it is.
 * @returns its number of corners; 0 where nothing is left
 */
export function clipPatch(round: boolean, from: i32, count: i32, first: i32, end: i32): i32 {
  if (from + 2 * (count + ROOM) + MOST_ADDED > CORNER_CAPACITY) refuseCorners();
  if (!round) return clipStraight(from, count, first, end);
  const fits = count + MOST_ADDED * (end - first) < CORNER_CAPACITY;
  if (from > 0 || end - first < 2 || !fits) return clipRound(from, count, first, end);
  clippedAt[0] = count;
  const left = clipCircle(count, first, end);
  return left === NO_RING ? clipRound(from, count, first, end) : left;
}

/** As `clipPatch`, to the present cell of the face, along the axes asked for. */
export function clipToCell(round: boolean, from: i32, count: i32, cutU: boolean, cutV: boolean): i32 {
  let left = count;
  clippedAt[0] = from;
  for (let side = 0; side < 4 && left > 0; side++) {
    const alongU = side < 2;
    if (alongU ? !cutU : !cutV) continue;
    const sign: f64 = side % 2 === 0 ? 1 : -1;
    const axis = alongU ? 0 : 1;
    lines.put(CELL_LINE, cell[2 + axis] - sign * cell[axis], alongU ? sign : 0, alongU ? 0 : sign);
    left = clipPatch(round, clippedAt[0], left, CELL_LINE, CELL_LINE + 1);
  }
  return left;
}

function clipStraight(from: i32, count: i32, first: i32, end: i32): i32 {
  const whole = from + count;
  const far = whole + ROOM;
  let read = from;
  let readEnd = whole;
  for (let edge = first; edge < end; edge++) {
    if (readEnd > far) {
      readEnd = moveBack(read, readEnd, whole);
      if (read > whole) read = whole;
    }
    const h0 = lines.h0(edge);
    const hu = lines.hu(edge);
    const hv = lines.hv(edge);
    let write = readEnd;
    let u = corners.u(readEnd - 1);
    let v = corners.v(readEnd - 1);
    let before = h0 + hu * u + hv * v;
    for (let i = read; i < readEnd; i++) {
      const nextU = corners.u(i);
      const nextV = corners.v(i);
      const after = h0 + hu * nextU + hv * nextV;
      if (before < 0 ? after >= 0 : after < 0) {
        const t = before / (before - after);
        corners.put(write, u + t * (nextU - u), v + t * (nextV - v));
        write++;
      }
      if (after >= 0) {
        corners.put(write, nextU, nextV);
        write++;
      }
      u = nextU;
      v = nextV;
      before = after;
    }
    read = readEnd;
    readEnd = write;
    if (readEnd - read < 3) return 0;
  }
  clippedAt[0] = read;
  return readEnd - read;
}

/**
 * Moves a patch back to a place, if it lies behind that, and looks whether there is room to cut it on.
 * @param from, end the patch
 * @returns its new end
 */
function moveBack(from: i32, end: i32, to: i32): i32 {
  let newEnd = end;
  if (from > to) {
    newEnd = to;
    for (let read = from; read < end; read++) {
      corners.put(newEnd, corners.u(read), corners.v(read));
      arcs[newEnd++] = arcs[read];
    }
  }
  if (newEnd + (end - from) + MOST_ADDED > CORNER_CAPACITY) refuseCorners();
  return newEnd;
}

/**
 * As above where some sides are arcs: a line meets the circle in two points, and each arc holds none, one or both. All in one
 * loop: parted, every side of every patch would cost a call.
 */
function clipRound(from: i32, count: i32, first: i32, end: i32): i32 {
  const whole = from + count;
  const far = whole + ROOM;
  let read = from;
  let readEnd = whole;
  for (let edge = first; edge < end; edge++) {
    if (readEnd > far) {
      readEnd = moveBack(read, readEnd, whole);
      if (read > whole) read = whole;
    }
    const h0 = lines.h0(edge);
    const hu = lines.hu(edge);
    const hv = lines.hv(edge);
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
      corners.put(readEnd, inU, inV);
      corners.put(write, outU, outV);
      arcs[write++] = 0;
      read = readEnd;
      readEnd = write;
      continue;
    }
    let u = corners.u(readEnd - 1);
    let v = corners.v(readEnd - 1);
    let isArc = arcs[readEnd - 1] === 1;
    let before = h0 + hu * u + hv * v;
    let kept = before >= 0;
    for (let i = read; i < readEnd; i++) {
      const nextU = corners.u(i);
      const nextV = corners.v(i);
      const after = h0 + hu * nextU + hv * nextV;
      const keeps = after >= 0;
      const chordSquare = (nextU - u) * (nextU - u) + (nextV - v) * (nextV - v);
      if (!isArc || chordSquare < SHORT_ARC_SQUARE) {
        if (kept !== keeps) {
          const t = before / (before - after);
          corners.put(write, u + t * (nextU - u), v + t * (nextV - v));
          arcs[write++] = keeps && isArc ? 1 : 0;
        }
      } else if (kept !== keeps) {
        corners.put(write, keeps ? inU : outU, keeps ? inV : outV);
        arcs[write++] = keeps ? 1 : 0;
      } else {
        // Both ends on one side: the arc holds both points if it spans the line's normal there, or else none.
        const turn = u * hv - v * hu;
        const nextTurn = hu * nextV - hv * nextU;
        if (keeps ? turn < 0 && nextTurn < 0 : turn > 0 && nextTurn > 0) {
          corners.put(write, keeps ? outU : inU, keeps ? outV : inV);
          arcs[write++] = keeps ? 0 : 1;
          corners.put(write, keeps ? inU : outU, keeps ? inV : outV);
          arcs[write++] = keeps ? 1 : 0;
        }
      }
      isArc = arcs[i] === 1;
      if (keeps) {
        corners.put(write, nextU, nextV);
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

/**
 * The arc that a line leaves of the whole circle, in as many parts as keep each within a third of a turn: marks its first
 * corner, at `place`, and puts those between its ends. @returns the place of its last corner
 */
function startSegment(place: i32, hu: f64, hv: f64, h0: f64, square: f64): i32 {
  let write = place;
  arcs[write++] = 1;
  if (h0 <= 0 && 4 * h0 * h0 >= square) return write;
  const perLength = 1 / Math.sqrt(square);
  const u = hu * perLength;
  const v = hv * perLength;
  if (4 * h0 * h0 < square) {
    corners.put(write, u, v);
    arcs[write++] = 1;
    return write;
  }
  for (let sign: f64 = -1; sign <= 1; sign += 2) {
    corners.put(write, u / 2 - sign * HALF_ROOT_3 * v, v / 2 + sign * HALF_ROOT_3 * u);
    arcs[write++] = 1;
  }
  return write;
}
