/** What holds of every mend, whatever the rig: nothing is worsened, nothing is touched, nothing is left to chance. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { loadScene } from '../../../src/scene/load';
import type { SceneDocument } from '../../../src/scene/schema';
import { findMends } from '../../../src/sim/mends/findMends';
import { mendsJson, type Mend } from '../../../src/sim/mends/mend';
import { movedTo } from '../../../src/sim/mends/placing';
import { judgeLamp, withLamp } from '../../../src/sim/mends/situation';
import { addScaled, normalise, subtract, type Vec3 } from '../../../src/scene/geometry/vector';
import { SolveCancelled } from '../../../src/sim/results';
import { disc, sceneM, sceneN } from '../../validation/judgementScenes';
import { lamp, SETUP } from '../../validation/scenes';
import { LAMP_ID, netEntry, playing } from './scenes';

const DEMO = 'scenes-demo/customs-office-shaft.json';
function demo(): SceneDocument {
  const loaded = loadScene(readFileSync(DEMO, 'utf8'), DEMO);
  if (!loaded.ok) throw new Error('the demo scene does not load');
  return loaded.document;
}
function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    Object.values(value).forEach(frozen);
  }
  return value;
}

const KIT = { singles: netEntry(0.5, 2), doubles: netEntry(1, 2) };
const N = playing(sceneN(), { kit: KIT, story: { sun: { altitudeDeg: 16.5, azimuthDeg: 156.8 }, keyLx: 260 } });

describe.each([
  ['the demo scene', demo(), 'bare'],
  ['scene M', playing(sceneM()), SETUP],
  ['scene N', N, SETUP],
])('%s', (name, document, setupId) => {
  const before = JSON.stringify(frozen(document));
  const startedMs = performance.now();
  const mends = findMends(document, setupId);
  const tookMs = performance.now() - startedMs;
  const possible = mends.filter((mend) => mend.possible);

  test('the document is untouched, and seconds are enough', () => {
    expect(JSON.stringify(document)).toBe(before);
    expect(tookMs).toBeLessThan(60_000);
  });
  test('possible mends come first, best first, and none makes the score worse', () => {
    expect(possible.length).toBeGreaterThan(0);
    expect(mends.slice(0, possible.length)).toEqual(possible);
    const after = possible.map(({ scoreAfter }) => scoreAfter!);
    for (const [i, score] of after.entries()) {
      expect(score).toBeLessThanOrEqual(possible[i]!.scoreBefore + 1e-6);
      if (i > 0) expect(score).toBeGreaterThanOrEqual(after[i - 1]! - 1e-3);
    }
    expect(new Set(mends.map(({ id }) => id)).size).toBe(mends.length);
  });
  test('what the search foresaw and what the judgement then finds agree within 0.05 stop', () => {
    for (const { id, falloffStops, predictedFalloffStops } of mends) {
      if (falloffStops === null) continue;
      expect(Math.abs(falloffStops - predictedFalloffStops!), id).toBeLessThan(0.05);
    }
  });
  test('every setup to try is a good scene, and reads as the mend says', () => {
    for (const { id, setup, falloffStops, sourceId } of possible) {
      const tried = { ...document, setups: document.setups.map((one) => (one.id === setupId ? setup! : one)) };
      expect(loadScene(JSON.stringify(tried), id), id).toMatchObject({ ok: true });
      const checks = judgeLamp(document, setup!, sourceId, 'full');
      expect(Math.max(...checks.map((check) => check.falloffStops!))).toBeCloseTo(falloffStops!, 9);
    }
  });
  test('the sentences say what to do, what it leaves and what it costs', () => {
    for (const { sentence } of possible) {
      expect(sentence).toMatch(/: leaves \d\.\d of \d\.\d stops?, the (lines|light) fans? \d+°, (costs|gains) /);
      expect(sentence).toMatch(/\.$/);
      expect(sentence).not.toMatch(/NaN|undefined|null|!/);
    }
    for (const { why } of mends) expect(why).toMatch(/^[A-Z].*\.$/);
  });
  test('the same again gives the same', () => {
    const again = findMends(document, setupId, { kinds: ['staggeredNets'] });
    const isNets = ({ kind }: Mend): boolean => kind === 'staggeredNets';
    expect(again).toEqual(mends.filter(isNets));
  });
  test(`the list of ${name} is plain data with a reason for every null`, () => {
    for (const row of mendsJson(mends)) {
      for (const [key, value] of Object.entries(row)) if (value === null) expect(row).toHaveProperty(`${key}Reason`);
      expect(row).not.toHaveProperty('setup');
    }
  });
});

test('farther never falls off more, for a bare lamp', () => {
  const middle: Vec3 = [0, 1.2, 1.5];
  fc.assert(
    fc.property(
      fc.tuple(fc.double({ min: 1, max: 4, noNaN: true }), fc.double({ min: -5, max: 1, noNaN: true })),
      fc.double({ min: 1.2, max: 3, noNaN: true }),
      fc.double({ min: 1.1, max: 4, noNaN: true }),
      ([x, y], z, times) => {
        const place: [number, number, number] = [x, y, z];
        const document = playing({ ...sceneM(), source: disc(place, [0, 1.2, 1.5], 0.06, 30_000) });
        const setup = document.setups[0]!;
        const source = setup.sources[LAMP_ID]!;
        if (source.type !== 'lamp') throw new Error('no lamp');
        const run = subtract(place, middle);
        const far = movedTo(source, addScaled(middle, normalise(run), times * Math.hypot(...run)));
        const stops = [setup, withLamp(setup, LAMP_ID, far)].map(
          (one) => judgeLamp(document, one, LAMP_ID, 'quick')[0]!.falloffStops!,
        );
        expect(stops[1]!).toBeLessThanOrEqual(stops[0]! + 1e-6);
      },
    ),
    { numRuns: 25, seed: 6 },
  );
});

describe('the same figures everywhere', () => {
  // Sines and powers differ in the last digit from one engine to the next: a hair's breadth of the lamp stands for that.
  const nudged = (document: SceneDocument, byM: number): SceneDocument => ({
    ...document,
    setups: document.setups.map((setup) => ({
      ...setup,
      sources: Object.fromEntries(
        Object.entries(setup.sources).map(([id, source]) => {
          if (source.type !== 'lamp') return [id, source];
          const [x, y, z] = source.pose.positionM;
          return [id, { ...source, pose: { ...source.pose, positionM: [x + byM, y - byM, z + byM] as const } }];
        }),
      ) as typeof setup.sources,
    })),
  });
  test.each([['bare'], ['backed-off']])('a last digit changes no mend of the demo’s setup %s', (setupId) => {
    const kinds = ['backOff', 'mirror', 'narrowerSpot'] as const;
    const said = (byM: number) => findMends(nudged(demo(), byM), setupId, { kinds }).map(({ sentence }) => sentence);
    const plain = said(0);
    for (const byM of [1e-12, -3e-12, 1e-11]) expect(said(byM)).toEqual(plain);
  });
});

describe('control', () => {
  test('progress rises to 1', () => {
    const told: number[] = [];
    findMends(N, SETUP, { kinds: ['feather', 'halfScrim'], control: { onProgress: (share) => told.push(share) } });
    expect(told).toEqual([...told].sort((a, b) => a - b));
    expect(told[told.length - 1]).toBe(1);
  });
  test('a cancelled search ends with SolveCancelled', () => {
    let asked = 0;
    const isCancelled = () => ++asked > 20;
    expect(() => findMends(N, SETUP, { control: { isCancelled } })).toThrow(SolveCancelled);
    expect(asked).toBeLessThan(30);
  });
  test('a setup that is not there is told', () => {
    expect(() => findMends(N, 'nowhere')).toThrow(RangeError);
  });
});

describe('what cannot be had', () => {
  const only = (document: SceneDocument, kind: Mend['kind'], leastMeanLx?: number): Mend =>
    findMends(document, SETUP, { kinds: [kind], ...(leastMeanLx === undefined ? {} : { leastMeanLx }) })[0]!;

  test('nets and scrims in front of a wide emitter only dim', () => {
    const panel = lamp(
      { positionM: [1.4, -3.6, 2.6], aim: { atM: [0, 1.2, 1.5] } },
      { shape: 'rectangle', widthM: 1.2, heightM: 1.2 },
      { kind: 'lambertian' },
      { kind: 'candela', candela: 30_000 },
    );
    const document = playing({ ...sceneM(), source: panel }, { kit: { large: netEntry(1, 3, 1.8, 1.9) } });
    expect(only(document, 'halfScrim').why).toMatch(/^So near the lens .* only dim\.$/);
    const nets = only(document, 'staggeredNets');
    expect([nets.possible, nets.falloffStops]).toEqual([false, null]);
  });
  test('the kit binds: no nets, no narrower spot', () => {
    const document = playing(sceneM(), { kit: { flag: { name: 'Flag', kind: 'grip', count: 2 } } });
    expect(only(document, 'staggeredNets').why).toBe('The kit has no free net.');
    expect(only(document, 'narrowerSpot').why).toBe('The kit has no narrower spot free.');
  });
  test('the kit is counted: of one double only one hangs', () => {
    const document = playing(sceneM(), { kit: { doubles: netEntry(1, 1) } });
    const mends = findMends(document, SETUP, { kinds: ['staggeredNets'] });
    expect(mends.map(({ id }) => id)).toEqual(['staggeredNets-1-lamp']);
  });
  test('the level binds: nothing that costs light where none is to spare', () => {
    const bare = playing(sceneM());
    expect(only(bare, 'backOff', 342).why).toMatch(/^Level binds at 5\.1 m, .*2\/3 stop needs 14\.5 m\.$/);
    expect(only(bare, 'staggeredNets', 342).possible).toBe(false);
  });
  test('a lamp that shines alike every way has no hot centre to feather', () => {
    const ball = lamp(
      { positionM: [1.4, -3.6, 2.6], aim: { panDeg: 0, tiltDeg: 0 } },
      { shape: 'sphere', diameterM: 0.06 },
      { kind: 'uniform' },
      { kind: 'candela', candela: 30_000 },
    );
    expect(only(playing({ ...sceneM(), source: ball }), 'feather').why).toContain('no hot centre');
  });
  test('nothing plays the sun: no mends', () => {
    expect(findMends({ ...N, story: {} }, SETUP)).toEqual([]);
  });
});

test('a dimmed lamp is raised by what the mend costs, never above full', () => {
  const source = { ...disc([1.4, -3.6, 2.6], [0, 1.2, 1.5], 0.06, 30_000), level: 0.5 };
  const [mend] = findMends(playing({ ...sceneM(), source }), SETUP, { kinds: ['backOff'], leastMeanLx: 60 });
  expect(mend!.costStops!).toBeGreaterThan(1);
  expect(mend!.setup!.sources[LAMP_ID]!.level).toBe(1);
});
