/**
 * A seeded breakup at the gate. Its holes against a twin of the rule that shares no code with the app, and both against the
 * list that a Python program worked (tests/reference/cut-pattern.json); its light against brute force over the twin's holes.
 */
import { describe, expect, test } from 'vitest';
import { cutPattern } from '../../src/scene/geometry/cutPattern';
import type { Distribution, Lamp } from '../../src/scene/schema';
import { lampSpread } from '../../src/sim/solve/farField';
import { patternOutlines } from '../../src/sim/photometry/gatePattern';
import { prepareBrute } from '../brute/bruteIlluminance';
import { seededCut } from '../brute/seededCut';
import listed from '../reference/cut-pattern.json';
import { facing, lamp, meterOf, sceneOf, SETUP } from '../validation/scenes';

type Projection = Extract<Distribution, { kind: 'projection' }>;
type Outlines = readonly (readonly (readonly [number, number])[])[];

function isSameCut(one: Outlines, other: Outlines, places: number): void {
  expect(one.map(({ length }) => length)).toEqual(other.map(({ length }) => length));
  one.forEach((outline, i) =>
    outline.forEach(([x, y], k) => {
      expect(x).toBeCloseTo(other[i]![k]![0], places);
      expect(y).toBeCloseTo(other[i]![k]![1], places);
    }),
  );
}

test('the twin cuts the holes that were worked elsewhere', () => {
  const { seed, holes, widthM, heightM, outlinesM } = listed;
  isSameCut(seededCut(seed, holes, widthM, heightM), outlinesM as unknown as Outlines, 8);
});

test.each([
  [0, 1],
  [1, 2],
  [7, 12],
  [99, 60],
  [4_294_967_295, 200],
  [123_456_789_012, 33],
])('seed %d, %d holes: the app cuts what the twin cuts', (seed, holes) => {
  isSameCut(cutPattern(seed, holes, 2, 2), seededCut(seed, holes, 2, 2), 12);
  // In the picture: the plate is the square round the field, turned counter-clockwise seen from behind.
  const radius = Math.tan((17 * Math.PI) / 180);
  const [c, s] = [Math.cos(0.5), Math.sin(0.5)];
  const turned = seededCut(seed, holes, 2, 2).map((outline) =>
    outline.map(([x, y]) => [radius * (c * x - s * y), radius * (s * x + c * y)] as const),
  );
  isSameCut(patternOutlines({ seed, holes, turnDeg: (0.5 * 180) / Math.PI }, 34), turned, 12);
});

describe('its light', () => {
  const gate = (seed: number, holes: number, focusM?: number): Lamp => {
    const distribution: Projection = {
      kind: 'projection',
      fieldAngleDeg: 34,
      edgeWidthDeg: 1.5,
      peaking: 0.5,
      ...(focusM !== undefined && { focusM }),
      pattern: { seed, holes, turnDeg: 20, edgeWidthDeg: 0.15 },
    };
    return lamp(facing([0, 0, 2], 90, 0), { shape: 'disc', diameterM: 0.08 }, distribution, {
      kind: 'candela',
      candela: 20_000,
    });
  };
  test.each([
    [3, 8, 4],
    [11, 12, undefined],
    [500, 16, 2.5],
  ] as const)(
    'seed %d, %d holes, focus %s m: within 0.3 per cent of the peak of brute force',
    (seed, holes, focusM) => {
      const parts = { sources: { source: gate(seed, holes, focusM) } };
      const sampled = prepareBrute(sceneOf(parts), SETUP, 4096, 5);
      const meter = meterOf(parts);
      const peak = 20_000 / 16;
      let lit = 0;
      let dark = 0;
      for (let i = 0; i < 24; i++) {
        const at = [4, ((i * 0.754877666) % 1) * 2 - 1, 1.1 + 1.8 * ((i * 0.569840291) % 1)] as const;
        const brute = sampled.illuminanceLx({ pointM: [...at], normal: [-1, 0, 0] })[0]!;
        expect(Math.abs(meter({ at: [...at], normal: [-1, 0, 0] }) - brute) / peak, at.join(' ')).toBeLessThan(0.003);
        if (brute > 0.3 * peak) lit += 1;
        if (brute < 0.01 * peak) dark += 1;
      }
      expect(lit).toBeGreaterThan(2);
      expect(dark).toBeGreaterThan(2);
    },
    60_000,
  );

  test('what leaves the lamp is the light of the open holes', () => {
    // A flat wide field, sharp holes: each square of the picture sends I cos³ of its angle for its area in tangents.
    const distribution: Projection = {
      kind: 'projection',
      fieldAngleDeg: 120,
      edgeWidthDeg: 0.1,
      pattern: { seed: 11, holes: 20, edgeWidthDeg: 0.01 },
    };
    const one = lamp(facing([0, 0, 0], 0, 0), { shape: 'disc', diameterM: 0.05 }, distribution, {
      kind: 'candela',
      candela: 1000,
    });
    const radius = Math.tan(Math.PI / 3);
    const holes = seededCut(11, 20, 2, 2);
    const inside = (x: number, y: number): boolean =>
      holes.some((outline) =>
        outline.every(([ax, ay], i) => {
          const [bx, by] = outline[(i + 1) % outline.length]!;
          return (bx - ax) * (y - ay) - (by - ay) * (x - ax) >= 0;
        }),
      );
    const steps = 800;
    let lumens = 0;
    for (let i = 0; i < steps; i++) {
      for (let j = 0; j < steps; j++) {
        const [x, y] = [(2 * (i + 0.5)) / steps - 1, (2 * (j + 0.5)) / steps - 1];
        if (Math.hypot(x, y) > 1 || !inside(x, y)) continue;
        lumens += 1000 * (1 + radius * radius * (x * x + y * y)) ** -1.5 * ((2 * radius) / steps) ** 2;
      }
    }
    expect(lampSpread(one, {})!.figures.fluxLm / lumens).toBeCloseTo(1, 2);
  });
});
