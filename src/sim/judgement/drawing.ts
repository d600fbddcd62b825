/** Where the figures arise, for the drawings. */
import { localFromWorld } from '../../scene/geometry/frames';
import type { SunCheckDrawing } from '../results';
import type { CompiledSurface } from '../solve/compiled';
import type { Findings } from './findings';
import type { EdgeSample } from './shadowEdges';

/** Callouts of shadow edges that are drawn: the crispest, the middling and the softest. */
const SHOWN_EDGES = [0.1, 0.5, 0.9];

function shadowLines(edges: readonly EdgeSample[]): SunCheckDrawing['shadowLines'] {
  const lines = new Map<EdgeSample['edge'], EdgeSample[]>();
  for (const sample of edges) lines.set(sample.edge, [...(lines.get(sample.edge) ?? []), sample]);
  return [...lines.values()]
    .filter((samples) => samples.length > 1)
    .map((samples) => ({ aM: samples[0]!.shadowM, bM: samples[samples.length - 1]!.shadowM }));
}

function edgeCallouts(findings: Findings): SunCheckDrawing['edges'] {
  const all = [
    ...findings.edges.map((sample) => ({ ...sample, label: sample.edge.label })),
    ...findings.gate.map((sample) => ({ ...sample, label: "the lamp's own edge" })),
  ].filter((sample) => sample.ratio > 0);
  all.sort((a, b) => a.ratio - b.ratio);
  const chosen = new Set(SHOWN_EDGES.map((share) => Math.min(all.length - 1, Math.floor(share * all.length))));
  return [...chosen]
    .filter((index) => index >= 0)
    .map((index) => {
      const { shadowM, acrossM, widthM, sunWidthM, ratio, label } = all[index]!;
      return { atM: shadowM, acrossM, widthM, sunWidthM, ratio, label };
    });
}

export function drawingOf(surface: CompiledSurface, findings: Findings): SunCheckDrawing {
  const { patch, hotEnd, step } = findings;
  const { sums } = patch;
  const { right, up } = localFromWorld(surface.frame, patch.centroid);
  const grid = { columns: sums.columns, rows: sums.rows, ...sums.region };
  return {
    patchAreaM2: patch.totalAreaM2,
    fullRangeStops: findings.fullRangeStops,
    grid: { ...grid, lit: patch.lit, openLx: patch.openOfAllLx, visibility: patch.visibility },
    centroidM: [right, up],
    hot: hotEnd.hot,
    cold: hotEnd.cold,
    shadowLines: shadowLines(findings.edges),
    edges: edgeCallouts(findings),
    step:
      step?.from && step.to && step.stopsPer10cm > 0.005
        ? { aM: step.from, bM: step.to, stops: step.stopsPer10cm }
        : null,
    arrival: findings.arrival,
  };
}
