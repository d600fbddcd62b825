/** How far somebody has come with the lessons: kept in this browser alone, and not part of any scene. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import { z } from 'zod';

const KEY = 'farsun-lessons';
const keptSchema = z.strictObject({
  said: z.string().max(500),
  isRight: z.boolean(),
  reason: z.string().max(2000),
});
const progressSchema = z.strictObject({
  version: z.literal(1),
  guesses: z.record(z.string().max(100), keptSchema),
});

/** A guess that was committed, as it was judged then. */
export type Kept = z.infer<typeof keptSchema>;
export interface Progress {
  /** By exercise and round, "double-distance/doubled". */
  readonly guesses: Readonly<Record<string, Kept>>;
}
export type ProgressStore = StoreApi<Progress>;

/** The part of the browser's storage that is used; null where it is forbidden. */
export type Shelf = Pick<Storage, 'getItem' | 'setItem'> | null;

export const guessKey = (exerciseId: string, roundId: string): string => `${exerciseId}/${roundId}`;

function read(shelf: Shelf): Progress['guesses'] {
  try {
    const text = shelf?.getItem(KEY);
    const parsed = progressSchema.safeParse(text ? JSON.parse(text) : null);
    return parsed.success ? parsed.data.guesses : {};
  } catch {
    return {}; // a text that is no progress is as good as none
  }
}

export function createProgress(shelf: Shelf): ProgressStore {
  const store = createStore<Progress>()(() => ({ guesses: read(shelf) }));
  store.subscribe(({ guesses }) => {
    try {
      shelf?.setItem(KEY, JSON.stringify({ version: 1, guesses }));
    } catch {
      // A full or forbidden storage: the guesses hold while the page is open.
    }
  });
  return store;
}

export function keepGuess(store: ProgressStore, key: string, kept: Kept): void {
  store.setState(({ guesses }) => ({ guesses: { ...guesses, [key]: kept } }));
}
export function dropGuesses(store: ProgressStore, isDropped: (key: string) => boolean): void {
  store.setState(({ guesses }) => ({
    guesses: Object.fromEntries(Object.entries(guesses).filter(([key]) => !isDropped(key))),
  }));
}
