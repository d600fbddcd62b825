/**
 * Slatted blinds: hand cases in which every slat is looked for, limits, and random blinds against brute force, whose slats
 * (tests/brute/sheets.ts) share no code with the app's. More hand cases stand in tests/validation/blindRows.ts.
 */
import { describe, expect, test } from 'vitest';
import { blindSlats, slatCount, type Blind } from '../../src/scene/geometry/blindSlats';
import type { Source } from '../../src/scene/schema';
import { shadowEdges, type EdgeSample } from '../../src/sim/judgement/shadowEdges';
import { lineFan } from '../../src/sim/judgement/lineFan';
import { findPatch, type Patch } from '../../src/sim/judgement/patch';
import { compileScene } from '../../src/sim/solve/compileScene';
import { solveGrid } from '../../src/sim/solve/solveGrid';
import { blindScene, LEAST_SHADED } from '../brute/blindScene';
import { sharpSun, shareBehind, windowWall } from '../validation/blindRows';
import { judgedScene, wallX0, WALL_ID } from '../validation/judgementScenes';
import { settledAgreement } from '../validation/kernelAgainstBrute';
import { crossing, facing, glowing, pointLamp, SETUP, sunTowardsX } from '../validation/scenes';

const RADIAN = Math.PI / 180;
/** The window's slats are 0.1 m behind x = 2; its sill is 1 m, its head 2 m high, its lit wall is x = 0. */
const DEPTH_M = 0.1;
const SLATS_X_M = 2 + DEPTH_M;
const blindOf = (pitchM: number, slatWidthM: number, tiltDeg: number): Blind => ({
  pitchM,
  slatWidthM,
  tiltDeg,
  depthM: DEPTH_M,
});
const panel = (at: [number, number, number], sizeM: number): Source =>
  glowing({ positionM: at, aim: { atM: [0, 0, 1] } }, { shape: 'rectangle', widthM: sizeM, heightM: sizeM }, 5000);
const heights = (from: number, to: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => from + ((to - from) * (i + 0.5)) / count);

describe('slats', () => {
  test('hang half a pitch under the head and a pitch apart; the last lies on the sill', () => {
    const middles = blindSlats({ sillM: 1, headM: 2 }, blindOf(0.3, 0.05, 0)).map(({ roomEdge }) => roomEdge.upM);
    expect(middles).toHaveLength(4);
    [1.85, 1.55, 1.25, 1].forEach((up, i) => expect(middles[i]).toBeCloseTo(up, 12));
  });
  test('a whole number of pitches takes no slat more', () => {
    expect(slatCount(0.1, 0.3)).toBe(3);
    expect(slatCount(0.1, 0.3001)).toBe(4);
    expect(slatCount(2, 0.3)).toBe(1);
  });
  test('a tilt lifts the outer edge: 30 degrees rise half the width', () => {
    const [slat] = blindSlats({ sillM: 0, headM: 0.1 }, blindOf(0.1, 0.08, 30));
    expect(slat!.outerEdge.upM - slat!.roomEdge.upM).toBeCloseTo(0.04, 12);
    expect(slat!.outerEdge.depthM - slat!.roomEdge.depthM).toBeCloseTo(0.08 * Math.cos(30 * RADIAN), 12);
    expect((slat!.outerEdge.depthM + slat!.roomEdge.depthM) / 2).toBeCloseTo(DEPTH_M, 12);
  });
  test('without a depth the blind ends at the lit face where it lies level', () => {
    const [slat] = blindSlats({ sillM: 0, headM: 0.1 }, { pitchM: 0.1, slatWidthM: 0.08, tiltDeg: 0 });
    expect(slat!.roomEdge.depthM).toBeCloseTo(0, 12);
  });
});

describe('a point lamp behind level slats', () => {
  const lampZ = 2.6;
  const share = shareBehind(pointLamp([6, 0, lampZ], 1000), blindOf(0.1, 0.06, 0));
  test('leaves a place dark if its ray comes to a slat’s height over the slat, lit if beside all', () => {
    let [dark, lit] = [0, 0];
    for (const z of heights(0.3, 1.6, 260)) {
      // The ray from (0, z) climbs to the lamp at x = 6; slat k is level at 1.95 - k / 10, from x = 2.07 to 2.13.
      const met = Array.from({ length: 10 }, (_, k) => (6 * (1.95 - k / 10 - z)) / (lampZ - z));
      const hits = met.some((x) => x > SLATS_X_M - 0.03 && x < SLATS_X_M + 0.03);
      const throughWindow = [2, 2.3].every((x) => {
        const at = z + ((lampZ - z) * x) / 6;
        return at > 1 && at < 2;
      });
      if (!throughWindow) continue;
      expect(share(z)).toBeCloseTo(hits ? 0 : 1, 9);
      if (hits) dark++;
      else lit++;
    }
    // Slats 60 mm wide under 12 to 16 degrees of light, 100 mm apart: the lesser part is dark.
    expect(dark).toBeGreaterThan(20);
    expect(lit).toBeGreaterThan(2 * dark);
  });
  test('a lamp exactly in a slat’s plane sees it edge on: it throws nothing', () => {
    const level = shareBehind(pointLamp([6, 0, 1.55], 1000), blindOf(0.1, 0.06, 0));
    expect(level(1.55)).toBe(1);
    expect(level(1.55 + 1e-4)).toBe(1);
    // The slats over and under it do throw shadows.
    expect(Math.min(...heights(1.56, 1.8, 200).map(level))).toBe(0);
  });
});

test.each([
  [0, 10],
  [20, 45],
  [-30, 5],
  [50, -10],
])('slats tilted %d under a sun %d high leave the share 1 - w sin|a - t| / (p cos a) of a pitch', (tilt, altitude) => {
  const [pitch, width] = [0.08, 0.06];
  const share = shareBehind(sharpSun(altitude), blindOf(pitch, width, tilt));
  // Along the wall a pitch is a pitch: between the shadows of the fifth slat's middle and the sixth's.
  const fallM = SLATS_X_M * Math.tan(altitude * RADIAN);
  const [top, bottom] = [2 - 4.5 * pitch - fallM, 2 - 5.5 * pitch - fallM];
  const middle = (top + bottom) / 2;
  const brightM = crossing(share, 0.5, middle, top) - crossing(share, 0.5, bottom, middle);
  const expected = 1 - (width * Math.sin(Math.abs(altitude - tilt) * RADIAN)) / (pitch * Math.cos(altitude * RADIAN));
  expect(expected).toBeGreaterThan(0);
  expect(brightM / pitch).toBeCloseTo(expected, 6);
});

describe('limits', () => {
  test('slats of hardly any width change nothing', () => {
    const share = shareBehind(panel([5, 0.4, 2.3], 0.6), blindOf(0.1, 1e-7, 25));
    for (const z of heights(0.3, 1.7, 12)) expect(share(z)).toBeCloseTo(1, 5);
  });
  test('shut slats leave the room dark, whatever the lamp', () => {
    for (const source of [panel([4, 0.3, 2], 1.5), pointLamp([6, 0, 1.6], 1000)]) {
      const share = shareBehind(source, blindOf(0.07, 0.07, 90));
      for (const z of heights(0.8, 1.7, 20)) expect(share(z)).toBeLessThan(1e-12);
    }
  });
  test('the sun edge on to its slats loses only what half its breadth sees of them', () => {
    const share = shareBehind({ ...sunTowardsX(0.533), altitudeDeg: 25 }, blindOf(0.08, 0.06, 25));
    const fallM = SLATS_X_M * Math.tan(25 * RADIAN);
    const mean = heights(1.6 - fallM, 1.52 - fallM, 300).reduce((sum, z) => sum + share(z) / 300, 0);
    // Over one pitch; the mean of |sin| over a disc of radius r is 4 r / (3 pi).
    const lost = (0.06 * (4 * 0.2665 * RADIAN)) / (3 * Math.PI) / (0.08 * Math.cos(25 * RADIAN));
    expect(Math.abs((1 - mean) / lost - 1)).toBeLessThan(0.003);
  });
  test('upright slats shade alike whichever way they were turned', () => {
    const source = panel([5, 0.2, 2.2], 0.3);
    const share = shareBehind(source, blindOf(0.1, 0.04, 90));
    const mirrored = shareBehind(source, blindOf(0.1, 0.04, -90));
    const turned = shareBehind(source, blindOf(0.1, 0.04, 270));
    for (const z of heights(0.6, 1.7, 40)) {
      expect(mirrored(z)).toBeCloseTo(share(z), 9);
      expect(turned(z)).toBeCloseTo(share(z), 9);
    }
  });
  test('a blind that hangs in the room shades its own wall', () => {
    // A lamp 0.5 m before the window's head, slats 0.1 m before the wall: their shadow falls on it under the sill.
    const wall = { ...windowWall({ ...blindOf(0.1, 0.06, 0), depthM: -0.1 }) };
    const light = (surface: typeof wall): number => {
      const scene = compileScene(judgedScene({ source: pointLamp([1.5, 0, 2.2], 1000), wall: surface }), SETUP);
      const region = { leftM: 2.9, bottomM: 0.7, widthM: 0.2, heightM: 0.25 };
      return solveGrid(scene, { surfaceId: WALL_ID, columns: 4, rows: 50, region }).illuminanceLx.reduce(
        (a, b) => a + b,
      );
    };
    const bare = light(windowWall(null));
    expect(bare).toBeGreaterThan(0);
    expect(light(wall)).toBeLessThan(0.95 * bare);
    expect(light(windowWall(blindOf(0.1, 0.06, 0)))).toBe(bare);
  });
});

describe('as edges of the sun judgement', () => {
  const lampAt: [number, number, number] = [6, 0, 2.6];
  const source = glowing({ positionM: lampAt, aim: { atM: [0, 0, 1] } }, { shape: 'disc', diameterM: 0.04 }, 5000);
  const blind = blindOf(0.2, 0.06, -35);
  const scene = compileScene(
    judgedScene({ source, wall: wallX0(-1, 1, 0, 2), surfaces: { window: windowWall(blind) } }),
    SETUP,
  );
  const surface = scene.surfaces.get(WALL_ID)!;
  const patch = findPatch(scene, scene.sources[0]!, surface, 'full') as Patch;
  const edges = shadowEdges(scene, scene.sources[0]!, surface, patch);
  const ofSlats = edges.filter(({ edge }) => edge.label === 'one slats');

  test('both long edges of each slat that light falls between throw lines where similar triangles put them', () => {
    const heightsOf = new Map<EdgeSample['edge'], number>();
    for (const { edge, shadowM } of ofSlats) heightsOf.set(edge, shadowM[1]);
    expect(heightsOf.size).toBe(10);
    for (const [{ from }, up] of heightsOf) {
      const [x, , z] = from;
      expect(up).toBeCloseTo(lampAt[2] - ((lampAt[2] - z) * lampAt[0]) / (lampAt[0] - x), 6);
    }
  });
  test('their width is what the light itself takes from 10 to 90 %', () => {
    const share = shareBehind(source, blind);
    const middles = ofSlats.filter(({ shadowM }) => Math.abs(shadowM[0] - 1) < 0.1);
    expect(middles.length).toBeGreaterThan(8);
    for (const { shadowM, widthM, edge } of middles) {
      const z = shadowM[1];
      const [low, high] = [z - 0.02, z + 0.02];
      const measured = Math.abs(crossing(share, 0.9, low, high) - crossing(share, 0.1, low, high));
      expect(measured / widthM, edge.layerId).toBeGreaterThan(0.97);
      expect(measured / widthM, edge.layerId).toBeLessThan(1.03);
    }
  });
  test('on the wall opposite they never fan; on a side wall they run from the foot of the lamp', () => {
    expect(lineFan(scene.sources[0]!, surface, ofSlats)!.lineFanDeg).toBe(0);
    // The side wall y = 0.8 faces -y; a small lamp far back. Lines of edges at (x, z) all meet at the lamp's foot on it.
    const lamp: [number, number, number] = [6, -1.5, 2.2];
    const side = { ...wallX0(0, 1, 0, 2), pose: facing([0, 0.8, 0], 180, 0) };
    const sideScene = compileScene(
      judgedScene({
        source: glowing({ positionM: lamp, aim: { atM: [0, 0.8, 1.2] } }, { shape: 'disc', diameterM: 0.01 }, 5000),
        wall: { ...side, shape: { kind: 'rectangle', widthM: 1.9, heightM: 2 } },
        surfaces: { window: windowWall(blind) },
      }),
      SETUP,
    );
    const sideWall = sideScene.surfaces.get(WALL_ID)!;
    const onSide = findPatch(sideScene, sideScene.sources[0]!, sideWall, 'full') as Patch;
    const lines = shadowEdges(sideScene, sideScene.sources[0]!, sideWall, onSide).filter(
      ({ edge }) => edge.label === 'one slats',
    );
    const slopes = lines.map(({ edge: { from, to } }) => {
      const isLong = Math.abs(to[1] - from[1]) > 0.5;
      return isLong ? Math.atan2(lamp[2] - from[2], lamp[0] - from[0]) / RADIAN : NaN;
    });
    const long = slopes.filter((slope) => !Number.isNaN(slope));
    expect(new Set(long.map((slope) => slope.toFixed(6))).size).toBeGreaterThan(4);
    const fan = lineFan(sideScene.sources[0]!, sideWall, lines)!;
    expect(fan.lineFanDeg).toBeCloseTo(Math.max(...long) - Math.min(...long), 6);
  });
});

test.each([1, 4, 10])(
  'random blinds %d agree with brute force: at most 0.3 % of peak, mean 0.02 %',
  (seed) => {
    const scene = blindScene(seed);
    expect(scene.inPenumbra).toBeGreaterThanOrEqual(LEAST_SHADED);
    const agreement = settledAgreement(scene, seed, 0.003);
    expect(agreement.bySource.filter((one) => !(one.largest <= 0.003))).toEqual([]);
    expect(agreement.mean).toBeLessThanOrEqual(0.0002);
  },
  60_000,
);
