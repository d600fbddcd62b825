/** Undo and redo of whole documents. Documents share what they do not change, so keeping many costs little. */
import type { SceneDocument } from './schema';

/** A document that was left, and the label of the step that led away from it. */
interface Step {
  readonly document: SceneDocument;
  readonly label: string;
}
export interface History {
  readonly present: SceneDocument;
  /** Oldest first. */
  readonly past: readonly Step[];
  /** Next to redo first. */
  readonly future: readonly Step[];
}

export const MAX_STEPS = 500;

export const startHistory = (document: SceneDocument): History => ({ present: document, past: [], future: [] });

/** The history after a step; what could be redone is gone. A step that changed nothing is no step. */
export function commit(history: History, document: SceneDocument, label: string, maxSteps = MAX_STEPS): History {
  if (document === history.present) return history;
  const past = [...history.past, { document: history.present, label }];
  return { present: document, past: past.slice(Math.max(0, past.length - maxSteps)), future: [] };
}

/** One step back, to the very same document as before it; unchanged if there is none. */
export function undo(history: History): History {
  const step = history.past.at(-1);
  if (step === undefined) return history;
  return {
    present: step.document,
    past: history.past.slice(0, -1),
    future: [{ document: history.present, label: step.label }, ...history.future],
  };
}

/** One step forward again; unchanged if there is none. */
export function redo(history: History): History {
  const [step, ...future] = history.future;
  if (step === undefined) return history;
  return {
    present: step.document,
    past: [...history.past, { document: history.present, label: step.label }],
    future,
  };
}

/** Label of the step that `undo` would take back, or null. */
export const undoLabel = (history: History): string | null => history.past.at(-1)?.label ?? null;
/** Label of the step that `redo` would do again, or null. */
export const redoLabel = (history: History): string | null => history.future[0]?.label ?? null;
