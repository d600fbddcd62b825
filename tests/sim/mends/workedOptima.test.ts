/**
 * The worked optima of scene M (J12) and scene N (J9e): exhaustive scans by an independent sampler, redone by an
 * independent integrator (tests/reference/judgement-values.json). The same scans here, with the mends' own figures.
 */
import { describe, expect, test } from 'vitest';
import type { Lamp } from '../../../src/scene/schema';
import { addScaled, distance, normalise, subtract, type Vec3 } from '../../../src/scene/geometry/vector';
import { DEFAULT_LIMITS, scoreAgainst, scoreEdge } from '../../../src/sim/judgement/limits';
import { SUN_WIDTH_PER_M } from '../../../src/sim/judgement/shadowEdges';
import { distanceForFalloff, evaluateAlong } from '../../../src/sim/mends/backOff';
import { evaluateSetup } from '../../../src/sim/mends/evaluateSetup';
import { rateAim } from '../../../src/sim/mends/feather';
import { findMends } from '../../../src/sim/mends/findMends';
import { halfScrimSheets } from '../../../src/sim/mends/halfScrim';
import { aimedAt, meanRay, movedTo, swungAbout } from '../../../src/sim/mends/placing';
import { spaced } from '../../../src/sim/mends/search';
import { SheetRater, type HalfPlane, type SheetColumns, type SheetsRank } from '../../../src/sim/mends/sheets';
import { judgeLamp, withLamp } from '../../../src/sim/mends/situation';
import { disc, netsOfN, sceneM, sceneN } from '../../validation/judgementScenes';
import { lamp, SETUP } from '../../validation/scenes';
import { LAMP_ID, netEntry, playing, situation, worked } from './scenes';

const C: Vec3 = [0, 1.2, 1.5];
const LENS_M: Vec3 = [1.4, -3.6, 2.6];
const [M, N] = [playing(sceneM()), playing(sceneN())];

describe('back off, J12a', () => {
  const [expectedM, expectedStops] = worked('J12a').expected as [number, number];

  test('60 lx bind before the space, 1 %', () => {
    const [mend] = findMends(M, SETUP, { kinds: ['backOff'], leastMeanLx: 60 });
    const moved = mend!.setup!.sources[LAMP_ID] as Lamp;
    const r = distance(moved.pose.positionM, C);
    expect(Math.abs(r / expectedM - 1)).toBeLessThan(0.01);
    expect(Math.abs(mend!.falloffStops! / expectedStops - 1)).toBeLessThan(0.01);
    expect(mend!.why).toContain('Level binds at 11.8 m');
    expect(mend!.sentence).toContain('Back off to 11.8 m');
    expect(mend!.sentence).toContain('2/3 stop needs 14.5 m');
  });
  test('without the level: 2/3 stop at 14.457 m, 1/3 at 28.888 m, 1 %', () => {
    const rig = situation(M);
    const evaluate = evaluateAlong(rig, meanRay(rig));
    for (const [stops, away, cost] of [
      [2 / 3, 14.457, 3.11],
      [1 / 3, 28.888, 5.12],
    ] as const) {
      expect(Math.abs(distanceForFalloff(evaluate, stops, 5.1)! / away - 1)).toBeLessThan(0.01);
      expect(evaluate(away)!.costStops).toBeCloseTo(cost, 2);
    }
  });
  test('a space of 14 m binds instead where the level would do', () => {
    const away = 14 * Math.cos(Math.asin((LENS_M[2] - C[2]) / distance(LENS_M, C)));
    const out = normalise([LENS_M[0], LENS_M[1] - C[1], 0]);
    const side: Vec3 = [-out[1], out[0], 0];
    const corner = (along: number, across: number): [number, number] => {
      const [x, y] = addScaled(addScaled(C, out, along), side, across);
      return [x, y];
    };
    const outsideM = [[corner(1, -1), corner(away, -1), corner(away, 1), corner(1, 1)]];
    const document = playing(sceneM(), { story: { lampSpace: { outsideM } } });
    const [mend] = findMends(document, SETUP, { kinds: ['backOff'], leastMeanLx: 10 });
    // 14 m: 0.6885 stop (integrator 0.68851).
    expect(mend!.falloffStops!).toBeCloseTo(0.6885, 2);
    expect(mend!.why).toBe('The space ends 14.0 m from the patch: 2/3 stop needs 14.5 m.');
  });
});

describe('swing, J12b', () => {
  const { expected, off } = worked('J12b');

  test('15 degrees are the bound, and bind', () => {
    const [mend] = findMends(M, SETUP, { kinds: ['swing'] });
    const { positionM } = (mend!.setup!.sources[LAMP_ID] as Lamp).pose;
    [2.5946, -3.0741, 2.6].forEach((value, axis) => expect(positionM[axis]).toBeCloseTo(value, 3));
    expect(Math.abs(mend!.falloffStops! - expected[1]!)).toBeLessThan(off[0]!);
    expect(mend!.sentence).toContain(`Swing ${expected[0]}°`);
    expect(mend!.why).toContain('15° off is what the story lets pass');
  });
  test('with the story left free fall-off alone is least at 74 degrees, 0.2256 stop', () => {
    const rig = situation(M);
    const at = (turn: number) => withLamp(rig.setup, LAMP_ID, swungAbout(rig.lamp, C, -turn));
    const turns = spaced(60, 90, 16);
    const stops = turns.map((turn) => evaluateSetup(rig, at(turn))!.falloffStops);
    expect(turns[stops.indexOf(Math.min(...stops))]).toBe(74);
    expect(judgeLamp(M, at(74), LAMP_ID, 'full')[0]!.falloffStops!).toBeCloseTo(0.2256, 2);
  });
});

test('feather, J12c: of 61 aims along the wall 3.8 m is best', () => {
  const { expected, off } = worked('J12c');
  const spot = lamp(
    { positionM: [...LENS_M] as [number, number, number], aim: { atM: [0, 1.2, 1.5] } },
    { shape: 'point' },
    { kind: 'cosinePower', exponent: 45 },
    { kind: 'candela', candela: 60_000 },
  );
  const document = playing({ ...sceneM(), source: spot });
  const rig = situation(document, { leastMeanLx: 0 });
  const aims = spaced(0, 6, 61).map((y) => ({ y, rank: rateAim(rig, [0, y, 1.5])! }));
  const best = aims.reduce((a, b) => (b.rank.falloffStops < a.rank.falloffStops ? b : a));
  const atWorked = rateAim(rig, [0, expected[0]!, 1.5])!;
  [best.y, best.rank.falloffStops, atWorked.meanLx].forEach((value, i) =>
    expect(Math.abs(value - expected[i]!)).toBeLessThanOrEqual(off[i]! + 1e-9),
  );
  expect(Math.abs(atWorked.falloffStops - expected[1]!)).toBeLessThanOrEqual(off[1]!);
  // Both free: no worse than along the wall alone, and the judgement agrees.
  const [mend] = findMends(document, SETUP, { kinds: ['feather'], leastMeanLx: 100 });
  expect(mend!.possible).toBe(true);
  expect(mend!.falloffStops!).toBeLessThan(expected[1]! + 0.01);
  expect(mend!.sentence).toMatch(/^Feather: aim \d\.\d m right of/);
});

test('half scrim, J12d: a half double at 195 degrees', () => {
  const { expected, off } = worked('J12d');
  const rig = situation(M, { leastMeanLx: 0 });
  const rater = new SheetRater(rig, false);
  const rate = (clock: number, stops: number) => rater.rate(halfScrimSheets(rig.lamp, [stops], clock, 0.12))!;
  const best = spaced(0, 345, 24)
    .flatMap((clock) => [0.5, 1].map((stops) => ({ clock, stops, ...rate(clock, stops) })))
    .reduce((a, b) => (b.falloffStops < a.falloffStops ? b : a));
  [best.clock, best.stops, best.falloffStops, best.stepStops].forEach((value, i) =>
    expect(Math.abs(value - expected[i]!)).toBeLessThanOrEqual(off[i]!),
  );
  expect(rate(195, 0.5).falloffStops).toBeCloseTo(1.7195, 2);
  expect(best.meanLx).toBeCloseTo(247.6, -0.5);
});

const GRADES = [0.5, 1];
/** Plain half planes across y that cover the smaller x, free edge where its shadow from the lens falls at `wallY`. */
function netAcross(lens: Vec3, d: number, wallY: number, stops: number): HalfPlane {
  const x = lens[0] - (lens[0] * d) / (wallY - lens[1]);
  return { edge: [x, lens[1] + d, lens[2]], along: [0, 0, 1], cover: [-1, 0, 0], stops, weave: null };
}

/** Best of every pair of nets (and of single nets) at the distances and edges. */
function scanNets(rater: SheetRater, lens: Vec3, distances: readonly number[], edges: readonly number[]) {
  let [pair, single]: [SheetsRank | null, SheetsRank | null] = [null, null];
  for (const d of distances) {
    const columns = [d, d + 0.05].map((at) =>
      edges.map((y) => GRADES.map((stops): SheetColumns => rater.columns(netAcross(lens, at, y, stops)))),
    );
    for (const one of columns[0]!.flat()) {
      single = better(single, rater.rateColumns([one], (single as SheetsRank | null)?.score));
      for (const other of columns[1]!.flat()) {
        pair = better(pair, rater.rateColumns([one, other], (pair as SheetsRank | null)?.score));
      }
    }
  }
  return { pair: pair!, single: single! };
}
const better = (a: SheetsRank | null, b: SheetsRank | null): SheetsRank | null =>
  a === null || (b !== null && b.score < a.score) ? b : a;

describe('nets on scene M, J12e to J12g', () => {
  const distances = [0.3, 0.6, 0.9, 1.2];
  const edges = spaced(0, 2.4, 13);
  const rated = (leastMeanLx: number, sheets: HalfPlane[]) =>
    new SheetRater(situation(M, { leastMeanLx }), false).rate(sheets)!;

  test.each([
    ['J12e', 140, 1.07],
    ['J12f', 180, 1.24],
  ] as const)('%s: two nets, at least %d lx', (id, leastMeanLx, mostScore) => {
    const { expected, off } = worked(id);
    const [d, y1, y2, ...figures] = expected as [number, number, number, ...number[]];
    const rank = rated(leastMeanLx, [netAcross(LENS_M, d, y1, 1), netAcross(LENS_M, d + 0.05, y2, 1)]);
    [rank.falloffStops, rank.stepStops, rank.meanLx].forEach((value, i) =>
      expect(Math.abs(value - figures[i]!)).toBeLessThanOrEqual(off[i + 3]!),
    );
    const rater = new SheetRater(situation(M, { leastMeanLx }), false);
    const { pair } = scanNets(rater, LENS_M, distances, edges);
    expect(pair.score).toBeLessThanOrEqual(mostScore);
    expect(pair.score).toBeGreaterThan(mostScore - 0.06);
  });

  test('J12g: one double takes off its grade, never more', () => {
    const { expected, off } = worked('J12g');
    const [d, y, ...figures] = expected as [number, number, ...number[]];
    const rank = rated(0, [netAcross(LENS_M, d, y, 1)]);
    [rank.falloffStops, rank.stepStops, rank.meanLx].forEach((value, i) =>
      expect(Math.abs(value - figures[i]!)).toBeLessThanOrEqual(off[i + 2]!),
    );
    const bare = worked('J12').expected[0]!;
    for (const at of distances) {
      for (const edge of edges) {
        expect(rated(0, [netAcross(LENS_M, at, edge, 1)]).falloffStops).toBeGreaterThan(bare - 1 - 0.01);
      }
    }
  });

  test('the optimiser finds a score of at most 1.07 with two nets of the kit', () => {
    const document = playing(sceneM(), { kit: { singles: netEntry(0.5, 2), doubles: netEntry(1, 2) } });
    const mends = findMends(document, SETUP, { kinds: ['staggeredNets'], leastMeanLx: 140 });
    const two = mends.find(({ id }) => id === 'staggeredNets-2-lamp')!;
    const score = Math.max(
      scoreAgainst(two.falloffStops!, DEFAULT_LIMITS.fallOff),
      scoreAgainst(two.stepStopsPer10cm!, DEFAULT_LIMITS.step),
    );
    expect(score).toBeLessThanOrEqual(1.07);
    expect(two.sentence).toContain('Two doubles in from the left end');
    expect(Object.values(two.setup!.modifiers).map(({ name, kitId }) => [name, kitId])).toEqual([
      ['Net A1', 'doubles'],
      ['Net A2', 'doubles'],
    ]);
  });
});

describe('narrower spot, J12i', () => {
  const { expected, off } = worked('J12i');
  const cosinePower = (halfDeg: number) => Math.log(0.5) / Math.log(Math.cos((halfDeg * Math.PI) / 180));
  const LAMPS = [
    { candela: 30_000, halfDeg: 20, lensM: 0.06 },
    { candela: 120_000, halfDeg: 9, lensM: 0.15 },
    { candela: 400_000, halfDeg: 4, lensM: 0.25 },
  ];
  const place = (r: number): Vec3 => addScaled(C, normalise(subtract(LENS_M, C)), r);
  const edgeRatio = (lensM: number, r: number) => lensM / ((r - 2) * SUN_WIDTH_PER_M);

  test('of 123 rows the narrowest at 14 m is best', () => {
    const rig = situation(M);
    const rows = LAMPS.flatMap(({ candela, halfDeg, lensM }, index) =>
      spaced(4, 14, 41).flatMap((r) => {
        const spot = lamp(
          rig.lamp.pose,
          { shape: 'point' },
          { kind: 'cosinePower', exponent: cosinePower(halfDeg) },
          { kind: 'candela', candela },
        );
        const setup = withLamp(rig.setup, LAMP_ID, aimedAt(movedTo(spot, place(r)), C));
        const { falloffStops, meanLx } = evaluateSetup(rig, setup)!;
        const fallOff = scoreAgainst(falloffStops, DEFAULT_LIMITS.fallOff);
        return meanLx < 300
          ? []
          : [{ index, r, setup, meanLx, score: Math.max(fallOff, scoreEdge(edgeRatio(lensM, r))) }];
      }),
    );
    const best = rows.reduce((a, b) => (b.score < a.score ? b : a));
    const [check] = judgeLamp(M, best.setup, LAMP_ID, 'full');
    expect(best.index).toBe(2);
    const figures = [best.r, check!.falloffStops!, edgeRatio(LAMPS[2]!.lensM, best.r), best.meanLx];
    figures.forEach((value, i) => expect(Math.abs(value - expected[i]!)).toBeLessThanOrEqual(off[i]!));
  });

  test('the search takes the same lamp, and with the aim free too scores no worse', () => {
    const kit = Object.fromEntries(
      LAMPS.map(({ candela, halfDeg, lensM }, i) => [
        `spot-${'abc'[i]!}`,
        {
          name: `Spot ${'ABC'[i]!}`,
          kind: 'lamp' as const,
          count: 1,
          lamp: {
            emitter: { shape: 'disc' as const, diameterM: lensM },
            // So narrow, cos^n and a bell of the same half-intensity angle are the same beam.
            distribution: { kind: 'beam' as const, beamAngleDeg: 2 * halfDeg },
            output: { kind: 'candela' as const, candela },
          },
        },
      ]),
    );
    const far = place(14);
    const outsideM: [number, number][][] = [
      [
        [0.2, far[1]],
        [20, far[1]],
        [20, 6],
        [0.2, 6],
      ],
    ];
    // A thin bar two metres before the patch's middle throws the edge that the lens is judged by.
    const [x, y, z] = place(2);
    const bar = {
      name: 'Bar',
      pose: { positionM: [x, y, z] as [number, number, number], aim: { panDeg: 0, tiltDeg: 0 } },
      shape: { kind: 'rectangle' as const, widthM: 0.004, heightM: 2 },
      material: { kind: 'opaque' as const },
      role: 'set' as const,
    };
    const document = playing(sceneM({ bar }), { kit, story: { lampSpace: { outsideM } } });
    const [mend] = findMends(document, SETUP, { kinds: ['narrowerSpot'], leastMeanLx: 300 });
    const spot = mend!.setup!.sources[LAMP_ID] as Lamp;
    expect(spot.kitId).toBe('spot-c');
    expect(distance(spot.pose.positionM, C)).toBeLessThan(14.01);
    const score = Math.max(scoreAgainst(mend!.falloffStops!, DEFAULT_LIMITS.fallOff), scoreEdge(mend!.edgeRatio!));
    expect(score).toBeLessThanOrEqual(2.256 + 0.01);
  });
});

describe('scene N: two singles, J9e', () => {
  const lens: Vec3 = [3, -5.5, 3.2];

  test('at the worked places the quick figures and the judgement agree with 0.242', () => {
    const rig = situation(N, { leastMeanLx: 0 });
    const sheets = Object.values(netsOfN()).map(({ pose, shape }): HalfPlane => {
      const half = shape.kind === 'rectangle' ? shape.widthM / 2 : 0;
      const edge: Vec3 = [pose.positionM[0] + half, pose.positionM[1], 0];
      return { edge, along: [0, 0, 1], cover: [-1, 0, 0], stops: 0.5, weave: null };
    });
    const { expected, off } = worked('J9e');
    const rank = new SheetRater(rig, false).rate(sheets)!;
    expect(Math.abs(rank.falloffStops - expected[0]!)).toBeLessThanOrEqual(off[0]!);
    expect(rank.costStops).toBeCloseTo(0.55, 1);
  });
  test('the scan of distances, edges and grades comes to the worked score of 0.71, or a little below', () => {
    const rater = new SheetRater(situation(N, { leastMeanLx: 0 }), false);
    const { pair } = scanNets(rater, lens, [1.5, 2.5, 3.5], spaced(0.4, 2.8, 17));
    expect(pair.score).toBeLessThanOrEqual(0.73);
    expect(pair.score).toBeGreaterThan(0.6);
  });
  test('the search leaves a quarter of a stop with no line, and the fan as it is', () => {
    const kit = { singles: netEntry(0.5, 2), doubles: netEntry(1, 1) };
    const mends = findMends(playing(sceneN(), { kit }), SETUP, { kinds: ['staggeredNets'] });
    expect(mends[0]!.falloffStops!).toBeLessThan(0.25);
    expect(mends[0]!.stepStopsPer10cm!).toBeLessThan(0.1);
    expect(Math.abs(mends[0]!.lineFanDeg! - 9.7)).toBeLessThan(0.2);
  });
});

test('a lamp whose place is drawn outside its space backs off nowhere', () => {
  const outsideM: [number, number][][] = [
    [
      [3, 3],
      [4, 3],
      [4, 4],
    ],
  ];
  const document = playing(
    { ...sceneM(), source: disc([1.4, -3.6, 2.6], [0, 1.2, 1.5], 0.06, 30_000) },
    { story: { lampSpace: { outsideM } } },
  );
  const [mend] = findMends(document, SETUP, { kinds: ['backOff'] });
  expect([mend!.possible, mend!.setup]).toEqual([false, null]);
  expect(mend!.why).toContain('outside the space');
});
