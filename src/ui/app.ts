/** What every panel can reach: the stores, the solver's handle and the actions. */
import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import type { SolverClient } from '../sim/worker/client';
import type { Actions } from './actions';
import type { GripStore } from './grip/gripStore';
import type { CalmStore } from './stores/calm';
import type { DocumentState, DocumentStore } from './stores/document';
import type { Mending } from './stores/mending';
import type { MendsState, MendsStore } from './stores/mends';
import type { ResultsState, ResultsStore } from './stores/results';
import type { SavingState, SavingStore } from './stores/saving';
import type { SessionState, SessionStore } from './stores/session';
import type { Solving } from './stores/solving';

export interface App {
  readonly document: DocumentStore;
  /** The same scene for panels, which need not follow every move of a drag. */
  readonly calm: CalmStore;
  readonly session: SessionStore;
  readonly results: ResultsStore;
  readonly mends: MendsStore;
  /** The grip helper that stands open, and what helpers have placed. */
  readonly grip: GripStore;
  readonly saving: SavingStore;
  readonly solving: Solving;
  readonly mending: Mending;
  readonly actions: Actions;
  /** Jobs of the Coverage page: a worker of their own, made when the first is asked for. */
  readonly coverageSolver: SolverClient;
}

export const AppContext = createContext<App | null>(null);
export function useApp(): App {
  const app = useContext(AppContext);
  if (!app) throw new Error('this panel is outside the app');
  return app;
}
export const useDocument = <T>(select: (state: DocumentState) => T): T => useStore(useApp().calm, select);
export const useSession = <T>(select: (state: SessionState) => T): T => useStore(useApp().session, select);
export const useResults = <T>(select: (state: ResultsState) => T): T => useStore(useApp().results, select);
export const useMends = <T>(select: (state: MendsState) => T): T => useStore(useApp().mends, select);
export const useSaving = <T>(select: (state: SavingState) => T): T => useStore(useApp().saving, select);
