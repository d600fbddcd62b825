/**
 * A mirror that lengthens the throw: the path against the law of reflection, level against the inverse square, fall-off
 * against the closed form of a strip (judgement definition 2.1) at the image's distance.
 */
import { describe, expect, test } from 'vitest';
import { frameFromPose } from '../../../src/scene/geometry/frames';
import { addScaled, distance, dot, normalise, subtract, type Vec3 } from '../../../src/scene/geometry/vector';
import type { KitEntry, SceneDocument, Setup } from '../../../src/scene/schema';
import { gripFigures } from '../../../src/sim/grip/gripFigures';
import type { MirrorRequest } from '../../../src/sim/grip/gripRequest';
import { planGrip } from '../../../src/sim/grip/planGrip';
import { disc, WALL_ID, wallX0 } from '../../validation/judgementScenes';
import { SETUP } from '../../validation/scenes';
import { LAMP_ID, playing } from '../mends/scenes';

const THROW_M = 4;
const REFLECTANCE = 0.88;
const KIT: Record<string, KitEntry> = {
  mirror: {
    name: 'Mirror',
    kind: 'grip',
    count: 1,
    grip: {
      shape: { kind: 'rectangle', widthM: 2, heightM: 2 },
      material: { kind: 'mirror', reflectance: REFLECTANCE },
    },
  },
};
/** A disc of 2 cm that gives by the cosine law, 4 m off a strip of wall, square on to its middle. */
const document = (): SceneDocument =>
  playing(
    { source: disc([THROW_M, 0, 1.5], [0, 0, 1.5], 0.02, 10_000), wall: wallX0(-0.6, 0.6, 1.45, 1.55) },
    { kit: KIT },
  );
const request = (change: Partial<MirrorRequest> = {}): MirrorRequest => ({
  helper: 'mirror',
  lampId: LAMP_ID,
  surfaceId: WALL_ID,
  pathM: 8,
  way: 0,
  ...change,
});
function planned(of: MirrorRequest): Setup {
  const plan = planGrip(document(), SETUP, of);
  if (!plan.ok) throw new Error(plan.sentence);
  return plan.setup;
}
const lensOf = (setup: Setup): Vec3 => {
  const lamp = setup.sources[LAMP_ID];
  if (lamp?.type !== 'lamp') throw new Error('no lamp');
  return lamp.pose.positionM;
};
/**
 * Fall-off of a flat strip of this width square on to such a disc, between the judgement's percentiles |y| 0.005 w and
 * 0.495 w: two cosines and the inverse square make h² / (h² + y²)².
 */
const stripStops = (throwM: number, widthM: number): number =>
  2 * Math.log2((throwM ** 2 + (0.495 * widthM) ** 2) / (throwM ** 2 + (0.005 * widthM) ** 2));

/** Mean over the strip of h² / (h² + y²)², midpoints of 1000 parts; times h² it is near to 1: the inverse square. */
function stripMean(throwM: number): number {
  const parts = Array.from({ length: 1000 }, (_, i) => -0.6 + (1.2 * (i + 0.5)) / 1000);
  return parts.reduce((sum, y) => sum + throwM ** 2 / (throwM ** 2 + y ** 2) ** 2, 0) / 1000;
}

describe.each([6, 8, 10])('a path of %d m', (pathM) => {
  const setup = planned(request({ pathM }));
  const mirror = Object.values(setup.modifiers)[0]!;
  const frame = frameFromPose(mirror.pose);

  test('the image of the lens stands on the light’s line, the whole path away', () => {
    const lens = lensOf(setup);
    const image = addScaled(lens, frame.forward, -2 * dot(frame.forward, subtract(lens, frame.origin)));
    const middle: Vec3 = [0, 0, 1.5];
    expect(distance(image, middle)).toBeCloseTo(pathM, 6);
    expect(distance(image, addScaled(middle, [1, 0, 0], pathM))).toBeLessThan(1e-6);
    // In and out at the same angle, where the line meets the glass.
    const towards = normalise(subtract(image, middle));
    const hit = addScaled(
      middle,
      towards,
      dot(frame.forward, subtract(frame.origin, middle)) / dot(frame.forward, towards),
    );
    const [toLens, toMiddle] = [lens, middle].map((to) => dot(frame.forward, normalise(subtract(to, hit))));
    expect(toLens).toBeCloseTo(toMiddle!, 9);
    expect(distance(lens, hit) + distance(hit, middle)).toBeCloseTo(pathM, 6);
  });

  test('level and fall-off are those of the longer throw', () => {
    const base = document();
    const of = request({ pathM });
    const before = gripFigures(base, SETUP, of);
    const after = gripFigures({ ...base, setups: [setup] }, SETUP, of);
    expect(before.throwM).toBeCloseTo(THROW_M, 6);
    expect(before.falloffStops).toBeCloseTo(stripStops(THROW_M, 1.2), 2);
    expect(after.isOffMirror).toBe(true);
    expect(after.throwM).toBeCloseTo(pathM, 6);
    expect(after.falloffStops).toBeCloseTo(stripStops(pathM, 1.2), 2);
    expect(after.meanLx! / before.meanLx!).toBeCloseTo((REFLECTANCE * stripMean(pathM)) / stripMean(THROW_M), 3);
  });
});

describe('what it refuses', () => {
  const sentence = (of: MirrorRequest): string => {
    const plan = planGrip(document(), SETUP, of);
    return plan.ok ? '' : plan.sentence;
  };
  test('a path that is no longer than the throw, and one beyond the longest', () => {
    expect(sentence(request({ pathM: 4 }))).toMatch(/^The space takes a path of 4.3 m to \d+.\d m over a mirror\.$/);
    expect(sentence(request({ pathM: 90 }))).toMatch(/^The space takes a path/);
  });
});
