/** The search for mends waits for its verdict and for quiet, gives way to the hand, and never passes an old answer for a new one. */
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { SceneDocument } from '../../src/scene/schema';
import { workOf, TYPICAL_WORK, type Mend } from '../../src/sim/mends/mend';
import type { SunCheck } from '../../src/sim/results';
import { createSolverClient } from '../../src/sim/worker/client';
import { createActions } from '../../src/ui/actions';
import { createDocumentStore, execute, undoStep } from '../../src/ui/stores/document';
import { MENDS_REST_MS, startMending } from '../../src/ui/stores/mending';
import { createMendsStore } from '../../src/ui/stores/mends';
import { createResultsStore } from '../../src/ui/stores/results';
import { createSessionStore } from '../../src/ui/stores/session';
import { costWords } from '../../src/ui/words/mends';
import { fakeEndpoint, type FakeEndpoint } from './fakeEndpoint';
import { tinyScene } from './tinyScene';

const check = (verdict: SunCheck['verdict']): SunCheck =>
  ({ verdict, sourceId: 'l1', scores: {} }) as unknown as SunCheck;
const NO_FIGURES = { falloffStops: null, stepStopsPer10cm: null, lineFanDeg: null, edgeRatio: null };

function mendOf(scene: SceneDocument, id = 'backOff-l1'): Mend {
  return {
    ...NO_FIGURES,
    id,
    kind: 'backOff',
    sourceId: 'l1',
    sentence: 'Back off to 9.0 m: leaves 0.6 of 2.1 stops, costs 1.0 stop.',
    brief: 'Back off',
    remark: '',
    before: NO_FIGURES,
    costStops: 1,
    scoreBefore: 3,
    scoreAfter: 1.5,
    possible: true,
    why: 'The level binds.',
    pieces: 0,
    minutes: 15,
    hands: 2,
    setup: { ...scene.setups[0]!, notes: 'moved' },
    predictedFalloffStops: 0.6,
    needs: null,
  };
}

function start(verdict: SunCheck['verdict'] = 'givesAway') {
  const document = createDocumentStore(tinyScene(), 'room.json');
  const session = createSessionStore({ setupId: 'a', theme: 'dark' });
  const results = createResultsStore();
  const mends = createMendsStore();
  const workers: FakeEndpoint[] = [];
  const solver = createSolverClient(
    () => {
      const worker = fakeEndpoint();
      workers.push(worker);
      return worker;
    },
    { endsWorkerOnCancel: true },
  );
  const mending = startMending({ document, session, results, mends, solver });
  const actions = createActions(document, session, mends);
  /** The verdict of the shown scene lands. */
  const settle = (said = verdict): void => {
    const revision = results.getState().revision + 1;
    results.setState({ revision, checksRevision: revision, checks: [check(said)], status: { kind: 'current' } });
  };
  const answer = async (found: readonly Mend[]): Promise<void> => {
    const message = workers.at(-1)!.sent.at(-1)!;
    workers.at(-1)!.answer({ type: 'done', jobId: message.jobId, revision: 1, result: found });
    await vi.advanceTimersByTimeAsync(0);
  };
  const step = (iso: number) => execute(document, { type: 'patchScene', part: 'camera', fields: { iso } });
  return { document, session, results, mends, mending, actions, workers, settle, answer, step };
}
const rest = () => vi.advanceTimersByTimeAsync(MENDS_REST_MS);

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe('the search', () => {
  test('begins once the verdict has stood, and not before', async () => {
    const { workers, settle, mends, answer, document } = start();
    await rest();
    expect(workers).toHaveLength(0);
    settle();
    await vi.advanceTimersByTimeAsync(MENDS_REST_MS - 1);
    expect(workers).toHaveLength(0);
    await vi.advanceTimersByTimeAsync(1);
    expect(workers).toHaveLength(1);
    expect(mends.getState().status).toEqual({ kind: 'searching', fraction: 0 });
    await answer([mendOf(document.getState().shown)]);
    expect(mends.getState()).toMatchObject({ isCurrent: true, status: { kind: 'found' } });
  });

  test('is not begun where everything reads as sun, unless asked for', async () => {
    const { workers, settle, mending } = start('reads');
    settle();
    await rest();
    expect(workers).toHaveLength(0);
    mending.find();
    expect(workers).toHaveLength(1);
  });

  test('tells how far it is', async () => {
    const { workers, settle, mends } = start();
    settle();
    await rest();
    const { jobId } = workers[0]!.sent[0]!;
    workers[0]!.answer({ type: 'progress', jobId, fraction: 0.5, surfaceId: null });
    expect(mends.getState().status).toEqual({ kind: 'searching', fraction: 0.5 });
  });

  test('a change of the scene ends its worker at once, and its late answer counts for nothing', async () => {
    const { workers, settle, mends, step, document } = start();
    settle();
    await rest();
    const { jobId } = workers[0]!.sent[0]!;
    step(400);
    expect(workers[0]!.terminated).toBe(true);
    workers[0]!.answer({ type: 'done', jobId, revision: 1, result: [mendOf(document.getState().shown)] });
    await vi.advanceTimersByTimeAsync(0);
    expect(mends.getState()).toMatchObject({ found: null, isCurrent: false, status: { kind: 'waiting' } });
    settle();
    await rest();
    expect(workers).toHaveLength(2);
  });

  test('what was found is out of date after a change, and current again after undo without a new search', async () => {
    const { workers, settle, mends, step, answer, document } = start();
    settle();
    await rest();
    await answer([mendOf(document.getState().shown)]);
    step(400);
    expect(mends.getState()).toMatchObject({ isCurrent: false, status: { kind: 'waiting' } });
    expect(mends.getState().found?.mends).toHaveLength(1);
    undoStep(document);
    expect(mends.getState()).toMatchObject({ isCurrent: true, status: { kind: 'found' } });
    await rest();
    expect(workers[0]!.sent).toHaveLength(1);
  });

  test('a stopped search stays stopped until the scene changes', async () => {
    const { workers, settle, mends, mending, step } = start();
    settle();
    await rest();
    mending.stop();
    expect(workers[0]!.terminated).toBe(true);
    expect(mends.getState().status).toEqual({ kind: 'stopped' });
    settle();
    await rest();
    expect(workers).toHaveLength(1);
    step(400);
    settle();
    await rest();
    expect(workers).toHaveLength(2);
  });

  test('a worker that dies leaves its reason, and the next search has a fresh one', async () => {
    const { workers, settle, mends, mending } = start();
    settle();
    await rest();
    workers[0]!.onerror?.({ message: 'out of memory' });
    await vi.advanceTimersByTimeAsync(0);
    expect(mends.getState().status).toMatchObject({ kind: 'failed', fault: { message: 'out of memory' } });
    mending.find();
    expect(workers).toHaveLength(2);
  });
});

describe('trying a mend', () => {
  test('makes a setup beside the mended one, shows it and names it; undo goes back', () => {
    const { actions, document, session, mends } = start();
    const mend = mendOf(document.getState().shown);
    actions.tryMend(mend);
    const { setups } = document.getState().shown;
    expect(setups.map(({ name }) => name)).toEqual(['Bare lamp', 'Bare lamp, back off', 'Nothing lit']);
    expect(setups[1]).toMatchObject({ notes: mend.sentence });
    expect(session.getState().setupId).toBe(setups[1]!.id);
    expect(session.getState().notices.at(-1)?.lines).toEqual(['Setup B made from the mend']);
    expect(mends.getState().tried[setups[1]!.id]).toBe(mend);
    actions.chooseSetup('b');
    actions.chooseSetup(setups[1]!.id);
    actions.undo();
    expect(document.getState().shown.setups).toHaveLength(2);
    expect(session.getState().setupId).toBe('a');
  });

  test('a mend that cannot be had makes nothing', () => {
    const { actions, document } = start();
    actions.tryMend({ ...mendOf(document.getState().shown), setup: null });
    expect(document.getState().shown.setups).toHaveLength(2);
  });
});

test('what the scene says of the work goes before the typical figures, field by field', () => {
  const typical = TYPICAL_WORK.staggeredNets;
  expect(workOf({}, 'staggeredNets', 2)).toEqual({
    minutes: typical.minutes + 2 * typical.minutesEachPiece,
    hands: typical.hands,
  });
  const own = { mendWork: { staggeredNets: { hands: 3 } } };
  expect(workOf(own, 'staggeredNets', 0)).toEqual({ minutes: typical.minutes, hands: 3 });
  expect(workOf(own, 'swing', 0).hands).toBe(TYPICAL_WORK.swing.hands);
});

test('light is told to a tenth of a stop, as the sentence says it', () => {
  expect([1.53, 1, 0.36, 0.04, -0.36].map(costWords)).toEqual([
    'costs 1.5 stops',
    'costs 1.0 stop',
    'costs 0.4 stop',
    'costs no light',
    'gains 0.4 stop',
  ]);
});
