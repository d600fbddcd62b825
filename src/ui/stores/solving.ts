/**
 * Keeps the results in step with the shown scene: a rough map at once, the sharp map, the judgement and the twin once
 * the hand has rested. While something is dragged the next rough map starts when the last one has landed, so that a
 * fast hand sees every map it can rather than cancelling them all.
 */
import type { SceneDocument } from '../../scene/schema';
import type { GridResult, SunCheck } from '../../sim/results';
import { boundingBox, rowsForSquareCells } from '../../sim/worker/bands';
import type { JobProgress, Settled, SolverClient } from '../../sim/worker/client';
import type { Channel, Fault, GridTask } from '../../sim/worker/protocol';
import type { DocumentStore } from './document';
import { NO_RESULTS, type ResultsStore, type SurfaceField } from './results';
import type { ReadingPlace, SessionStore } from './session';
import { createSceneToSolve } from './sceneToSolve';
import { sharpColumns } from './gridColumns';
import { elevationSurfaceId, planSurfaceId } from './shownPlaces';
import { setupOf } from '../tools/things';
import { isSameGrid } from './sameGrid';
import { twinDocument } from './twin';

export const ROUGH_COLUMNS = 64;
export const SHARP_COLUMNS = 256;
/** The plan's own map: the floor is looked at, not measured in. */
const ROUGH_FLOOR_COLUMNS = 32;
const SHARP_FLOOR_COLUMNS = 128;
export const REST_MS = 80;
export const LATE_MS = 150;
/** A judgement quicker than this keeps up with the hand; a slower one waits until the hand rests. */
const LIVE_JUDGEMENT_MS = 300;

export interface SolvingParts {
  readonly document: DocumentStore;
  readonly session: SessionStore;
  readonly results: ResultsStore;
  /** Maps and readings. */
  readonly fieldSolver: SolverClient;
  /** Judgements, which cannot be cut into slices: they have a worker of their own. */
  readonly judgeSolver: SolverClient;
  readonly nowMs: () => number;
}
export interface Solving {
  /** Gives up the solve under way; the old picture stays, marked out of date. */
  stop(): void;
  /** Starts again after a stop or a failure. */
  again(): void;
  dispose(): void;
}

interface Wanted {
  readonly document: SceneDocument;
  /** Counts the opened scenes: another scene's results are nothing to go on showing. */
  readonly opened: number;
  readonly setupId: string;
  readonly elevationId: string | null;
  readonly floorId: string | null;
}

/** Runs a job over and over, one at a time, as long as there is something newer to do. */
function latestOnly(run: () => Promise<void>): () => void {
  let running = false;
  let again = false;
  const start = async (): Promise<void> => {
    if (running) {
      again = true;
      return;
    }
    running = true;
    do {
      again = false;
      await run();
    } while (again);
    running = false;
  };
  return () => void start();
}

/** An answer never takes the place of a newer scene's, nor a rough map that of the same scene's sharp one. */
const isOlder = (answer: SurfaceField, shown: SurfaceField | undefined): boolean =>
  shown !== undefined &&
  (answer.revision < shown.revision || (answer.revision === shown.revision && answer.rough && !shown.rough));

function gridTask(wanted: Wanted, columns: number, floorColumns: number, isSharp = false): GridTask {
  const asked = [
    { surfaceId: wanted.elevationId, columns },
    { surfaceId: wanted.floorId === wanted.elevationId ? null : wanted.floorId, columns: floorColumns },
  ];
  const surfaces = asked.flatMap(({ surfaceId, columns: count }) => {
    const surface = surfaceId === null ? undefined : wanted.document.surfaces[surfaceId];
    if (surfaceId === null || !surface) return [];
    const box = boundingBox(surface.shape);
    const across = isSharp ? sharpColumns(wanted.document, box.widthM, count) : count;
    return [{ surfaceId, columns: across, rows: rowsForSquareCells(box, across) }];
  });
  return { kind: 'grids', document: wanted.document, setupId: wanted.setupId, surfaces };
}

export function startSolving(parts: SolvingParts): Solving {
  const { document, session, results, fieldSolver, judgeSolver, nowMs } = parts;
  const toSolve = createSceneToSolve();
  let wanted: Wanted = read();
  let restTimer: ReturnType<typeof setTimeout> | undefined;
  let lateTimer: ReturnType<typeof setTimeout> | undefined;
  let judgementMs = Infinity;
  let disposed = false;
  /** Revision at which the shown setup was chosen: judgements from before belong to another setup. */
  let setupSince = 1;

  function read(): Wanted {
    const { shown, opened } = document.getState();
    const state = session.getState();
    return {
      document: toSolve(shown),
      opened,
      setupId: state.setupId,
      elevationId: elevationSurfaceId(shown, state),
      floorId: planSurfaceId(shown),
    };
  }
  const revision = (): number => results.getState().revision;
  const isStopped = (): boolean => ['stopped', 'failed'].includes(results.getState().status.kind);

  function beginSolving(): void {
    clearTimeout(lateTimer);
    results.setState({ status: { kind: 'solving', late: false, fraction: 0, surfaceId: null } });
    lateTimer = setTimeout(() => {
      const { status } = results.getState();
      if (status.kind === 'solving') results.setState({ status: { ...status, late: true } });
    }, LATE_MS);
  }
  function onProgress({ fraction, surfaceId }: JobProgress): void {
    const { status } = results.getState();
    if (status.kind === 'solving') results.setState({ status: { ...status, fraction, surfaceId } });
  }
  function fail(fault: Fault): void {
    clearTimeout(lateTimer);
    results.setState({ status: { kind: 'failed', fault } });
  }

  function land(outcome: Settled<readonly GridResult[]>, rough: boolean): boolean {
    if (outcome.status === 'failed') fail(outcome.fault);
    if (outcome.status !== 'done') return false;
    const fields = { ...results.getState().fields };
    for (const result of outcome.result) {
      const shown = fields[result.surfaceId];
      // Where a change did not reach a surface, what is drawn of its map is kept: it goes by the map's identity.
      const kept = shown && isSameGrid(shown.result, result) ? shown.result : result;
      const answer = { result: kept, rough, revision: outcome.revision };
      if (!isOlder(answer, shown)) fields[result.surfaceId] = answer;
    }
    results.setState({ fields });
    return outcome.revision === revision();
  }

  const roughly = latestOnly(async () => {
    if (disposed || isStopped()) return;
    const task = gridTask(wanted, ROUGH_COLUMNS, ROUGH_FLOOR_COLUMNS);
    const landed = land(await fieldSolver.run('rough', revision(), task), true);
    if (landed && !isStopped()) beginSolving(); // the hatch waits anew: a fresh rough map is on the screen
  });

  async function sharply(): Promise<void> {
    const task = gridTask(wanted, SHARP_COLUMNS, SHARP_FLOOR_COLUMNS, true);
    const landed = land(await fieldSolver.run('sharp', revision(), task, onProgress), false);
    if (!landed || isStopped()) return;
    clearTimeout(lateTimer);
    results.setState({ status: { kind: 'current' } });
  }

  const judge = latestOnly(async () => {
    if (disposed || isStopped()) return;
    const startMs = nowMs();
    const task = { kind: 'checks', document: wanted.document, setupId: wanted.setupId } as const;
    const outcome = await judgeSolver.run('checks', revision(), task);
    judgementMs = nowMs() - startMs;
    if (outcome.status === 'done') {
      if (outcome.revision < Math.max(setupSince, results.getState().checksRevision)) return;
      results.setState({ checks: outcome.result, checksRevision: outcome.revision, checksFault: null });
      if (outcome.revision === revision()) void twin();
    } else if (outcome.status === 'failed') {
      results.setState({ checksFault: outcome.fault });
    }
  });

  async function twin(): Promise<void> {
    const { twin: shown, quantity, checkIndex } = session.getState();
    const { checks, checksRevision } = results.getState();
    const check: SunCheck | undefined = checks[checkIndex] ?? checks[0];
    if (!shown && quantity !== 'lampOverSun') return;
    if (!check || checksRevision !== revision()) return;
    const scene = twinDocument(wanted.document, wanted.setupId, check);
    if (!scene) {
      results.setState({ twin: null });
      return;
    }
    const task = gridTask({ ...wanted, document: scene }, SHARP_COLUMNS, SHARP_FLOOR_COLUMNS, true);
    const judged = { kind: 'checks', document: scene, setupId: wanted.setupId } as const;
    const [grids, twinChecks] = await Promise.all([
      fieldSolver.run('twin', revision(), task),
      judgeSolver.run('twinChecks', revision(), judged),
    ]);
    if (grids.status !== 'done' || twinChecks.status !== 'done' || grids.revision !== revision()) return;
    const fields = Object.fromEntries(grids.result.map((grid) => [grid.surfaceId, grid]));
    results.setState({ twin: { fields, checks: twinChecks.result } });
  }

  function readAt(channel: Channel, key: 'reading' | 'pinned', placeOf: () => ReadingPlace | null): () => void {
    return latestOnly(async () => {
      const place = placeOf();
      if (!place || disposed) {
        results.setState({ [key]: null });
        return;
      }
      const { document: scene, setupId } = wanted;
      if (!scene.surfaces[place.surfaceId]) return;
      const task = { kind: 'reading', document: scene, setupId, ...place } as const;
      const outcome = await fieldSolver.run(channel, revision(), task);
      if (outcome.status === 'done' && placeOf()) results.setState({ [key]: { place, reading: outcome.result } });
    });
  }
  const readPlace = readAt('reading', 'reading', () => session.getState().place);
  const readPin = readAt('pin', 'pinned', () => session.getState().pin);

  function change(): void {
    const next = read();
    // The setup that was shown has just been taken out: the session follows at once, and names another one.
    if (!setupOf(next.document, next.setupId)) return;
    const sceneChanged = next.document !== wanted.document || next.setupId !== wanted.setupId;
    const surfaceChanged = next.elevationId !== wanted.elevationId || next.floorId !== wanted.floorId;
    if (!sceneChanged && !surfaceChanged) return;
    // Between two scenes the stores are told one after the other: a setup of the one is none of the other.
    if (!next.document.setups.some((setup) => setup.id === next.setupId)) return;
    const sceneOpened = next.opened !== wanted.opened;
    const setupChanged = sceneOpened || next.setupId !== wanted.setupId;
    wanted = next;
    if (setupChanged) setupSince = revision() + 1;
    results.setState({
      revision: revision() + 1,
      ...(sceneOpened && { fields: {} }),
      ...(setupChanged && { checks: [], checksRevision: -1, checksFault: null, twin: null }),
    });
    solve(sceneChanged);
  }
  function solve(sceneChanged: boolean): void {
    fieldSolver.cancel('sharp');
    fieldSolver.cancel('twin');
    beginSolving();
    roughly();
    readPlace();
    readPin();
    if (sceneChanged && judgementMs < LIVE_JUDGEMENT_MS) judge();
    clearTimeout(restTimer);
    restTimer = setTimeout(() => {
      void sharply();
      judge();
    }, REST_MS);
  }

  const unsubscribe = [
    document.subscribe(change),
    session.subscribe((state, before) => {
      change();
      if (state.place !== before.place) readPlace();
      if (state.pin !== before.pin) readPin();
      if (state.twin !== before.twin || state.quantity !== before.quantity || state.checkIndex !== before.checkIndex)
        void twin();
    }),
  ];
  results.setState({ ...NO_RESULTS, revision: 1 });
  solve(true);

  return {
    stop() {
      clearTimeout(restTimer);
      clearTimeout(lateTimer);
      results.setState({ status: { kind: 'stopped' } });
      for (const channel of ['rough', 'sharp', 'twin'] as const) fieldSolver.cancel(channel);
    },
    again() {
      beginSolving();
      solve(true);
    },
    dispose() {
      disposed = true;
      clearTimeout(restTimer);
      clearTimeout(lateTimer);
      for (const stop of unsubscribe) stop();
    },
  };
}
