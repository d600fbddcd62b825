/**
 * The long proof: the kernel against brute force on many random scenes. Prints the worst scenes by seed.
 * Options: `--scenes N` (200), `--samples N` (16384), `--from SEED` (1). Exit 1 if a scene misses the tolerance.
 */
import { agreementOf, type SceneAgreement } from '../tests/validation/kernelAgainstBrute';

const LARGEST = 0.003;
const MEAN = 0.0002;
const SHOWN = 10;

function option(name: string, otherwise: number): number {
  const at = process.argv.indexOf(`--${name}`);
  if (at < 0) return otherwise;
  const value = Number(process.argv[at + 1]);
  if (!Number.isInteger(value) || value < 1) {
    process.stderr.write(`--${name} takes a whole number of at least 1\n`);
    process.exit(2);
  }
  return value;
}
const percent = (share: number): string => `${(100 * share).toFixed(4)} %`;

const scenes = option('scenes', 200);
const samples = option('samples', 16384);
const from = option('from', 1);
const done: SceneAgreement[] = [];
for (let seed = from; seed < from + scenes; seed++) {
  done.push(agreementOf(seed, samples));
  if (process.stderr.isTTY) process.stderr.write(`\r${done.length} of ${scenes}`);
}

const missed = (one: SceneAgreement): boolean => !(one.largest <= LARGEST && one.mean <= MEAN);
const failed = done.filter(missed);
const worst = [...done].sort((a, b) => (Number.isNaN(a.largest) ? -1 : b.largest - a.largest)).slice(0, SHOWN);
process.stdout.write(`\n${scenes} scenes, ${samples} samples: worst ${percent(worst[0]?.largest ?? 0)} of peak\n`);
for (const scene of worst) {
  const source = scene.bySource.reduce((a, b) => (b.largest <= a.largest ? a : b));
  process.stdout.write(
    `seed ${scene.seed}: largest ${percent(scene.largest)}, mean ${percent(scene.mean)}, ` +
      `${source.sourceId} (${source.what}) at receiver ${source.worstReceiver}, kernel ${scene.kernelMs.toFixed(0)} ms\n`,
  );
}
process.stdout.write(
  failed.length === 0
    ? `all within ${percent(LARGEST)} of peak, mean ${percent(MEAN)}\n`
    : `${failed.length} missed: seeds ${failed.map((one) => one.seed).join(', ')}\n`,
);
process.exitCode = failed.length > 0 ? 1 : 0;
