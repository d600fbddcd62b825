/** "Falls off like a source D metres away": the unobstructed point that would give the same fall-off on the same cells. */
import { distance, dot, subtract, type Vec3 } from '../geometry/vector';
import { correlation, trimmedSpread } from './statistics';

/** A fall-off below this is beyond measuring, stops. */
const PARALLEL_STOPS = 0.005;
const SHRINK = 0.98;

export type ApparentDistance =
  | { readonly distanceM: number; readonly reversed: boolean }
  | {
      readonly distanceM: null;
      readonly reason: 'parallel' | 'closer than the patch';
      readonly reversed: boolean | null;
    };

/**
 * @param points   patch cells, world metres
 * @param weights  their areas, m²
 * @param logOpen  log2 of open light at each
 * @param falloff  1st to 99th percentile spread of logOpen, stops
 * @param towards  unit arrival direction at the centroid
 * @returns the largest distance whose isotropic point gives the same spread (the cosine on one plane drops out);
 *   `reversed` where the far end is the hotter one
 * @source judgement definition 2.2; closed forms for strips in tests/sim/judgement
 */
export function apparentDistance(
  points: readonly Vec3[],
  weights: ArrayLike<number>,
  logOpen: ArrayLike<number>,
  falloff: number,
  centroid: Vec3,
  towards: Vec3,
): ApparentDistance {
  if (falloff < PARALLEL_STOPS) return { distanceM: null, reason: 'parallel', reversed: null };
  const along = points.map((p) => dot(towards, subtract(centroid, p)));
  const squares = points.map((p) => distance(centroid, p) ** 2);
  const logLike = (d: number) =>
    Float64Array.from(points, (_, i) => -1.5 * Math.log2(d * d + 2 * d * along[i]! + squares[i]!));
  const spreadAt = (d: number) => trimmedSpread(logLike(d), weights);
  const farthest = Math.sqrt(Math.max(...squares));
  const tilted = (3 / Math.LN2) * trimmedSpread(along, weights);
  let far = Math.max(4 * farthest, (4 * farthest) / Math.sqrt(falloff), (4 * tilted) / falloff);
  for (let i = 0; i < 60 && spreadAt(far) > falloff; i++) far *= 2;
  let near = far;
  while (spreadAt(near) < falloff) {
    far = near;
    near *= SHRINK;
    if (near < farthest / 1000) return { distanceM: null, reason: 'closer than the patch', reversed: null };
  }
  for (let i = 0; i < 60 && far - near > 1e-9 * far; i++) {
    const middle = (near + far) / 2;
    if (spreadAt(middle) >= falloff) near = middle;
    else far = middle;
  }
  const distanceM = (near + far) / 2;
  return { distanceM, reversed: correlation(logOpen, logLike(distanceM), weights) < 0 };
}
