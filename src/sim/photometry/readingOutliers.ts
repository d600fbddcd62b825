/**
 * Readings that no law fits with the others: a slip of the pen, a cloud, a meter that looked elsewhere.
 *
 * Every two readings have one law through them. The law whose median misfit over all readings is least hears nothing of
 * what a few wrong readings say, however wrong; what lies far off it is named.
 */
import { fitReadings, type FitResult, type Reading } from './fitReadings';
import { studentT95 } from './weightedLine';

/** Fewer readings than this cannot outvote a wrong one. */
export const LEAST_TO_NAME = 5;
/** Nobody calls less than this a slip, stops (common practice, no source). */
const LEAST_SLIP_STOPS = 1 / 4;
/** Misfit over the robust scatter from which a reading is named. */
const FAR_OFF = 3;

interface Law {
  readonly logCandela: number;
  readonly originM: number;
}
const lawLog = ({ logCandela, originM }: Law, distanceM: number): number =>
  logCandela - 2 * Math.log(distanceM + originM);

/** The law through two readings, sqrt(E1/E2) = (d2 + v)/(d1 + v); its origin not before the front. */
function lawThrough(near: Reading, far: Reading): Law | null {
  const ratio = Math.sqrt(near.illuminanceLx / far.illuminanceLx);
  if (!(ratio > 1) || near.distanceM >= far.distanceM) return null;
  const originM = Math.max(0, (far.distanceM - ratio * near.distanceM) / (ratio - 1));
  const logCandela =
    (Math.log(near.illuminanceLx * (near.distanceM + originM) ** 2) +
      Math.log(far.illuminanceLx * (far.distanceM + originM) ** 2)) /
    2;
  return { logCandela, originM };
}

const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
};

/**
 * Places of the readings that are named, in their order; none among fewer than five readings.
 * @param readings with levels and distances above 0; up to 100
 * @source least median of squares over pairs, with its robust scatter 1.4826 (1 + 5/(n - 2)) times the median misfit:
 *   Rousseeuw, J. Am. Stat. Assoc. 79 (1984); Rousseeuw & Leroy 1987 (both from memory)
 */
export function outliersAmong(readings: readonly Reading[]): number[] {
  const suspects = suspectsAmong(readings);
  if (suspects.length === 0) return [];
  const others = readings.filter((_, i) => !suspects.includes(i));
  const fit = fitReadings(others);
  if (!fit.ok) return [];
  // A suspect is named once it is off the fit of the others by more than they could be wrong about its place.
  const slopeOf = ({ distanceM }: Reading): number => -2 / (distanceM + fit.originM.value);
  const meanSlope = others.reduce((sum, one) => sum + slopeOf(one), 0) / others.length;
  const times = Math.max(FAR_OFF, studentT95(Math.max(1, others.length - 2)));
  const law = { logCandela: Math.log(fit.candela.value), originM: fit.originM.value };
  return suspects.filter((i) => {
    const reading = readings[i]!;
    const misfit = Math.log(reading.illuminanceLx) - lawLog(law, reading.distanceM);
    const placeError = (slopeOf(reading) - meanSlope) * fit.originM.standardError;
    const error = Math.sqrt(fit.scatter ** 2 * (1 + 1 / others.length) + placeError ** 2);
    return Math.abs(misfit) > Math.max(times * error, LEAST_SLIP_STOPS * Math.LN2);
  });
}

/** Readings far off the law that most agree on. */
function suspectsAmong(readings: readonly Reading[]): number[] {
  if (readings.length < LEAST_TO_NAME) return [];
  let best: { readonly law: Law; readonly misfit: number } | null = null;
  for (const near of readings) {
    for (const far of readings) {
      const law = lawThrough(near, far);
      if (!law) continue;
      const misfit = median(misfits(readings, law).map(Math.abs));
      if (best === null || misfit < best.misfit) best = { law, misfit };
    }
  }
  if (best === null) return [];
  const scatter = 1.4826 * (1 + 5 / (readings.length - 2)) * best.misfit;
  const limit = Math.max(FAR_OFF * scatter, LEAST_SLIP_STOPS * Math.LN2);
  return misfits(readings, best.law).flatMap((misfit, i) => (Math.abs(misfit) > limit ? [i] : []));
}
const misfits = (readings: readonly Reading[], law: Law): number[] =>
  readings.map(({ distanceM, illuminanceLx }) => Math.log(illuminanceLx) - lawLog(law, distanceM));

export interface LoggedFit {
  /** Over all readings. */
  readonly all: FitResult;
  /** Places of the readings that are named. */
  readonly outliers: readonly number[];
  /** Without those; the same as `all` where there are none. */
  readonly kept: FitResult;
  /** Stops of each reading over the law of those kept; null where that cannot be said. */
  readonly offStops: readonly (number | null)[];
}
/** The fit of a log of readings, with and without what is named. */
export function fitLog(readings: readonly Reading[]): LoggedFit {
  const all = fitReadings(readings);
  const outliers = outliersAmong(readings);
  const kept = outliers.length === 0 ? all : fitReadings(readings.filter((_, i) => !outliers.includes(i)));
  const offStops = readings.map(({ distanceM, illuminanceLx }) =>
    kept.ok ? Math.log2((illuminanceLx * (distanceM + kept.originM.value) ** 2) / kept.candela.value) : null,
  );
  return { all, outliers, kept, offStops };
}
