/** Wires the stores, the solver, the storage and the page. */
import 'pixi.js/unsafe-eval'; // the page's content policy forbids eval
import { createRoot } from 'react-dom/client';
import { z } from 'zod';
import { emptyScene } from '../scene/emptyScene';
import { formatFault, loadScene } from '../scene/load';
import type { SceneDocument } from '../scene/schema';
import { createSolverClient, type SolverEndpoint } from '../sim/worker/client';
import { withPacking } from '../sim/worker/packing';
import { createActions, DEMO_FILE_NAME, demoSceneText } from './actions';
import type { App } from './app';
import { Farsun } from './Farsun';
import { createGripStore, type GripMade } from './grip/gripStore';
import { startUnpacking } from './planPicture/pixels';
import { startAutosave } from './storage/autosave';
import { browserStorage, claimScene, type SceneStorage } from './storage/sceneStore';
import { rigsFromStore } from './storage/storedRigs';
import { followCalmly } from './stores/calm';
import { createDocumentStore } from './stores/document';
import { startMending } from './stores/mending';
import { createMendsStore } from './stores/mends';
import { createResultsStore } from './stores/results';
import { createSavingStore, holdsUnstoredWork } from './stores/saving';
import { createSessionStore, notify, type SessionStore } from './stores/session';
import { startSolving } from './stores/solving';
import { applyTheme, firstTheme } from './theme';

z.config({ jitless: true }); // no generated code under the content policy

const spawnSolver = (): SolverEndpoint =>
  withPacking(
    new Worker(new URL('../sim/worker/solver.worker.ts', import.meta.url), { type: 'module' }) as SolverEndpoint,
  );

interface FirstScene {
  readonly document: SceneDocument;
  readonly fileName: string;
  readonly fault?: readonly string[];
  readonly rigs?: readonly GripMade[];
}

function demoScene(): FirstScene {
  const demo = loadScene(demoSceneText, DEMO_FILE_NAME);
  if (demo.ok) return { document: demo.document, fileName: DEMO_FILE_NAME };
  return { document: emptyScene(), fileName: 'scene.json', fault: demo.faults.map(formatFault) };
}

/** The scene that was open last; else the demo. A stored text that cannot be opened is put aside, never overwritten. */
async function firstScene(storage: SceneStorage): Promise<FirstScene> {
  try {
    const stored = await storage.read();
    if (!stored) return demoScene();
    const loaded = loadScene(stored.text, stored.fileName);
    if (loaded.ok) {
      const rigs = rigsFromStore(stored.rigs, loaded.document);
      return { document: loaded.document, fileName: stored.fileName, rigs };
    }
    await storage.setAside(stored);
    const lines = loaded.faults.map(formatFault);
    return {
      ...demoScene(),
      fault: [...lines, 'The stored scene could not be opened. It was put aside; the demo is shown.'],
    };
  } catch {
    return demoScene(); // the autosave says aloud that this browser stores nothing
  }
}

function sayStorageFails(session: SessionStore, keepCopy: () => void, why: string): void {
  notify(session, {
    kind: 'fault',
    lines: [`This browser won’t store the scene: ${why}. Keep a copy now; nothing is lost while this page is open.`],
    action: { label: 'Keep a copy', run: keepCopy },
  });
}

async function start(): Promise<void> {
  const theme = firstTheme();
  applyTheme(theme);
  const storage = browserStorage();
  const [isOwner, first] = await Promise.all([claimScene(navigator.locks).catch(() => true), firstScene(storage)]);
  const document = createDocumentStore(first.document, first.fileName);
  const calm = followCalmly(document);
  const session = createSessionStore({ setupId: first.document.setups[0]?.id ?? '', theme });
  const results = createResultsStore();
  const saving = createSavingStore();
  const solving = startSolving({
    document,
    session,
    results,
    fieldSolver: createSolverClient(spawnSolver),
    judgeSolver: createSolverClient(spawnSolver),
    nowMs: () => performance.now(),
  });
  const grip = createGripStore(first.rigs);
  const mends = createMendsStore();
  const mendSolver = createSolverClient(spawnSolver, { endsWorkerOnCancel: true });
  const mending = startMending({ document, session, results, mends, solver: mendSolver });
  startUnpacking(document, session);
  const actions = createActions(document, session, mends);
  const app: App = {
    document,
    calm,
    session,
    results,
    mends,
    grip,
    saving,
    solving,
    mending,
    actions,
    coverageSolver: createSolverClient(spawnSolver),
  };

  // A page that stores nothing asks before it is closed on work that only it holds.
  window.addEventListener('beforeunload', (event) => {
    if (holdsUnstoredWork(saving.getState(), document.getState().history.past.length)) event.preventDefault();
  });
  if (first.fault) notify(session, { kind: 'fault', lines: first.fault });
  if (isOwner) {
    const onFailure = (why: string): void => sayStorageFails(session, actions.keepCopy, why);
    const autosave = startAutosave({ document, grip, saving, storage, now: () => new Date(), onFailure });
    window.addEventListener('pagehide', () => void autosave.flush());
    window.document.addEventListener('visibilitychange', () => void autosave.flush());
  } else {
    saving.setState({ kind: 'elsewhere' }, true);
    notify(session, {
      kind: 'caution',
      lines: [
        'This scene is open in another tab. Nothing done here is stored: close the other tab and reload, or keep a copy.',
      ],
      action: { label: 'Keep a copy', run: actions.keepCopy },
    });
  }
  const root = window.document.getElementById('root');
  if (root) createRoot(root).render(<Farsun app={app} />);
}

void start();
