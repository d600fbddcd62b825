/** Limits of the story: in force in scores, verdict, sentence and mends; the defaults where it sets none. */
import { describe, expect, test } from 'vitest';
import { loadScene } from '../../../src/scene/load';
import type { SceneDocument, Story } from '../../../src/scene/schema';
import {
  DEFAULT_LIMITS,
  DEFAULT_SUN_LIMITS,
  limitsOf,
  scoreAgainst,
  scoreEdge,
} from '../../../src/sim/judgement/limits';
import { findMends } from '../../../src/sim/mends/findMends';
import { judgeLamp, situationOf } from '../../../src/sim/mends/situation';
import { evaluateSetup } from '../../../src/sim/mends/evaluateSetup';
import { Pace } from '../../../src/sim/mends/search';
import { sceneM, sceneN } from '../../validation/judgementScenes';
import { SETUP } from '../../validation/scenes';
import { LAMP_ID, netEntry, playing } from '../mends/scenes';

type StoryLimits = NonNullable<Story['limits']>;
const sceneWith = (limits?: StoryLimits): SceneDocument =>
  playing(sceneN(), {
    story: { sun: { altitudeDeg: 16.5, azimuthDeg: 156.8 }, ...(limits === undefined ? {} : { limits }) },
    kit: { singles: netEntry(0.5, 2) },
  });
const checkOf = (document: SceneDocument) => judgeLamp(document, document.setups[0]!, LAMP_ID, 'quick')[0]!;

describe('limits of the story', () => {
  test('without any the defaults are in force, and a limit set stands in the place of its own alone', () => {
    expect(limitsOf(sceneWith())).toEqual(DEFAULT_SUN_LIMITS);
    const limits = limitsOf(sceneWith({ fallOff: { good: 1.2, passable: 2 } }));
    expect(limits.fallOff).toEqual({ good: 1.2, passable: 2 });
    expect({ ...limits, fallOff: DEFAULT_LIMITS.fallOff }).toEqual(DEFAULT_SUN_LIMITS);
  });
  test('they change score, verdict and worst figure; the figures stay', () => {
    const before = checkOf(sceneWith());
    expect([before.verdict, before.worst]).toEqual(['givesAway', 'fallOff']);
    const after = checkOf(sceneWith({ fallOff: { good: 2, passable: 3 } }));
    expect(after.falloffStops).toBe(before.falloffStops);
    expect(after.scores.fallOff!).toBeCloseTo(after.falloffStops! / 2, 12);
    expect([after.verdict, after.worst]).toEqual(['passable', 'lineFan']);
  });
  test('each figure’s limit reaches its own score', () => {
    const loose = { good: 50, passable: 60 };
    const before = checkOf(sceneWith());
    const after = checkOf(sceneWith({ lineFan: loose, height: loose, edge: { good: 40, passable: 60 } }));
    expect(after.scores.lineFan!).toBeCloseTo(before.lineFanDeg! / 50, 12);
    expect(after.scores.height!).toBeCloseTo(Math.abs(before.altitudeOffDeg!) / 50, 12);
    expect(after.scores.edge!).toBeLessThan(before.scores.edge!);
    expect(after.scores.fallOff).toBe(before.scores.fallOff);
  });
  test('the sentence of a good check quotes them', () => {
    const wide = { good: 30, passable: 60 };
    const check = checkOf(
      sceneWith({ fallOff: { good: 1.5, passable: 3 }, lineFan: wide, edge: { good: 30, passable: 60 } }),
    );
    expect(check.verdict).toBe('reads');
    expect(check.sentence).toContain('of 1.5 stop');
  });
  test('the search rates by them', () => {
    const document = sceneWith({ fallOff: { good: 2, passable: 3 } });
    const found = situationOf(document, document.setups[0]!, LAMP_ID, { effort: 'quick' }, new Pace({}, 1));
    if (typeof found === 'string') throw new Error(found);
    const evaluation = evaluateSetup(found, document.setups[0]!)!;
    expect(evaluation.scores.fallOff!).toBeCloseTo(evaluation.falloffStops / 2, 12);
  });
  test('the mends quote and keep them: the swing’s bound, the distance that a limit needs', () => {
    const limits = { height: { good: 5, passable: 10 }, fallOff: { good: 0.5, passable: 1 } };
    const document = playing(sceneM(), { story: { limits } });
    const [swing] = findMends(document, SETUP, { kinds: ['swing'] });
    expect(swing!.why).toContain('10° off is what the story lets pass');
    // Scene M's fall-off is 1 stop farther out than at 5.1 m and nearer than the 14.5 m of two thirds.
    const [back] = findMends(document, SETUP, { kinds: ['backOff'], leastMeanLx: 342 });
    const needM = Number(/1 stop needs (\d+\.\d) m/.exec(back!.why)![1]);
    expect(needM).toBeGreaterThan(9);
    expect(needM).toBeLessThan(11);
  });
});

describe('what is no limit', () => {
  const faultsOf = (limits: unknown): string[] => {
    const document = { ...sceneWith(), story: { limits } };
    const loaded = loadScene(JSON.stringify(document), 'scene.json');
    return loaded.ok ? [] : loaded.faults.map(({ path, expected }) => `${path}: ${expected}`);
  };
  test.each([
    ['passable under good', { fan: { good: 5, passable: 4 } }],
    ['nothing passes', { step: { good: 0, passable: 0 } }],
    ['an edge no softer than the sun’s', { edge: { good: 1, passable: 1 } }],
    ['an edge under 1', { edge: { good: 0.5, passable: 2 } }],
    ['a figure that is not scored', { growth: { good: 1, passable: 2 } }],
    ['half a limit', { fan: { good: 5 } }],
  ])('%s', (_, limits) => {
    expect(faultsOf(limits).length).toBeGreaterThan(0);
    expect(faultsOf(limits)[0]).toContain('limits');
  });
  test('good limits load', () => {
    expect(faultsOf({ fan: { good: 5, passable: 5 }, step: { good: 0, passable: 0.1 } })).toEqual([]);
  });
  test('a good limit of 0 gives no figure a score that is no number', () => {
    expect(scoreAgainst(0, { good: 0, passable: 1 })).toBe(0);
    const sharp = { ...DEFAULT_SUN_LIMITS, edge: { good: 1, passable: 2 } };
    expect(scoreEdge(1, sharp)).toBe(0);
    expect(scoreEdge(2, sharp)).toBe(2);
  });
});
