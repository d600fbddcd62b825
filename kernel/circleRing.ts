/**
 * The unit circle clipped to a ring of lines: the sides of a convex outline in their order, of which those that leave the
 * circle whole may be missing. What is left of the circle meets each line in one chord, which ends where the neighbour's
 * begins or at the circle. So one walk round the ring does what clipping to line after line does in many.
 *
 * Lines are a ring if their directions follow one another once round, with less than half a turn from each to the next one
 * (but for one gap, where the outline is open), and if each begins before it ends. That is looked at, not taken for granted:
 * an outline that reaches behind the receiver can have its sides in another order, or none of it on the face's side.
 */
import { arcs, corners, lines } from './patches';

/** Square of the sine below which rounding may hide which way two neighbours turn. */
const SAME_WAY: f64 = 1e-12;
/** Cosine of the angle below which rounding may hide whether an arc is nearly nothing or nearly the whole circle. */
const SAME_PLACE: f64 = 1 - 1e-9;

/** What `clipCircle` returns where the lines are no ring, for all that can be told. */
export const NO_RING = -1;

/** Where the present line meets the next one. */
let meetingU: f64 = 0;
let meetingV: f64 = 0;

/**
 * Clips the whole circle to a ring of lines, all of which meet it.
 * @param place where the patch goes that is left
 * @param first, end the lines
 * @returns its number of corners; 0 where nothing is left, NO_RING where the lines are none for all that can be told
 */
export function clipCircle(place: i32, first: i32, end: i32): i32 {
  const way = wayRound(first, end);
  if (way === 0) return NO_RING;
  let write = place;
  let startsOnCircle = false;
  let line = way > 0 ? first : end - 1;
  let meets = meet(way > 0 ? end - 1 : first, line);
  for (let step = first; step < end; step++) {
    const u = meetingU;
    const v = meetingV;
    const met = meets;
    const next = step + 1 < end ? line + way : way > 0 ? first : end - 1;
    meets = meet(line, next);
    const h0 = lines.h0(line);
    const hu = lines.hu(line);
    const hv = lines.hv(line);
    line = next;
    // Along the line, with the kept side to the left, from its point nearest to the circle's middle.
    const square = hu * hu + hv * hv;
    const scale = 1 / square;
    if (h0 * h0 >= square) return NO_RING;
    const reach = Math.sqrt(square - h0 * h0) * scale;
    const from = met ? (hv * u - hu * v) * scale : -reach;
    const to = meets ? (hv * meetingU - hu * meetingV) * scale : reach;
    if (met && meets && from >= to) return NO_RING;
    if (from >= to || from >= reach || to <= -reach) continue;
    if (from <= -reach) {
      corners.put(write, -hu * h0 * scale - hv * reach, -hv * h0 * scale + hu * reach);
      if (write === place) {
        startsOnCircle = true;
        arcs[write++] = 0;
      } else {
        write = arcTo(write);
        if (write === NO_RING) return NO_RING;
      }
    }
    corners.put(
      write,
      to < reach ? meetingU : hv * reach - hu * h0 * scale,
      to < reach ? meetingV : -hu * reach - hv * h0 * scale,
    );
    arcs[write++] = 0;
  }
  if (!startsOnCircle) return write - place;
  corners.put(write, corners.u(place), corners.v(place));
  write = arcTo(write);
  return write === NO_RING ? NO_RING : write - 1 - place;
}

/** 1 where the lines' directions follow one another counter-clockwise, -1 where clockwise, 0 where neither can be told. */
function wayRound(first: i32, end: i32): i32 {
  let left = 0;
  let right = 0;
  // How often the directions come past that of u, either way: twice in a round.
  let leftPast = 0;
  let rightPast = 0;
  let u = lines.hu(end - 1);
  let v = lines.hv(end - 1);
  let square = u * u + v * v;
  for (let i = first; i < end; i++) {
    const nextU = lines.hu(i);
    const nextV = lines.hv(i);
    const nextSquare = nextU * nextU + nextV * nextV;
    const turn = u * nextV - v * nextU;
    const isSame = turn * turn < SAME_WAY * square * nextSquare && u * nextU + v * nextV > 0;
    if (isSame || turn === 0) return 0;
    const isPast = v < 0 !== nextV < 0 ? 1 : 0;
    if (turn > 0) {
      left++;
      leftPast += isPast;
    } else {
      right++;
      rightPast += isPast;
    }
    u = nextU;
    v = nextV;
    square = nextSquare;
  }
  if (right <= 1) return leftPast <= 2 - right ? 1 : 0;
  return left <= 1 && rightPast <= 2 - left ? -1 : 0;
}

/** Whether a line ends where the next one round begins; the place goes to `meetingU`, `meetingV`. */
function meet(line: i32, next: i32): boolean {
  const h0 = lines.h0(line);
  const hu = lines.hu(line);
  const hv = lines.hv(line);
  const g0 = lines.h0(next);
  const gu = lines.hu(next);
  const gv = lines.hv(next);
  const turn = hu * gv - hv * gu;
  if (turn <= 0) return false;
  const perTurn = 1 / turn;
  meetingU = (hv * g0 - gv * h0) * perTurn;
  meetingV = (gu * h0 - hu * g0) * perTurn;
  return true;
}

/**
 * Makes the side from the corner before `write` to the one there an arc, in as many parts as keep each within a third of a
 * turn. @returns the place after its end, NO_RING where rounding hides how long it is
 */
function arcTo(write: i32): i32 {
  const endU = corners.u(write);
  const endV = corners.v(write);
  let u = corners.u(write - 1);
  let v = corners.v(write - 1);
  if (u * endU + v * endV > SAME_PLACE) return NO_RING;
  let at = write;
  arcs[at - 1] = 1;
  while (u * endV - v * endU < 0 || u * endU + v * endV < -0.5) {
    const quarter = -v;
    v = u;
    u = quarter;
    corners.put(at, u, v);
    arcs[at++] = 1;
  }
  corners.put(at, endU, endV);
  arcs[at++] = 0;
  return at;
}
