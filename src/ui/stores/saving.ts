/** Whether the open scene is kept by this browser. */
import { createStore, type StoreApi } from 'zustand/vanilla';

export type SavingState =
  | { readonly kind: 'saved'; readonly at: Date }
  | { readonly kind: 'waiting' }
  /** Storage refused; the scene lives in this page only. */
  | { readonly kind: 'failed'; readonly why: string }
  /** Another tab holds the scene; this one stores nothing. */
  | { readonly kind: 'elsewhere' };
export type SavingStore = StoreApi<SavingState>;
export const createSavingStore = (): SavingStore => createStore<SavingState>()(() => ({ kind: 'waiting' }));

/** True where closing the page would lose steps: nothing of this page is stored, and something has been done in it. */
export const holdsUnstoredWork = (saving: SavingState, steps: number): boolean =>
  steps > 0 && (saving.kind === 'failed' || saving.kind === 'elsewhere');
