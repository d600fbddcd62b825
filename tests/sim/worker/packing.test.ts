/** Scenes on their way to the worker: they arrive whole, and nothing that is there already is sent again. */
import { expect, test } from 'vitest';
import { applyCommand, type Command } from '../../../src/scene/commands';
import type { SceneDocument } from '../../../src/scene/schema';
import { createSolverClient, type SolverEndpoint } from '../../../src/sim/worker/client';
import { createPacker, createUnpacker, REMEMBERED_DOCUMENTS, withPacking } from '../../../src/sim/worker/packing';
import type { ToWorker } from '../../../src/sim/worker/protocol';
import { largeScene } from '../../large/largeScene';

function after(document: SceneDocument, command: Command): SceneDocument {
  const result = applyCommand(document, command);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
}
const lampAt = (document: SceneDocument, xM: number): SceneDocument =>
  after(document, { type: 'move', at: { kind: 'source', setupId: 'a', id: 'lamp-2' }, positionM: [xM, 1, 2] });
const wallAt = (document: SceneDocument, zM: number): SceneDocument =>
  after(document, { type: 'move', at: { kind: 'surface', id: 'store-1-north' }, positionM: [0, 4.6, zM] });

/** A packer and an unpacker with the copy between threads in between. */
function line() {
  const [pack, unpack] = [createPacker(), createUnpacker()];
  let jobId = 0;
  return (document: SceneDocument): { arrived: SceneDocument; letters: number } => {
    jobId += 1;
    const message: ToWorker = {
      type: 'start',
      jobId,
      revision: jobId,
      channel: 'checks',
      task: { kind: 'checks', document, setupId: 'a' },
    };
    const wire = structuredClone(pack(message));
    const { task, ...rest } = unpack(wire) as ToWorker & { type: 'start' };
    if (task.kind !== 'checks') throw new Error('another task has arrived');
    expect(rest).toEqual({ type: 'start', jobId, revision: jobId, channel: 'checks' });
    expect(task.setupId).toBe('a');
    return { arrived: task.document, letters: JSON.stringify(wire).length };
  };
}

test('every scene arrives as it was sent, whatever went before it', () => {
  const send = line();
  const start = largeScene(5);
  let document = start;
  const sent: SceneDocument[] = [start];
  for (let step = 0; step < 40; step += 1) {
    if (step % 7 === 6) document = sent[(step * 5) % sent.length]!;
    else if (step % 5 === 4) document = wallAt(document, 0.01 * step);
    else document = lampAt(document, 0.1 * step);
    sent.push(document);
    expect(send(document).arrived).toEqual(document);
  }
});

test('a lamp that moved sends the lamps again and no wall, and a scene that is there is named', () => {
  const send = line();
  const start = largeScene(20);
  const first = send(start);
  const moved = lampAt(start, 3);
  const second = send(moved);
  expect(second.letters).toBeLessThan(0.3 * first.letters);
  expect(send(moved).letters).toBeLessThan(300);
  // The same walls are the same object at the other end, so that what is worked out from them can be kept.
  expect(second.arrived.surfaces).toBe(first.arrived.surfaces);
  expect(second.arrived.setups[0]!.modifiers).toBe(first.arrived.setups[0]!.modifiers);
  expect(second.arrived.setups[0]!.sources).not.toBe(first.arrived.setups[0]!.sources);
});

test('what was forgotten is sent again, on both sides alike', () => {
  const send = line();
  const start = largeScene(5);
  const first = send(start);
  let document = start;
  for (let step = 1; step <= REMEMBERED_DOCUMENTS; step += 1) send((document = wallAt(lampAt(document, step), step)));
  // Its modifiers are still those of the others; walls and lamps have to come again.
  const again = send(start);
  expect(again.arrived).toEqual(start);
  expect(again.letters).toBeGreaterThan(0.3 * first.letters);
  expect(send(document).letters).toBeLessThan(300);
});

test('a scene whose parts were lost is asked for again and comes whole', async () => {
  const unpack = createUnpacker();
  const arrived: SceneDocument[] = [];
  let isLost = false;
  const worker: SolverEndpoint = {
    postMessage(message) {
      if (isLost) return;
      const got = unpack(structuredClone(message));
      if (got?.type === 'start' && got.task.kind === 'checks') arrived.push(got.task.document);
      const { jobId } = message;
      queueMicrotask(() =>
        worker.onmessage?.({
          data: got ? { type: 'done', jobId, revision: 1, result: [] } : { type: 'missing', jobId },
        }),
      );
    },
    terminate: () => undefined,
    onmessage: null,
    onerror: null,
    onmessageerror: null,
  };
  const client = createSolverClient(() => withPacking(worker));
  const start = largeScene(5);
  const moved = wallAt(start, 0.2);
  const run = (document: SceneDocument) => client.run('checks', 1, { kind: 'checks', document, setupId: 'a' });
  await run(start);
  isLost = true;
  void run(moved);
  isLost = false;
  expect((await run(moved)).status).toBe('done');
  expect((await run(lampAt(moved, 4))).status).toBe('done');
  expect(arrived).toEqual([start, moved, lampAt(moved, 4)]);
});

test('what carries no scene goes as it is', () => {
  const cancel: ToWorker = { type: 'cancel', jobId: 3 };
  expect(createUnpacker()(createPacker()(cancel))).toBe(cancel);
});
