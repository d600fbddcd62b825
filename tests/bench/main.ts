/**
 * Speed and error of the light kernel on W1 to W4, and what the screens do with a large scene. Options: `--only W1,large`; `--json` prints JSON alone; `--write` keeps
 * the ratios in tests/bench/baseline.json. Rows are {id, medianMs, p95Ms, errorP, ratioToSampled}: the error against the
 * converged kernel, and how many times longer the plain sampled integrator takes at the fewest samples that reach P <= 1.
 * Beside the rows: growth with sources, things and cells, cold starts of a worker, and the peak memory of the process.
 *
 * The sampled peer would take minutes on a whole grid, so it runs on receivers spread over the grid. It is judged on these
 * alone, which asks less of it than the kernel's every receiver: the ratio is a lower bound. Its time is taken times the
 * number of receivers; `extrapolationError` is how far that misses on the whole grid at a few samples, in the same run.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { coldStarts } from './coldStart';
import { errorP, probeP, solveWorkload, CONVERGED } from './errorP';
import { largeWork } from './largeWork';
import { sampledLx } from './sampled';
import { rowOf, workloadOf } from './tiltedRoom';
import type { Workload } from './workload';
import { planeOfSurface } from '../../src/sim/solve/receivers';

const KERNEL = ['W1', 'W2', 'W3', 'W4'];
const ALL = [...KERNEL, 'large'];
const RUNS = 11;
/** Runs before those that are timed, and for how long at least: an engine compiles what runs often, but not at once. */
const WARM_RUNS = 4;
const WARM_MS = 600;
const [LARGE_WARM_UP, LARGE_RUNS] = [10, 31];
const BASELINE = new URL('baseline.json', import.meta.url);
/** Loss of the ratio to the sampled peer that is reported. */
const LOSS = 0.15;
/** Receivers at which the peer is timed and judged. */
const PEER_RECEIVERS = 256;
const MOST_SAMPLES = 4096;
/** Samples at which the whole grid is timed beside the chosen receivers. */
const FEW_SAMPLES = 2;
const COLD_STARTS = 7;

interface Row {
  readonly id: string;
  readonly medianMs: number;
  readonly p95Ms: number;
  readonly errorP: number;
  readonly probeP: number | null;
  readonly ratioToSampled: number;
  readonly samples: number;
  readonly extrapolationError: number;
}
interface Growth {
  readonly of: string;
  readonly count: number;
  readonly medianMs: number;
  readonly p95Ms: number;
  /** Power of the count with which time has grown since the first of the series; null at the first. */
  readonly power: number | null;
}

const quantile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))]!;

function timed(workload: Workload, runs: number): number[] {
  return Array.from({ length: runs }, () => {
    const start = performance.now();
    solveWorkload(workload);
    return performance.now() - start;
  });
}

type Place = readonly [x: number, y: number];

/** The plain sampled sum of all sources at some places, and the time that it takes. */
function sampledSum({ scene, surfaceId }: Workload, places: readonly Place[], samples: number) {
  const plane = planeOfSurface(scene.surfaces.get(surfaceId)!);
  const start = performance.now();
  const sums = new Float64Array(places.length);
  for (const source of scene.sources) {
    sampledLx(source, scene.layers, plane, places, samples).forEach((lux, i) => (sums[i]! += source.level * lux));
  }
  return { sums, ms: performance.now() - start };
}

interface Peer {
  /** For the whole grid, at the fewest samples whose P is at most 1 on the chosen receivers. */
  readonly ms: number;
  readonly samples: number;
  readonly extrapolationError: number;
}

function sampledPeer(workload: Workload, reference: Float32Array): Peer {
  const { scene, surfaceId, columns, rows } = workload;
  const { bounds } = scene.surfaces.get(surfaceId)!;
  const cells = columns * rows;
  const placeOf = (cell: number): Place => [
    (((cell % columns) + 0.5) * bounds.widthM) / columns,
    ((Math.floor(cell / columns) + 0.5) * bounds.heightM) / rows,
  ];
  const all = Array.from({ length: cells }, (_, cell) => placeOf(cell));
  // One ray reaches a point source: then the whole grid is timed as it is.
  if (scene.sources.every((source) => source.shape.kind === 'point')) {
    sampledSum(workload, all, 1);
    return { ms: sampledSum(workload, all, 1).ms, samples: 1, extrapolationError: 0 };
  }
  const chosen = Array.from({ length: PEER_RECEIVERS }, (_, i) => Math.floor(((i * 0.6180339887498949) % 1) * cells));
  const places = chosen.map(placeOf);
  const scaled = (ms: number): number => (ms * cells) / PEER_RECEIVERS;
  const whole = sampledSum(workload, all, FEW_SAMPLES).ms;
  const few = quantile(
    Array.from({ length: RUNS }, () => scaled(sampledSum(workload, places, FEW_SAMPLES).ms)),
    0.5,
  );
  const peak = reference.reduce((most, value) => Math.max(most, value), 0);
  for (let samples = 16; ; samples *= 2) {
    const { sums, ms } = sampledSum(workload, places, samples);
    const worst = chosen.reduce((most, cell, i) => {
      const allowed = Math.max(0.01 * reference[cell]!, 0.005 * peak);
      return Math.max(most, Math.abs(sums[i]! - reference[cell]!) / allowed);
    }, 0);
    if (worst <= 1 || samples >= MOST_SAMPLES) return { ms: scaled(ms), samples, extrapolationError: few / whole - 1 };
  }
}

function measure(id: string): Row {
  const workload = workloadOf(id);
  const result = solveWorkload(workload);
  warmUp(workload);
  const times = timed(workload, RUNS);
  const reference = solveWorkload(workload, CONVERGED).illuminanceLx;
  const peer = sampledPeer(workload, reference);
  const medianMs = quantile(times, 0.5);
  return {
    id,
    medianMs,
    p95Ms: quantile(times, 0.95),
    errorP: errorP(result.illuminanceLx, reference),
    probeP: probeP(workload, result.illuminanceLx),
    ratioToSampled: peer.ms / medianMs,
    samples: peer.samples,
    extrapolationError: peer.extrapolationError,
  };
}

/** Time against the number of sources, of things that do not overlap, and of cells a side. */
/** Until the engine has compiled what it will. */
function warmUp(workload: Workload): void {
  const start = performance.now();
  for (let run = 0; run < WARM_RUNS || performance.now() - start < WARM_MS; run++) solveWorkload(workload);
}

function growth(): Growth[] {
  const series = (of: string, counts: readonly number[], workloadAt: (count: number) => Workload): Growth[] => {
    const made: Growth[] = [];
    for (const count of counts) {
      const workload = workloadAt(count);
      timed(workload, 3);
      const times = timed(workload, RUNS);
      const medianMs = quantile(times, 0.5);
      const [first] = made;
      const power = first ? Math.log(medianMs / first.medianMs) / Math.log(count / first.count) : null;
      made.push({ of, count, medianMs, p95Ms: quantile(times, 0.95), power });
    }
    return made;
  };
  return [
    ...series('sources', [1, 4, 16, 64], (count) => rowOf(count, 8, 128)),
    ...series('modifiers', [1, 4, 16, 64, 256], (count) => rowOf(1, count, 256)),
    ...series(
      'cells',
      [64, 128, 256, 512, 1024].map((side) => side * side),
      (cells) => rowOf(1, 16, Math.sqrt(cells)),
    ),
  ];
}

interface LargeRow {
  readonly name: string;
  readonly medianMs: number;
  readonly p95Ms: number;
  /** Made from all results. */
  readonly sum: number;
}

/** What the screens do with 200 walls, 60 lamps and 200 pieces. */
function largeRows(): LargeRow[] {
  return largeWork().map(({ name, run }) => {
    let sum = 0;
    const times = Array.from({ length: LARGE_RUNS + LARGE_WARM_UP }, (_, round) => {
      const start = performance.now();
      sum += run(round);
      return performance.now() - start;
    }).slice(LARGE_WARM_UP);
    return { name, medianMs: quantile(times, 0.5), p95Ms: quantile(times, 0.95), sum };
  });
}

const at = process.argv.indexOf('--only');
const only = at < 0 ? ALL : (process.argv[at + 1] ?? '').split(',');
const unknown = only.filter((id) => !ALL.includes(id));
if (unknown.length > 0) {
  process.stderr.write(`no workload ${unknown.join(', ')}; there are ${ALL.join(', ')}\n`);
  process.exit(2);
}
const json = process.argv.includes('--json');
const rows = only.filter((id) => KERNEL.includes(id)).map(measure);
const large = only.includes('large') ? largeRows() : [];
const series = at < 0 ? growth() : [];
const cold = at < 0 ? await coldStarts(COLD_STARTS) : [];
const peakMemoryMb = process.resourceUsage().maxRSS / 1024;
let baseline: Record<string, number> = {};
try {
  baseline = JSON.parse(readFileSync(BASELINE, 'utf8')) as Record<string, number>;
} catch (error) {
  if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
}
const losses = rows
  .filter(({ id, ratioToSampled }) => ratioToSampled < (1 - LOSS) * (baseline[id] ?? 0))
  .map(({ id, ratioToSampled }) => ({ id, ratioToSampled, baseline: baseline[id]! }));

if (json)
  process.stdout.write(`${JSON.stringify({ rows, growth: series, large, coldStarts: cold, peakMemoryMb, losses })}\n`);
else {
  for (const row of rows) {
    process.stdout.write(
      `${row.id}  ${row.medianMs.toFixed(1)} ms (p95 ${row.p95Ms.toFixed(1)})  P ${row.errorP.toFixed(2)}  ` +
        `published P ${row.probeP?.toFixed(2) ?? '-'}  ${row.ratioToSampled.toFixed(0)} x sampled (${row.samples}, ` +
        `extrapolated within ${(100 * Math.abs(row.extrapolationError)).toFixed(0)} %)\n`,
    );
  }
  for (const { of, count, medianMs, power } of series) {
    process.stdout.write(
      `${count} ${of}: ${medianMs.toFixed(1)} ms${power === null ? '' : `, power ${power.toFixed(2)}`}\n`,
    );
  }
  for (const { name, medianMs, p95Ms } of large) {
    process.stdout.write(`large scene, ${name}: ${medianMs.toFixed(2)} ms (p95 ${p95Ms.toFixed(2)})\n`);
  }
  if (cold.length > 0) {
    const median = (of: 'fromMessageMs' | 'fromThreadMs') =>
      quantile(
        cold.map((one) => one[of]),
        0.5,
      ).toFixed(0);
    process.stdout.write(
      `cold worker: ${median('fromMessageMs')} ms from its first message to 64 x 64 layers, ` +
        `${median('fromThreadMs')} ms from the start of its thread\n`,
    );
  }
  process.stdout.write(`peak memory ${peakMemoryMb.toFixed(0)} MB\n`);
  process.stdout.write('the published tube is a flat ribbon, ours a round tube: up to 0.6 % of its peak apart\n');
  for (const { id, ratioToSampled, baseline: before } of losses) {
    process.stdout.write(`LOSS ${id}: ${ratioToSampled.toFixed(0)} x sampled, was ${before.toFixed(0)}\n`);
  }
}
if (process.argv.includes('--write')) {
  const kept = {
    ...baseline,
    ...Object.fromEntries(rows.map((row) => [row.id, Number(row.ratioToSampled.toFixed(1))])),
  };
  writeFileSync(BASELINE, `${JSON.stringify(kept, null, 2)}\n`);
}
