/** Lamps with all that they can carry, by the kernel and by brute force: random scenes, two thirds in half-shadow. */
import { describe, expect, test } from 'vitest';
import { RECEIVERS, type RandomScene } from '../brute/randomScene';
import { dressedScene } from '../brute/dressedScene';
import { agreementOn, type SourceAgreement } from '../validation/kernelAgainstBrute';

const SCENES = 16;
const SAMPLES = 16384;
const LARGEST = 0.003;
const MEAN = 0.0002;

/** A narrow snoot leaves one sample in a hundred of a wide panel: there sixteen times as many are taken. */
const FINER = 16 * SAMPLES;
function finer(scene: RandomScene, sourceId: string, seed: number): SourceAgreement {
  const [setup] = scene.document.setups;
  const sources = { [sourceId]: setup!.sources[sourceId]! };
  const document = { ...scene.document, setups: [{ ...setup!, sources }] };
  return agreementOn({ ...scene, document }, seed, FINER).bySource[0]!;
}

describe('dressed lamps against brute force', () => {
  test.each(Array.from({ length: SCENES }, (_, i) => i + 1))(
    'random scene %d: at most 0.3 % of peak, mean 0.02 %',
    (seed) => {
      const scene = dressedScene(seed);
      const agreement = agreementOn(scene, seed, SAMPLES);
      const settled = agreement.bySource.map((one) =>
        one.largest <= LARGEST ? one : finer(scene, one.sourceId, seed),
      );
      expect(settled.filter((one) => !(one.largest <= LARGEST))).toEqual([]);
      expect(settled.reduce((sum, one) => sum + one.mean, 0) / settled.length).toBeLessThanOrEqual(MEAN);
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
