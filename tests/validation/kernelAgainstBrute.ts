/** The light kernel against brute force on one random scene: the largest and the mean difference, by source. */
import { compileScene } from '../../src/sim/solve/compileScene';
import { readPoint } from '../../src/sim/solve/solvePoint';
import { prepareBrute } from '../brute/bruteIlluminance';
import { randomScene, type RandomScene } from '../brute/randomScene';

export interface SourceAgreement {
  readonly sourceId: string;
  /** What shines: emitter and distribution, or the sun. */
  readonly what: string;
  /** Largest unobstructed illuminance of the source over the receivers, lux. */
  readonly peakLx: number;
  /** Differences as shares of the peak. */
  readonly largest: number;
  readonly mean: number;
  readonly worstReceiver: number;
}
export interface SceneAgreement {
  readonly seed: number;
  readonly inPenumbra: number;
  readonly bySource: readonly SourceAgreement[];
  readonly largest: number;
  readonly mean: number;
  readonly kernelMs: number;
}

/** Samples for the peak: nothing stands in the light, so that few are enough. */
const PEAK_SAMPLES = 512;

/** The random scene of a seed. */
export const agreementOf = (seed: number, samples: number): SceneAgreement =>
  agreementOn(randomScene(seed), seed, samples);

/** Any scene with its receivers; `seed` is that of the sampling. */
export function agreementOn(scene: RandomScene, seed: number, samples: number): SceneAgreement {
  const { document, setupId, receivers, inPenumbra } = scene;
  const brute = prepareBrute(document, setupId, samples, seed);
  const open = prepareBrute(document, setupId, PEAK_SAMPLES, seed + 1);
  const compiled = compileScene(document, setupId);
  const bare = receivers.map((receiver) => open.illuminanceLx(receiver, 'bare'));
  const sampled = receivers.map((receiver) => brute.illuminanceLx(receiver));
  const start = performance.now();
  const solved = receivers.map((receiver) => {
    const lux = new Map(readPoint(compiled, receiver).bySource.map((one) => [one.sourceId, one.illuminanceLx]));
    return brute.sourceIds.map((id) => lux.get(id) ?? NaN);
  });
  const kernelMs = performance.now() - start;
  const bySource = brute.sourceIds.map((sourceId, s): SourceAgreement => {
    const peakLx = Math.max(...bare.map((levels) => levels[s]!));
    // A source that reaches no receiver must give none in either; any light then counts as a whole peak.
    const scale = peakLx > 0 ? peakLx : Number.MIN_VALUE;
    const differences = receivers.map((_, r) => Math.abs(solved[r]![s]! - sampled[r]![s]!) / scale);
    const largest = differences.reduce((worst, one) => (one <= worst ? worst : one), 0);
    const source = document.setups[0]!.sources[sourceId]!;
    return {
      sourceId,
      what: source.type === 'sun' ? 'sun' : `${source.emitter.shape} ${source.distribution.kind}`,
      peakLx,
      largest,
      mean: differences.reduce((sum, one) => sum + one, 0) / differences.length,
      worstReceiver: differences.indexOf(largest),
    };
  });
  return {
    seed,
    inPenumbra,
    bySource,
    largest: bySource.reduce((worst, one) => (one.largest <= worst ? worst : one.largest), 0),
    mean: bySource.reduce((sum, one) => sum + one.mean, 0) / bySource.length,
    kernelMs,
  };
}

/** Samples for a first look, and for sources whose samples are too few: a narrow snoot or a sharp pattern leaves few. */
const FIRST_SAMPLES = 16384;
const FINER_SAMPLES = 16 * FIRST_SAMPLES;

/** As `agreementOn`, with each source that differs by more than `largest` of its peak sampled again, more finely. */
export function settledAgreement(
  scene: RandomScene,
  seed: number,
  largest: number,
): Pick<SceneAgreement, 'bySource' | 'mean' | 'inPenumbra'> {
  const [setup] = scene.document.setups;
  const again = ({ sourceId }: SourceAgreement): SourceAgreement => {
    const sources = { [sourceId]: setup!.sources[sourceId]! };
    const document = { ...scene.document, setups: [{ ...setup!, sources }] };
    return agreementOn({ ...scene, document }, seed, FINER_SAMPLES).bySource[0]!;
  };
  const first = agreementOn(scene, seed, FIRST_SAMPLES);
  const bySource = first.bySource.map((one) => (one.largest <= largest ? one : again(one)));
  const mean = bySource.reduce((sum, one) => sum + one.mean, 0) / bySource.length;
  return { bySource, mean, inPenumbra: first.inPenumbra };
}
