/**
 * Output and virtual origin of a lamp from meter readings taken along its axis.
 *
 * Beyond the near zone a lamp follows E = I / (d + v)², d from its front and v the distance of its virtual origin behind
 * it. A meter errs by a share of its reading, so ln E errs by the same amount near and far: the fit is the least squares of
 * ln E over ln I and v, by Gauss and Newton's steps. They start from the straight line 1/sqrt(E) = v/sqrt(I) + d/sqrt(I),
 * weighted by E; docs/physics.md derives both.
 */
import { NORMAL_95, studentT95, weightedLine } from './weightedLine';

/** How the fit is made, for people who compare it with their own. */
export const FIT_METHOD = 'least squares in log level';

export interface Reading {
  readonly distanceM: number;
  readonly illuminanceLx: number;
}
/** A figure with its standard error and its 95 % band. */
export interface Banded {
  readonly value: number;
  readonly standardError: number;
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
const MOST_ROUNDS = 200;
const AT_REST = 1e-13;
const MOST_HALVINGS = 40;
/** An origin so many times as far as the farthest reading says that the light does not fall off at all. */
const FAR_ORIGIN = 1000;

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
  return freeFit(lit, assumed);
}

/** Sum of squares of ln E about the law with its best output, for an origin; and that output's ln. */
function misfit(
  readings: readonly Reading[],
  originM: number,
): { readonly logCandela: number; readonly squares: number } {
  const logs = readings.map(
    ({ distanceM, illuminanceLx }) => Math.log(illuminanceLx) + 2 * Math.log(distanceM + originM),
  );
  const logCandela = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  return { logCandela, squares: logs.reduce((sum, log) => sum + (log - logCandela) ** 2, 0) };
}

/** Slopes of the law against the origin, -2/(d + v), about their mean. */
function slopesOf(readings: readonly Reading[], originM: number): { readonly mean: number; readonly about: number[] } {
  const slopes = readings.map(({ distanceM }) => -2 / (distanceM + originM));
  const mean = slopes.reduce((sum, slope) => sum + slope, 0) / slopes.length;
  return { mean, about: slopes.map((slope) => slope - mean) };
}

/**
 * Origin of least squares of ln E, by Gauss and Newton's steps, each halved until it comes down.
 * @returns null where there is none nearer than `FAR_ORIGIN`: the readings do not fall off
 */
function originOfLeastSquares(readings: readonly Reading[], startM: number): number | null {
  const [nearM, farM] = [
    Math.min(...readings.map(({ distanceM }) => distanceM)),
    Math.max(...readings.map(({ distanceM }) => distanceM)),
  ];
  let originM = startM;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const { logCandela, squares } = misfit(readings, originM);
    const { about } = slopesOf(readings, originM);
    const turned = readings.reduce(
      (sum, { distanceM, illuminanceLx }, i) =>
        sum + about[i]! * (Math.log(illuminanceLx) + 2 * Math.log(distanceM + originM) - logCandela),
      0,
    );
    let stepM = turned / about.reduce((sum, slope) => sum + slope * slope, 0);
    let halvings = 0;
    while (
      halvings < MOST_HALVINGS &&
      (originM + stepM <= -nearM || misfit(readings, originM + stepM).squares > squares)
    ) {
      stepM /= 2;
      halvings += 1;
    }
    if (halvings === MOST_HALVINGS || Math.abs(stepM) <= AT_REST * (nearM + Math.abs(originM))) return originM;
    originM += stepM;
    if (originM > FAR_ORIGIN * farM) return null;
  }
  return originM;
}

function freeFit(readings: readonly Reading[], assumed: number): FitResult {
  const line = weightedLine(
    readings.map(({ distanceM, illuminanceLx }) => ({
      x: distanceM,
      y: 1 / Math.sqrt(illuminanceLx),
      weight: illuminanceLx,
    })),
  );
  if (!(line.slope > 0)) return { ok: false, reason: 'doesNotFall' };
  const startM = line.intercept / line.slope;
  // A line that meets 0 at or beyond a reading has no law near it to step from.
  if (readings.some(({ distanceM }) => distanceM + startM <= 0)) {
    return outputOnly(readings, 0, 'fallsTooFast', startM, assumed);
  }
  const originM = originOfLeastSquares(readings, startM);
  if (originM === null) return { ok: false, reason: 'doesNotFall' };
  return withBands(readings, originM, assumed);
}

/** The fit at its least squares, with bands from the curvature there. */
function withBands(readings: readonly Reading[], originM: number, assumed: number): ReadingFit {
  const { logCandela, squares } = misfit(readings, originM);
  const { mean, about } = slopesOf(readings, originM);
  const freedom = readings.length - 2;
  const variance = freedom > 0 ? squares / freedom : assumed ** 2;
  const t = freedom > 0 ? studentT95(freedom) : NORMAL_95;
  const aboutSquared = about.reduce((sum, slope) => sum + slope * slope, 0);
  const originError = Math.sqrt(variance / aboutSquared);
  const logError = Math.sqrt(variance / readings.length + (mean * originError) ** 2);
  const originReach = t * originError;
  if (originM < 0) {
    const limit = originM + originReach >= 0 ? 'originAtFront' : 'fallsTooFast';
    return outputOnly(readings, 0, limit, originM, assumed);
  }
  const candela = Math.exp(logCandela);
  return {
    ok: true,
    candela: inRatio(candela, logError, t),
    originM: {
      value: originM,
      standardError: originError,
      low: Math.max(0, originM - originReach),
      high: originM + originReach,
    },
    limit: null,
    freeOriginM: null,
    scatter: Math.sqrt(variance),
    isScatterAssumed: freedom === 0,
    residualStops: residualStops(readings, candela, originM),
  };
}

/** A figure whose logarithm has this standard error: the band is even in ratio. */
const inRatio = (value: number, logError: number, t: number): Banded => ({
  value,
  standardError: value * logError,
  low: value / Math.exp(t * logError),
  high: value * Math.exp(t * logError),
});

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
  const { logCandela, squares } = misfit(readings, originM);
  const freedom = readings.length - 1;
  const scatter = freedom > 0 ? Math.sqrt(squares / freedom) : assumed;
  const t = freedom > 0 ? studentT95(freedom) : NORMAL_95;
  const candela = Math.exp(logCandela);
  return {
    ok: true,
    candela: inRatio(candela, scatter / Math.sqrt(readings.length), t),
    originM: { value: originM, standardError: 0, low: originM, high: originM },
    limit,
    freeOriginM,
    scatter,
    isScatterAssumed: freedom === 0,
    residualStops: residualStops(readings, candela, originM),
  };
}
