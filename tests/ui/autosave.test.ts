/** Work is stored as it is done; where it cannot be, it is said once, aloud, and nothing is lost in the page. */
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { loadScene } from '../../src/scene/load';
import { createGripStore, type GripMade } from '../../src/ui/grip/gripStore';
import { AUTOSAVE_MS, startAutosave } from '../../src/ui/storage/autosave';
import { claimScene, type SceneStorage, type StoredScene } from '../../src/ui/storage/sceneStore';
import { createDocumentStore, execute, setDraft } from '../../src/ui/stores/document';
import { createSavingStore, holdsUnstoredWork } from '../../src/ui/stores/saving';
import { tinyScene } from './tinyScene';

function fakeStorage() {
  const state: { stored: StoredScene | undefined; fault: Error | null; writes: number } = {
    stored: undefined,
    fault: null,
    writes: 0,
  };
  const storage: SceneStorage = {
    read: () => Promise.resolve(state.stored),
    write(scene) {
      state.writes += 1;
      if (state.fault) return Promise.reject(state.fault);
      state.stored = scene;
      return Promise.resolve();
    },
    setAside: () => Promise.resolve(),
  };
  return { storage, state };
}
async function start() {
  const document = createDocumentStore(tinyScene(), 'room.json');
  const saving = createSavingStore();
  const { storage, state } = fakeStorage();
  const onFailure = vi.fn();
  const grip = createGripStore();
  const autosave = startAutosave({ document, grip, saving, storage, now: () => new Date(0), onFailure });
  await vi.advanceTimersByTimeAsync(0);
  const step = (iso: number) => execute(document, { type: 'patchScene', part: 'camera', fields: { iso } });
  const storedIso = (): number | null => {
    const loaded = loadScene(state.stored?.text ?? '', 'stored.json');
    return loaded.ok ? loaded.document.camera.iso : null;
  };
  return { document, grip, saving, state, onFailure, autosave, step, storedIso };
}
beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe('storing', () => {
  test('the scene is stored at the start and a moment after each step, quick steps together', async () => {
    const page = await start();
    expect(page.storedIso()).toBe(800);
    for (const iso of [100, 200, 400]) page.step(iso);
    expect(page.saving.getState().kind).toBe('waiting');
    await vi.advanceTimersByTimeAsync(AUTOSAVE_MS);
    expect(page.storedIso()).toBe(400);
    expect(page.state.writes).toBe(2);
    expect(page.saving.getState()).toEqual({ kind: 'saved', at: new Date(0) });
  });

  test('what a grip helper placed is stored with its scene, as far as it stands there', async () => {
    const page = await start();
    const [setup] = tinyScene().setups;
    const [lampId, lamp] = Object.entries(setup!.sources)[0]!;
    const scrim = {
      id: 'made-1',
      helper: 'halfScrim',
      setupId: setup!.id,
      lampId,
      request: { helper: 'halfScrim', lampId, surfaceId: 'north-wall', grades: [1], clockDeg: 0 },
      pieces: {},
      lampBefore: lamp,
      lampAfter: lamp,
    } as GripMade;
    const gone = { ...scrim, helper: 'flag', pieces: { 'flag-1': {} } } as unknown as GripMade;
    page.step(400);
    page.grip.setState({ made: [gone, scrim] });
    await vi.advanceTimersByTimeAsync(AUTOSAVE_MS);
    expect(page.state.stored?.rigs).toEqual([expect.objectContaining({ request: scrim.request })]);
  });

  test('a drag under way is not stored: a crash in its middle leaves the scene of the last step', async () => {
    const page = await start();
    page.step(400);
    await vi.advanceTimersByTimeAsync(AUTOSAVE_MS);
    setDraft(page.document, { type: 'patchScene', part: 'camera', fields: { iso: 3200 } });
    await vi.advanceTimersByTimeAsync(10 * AUTOSAVE_MS);
    await page.autosave.flush();
    expect(page.document.getState().shown.camera.iso).toBe(3200);
    expect(page.storedIso()).toBe(400);
  });

  test('closing the page stores at once what is waiting', async () => {
    const page = await start();
    page.step(400);
    await page.autosave.flush();
    expect(page.storedIso()).toBe(400);
  });
});

describe('full storage', () => {
  test('is told once; the scene stays in the page, and the next good write stores all of it', async () => {
    const page = await start();
    page.state.fault = new DOMException('', 'QuotaExceededError');
    for (const iso of [100, 200]) {
      page.step(iso);
      await vi.advanceTimersByTimeAsync(AUTOSAVE_MS);
    }
    expect(page.onFailure.mock.calls).toEqual([['its space is full']]);
    expect(page.saving.getState()).toEqual({ kind: 'failed', why: 'its space is full' });
    expect(page.document.getState().history.present.camera.iso).toBe(200);
    expect(page.storedIso()).toBe(800);

    page.state.fault = null;
    page.step(400);
    await vi.advanceTimersByTimeAsync(AUTOSAVE_MS);
    expect(page.storedIso()).toBe(400);
    expect(page.saving.getState().kind).toBe('saved');
  });

  test('the page asks before it is closed on work that only it holds', () => {
    const at = new Date(0);
    expect(holdsUnstoredWork({ kind: 'failed', why: 'its space is full' }, 1)).toBe(true);
    expect(holdsUnstoredWork({ kind: 'elsewhere' }, 1)).toBe(true);
    expect(holdsUnstoredWork({ kind: 'elsewhere' }, 0)).toBe(false);
    expect(holdsUnstoredWork({ kind: 'saved', at }, 5)).toBe(false);
  });
});

describe('two tabs', () => {
  /** Locks as the Web Locks API gives them: one holder a name, others get null where they ask only for a free one. */
  function fakeLocks(): LockManager {
    const held = new Set<string>();
    return {
      request: (name: string, _options: LockOptions, granted: (lock: Lock | null) => unknown) => {
        if (held.has(name)) return Promise.resolve(granted(null));
        held.add(name);
        return Promise.resolve(granted({ name, mode: 'exclusive' } as Lock));
      },
    } as unknown as LockManager;
  }
  test('the first tab owns the stored scene, the second does not', async () => {
    const locks = fakeLocks();
    expect(await claimScene(locks)).toBe(true);
    expect(await claimScene(locks)).toBe(false);
  });
  test('a browser without locks gives it to every tab', async () => {
    expect(await claimScene(undefined)).toBe(true);
  });
});
