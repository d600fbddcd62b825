/** Panels follow a drag a few times a second, and every step at once. */
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { CALM_MS, followCalmly } from '../../src/ui/stores/calm';
import { createDocumentStore, execute, setDraft, undoStep } from '../../src/ui/stores/document';
import type { Command } from '../../src/scene/commands';
import { tinyScene } from './tinyScene';

const raise = (heightM: number): Command => ({
  type: 'move',
  at: { kind: 'source', setupId: 'a', id: 'l1' },
  positionM: [0, 0, heightM],
});

describe('the calm follower', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  test('tells a drag once a while, and its last place always', () => {
    const document = createDocumentStore(tinyScene(), 'a.json');
    const calm = followCalmly(document);
    let told = 0;
    calm.subscribe(() => (told += 1));
    for (let move = 1; move <= 20; move += 1) {
      setDraft(document, raise(1 + move / 10));
      vi.advanceTimersByTime(CALM_MS / 8);
    }
    expect(told).toBeGreaterThan(0);
    expect(told).toBeLessThan(5);
    vi.advanceTimersByTime(CALM_MS);
    expect(calm.getState()).toBe(document.getState());
  });

  test('tells a finished step, its undo and a dropped draft at once', () => {
    const document = createDocumentStore(tinyScene(), 'a.json');
    const calm = followCalmly(document);
    execute(document, raise(3));
    expect(calm.getState()).toBe(document.getState());
    undoStep(document);
    expect(calm.getState()).toBe(document.getState());
    setDraft(document, raise(4));
    expect(calm.getState()).not.toBe(document.getState());
    setDraft(document, null);
    expect(calm.getState()).toBe(document.getState());
  });
});
