/**
 * Speed and error of the light kernel on W1 to W4. Options: `--only W1,W3`; `--json` prints JSON alone; `--write` keeps
 * the ratios in tests/bench/baseline.json. Rows are {id, medianMs, p95Ms, errorP, ratioToSampled}: the error against the
 * converged kernel, and how many times longer the plain sampled integrator takes at the fewest samples that reach P <= 1.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { errorP, probeP, solveWorkload, CONVERGED } from '../tests/bench/errorP';
import { sampledLx } from '../tests/bench/sampled';
import { rowOf, workloadOf } from '../tests/bench/tiltedRoom';
import type { Workload } from '../tests/bench/workload';
import { planeOfSurface } from '../src/sim/solve/receivers';

const ALL = ['W1', 'W2', 'W3', 'W4'];
const RUNS = 11;
const BASELINE = new URL('../tests/bench/baseline.json', import.meta.url);
/** Loss of the ratio to the sampled peer that is reported. */
const LOSS = 0.15;
/** Receivers at which the peer is timed and judged; its time goes with their number. */
const PEER_RECEIVERS = 256;
const MOST_SAMPLES = 4096;

interface Row {
  readonly id: string;
  readonly medianMs: number;
  readonly p95Ms: number;
  readonly errorP: number;
  readonly probeP: number | null;
  readonly ratioToSampled: number;
  readonly samples: number;
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

/** Time of the sampled peer for the whole grid, ms, at the fewest samples whose P is at most 1 on a spread of receivers. */
function sampledPeer(workload: Workload, reference: Float32Array): { ms: number; samples: number } {
  const { scene, surfaceId, columns, rows } = workload;
  const surface = scene.surfaces.get(surfaceId)!;
  const plane = planeOfSurface(surface);
  const cells = columns * rows;
  const chosen = Array.from({ length: PEER_RECEIVERS }, (_, i) => Math.floor(((i * 0.6180339887498949) % 1) * cells));
  const places = chosen.map((cell): [number, number] => [
    (((cell % columns) + 0.5) * surface.bounds.widthM) / columns,
    ((Math.floor(cell / columns) + 0.5) * surface.bounds.heightM) / rows,
  ]);
  const peak = reference.reduce((most, value) => Math.max(most, value), 0);
  for (let samples = 16; ; samples *= 2) {
    const start = performance.now();
    const sums = new Float64Array(places.length);
    for (const source of scene.sources) {
      sampledLx(source, scene.layers, plane, places, samples).forEach((lux, i) => (sums[i]! += source.level * lux));
    }
    const ms = ((performance.now() - start) * cells) / PEER_RECEIVERS;
    const worst = chosen.reduce((most, cell, i) => {
      const allowed = Math.max(0.01 * reference[cell]!, 0.005 * peak);
      return Math.max(most, Math.abs(sums[i]! - reference[cell]!) / allowed);
    }, 0);
    const allPoints = scene.sources.every((source) => source.shape.kind === 'point');
    if (worst <= 1 || samples >= MOST_SAMPLES || allPoints) return { ms, samples: allPoints ? 1 : samples };
  }
}

function measure(id: string): Row {
  const workload = workloadOf(id);
  const result = solveWorkload(workload);
  timed(workload, 4);
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
  };
}

/** Time against the number of sources, of modifiers that do not overlap, and of cells a side. */
function growth(): { of: string; count: number; medianMs: number }[] {
  const point = (of: string, count: number, workload: Workload) => {
    timed(workload, 2);
    return { of, count, medianMs: quantile(timed(workload, 5), 0.5) };
  };
  return [
    ...[1, 4, 16, 64].map((count) => point('sources', count, rowOf(count, 8, 128))),
    ...[1, 4, 16, 64, 256].map((count) => point('modifiers', count, rowOf(1, count, 256))),
    ...[64, 128, 256, 512, 1024].map((count) => point('cells a side', count, rowOf(1, 16, count))),
  ];
}

const at = process.argv.indexOf('--only');
const only = at < 0 ? ALL : (process.argv[at + 1] ?? '').split(',');
const unknown = only.filter((id) => !ALL.includes(id));
if (unknown.length > 0) {
  process.stderr.write(`no workload ${unknown.join(', ')}; there are ${ALL.join(', ')}\n`);
  process.exit(2);
}
const json = process.argv.includes('--json');
const rows = only.map(measure);
const series = at < 0 ? growth() : [];
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

if (json) process.stdout.write(`${JSON.stringify({ rows, growth: series, peakMemoryMb, losses })}\n`);
else {
  for (const row of rows) {
    process.stdout.write(
      `${row.id}  ${row.medianMs.toFixed(1)} ms (p95 ${row.p95Ms.toFixed(1)})  P ${row.errorP.toFixed(2)}  ` +
        `published P ${row.probeP?.toFixed(2) ?? '-'}  ${row.ratioToSampled.toFixed(0)} x sampled (${row.samples})\n`,
    );
  }
  for (const { of, count, medianMs } of series) process.stdout.write(`${count} ${of}: ${medianMs.toFixed(1)} ms\n`);
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
