/** The even-coverage search against exhaustive scans of the same light, and against J11e; tells by hand cases. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { emptyScene } from '../../../src/scene/emptyScene';
import { loadScene } from '../../../src/scene/load';
import type { Lamp, SceneDocument } from '../../../src/scene/schema';
import { comparedSetup, differenceStops } from '../../../src/sim/coverage/compareSetups';
import { coverageArea, evennessOf, solveArea } from '../../../src/sim/coverage/evenness';
import { defaultBounds, evenOut, rateLayout, type EvenResult, type EvenTask } from '../../../src/sim/coverage/evenOut';
import { doubledShadows, hotEndOf } from '../../../src/sim/coverage/tells';
import { compileScene } from '../../../src/sim/solve/compileScene';
import values from '../../reference/judgement-values.json';

function run(task: EvenTask): EvenResult {
  const search = evenOut(task);
  let last = 0;
  for (;;) {
    const step = search.next();
    if (step.done) return step.value;
    expect(step.value).toBeGreaterThanOrEqual(last);
    last = step.value;
  }
}
const loaded = loadScene(readFileSync('scenes-demo/harbour-backdrop.json', 'utf8'), 'demo');
if (!loaded.ok) throw new Error('the demo does not load');
const harbour = loaded.document;

const point = (x: number, y: number, z: number, candela = 1000): Lamp => ({
  type: 'lamp',
  name: `P ${x}`,
  pose: { positionM: [x, y, z], aim: { panDeg: 0, tiltDeg: 0 } },
  emitter: { shape: 'point' },
  distribution: { kind: 'uniform' },
  output: { kind: 'candela', candela },
});
/** A strip in the plane y = 0 that faces -y, its outer cell centres `widthM` apart. */
function strip(widthM: number, sources: Record<string, Lamp>): SceneDocument {
  const lengthM = (widthM * 16) / 15;
  return {
    ...emptyScene(),
    surfaces: {
      strip: {
        name: 'Strip',
        kind: 'readingPlane',
        pose: { positionM: [-lengthM / 2, 0, 1], aim: { panDeg: 180, tiltDeg: 0 } },
        shape: { kind: 'rectangle', widthM: lengthM, heightM: 0.02 },
      },
    },
    setups: [{ id: 'one', name: 'One', sources, modifiers: {} }],
  };
}
/** Range of two isotropic points over n even places of a strip, straight from E = I h / r³; shares no code. */
function rangeByHand(spacingM: number, throwM: number, widthM: number, cells: number): number {
  const levels = Array.from({ length: cells }, (_, i) => {
    const x = -widthM / 2 + (widthM * i) / (cells - 1);
    return [-spacingM / 2, spacingM / 2].reduce((sum, s) => sum + throwM / Math.hypot(x - s, throwM) ** 3, 0);
  });
  return Math.log2(Math.max(...levels) / Math.min(...levels));
}
const held = (value: number): readonly [number, number] => [value, value];

describe('without a level to hold', () => {
  // Two points of 1000 cd 2 m apart before a 3 m strip, only the throw free: range and mean follow from E = I h / r³.
  const scene = strip(3, { p: point(0, -3, 1.01) });
  const bounds = { throwM: [1, 9], spacingM: held(2), heightM: held(0), rowGapM: held(0), across: held(0) } as const;
  const task = { document: scene, setupId: 'one', surfaceId: 'strip', lamp: point(0, -3, 1.01), lamps: 2, bounds };
  const meanByHand = (throwM: number): number => {
    const levels = Array.from({ length: 16 }, (_, i) => {
      const x = -1.5 + (3 * i) / 15;
      return [-1, 1].reduce((sum, side) => sum + (1000 * throwM) / Math.hypot(x - side, throwM) ** 3, 0);
    });
    return levels.reduce((sum, lx) => sum + lx, 0) / levels.length;
  };
  const throws = Array.from({ length: 1601 }, (_, i) => 1 + 0.005 * i);
  const leastBy = (cost: (throwM: number) => number): number =>
    throws.reduce((best, throwM) => (cost(throwM) < cost(best) ? throwM : best));

  test('nothing that is enough: the most even of all, at the far end of the bounds', () => {
    const { best } = run({ ...task, targetLx: 0 });
    expect(best!.layout.throwM).toBeCloseTo(9, 6);
  });
  test('of all throws that are even enough the brightest', () => {
    const rangeStops = 0.4;
    const { best } = run({ ...task, targetLx: 0, enough: { rangeStops, meanLx: 1 } });
    const scanned = leastBy((m) => (rangeByHand(2, m, 3, 16) <= rangeStops ? -meanByHand(m) : Infinity));
    expect(Math.abs(best!.layout.throwM - scanned)).toBeLessThan(0.05);
    expect(best!.evenness.rangeStops).toBeLessThanOrEqual(rangeStops + 2e-3);
    expect(best!.evenness.meanLx / meanByHand(scanned)).toBeCloseTo(1, 1);
  });
  test('where none is, a stop under the wanted mean counts as a stop uneven', () => {
    const meanLx = 300;
    const { best } = run({ ...task, targetLx: 0, enough: { rangeStops: 0, meanLx } });
    const cost = (m: number): number => rangeByHand(2, m, 3, 16) + Math.max(0, Math.log2(meanLx / meanByHand(m)));
    const scanned = leastBy(cost);
    expect(scanned).toBeGreaterThan(1.2);
    expect(scanned).toBeLessThan(6);
    expect(cost(best!.layout.throwM) - cost(scanned)).toBeLessThan(0.005);
  });
  test('a level to hold goes before it', () => {
    const enough = { rangeStops: 2, meanLx: 1 };
    const held150 = run({ ...task, targetLx: 150 }).best!;
    expect(run({ ...task, targetLx: 150, enough }).best).toEqual(held150);
    // At 150 lx the farthest throw that still gives it is the most even.
    const scanned = leastBy((m) => (meanByHand(m) >= 150 ? rangeByHand(2, m, 3, 16) : Infinity));
    expect(Math.abs(held150.layout.throwM - scanned)).toBeLessThan(0.1);
  });
});

describe('search against scan', () => {
  const bounds = { throwM: held(3), spacingM: [1.5, 6], heightM: held(0), rowGapM: held(0), across: held(0) } as const;
  test('two points 3 m before a 3 m strip: the spacing and the range of J11e', () => {
    const scene = strip(3, { p: point(0, -3, 1.01) });
    const task = { document: scene, setupId: 'one', surfaceId: 'strip', lamp: point(0, -3, 1.01), lamps: 2, bounds };
    const { best } = run({ ...task, targetLx: 0 });
    let scanned = { spacingM: 0, range: Infinity };
    for (let spacingM = 1.5; spacingM <= 6; spacingM += 0.005) {
      const range = rangeByHand(spacingM, 3, 3, 16);
      if (range < scanned.range) scanned = { spacingM, range };
    }
    expect(Math.abs((best?.evenness.rangeStops ?? NaN) - scanned.range)).toBeLessThan(0.002);
    expect(Math.abs((best?.layout.spacingM ?? NaN) - scanned.spacingM)).toBeLessThan(0.1);
    const [, least, spacingM] = values.find(({ id }) => id === 'J11e')!.expected as [number, number, number];
    expect(Math.abs((best?.evenness.rangeStops ?? NaN) - least)).toBeLessThan(0.004);
    expect(Math.abs((best?.layout.spacingM ?? NaN) - spacingM)).toBeLessThan(0.15);
  });

  test('four mats at a fixed throw: no place of an exhaustive scan is better', () => {
    const lamp = harbour.setups[0]!.sources['k1'] as Lamp;
    const fixed = {
      throwM: held(3.6),
      spacingM: [4, 9],
      heightM: held(0),
      rowGapM: [1, 3],
      across: [0, 2],
    } as const;
    const task = {
      document: harbour,
      setupId: 'poor',
      surfaceId: 'picture',
      lamp,
      lamps: 4,
      bounds: fixed,
      targetLx: 0,
    };
    const { best } = run(task);
    let scanned = Infinity;
    for (const spacingM of [4, 5, 6, 7, 8, 9]) {
      for (const rowGapM of [1, 2, 3]) {
        for (const across of [0, 0.5, 1, 1.5, 2]) {
          const layout = { lamps: 4, rows: 2, throwM: 3.6, heightM: 0, spacingM, rowGapM, across } as const;
          scanned = Math.min(scanned, rateLayout(task, layout)?.evenness.rangeStops ?? Infinity);
        }
      }
    }
    expect(scanned).toBeLessThan(1);
    expect(best?.evenness.rangeStops).toBeLessThanOrEqual(scanned + 1e-6);
    // What it says is what the scene gives once the lamps stand there.
    const sources = Object.fromEntries(best!.lampsAt.map(({ id, lamp: each }) => [id, each]));
    const there: SceneDocument = { ...harbour, setups: [{ ...harbour.setups[0]!, sources }] };
    const solved = solveArea(compileScene(there, 'poor'), coverageArea(there, 'picture'));
    expect(solved.evenness.rangeStops).toBeCloseTo(best!.evenness.rangeStops!, 4);
    expect(solved.evenness.meanLx / best!.evenness.meanLx).toBeCloseTo(1, 4);
  });

  test('keeps to the space and to the level; says when there is none', () => {
    const lamp = harbour.setups[0]!.sources['k1'] as Lamp;
    const task = {
      document: harbour,
      setupId: 'poor',
      surfaceId: 'picture',
      lamp,
      lamps: 2,
      bounds: defaultBounds(harbour, 'picture'),
    };
    const { best } = run({ ...task, targetLx: 400 });
    expect(best!.evenness.meanLx).toBeCloseTo(400, 6);
    expect(best!.level).toBeLessThanOrEqual(1);
    for (const { lamp: each } of best!.lampsAt) {
      const [x, y, z] = each.pose.positionM;
      expect([Math.abs(x) <= 5.5, y >= -7, y <= 5.4, z >= 0, z <= 4.5]).toEqual([true, true, true, true, true]);
    }
    const none = run({ ...task, targetLx: 1e6 });
    expect(none.best).toBeNull();
    expect(none.reason).toContain('wanted level');
    expect(() => run({ ...task, lamps: 9, targetLx: 0 })).toThrow(RangeError);
  });
});

describe('tells', () => {
  const two = (secondCd: number): SceneDocument =>
    strip(2, { a: point(-1, -4, 1.01), b: point(1, -4, 1.01, secondCd) });
  const shadowsOf = (scene: SceneDocument) => {
    const compiled = compileScene(scene, 'one');
    const area = coverageArea(scene, 'strip');
    return doubledShadows(compiled, area, solveArea(compiled, area));
  };
  test('two like hard points double each other’s shadows', () => {
    expect(shadowsOf(two(1000))).toEqual([
      { sourceId: 'a', otherIds: ['b'] },
      { sourceId: 'b', otherIds: ['a'] },
    ]);
  });
  // At x = -1 the second reads (4/√20)³ = 0.716 of its share, at x = 1 it is 1.398 times: 5 % of the level is never an eighth.
  test('one far below an eighth does not', () => {
    expect(shadowsOf(two(50))).toEqual([{ sourceId: 'b', otherIds: ['a'] }]);
  });
  test('wide mats near by are no second edge', () => {
    const area = coverageArea(harbour, 'picture');
    const compiled = compileScene(harbour, 'poor');
    expect(doubledShadows(compiled, area, solveArea(compiled, area))).toEqual([]);
  });
  test('hot end: side and stops over the mean', () => {
    const scene = strip(4, { a: point(-2, -1, 1.01) });
    const solved = solveArea(compileScene(scene, 'one'), coverageArea(scene, 'strip'));
    expect(hotEndOf(solved)).toEqual({
      where: expect.stringContaining('left') as string,
      overMeanStops: Math.log2(solved.evenness.maxLx / solved.evenness.meanLx),
    });
  });
});

describe('setups side by side', () => {
  const [poor, good] = ['poor', 'good'].map((id) => comparedSetup(harbour, id, 'picture'));
  test('gear, power and evenness', () => {
    expect([poor!.mainsW, good!.mainsW]).toEqual([840, 1680]);
    expect(good!.lamps).toEqual([{ name: 'Soft mat 1.2 x 1.2 m', count: 4 }]);
    expect([poor!.unknownPower, poor!.verdict]).toEqual([0, null]);
    expect(poor!.solved.evenness.rangeStops! / good!.solved.evenness.rangeStops!).toBeGreaterThan(4);
  });
  test('difference map: stops, its sign turns with the order, a setup against itself is 0', () => {
    const difference = differenceStops(poor!.solved, good!.solved);
    const [a, b] = [poor!, good!].map(({ solved }) => solved.grid.illuminanceLx[100]!);
    expect(difference[100]).toBeCloseTo(Math.log2(a! / b!), 5);
    const back = differenceStops(good!.solved, poor!.solved);
    difference.forEach((stops, cell) => expect(stops).toBeCloseTo(-back[cell]!, 5));
    expect(evennessOf([...differenceStops(poor!.solved, poor!.solved)]).maxLx).toBe(0);
  });
});
