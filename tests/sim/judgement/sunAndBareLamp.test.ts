/**
 * The two ends of the judgement: the real sun passes every figure whatever the window and the wall, a bare lamp at two
 * metres gives itself away. By definition of the figures; J2g from tests/reference/judgement-values.json.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Source } from '../../../src/scene/schema';
import values from '../../reference/judgement-values.json';
import { disc, isotropic, judged, sceneN, sunOfN, wallWithOpeningY0, wallX0 } from '../../validation/judgementScenes';

const grid = (min: number, max: number, steps: number) =>
  fc.integer({ min: 0, max: steps }).map((i) => min + ((max - min) * i) / steps);

describe('the real sun', () => {
  test('has no apparent distance: null for being parallel (J2g)', () => {
    const { expected, how } = values.find(({ id }) => id === 'J2g')!;
    const check = judged(sunOfN());
    expect(check.apparentDistanceM).toBe(expected);
    expect(how).toContain("reason 'parallel'");
    expect(check.reasons.apparentDistanceM).toMatch(/^parallel/);
  });

  test('reads as the sun through any window on any part of the wall, with room to spare', () => {
    fc.assert(
      fc.property(
        grid(10, 45, 70),
        grid(120, 165, 90),
        grid(0.5, 1.4, 18),
        grid(0.6, 1.4, 16),
        fc.boolean(),
        (altitudeDeg, azimuthDeg, widthM, heightM, bars) => {
          const source: Source = { type: 'sun', name: 'Sun', altitudeDeg, azimuthDeg, normalIlluminanceLx: 60_000 };
          const check = judged({
            source,
            wall: wallX0(0, 6, -1, 4),
            surfaces: { 'window-wall': wallWithOpeningY0(0.25, 0.25 + widthM, 1.2, 1.2 + heightM, bars) },
            story: { sun: { altitudeDeg, azimuthDeg }, haze: true },
          });
          expect(Object.keys(check.scores).length).toBeGreaterThan(4);
          for (const [figure, score] of Object.entries(check.scores)) {
            // Its colour by altitude and its own disc against itself: nothing is left but rounding.
            expect(score, figure).toBeLessThan(0.1);
          }
          expect(check.verdict).toBe('reads');
        },
      ),
      { numRuns: 20, seed: 4 },
    );
  });
});

describe('a bare lamp at two metres', () => {
  test('on the wall gives itself away, by its fall-off and by its fan', () => {
    const check = judged({ source: isotropic([2, 1.2, 1.5]), wall: wallX0(0, 2.4, 0.3, 2.7) });
    expect(check.verdict).toBe('givesAway');
    expect(Math.min(check.scores.fallOff!, check.scores.fan!)).toBeGreaterThan(2);
  });
  test('before the window gives itself away, wherever it stands', () => {
    fc.assert(
      fc.property(grid(-30, 30, 60), grid(10, 40, 30), grid(0.05, 0.3, 10), (asideDeg, upDeg, lensM) => {
        const { wall, surfaces } = sceneN();
        // About the direction from the window's middle that lights the wall.
        const azimuth = ((150 + asideDeg / 2) * Math.PI) / 180;
        const up = (upDeg * Math.PI) / 180;
        const at: [number, number, number] = [
          0.6 + 2 * Math.sin(azimuth) * Math.cos(up),
          2 * Math.cos(azimuth) * Math.cos(up),
          1.7 + 2 * Math.sin(up),
        ];
        const check = judged({ source: disc(at, [0.6, 0, 1.7], lensM, 20_000), wall, surfaces: surfaces! });
        expect(check.verdict).toBe('givesAway');
      }),
      { numRuns: 20, seed: 5 },
    );
  });
});
