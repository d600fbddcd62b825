/** Convex clipping and moments of small polygons in (u, v), on flat arrays without allocation. */

/** Most corners a clipped polygon can have here: a fine disc plus one for each edge that cuts it. */
export const MAX_CORNERS = 512;

/** A polygon of `count` corners at `at` in a shared array: u0, v0, u1, v1, ... */
export class PolygonStack {
  readonly data = new Float64Array(64 * 2 * MAX_CORNERS);
  private readonly counts: number[] = [];
  depth = 0;

  /** Corners of the polygon at a depth. */
  countAt(depth: number): number {
    return this.counts[depth]!;
  }
  offsetAt(depth: number): number {
    return depth * 2 * MAX_CORNERS;
  }

  /** Puts a polygon at the bottom of the stack. */
  start(corners: Float64Array): void {
    this.data.set(corners, 0);
    this.counts[0] = corners.length / 2;
  }

  /**
   * Clips the polygon at `depth` to h0 + hu u + hv v >= 0 and puts the result at `into` (depth or depth + 1).
   * @returns its number of corners; 0 where nothing is left
   */
  clip(depth: number, into: number, h0: number, hu: number, hv: number): number {
    const { data } = this;
    const n = this.counts[depth]!;
    const from = this.offsetAt(depth);
    // Clipping in place would overwrite corners still to be read, so the result goes through a scratch polygon.
    const to = into === depth ? data.length - 2 * MAX_CORNERS : this.offsetAt(into);
    let kept = 0;
    let u = data[from + 2 * n - 2]!;
    let v = data[from + 2 * n - 1]!;
    let before = h0 + hu * u + hv * v;
    for (let i = 0; i < n; i++) {
      const nextU = data[from + 2 * i]!;
      const nextV = data[from + 2 * i + 1]!;
      const after = h0 + hu * nextU + hv * nextV;
      if (before >= 0 !== after >= 0) {
        const t = before / (before - after);
        data[to + 2 * kept] = u + t * (nextU - u);
        data[to + 2 * kept + 1] = v + t * (nextV - v);
        kept++;
      }
      if (after >= 0) {
        data[to + 2 * kept] = nextU;
        data[to + 2 * kept + 1] = nextV;
        kept++;
      }
      u = nextU;
      v = nextV;
      before = after;
    }
    if (kept < 3) kept = 0;
    if (to !== this.offsetAt(into)) data.copyWithin(this.offsetAt(into), to, to + 2 * kept);
    this.counts[into] = kept;
    return kept;
  }
}

/** Area and first and second moments of a polygon about (u0, v0): 1, u, v, uu, uv, vv. */
export const MOMENT_COUNT = 6;

/** Writes the moments of the polygon at `offset` about (u0, v0) into `out`, by sums round its contour (Green). */
export function polygonMoments(
  data: Float64Array,
  offset: number,
  count: number,
  u0: number,
  v0: number,
  out: Float64Array,
): void {
  let area = 0;
  let mu = 0;
  let mv = 0;
  let muu = 0;
  let muv = 0;
  let mvv = 0;
  let a = data[offset + 2 * count - 2]! - u0;
  let b = data[offset + 2 * count - 1]! - v0;
  for (let i = 0; i < count; i++) {
    const c = data[offset + 2 * i]! - u0;
    const d = data[offset + 2 * i + 1]! - v0;
    const twice = a * d - b * c;
    area += twice;
    mu += twice * (a + c);
    mv += twice * (b + d);
    muu += twice * (a * a + a * c + c * c);
    muv += twice * (a * d + 2 * a * b + 2 * c * d + c * b);
    mvv += twice * (b * b + b * d + d * d);
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
