/** How far back a lamp or group must go for a range of 1/3, 1/2, 1 stop. */
import { distanceRow, type Throw } from './distanceTable';

export const WANTED_STOPS = [1, 2 / 3, 1 / 2, 1 / 3] as const;

export interface RangeDistance {
  readonly stops: number;
  /** Null where the range does not stay within the value up to the limit. */
  readonly distanceM: number | null;
  /** The least range found up to the limit and where, metres. */
  readonly bestStops: number | null;
  readonly bestAtM: number | null;
}
export interface Sample {
  readonly distanceM: number;
  readonly rangeStops: number | null;
}

const SAMPLES = 40;
const HALVINGS = 12;

/** Distances to look at first: evenly spaced in ratio, because the range falls about so. */
export const firstDistances = (fromM: number, toM: number, count = SAMPLES): number[] =>
  Array.from({ length: count }, (_, i) => fromM * (toM / fromM) ** (i / (count - 1)));

/**
 * Smallest distance beyond which the range stays within `stops` up to the farthest sample: the last sample that is
 * outside, then halving towards the next.
 * @param samples in order of distance, at least one
 * @param rangeAt the simulated range at a distance; null (part unlit) counts as outside
 */
export function distanceForRange(
  samples: readonly Sample[],
  rangeAt: (distanceM: number) => number | null,
  stops: number,
): RangeDistance {
  const within = (range: number | null): boolean => range !== null && range <= stops;
  let best: Sample | null = null;
  for (const sample of samples) {
    if (sample.rangeStops === null) continue;
    if (best === null || sample.rangeStops < best.rangeStops!) best = sample;
  }
  const found = { stops, bestStops: best?.rangeStops ?? null, bestAtM: best?.distanceM ?? null };
  const lastOutside = samples.findLastIndex((sample) => !within(sample.rangeStops));
  if (lastOutside === samples.length - 1) return { ...found, distanceM: null };
  if (lastOutside < 0) return { ...found, distanceM: samples[0]!.distanceM };
  let low = samples[lastOutside]!.distanceM;
  let high = samples[lastOutside + 1]!.distanceM;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (within(rangeAt(middle))) high = middle;
    else low = middle;
  }
  return { ...found, distanceM: high };
}

/** The range of the simulated light at a distance, stops. */
export const rangeOf =
  (given: Throw) =>
  (distanceM: number): number | null =>
    distanceRow(given, distanceM).rangeStops;

/** The distances for 1, 2/3, 1/2 and 1/3 stop between two limits; see `distanceForRange`. */
export function rangeDistances(given: Throw, fromM: number, toM: number): RangeDistance[] {
  const rangeAt = rangeOf(given);
  const samples = firstDistances(fromM, toM).map((distanceM) => ({ distanceM, rangeStops: rangeAt(distanceM) }));
  return WANTED_STOPS.map((stops) => distanceForRange(samples, rangeAt, stops));
}
