/**
 * The kernel clips exactly and integrates by series; brute force samples the same integral with no code in common.
 * On random scenes, two thirds of the receivers in half-shadow, they must agree to the noise of the sampling.
 */
import { describe, expect, test } from 'vitest';
import type { Distribution } from '../../src/scene/schema';
import { agreementOf, agreementOn } from '../validation/kernelAgainstBrute';
import { facing, lamp, sceneOf, SETUP, sheetAcrossX } from '../validation/scenes';
import { randomScene, RECEIVERS } from '../brute/randomScene';

const SCENES = 20;
const SAMPLES = 16384;
const LARGEST = 0.003;
const MEAN = 0.0002;

describe('kernel against brute force', () => {
  test.each(Array.from({ length: SCENES }, (_, i) => i + 1))(
    'random scene %d: at most 0.3 % of peak, mean 0.02 %',
    (seed) => {
      const agreement = agreementOf(seed, SAMPLES);
      const worst = agreement.bySource.filter((one) => !(one.largest <= LARGEST));
      expect(worst).toEqual([]);
      expect(agreement.mean).toBeLessThanOrEqual(MEAN);
      expect(agreement.inPenumbra).toBeGreaterThanOrEqual((2 * RECEIVERS) / 3 - 1);
    },
    120_000,
  );

  test('every shape, distribution and material comes up', () => {
    const scenes = Array.from({ length: SCENES }, (_, i) => randomScene(i + 1).document.setups[0]!);
    const sources = scenes.flatMap((setup) => Object.values(setup.sources));
    const lamps = sources.flatMap((source) => (source.type === 'lamp' ? [source] : []));
    const modifiers = scenes.flatMap((setup) => Object.values(setup.modifiers));
    expect(new Set(lamps.map((lamp) => lamp.emitter.shape))).toEqual(
      new Set(['point', 'disc', 'rectangle', 'tube', 'sphere']),
    );
    expect(new Set(lamps.map((lamp) => lamp.distribution.kind))).toEqual(
      new Set(['uniform', 'lambertian', 'cosinePower', 'beam', 'projection']),
    );
    expect(sources.some((source) => source.type === 'sun')).toBe(true);
    expect(new Set(modifiers.map(({ material }) => material.kind))).toEqual(
      new Set(['opaque', 'net', 'wireScrim', 'gel']),
    );
    expect(modifiers.some(({ shape }) => shape.kind === 'polygon' && shape.holesM !== undefined)).toBe(true);
    expect(modifiers.some(({ frame }) => frame !== undefined)).toBe(true);
    expect(Math.min(...scenes.map((setup) => Object.keys(setup.modifiers).length))).toBeGreaterThanOrEqual(6);
    expect(Math.max(...scenes.map((setup) => Object.keys(setup.modifiers).length))).toBeLessThanOrEqual(17);
  });

  /** A lens 4 m before the wall x = 0, a flag's edge half way; 8 x 8 receivers over the whole pool and its rim. */
  const spot = (distribution: Distribution) => {
    const source = lamp(
      facing([4, 0, 0], 270, 0, 20),
      { shape: 'disc', diameterM: 0.16 },
      { ...distribution },
      { kind: 'candela', candela: 16_000 },
    );
    const modifiers = { flag: sheetAcrossX([2, 0.9, -0.6], 1, 1, { kind: 'opaque' }) };
    const receivers = Array.from({ length: RECEIVERS }, (_, i) => ({
      pointM: [0, -1.2 + 0.33 * (i % 8), -1.2 + 0.33 * Math.floor(i / 8)] as const,
      normal: [1, 0, 0] as const,
    }));
    return { document: sceneOf({ sources: { source }, modifiers }), setupId: SETUP, receivers, inPenumbra: 0 };
  };
  const gate = { kind: 'projection', fieldAngleDeg: 32, edgeWidthDeg: 1.5 } as const;
  test.each<[string, Distribution]>([
    ['flat field, focus at infinity', gate],
    ['focused on the wall, peaked', { ...gate, focusM: 4, peaking: 1.2 }],
    ['focused before the wall', { ...gate, focusM: 2.5 }],
    ['one shutter from above', { ...gate, shutters: [{ offsetDeg: 5, turnDeg: 90, edgeWidthDeg: 1 }] }],
    [
      'four shutters, none square',
      {
        ...gate,
        focusM: 6,
        shutters: [
          { offsetDeg: 9, turnDeg: 8, edgeWidthDeg: 0.6 },
          { offsetDeg: 4, turnDeg: 99, edgeWidthDeg: 1 },
          { offsetDeg: 11, turnDeg: 185, edgeWidthDeg: 2 },
          { offsetDeg: 8, turnDeg: 262, edgeWidthDeg: 0.8 },
        ],
      },
    ],
  ])(
    'projection spot: %s',
    (_name, distribution) => {
      const agreement = agreementOn(spot(distribution), 1, SAMPLES);
      expect(agreement.bySource[0]!.peakLx).toBeGreaterThan(500);
      expect(agreement.largest).toBeLessThanOrEqual(LARGEST);
      expect(agreement.mean).toBeLessThanOrEqual(MEAN);
    },
    120_000,
  );
});
