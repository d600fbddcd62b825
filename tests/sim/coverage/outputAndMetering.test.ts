/** Output class and metering grid: hand cases. Tolerances are of rounding. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { loadScene } from '../../../src/scene/load';
import { compareReadings, type MeteringPoint } from '../../../src/sim/coverage/meteringGrid';
import { kitClasses, outputNeed } from '../../../src/sim/coverage/outputClass';

const loaded = loadScene(readFileSync('scenes-demo/harbour-backdrop.json', 'utf8'), 'demo');
if (!loaded.ok) throw new Error('the demo does not load');

describe('output class: present cd x target / level, up to the kit by its pessimistic end', () => {
  const mat = Object.values(loaded.document.kit ?? {}).find(({ kind }) => kind === 'lamp')!.lamp!;
  const point = (candela: number, basis: 'typical' | 'file' | 'metered') => ({
    name: `${candela} ${basis}`,
    kind: 'lamp' as const,
    count: 1,
    lamp: {
      ...mat,
      emitter: { shape: 'point' as const },
      distribution: { kind: 'uniform' as const },
      output: { kind: 'candela' as const, candela },
      basis,
    },
  });
  const classes = kitClasses({
    ...loaded.document,
    kit: { c: point(20000, 'typical'), a: point(6000, 'file'), b: point(8000, 'typical'), d: point(10000, 'metered') },
  });
  test('weakest sure end first', () => {
    expect(classes.map(({ kitId, sureCandela }) => [kitId, sureCandela])).toEqual([
      ['b', 4000],
      ['a', 5400],
      ['d', 8500],
      ['c', 10000],
    ]);
  });
  test.each([
    [3000, 100, 133, 'b', 3990],
    [3000, 100, 134, 'a', 4020],
    [3000, 100, 300, 'c', 9000],
    [3000, 100, 334, null, 10020],
  ] as const)('%d cd, %d lx now, %d lx wanted: %s', (present, level, target, kitId, needed) => {
    const need = outputNeed(classes, present, level, target);
    expect(need?.kitId).toBe(kitId);
    expect(need?.neededCandela).toBeCloseTo(needed, 9);
    expect(need?.stopsFromPresent).toBeCloseTo(Math.log2(target / level), 12);
  });
  test('nothing to hold or no light: null', () => {
    expect(outputNeed(classes, 3000, 0, 100)).toBeNull();
    expect(outputNeed(classes, 3000, 100, 0)).toBeNull();
  });
  test('the demo’s mat is its luminance times its area', () => {
    expect(kitClasses(loaded.document)[0]?.sureCandela).toBeCloseTo(8640 / 2, 9);
  });
});

describe('readings against the plan', () => {
  const points: MeteringPoint[] = [100, 200, 400, 0].map((expectedLx, i) => ({
    label: `A${i + 1}`,
    row: 0,
    column: i,
    atM: [i, 0],
    expectedLx,
  }));
  test('bias and spread: by hand, offs of 1, 0 and 1/2 stop', () => {
    const found = compareReadings(points, { A1: 200, A2: 200, A3: 400 * Math.SQRT2, A4: 5 })!;
    expect(found.count).toBe(3);
    expect(found.biasStops).toBeCloseTo(0.5, 12);
    expect(found.spreadStops).toBeCloseTo(0.5, 12);
    expect(found.outputFactor).toBeCloseTo(Math.SQRT2, 12);
    expect(found.worst).toEqual({ label: 'A1', offStops: expect.closeTo(0.5, 12) as number });
    expect(found.expectedRangeStops).toBeCloseTo(2, 12);
    expect(found.measuredRangeStops).toBeCloseTo(1.5, 12);
  });
  test('an even loss is all bias', () => {
    const found = compareReadings(points, { A1: 70, A2: 140, A3: 280 })!;
    expect(found.biasStops).toBeCloseTo(Math.log2(0.7), 12);
    expect(found.spreadStops).toBeCloseTo(0, 12);
    expect(found.measuredRangeStops).toBeCloseTo(found.expectedRangeStops!, 12);
  });
  test('one reading has no spread; none, and readings of nothing, compare with nothing', () => {
    expect(compareReadings(points, { A2: 100 })).toMatchObject({ count: 1, biasStops: -1, spreadStops: null });
    expect(compareReadings(points, {})).toBeNull();
    expect(compareReadings(points, { A1: 0, A4: 10 })).toBeNull();
  });
});
