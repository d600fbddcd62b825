/**
 * A half scrim in the lantern: at a point emitter it falls as a line and takes its whole grade on the covered side (design,
 * check "r to 0 gives a line"); at a disc it never takes more; in a gate it only dims, and is refused.
 */
import { describe, expect, test } from 'vitest';
import type { Lamp, SceneDocument, Setup } from '../../../src/scene/schema';
import { gripFigures } from '../../../src/sim/grip/gripFigures';
import type { HalfScrimRequest } from '../../../src/sim/grip/gripRequest';
import { bestGrip, planGrip } from '../../../src/sim/grip/planGrip';
import { compileScene } from '../../../src/sim/solve/compileScene';
import { readPoint } from '../../../src/sim/solve/solvePoint';
import { disc, sceneM, WALL_ID, wallX0 } from '../../validation/judgementScenes';
import { facing, lamp, SETUP } from '../../validation/scenes';
import { LAMP_ID, playing } from '../mends/scenes';

const request = (change: Partial<HalfScrimRequest> = {}): HalfScrimRequest => ({
  helper: 'halfScrim',
  lampId: LAMP_ID,
  surfaceId: WALL_ID,
  grades: [1],
  clockDeg: 0,
  ...change,
});
function planned(document: SceneDocument, of: HalfScrimRequest): Setup {
  const plan = planGrip(document, SETUP, of);
  if (!plan.ok) throw new Error(plan.sentence);
  return plan.setup;
}
/** A point at 4 m that looks at the wall x = 0, so that its right, seen from behind, is y upwards. */
const point = (): Lamp =>
  lamp(facing([4, 0, 1.5], 270, 0), { shape: 'point' }, { kind: 'uniform' }, { kind: 'candela', candela: 1000 });
const onPoint = (): SceneDocument => playing({ source: point(), wall: wallX0(-1, 1, 1, 2) });
const readAt = (document: SceneDocument, y: number, z: number): number =>
  readPoint(compileScene(document, SETUP), { pointM: [0, y, z], normal: [1, 0, 0] }).illuminanceLx;
const shareAt = (of: HalfScrimRequest, y: number, z: number): number => {
  const document = onPoint();
  return readAt({ ...document, setups: [planned(document, of)] }, y, z) / readAt(document, y, z);
};

describe('by the clock, at a point', () => {
  test.each([
    [0, 0.5, 1.5],
    [90, 0, 1.8],
    [180, -0.5, 1.5],
    [270, 0, 1.2],
  ])('mesh at %d° takes its grade at y %f, z %f and nothing across from there', (clockDeg, y, z) => {
    const of = request({ clockDeg });
    expect(shareAt(of, y, z)).toBeCloseTo(1 / 2, 9);
    expect(shareAt(of, -y, 3 - z)).toBeCloseTo(1, 9);
  });

  test('two of them take the sum of their grades', () => {
    expect(shareAt(request({ grades: [1, 0.5] }), 0.5, 1.5)).toBeCloseTo(2 ** -1.5, 9);
  });
});

describe('on a disc in scene M’s place', () => {
  // A lens of 2 cm: in the slot, 3 cm in front, scene M's own of 6 cm blends over the whole patch.
  const document = playing({ ...sceneM(), source: disc([1.4, -3.6, 2.6], [0, 1.2, 1.5], 0.02, 30_000) });
  test('at its best clock angle it takes off something, and no more than its grade', () => {
    const best = bestGrip(document, SETUP, request());
    if (best?.helper !== 'halfScrim') throw new Error('nothing found');
    const before = gripFigures(document, SETUP, best);
    const figures = gripFigures({ ...document, setups: [planned(document, best)] }, SETUP, best);
    const off = before.falloffStops! - figures.falloffStops!;
    expect(off).toBeGreaterThan(0.1);
    expect(off).toBeLessThanOrEqual(1);
    // The other way round it makes the hot end hotter still.
    const wrong = { ...best, clockDeg: (best.clockDeg + 180) % 360 };
    const worse = gripFigures({ ...document, setups: [planned(document, wrong)] }, SETUP, wrong);
    expect(worse.falloffStops!).toBeGreaterThan(before.falloffStops!);
  });
});

test('in a gate it only dims, and is refused', () => {
  const source: Lamp = {
    ...point(),
    emitter: { shape: 'disc', diameterM: 0.12 },
    distribution: { kind: 'projection', fieldAngleDeg: 30, edgeWidthDeg: 1 },
  };
  const plan = planGrip(playing({ source, wall: wallX0(-1, 1, 1, 2) }), SETUP, request());
  expect(plan.ok ? '' : plan.sentence).toMatch(/only dims\.$/);
});
