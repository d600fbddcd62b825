/** What the solver has answered, and how current it is. Old answers stay until new ones land. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { GridResult, PointReading, SunCheck } from '../../sim/results';
import type { Fault } from '../../sim/worker/protocol';
import type { ReadingPlace } from './session';

export type SolveStatus =
  | { readonly kind: 'current' }
  /** `late` after 150 ms: only then is the old picture hatched. */
  | {
      readonly kind: 'solving';
      readonly late: boolean;
      readonly fraction: number;
      readonly surfaceId: string | null;
    }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'failed'; readonly fault: Fault };

export interface SurfaceField {
  readonly result: GridResult;
  readonly rough: boolean;
  readonly revision: number;
}
export interface PlaceReading {
  readonly place: ReadingPlace;
  readonly reading: PointReading;
}
export interface TwinResults {
  /** The sun's levels by surface: the elevation's, and the floor's where there is one. */
  readonly fields: Readonly<Record<string, GridResult>>;
  readonly checks: readonly SunCheck[];
}

export interface ResultsState {
  /** Counts the shown scenes; answers carry the revision they were asked for. */
  readonly revision: number;
  readonly fields: Readonly<Record<string, SurfaceField>>;
  readonly checks: readonly SunCheck[];
  /** Revision that `checks` belong to; -1 before the first judgement. */
  readonly checksRevision: number;
  readonly checksFault: Fault | null;
  readonly status: SolveStatus;
  readonly twin: TwinResults | null;
  readonly reading: PlaceReading | null;
  readonly pinned: PlaceReading | null;
}
export type ResultsStore = StoreApi<ResultsState>;

export const NO_RESULTS: ResultsState = {
  revision: 0,
  fields: {},
  checks: [],
  checksRevision: -1,
  checksFault: null,
  status: { kind: 'current' },
  twin: null,
  reading: null,
  pinned: null,
};
export const createResultsStore = (): ResultsStore => createStore<ResultsState>()(() => NO_RESULTS);

/** True when the picture must be drawn as out of date: it belongs to an older scene and nothing quicker is coming. */
export function isOutOfDate(state: ResultsState, field: SurfaceField): boolean {
  const { status } = state;
  if (status.kind === 'stopped' || status.kind === 'failed') return field.revision !== state.revision;
  return status.kind === 'solving' && status.late && field.revision !== state.revision;
}
