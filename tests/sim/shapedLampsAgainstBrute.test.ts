/** Patterned spots, strips of cells and partly lit tubes, by the kernel and by brute force, two thirds in half-shadow. */
import { describe, expect, test } from 'vitest';
import { RECEIVERS } from '../brute/randomScene';
import { PATTERN_KINDS, shapedScene } from '../brute/shapedScene';
import { settledAgreement } from '../validation/kernelAgainstBrute';

const SCENES = 10;
const LARGEST = 0.003;
const MEAN = 0.0002;

describe('shaped lamps against brute force', () => {
  test.each(Array.from({ length: SCENES }, (_, i) => i + 1))(
    'random scene %d: at most 0.3 % of peak, mean 0.02 %',
    (seed) => {
      const agreement = settledAgreement(shapedScene(seed), seed, LARGEST);
      expect(agreement.bySource.filter((one) => !(one.largest <= LARGEST))).toEqual([]);
      expect(agreement.mean).toBeLessThanOrEqual(MEAN);
      expect(agreement.inPenumbra).toBeGreaterThanOrEqual((2 * RECEIVERS) / 3 - 1);
    },
    120_000,
  );

  test('every pattern, every sector and every kind of strip comes up', () => {
    const lamps = Array.from({ length: SCENES }, (_, i) => shapedScene(i + 1)).flatMap(({ document }) =>
      Object.values(document.setups[0]!.sources).flatMap((source) => (source.type === 'lamp' ? [source] : [])),
    );
    const patterns = lamps.flatMap(({ distribution }) =>
      distribution.kind === 'projection' && distribution.pattern ? [distribution.pattern.kind] : [],
    );
    expect(new Set(patterns)).toEqual(new Set(PATTERN_KINDS));
    const sectors = lamps.flatMap(({ emitter }) => (emitter.shape === 'tube' ? [emitter.litSectorDeg!] : []));
    expect(Math.min(...sectors)).toBeLessThan(180);
    expect(Math.max(...sectors)).toBeGreaterThan(180);
    const strips = lamps.flatMap(({ emitter }) => (emitter.shape === 'rectangle' ? [emitter.cells!] : []));
    expect(strips.some(({ glowShare }) => glowShare === 1)).toBe(true);
    expect(strips.some(({ glowShare }) => glowShare! < 1)).toBe(true);
  }, 60_000);
});
