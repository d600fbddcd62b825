/** The judgement's figures of a changed rig, quickly: for the inner loop of a search, not for print. */
import type { Setup } from '../../scene/schema';
import { fanDeg } from '../judgement/fan';
import { fillShare } from '../judgement/fill';
import { ASSUMED_EDGE_M, gateEdges } from '../judgement/gateEdges';
import { hazeWedge } from '../judgement/haze';
import { lineFan } from '../judgement/lineFan';
import { limitsOf, type Scores } from '../judgement/limits';
import { findPatch, towardsSource, type Patch } from '../judgement/patch';
import { edgeFigures, scoreCheck } from '../judgement/scoring';
import { shadowEdges } from '../judgement/shadowEdges';
import { trimmedSpread } from '../judgement/statistics';
import { largestStep } from '../judgement/step';
import { playingLight } from '../judgement/sunPairs';
import { windowFigures } from '../judgement/windows';
import { toDegrees } from '../../scene/geometry/frames';
import { addScaled, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { compileScene } from '../solve/compileScene';
import { layersInLight } from '../solve/receivers';
import type { ScoredFigure, SunCheck } from '../results';
import { withSetup } from '../../scene/withSetup';
import { highestOf, patchMeanLx, sumOf, worstOf, type Situation } from './situation';
import type { Rank } from './search';

/** What moving, turning or exchanging a lamp changes. */
export const MOVED_FIGURES: readonly ScoredFigure[] = [
  'fallOff',
  'fan',
  'lineFan',
  'edge',
  'step',
  'fill',
  'windowSpread',
  'windowLevel',
  'height',
  'haze',
];

export interface Evaluation extends Rank {
  readonly scores: Scores;
  readonly meanLx: number;
  readonly falloffStops: number;
  readonly fanDeg: number;
  readonly lineFanDeg: number | null;
  readonly fill: number | null;
  /** Whether a mirror shows the light that plays the sun. */
  readonly isOffMirror: boolean;
  /** Median against the sun's, of the worst surface; null without edges. */
  readonly edgeRatio: number | null;
}

/** Fan of the arrival directions from the emitter's centre at the corners of the lit cells. */
function centreFan(source: CompiledSource, surface: CompiledSurface, patch: Patch): number {
  const { right, up } = surface.frame;
  const [halfWidth, halfHeight] = [patch.sums.cellWidthM / 2, patch.sums.cellHeightM / 2];
  const directions: Vec3[] = [];
  for (const point of patch.points) {
    for (const [x, y] of [
      [-1, -1],
      [1, -1],
      [-1, 1],
      [1, 1],
    ] as const) {
      const corner = addScaled(addScaled(point, right, x * halfWidth), up, y * halfHeight);
      directions.push(towardsSource(source, corner).direction);
    }
  }
  return fanDeg(directions);
}

function hazeOf(scene: CompiledScene, source: CompiledSource, patch: Patch): number | null {
  const index = patch.window.find((window) => window >= 0);
  const opening = index === undefined ? undefined : scene.openings[index];
  if (!opening) return null;
  const { planDeg, uprightDeg } = hazeWedge(source, opening);
  return Math.max(planDeg, uprightDeg);
}

/** The check before, with every figure that a move of the lamp changes taken anew on the quick grid. */
function quickCheck(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  before: SunCheck,
  patch: Patch,
): { check: SunCheck; scores: Scores } {
  const { story } = scene.document;
  const samples = shadowEdges(scene, source, surface, patch);
  const gate = gateEdges(scene, source, surface, patch, story?.edgeDistanceM ?? ASSUMED_EDGE_M);
  const shaded = layersInLight(scene, source).some((layer) => layer.role === 'shade');
  const altitudeDeg = toDegrees(Math.asin(towardsSource(source, patch.centroid).direction[2]));
  const check: SunCheck = {
    ...before,
    falloffStops: Math.max(0, trimmedSpread(patch.openLx.map(Math.log2), patch.areaM2)),
    fanDeg: centreFan(source, surface, patch),
    lineFanDeg: lineFan(source, surface, samples)?.lineFanDeg ?? null,
    stepStopsPer10cm: shaded ? (largestStep(patch)?.stopsPer10cm ?? null) : 0,
    fill: fillShare(scene, source, surface, patch.sums, 'quick'),
    altitudeOffDeg: before.altitudeOffDeg === null ? null : altitudeDeg - (story?.sun?.altitudeDeg ?? altitudeDeg),
    hazeDeg: hazeOf(scene, source, patch),
  };
  const edges = edgeFigures([...samples, ...gate]);
  check.edgeRatio = edges?.median ?? null;
  const windows = windowFigures(scene.openings, [{ source, surface, patch }]);
  if (before.windowSpreadDeg !== null && windows) {
    check.windowSpreadDeg = windows.spreadDeg;
    check.windowLevelStops = windows.levelStops;
  }
  return {
    check,
    scores: scoreCheck(check, edges, {
      barsMelt: patch.barsMelt,
      haze: story?.haze ?? false,
      limits: limitsOf(scene.document),
    }),
  };
}

/**
 * Figures and scores of a changed setup for the situation's lamp, on about 300 lit cells a surface.
 * @returns null where one of the surfaces gets no patch any more
 * @remarks Taken over from before the change: double shadows, colour, windows lit by several lamps. The fan is that of
 *   the emitter's centre. A mend that is offered is judged in full afterwards.
 */
export function evaluateSetup(situation: Situation, setup: Setup): Evaluation | null {
  situation.pace.check();
  const scene = compileScene(withSetup(situation.document, setup), setup.id);
  const all: { check: SunCheck; scores: Scores }[] = [];
  let meanLx = 0;
  let isOffMirror = false;
  for (const { pair, check } of situation.judged) {
    const surface = scene.surfaces.get(pair.surface.id)!;
    const source = playingLight(scene, situation.lampId, surface)!;
    const patch = findPatch(scene, source, surface, 'quick');
    if (typeof patch === 'string') return null;
    if (check === situation.main.check) {
      meanLx = patchMeanLx(patch);
      isOffMirror = source.image !== null;
    }
    all.push(quickCheck(scene, source, surface, check, patch));
  }
  const scores = worstOf(all.map((one) => one.scores));
  const worst = (key: 'falloffStops' | 'fanDeg' | 'lineFanDeg' | 'edgeRatio'): number | null => {
    const values = all.flatMap(({ check }) => (check[key] === null ? [] : [check[key]]));
    return values.length > 0 ? Math.max(...values) : null;
  };
  const fills = all.flatMap(({ check }) => (check.fill === null ? [] : [check.fill]));
  return {
    scores,
    meanLx,
    score: highestOf(scores, MOVED_FIGURES),
    sum: sumOf(scores),
    costStops: Math.log2(situation.meanLx / meanLx),
    pieces: 0,
    falloffStops: worst('falloffStops') ?? 0,
    fanDeg: worst('fanDeg') ?? 0,
    lineFanDeg: worst('lineFanDeg'),
    edgeRatio: worst('edgeRatio'),
    isOffMirror,
    fill: fills.length > 0 ? Math.min(...fills) : null,
  };
}
