import { describe, expect, test, vi } from 'vitest';
import { boundingBox, joinBands, planBands, rowsForSquareCells } from '../../src/sim/worker/bands';
import { createSolverClient } from '../../src/sim/worker/client';
import { createJobLoop, type TaskSlices } from '../../src/sim/worker/jobLoop';
import type { FromWorker, Task, ToWorker } from '../../src/sim/worker/protocol';
import type { GridRequest, GridResult } from '../../src/sim/results';
import { fakeEndpoint, type FakeEndpoint } from './fakeEndpoint';
import { tinyScene } from './tinyScene';

const task: Task = { kind: 'checks', document: tinyScene(), setupId: 'a' };

function clientWithFakes() {
  const endpoints: FakeEndpoint[] = [];
  const client = createSolverClient(() => {
    const endpoint = fakeEndpoint();
    endpoints.push(endpoint);
    return endpoint;
  });
  return { client, endpoints };
}
const startedIds = (endpoint: FakeEndpoint | undefined) =>
  (endpoint?.sent ?? []).flatMap((message) => (message.type === 'start' ? [message.jobId] : []));

describe('the client of the solver worker', () => {
  test('an answer carries the revision it was asked for', async () => {
    const { client, endpoints } = clientWithFakes();
    const call = client.run('checks', 7, task);
    const [jobId = 0] = startedIds(endpoints[0]);
    endpoints[0]?.answer({ type: 'done', jobId, revision: 7, result: [] });
    await expect(call).resolves.toEqual({ status: 'done', revision: 7, result: [] });
  });

  test('within a channel the newest job wins, and a late answer to the older one is ignored', async () => {
    const { client, endpoints } = clientWithFakes();
    const older = client.run('checks', 1, task);
    const newer = client.run('checks', 2, task);
    await expect(older).resolves.toEqual({ status: 'superseded' });
    const [olderId = 0, newerId = 0] = startedIds(endpoints[0]);
    endpoints[0]?.answer({ type: 'done', jobId: olderId, revision: 1, result: [] });
    endpoints[0]?.answer({ type: 'done', jobId: newerId, revision: 2, result: [] });
    await expect(newer).resolves.toMatchObject({ status: 'done', revision: 2 });
  });

  test('channels do not disturb each other, and progress reaches its own job', async () => {
    const { client, endpoints } = clientWithFakes();
    const seen = vi.fn();
    const checks = client.run('checks', 1, task, seen);
    const sharp = client.run('sharp', 1, task);
    const [checksId = 0, sharpId = 0] = startedIds(endpoints[0]);
    endpoints[0]?.answer({ type: 'progress', jobId: checksId, fraction: 0.5, surfaceId: 'floor' });
    endpoints[0]?.answer({ type: 'done', jobId: sharpId, revision: 1, result: [] });
    endpoints[0]?.answer({ type: 'failed', jobId: checksId, fault: { name: 'RangeError', message: 'no such setup' } });
    await expect(sharp).resolves.toMatchObject({ status: 'done' });
    await expect(checks).resolves.toEqual({
      status: 'failed',
      fault: { name: 'RangeError', message: 'no such setup' },
    });
    expect(seen.mock.calls).toEqual([[{ fraction: 0.5, surfaceId: 'floor' }]]);
  });

  test('cancel settles at once and tells the worker', async () => {
    const { client, endpoints } = clientWithFakes();
    const call = client.run('sharp', 1, task);
    client.cancel('sharp');
    await expect(call).resolves.toEqual({ status: 'cancelled' });
    const [jobId = 0] = startedIds(endpoints[0]);
    expect(endpoints[0]?.sent.at(-1)).toEqual({ type: 'cancel', jobId });
  });

  test.each(['onerror', 'onmessageerror'] as const)(
    '%s fails every call and the next call gets a new worker',
    async (how) => {
      const { client, endpoints } = clientWithFakes();
      const calls = [client.run('checks', 1, task), client.run('sharp', 1, task)];
      if (how === 'onerror') endpoints[0]?.onerror?.({ message: 'out of memory' });
      else endpoints[0]?.onmessageerror?.();
      for (const outcome of await Promise.all(calls)) expect(outcome.status).toBe('failed');
      expect(endpoints[0]?.terminated).toBe(true);

      const after = client.run('checks', 2, task);
      expect(endpoints).toHaveLength(2);
      const [jobId = 0] = startedIds(endpoints[1]);
      endpoints[1]?.answer({ type: 'done', jobId, revision: 2, result: [] });
      await expect(after).resolves.toMatchObject({ status: 'done' });
    },
  );

  test('a worker that cannot be started, and a terminated client, settle too', async () => {
    const broken = createSolverClient(() => {
      throw new Error('no worker here');
    });
    await expect(broken.run('checks', 1, task)).resolves.toMatchObject({ status: 'failed' });

    const { client } = clientWithFakes();
    const call = client.run('checks', 1, task);
    client.terminate();
    await expect(call).resolves.toEqual({ status: 'cancelled' });
    await expect(client.run('checks', 2, task)).resolves.toMatchObject({ status: 'failed' });
  });
});

describe('the job loop of the worker', () => {
  function loopByHand(begin: (task: Task) => TaskSlices) {
    const posted: FromWorker[] = [];
    const waiting: (() => void)[] = [];
    const receive = createJobLoop({
      post: (message) => void posted.push(message),
      begin,
      yieldThen: (next) => void waiting.push(next),
    });
    const turn = () => waiting.shift()?.();
    const runAll = () => {
      while (waiting.length > 0) turn();
    };
    return { posted, receive, turn, runAll };
  }
  function* slices(count: number): TaskSlices {
    for (let index = 1; index <= count; index += 1) yield { fraction: index / count, surfaceId: 'floor' };
    return [];
  }
  const start = (jobId: number, channel: 'sharp' | 'reading' | 'rough'): ToWorker => ({
    type: 'start',
    jobId,
    revision: jobId,
    channel,
    task,
  });
  const kinds = (posted: readonly FromWorker[]) => posted.map((message) => `${message.type} ${message.jobId}`);

  test('gives way between slices, so that a cancel is heard in the middle of a solve', () => {
    const { posted, receive, turn, runAll } = loopByHand(() => slices(5));
    receive(start(1, 'sharp'));
    turn();
    turn();
    receive({ type: 'cancel', jobId: 1 });
    runAll();
    expect(kinds(posted)).toEqual(['progress 1', 'progress 1', 'cancelled 1']);
  });

  test('a newer job of the channel replaces the running one', () => {
    const { posted, receive, turn, runAll } = loopByHand(() => slices(2));
    receive(start(1, 'rough'));
    turn();
    receive(start(2, 'rough'));
    runAll();
    expect(kinds(posted)).toEqual(['progress 1', 'cancelled 1', 'progress 2', 'progress 2', 'done 2']);
  });

  test('a reading is served before the next band of a sharp map', () => {
    const { posted, receive, turn, runAll } = loopByHand((job) => slices(job.kind === 'checks' ? 2 : 0));
    receive(start(1, 'sharp'));
    turn();
    receive({
      type: 'start',
      jobId: 2,
      revision: 1,
      channel: 'reading',
      task: { ...task, kind: 'grids', surfaces: [] },
    });
    runAll();
    expect(kinds(posted)).toEqual(['progress 1', 'done 2', 'progress 1', 'done 1']);
  });

  test('a task that throws is answered as data and the next one still runs', () => {
    let calls = 0;
    const { posted, receive, runAll } = loopByHand(() => {
      calls += 1;
      if (calls === 1) throw new RangeError('no such surface');
      return slices(0);
    });
    receive(start(1, 'sharp'));
    runAll();
    receive(start(2, 'sharp'));
    runAll();
    expect(posted[0]).toEqual({ type: 'failed', jobId: 1, fault: { name: 'RangeError', message: 'no such surface' } });
    expect(kinds(posted)).toEqual(['failed 1', 'done 2']);
  });
});

describe('bands', () => {
  /** Level of a cell = its height in metres, so that a band in the wrong place shows. */
  function solveByHeight(request: GridRequest): GridResult {
    const region = request.region ?? { leftM: 0, bottomM: 0, widthM: 1, heightM: 1 };
    const levels = new Float32Array(request.columns * request.rows);
    for (let row = 0; row < request.rows; row += 1) {
      const heightM = region.bottomM + ((row + 0.5) / request.rows) * region.heightM;
      levels.fill(heightM, row * request.columns, (row + 1) * request.columns);
    }
    const layers = [{ sourceId: 'l1', unitIlluminanceLx: levels }];
    return {
      ...request,
      ...region,
      mask: new Uint8Array(levels.length).fill(1),
      layers,
      illuminanceLx: levels.slice(),
    };
  }

  test.each([1, 40, 100, 10_000])('joined bands of %d cells are the whole grid', (cellsPerBand) => {
    const box = { leftM: -1, bottomM: 0.5, widthM: 4, heightM: 2.6 };
    const whole = solveByHeight({ surfaceId: 'wall', columns: 20, rows: 13, region: box });
    const joined = joinBands(planBands('wall', box, 20, 13, cellsPerBand).map(solveByHeight));
    expect(joined.rows).toBe(13);
    expect(joined.heightM).toBeCloseTo(2.6, 12);
    expect(joined.mask).toEqual(whole.mask);
    joined.illuminanceLx.forEach((level, cell) => expect(level).toBeCloseTo(whole.illuminanceLx[cell] ?? NaN, 5));
    expect(joined.layers[0]?.unitIlluminanceLx).toEqual(joined.illuminanceLx);
  });

  test('bands that do not match are refused', () => {
    const one = solveByHeight({ surfaceId: 'wall', columns: 2, rows: 2 });
    const other = solveByHeight({ surfaceId: 'wall', columns: 3, rows: 2 });
    expect(() => joinBands([one, other])).toThrow(RangeError);
    expect(() => joinBands([])).toThrow(RangeError);
  });

  test('a polygon is boxed by its outline and its cells stay about square', () => {
    const box = boundingBox({
      kind: 'polygon',
      outlineM: [
        [1, 0],
        [5, 0],
        [3, 2],
      ],
    });
    expect(box).toEqual({ leftM: 1, bottomM: 0, widthM: 4, heightM: 2 });
    expect(rowsForSquareCells(box, 64)).toBe(32);
  });
});
