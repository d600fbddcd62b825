/**
 * The kernel clips exactly and integrates by series; brute force samples the same integral with no code in common.
 * On random scenes, two thirds of the receivers in half-shadow, they must agree to the noise of the sampling.
 */
import { describe, expect, test } from 'vitest';
import { agreementOf } from '../validation/kernelAgainstBrute';
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
});
