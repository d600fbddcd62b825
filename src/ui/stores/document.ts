/** The scene that is open: its history, and the draft of the gesture under way. Only this store is saved. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import { applyCommand, labelOf, type Command } from '../../scene/commands';
import { commit, redo, startHistory, undo, type History } from '../../scene/history';
import type { SceneDocument } from '../../scene/schema';

export interface DocumentState {
  readonly history: History;
  /** The gesture's command, not yet a step of the history. */
  readonly draft: Command | null;
  /** What every screen shows: the present document with the draft applied to it. */
  readonly shown: SceneDocument;
  /** Name of the file it came from or goes to. */
  readonly fileName: string;
  /** Counts the scenes that were opened, so that views can be fitted anew. */
  readonly opened: number;
}
export type DocumentStore = StoreApi<DocumentState>;

export function createDocumentStore(document: SceneDocument, fileName: string): DocumentStore {
  return createStore<DocumentState>()(() => opened(document, fileName, 0));
}
const opened = (document: SceneDocument, fileName: string, count: number): DocumentState => ({
  history: startHistory(document),
  draft: null,
  shown: document,
  fileName,
  opened: count,
});

/** Replaces the scene and forgets the old one's history. */
export function openDocument(store: DocumentStore, document: SceneDocument, fileName: string): void {
  store.setState(opened(document, fileName, store.getState().opened + 1));
}

/** Shows what a command would do; a command that cannot be done shows the document as it is. */
export function setDraft(store: DocumentStore, draft: Command | null): void {
  const { history } = store.getState();
  const result = draft && applyCommand(history.present, draft);
  store.setState({ draft, shown: result?.ok ? result.document : history.present });
}

/**
 * Does a command as one step of the history and drops any draft.
 * @returns why it cannot be done, or null
 */
export function execute(store: DocumentStore, command: Command): string | null {
  const { history } = store.getState();
  const result = applyCommand(history.present, command);
  if (!result.ok) {
    store.setState({ draft: null, shown: history.present });
    return result.fault;
  }
  const next = commit(history, result.document, labelOf(command, history.present));
  store.setState({ history: next, draft: null, shown: next.present });
  return null;
}

export function undoStep(store: DocumentStore): void {
  const history = undo(store.getState().history);
  store.setState({ history, draft: null, shown: history.present });
}
export function redoStep(store: DocumentStore): void {
  const history = redo(store.getState().history);
  store.setState({ history, draft: null, shown: history.present });
}
