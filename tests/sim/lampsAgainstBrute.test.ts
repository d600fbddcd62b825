/** Lamps with all that they can carry, by the kernel and by brute force: random scenes, two thirds in half-shadow. */
import { describe, expect, test } from 'vitest';
import { RECEIVERS } from '../brute/randomScene';
import { dressedScene } from '../brute/dressedScene';
import { settledAgreement } from '../validation/kernelAgainstBrute';

const SCENES = 16;
const LARGEST = 0.003;
const MEAN = 0.0002;

describe('dressed lamps against brute force', () => {
  test.each(Array.from({ length: SCENES }, (_, i) => i + 1))(
    'random scene %d: at most 0.3 % of peak, mean 0.02 %',
    (seed) => {
      const agreement = settledAgreement(dressedScene(seed), seed, LARGEST);
      expect(agreement.bySource.filter((one) => !(one.largest <= LARGEST))).toEqual([]);
      expect(agreement.mean).toBeLessThanOrEqual(MEAN);
      expect(agreement.inPenumbra).toBeGreaterThanOrEqual((2 * RECEIVERS) / 3 - 1);
    },
    120_000,
  );

  test('every dressing comes up', () => {
    const lamps = Array.from({ length: SCENES }, (_, i) => dressedScene(i + 1)).flatMap(({ document }) =>
      Object.values(document.setups[0]!.sources).flatMap((source) => (source.type === 'lamp' ? [source] : [])),
    );
    const kinds = new Set(lamps.flatMap(({ accessories = [] }) => accessories.map(({ kind }) => kind)));
    expect(kinds).toEqual(new Set(['barnDoors', 'snoot', 'eggCrate', 'wireScrim', 'gel']));
    expect(lamps.filter(({ distribution }) => distribution.kind === 'lensed').length).toBeGreaterThan(8);
    const crated = lamps.filter(({ accessories = [] }) => accessories.some(({ kind }) => kind === 'eggCrate'));
    expect(new Set(crated.map(({ emitter }) => emitter.shape)).size).toBeGreaterThan(1);
  }, 60_000);
});
