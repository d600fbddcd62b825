/**
 * The long proof: the kernel against brute force on many random scenes, then the quick rule of grids against the converged
 * kernel on the surfaces of the same scenes. Prints the worst by seed.
 * Options: `--scenes N` (200), `--samples N` (16384), `--from SEED` (1), `--only points|grids`. Exit 1 if one misses its
 * tolerance.
 */
import { gridAgreementsOf, type GridAgreement } from '../tests/validation/gridAgainstConverged';
import { agreementOf, type SceneAgreement } from '../tests/validation/kernelAgainstBrute';

const LARGEST = 0.003;
const MEAN = 0.0002;
const SHOWN = 10;
/** Largest P of a grid: under 1, the bound of the measure, by a fifth. */
const GRID_P = 0.8;
/** Sources whose peak is at least this share of the sum's are named where their own P passes 1. */
const NAMED_SHARE = 0.01;

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
const seeds = Array.from({ length: scenes }, (_, i) => from + i);
const only = process.argv.includes('--only') ? process.argv[process.argv.indexOf('--only') + 1] : null;
if (only !== null && only !== 'points' && only !== 'grids') {
  process.stderr.write('--only takes points or grids\n');
  process.exit(2);
}
const tell = (done: number): void => {
  if (process.stderr.isTTY) process.stderr.write(`\r${done} of ${scenes}`);
};

/** Points against brute force. @returns whether all are within the tolerance */
function provePoints(): boolean {
  const done = seeds.map((seed, i): SceneAgreement => {
    tell(i);
    return agreementOf(seed, samples);
  });
  const failed = done.filter((one) => !(one.largest <= LARGEST && one.mean <= MEAN));
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
  return failed.length === 0;
}

const nameOf = ({ seed, surfaceId, columns, rows }: GridAgreement): string =>
  `seed ${seed}, ${surfaceId} ${columns} x ${rows}`;

/** Grids against the converged kernel. @returns whether P of every sum is within the tolerance */
function proveGrids(): boolean {
  const done = seeds.flatMap((seed, i) => {
    tell(i);
    return gridAgreementsOf(seed);
  });
  const failed = done.filter((one) => !(one.errorP <= GRID_P));
  const sorted = [...done].sort((a, b) => (Number.isNaN(a.errorP) ? -1 : b.errorP - a.errorP));
  const at = (share: number): string => sorted[Math.floor((1 - share) * (sorted.length - 1))]!.errorP.toFixed(2);
  process.stdout.write(`\n${done.length} grids: P median ${at(0.5)}, nine in ten ${at(0.9)}, worst ${at(1)}\n`);
  for (const grid of sorted.slice(0, SHOWN)) {
    const source = grid.bySource.reduce((a, b) => (b.errorP <= a.errorP ? a : b));
    process.stdout.write(
      `${nameOf(grid)}: P ${grid.errorP.toFixed(2)}, ${source.sourceId} (${source.what}) ${source.errorP.toFixed(2)}\n`,
    );
  }
  // The sum is what grids are held to; a single source may be farther off against its own peak.
  const single = done.flatMap((grid) => grid.bySource.map((source) => ({ grid, source })));
  const past = single.filter(({ source }) => !(source.errorP <= 1) && source.shareOfPeak >= NAMED_SHARE);
  process.stdout.write(
    `${past.length} of ${single.length} single sources (${NAMED_SHARE * 100} % of the peak or more) past P 1 of their own peak\n`,
  );
  for (const { grid, source } of past) {
    process.stdout.write(
      `${nameOf(grid)}: ${source.sourceId} (${source.what}) P ${source.errorP.toFixed(2)}, ` +
        `peak ${percent(source.shareOfPeak)} of the sum's\n`,
    );
  }
  process.stdout.write(
    failed.length === 0 ? `all within P ${GRID_P}\n` : `${failed.length} missed: ${failed.map(nameOf).join('; ')}\n`,
  );
  return failed.length === 0;
}

const points = only === 'grids' || provePoints();
const grids = only === 'points' || proveGrids();
process.exitCode = points && grids ? 0 : 1;
