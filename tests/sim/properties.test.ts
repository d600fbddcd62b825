/** What must hold for any scene, whatever the numbers: checked on the kernel with seeded random scenes and draws. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Aim, Lamp, Modifier, Pose, SceneDocument, Surface } from '../../src/scene/schema';
import { panTiltFromAim } from '../../src/scene/geometry/frames';
import { dot, length, normalise, scale, subtract, type Vec3 } from '../../src/scene/geometry/vector';
import { compileScene } from '../../src/sim/solve/compileScene';
import { solveGrid } from '../../src/sim/solve/solveGrid';
import { readPoint } from '../../src/sim/solve/solvePoint';
import { randomScene, type RandomScene } from '../brute/randomScene';
import { facing, glowing, lamp, meterOf, pointLamp, reading, sceneOf, SETUP, sheetAcrossX } from '../validation/scenes';

const SEED = 20_240_611;
/** A uniform grid: fast-check's doubles spread over exponents, so that most of its draws in 0..1 are almost 0. */
const within = (low: number, high: number) =>
  fc.integer({ min: 0, max: 1_000_000 }).map((i) => low + ((high - low) * i) / 1_000_000);
const check = <Ts>(property: fc.IProperty<Ts>, numRuns: number) => fc.assert(property, { seed: SEED, numRuns });

const RECEIVERS_READ = 12;
function readingsOf(document: SceneDocument, scene: Pick<RandomScene, 'setupId' | 'receivers'>): number[][] {
  const compiled = compileScene(document, scene.setupId);
  return scene.receivers
    .slice(0, RECEIVERS_READ)
    .map((receiver) => readPoint(compiled, receiver).bySource.map((one) => one.illuminanceLx));
}
/** A copy of the scene with its one setup changed. */
function withSetup(document: SceneDocument, change: Partial<SceneDocument['setups'][number]>): SceneDocument {
  return { ...document, setups: [{ ...document.setups[0]!, ...change }] };
}
function expectAlike(one: number[][], other: number[][], relative: number): void {
  const peak = Math.max(...one.flat());
  one.forEach((levels, r) =>
    levels.forEach((level, s) => expect(Math.abs(level - other[r]![s]!)).toBeLessThanOrEqual(relative * peak)),
  );
}
/** Seeds whose lamps solve quickly; the slow ones are in the brute-force comparison. */
const SCENE_SEEDS = [1, 2, 3, 8, 11];

describe('superposition', () => {
  test.each(SCENE_SEEDS)('scene %d: the sum is the sum of its sources, each as if alone', (seed) => {
    const scene = randomScene(seed);
    const sources = Object.entries(scene.document.setups[0]!.sources);
    const together = readingsOf(scene.document, scene);
    sources.forEach(([id, source], s) => {
      const alone = readingsOf(withSetup(scene.document, { sources: { [id]: source } }), scene);
      together.forEach((levels, r) => expect(alone[r]![0]).toBe(levels[s]));
    });
    const compiled = compileScene(scene.document, scene.setupId);
    const whole = readPoint(compiled, scene.receivers[0]!);
    expect(whole.illuminanceLx).toBeCloseTo(
      together[0]!.reduce((a, b) => a + b, 0),
      9,
    );
  });

  test('light is linear in the level and in the output', () => {
    check(
      fc.property(within(0, 1), within(1, 100_000), (level, candela) => {
        const at = { at: [0, 0.3, 0] as Vec3, normal: [1, 0, 0] as Vec3 };
        const full = reading(pointLamp([3, 0, 0], 1), at);
        expect(reading({ ...pointLamp([3, 0, 0], candela), level }, at)).toBeCloseTo(full * candela * level, 6);
      }),
      30,
    );
  });
});

/** Turns about the upright, clockwise seen from above, then shifts: what pan does too. */
interface Motion {
  readonly turnDeg: number;
  readonly shiftM: Vec3;
}
function movePoint([x, y, z]: Vec3, { turnDeg, shiftM }: Motion): [number, number, number] {
  const [c, s] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  return [c * x + s * y + shiftM[0], -s * x + c * y + shiftM[1], z + shiftM[2]];
}
function movePose(pose: Pose, motion: Motion): Pose {
  const { panDeg, tiltDeg, rollDeg } = panTiltFromAim(pose.aim, pose.positionM);
  const aim: Aim = { panDeg: panDeg + motion.turnDeg, tiltDeg, rollDeg };
  return { positionM: movePoint(pose.positionM, motion), aim };
}
const mapped = <T>(record: Readonly<Record<string, T>>, of: (value: T) => T): Record<string, T> =>
  Object.fromEntries(Object.entries(record).map(([id, value]) => [id, of(value)]));

describe('rigid motion', () => {
  test.each(SCENE_SEEDS)('scene %d moved and turned as a whole reads the same', (seed) => {
    const scene = randomScene(seed);
    const motion: Motion = { turnDeg: 37.5 + 61 * seed, shiftM: [3.2, -7.1, 1.4] };
    const setup = scene.document.setups[0]!;
    const moved: SceneDocument = {
      ...withSetup(scene.document, {
        sources: mapped(setup.sources, (source) =>
          source.type === 'lamp' ? { ...source, pose: movePose(source.pose, motion) } : source,
        ),
        modifiers: mapped(setup.modifiers, (one) => ({ ...one, pose: movePose(one.pose, motion) })),
      }),
      northDeg: motion.turnDeg,
      surfaces: mapped<Surface>(scene.document.surfaces, (one) => ({ ...one, pose: movePose(one.pose, motion) })),
    };
    const still = { turnDeg: motion.turnDeg, shiftM: [0, 0, 0] as Vec3 };
    const receivers = scene.receivers.map((receiver) => ({
      ...receiver,
      pointM: movePoint(receiver.pointM, motion),
      normal: movePoint(receiver.normal, still),
    }));
    expectAlike(readingsOf(scene.document, scene), readingsOf(moved, { ...scene, receivers }), 1e-4);
  });
});

describe('grip', () => {
  test.each(SCENE_SEEDS)('scene %d: the order of things does not matter', (seed) => {
    const scene = randomScene(seed);
    const { modifiers } = scene.document.setups[0]!;
    const reversed = Object.fromEntries(Object.entries(modifiers).reverse());
    expectAlike(
      readingsOf(scene.document, scene),
      readingsOf(withSetup(scene.document, { modifiers: reversed }), scene),
      1e-9,
    );
  });

  test('nets commute and their stops add', () => {
    const net = (x: number, stops: number, weave: 'plain' | 'woven'): Modifier =>
      sheetAcrossX([x, 0, 0], 1, 1, { kind: 'net', stops, weave });
    const source = glowing(facing([3, 0.2, 0.1], 270, 0), { shape: 'disc', diameterM: 0.4 }, 5000);
    const probe = { at: [0, 0.1, 0] as Vec3, normal: [1, 0, 0] as Vec3 };
    const through = (modifiers: Record<string, Modifier>) => meterOf({ sources: { source }, modifiers })(probe);
    const open = through({});
    check(
      fc.property(within(0.1, 2), within(0.1, 2), within(0.3, 1.2), within(1.3, 2.4), (s, t, near, far) => {
        const one = through({ a: net(near, s, 'woven'), b: net(far, t, 'woven') });
        const other = through({ a: net(near, t, 'woven'), b: net(far, s, 'woven') });
        expect(Math.abs(one - other)).toBeLessThan(1e-9 * open);
        expect(through({ a: net(near, s, 'plain'), b: net(far, t, 'plain') }) / open).toBeCloseTo(2 ** -(s + t), 9);
      }),
      20,
    );
  });

  test.each(SCENE_SEEDS)('scene %d: one more thing never adds light; moved off, all is as before', (seed) => {
    const scene = randomScene(seed);
    const before = readingsOf(scene.document, scene);
    const { modifiers } = scene.document.setups[0]!;
    const flag = (positionM: [number, number, number]): Modifier => ({
      name: 'Flag',
      pose: facing(positionM, 20 * seed, 10),
      shape: { kind: 'rectangle', widthM: 1.5, heightM: 1.5 },
      material: { kind: 'opaque' },
    });
    const lampHead = Object.values(scene.document.setups[0]!.sources).find((one): one is Lamp => one.type === 'lamp')!;
    const [x, y, z] = lampHead.pose.positionM;
    const [px, py, pz] = scene.receivers[0]!.pointM;
    const between = withSetup(scene.document, {
      modifiers: { ...modifiers, flag: flag([(x + px) / 2, (y + py) / 2, (z + pz) / 2]) },
    });
    const after = readingsOf(between, scene);
    const peak = Math.max(...before.flat());
    before.forEach((levels, r) =>
      levels.forEach((level, s) => expect(after[r]![s]).toBeLessThanOrEqual(level + 1e-4 * peak)),
    );
    const off = withSetup(scene.document, { modifiers: { ...modifiers, flag: flag([500, 500, 500]) } });
    expectAlike(before, readingsOf(off, scene), 1e-12);
  });

  test('a flag between a lamp and a point takes all its light, and gives it back', () => {
    const source = glowing(facing([3, 0, 0], 270, 0), { shape: 'disc', diameterM: 0.2 }, 5000);
    const probe = { at: [0, 0, 0] as Vec3, normal: [1, 0, 0] as Vec3 };
    const at = (y: number) =>
      meterOf({ sources: { source }, modifiers: { flag: sheetAcrossX([1, y, 0], 1, 1, { kind: 'opaque' }) } })(probe);
    expect(at(0)).toBe(0);
    expect(at(5)).toBe(reading(source, probe));
    expect(at(0.5)).toBeCloseTo(reading(source, probe) / 2, 3);
  });
});

describe('energy', () => {
  const SIDE_M = 4;
  const CELLS = 40;
  /** Six walls that look inwards round (0, 0, 0). */
  const half = SIDE_M / 2;
  const box: Record<string, Surface> = Object.fromEntries(
    (
      [
        ['south', [-half, half, -half], 180, 0],
        ['north', [half, -half, -half], 0, 0],
        ['east', [half, half, -half], 270, 0],
        ['west', [-half, -half, -half], 90, 0],
        ['floor', [-half, -half, -half], 180, 90],
        ['ceiling', [-half, half, half], 180, -90],
      ] as [string, [number, number, number], number, number][]
    ).map(([id, positionM, panDeg, tiltDeg]): [string, Surface] => [
      id,
      {
        name: id,
        kind: 'wall',
        pose: facing(positionM, panDeg, tiltDeg),
        shape: { kind: 'rectangle', widthM: SIDE_M, heightM: SIDE_M },
      },
    ]),
  );
  function fluxInBox(source: Lamp, modifiers: Record<string, Modifier> = {}): number {
    const scene = compileScene(sceneOf({ sources: { source }, surfaces: box, modifiers }), SETUP);
    const cellM2 = (SIDE_M / CELLS) ** 2;
    return Object.keys(box).reduce((sum, surfaceId) => {
      const grid = solveGrid(scene, { surfaceId, columns: CELLS, rows: CELLS });
      return sum + grid.illuminanceLx.reduce((part, level) => part + level, 0) * cellM2;
    }, 0);
  }
  const LUMENS = 1000;
  const output = { kind: 'lumens', lumens: LUMENS } as const;
  const pose = facing([0.3, -0.2, 0.1], 33, 21, 12);
  const lamps: [string, Lamp][] = [
    ['point', lamp(pose, { shape: 'point' }, { kind: 'uniform' }, output)],
    ['Lambertian disc', lamp(pose, { shape: 'disc', diameterM: 0.6 }, { kind: 'lambertian' }, output)],
    [
      'Lambertian rectangle',
      lamp(pose, { shape: 'rectangle', widthM: 0.8, heightM: 0.5 }, { kind: 'lambertian' }, output),
    ],
    ['cos^4 disc', lamp(pose, { shape: 'disc', diameterM: 0.3 }, { kind: 'cosinePower', exponent: 4 }, output)],
    ['beam', lamp(pose, { shape: 'point' }, { kind: 'beam', beamAngleDeg: 40, fieldAngleDeg: 70 }, output)],
    [
      'projection',
      lamp(pose, { shape: 'disc', diameterM: 0.1 }, { kind: 'projection', fieldAngleDeg: 40, edgeWidthDeg: 3 }, output),
    ],
    ['sphere', lamp(pose, { shape: 'sphere', diameterM: 0.4 }, { kind: 'uniform' }, output)],
    ['tube', lamp(pose, { shape: 'tube', lengthM: 1, diameterM: 0.05 }, { kind: 'lambertian' }, output)],
  ];
  test.each(lamps)('%s: the walls of a closed box get its lumens, no more and no less', (_name, source) => {
    // Cell centres of a 40 x 40 grid and the grid's own 1 % of peak.
    expect(Math.abs(fluxInBox(source) / LUMENS - 1)).toBeLessThan(0.01);
  });
  test.each(lamps)('%s: grip takes lumens away and never makes any', (_name, source) => {
    const modifiers = {
      flag: sheetAcrossX([0.9, 0, 0], 1, 1, { kind: 'opaque' }),
      net: {
        ...sheetAcrossX([0, 0.9, 0.4], 1.2, 1.2, { kind: 'net', stops: 1 }),
        pose: facing([0.2, 0.9, 0.4], 30, 15),
      },
    };
    const left = fluxInBox(source, modifiers);
    expect(left).toBeLessThan(LUMENS);
    expect(left).toBeGreaterThan(0);
  });
});

describe('limits and reciprocity', () => {
  test('far away every emitter is its point', () => {
    check(
      fc.property(within(-30, 30), within(-30, 30), within(0.05, 0.3), (pan, tilt, size) => {
        const probe = { at: [0, 0, 0] as Vec3, normal: [1, 0, 0] as Vec3 };
        const pose = facing([60, 0, 0], 270 + pan, tilt);
        const out = { kind: 'candela', candela: 36_000 } as const;
        const cosine = Math.cos((pan * Math.PI) / 180) * Math.cos((tilt * Math.PI) / 180);
        const disc = lamp(pose, { shape: 'disc', diameterM: size }, { kind: 'lambertian' }, out);
        const panel = lamp(pose, { shape: 'rectangle', widthM: size, heightM: size }, { kind: 'lambertian' }, out);
        const globe = lamp(pose, { shape: 'sphere', diameterM: size }, { kind: 'uniform' }, out);
        expect(reading(disc, probe) / (10 * cosine)).toBeCloseTo(1, 4);
        expect(reading(panel, probe) / (10 * cosine)).toBeCloseTo(1, 4);
        expect(reading(globe, probe)).toBeCloseTo(10, 3);
      }),
      25,
    );
  });

  test('two Lambertian patches of equal area and luminance light each other alike, flag or no flag between', () => {
    const SIDE_M = 0.3;
    check(
      fc.property(within(-25, 25), within(-25, 25), within(-0.5, 0.5), within(1.5, 3), (panOne, panTwo, aside, far) => {
        const one = facing([0, 0, 0], 90 + panOne, 0);
        const two = facing([far, aside, 0.1], 270 + panTwo, 5);
        const modifiers = { flag: sheetAcrossX([far / 2, aside / 2 + 0.12, 0], 0.2, 0.2, { kind: 'opaque' }) };
        const exchanged = fluxBetween(one, two, SIDE_M, modifiers);
        const back = fluxBetween(two, one, SIDE_M, modifiers);
        expect(exchanged).toBeGreaterThan(0);
        expect(Math.abs(exchanged / back - 1)).toBeLessThan(0.01);
      }),
      8,
    );
  });

  /** Flux from a glowing square at `from` on to an equal square at `to`: the mean of 12 x 12 points. */
  function fluxBetween(from: Pose, to: Pose, sideM: number, modifiers: Record<string, Modifier>): number {
    const source = glowing(from, { shape: 'rectangle', widthM: sideM, heightM: sideM }, 1000);
    const meter = meterOf({ sources: { source }, modifiers });
    const aim = panTiltFromAim(to.aim, to.positionM);
    const [p, t] = [(aim.panDeg * Math.PI) / 180, (aim.tiltDeg * Math.PI) / 180];
    const normal: Vec3 = [Math.sin(p) * Math.cos(t), Math.cos(p) * Math.cos(t), Math.sin(t)];
    const up: Vec3 = [-Math.sin(p) * Math.sin(t), -Math.cos(p) * Math.sin(t), Math.cos(t)];
    const right: Vec3 = [-Math.cos(p), Math.sin(p), 0];
    const points = 12;
    let sum = 0;
    for (let i = 0; i < points; i++)
      for (let j = 0; j < points; j++) {
        const [a, b] = [((i + 0.5) / points - 0.5) * sideM, ((j + 0.5) / points - 0.5) * sideM];
        const at = to.positionM.map((x, k) => x + a * right[k]! + b * up[k]!) as unknown as Vec3;
        sum += meter({ at, normal });
      }
    return (sum / points ** 2) * sideM ** 2;
  }

  test('light falls as the square of the distance and the cosine of incidence, from any point lamp', () => {
    const place = fc.tuple(within(0.5, 20), within(-20, 20), within(-20, 20));
    check(
      fc.property(place, within(-60, 60), (at, turn) => {
        const normal: Vec3 = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180), 0];
        const towards: Vec3 = subtract(at, [0, 0, 0]);
        const far = length(towards);
        const cosine = Math.max(0, dot(normalise(towards), normal));
        const level = reading(pointLamp(at, 5000), { at: scale(towards, 0), normal });
        expect(Math.abs(level - (5000 * cosine) / far ** 2)).toBeLessThan(1e-9 * (1 + 5000 / far ** 2));
      }),
      50,
    );
  });
});
