/** What every panel can reach: the stores, the solver's handle and the actions. */
import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import type { SolverClient } from '../sim/worker/client';
import type { Actions } from './actions';
import type { DocumentState, DocumentStore } from './stores/document';
import type { ResultsState, ResultsStore } from './stores/results';
import type { SavingState, SavingStore } from './stores/saving';
import type { SessionState, SessionStore } from './stores/session';
import type { Solving } from './stores/solving';

export interface App {
  readonly document: DocumentStore;
  readonly session: SessionStore;
  readonly results: ResultsStore;
  readonly saving: SavingStore;
  readonly solving: Solving;
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
export const useDocument = <T>(select: (state: DocumentState) => T): T => useStore(useApp().document, select);
export const useSession = <T>(select: (state: SessionState) => T): T => useStore(useApp().session, select);
export const useResults = <T>(select: (state: ResultsState) => T): T => useStore(useApp().results, select);
export const useSaving = <T>(select: (state: SavingState) => T): T => useStore(useApp().saving, select);
