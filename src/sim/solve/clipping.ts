/**
 * Convex clipping and moments of small patches of a face in (u, v), on flat arrays without allocation. A patch's sides are
 * straight, or, on a round face, arcs of the unit circle: discs are clipped as what they are, not as polygons.
 */

/** Corners kept: clipped patches lie behind the ones that they were cut from. */
const CAPACITY = 1 << 16;

/** Arcs that a whole circle is made of. None is half a turn, so its ends say which way round it goes. */
export const CIRCLE_ARCS = 3;

/** Longest chord that stands for an arc where a patch has to be a polygon. */
const CHORD_RAD = (2 * Math.PI) / 96;

/** Of an arc this short (square of its chord) rounding tells where its ends lie; a line cuts it as it cuts its chord. */
const SHORT_ARC_SQUARE = 1e-18;

const HALF_ROOT_3 = Math.sqrt(3) / 2;

/** 1, u, v, uu, uv, vv; a slim face also uuu and uuuu. */
export const MOMENT_COUNT = 6;
export const SLIM_MOMENT_COUNT = 8;

/** Lines across a face that are kept: the crossing edges of all parts under way. */
export const LINE_CAPACITY = 1 << 18;

/**
 * Corners (u, v) of all patches under way, and 1 where the side from a corner to the next is an arc. One integral is under
 * way at a time, and what lies here belongs to it alone: constants of the module are reached quicker than fields.
 */
const data = new Float64Array(2 * CAPACITY);
const arcs = new Uint8Array(CAPACITY);

/** h0, hu, hv of lines that patches are clipped to, h0 + hu u + hv v >= 0. */
export const lines = new Float64Array(3 * LINE_CAPACITY);

/** Lines kept apart: the receiver's horizon and the side of a cell; those of what covers the face follow. */
export const HORIZON_LINE = 0;
const CELL_LINE = 1;
export const FIRST_LINE = 2;

/** Moments that were last taken: 1, u, v, uu, uv, vv; of a slim face also uuu and uuuu. */
export const moments = new Float64Array(SLIM_MOMENT_COUNT);

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
    data[2 * write] = u;
    data[2 * write + 1] = v;
    arcs[write++] = 1;
    return write;
  }
  for (let sign = -1; sign <= 1; sign += 2) {
    data[2 * write] = u / 2 - sign * HALF_ROOT_3 * v;
    data[2 * write + 1] = v / 2 + sign * HALF_ROOT_3 * u;
    arcs[write++] = 1;
  }
  return write;
}

/**
 * Puts a face's corners first; those of a round face are ends of arcs. Patches lie one behind the other: a patch is a place
 * (its first corner) and a count of corners, counter-clockwise.
 * @returns how many there are
 */
export function startPatch(corners: Float64Array, round: boolean): number {
  const count = corners.length >> 1;
  for (let i = 0; i < corners.length; i++) data[i] = corners[i]!;
  if (round) for (let i = 0; i < count; i++) arcs[i] = 1;
  return count;
}

/**
 * Clips the patch at `from` to the lines from `first` up to `end`. What is left lies at `clippedAt`, behind the patch, which
 * stays as it is.
 * @returns its number of corners; 0 where nothing is left
 */
export function clipPatch(round: boolean, from: number, count: number, first: number, end: number): number {
  return round ? clipRound(from, count, first, end) : clipStraight(from, count, first, end);
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
  let corners = count;
  clippedAt[0] = from;
  for (let side = 0; side < 4 && corners > 0; side++) {
    const alongU = side < 2;
    if (alongU ? !cutU : !cutV) continue;
    const sign = side % 2 === 0 ? 1 : -1;
    const axis = alongU ? 0 : 1;
    lines[3 * CELL_LINE] = cell[2 + axis]! - sign * cell[axis]!;
    lines[3 * CELL_LINE + 1] = alongU ? sign : 0;
    lines[3 * CELL_LINE + 2] = alongU ? 0 : sign;
    corners = clipPatch(round, clippedAt[0]!, corners, CELL_LINE, CELL_LINE + 1);
  }
  return corners;
}

function clipStraight(from: number, count: number, first: number, end: number): number {
  let read = 2 * from;
  let readEnd = 2 * (from + count);
  for (let edge = 3 * first; edge < 3 * end; edge += 3) {
    const h0 = lines[edge]!;
    const hu = lines[edge + 1]!;
    const hv = lines[edge + 2]!;
    let write = readEnd;
    let u = data[readEnd - 2]!;
    let v = data[readEnd - 1]!;
    let before = h0 + hu * u + hv * v;
    for (let i = read; i < readEnd; i += 2) {
      const nextU = data[i]!;
      const nextV = data[i + 1]!;
      const after = h0 + hu * nextU + hv * nextV;
      if (before < 0 ? after >= 0 : after < 0) {
        const t = before / (before - after);
        data[write] = u + t * (nextU - u);
        data[write + 1] = v + t * (nextV - v);
        write += 2;
      }
      if (after >= 0) {
        data[write] = nextU;
        data[write + 1] = nextV;
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
      data[2 * readEnd] = inU;
      data[2 * readEnd + 1] = inV;
      data[2 * write] = outU;
      data[2 * write + 1] = outV;
      arcs[write++] = 0;
      read = readEnd;
      readEnd = write;
      continue;
    }
    let u = data[2 * readEnd - 2]!;
    let v = data[2 * readEnd - 1]!;
    let isArc = arcs[readEnd - 1] === 1;
    let before = h0 + hu * u + hv * v;
    let kept = before >= 0;
    for (let i = read; i < readEnd; i++) {
      const nextU = data[2 * i]!;
      const nextV = data[2 * i + 1]!;
      const after = h0 + hu * nextU + hv * nextV;
      const keeps = after >= 0;
      const chordSquare = (nextU - u) * (nextU - u) + (nextV - v) * (nextV - v);
      if (!isArc || chordSquare < SHORT_ARC_SQUARE) {
        if (kept !== keeps) {
          const t = before / (before - after);
          data[2 * write] = u + t * (nextU - u);
          data[2 * write + 1] = v + t * (nextV - v);
          arcs[write++] = keeps && isArc ? 1 : 0;
        }
      } else if (kept !== keeps) {
        data[2 * write] = keeps ? inU : outU;
        data[2 * write + 1] = keeps ? inV : outV;
        arcs[write++] = keeps ? 1 : 0;
      } else {
        // Both ends on one side: the arc holds both points if it spans the line's normal there, or else none.
        const turn = u * hv - v * hu;
        const nextTurn = hu * nextV - hv * nextU;
        if (keeps ? turn < 0 && nextTurn < 0 : turn > 0 && nextTurn > 0) {
          data[2 * write] = keeps ? outU : inU;
          data[2 * write + 1] = keeps ? outV : inV;
          arcs[write++] = keeps ? 0 : 1;
          data[2 * write] = keeps ? inU : outU;
          data[2 * write + 1] = keeps ? inV : outV;
          arcs[write++] = keeps ? 1 : 0;
        }
      }
      isArc = arcs[i] === 1;
      if (keeps) {
        data[2 * write] = nextU;
        data[2 * write + 1] = nextV;
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

/** The patch as a polygon, its arcs in chords between points moved out so far that the area stays. */
export function patchOutline(round: boolean, from: number, count: number): [u: number, v: number][] {
  const points: [number, number][] = [];
  for (let i = from; i < from + count; i++) {
    const next = i + 1 < from + count ? i + 1 : from;
    const u = data[2 * i]!;
    const v = data[2 * i + 1]!;
    points.push([u, v]);
    if (!round || arcs[i] === 0) continue;
    const half = Math.hypot(data[2 * next]! - u, data[2 * next + 1]! - v) / 2;
    const turn = 2 * Math.asin(Math.min(1, half));
    const steps = Math.ceil(turn / CHORD_RAD);
    const step = turn / steps;
    const out = steps > 1 ? Math.sqrt(step / Math.sin(step)) : 1;
    for (let k = 1; k < steps; k++) {
      const cosine = Math.cos(k * step) * out;
      const sine = Math.sin(k * step) * out;
      points.push([u * cosine - v * sine, u * sine + v * cosine]);
    }
  }
  return points;
}

/**
 * Takes the moments of the patch at `from` about the middle of `cell` (its first two numbers), by sums round
 * its contour: a triangle a side.
 * @param slim also uuu and uuuu, for faces so slim that only u counts beyond second order; none of their sides is an arc
 */
export function patchMoments(round: boolean, from: number, count: number, cell: Float64Array, slim: boolean): void {
  if (round) roundMoments(from, count, cell);
  else straightMoments(from, count, cell, slim);
}

function straightMoments(from: number, count: number, cell: Float64Array, slim: boolean): void {
  const u0 = cell[0]!;
  const v0 = cell[1]!;
  let area = 0;
  let mu = 0;
  let mv = 0;
  let muu = 0;
  let muv = 0;
  let mvv = 0;
  let third = 0;
  let fourth = 0;
  const end = 2 * (from + count);
  let a = data[end - 2]! - u0;
  let b = data[end - 1]! - v0;
  for (let i = 2 * from; i < end; i += 2) {
    const c = data[i]! - u0;
    const d = data[i + 1]! - v0;
    const twice = a * d - b * c;
    const sumU = a + c;
    const sumV = b + d;
    const product = a * c;
    const square = sumU * sumU - product;
    area += twice;
    mu += twice * sumU;
    mv += twice * sumV;
    muu += twice * square;
    muv += twice * (sumU * sumV + a * b + c * d);
    mvv += twice * (sumV * sumV - b * d);
    if (slim) {
      const squares = square - product; // a² + c²
      third += twice * sumU * squares;
      fourth += twice * (squares * square - product * product);
    }
    a = c;
    b = d;
  }
  moments[0] = area / 2;
  moments[1] = mu / 6;
  moments[2] = mv / 6;
  moments[3] = muu / 12;
  moments[4] = muv / 24;
  moments[5] = mvv / 12;
  if (!slim) return;
  moments[6] = third / 20;
  moments[7] = fourth / 30;
}

/** Sums about the circle's middle, where arcs have closed forms, then moved to the cell's. */
function roundMoments(from: number, count: number, cell: Float64Array): void {
  const u0 = cell[0]!;
  const v0 = cell[1]!;
  let area = 0;
  let mu = 0;
  let mv = 0;
  let muu = 0;
  let muv = 0;
  let mvv = 0;
  const end = from + count;
  let a = data[2 * end - 2]!;
  let b = data[2 * end - 1]!;
  let isArc = arcs[end - 1] === 1;
  for (let i = from; i < end; i++) {
    const c = data[2 * i]!;
    const d = data[2 * i + 1]!;
    if (isArc) {
      // The sector between the arc and the circle's middle, where a straight side has a triangle.
      const half = Math.sqrt((c - a) * (c - a) + (d - b) * (d - b)) / 2;
      const turn = 2 * Math.asin(half < 1 ? half : 1);
      const bend = c * d - a * b;
      area += turn;
      mu += 2 * (d - b);
      mv += 2 * (a - c);
      muu += 1.5 * (turn + bend);
      muv += 3 * (d * d - b * b);
      mvv += 1.5 * (turn - bend);
    } else {
      const twice = a * d - b * c;
      const sumU = a + c;
      const sumV = b + d;
      area += twice;
      mu += twice * sumU;
      mv += twice * sumV;
      muu += twice * (sumU * sumU - a * c);
      muv += twice * (sumU * sumV + a * b + c * d);
      mvv += twice * (sumV * sumV - b * d);
    }
    isArc = arcs[i] === 1;
    a = c;
    b = d;
  }
  area /= 2;
  mu /= 6;
  mv /= 6;
  moments[0] = area;
  moments[1] = mu - u0 * area;
  moments[2] = mv - v0 * area;
  moments[3] = muu / 12 - u0 * (2 * mu - u0 * area);
  moments[4] = muv / 24 - u0 * mv - v0 * mu + u0 * v0 * area;
  moments[5] = mvv / 12 - v0 * (2 * mv - v0 * area);
}
