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

/** 1, u, v, uu, uv, vv; a slim face also uuu and uuuu. */
export const MOMENT_COUNT = 6;
export const SLIM_MOMENT_COUNT = 8;

/** Patches one behind the other: a patch is a place (its first corner) and a count of corners, counter-clockwise. */
export class PatchStore {
  /** u, v of each corner. */
  readonly data = new Float64Array(2 * CAPACITY);
  /** 1 where the side from this corner to the next is an arc. */
  readonly arcs: Uint8Array;
  private readonly round: boolean;
  private readonly chord = new Float64Array(4);

  constructor(round: boolean) {
    this.round = round;
    this.arcs = new Uint8Array(round ? CAPACITY : 0);
  }

  /** Puts a face's corners first; those of a round face are ends of arcs. @returns how many there are */
  start(corners: Float64Array): number {
    const count = corners.length >> 1;
    this.data.set(corners);
    if (this.round) this.arcs.fill(1, 0, count);
    return count;
  }

  /**
   * Clips the patch at `from` to h0 + hu u + hv v >= 0 and puts the result at `to`, which must not overlap it.
   * The three numbers are read from `edges` at `at`.
   * @returns its number of corners; 0 where nothing is left
   */
  clip(from: number, count: number, edges: Float64Array, at: number, to: number): number {
    return this.round ? this.clipRound(from, count, edges, at, to) : this.clipStraight(from, count, edges, at, to);
  }

  private clipStraight(from: number, count: number, edges: Float64Array, at: number, to: number): number {
    const { data } = this;
    const h0 = edges[at]!;
    const hu = edges[at + 1]!;
    const hv = edges[at + 2]!;
    const end = 2 * (from + count);
    const start = 2 * to;
    let write = start;
    let u = data[end - 2]!;
    let v = data[end - 1]!;
    let before = h0 + hu * u + hv * v;
    for (let i = 2 * from; i < end; i += 2) {
      const nextU = data[i]!;
      const nextV = data[i + 1]!;
      const after = h0 + hu * nextU + hv * nextV;
      if (before >= 0 !== after >= 0) {
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
    const kept = (write - start) >> 1;
    return kept < 3 ? 0 : kept;
  }

  /** As above where some sides are arcs: a line meets the circle in two points, and each arc holds none, one or both. */
  private clipRound(from: number, count: number, edges: Float64Array, at: number, to: number): number {
    const { data, arcs, chord } = this;
    const h0 = edges[at]!;
    const hu = edges[at + 1]!;
    const hv = edges[at + 2]!;
    const square = hu * hu + hv * hv;
    const meets = h0 * h0 < square;
    if (meets) this.cross(h0, hu, hv, square);
    else if (h0 < 0) return 0;
    const end = from + count;
    let write = to;
    let u = data[2 * end - 2]!;
    let v = data[2 * end - 1]!;
    let isArc = arcs[end - 1] === 1;
    let before = h0 + hu * u + hv * v;
    for (let i = from; i < end; i++) {
      const nextU = data[2 * i]!;
      const nextV = data[2 * i + 1]!;
      const after = h0 + hu * nextU + hv * nextV;
      if (!isArc) {
        if (before >= 0 !== after >= 0) {
          const t = before / (before - after);
          data[2 * write] = u + t * (nextU - u);
          data[2 * write + 1] = v + t * (nextV - v);
          arcs[write++] = 0;
        }
      } else if (meets) {
        // Side of the line's normal on which the arc's ends lie: both 1 or both -1 where it spans the normal or its opposite.
        const turn = u * hv - v * hu;
        const nextTurn = hu * nextV - hv * nextU;
        const spans = turn > 0 && nextTurn > 0;
        const dips = turn < 0 && nextTurn < 0;
        if (before < 0 && (after >= 0 || spans)) write = this.put(write, chord[0]!, chord[1]!, 1);
        if (before >= 0 ? after < 0 || dips : after < 0 && spans) write = this.put(write, chord[2]!, chord[3]!, 0);
        if (before >= 0 && after >= 0 && dips) write = this.put(write, chord[0]!, chord[1]!, 1);
      }
      isArc = arcs[i] === 1;
      if (after >= 0) write = this.put(write, nextU, nextV, arcs[i]!);
      u = nextU;
      v = nextV;
      before = after;
    }
    const kept = write - to;
    return kept < 2 ? 0 : kept;
  }

  private put(write: number, u: number, v: number, arc: number): number {
    this.data[2 * write] = u;
    this.data[2 * write + 1] = v;
    this.arcs[write] = arc;
    return write + 1;
  }

  /** Where the line meets the circle, going counter-clockwise: into the kept side (0, 1), out of it (2, 3). */
  private cross(h0: number, hu: number, hv: number, square: number): void {
    const { chord } = this;
    const size = 1 / Math.sqrt(square);
    const du = hu * size;
    const dv = hv * size;
    const t = -h0 * size;
    const half = Math.sqrt(1 - t * t);
    chord[0] = du * t + dv * half;
    chord[1] = dv * t - du * half;
    chord[2] = du * t - dv * half;
    chord[3] = dv * t + du * half;
  }

  /** The patch as a polygon, its arcs in chords between points moved out so far that the area stays. */
  outline(from: number, count: number): [u: number, v: number][] {
    const { data, arcs } = this;
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

  /** Writes 1, u, v, uu, uv, vv of the patch at `from` about (u0, v0), by sums round its contour: a triangle a side. */
  moments(from: number, count: number, u0: number, v0: number, out: Float64Array): void {
    if (this.round) this.roundMoments(from, count, u0, v0, out);
    else this.straightMoments(from, count, u0, v0, out);
  }

  private straightMoments(from: number, count: number, u0: number, v0: number, out: Float64Array): void {
    const { data } = this;
    let area = 0;
    let mu = 0;
    let mv = 0;
    let muu = 0;
    let muv = 0;
    let mvv = 0;
    const end = 2 * (from + count);
    let a = data[end - 2]! - u0;
    let b = data[end - 1]! - v0;
    for (let i = 2 * from; i < end; i += 2) {
      const c = data[i]! - u0;
      const d = data[i + 1]! - v0;
      const twice = a * d - b * c;
      const sumU = a + c;
      const sumV = b + d;
      area += twice;
      mu += twice * sumU;
      mv += twice * sumV;
      muu += twice * (sumU * sumU - a * c);
      muv += twice * (sumU * sumV + a * b + c * d);
      mvv += twice * (sumV * sumV - b * d);
      a = c;
      b = d;
    }
    out[0] = area / 2;
    out[1] = mu / 6;
    out[2] = mv / 6;
    out[3] = muu / 12;
    out[4] = muv / 24;
    out[5] = mvv / 12;
  }

  /** Sums about the circle's middle, where arcs have closed forms, then moved to (u0, v0). */
  private roundMoments(from: number, count: number, u0: number, v0: number, out: Float64Array): void {
    const { data, arcs } = this;
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

  /** As `moments`, and uuu and uuuu: for faces so slim that only u counts beyond second order. Straight sides only. */
  slimMoments(from: number, count: number, u0: number, v0: number, out: Float64Array): void {
    this.straightMoments(from, count, u0, v0, out);
    const { data } = this;
    const end = 2 * (from + count);
    let third = 0;
    let fourth = 0;
    let a = data[end - 2]! - u0;
    let b = data[end - 1]! - v0;
    for (let i = 2 * from; i < end; i += 2) {
      const c = data[i]! - u0;
      const d = data[i + 1]! - v0;
      const twice = a * d - b * c;
      const aa = a * a;
      const cc = c * c;
      third += twice * (a + c) * (aa + cc);
      fourth += twice * (aa * aa + cc * cc + a * c * (aa + cc + a * c));
      a = c;
      b = d;
    }
    out[6] = third / 20;
    out[7] = fourth / 30;
  }
}
