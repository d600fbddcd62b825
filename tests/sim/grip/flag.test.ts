/**
 * A flag on a spill: its edge against similar triangles, dark and light against the kernel, levels against the
 * inverse-square and cosine laws summed by hand.
 */
import { describe, expect, test } from 'vitest';
import { frameFromPose } from '../../../src/scene/geometry/frames';
import type { KitEntry, Lamp, Modifier, SceneDocument, Setup } from '../../../src/scene/schema';
import { gripFigures } from '../../../src/sim/grip/gripFigures';
import type { FlagRequest } from '../../../src/sim/grip/gripRequest';
import { planGrip } from '../../../src/sim/grip/planGrip';
import { compileScene } from '../../../src/sim/solve/compileScene';
import { readPoint } from '../../../src/sim/solve/solvePoint';
import { isotropic, WALL_ID, wallX0 } from '../../validation/judgementScenes';
import { facing, glowing, SETUP } from '../../validation/scenes';
import { LAMP_ID, playing } from '../mends/scenes';

const THROW_M = 4;
const RADIUS_M = 0.1;
const flagEntry = (widthM: number, heightM: number): KitEntry => ({
  name: 'Flag',
  kind: 'grip',
  count: 1,
  grip: { shape: { kind: 'rectangle', widthM, heightM }, material: { kind: 'opaque' } },
});
/** The lamp 4 m off the wall x = 0, square on to y = 0; the wall's left end, seen from the lamp's side, is y = -2. */
const disc = (): Lamp =>
  glowing(facing([THROW_M, 0, 1.5], 270, 0), { shape: 'disc', diameterM: 2 * RADIUS_M }, 100_000);
const scene = (source: Lamp, kit: Record<string, KitEntry> = { flag: flagEntry(1.2, 1.2) }): SceneDocument =>
  playing({ source, wall: wallX0(-2, 2, 1, 2) }, { kit });

const LINE_Y = 0.8;
const request = (change: Partial<FlagRequest> = {}): FlagRequest => ({
  helper: 'flag',
  lampId: LAMP_ID,
  dark: { surfaceId: WALL_ID, side: 'right', lineM: LINE_Y + 2 },
  wantedSurfaceId: WALL_ID,
  distanceM: 1,
  edge: 'dark',
  ...change,
});
function planned(document: SceneDocument, of: FlagRequest): { setup: Setup; flag: Modifier } {
  const plan = planGrip(document, SETUP, of);
  if (!plan.ok) throw new Error(plan.sentence);
  return { setup: plan.setup, flag: plan.setup.modifiers[plan.pieceIds[0]!]! };
}
const after = (document: SceneDocument, of: FlagRequest): SceneDocument => ({
  ...document,
  setups: [planned(document, of).setup],
});
const readAt = (document: SceneDocument, y: number, z = 1.5): number =>
  readPoint(compileScene(document, SETUP), { pointM: [0, y, z], normal: [1, 0, 0] }).illuminanceLx;

/** The flag's upright edge towards y = 0, on the plan. */
function cutEdge(flag: Modifier): readonly [x: number, y: number] {
  const { origin, right } = frameFromPose(flag.pose);
  const half = flag.shape.kind === 'rectangle' ? flag.shape.widthM / 2 : 0;
  const ends = [1, -1].map((sign) => [origin[0] + sign * half * right[0], origin[1] + sign * half * right[1]] as const);
  return ends.reduce((a, b) => (Math.abs(a[1]) < Math.abs(b[1]) ? a : b));
}

describe('the edge, by similar triangles', () => {
  test('dark at the line: the edge lies on the ray from the far rim of the lens to the line', () => {
    const [x, y] = cutEdge(planned(scene(disc()), request()).flag);
    // From (throw, -radius) to (0, line): at x the ray has gone (throw - x)/throw of its way.
    expect(y).toBeCloseTo(-RADIUS_M + (LINE_Y + RADIUS_M) * ((THROW_M - x) / THROW_M), 3);
  });

  test('half at the line: the edge lies on the ray from the middle of the lens', () => {
    const [x, y] = cutEdge(planned(scene(disc()), request({ edge: 'half' })).flag);
    expect(y).toBeCloseTo(LINE_Y * ((THROW_M - x) / THROW_M), 6);
  });

  test('a line the other way round, and one across the height', () => {
    const left = request({ dark: { surfaceId: WALL_ID, side: 'left', lineM: 2 - LINE_Y } });
    const [x, y] = cutEdge(planned(scene(disc()), left).flag);
    expect(y).toBeCloseTo(RADIUS_M - (LINE_Y + RADIUS_M) * ((THROW_M - x) / THROW_M), 3);
    const above = request({ dark: { surfaceId: WALL_ID, side: 'above', lineM: 0.7 } });
    const document = scene(disc(), { flag: flagEntry(1.4, 1.2) });
    const cut = after(document, above);
    expect(readAt(cut, 0, 1.75)).toBe(0);
    expect(readAt(cut, 0, 1.2)).toBeGreaterThan(0.5 * readAt(document, 0, 1.2));
  });
});

describe('the light', () => {
  test('nothing beyond the line, and light a hand inside it', () => {
    const document = scene(disc());
    const cut = after(document, request());
    for (const y of [LINE_Y + 0.002, 1, 1.5, 1.99]) {
      for (const z of [1.05, 1.5, 1.95]) expect(readAt(cut, y, z)).toBe(0);
    }
    expect(readAt(cut, LINE_Y - 0.05)).toBeGreaterThan(0);
    // The penumbra is 2 r (D - d)/d wide about; beyond it the wanted light is whole.
    const penumbraM = (2 * RADIUS_M * (THROW_M - 1)) / 1;
    expect(readAt(cut, LINE_Y - 1.1 * penumbraM)).toBeCloseTo(readAt(document, LINE_Y - 1.1 * penumbraM), 6);
  });

  test('half at the line leaves half there', () => {
    const document = scene(disc());
    const share = readAt(after(document, request({ edge: 'half' })), LINE_Y) / readAt(document, LINE_Y);
    // Half the disc's area is hid; its far half lies a few parts in a hundred farther off.
    expect(Math.abs(share - 0.5)).toBeLessThan(0.03);
  });

  test('spill and wanted light as the laws have them', () => {
    const document = scene(isotropic([THROW_M, 0, 1.5]));
    const of = request();
    /** Mean of I cos/r² over part of the wall, midpoints of 400 x 100 cells. */
    const mean = (from: number, to: number): number => {
      let sum = 0;
      for (let i = 0; i < 400; i++) {
        for (let j = 0; j < 100; j++) {
          const y = from + ((i + 0.5) / 400) * (to - from);
          const z = 1 + (j + 0.5) / 100;
          sum += (1000 * THROW_M) / (THROW_M ** 2 + y ** 2 + (z - 1.5) ** 2) ** 1.5;
        }
      }
      return sum / 40_000;
    };
    const before = gripFigures(document, SETUP, of);
    expect(before.dark!.meanLx / mean(LINE_Y, 2)).toBeCloseTo(1, 3);
    expect(before.wanted!.meanLx / mean(-2, LINE_Y)).toBeCloseTo(1, 3);
    const cut = gripFigures(after(document, of), SETUP, of);
    expect(cut.dark).toEqual({ meanLx: 0, peakLx: 0 });
    // A point has no penumbra: the wanted part keeps all.
    expect(cut.wanted!.meanLx / before.wanted!.meanLx).toBeCloseTo(1, 6);
  });

  test('a whole floor is kept dark while the wall stays lit', () => {
    const document = playing(
      {
        source: isotropic([THROW_M, 0, 1.5]),
        wall: wallX0(-1, 1, 1, 2),
        surfaces: {
          floor: {
            name: 'Floor',
            kind: 'floor',
            pose: facing([0, -0.5, 0], 180, 90),
            shape: { kind: 'rectangle', widthM: 1.5, heightM: 1 },
          },
        },
      },
      { kit: { flag: flagEntry(0.9, 0.9) } },
    );
    const of = request({ dark: { surfaceId: 'floor', side: 'all', lineM: 0 }, distanceM: 0.6 });
    const before = gripFigures(document, SETUP, of);
    const cut = gripFigures(after(document, of), SETUP, of);
    expect(before.dark!.meanLx).toBeGreaterThan(5);
    expect(cut.dark!.peakLx).toBe(0);
    expect(cut.wanted!.meanLx / before.wanted!.meanLx).toBeCloseTo(1, 6);
  });
});

describe('what it refuses', () => {
  const sentence = (of: FlagRequest, document = scene(disc())): string => {
    const plan = planGrip(document, SETUP, of);
    return plan.ok ? '' : plan.sentence;
  };
  test('a flag that is too small says what is needed', () => {
    const said = sentence(request(), scene(disc(), { flag: flagEntry(0.2, 0.3) }));
    expect(said).toMatch(/^It takes a flag of \d\.\d\d x \d\.\d\d m; the largest free one is 0.20 x 0.30 m\./);
  });
  test('a line beyond the wall, and a place behind it', () => {
    expect(sentence(request({ dark: { surfaceId: WALL_ID, side: 'right', lineM: 9 } }))).toBe(
      'Nothing of the surface lies beyond that line.',
    );
    expect(sentence(request({ distanceM: 5 }))).toMatch(/^The flag stands 0.1 m to 4.\d m from the lens\.$/);
  });
  test('a lamp that looks away has nothing to flag', () => {
    const away = scene(glowing(facing([THROW_M, 0, 1.5], 90, 0), { shape: 'disc', diameterM: 0.1 }, 100_000));
    expect(sentence(request(), away)).toBe('The lamp’s light does not reach there: nothing to flag.');
  });
});
