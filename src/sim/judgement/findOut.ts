/** Measures one patch: everything that the figures are made of. */
import { rangeStops, trimmedSpread } from './statistics';
import { apparentDistance } from './apparentDistance';
import { arrivalDirections } from './arrivals';
import { fanDeg } from './fan';
import { fillShare } from './fill';
import type { Findings } from './findings';
import type { JudgementFlag } from './flagWords';
import { ASSUMED_EDGE_M, gateEdges } from './gateEdges';
import { hotEndOf } from './hotEnd';
import { growthEnds, lineFan } from './lineFan';
import { towardsSource, type Patch } from './patch';
import { shadowCount } from './shadowCount';
import { shadowEdges } from './shadowEdges';
import { largestStep } from './step';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';

/** Distance of the edge that the story has there: typed, else the nearest window on the way, else assumed; m. */
function storyEdge(
  scene: CompiledScene,
  source: CompiledSource,
  patch: Patch,
  growth: Findings['growth'],
): { edgeM: number; assumed: boolean } {
  const typed = scene.document.story?.edgeDistanceM;
  if (typed !== undefined) return { edgeM: typed, assumed: false };
  const { distanceM } = towardsSource(source, patch.centroid);
  // At growth g = (a + b)/a over a distance a + b the edge is b = (a + b)(1 - 1/g) from the surface.
  if (growth && Number.isFinite(distanceM)) {
    return { edgeM: distanceM * (1 - 2 / (growth.near + growth.far)), assumed: false };
  }
  return { edgeM: ASSUMED_EDGE_M, assumed: true };
}

export function findOut(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  patch: Patch,
  flags: JudgementFlag[],
): Findings {
  const logOpen = patch.openLx.map(Math.log2);
  const falloffStops = patch.cells.length > 1 ? Math.max(0, trimmedSpread(logOpen, patch.areaM2)) : 0;
  const { corners, openLx, middle } = arrivalDirections(scene, source, surface, patch);
  const edges = shadowEdges(scene, source, surface, patch);
  const growth = growthEnds(scene, source, patch);
  const story = storyEdge(scene, source, patch, growth);
  const gate = gateEdges(scene, source, surface, patch, story.edgeM);
  if (gate.length > 0 && story.assumed) flags.push('storyEdgeAssumed');
  return {
    patch,
    falloffStops,
    fullRangeStops: rangeStops([...logOpen, ...openLx.map(Math.log2)]),
    hotEnd: hotEndOf(scene, surface, patch, logOpen),
    distance: apparentDistance(patch.points, patch.areaM2, logOpen, falloffStops, patch.centroid, middle),
    fan: source.shape.kind === 'sun' ? 0 : fanDeg(corners),
    lines: lineFan(source, surface, edges),
    growth,
    edges,
    gate,
    step: largestStep(patch),
    fill: fillShare(scene, source, surface, patch.sums, patch.effort),
    shadows: shadowCount(scene, source, surface, patch),
    arrival: middle,
  };
}
