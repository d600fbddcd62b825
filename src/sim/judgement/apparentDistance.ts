/** "Falls off like a source D metres away": the unobstructed point that would give the same fall-off on the same cells. */
import { distance, dot, subtract, type Vec3 } from '../../scene/geometry/vector';
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
  const all = pointLikeness(points, weights, centroid, towards);
  const few = pointLikeness(thinned(points), thinned(weights), centroid, towards);
  const start = Math.max(
    4 * all.farthestM,
    (4 * all.farthestM) / Math.sqrt(falloff),
    ((12 / Math.LN2) * trimmedSpread(all.along, weights)) / falloff,
  );
  // A few hundred cells tell where the root is; all of them say what it is.
  const guess = largestRoot(few, falloff, start, all.farthestM / 1000);
  if (guess === null) return { distanceM: null, reason: 'closer than the patch', reversed: null };
  const near = guess[0] / THINNING_MARGIN;
  const far = guess[1] * THINNING_MARGIN;
  const holds = all.spreadAt(near) >= falloff && all.spreadAt(far) < falloff;
  const bracket = holds ? ([near, far] as const) : largestRoot(all, falloff, start, all.farthestM / 1000);
  if (bracket === null) return { distanceM: null, reason: 'closer than the patch', reversed: null };
  const distanceM = refine(all, falloff, bracket);
  return { distanceM, reversed: correlation(logOpen, all.logLike(distanceM), weights) < 0 };
}

/** Cells that the root is looked for with, and how far it may shift when all are taken. */
const FEW_CELLS = 600;
const THINNING_MARGIN = 1.1;

function thinned<T>(values: ArrayLike<T>): T[] {
  const stride = Math.max(1, Math.ceil(values.length / FEW_CELLS));
  return Array.from({ length: Math.ceil(values.length / stride) }, (_, i) => values[i * stride]!);
}

/** The light of an isotropic point `d` metres off on the cells, the constant cosine of the plane left out. */
interface PointLikeness {
  readonly along: readonly number[];
  readonly farthestM: number;
  readonly logLike: (d: number) => Float64Array;
  readonly spreadAt: (d: number) => number;
}

function pointLikeness(
  points: readonly Vec3[],
  weights: ArrayLike<number>,
  centroid: Vec3,
  towards: Vec3,
): PointLikeness {
  const along = points.map((p) => dot(towards, subtract(centroid, p)));
  const squares = points.map((p) => distance(centroid, p) ** 2);
  const logLike = (d: number) =>
    Float64Array.from(points, (_, i) => -1.5 * Math.log2(d * d + 2 * d * along[i]! + squares[i]!));
  const farthestM = Math.sqrt(squares.reduce((most, square) => Math.max(most, square), 0));
  return { along, farthestM, logLike, spreadAt: (d) => trimmedSpread(logLike(d), weights) };
}

/** The largest distance at which the spread falls to `falloff`, as a bracket 2 % wide; null below `leastM`. */
function largestRoot(
  { spreadAt }: PointLikeness,
  falloff: number,
  start: number,
  leastM: number,
): readonly [near: number, far: number] | null {
  let far = start;
  for (let i = 0; i < 60 && spreadAt(far) > falloff; i++) far *= 2;
  let near = far;
  while (spreadAt(near) < falloff) {
    far = near;
    near *= SHRINK;
    if (near < leastM) return null;
  }
  return [near, far];
}

function refine({ spreadAt }: PointLikeness, falloff: number, bracket: readonly [number, number]): number {
  let [near, far] = bracket;
  for (let i = 0; i < 60 && far - near > 1e-9 * far; i++) {
    const middle = (near + far) / 2;
    if (spreadAt(middle) >= falloff) near = middle;
    else far = middle;
  }
  return (near + far) / 2;
}
