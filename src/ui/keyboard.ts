/** Keys that work wherever the focus is, except where text is being typed. */
export type KeyAction = 'undo' | 'redo' | 'remove' | 'letGo';

export interface KeyPress {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
}

/** @param inText the focus is in a field, which has its own undo and its own Delete */
export function keyAction(press: KeyPress, inText: boolean): KeyAction | null {
  if (inText) return null;
  const key = press.key.toLowerCase();
  if ((press.ctrlKey || press.metaKey) && !press.altKey) {
    if (key === 'z') return press.shiftKey ? 'redo' : 'undo';
    return key === 'y' && !press.shiftKey ? 'redo' : null;
  }
  if (press.altKey) return null;
  if (press.key === 'Delete' || press.key === 'Backspace') return 'remove';
  return press.key === 'Escape' ? 'letGo' : null;
}

/** True where keys belong to the focused element: text fields, and whatever floats over the page. */
export function isInText(target: EventTarget | null): boolean {
  if (!(target instanceof Element)) return false;
  return target.closest('input, textarea, [contenteditable="true"], [role="menu"], [role="dialog"]') !== null;
}
