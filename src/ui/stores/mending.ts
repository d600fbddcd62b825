/**
 * Looks for mends of the shown setup once its verdict has landed and the hand has rested, on a worker of its own. A change
 * of the scene ends that worker at once, so that a search can never hold up a map that somebody waits for.
 */
import type { SolverClient } from '../../sim/worker/client';
import type { DocumentStore } from './document';
import { isSameSubject, subjectOf, type FoundMends, type MendsStore, type MendSubject } from './mends';
import type { ResultsState, ResultsStore } from './results';
import { createSceneToSolve } from './sceneToSolve';
import type { SessionStore } from './session';

/** How long map and verdict have to have stood before a search begins by itself. */
export const MENDS_REST_MS = 1200;
/** Answers that are kept, so that going back to a setup does not search again. */
const MOST_KEPT = 8;

export interface MendingParts {
  readonly document: DocumentStore;
  readonly session: SessionStore;
  readonly results: ResultsStore;
  readonly mends: MendsStore;
  /** A client that ends its worker when a job is given up. */
  readonly solver: SolverClient;
}
export interface Mending {
  /** Searches now, whatever the verdict says. */
  find(): void;
  /** Gives up the search; it does not begin again by itself until the scene changes. */
  stop(): void;
  dispose(): void;
}

const isSettled = ({ status, checksRevision, revision }: ResultsState): boolean =>
  status.kind === 'current' && checksRevision === revision;
/** Nothing to mend where everything reads as sun, or nothing is judged. */
const asksForMends = ({ checks }: ResultsState): boolean =>
  checks.some(({ verdict }) => verdict === 'passable' || verdict === 'givesAway');

export function startMending({ document, session, results, mends, solver }: MendingParts): Mending {
  let subject: MendSubject | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let kept: readonly FoundMends[] = [];
  const toSolve = createSceneToSolve();

  const isSearching = (): boolean => mends.getState().status.kind === 'searching';
  const known = (wanted: MendSubject): FoundMends | undefined => kept.find((one) => isSameSubject(one.subject, wanted));

  async function search(): Promise<void> {
    const wanted = subject;
    if (!wanted || isSearching()) return;
    mends.setState({ status: { kind: 'searching', fraction: 0 } });
    const task = { kind: 'mends', document: toSolve(wanted.document), setupId: wanted.setup.id } as const;
    const outcome = await solver.run('mends', results.getState().revision, task, ({ fraction }) => {
      if (isSearching()) mends.setState({ status: { kind: 'searching', fraction } });
    });
    // Given up: whoever did that has said how it stands now.
    if (!subject || !isSameSubject(subject, wanted) || !isSearching()) return;
    if (outcome.status === 'failed') mends.setState({ status: { kind: 'failed', fault: outcome.fault } });
    if (outcome.status !== 'done') return;
    const found = { subject: wanted, mends: outcome.result };
    kept = [found, ...kept].slice(0, MOST_KEPT);
    mends.setState({ found, isCurrent: true, status: { kind: 'found' } });
  }

  /** The search that begins by itself waits for a verdict that asks for it, and for quiet. */
  function waitForQuiet(): void {
    clearTimeout(timer);
    const state = results.getState();
    if (mends.getState().status.kind !== 'waiting' || !isSettled(state) || !asksForMends(state)) return;
    timer = setTimeout(() => void search(), MENDS_REST_MS);
  }

  function change(): void {
    const next = subjectOf(document.getState().shown, session.getState().setupId);
    if (next && subject && isSameSubject(next, subject)) return;
    subject = next;
    clearTimeout(timer);
    solver.cancel('mends');
    const found = next ? known(next) : undefined;
    mends.setState(
      found ? { found, isCurrent: true, status: { kind: 'found' } } : { isCurrent: false, status: { kind: 'waiting' } },
    );
    waitForQuiet();
  }

  const unsubscribe = [
    document.subscribe(change),
    session.subscribe(change),
    results.subscribe((state, before) => {
      const isNews = state.status !== before.status || state.checksRevision !== before.checksRevision;
      if (isNews || state.revision !== before.revision) waitForQuiet();
    }),
  ];
  change();

  return {
    find() {
      clearTimeout(timer);
      void search();
    },
    stop() {
      clearTimeout(timer);
      mends.setState({ status: { kind: 'stopped' } });
      solver.cancel('mends');
    },
    dispose() {
      clearTimeout(timer);
      for (const stop of unsubscribe) stop();
      solver.cancel('mends');
    },
  };
}
