/** Coverage's closed forms and figures against worked values (tests/reference/judgement-values.json, ids J11...). */
import { describe, expect, test } from 'vitest';
import { emptyScene } from '../../../src/scene/emptyScene';
import type { Lamp, SceneDocument } from '../../../src/scene/schema';
import {
  distanceForDepthM,
  distanceForFlatM,
  flattestSpacingM,
  footprintOf,
} from '../../../src/sim/coverage/closedForms';
import { distanceRow, throwOf } from '../../../src/sim/coverage/distanceTable';
import { evennessOf } from '../../../src/sim/coverage/evenness';
import { meteringGrid } from '../../../src/sim/coverage/meteringGrid';
import { distanceForRange, firstDistances, rangeOf } from '../../../src/sim/coverage/rangeDistances';
import { compileScene } from '../../../src/sim/solve/compileScene';
import values from '../../reference/judgement-values.json';

const valueOf = (id: string) => {
  const found = values.find((value) => value.id === id);
  if (!found) throw new Error(`no value ${id}`);
  return found;
};
const numbersOf = (id: string) => valueOf(id).expected as (number | null)[];

/** A wall in the plane y = 0 that faces -y, centred on x = 0, and cos^n lamps before it, square on. */
function wallScene(widthM: number, heightM: number, lampXs: readonly number[], throwM: number, exponent = 0) {
  const middleM = heightM / 2;
  const lamp = (x: number): Lamp => ({
    type: 'lamp',
    name: `L ${x}`,
    pose: { positionM: [x, -throwM, middleM], aim: { panDeg: 0, tiltDeg: 0 } },
    emitter: { shape: 'point' },
    distribution: exponent === 0 ? { kind: 'uniform' } : { kind: 'cosinePower', exponent },
    output: { kind: 'candela', candela: 1000 },
  });
  const empty = emptyScene();
  return {
    ...empty,
    surfaces: {
      wall: {
        name: 'Wall',
        kind: 'wall',
        pose: { positionM: [-widthM / 2, 0, 0], aim: { panDeg: 180, tiltDeg: 0 } },
        shape: { kind: 'rectangle', widthM, heightM },
      },
    },
    groups: { both: { name: 'Both', memberIds: lampXs.map((_, i) => `l${i}`) } },
    setups: [
      { id: 'one', name: 'One', modifiers: {}, sources: Object.fromEntries(lampXs.map((x, i) => [`l${i}`, lamp(x)])) },
    ],
  } satisfies SceneDocument;
}

describe('footprint: closed form, twice derived (J11-foot)', () => {
  test.each([
    ['J11-foot12', 12],
    ['J11-foot20', 20],
    ['J11-foot52', 52],
  ] as const)('%s', (id, halfDeg) => {
    const [farM, nearM, widthM] = numbersOf(id);
    const found = footprintOf(halfDeg, 5, 40);
    expect(found.runsOff).toBe(farM === null);
    for (const [actual, expected] of [
      [found.farM, farM],
      [found.nearM, nearM],
      [found.widthM, widthM],
    ]) {
      if (expected === null || expected === undefined) expect(actual).toBeNull();
      else expect(actual).toBeCloseTo(expected, 6);
    }
  });
  // By hand: square on it is a circle of radius D tan t.
  test('square on it is a circle', () => {
    const { farM, nearM, widthM } = footprintOf(45, 3, 0);
    expect([farM, nearM, widthM].map((value) => value?.toFixed(9))).toEqual([
      '3.000000000',
      '3.000000000',
      '6.000000000',
    ]);
  });
  test.each([
    [0, 5, 40],
    [90, 5, 40],
    [12, 0, 40],
    [12, 5, 90],
    [NaN, 5, 40],
  ])('rejects %d, %d, %d', (t, d, i) => expect(() => footprintOf(t, d, i)).toThrow(RangeError));
});

describe('distances for a range (J11-dist)', () => {
  test.each([
    ['J11-dist0.333', 1 / 3],
    ['J11-dist0.5', 1 / 2],
    ['J11-dist1', 1],
  ] as const)('%s', (id, stops) => {
    const [depth, flat, beam] = numbersOf(id) as [number, number, number];
    expect(distanceForDepthM(2, stops) / depth).toBeCloseTo(1, 6);
    expect(distanceForFlatM(4, 0, stops) / flat).toBeCloseTo(1, 6);
    expect(distanceForFlatM(4, 10, stops) / beam).toBeCloseTo(1, 6);
  });
  // The simulated search on a slim strip, whose end cells lie half a cell inside the ends.
  test.each([
    [0, 1 / 3],
    [0, 1],
    [10, 1 / 2],
  ])('simulated, cos^%d, %d stop', (exponent, stops) => {
    const scene = wallScene(4, 0.02, [0], 3, exponent);
    const given = throwOf(scene, 'one', 'l0', 'wall');
    const { columns } = given.area.request;
    const rangeAt = rangeOf(given);
    const samples = firstDistances(1, 30).map((distanceM) => ({ distanceM, rangeStops: rangeAt(distanceM) }));
    const found = distanceForRange(samples, rangeAt, stops).distanceM;
    // An even number of cells: the brightest lies half a cell off the foot, the darkest half a cell off the end.
    const [near, far] = [2 / columns, 2 - 2 / columns];
    const k = 2 ** ((2 * stops) / (exponent + 3));
    const expected = Math.sqrt((far ** 2 - k * near ** 2) / (k - 1));
    expect((found ?? NaN) / expected).toBeCloseTo(1, 3);
    expect((found ?? NaN) / distanceForFlatM(far * 2, exponent, stops)).toBeCloseTo(1, 2);
  });
  test('not reached: null with the best value; never left: the nearest', () => {
    const samples = [3, 2, 1, 1.2].map((rangeStops, i) => ({ distanceM: i + 1, rangeStops }));
    expect(distanceForRange(samples, () => 1.1, 1)).toMatchObject({ distanceM: null, bestStops: 1, bestAtM: 3 });
    expect(distanceForRange(samples, () => 1.1, 3).distanceM).toBe(1);
    // A dip near the lamp does not count: the range must stay within.
    const dip = [0.5, 2, 1, 0.4].map((rangeStops, i) => ({ distanceM: i + 1, rangeStops }));
    expect(distanceForRange(dip, (d) => (d < 3.5 ? 1 : 0.4), 0.6).distanceM).toBeCloseTo(3.5, 3);
    expect(distanceForRange([{ distanceM: 1, rangeStops: null }], () => null, 1)).toMatchObject({
      distanceM: null,
      bestStops: null,
    });
  });
});

describe('two lamps (J11c to J11e)', () => {
  test('spacing that makes the middle flattest', () => {
    expect(flattestSpacingM(3, 0)).toBeCloseTo(valueOf('J11c').expected as number, 6);
    expect(flattestSpacingM(3, 6)).toBeCloseTo(valueOf('J11d').expected as number, 5);
  });
  test('range over the strip at spacing 3.0 m and at the best spacing, simulated', () => {
    const [atThrow, least, spacing] = numbersOf('J11e') as [number, number, number];
    const rangeAt = (spacingM: number): number => {
      // Odd cells: one at the very middle; the strip a cell longer, so that the outer centres are its ends.
      const scene = wallScene(3 * (201 / 200), 0.02, [-spacingM / 2, spacingM / 2], 3);
      const points = meteringGrid(compileScene(scene, 'one'), scene, 'wall', { columns: 201, rows: 1 });
      return evennessOf(points.map(({ expectedLx }) => expectedLx)).rangeStops ?? NaN;
    };
    expect(Math.abs(rangeAt(3) - atThrow)).toBeLessThan(0.002);
    expect(Math.abs(rangeAt(spacing) - least)).toBeLessThan(0.002);
    for (const other of [3.2, 3.7]) expect(rangeAt(other)).toBeGreaterThan(least + 0.005);
  });
});

describe('uniformity (J11a, J11b)', () => {
  test('isotropic point 5 m before a 4 x 3 m wall, 5 x 3 cells', () => {
    const scene = wallScene(4, 3, [0], 5);
    const points = meteringGrid(compileScene(scene, 'one'), scene, 'wall', { columns: 5, rows: 3 });
    const found = evennessOf(points.map(({ expectedLx }) => expectedLx));
    expect(found.minOverMean).toBeCloseTo(valueOf('J11a').expected as number, 6);
    expect(found.minOverMax).toBeCloseTo(0.8189788, 6);
    expect(found.rangeStops).toBeCloseTo(valueOf('J11b').expected as number, 5);
  });
  test('areas weigh in the mean; dark and missing cells by definition', () => {
    expect(evennessOf([1, 3], [3, 1])).toMatchObject({ meanLx: 1.5, minOverMean: 1 / 1.5, minOverMax: 1 / 3 });
    expect(evennessOf([0, 2, 4, 4])).toMatchObject({
      minOverMean: 0,
      minOverMax: 0,
      rangeStops: null,
      unlitShare: 0.25,
    });
    expect(evennessOf([0, 0])).toMatchObject({ minOverMean: null, rangeStops: null, unlitShare: 1 });
    expect(evennessOf([5])).toMatchObject({ minOverMean: null, minOverMax: null, rangeStops: null, meanLx: 5 });
    expect(evennessOf([]).reason).toContain('fewer than two');
  });
});

describe('rows', () => {
  const scene = wallScene(4, 3, [0], 5);
  test('fan over the area: by hand, two opposite corners from 5 m', () => {
    // |corner - corner'| = 5 across, each sqrt(2² + 1.5² + 5²) away.
    const expected = 2 * Math.asin(2.5 / Math.hypot(2, 1.5, 5)) * (180 / Math.PI);
    expect(distanceRow(throwOf(scene, 'one', 'l0', 'wall'), 5).fanDeg).toBeCloseTo(expected, 8);
  });
  test('a lamp goes along its axis, a group square to the surface', () => {
    const [lamp] = Object.values(scene.setups[0]!.sources);
    const slanted = { ...lamp!, pose: { positionM: [3, -4, 1.5], aim: { atM: [0, 0, 1.5] } } } as Lamp;
    const turned: SceneDocument = { ...scene, setups: [{ ...scene.setups[0]!, sources: { l0: slanted } }] };
    const given = throwOf(turned, 'one', 'l0', 'wall');
    expect(given.rig.distanceM).toBeCloseTo(5, 12);
    expect(distanceRow(given, 10).lampPosition).toEqual(
      [6, -8, 1.5].map((value) => expect.closeTo(value, 9) as number),
    );
    const two = wallScene(4, 3, [-1, 1], 3);
    const group = throwOf(two, 'one', 'both', 'wall');
    expect(distanceRow(group, 6).lampPositions).toEqual({
      l0: [-1, expect.closeTo(-6, 9), 1.5],
      l1: [1, expect.closeTo(-6, 9), 1.5],
    });
  });
  test('refuses a lamp behind the wall, one aimed away, an unknown one, and one too near', () => {
    const withPose = (pose: Lamp['pose']): SceneDocument => {
      const [lamp] = Object.values(scene.setups[0]!.sources);
      return { ...scene, setups: [{ ...scene.setups[0]!, sources: { l0: { ...lamp!, pose } } }] };
    };
    const behind = withPose({ positionM: [0, 2, 1], aim: { panDeg: 180, tiltDeg: 0 } });
    expect(() => throwOf(behind, 'one', 'l0', 'wall')).toThrow(/stands behind/);
    const away = withPose({ positionM: [0, -2, 1], aim: { panDeg: 180, tiltDeg: 0 } });
    expect(() => throwOf(away, 'one', 'l0', 'wall')).toThrow(/aimed away/);
    expect(() => throwOf(scene, 'one', 'l9', 'wall')).toThrow(RangeError);
    expect(() => throwOf(scene, 'one', 'l0', 'roof')).toThrow(RangeError);
    expect(() => distanceRow(throwOf(scene, 'one', 'l0', 'wall'), 0.1)).toThrow(/nearer than 0.2 m/);
  });
});
