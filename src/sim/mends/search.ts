/** Small searches without derivatives: the objectives are percentiles and maxima, smooth only in pieces. */
import { SolveCancelled, type SolveControl } from '../results';

/** How good a trial is: compared by score, then by sum of scores, stops lost, pieces of grip. */
export interface Rank {
  readonly score: number;
  readonly sum: number;
  readonly costStops: number;
  readonly pieces: number;
}
/** Differences below this are ties. */
const TIE = 1e-4;

/** Negative where `a` is the better one. */
export function compareRanks(a: Rank, b: Rank): number {
  for (const key of ['score', 'sum', 'costStops', 'pieces'] as const) {
    const difference = a[key] - b[key];
    if (Math.abs(difference) > TIE) return difference;
  }
  return 0;
}

export interface Trial<T extends Rank> {
  readonly at: readonly number[];
  readonly rank: T;
}
/** Rank of a place; null where it is not allowed. */
export type Objective<T extends Rank> = (at: readonly number[]) => T | null;

/** The `count` best trials of a list of places, best first; equal ones in the order of the list. */
export function scan<T extends Rank>(
  places: Iterable<readonly number[]>,
  objective: Objective<T>,
  count: number,
): Trial<T>[] {
  const best: Trial<T>[] = [];
  for (const at of places) {
    const rank = objective(at);
    if (rank === null) continue;
    let index = best.length;
    while (index > 0 && compareRanks(rank, best[index - 1]!.rank) < 0) index--;
    if (index >= count) continue;
    best.splice(index, 0, { at, rank });
    best.length = Math.min(best.length, count);
  }
  return best;
}

/**
 * Compass search: tries a step each way along every axis, moves where it is better, halves the steps where nothing is.
 * Deterministic; ends after `halvings` halvings. Bounds are the objective's business (null outside). Gives way after
 * every trial, so that a job can be told of and cancelled.
 */
export function* descending<T extends Rank>(
  start: Trial<T>,
  steps: readonly number[],
  objective: Objective<T>,
  halvings: number,
): Generator<void, Trial<T>, void> {
  let best = start;
  let share = 1;
  for (let halving = 0; halving <= halvings;) {
    let moved = false;
    for (let axis = 0; axis < steps.length; axis++) {
      for (const way of [1, -1]) {
        const at = best.at.map((value, i) => (i === axis ? value + way * share * steps[axis]! : value));
        const rank = objective(at);
        yield;
        if (rank === null || compareRanks(rank, best.rank) >= 0) continue;
        best = { at, rank };
        moved = true;
        break;
      }
    }
    if (!moved) {
      share /= 2;
      halving++;
    }
  }
  return best;
}

/** `descending` without giving way. */
export function descend<T extends Rank>(
  start: Trial<T>,
  steps: readonly number[],
  objective: Objective<T>,
  halvings: number,
): Trial<T> {
  const trials = descending(start, steps, objective, halvings);
  for (;;) {
    const { done, value } = trials.next();
    if (done === true) return value;
  }
}

/** Scan, then descend from the three best starts; null where no place is allowed. */
export function scanAndDescend<T extends Rank>(
  places: Iterable<readonly number[]>,
  steps: readonly number[],
  objective: Objective<T>,
  halvings: number,
): Trial<T> | null {
  const ends = scan(places, objective, 3).map((start) => descend(start, steps, objective, halvings));
  return ends.reduce<Trial<T> | null>(
    (best, end) => (best === null || compareRanks(end.rank, best.rank) < 0 ? end : best),
    null,
  );
}

/** Where a condition that holds at `good` and not at `bad` stops holding, from the good side. */
export function lastGood(holds: (x: number) => boolean, good: number, bad: number, halvings: number): number {
  let [held, failed] = [good, bad];
  for (let i = 0; i < halvings; i++) {
    const middle = (held + failed) / 2;
    if (holds(middle)) held = middle;
    else failed = middle;
  }
  return held;
}

/** Evenly spaced values from `from` to `to`, both taken in. */
export const spaced = (from: number, to: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => (count === 1 ? from : from + ((to - from) * i) / (count - 1)));

/** Progress and cancelling of a search in several parts. */
export class Pace {
  private readonly control: SolveControl;
  private done = 0;
  private readonly parts: number;

  constructor(control: SolveControl, parts: number) {
    this.control = control;
    this.parts = parts;
  }
  /** @throws {SolveCancelled} if the control says so */
  check(): void {
    if (this.control.isCancelled?.()) throw new SolveCancelled();
  }
  /** One of the parts is finished. @returns the share that is done, 0..1 */
  finishPart(): number {
    this.done++;
    const share = this.done / this.parts;
    this.control.onProgress?.(share);
    this.check();
    return share;
  }
}
