/** The results follow the shown scene: newest wins, late answers are dropped, failures keep their reason. */
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { GridResult, SunCheck } from '../../src/sim/results';
import type { Settled, SolverClient } from '../../src/sim/worker/client';
import type { Channel, Task } from '../../src/sim/worker/protocol';
import { createDocumentStore, execute, openDocument } from '../../src/ui/stores/document';
import { createResultsStore } from '../../src/ui/stores/results';
import { createSessionStore } from '../../src/ui/stores/session';
import { LATE_MS, REST_MS, startSolving } from '../../src/ui/stores/solving';
import { tinyScene } from './tinyScene';

interface Job {
  readonly channel: Channel;
  readonly revision: number;
  readonly task: Task;
  readonly settle: (outcome: Settled<never>) => void;
}
/** A client that keeps every job until the test answers it, in any order: also those that a real one would drop. */
function handClient() {
  const jobs: Job[] = [];
  const client: SolverClient = {
    run: (channel, revision, task) =>
      new Promise((settle) => void jobs.push({ channel, revision, task, settle: settle as Job['settle'] })),
    cancel: () => undefined,
    terminate: () => undefined,
  };
  const take = (channel: Channel): Job => {
    const index = jobs.findIndex((job) => job.channel === channel);
    const [job] = index < 0 ? [] : jobs.splice(index, 1);
    if (!job) throw new Error(`no job on ${channel}`);
    return job;
  };
  return { client, jobs, take };
}
const settleJobs = async (): Promise<void> => void (await vi.advanceTimersByTimeAsync(0));

function grid(surfaceId: string, level: number): GridResult {
  const illuminanceLx = new Float32Array([level]);
  const place = { leftM: 0, bottomM: 0, widthM: 7, heightM: 3, mask: new Uint8Array([1]) };
  return { surfaceId, columns: 1, rows: 1, ...place, layers: [], illuminanceLx };
}
async function answer(job: Job, result: unknown): Promise<void> {
  job.settle({ status: 'done', revision: job.revision, result: result as never });
  await settleJobs();
}
const levelOf = (parts: ReturnType<typeof start>, id = 'north-wall') =>
  parts.results.getState().fields[id]?.result.illuminanceLx[0];
const named = (sentence: string): SunCheck[] => [{ sentence } as SunCheck];

function start() {
  const document = createDocumentStore(tinyScene(), 'room.json');
  const session = createSessionStore({ setupId: 'a', theme: 'dark' });
  const results = createResultsStore();
  const field = handClient();
  const judge = handClient();
  const parts = { document, session, results, fieldSolver: field.client, judgeSolver: judge.client };
  const solving = startSolving({ ...parts, nowMs: () => Date.now() });
  const step = (iso: number) => execute(document, { type: 'patchScene', part: 'camera', fields: { iso } });
  return { document, session, results, field, judge, solving, step };
}

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe('setups', () => {
  test('taking out the shown setup asks for no map of a setup that is gone', async () => {
    const parts = start();
    await answer(parts.field.take('rough'), [grid('north-wall', 1)]);
    execute(parts.document, { type: 'removeSetup', setupId: 'a' });
    expect(parts.field.jobs).toHaveLength(0);
    parts.session.setState({ setupId: 'b' });
    expect(parts.field.take('rough').task).toMatchObject({ setupId: 'b' });
  });
});

describe('maps', () => {
  test('a rough map comes at once, the sharp one after the hand has rested', async () => {
    const parts = start();
    await answer(parts.field.take('rough'), [grid('north-wall', 1)]);
    expect(levelOf(parts)).toBe(1);
    expect(parts.results.getState().fields['north-wall']?.rough).toBe(true);
    await vi.advanceTimersByTimeAsync(REST_MS);
    await answer(parts.field.take('sharp'), [grid('north-wall', 2)]);
    expect(levelOf(parts)).toBe(2);
    expect(parts.results.getState().status).toEqual({ kind: 'current' });
  });

  test('a map that says what the one before said is that one, whatever the revision', async () => {
    const parts = start();
    const shownGrid = () => parts.results.getState().fields['north-wall']!;
    const dark = (): GridResult => ({ ...grid('north-wall', 1), illuminanceLx: new Float32Array([NaN]) });
    const layer = (level: number) => ({ sourceId: 'l1', unitIlluminanceLx: new Float32Array([level]) });
    const first = grid('north-wall', 1);
    await answer(parts.field.take('rough'), [first]);
    parts.step(100);
    await answer(parts.field.take('rough'), [grid('north-wall', 1)]);
    expect(shownGrid().result).toBe(first);
    expect(shownGrid().revision).toBe(2);
    const others: GridResult[] = [
      grid('north-wall', 2),
      dark(),
      { ...grid('north-wall', 1), widthM: 6 },
      { ...grid('north-wall', 1), mask: new Uint8Array([0]) },
      grid('north-wall', 1),
      { ...grid('north-wall', 1), layers: [layer(1)] },
      { ...grid('north-wall', 1), layers: [layer(2)] },
      { ...grid('north-wall', 1), layers: [{ ...layer(2), sourceId: 'l2' }] },
    ];
    for (const [step, other] of others.entries()) {
      parts.step(200 + step);
      await answer(parts.field.take('rough'), [other]);
      expect(shownGrid().result).toBe(other);
    }
    const kept = dark();
    parts.step(300);
    await answer(parts.field.take('rough'), [kept]);
    parts.step(301);
    await answer(parts.field.take('rough'), [dark()]);
    expect(shownGrid().result).toBe(kept);
  });

  test('while one rough map is on its way, many changes ask for one more only', async () => {
    const parts = start();
    for (const iso of [100, 200, 400]) parts.step(iso);
    expect(parts.field.jobs.filter((job) => job.channel === 'rough')).toHaveLength(1);
    await answer(parts.field.take('rough'), [grid('north-wall', 1)]);
    const [next] = parts.field.jobs.filter((job) => job.channel === 'rough');
    expect(next?.revision).toBe(4);
  });

  test('a late answer never takes the place of a newer scene’s, nor a rough map that of the sharp one', async () => {
    const parts = start();
    await vi.advanceTimersByTimeAsync(REST_MS);
    const roughOfOld = parts.field.take('rough');
    const sharpOfOld = parts.field.take('sharp');
    parts.step(400);
    await vi.advanceTimersByTimeAsync(REST_MS);
    await answer(parts.field.take('sharp'), [grid('north-wall', 20)]);
    await answer(sharpOfOld, [grid('north-wall', 10)]);
    expect(levelOf(parts)).toBe(20);
    await answer(roughOfOld, [grid('north-wall', 11)]);
    await answer(parts.field.take('rough'), [grid('north-wall', 21)]);
    expect(levelOf(parts)).toBe(20);
    expect(parts.results.getState().fields['north-wall']).toMatchObject({ rough: false, revision: 2 });
  });

  test('a slow solve is late after a while; a failed one says why and starts again on request', async () => {
    const parts = start();
    await vi.advanceTimersByTimeAsync(LATE_MS);
    expect(parts.results.getState().status).toMatchObject({ kind: 'solving', late: true });
    const fault = { name: 'RangeError', message: 'not enough memory' };
    parts.field.take('sharp').settle({ status: 'failed', fault });
    await settleJobs();
    expect(parts.results.getState().status).toEqual({ kind: 'failed', fault });
    parts.solving.again();
    await vi.advanceTimersByTimeAsync(REST_MS);
    await answer(parts.field.take('sharp'), [grid('north-wall', 3)]);
    expect(parts.results.getState().status).toEqual({ kind: 'current' });
  });

  test('stopping keeps the old picture and asks for nothing more', async () => {
    const parts = start();
    await answer(parts.field.take('rough'), [grid('north-wall', 1)]);
    parts.solving.stop();
    const asked = parts.field.jobs.length;
    await vi.advanceTimersByTimeAsync(1000);
    expect(parts.field.jobs).toHaveLength(asked);
    expect(levelOf(parts)).toBe(1);
    expect(parts.results.getState().status).toEqual({ kind: 'stopped' });
  });

  test('another scene’s maps are put away when a scene is opened', async () => {
    const parts = start();
    await answer(parts.field.take('rough'), [grid('north-wall', 1)]);
    openDocument(parts.document, tinyScene(), 'other.json');
    expect(parts.results.getState().fields).toEqual({});
  });
});

describe('judgements', () => {
  async function judged(parts: ReturnType<typeof start>, sentence: string) {
    await vi.advanceTimersByTimeAsync(REST_MS);
    await answer(parts.judge.take('checks'), named(sentence));
  }
  const said = (parts: ReturnType<typeof start>) => parts.results.getState().checks.map((check) => check.sentence);

  test('a failure keeps its reason and the last verdict; the next good one clears it', async () => {
    const parts = start();
    await judged(parts, 'first');
    parts.step(400);
    await vi.advanceTimersByTimeAsync(REST_MS);
    const fault = { name: 'RangeError', message: 'the wall has no area' };
    parts.judge.take('checks').settle({ status: 'failed', fault });
    await settleJobs();
    expect(parts.results.getState().checksFault).toEqual(fault);
    expect(said(parts)).toEqual(['first']);
    parts.step(200);
    await judged(parts, 'second');
    expect(parts.results.getState().checksFault).toBeNull();
    expect(said(parts)).toEqual(['second']);
  });

  test('an answer of the setup before is dropped', async () => {
    const parts = start();
    await vi.advanceTimersByTimeAsync(REST_MS);
    const ofA = parts.judge.take('checks');
    parts.session.setState({ setupId: 'b' });
    await answer(ofA, named('of setup a'));
    expect(said(parts)).toEqual([]);
    expect(parts.results.getState().checksRevision).toBe(-1);
    await judged(parts, 'of setup b');
    expect(said(parts)).toEqual(['of setup b']);
  });
});
