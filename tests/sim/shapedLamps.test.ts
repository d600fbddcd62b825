/** Strips, lit sectors and gate patterns: what the document refuses, limits that need no outside value, light off a mirror. */
import { describe, expect, test } from 'vitest';
import { sourceProblems } from '../../src/scene/invariants';
import type { Distribution, Emitter, Lamp } from '../../src/scene/schema';
import { lampSchema } from '../../src/scene/schemaSources';
import { compilePattern } from '../../src/sim/photometry/gatePattern';
import { gateShare } from '../../src/sim/solve/profile';
import type { Profile } from '../../src/sim/solve/compiled';
import { bruteIlluminance } from '../brute/bruteIlluminance';
import { facing, glowing, lamp, meterOf, reading, sceneOf, SETUP, sheetAcrossX } from '../validation/scenes';

type Projection = Extract<Distribution, { kind: 'projection' }>;
type Pattern = NonNullable<Projection['pattern']>;
const gate = (pattern: Pattern): Projection => ({ kind: 'projection', fieldAngleDeg: 30, edgeWidthDeg: 1, pattern });
const spot = (pattern: Pattern): Lamp =>
  lamp(facing([0, 0, 2], 90, 0), { shape: 'disc', diameterM: 0.1 }, gate(pattern), { kind: 'candela', candela: 9000 });
const problems = (one: Lamp): string[] => sourceProblems(one, []).map(({ path }) => path.join('.'));

describe('the document', () => {
  test('an old pattern of a seed and holes alone still holds', () => {
    const old = spot({ seed: 4, holes: 12 });
    expect(lampSchema.parse(old)).toEqual(old);
    expect(problems(old)).toEqual([]);
  });

  test('holes that are not convex or meet are refused', () => {
    const square = (x: number): [number, number][] => [
      [x, 0],
      [x + 0.4, 0],
      [x + 0.4, 0.4],
      [x, 0.4],
    ];
    const arrow: [number, number][] = [
      [0, 0],
      [0.4, 0],
      [0.1, 0.1],
      [0, 0.4],
    ];
    expect(problems(spot({ kind: 'shapes', outlines: [square(0), square(0.5)] }))).toEqual([]);
    expect(problems(spot({ kind: 'shapes', outlines: [square(0), square(0.3)] }))).toEqual([
      'distribution.pattern.outlines.1',
    ]);
    expect(problems(spot({ kind: 'shapes', outlines: [arrow] }))).toEqual(['distribution.pattern.outlines.0']);
  });

  test('a strip has one level a cell, or none', () => {
    const strip = (levels?: number[]): Lamp =>
      glowing(
        facing([0, 0, 2], 90, 0),
        { shape: 'rectangle', widthM: 1, heightM: 0.1, cells: { count: 3, ...(levels && { levels }) } },
        1000,
      );
    expect(problems(strip())).toEqual([]);
    expect(problems(strip([1, 0, 1]))).toEqual([]);
    expect(problems(strip([1, 0]))).toEqual(['emitter.cells.levels']);
  });
});

describe('patterns never pass more light than there is', () => {
  const patterns: Pattern[] = [
    { seed: 7, holes: 60, edgeWidthDeg: 20 },
    { seed: 8, holes: 200 },
    { kind: 'panes', columns: 5, rows: 4, barShare: 0.01, edgeWidthDeg: 10 },
    { kind: 'slats', slats: 20, openShare: 0.95, edgeWidthDeg: 10, turnDeg: 33 },
  ];
  test.each(patterns.map((pattern) => [pattern]))('%o', (pattern) => {
    const compiled = compilePattern(pattern, 30);
    const half = Math.tan(0.55 * compiled.edgeWidthRad);
    // By plain counting: how many holes, every side moved out by the soft band, hold a place of the picture.
    for (let i = 0; i < 20_000; i++) {
      const x = 0.6 * (((i * 0.754877666) % 1) - 0.5);
      const y = 0.6 * (((i * 0.569840291) % 1) - 0.5);
      const holding = compiled.holes.filter(({ sides }) =>
        sides.every(({ right, up, offset }) => x * right + y * up - offset <= half),
      );
      expect(holding.length).toBeLessThanOrEqual(1);
    }
  });

  test('the share is 1 well inside a hole, 0 between holes, a half on an edge', () => {
    const pattern = compilePattern({ kind: 'slats', slats: 2, openShare: 0.5, edgeWidthDeg: 0.5 }, 30);
    const profile: Profile = {
      kind: 'projection',
      halfFieldRad: Math.PI / 12,
      edgeWidthRad: 0.01,
      peaking: 0,
      perFocusM: 0,
      cuts: [],
      pattern,
    };
    const radius = Math.tan(Math.PI / 12);
    expect(gateShare(profile, 0, 0.5 * radius)).toBe(1);
    expect(gateShare(profile, 0, 0)).toBe(0);
    expect(gateShare(profile, 0, 0.25 * radius)).toBeCloseTo(0.5, 12);
  });
});

describe('limits', () => {
  const tube = (litSectorDeg?: number): Emitter => ({
    shape: 'tube',
    lengthM: 1.2,
    diameterM: 0.04,
    ...(litSectorDeg === undefined ? {} : { litSectorDeg }),
  });
  const at = { at: [0.7, 0.3, 1.4], normal: [-1, 0, 0] } as const;
  test('a tube lit all round is a tube', () => {
    const of = (emitter: Emitter): number => reading(glowing(facing([0, 0, 2], 90, 0), emitter, 3000), at);
    expect(of(tube(360))).toBe(of(tube()));
    // Two halves, each with straight ends of its own where the whole has half ellipses.
    expect(of(tube(359.999)) / of(tube())).toBeCloseTo(1, 3);
    expect(of(tube(90))).toBeLessThan(0.8 * of(tube()));
    const ahead = (emitter: Emitter): number =>
      reading(glowing(facing([0, 0, 1.4], 90, 0), emitter, 3000), at) /
      reading(glowing(facing([0, 0, 1.4], 90, 0), tube(), 3000), at);
    expect(ahead(tube(181))).toBeCloseTo(1, 3);
    expect(ahead(tube(170))).toBeLessThan(0.9999);
  });

  test('cells side by side at full are the panel', () => {
    const panel = { shape: 'rectangle', widthM: 1, heightM: 0.2 } as const;
    const of = (emitter: Emitter): number => reading(glowing(facing([0, 0, 2], 90, 0), emitter, 3000), at);
    expect(of({ ...panel, cells: { count: 7 } })).toBe(of(panel));
    expect(of({ ...panel, cells: { count: 2, levels: [0.5, 0.5] } }) / of(panel)).toBeCloseTo(0.5, 6);
  });
});

test('a tube lit away from the wall lights it by a mirror alone, as brute force has it', () => {
  const source: Lamp = glowing(
    facing([1, 0, 2], 70, 10),
    { shape: 'tube', lengthM: 0.8, diameterM: 0.06, litSectorDeg: 100 },
    40_000,
  );
  const mirror = {
    ...sheetAcrossX([2, 0.2, 2], 2, 2, { kind: 'mirror', reflectance: 0.9 } as const),
    pose: facing([2, 0.2, 2], 265, 4),
  };
  const parts = { sources: { source }, modifiers: { mirror } };
  const document = sceneOf(parts);
  const meter = meterOf(parts);
  for (const [y, z] of [
    [0, 2],
    [0.8, 1.5],
    [-0.6, 2.4],
  ] as const) {
    const brute = bruteIlluminance(document, SETUP, { pointM: [0, y, z], normal: [1, 0, 0] }, 65_536, 3).get('source')!;
    expect(brute).toBeGreaterThan(10);
    expect(meter({ at: [0, y, z], normal: [1, 0, 0] }) / brute).toBeCloseTo(1, 2);
  }
});
