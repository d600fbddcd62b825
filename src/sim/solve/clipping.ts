/** Convex clipping and moments of small polygons in (u, v), on one flat array without allocation. */

/** Numbers kept for polygons; clipped ones lie behind the ones they were cut from. */
const CAPACITY = 1 << 17;

/** Polygons one behind the other: a polygon is a place (its first number) and a count of corners. */
export class PolygonStore {
  readonly data = new Float64Array(CAPACITY);

  /** True where a polygon of `count` corners at `place` leaves room for what is cut from it. */
  hasRoom(place: number, count: number): boolean {
    return place + 8 * count + 64 < CAPACITY;
  }

  /**
   * Clips the polygon at `from` to h0 + hu u + hv v >= 0 and puts the result at `to`, which must not overlap it.
   * The three numbers are read from `edges` at `at`.
   * @returns its number of corners; 0 where nothing is left
   */
  clip(from: number, count: number, edges: Float64Array, at: number, to: number): number {
    const { data } = this;
    const h0 = edges[at]!;
    const hu = edges[at + 1]!;
    const hv = edges[at + 2]!;
    const end = from + 2 * count;
    let write = to;
    let u = data[end - 2]!;
    let v = data[end - 1]!;
    let before = h0 + hu * u + hv * v;
    for (let i = from; i < end; i += 2) {
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
    const kept = (write - to) >> 1;
    return kept < 3 ? 0 : kept;
  }
}

/** Area and first and second moments of a polygon about (u0, v0): 1, u, v, uu, uv, vv. */
export const MOMENT_COUNT = 6;

/** Writes the moments of the polygon at `from` about (u0, v0) into `out`, by sums round its contour (Green). */
export function polygonMoments(
  data: Float64Array,
  from: number,
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
  const end = from + 2 * count;
  let a = data[end - 2]! - u0;
  let b = data[end - 1]! - v0;
  for (let i = from; i < end; i += 2) {
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

/** Moments of the unit disc about its centre. */
export const DISC_MOMENTS = new Float64Array([Math.PI, 0, 0, Math.PI / 4, 0, Math.PI / 4]);

/**
 * Writes the moments of the part of the unit disc where h0 + hu u + hv v >= 0, for a line that crosses the disc.
 * With t = -h0/|(hu, hv)| the part is x >= t along the line's normal; its moments have closed forms in x.
 */
export function segmentMoments(edges: Float64Array, at: number, out: Float64Array): void {
  const hu = edges[at + 1]!;
  const hv = edges[at + 2]!;
  const size = Math.sqrt(hu * hu + hv * hv);
  const x = -edges[at]! / size;
  const half = Math.sqrt(Math.max(0, 1 - x * x));
  const angle = Math.acos(Math.max(-1, Math.min(1, x)));
  const area = angle - x * half;
  const first = (2 / 3) * half * half * half;
  const along = (angle - x * half * (2 * x * x - 1)) / 4; // ∫ x² over the segment
  const across = (angle - (x * half * (5 - 2 * x * x)) / 3) / 4; // ∫ y²
  const du = hu / size;
  const dv = hv / size;
  out[0] = area;
  out[1] = first * du;
  out[2] = first * dv;
  out[3] = along * du * du + across * dv * dv;
  out[4] = (along - across) * du * dv;
  out[5] = along * dv * dv + across * du * du;
}
