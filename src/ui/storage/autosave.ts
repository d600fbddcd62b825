/** Writes the scene a moment after each step. Loud when it cannot; silent in a tab that does not own the scene. */
import { saveScene } from '../../scene/save';
import type { DocumentStore } from '../stores/document';
import type { SavingStore } from '../stores/saving';
import type { GripStore } from '../grip/gripStore';
import type { SceneStorage } from './sceneStore';
import { rigsToStore } from './storedRigs';

export const AUTOSAVE_MS = 250;

export interface AutosaveParts {
  readonly document: DocumentStore;
  readonly grip: GripStore;
  readonly saving: SavingStore;
  readonly storage: SceneStorage;
  readonly now: () => Date;
  /** Called once each time that storing turns from good to bad. */
  readonly onFailure: (why: string) => void;
}

const whyOf = (thrown: unknown): string => {
  if (thrown instanceof Error && thrown.name === 'QuotaExceededError') return 'its space is full';
  return thrown instanceof Error && thrown.message ? thrown.message : 'it gives no storage';
};

/** @returns `flush` writes at once what is waiting; `stop` ends the writing */
export function startAutosave(parts: AutosaveParts): { flush: () => Promise<void>; stop: () => void } {
  const { document, grip, saving, storage, now, onFailure } = parts;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let written = document.getState().history.present;
  let writing = Promise.resolve();

  const write = async (): Promise<void> => {
    const { history, fileName } = document.getState();
    if (history.present === written && saving.getState().kind === 'saved') return;
    const at = now();
    try {
      const rigs = rigsToStore(grip.getState().made, history.present);
      await storage.write({ text: saveScene(history.present), fileName, savedAt: at.toISOString(), rigs });
      written = history.present;
      saving.setState({ kind: 'saved', at }, true);
    } catch (thrown) {
      const wasGood = saving.getState().kind !== 'failed';
      const why = whyOf(thrown);
      saving.setState({ kind: 'failed', why }, true);
      if (wasGood) onFailure(why);
    }
  };
  const flush = (): Promise<void> => {
    clearTimeout(timer);
    writing = writing.then(write);
    return writing;
  };
  const unsubscribe = document.subscribe((state, before) => {
    if (state.history.present === before.history.present && state.fileName === before.fileName) return;
    if (saving.getState().kind === 'saved') saving.setState({ kind: 'waiting' }, true);
    clearTimeout(timer);
    timer = setTimeout(() => void flush(), AUTOSAVE_MS);
  });
  void flush();
  return {
    flush,
    stop: () => {
      clearTimeout(timer);
      unsubscribe();
    },
  };
}
