import type { Shelf } from './progress';

/** The browser's own storage; null where it is forbidden. */
export function shelfOf(): Shelf {
  try {
    return window.localStorage;
  } catch {
    return null;
  }
}
