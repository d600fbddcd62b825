/** Keeps the open scene's text in the browser (IndexedDB), so that a reload or a crash loses nothing. */
import { openDB, type DBSchema } from 'idb';

export interface StoredScene {
  readonly text: string;
  readonly fileName: string;
  readonly savedAt: string;
  /** What grip helpers have placed in it: read with `rigsFromStore`. */
  readonly rigs?: unknown;
}
interface SceneDatabase extends DBSchema {
  scenes: { key: string; value: StoredScene };
}

/** The part of the storage that the app uses; tests hand in a fake. */
export interface SceneStorage {
  read(): Promise<StoredScene | undefined>;
  write(scene: StoredScene): Promise<void>;
  /** Puts a text aside that could not be opened, so that nothing overwrites it. */
  setAside(scene: StoredScene): Promise<void>;
}

const OPEN_KEY = 'open';

export function browserStorage(): SceneStorage {
  const database = openDB<SceneDatabase>('farsun', 1, {
    upgrade: (db) => {
      db.createObjectStore('scenes');
    },
  });
  database.catch(() => undefined); // told at each read and write instead
  return {
    read: async () => (await database).get('scenes', OPEN_KEY),
    write: async (scene) => void (await (await database).put('scenes', scene, OPEN_KEY)),
    setAside: async (scene) => void (await (await database).put('scenes', scene, `aside ${scene.savedAt}`)),
  };
}

/**
 * Claims the stored scene for this tab until it is closed.
 * @returns false if another tab has it; true also where the browser has no locks
 */
export function claimScene(locks: LockManager | undefined): Promise<boolean> {
  if (!locks) return Promise.resolve(true);
  return new Promise((resolve, reject) => {
    locks
      .request('farsun-open-scene', { ifAvailable: true }, (lock) => {
        resolve(lock !== null);
        return lock === null ? undefined : new Promise<void>(() => undefined); // held as long as the tab lives
      })
      .catch(reject);
  });
}
