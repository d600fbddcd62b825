/**
 * Output and virtual origin of a lamp from meter readings taken along its axis.
 *
 * Beyond the near zone a lamp follows E = I / (d + v)², d from its front and v the distance of its virtual origin behind
 * it. So 1/sqrt(E) = v/sqrt(I) + d/sqrt(I) is a straight line in d: its slope gives I = 1/slope², its intercept over its
 * slope v. A meter errs by a share s of its reading, which makes 1/sqrt(E) err by s/2 of itself: points weigh as
 * 1/(v + d)², taken from the line itself and repeated until it rests. (Weights from the readings themselves would favour
 * those that err upwards.) That is the least-squares fit of ln E to first order in s; docs/physics.md derives it.
 */
import { NORMAL_95, studentT95, weightedLine, type WeightedLine } from './weightedLine';

export interface Reading {
  readonly distanceM: number;
  readonly illuminanceLx: number;
}
/** A figure with its 95 % band. */
export interface Banded {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Why the origin is not fitted, or the output neither. */
export type FitLimit =
  /** The lamp's origin is known otherwise. */
  | 'originGiven'
  /** One reading tells the output only. */
  | 'oneReading'
  /** Readings all at about one distance tell the output only. */
  | 'sameDistance'
  /** The fitted origin lies before the front, within the readings' scatter: it is taken at the front. */
  | 'originAtFront'
  /** It lies before the front by more than scatter: the readings fall off faster than the law allows. */
  | 'fallsTooFast';
export type NoFit = 'noReadings' | 'doesNotFall';

export interface ReadingFit {
  readonly ok: true;
  readonly candela: Banded;
  /** Distance of the virtual origin behind the front, m. */
  readonly originM: Banded;
  /** Null where both figures come from the readings. */
  readonly limit: FitLimit | null;
  /** Origin as the readings alone have it, where `originM` is not that; m. */
  readonly freeOriginM: number | null;
  /** Standard deviation of a reading about the law, as a share; from the residuals, or as assumed. */
  readonly scatter: number;
  readonly isScatterAssumed: boolean;
  /** Stops over the law, reading by reading. */
  readonly residualStops: readonly number[];
}
export type FitResult = ReadingFit | { readonly ok: false; readonly reason: NoFit };

/** Standard deviation of one reading as a share, where the readings are too few to show it (common practice, no source). */
export const ASSUMED_SCATTER = 0.05;
/** Distances that differ by less than this share of themselves are one. */
const SAME_DISTANCE = 0.02;
const MOST_ROUNDS = 50;
const AT_REST = 1e-12;

interface Options {
  /** Distance of the virtual origin where it is known, m; only the output is fitted then. */
  readonly originM?: number;
  readonly assumedScatter?: number;
}

/**
 * Fits output and virtual origin.
 * @param readings taken on the axis, square to it; those of 0 lx are left out
 * @returns both figures with 95 % bands, and named limits where the readings cannot give them
 */
export function fitReadings(readings: readonly Reading[], options: Options = {}): FitResult {
  const lit = readings.filter(({ distanceM, illuminanceLx }) => illuminanceLx > 0 && distanceM > 0);
  if (lit.length === 0) return { ok: false, reason: 'noReadings' };
  const assumed = options.assumedScatter ?? ASSUMED_SCATTER;
  if (options.originM !== undefined) return outputOnly(lit, options.originM, 'originGiven', null, assumed);
  if (lit.length === 1) return outputOnly(lit, 0, 'oneReading', null, assumed);
  const distances = lit.map(({ distanceM }) => distanceM);
  const [nearM, farM] = [Math.min(...distances), Math.max(...distances)];
  if (farM - nearM < SAME_DISTANCE * farM) return outputOnly(lit, 0, 'sameDistance', null, assumed);
  const line = restingLine(lit);
  if (line === null) return { ok: false, reason: 'doesNotFall' };
  return fromLine(lit, line, assumed);
}

/** The line with weights from itself; null where it does not rise, so that light does not fall off. */
function restingLine(readings: readonly Reading[]): WeightedLine | null {
  const roots = readings.map(({ distanceM, illuminanceLx }) => ({ x: distanceM, y: 1 / Math.sqrt(illuminanceLx) }));
  let weights = roots.map(({ y }) => 1 / (y * y));
  let before = NaN;
  for (let round = 0; ; round++) {
    const line = weightedLine(roots.map((root, i) => ({ ...root, weight: weights[i]! })));
    if (!(line.slope > 0)) return null;
    const fitted = roots.map(({ x }) => line.intercept + line.slope * x);
    // A line that meets 0 before a reading cannot be the law; the readings' own weights stand then.
    if (
      round === MOST_ROUNDS ||
      fitted.some((y) => !(y > 0)) ||
      Math.abs(line.slope - before) <= AT_REST * line.slope
    ) {
      return line;
    }
    before = line.slope;
    weights = fitted.map((y) => 1 / (y * y));
  }
}

function fromLine(readings: readonly Reading[], line: WeightedLine, assumed: number): ReadingFit {
  const { intercept, slope } = line;
  const originM = intercept / slope;
  const freedom = readings.length - 2;
  // With weights 1/y² a residual is a share of 1/sqrt(E), half as large as the share of E.
  const variance = freedom > 0 ? line.chiSquared / freedom : (assumed / 2) ** 2;
  const t = freedom > 0 ? studentT95(freedom) : NORMAL_95;
  const originVariance =
    (line.interceptVariance + originM ** 2 * line.slopeVariance - 2 * originM * line.covariance) / slope ** 2;
  const originReach = t * Math.sqrt(variance * originVariance);
  if (originM < 0) {
    const limit = originM + originReach >= 0 ? 'originAtFront' : 'fallsTooFast';
    return outputOnly(readings, 0, limit, originM, assumed);
  }
  const candela = 1 / (slope * slope);
  // ln I = -2 ln slope: the band is even in ratio.
  const ratio = Math.exp((2 * t * Math.sqrt(variance * line.slopeVariance)) / slope);
  return {
    ok: true,
    candela: { value: candela, low: candela / ratio, high: candela * ratio },
    originM: { value: originM, low: Math.max(0, originM - originReach), high: originM + originReach },
    limit: null,
    freeOriginM: null,
    scatter: 2 * Math.sqrt(variance),
    isScatterAssumed: freedom === 0,
    residualStops: residualStops(readings, candela, originM),
  };
}

const residualStops = (readings: readonly Reading[], candela: number, originM: number): number[] =>
  readings.map(({ distanceM, illuminanceLx }) => Math.log2((illuminanceLx * (distanceM + originM) ** 2) / candela));

/** Output with the origin held: the geometric mean of E (d + v)², since readings err by shares. */
function outputOnly(
  readings: readonly Reading[],
  originM: number,
  limit: FitLimit,
  freeOriginM: number | null,
  assumed: number,
): ReadingFit {
  const logs = readings.map(({ distanceM, illuminanceLx }) => Math.log(illuminanceLx * (distanceM + originM) ** 2));
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  const freedom = logs.length - 1;
  const squares = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0);
  const scatter = freedom > 0 ? Math.sqrt(squares / freedom) : assumed;
  const t = freedom > 0 ? studentT95(freedom) : NORMAL_95;
  const candela = Math.exp(mean);
  const ratio = Math.exp((t * scatter) / Math.sqrt(logs.length));
  return {
    ok: true,
    candela: { value: candela, low: candela / ratio, high: candela * ratio },
    originM: { value: originM, low: originM, high: originM },
    limit,
    freeOriginM,
    scatter,
    isScatterAssumed: freedom === 0,
    residualStops: residualStops(readings, candela, originM),
  };
}
