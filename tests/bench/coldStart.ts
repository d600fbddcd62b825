/**
 * How long the first picture takes: a fresh worker thread with the solver bundled as for the page, to the first 64 x 64
 * layers of the demo scene's floor. A Node worker stands in for the page's: the same engine and the same compiler, none of
 * the page's own work beside it.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { build, type Rolldown } from 'vite';
import { loadScene } from '../../src/scene/load';
import type { FromWorker, ToWorker } from '../../src/sim/worker/protocol';

const ENTRY = fileURLToPath(new URL('../../src/sim/worker/solver.worker.ts', import.meta.url));
const SCENE = fileURLToPath(new URL('../../scenes-demo/customs-office-shaft.json', import.meta.url));
const CELLS = 64;

/** What a page's worker has and a Node thread has not; `ready` follows once the solver's code has run. */
const BEFORE = `import { parentPort } from 'node:worker_threads';
globalThis.self = { postMessage: (message, transfer) => parentPort.postMessage(message, transfer), onmessage: null };
parentPort.on('message', (data) => globalThis.self.onmessage({ data }));
await import('./solver.mjs');
parentPort.postMessage('ready');
`;

export interface ColdStart {
  /** From the first message to a worker that has loaded, to its answer. */
  readonly fromMessageMs: number;
  /** From the start of the thread, loading included. */
  readonly fromThreadMs: number;
}

function firstMessage(): ToWorker {
  const loaded = loadScene(readFileSync(SCENE, 'utf8'), SCENE);
  if (!loaded.ok) throw new Error('the demo scene does not load');
  const { document } = loaded;
  const floor = Object.entries(document.surfaces).find(([, surface]) => surface.kind === 'floor');
  if (!floor) throw new Error('the demo scene has no floor');
  const surfaces = [{ surfaceId: floor[0], columns: CELLS, rows: CELLS }];
  const task = { kind: 'grids', document, setupId: document.setups[0]!.id, surfaces } as const;
  return { type: 'start', jobId: 1, revision: 1, channel: 'rough', task };
}

function once(file: string, message: ToWorker): Promise<ColdStart> {
  return new Promise((resolve, reject) => {
    const start = performance.now();
    let sent = start;
    const worker = new Worker(file);
    worker.on('error', reject);
    worker.on('message', (answer: FromWorker | 'ready') => {
      if (answer === 'ready') {
        sent = performance.now();
        worker.postMessage(message);
      } else if (answer.type === 'done') {
        const now = performance.now();
        resolve({ fromMessageMs: now - sent, fromThreadMs: now - start });
        void worker.terminate();
      } else if (answer.type === 'failed') reject(new Error(answer.fault.message));
    });
  });
}

/** One fresh worker after the other; a worker's second answer would be warm. */
export async function coldStarts(runs: number): Promise<ColdStart[]> {
  const folder = mkdtempSync(join(tmpdir(), 'farsun-cold-'));
  try {
    const built = (await build({
      configFile: false,
      logLevel: 'error',
      build: { write: false, lib: { entry: ENTRY, formats: ['es'], fileName: 'solver' }, target: 'es2022' },
    })) as Rolldown.RolldownOutput[];
    writeFileSync(join(folder, 'solver.mjs'), built[0]!.output[0].code);
    const file = join(folder, 'worker.mjs');
    writeFileSync(file, BEFORE);
    const message = firstMessage();
    const starts: ColdStart[] = [];
    for (let run = 0; run < runs; run++) starts.push(await once(file, message));
    return starts;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
