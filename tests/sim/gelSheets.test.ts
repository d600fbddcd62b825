/**
 * Gels that hang free: the light that crossed one is dimmed and shifted, the rest is not, and the two mix as light mixes.
 * Check values 7.7 (mired shifts add), 7.8 (plus green raises Duv) and 7.9 (mixing in XYZ) through the kernel.
 */
import { describe, expect, test } from 'vitest';
import type { Colour, Lamp, Modifier, Source } from '../../src/scene/schema';
import { chromaticityFromCct } from '../../src/sim/colour/cct';
import { compileScene } from '../../src/sim/solve/compileScene';
import { readPoint } from '../../src/sim/solve/solvePoint';
import { cctAndDuv } from '../../src/sim/colour/cct';
import { disc, judged, wallWithOpeningY0, wallX0 } from '../validation/judgementScenes';
import { facing, lamp, sceneOf, SETUP, sheetAcrossX } from '../validation/scenes';
import { scrambledNet } from '../brute/vectors';
import { referenceRows } from './colour/referenceValues';

const expectedOf = (id: string): number => referenceRows(id).find((row) => row.id === id)!.expected;
const SIZE_M = 0.4;
const source = (colour?: Colour): Lamp => ({
  ...lamp(
    facing([0, 0, 0], 90, 0),
    { shape: 'rectangle', widthM: SIZE_M, heightM: SIZE_M },
    { kind: 'lambertian' },
    { kind: 'candela', candela: 4000 },
  ),
  ...(colour && { colour }),
});
interface Gel {
  readonly miredShift?: number;
  readonly greenShift?: number;
  readonly transmittance?: number;
}
/** A gel in the plane x = `x` from y0 to y1 and z0 to z1. */
const gel = (
  x: number,
  y0: number,
  y1: number,
  z0: number,
  z1: number,
  { transmittance = 0.6, ...shifts }: Gel,
): Modifier =>
  sheetAcrossX([x, (y0 + y1) / 2, (z0 + z1) / 2], y1 - y0, z1 - z0, { kind: 'gel', transmittance, ...shifts });
const whole = (x: number, shifts: Gel): Modifier => gel(x, -3, 3, -3, 3, shifts);
const AHEAD = { pointM: [4, 0, 0], normal: [-1, 0, 0] } as const;
const read = (modifiers: Record<string, Modifier>, colour: Colour | undefined = { cctK: 3200 }, at = AHEAD) =>
  readPoint(compileScene(sceneOf({ sources: { source: source(colour) }, modifiers }), SETUP), at);

describe('a gel across all of the light', () => {
  test.each(['7.7c', '7.7d', '7.7e', '7.7f', '7.7g'])('shifts it by its mired, check value %s', (id) => {
    const { expected, inputs } = referenceRows(id)[0]!;
    const { T1_K: cctK, shift_mired: miredShift } = inputs as { T1_K: number; shift_mired: number };
    const { cctK: shifted, duv, illuminanceLx } = read({ gel: whole(2, { miredShift, transmittance: 0.5 }) }, { cctK });
    expect(shifted! / expected).toBeCloseTo(1, 5);
    expect(duv).toBeCloseTo(0, 6);
    expect(illuminanceLx / read({}).illuminanceLx).toBeCloseTo(0.5, 12);
  });

  test('two in a row: losses multiply, shifts add in either order (7.7h)', () => {
    const [blue, lighter] = [{ miredShift: -78 }, { miredShift: -35, transmittance: 0.8 }];
    for (const pair of [[blue, lighter] as const, [lighter, blue] as const]) {
      const stacked = read({ one: whole(1, pair[0]), two: whole(2, pair[1]) });
      expect(stacked.cctK! / expectedOf('7.7h')).toBeCloseTo(1, 5);
      expect(stacked.illuminanceLx / read({}).illuminanceLx).toBeCloseTo(0.48, 12);
    }
  });

  test('it is the gel in the lamp, hung up', () => {
    const shifts = { transmittance: 0.7, miredShift: 60, greenShift: -0.004 };
    const inLamp = { ...source({ cctK: 5600, duv: 0.002 }), accessories: [{ kind: 'gel' as const, ...shifts }] };
    const hung = read({ gel: whole(2, shifts) }, { cctK: 5600, duv: 0.002 });
    const own = readPoint(compileScene(sceneOf({ sources: { source: inLamp } }), SETUP), AHEAD);
    expect(hung.cctK! / own.cctK!).toBeCloseTo(1, 9);
    expect(hung.duv).toBeCloseTo(own.duv!, 9);
    expect(hung.illuminanceLx / own.illuminanceLx).toBeCloseTo(1, 9);
  });

  test.each(['7.8a', '7.8b', '7.8c'])(
    'plus green raises Duv, minus green lowers it by as much, check value %s',
    (id) => {
      const { expected: greenShift } = referenceRows(id)[0]!;
      const duv = (sign: number): number =>
        read({ gel: whole(2, { greenShift: sign * greenShift }) }, { cctK: 5600 }).duv!;
      expect(duv(1)).toBeCloseTo(greenShift, 5);
      expect(duv(-1)).toBeCloseTo(-greenShift, 5);
    },
  );

  test('no stated colour stays none, and a gel that only dims leaves the colour alone', () => {
    expect(
      readPoint(
        compileScene(
          sceneOf({ sources: { source: source() }, modifiers: { gel: whole(2, { miredShift: 50 }) } }),
          SETUP,
        ),
        AHEAD,
      ).cctK,
    ).toBeNull();
    expect(read({ gel: whole(2, {}) }).cctK).toBeCloseTo(3200, 2);
  });
});

describe('a gel across half of the light', () => {
  // 3200 K to 5600 K by a gel that takes nothing: halves of equal level, check values 7.9d to 7.9f.
  const shifts = { miredShift: 1e6 / 5600 - 1e6 / 3200, transmittance: 1 };
  const half = read({ gel: gel(2, 0, 3, -3, 3, shifts) });
  test('mixes in XYZ with what passes beside it', () => {
    expect(Math.abs(half.cctK! - expectedOf('7.9f'))).toBeLessThan(2);
    const { duv } = cctAndDuv({ x: expectedOf('7.9d'), y: expectedOf('7.9e') })!;
    expect(half.duv).toBeCloseTo(duv, 5);
  });
  test('and its own loss weighs it', () => {
    const dimmed = read({ gel: gel(2, 0, 3, -3, 3, { ...shifts, transmittance: 0.25 }) });
    expect(dimmed.illuminanceLx / read({}).illuminanceLx).toBeCloseTo(0.625, 9);
    expect(dimmed.cctK!).toBeLessThan(half.cctK! - 300);
  });
});

const kept = new Map<string, [number, number, number]>();
/** XYZ of a colour by its definition, Y = 1. */
function xyzOf(mired: number, duv: number): [number, number, number] {
  const key = `${mired.toFixed(6)} ${duv.toFixed(6)}`;
  const { x, y } = kept.has(key) ? { x: 0, y: 1 } : chromaticityFromCct(1e6 / mired, duv);
  const xyz = kept.get(key) ?? [x / y, 1, (1 - x - y) / y];
  kept.set(key, xyz);
  return xyz;
}

test('gels that overlap in part: as counted ray by ray', () => {
  const one = { x: 1.4, y: [-0.4, 0.03], z: [-1, 1], miredShift: 120, greenShift: 0.006, transmittance: 0.7 } as const;
  const two = { x: 2.5, y: [-0.05, 0.5], z: [-0.02, 1], miredShift: -150, greenShift: 0, transmittance: 0.4 } as const;
  const three = { x: 3, y: [-1, 1], z: [-1, 0.01], miredShift: 30, greenShift: -0.01, transmittance: 0.8 } as const;
  const gels = [one, two, three];
  const modifiers = Object.fromEntries(
    gels.map(({ x, y, z, ...shifts }, i) => [`gel-${i}`, gel(x, y[0], y[1], z[0], z[1], shifts)]),
  );
  const square = scrambledNet(65_536, 7);
  for (const place of [
    [4, 0, 0],
    [3.6, 0.1, -0.05],
    [4.5, -0.2, 0.1],
  ] as const) {
    const solved = read(modifiers, { cctK: 4300, duv: 0.001 }, { pointM: place, normal: [-1, 0, 0] } as never);
    const sum = [0, 0, 0];
    for (let i = 0; i < square.length; i += 2) {
      const from = [0, (square[i]! - 0.5) * SIZE_M, (square[i + 1]! - 0.5) * SIZE_M] as const;
      const way = place.map((to, axis) => to - from[axis]!);
      const far = Math.hypot(...way);
      let [mired, duv, level] = [1e6 / 4300, 0.001, (way[0]! / far) ** 2 / (far * far)];
      for (const { x, y, z, miredShift, greenShift, transmittance } of gels) {
        const t = x / way[0]!;
        const [aside, up] = [from[1] + t * way[1]!, from[2] + t * way[2]!];
        if (aside < y[0] || aside > y[1] || up < z[0] || up > z[1]) continue;
        mired += miredShift;
        duv += greenShift;
        level *= transmittance;
      }
      xyzOf(mired, duv).forEach((value, axis) => (sum[axis]! += value * level));
    }
    const [X, Y, Z] = sum as [number, number, number];
    const counted = cctAndDuv({ x: X / (X + Y + Z), y: Y / (X + Y + Z) })!;
    expect(solved.illuminanceLx / ((4000 / (square.length / 2)) * Y)).toBeCloseTo(1, 3);
    expect(Math.abs(solved.cctK! / counted.cctK - 1)).toBeLessThan(0.001);
    expect(Math.abs(solved.duv! - counted.duv)).toBeLessThan(0.00005);
  }
});
test('light off a mirror has crossed the gel before it', () => {
  // The lamp looks at a mirror that stands at 45 degrees; the gel hangs between them.
  const mirror: Modifier = {
    ...sheetAcrossX([4, 0, 0], 3, 3, { kind: 'mirror', reflectance: 0.9 }),
    pose: facing([4, 0, 0], 315, 0),
  };
  const at = { pointM: [4, 3, 0], normal: [0, -1, 0] } as never;
  const hung = read({ mirror, gel: whole(2, { miredShift: 159 }) }, { cctK: 5600 }, at);
  expect(hung.illuminanceLx).toBeGreaterThan(10);
  expect(hung.cctK! / expectedOf('7.7c')).toBeCloseTo(1, 4);
});

describe('the sun judgement', () => {
  const parts = (modifiers: Record<string, Modifier>, own: Partial<Lamp> = {}) => {
    const at: [number, number, number] = [3, -5.5, 3.2];
    const lit: Source = { ...disc(at, [0, 1.5, 1.2], 0.18, 90_000), colour: { cctK: 5600, duv: 0.003 }, ...own };
    return judged({
      source: lit,
      wall: wallX0(0, 4, 0, 3),
      surfaces: { 'window-wall': wallWithOpeningY0(0.9, 1.8, 1, 2.2, false) },
      modifiers,
      story: { sun: { altitudeDeg: 16, azimuthDeg: 150 } },
    });
  };
  const inWindow: Modifier = {
    name: 'Gel',
    pose: facing([1.4, -0.1, 1.6], 0, 0),
    shape: { kind: 'rectangle', widthM: 2, heightM: 2 },
    material: { kind: 'gel', transmittance: 0.7, miredShift: 81, greenShift: 0.002 },
  };
  test('a gel over the window counts as one in the lamp', () => {
    const bare = parts({});
    const hung = parts({ gel: inWindow });
    expect(bare.cctOffMired).not.toBeNull();
    expect(hung.cctOffMired! - bare.cctOffMired!).toBeCloseTo(81, 3);
    expect(hung.duvOff! - bare.duvOff!).toBeCloseTo(0.002, 6);
    expect(hung.falloffStops).toBeCloseTo(bare.falloffStops!, 1);
  });
});
