/** The scene as the panels follow it: at once when a step is done, a few times a second while something is dragged. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { DocumentState, DocumentStore } from './document';

/** How often the panels' figures change under a drag, ms: often enough to be read, seldom enough not to slow the hand. */
export const CALM_MS = 160;
export type CalmStore = Pick<StoreApi<DocumentState>, 'getState' | 'getInitialState' | 'subscribe'>;

/** A follower of the document store; the last state of a drag always arrives. */
export function followCalmly(document: DocumentStore): CalmStore {
  const calm = createStore<DocumentState>()(() => document.getState());
  let timer: ReturnType<typeof setTimeout> | undefined;
  const catchUp = (): void => {
    clearTimeout(timer);
    timer = undefined;
    calm.setState(document.getState(), true);
  };
  document.subscribe((state) => {
    if (state.draft === null) catchUp();
    else timer ??= setTimeout(catchUp, CALM_MS);
  });
  return calm;
}
