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

/**
 * Corners (u, v) of all patches under way, and 1 where the side from a corner to the next is an arc. One integral is under
 * way at a time, and what lies here belongs to it alone: constants of the module are reached quicker than fields.
 */
const data = new Float64Array(2 * CAPACITY);
const arcs = new Uint8Array(CAPACITY);

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

/** Patches one behind the other: a patch is a place (its first corner) and a count of corners, counter-clockwise. */
export class PatchStore {
  /** Where the last clipped patch lies. */
  place = 0;
  private readonly round: boolean;

  constructor(round: boolean) {
    this.round = round;
  }

  /** Puts a face's corners first; those of a round face are ends of arcs. @returns how many there are */
  start(corners: Float64Array): number {
    const count = corners.length >> 1;
    for (let i = 0; i < corners.length; i++) data[i] = corners[i]!;
    if (this.round) for (let i = 0; i < count; i++) arcs[i] = 1;
    return count;
  }

  /**
   * Clips the patch at `from` to h0 + hu u + hv v >= 0 for the edges from `first` up to `end`, three numbers each. What is
   * left lies at `place`, behind the patch, which stays as it is.
   * @returns its number of corners; 0 where nothing is left
   */
  clip(from: number, count: number, edges: Float64Array, first: number, end: number): number {
    return this.round
      ? this.clipRound(from, count, edges, first, end)
      : this.clipStraight(from, count, edges, first, end);
  }

  private clipStraight(from: number, count: number, edges: Float64Array, first: number, end: number): number {
    let read = 2 * from;
    let readEnd = 2 * (from + count);
    for (let edge = 3 * first; edge < 3 * end; edge += 3) {
      const h0 = edges[edge]!;
      const hu = edges[edge + 1]!;
      const hv = edges[edge + 2]!;
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
    this.place = read >> 1;
    return (readEnd - read) >> 1;
  }

  /** As above where some sides are arcs: a line meets the circle in two points, and each arc holds none, one or both. */
  private clipRound(from: number, count: number, edges: Float64Array, first: number, last: number): number {
    let read = from;
    let readEnd = from + count;
    for (let edge = 3 * first; edge < 3 * last; edge += 3) {
      const h0 = edges[edge]!;
      const hu = edges[edge + 1]!;
      const hv = edges[edge + 2]!;
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
    this.place = read;
    return readEnd - read;
  }

  /** The patch as a polygon, its arcs in chords between points moved out so far that the area stays. */
  outline(from: number, count: number): [u: number, v: number][] {
    const points: [number, number][] = [];
    for (let i = from; i < from + count; i++) {
      const next = i + 1 < from + count ? i + 1 : from;
      const u = data[2 * i]!;
      const v = data[2 * i + 1]!;
      points.push([u, v]);
      if (!this.round || arcs[i] === 0) continue;
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
   * Writes 1, u, v, uu, uv, vv of the patch at `from` about the middle of `cell` (its first two numbers), by sums round
   * its contour: a triangle a side.
   * @param slim also uuu and uuuu, for faces so slim that only u counts beyond second order; none of their sides is an arc
   */
  moments(from: number, count: number, cell: Float64Array, slim: boolean, out: Float64Array): void {
    if (this.round) this.roundMoments(from, count, cell, out);
    else this.straightMoments(from, count, cell, slim, out);
  }

  private straightMoments(from: number, count: number, cell: Float64Array, slim: boolean, out: Float64Array): void {
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
    out[0] = area / 2;
    out[1] = mu / 6;
    out[2] = mv / 6;
    out[3] = muu / 12;
    out[4] = muv / 24;
    out[5] = mvv / 12;
    if (!slim) return;
    out[6] = third / 20;
    out[7] = fourth / 30;
  }

  /** Sums about the circle's middle, where arcs have closed forms, then moved to the cell's. */
  private roundMoments(from: number, count: number, cell: Float64Array, out: Float64Array): void {
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
    out[0] = area;
    out[1] = mu - u0 * area;
    out[2] = mv - v0 * area;
    out[3] = muu / 12 - u0 * (2 * mu - u0 * area);
    out[4] = muv / 24 - u0 * mv - v0 * mu + u0 * v0 * area;
    out[5] = mvv / 12 - v0 * (2 * mv - v0 * area);
  }
}
