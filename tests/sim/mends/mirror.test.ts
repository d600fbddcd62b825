/**
 * The mirror as a mend, and mends of a lamp that shines into one: J12h (closed path, tests/reference/judgement-values.json),
 * and the law of reflection by hand (an image lies as far behind the mirror as the lamp before it).
 */
import { describe, expect, test, vi } from 'vitest';
import type { KitEntry, Lamp, Modifier } from '../../../src/scene/schema';
import { addScaled, distance, dot, normalise, scale, subtract, type Vec3 } from '../../../src/scene/geometry/vector';
import { frameFromPose } from '../../../src/scene/geometry/frames';
import { findMends } from '../../../src/sim/mends/findMends';
import type { MendKind, MendOptions } from '../../../src/sim/mends/mend';
import { clearOpening, lampOnFold, mirrorSetup, neededGlass, rimOfLight } from '../../../src/sim/mends/mirrorRig';
import { meanRay } from '../../../src/sim/mends/placing';
import { judgeLamp, situationOf } from '../../../src/sim/mends/situation';
import { Pace } from '../../../src/sim/mends/search';
import { compileScene } from '../../../src/sim/solve/compileScene';
import { readPoint } from '../../../src/sim/solve/solvePoint';
import { sceneM } from '../../validation/judgementScenes';
import { lamp, SETUP } from '../../validation/scenes';
import { LAMP_ID, playing, situation, worked } from './scenes';

vi.setConfig({ testTimeout: 300_000 });

const C: Vec3 = [0, 1.2, 1.5];
const PLACE: Vec3 = [1.4, -3.6, 2.6];
const mirrorEntry = (widthM: number, heightM: number, count = 1): KitEntry => ({
  name: 'Mirror',
  kind: 'grip',
  count,
  grip: { shape: { kind: 'rectangle', widthM, heightM }, material: { kind: 'mirror', reflectance: 0.88 } },
});
/** A board that keeps the lamp's own light off the wall, so that what the mirror sends is judged alone. */
const board = (at: Vec3, towards: Vec3): Modifier => {
  const way = normalise(subtract(towards, at));
  const [x, y, z] = addScaled(at, way, 0.6);
  return {
    name: 'Board',
    pose: { positionM: [x, y, z], aim: { atM: [...towards] } },
    shape: { kind: 'rectangle', widthM: 0.5, heightM: 1.2 },
    material: { kind: 'opaque' },
  };
};
/** Level, square to the light's line on the plan: away from the wall x = 0. */
const aside = (): Vec3 => {
  const run = normalise(subtract(PLACE, C));
  const level = Math.hypot(run[0], run[1]);
  return [-run[1] / level, run[0] / level, 0];
};

describe('J12h: the lamp’s place becomes a mirror', () => {
  const { expected, off } = worked('J12h');
  const foldOf = (lampLegM: number) => {
    const rig = situation(playing(sceneM()), { leastMeanLx: 0 });
    const ray = meanRay(rig);
    // The patch's middle is C, so that the mirror stands where the lamp stood.
    expect(distance(ray.middle, C)).toBeLessThan(1e-6);
    const fold = { patchLegM: distance(PLACE, C), lampLegM, towardsLamp: aside() };
    return { rig, ray, fold, rim: rimOfLight(rig, ray) };
  };
  const judgedAt = (lampLegM: number) => {
    const { rig, ray, fold, rim } = foldOf(lampLegM);
    const glass = neededGlass(rig, ray, rim, fold);
    const setup = mirrorSetup(rig, ray, fold, glass, { ...glass, kitId: null, reflectance: 0.88 });
    const lens = lampOnFold(rig, ray, fold).pose.positionM;
    const screened = { ...setup, modifiers: { ...setup.modifiers, board: board(lens, C) } };
    const [check] = judgeLamp(rig.document, screened, LAMP_ID, 'full');
    return { check: check!, setup: screened, document: rig.document, lens };
  };

  test('path, fall-off and level at a leg of 5 m', () => {
    const { check, setup, document, lens } = judgedAt(5);
    expect(Math.abs(distance(lens, PLACE) + distance(PLACE, C) - expected[0]!)).toBeLessThan(off[0]!);
    expect(Math.abs(check.falloffStops! - expected[1]!)).toBeLessThan(off[1]!);
    const scene = compileScene({ ...document, setups: [setup] }, SETUP);
    // The mean over the 48 x 12 cells of the worked scene.
    let sum = 0;
    for (let row = 0; row < 12; row++) {
      for (let column = 0; column < 48; column++) {
        const pointM: Vec3 = [0, 0.025 + column * 0.05, 1.225 + row * 0.05];
        sum += readPoint(scene, { pointM, normal: [1, 0, 0] }).illuminanceLx;
      }
    }
    expect(Math.abs(sum / 576 - expected[2]!)).toBeLessThan(off[2]!);
  });
  test('the clear opening that the mirror needs', () => {
    const { rig, ray, fold, rim } = foldOf(5);
    const { widthM, heightM } = clearOpening(rig, ray, rim, fold);
    expect(Math.abs(widthM - expected[3]!)).toBeLessThan(off[3]!);
    expect(Math.abs(heightM - expected[4]!)).toBeLessThan(off[4]!);
  });
  test.each([
    [3, 1.1904],
    [8, 0.7348],
  ])('a leg of %d m leaves %d stops', (lampLegM, stops) => {
    expect(Math.abs(judgedAt(lampLegM).check.falloffStops! - stops)).toBeLessThan(0.005);
  });
  test('the glass is just large enough: two hands less and the patch is cut', () => {
    const { rig, ray, fold, rim } = foldOf(5);
    const glass = neededGlass(rig, ray, rim, fold);
    const area = (widthM: number): number => {
      const setup = mirrorSetup(rig, ray, fold, glass, { ...glass, widthM, kitId: null, reflectance: 0.88 });
      const lens = lampOnFold(rig, ray, fold).pose.positionM;
      const screened = { ...setup, modifiers: { ...setup.modifiers, board: board(lens, C) } };
      return judgeLamp(rig.document, screened, LAMP_ID, 'full')[0]!.drawing!.patchAreaM2;
    };
    const whole = 2.4 * 0.6;
    expect(area(glass.widthM)).toBeCloseTo(whole, 2);
    expect(area(glass.widthM - 0.2)).toBeLessThan(0.9 * whole);
  });
});

/** A spot in scene M's place that looks at the wall and nowhere else. */
const spotM = (kit: Record<string, KitEntry>, outsideM?: [number, number][][], diameterM = 0.02) =>
  playing(
    {
      ...sceneM(),
      source: lamp(
        { positionM: [1.4, -3.6, 2.6], aim: { atM: [0, 1.2, 1.5] } },
        { shape: 'disc', diameterM },
        { kind: 'beam', beamAngleDeg: 24 },
        { kind: 'candela', candela: 120_000 },
      ),
    },
    { kit, story: outsideM ? { lampSpace: { outsideM } } : {} },
  );
const only = (document: ReturnType<typeof playing>, kind: MendKind, options: MendOptions = {}) =>
  findMends(document, SETUP, { kinds: [kind], ...options })[0]!;

describe('the search', () => {
  test('a space that ends behind the lamp still holds the longer path', () => {
    const around = (x: number, y: number): [number, number][] => [
      [0.3, -4.2],
      [x, -4.2],
      [x, y],
      [0.3, y],
    ];
    const document = spotM({ mirror: mirrorEntry(1.2, 1.2) }, [around(6, 1.5)]);
    const back = only(document, 'backOff', { leastMeanLx: 60 });
    const mend = only(document, 'mirror', { leastMeanLx: 60 });
    expect(mend.possible).toBe(true);
    expect(mend.falloffStops!).toBeLessThan(back.falloffStops ?? 1.9);
    expect(Math.abs(mend.falloffStops! - mend.predictedFalloffStops!)).toBeLessThan(0.05);
    expect(mend.setup!.modifiers['mirror']!.kitId).toBe('mirror');
    expect(mend.sentence).toMatch(
      /^Over a mirror \d+\.\d m from the patch, lamp \d+\.\d m from it, .* of light: mirror of /,
    );
    // Law of reflection: the mirror's normal halves the angle between lamp and patch.
    const { pose } = mend.setup!.modifiers['mirror']!;
    const { positionM } = (mend.setup!.sources[LAMP_ID] as Lamp).pose;
    const { aim } = (mend.setup!.sources[LAMP_ID] as Lamp).pose;
    if (!('atM' in aim)) throw new Error('the lamp is not aimed at the mirror');
    const { forward } = frameFromPose(pose);
    const towards = (place: Vec3): Vec3 => normalise(subtract(place, aim.atM));
    const image = addScaled(towards(positionM), forward, -2 * dot(towards(positionM), forward));
    expect(distance(scale(image, -1), towards(C))).toBeLessThan(0.01);
  });
  test('the kit binds: none, one in use, one too small', () => {
    expect(only(spotM({}), 'mirror').why).toBe('The kit has no free mirror.');
    const small = only(spotM({ hand: mirrorEntry(0.1, 0.1) }), 'mirror');
    expect(small.possible).toBe(false);
    expect(small.why).toMatch(
      /^The light takes a mirror of \d\.\d x \d\.\d m at least; the largest free one is 0\.1 x 0\.1 m\.$/,
    );
  });
  test('the space binds: no room beside the light', () => {
    const strip: [number, number][] = [
      [1.2, -4],
      [1.6, -4],
      [1.6, -3.2],
      [1.2, -3.2],
    ];
    expect(only(spotM({ mirror: mirrorEntry(1.2, 1.2) }, [strip]), 'mirror').why).toBe(
      'The space has no place for a mirror in the light and a lamp beside it.',
    );
  });
  test('the level binds', () => {
    const mend = only(spotM({ mirror: mirrorEntry(1.2, 1.2) }), 'mirror', { leastMeanLx: 1300 });
    expect([mend.possible, mend.setup]).toEqual([false, null]);
    expect(mend.why).toContain('keeps the level asked for');
  });
});

describe('a lamp that shines into a mirror', () => {
  const room: [number, number][] = [
    [0.3, -4.5],
    [9, -4.5],
    [9, 1],
    [0.3, 1],
  ];
  const intoMirror = (diameterM?: number) => {
    const kit = { mirror: mirrorEntry(1.2, 1.2, 2), double: netOf(1), single: netOf(0.5) };
    const plain = spotM(kit, [room], diameterM);
    const rig = situation(plain, { leastMeanLx: 0 });
    const ray = meanRay(rig);
    const fold = { patchLegM: distance(PLACE, C), lampLegM: 3, towardsLamp: aside() };
    const glass = neededGlass(rig, ray, rimOfLight(rig, ray), fold);
    const setup = mirrorSetup(rig, ray, fold, glass, { kitId: 'mirror', widthM: 1.2, heightM: 1.2, reflectance: 0.88 });
    // A long flag along the lamp's leg keeps its own light off the wall.
    const way = normalise(subtract(C, PLACE));
    const [x, y, z] = addScaled(addScaled(PLACE, aside(), 5.5), way, 0.7);
    const flag: Modifier = {
      name: 'Flag',
      pose: { positionM: [x, y, z], aim: { atM: [...addScaled([x, y, z], way, 1)] } },
      shape: { kind: 'rectangle', widthM: 8, heightM: 2.5 },
      material: { kind: 'opaque' },
    };
    return { ...plain, setups: [{ ...setup, modifiers: { ...setup.modifiers, flag } }] };
  };
  const document = intoMirror();
  const rig = situationOf(document, document.setups[0]!, LAMP_ID, {}, new Pace({}, 1));
  if (typeof rig === 'string') throw new Error(rig);

  test('its light is laid out straight: both legs make the throw', () => {
    const ray = meanRay(rig);
    expect(ray.throwM).toBeCloseTo(distance(PLACE, C) + 3, 6);
    expect(ray.mirrorLegM).toBeCloseTo(3, 6);
  });
  test('backs off along its leg, and leaves what a straight path of that length leaves', () => {
    const mend = only(document, 'backOff', { leastMeanLx: 60 });
    expect(mend.possible, mend.sentence).toBe(true);
    const { positionM } = (mend.setup!.sources[LAMP_ID] as Lamp).pose;
    const before = (document.setups[0]!.sources[LAMP_ID] as Lamp).pose.positionM;
    const leg = distance(positionM, PLACE);
    expect(leg).toBeGreaterThan(3.5);
    expect(distance(normalise(subtract(positionM, PLACE)), normalise(subtract(before, PLACE)))).toBeLessThan(1e-6);
    expect(mend.sentence).toContain(`Back off to ${leg.toFixed(1)} m from the mirror`);
    const straight = spotM({});
    const image = addScaled(C, normalise(subtract(PLACE, C)), distance(PLACE, C) + leg);
    const source = { ...(straight.setups[0]!.sources[LAMP_ID] as Lamp) };
    const far = {
      ...source,
      pose: { positionM: [...image] as [number, number, number], aim: { atM: [...C] as [number, number, number] } },
    };
    const setup = { ...straight.setups[0]!, sources: { [LAMP_ID]: far } };
    const [check] = judgeLamp(straight, setup, LAMP_ID, 'full');
    expect(Math.abs(check!.falloffStops! - mend.falloffStops!)).toBeLessThan(0.02);
  });
  test.each(['feather', 'halfScrim', 'staggeredNets'] as const)(
    '%s: what the search foresees with the mirror unfolded is what the bent light then gives',
    (kind) => {
      // A half scrim in the slot blends over less than the patch only where the lens is small.
      const mend = only(kind === 'halfScrim' ? intoMirror(0.004) : document, kind, { leastMeanLx: 60 });
      expect(mend.falloffStops, mend.sentence).not.toBeNull();
      expect(Math.abs(mend.falloffStops! - mend.predictedFalloffStops!)).toBeLessThan(0.05);
      expect(mend.falloffStops!).toBeLessThan(mend.before.falloffStops! - 0.03);
    },
  );
  test('what has to move lamp and mirror together, or takes a second mirror, is refused with the reason', () => {
    expect(only(document, 'swing').why).toContain('lamp and mirror both go round');
    expect(only(document, 'mirror').why).toContain('off a mirror already');
  });
});

function netOf(stops: number): KitEntry {
  const grip = {
    shape: { kind: 'rectangle' as const, widthM: 1.2, heightM: 1.8 },
    material: { kind: 'net' as const, stops, weave: 'plain' as const },
  };
  return { name: `Net of ${stops}`, kind: 'grip', count: 2, grip };
}
