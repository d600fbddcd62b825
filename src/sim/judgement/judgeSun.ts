/** Does the light of one lamp on one surface read as the sun: every figure, its score, the verdict. */
import { cctAndDuv, chromaticityOf } from '../colour/cct';
import { sunColour } from '../colour/sunlight';
import { directionToSun, toDegrees } from '../geometry/frames';
import { dot, type Vec3 } from '../geometry/vector';
import type { ScoredFigure, SunCheck, SunFigure } from '../results';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { apparentDistance } from './apparentDistance';
import { drawingOf } from './drawing';
import { fanDeg } from './fan';
import { fillShare } from './fill';
import { ASSUMED_EDGE_M, gateEdges, type GateSample } from './gateEdges';
import { cutBySurface } from './cutBySurface';
import { DEFAULT_LIMITS, DUV_LIMITS, scoreAgainst, scoreEdge, scoreShadows, verdictOf, type Scores } from './limits';
import { growthEnds, lineFan, type LineFan } from './lineFan';
import { arrivalDirections } from './arrivals';
import { findPatch, towardsSource, type Effort, type NoPatch, type Patch } from './patch';
import { hotEndOf } from './hotEnd';
import type { Findings } from './findings';
import { sentenceOf } from './sentence';
import { shadowCount } from './shadowCount';
import { shadowEdges, type EdgeSample } from './shadowEdges';
import { trimmedSpread, weightedQuantiles } from './statistics';
import { largestStep, type Step } from './step';

const LEAST_AREA_M2 = 0.01;
/** Growth that differs by more than this between the ends is named. */
const UNEVEN_GROWTH = 1.25;
const NOT_YET = 'not judged yet';

const NO_PATCH_WORDS: Record<NoPatch, string> = {
  behind: 'behind: the lamp does not shine towards this surface',
  hidden: 'hidden: nothing of the lamp reaches this surface past the set',
  diffused: 'diffused: no shaft, this is soft window light, not sun',
};

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

function findOut(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  patch: Patch,
  flags: string[],
): Findings {
  const logOpen = patch.openLx.map(Math.log2);
  const falloffStops = patch.cells.length > 1 ? Math.max(0, trimmedSpread(logOpen, patch.areaM2)) : 0;
  const { corners, middle } = arrivalDirections(scene, source, surface, patch);
  const edges = shadowEdges(scene, source, surface, patch);
  const growth = growthEnds(scene, source, patch);
  const story = storyEdge(scene, source, patch, growth);
  const gate = gateEdges(scene, source, surface, patch, story.edgeM);
  if (gate.length > 0 && story.assumed) flags.push('storyEdgeAssumed');
  return {
    patch,
    falloffStops,
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

function emptyCheck(surfaceId: string, sourceId: string): SunCheck {
  return {
    surfaceId,
    sourceId,
    falloffStops: null,
    hotEnd: null,
    apparentDistanceM: null,
    reversed: null,
    fanDeg: null,
    lineFanDeg: null,
    growthNear: null,
    growthFar: null,
    edgeRatio: null,
    stepStopsPer10cm: null,
    fill: null,
    shadowCount: null,
    altitudeOffDeg: null,
    windowSpreadDeg: null,
    windowLevelStops: null,
    overAmbienceStops: null,
    overKeyStops: null,
    cctOffMired: null,
    duvOff: null,
    hazeDeg: null,
    scores: {},
    verdict: 'notEnough',
    worst: null,
    confidence: null,
    flags: [],
    sentence: '',
    reasons: {},
    drawing: null,
  };
}

/** Length-weighted median ratio of the edges, and the score of the 90th percentile of their distance from 1, in stops. */
function edgeFigures(samples: readonly { ratio: number; weightM: number }[]): { median: number; score: number } | null {
  const sized = samples.filter((sample) => sample.ratio > 0);
  if (sized.length === 0) return null;
  const weights = sized.map((sample) => sample.weightM);
  const logs = sized.map((sample) => Math.log2(sample.ratio));
  const off = logs.map(Math.abs);
  const [median] = weightedQuantiles(logs, weights, [0.5]);
  const [tail] = weightedQuantiles(off, weights, [0.9]);
  // Softer or crisper: the side on which most of the tail lies.
  const side = logs.reduce((sum, log, i) => (off[i]! >= tail! * 0.999 ? sum + Math.sign(log) * weights[i]! : sum), 0);
  return { median: 2 ** median!, score: scoreEdge(2 ** (side < 0 ? -tail! : tail!)) };
}

/** Height and colour against the story's sun; null figures get their reasons. */
function judgeAgainstStory(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  arrival: Vec3,
  check: SunCheck,
): void {
  const sun = scene.document.story?.sun;
  const lampAltitudeDeg = toDegrees(Math.asin(Math.max(-1, Math.min(1, arrival[2]))));
  if (!sun) check.reasons.altitudeOffDeg = 'no story sun';
  else {
    const towards = directionToSun(sun.altitudeDeg, sun.azimuthDeg, scene.document.northDeg ?? 0);
    const reaches = sun.altitudeDeg > 0 && dot(towards, surface.frame.forward) > 0;
    if (reaches) check.altitudeOffDeg = lampAltitudeDeg - sun.altitudeDeg;
    else check.reasons.altitudeOffDeg = 'sun cannot reach: it is below the horizon or behind this surface';
  }
  const own = source.colour && cctAndDuv(chromaticityOf(source.colour));
  const sunAltitudeDeg = Math.max(0, sun && sun.altitudeDeg > 0 ? sun.altitudeDeg : lampAltitudeDeg);
  const sunlight = sunColour(sunAltitudeDeg);
  if (!own || !sunlight) {
    const reason = source.colour ? 'too far from white for a colour temperature' : 'this source states no colour';
    check.reasons.cctOffMired = reason;
    check.reasons.duvOff = reason;
    return;
  }
  check.cctOffMired = 1e6 / own.cctK - 1e6 / sunlight.cctK;
  check.duvOff = own.duv - sunlight.duv;
}

/** Scores of the figures that are scored; haze on, or things in the light, would score the larger of fan and line fan. */
export function scoreCheck(check: SunCheck, edgeScore: number | null, barsMelt: boolean, haze: boolean): Scores {
  const scores: Scores = {};
  const put = (figure: ScoredFigure, value: number | null, score: (value: number) => number) => {
    if (value !== null) scores[figure] = score(value);
  };
  const against = (figure: ScoredFigure) => (value: number) => scoreAgainst(value, DEFAULT_LIMITS[figure]);
  put('fallOff', check.falloffStops, against('fallOff'));
  if (check.lineFanDeg !== null) put('lineFan', check.lineFanDeg, against('lineFan'));
  if (check.lineFanDeg === null || (haze && (check.fanDeg ?? 0) > check.lineFanDeg))
    put('fan', check.fanDeg, against('fan'));
  if (edgeScore !== null) scores.edge = barsMelt ? Math.max(edgeScore, 2 + 1e-6) : edgeScore;
  put('step', check.stepStopsPer10cm, against('step'));
  put('fill', check.fill, (fill) => scoreAgainst(1 - fill, DEFAULT_LIMITS.fill));
  put('shadows', check.shadowCount, scoreShadows);
  put('height', check.altitudeOffDeg, (off) => scoreAgainst(Math.abs(off), DEFAULT_LIMITS.height));
  if (check.cctOffMired !== null && check.duvOff !== null) {
    const mired = scoreAgainst(Math.abs(check.cctOffMired), DEFAULT_LIMITS.colour);
    scores.colour = Math.max(mired, scoreAgainst(Math.abs(check.duvOff), DUV_LIMITS));
  }
  return scores;
}

function enter(check: SunCheck, findings: Findings, edge: ReturnType<typeof edgeFigures>): void {
  const { distance, lines, growth, step, reasons } = { ...findings, reasons: check.reasons };
  check.falloffStops = findings.falloffStops;
  check.hotEnd = findings.hotEnd.words;
  if (check.hotEnd === null) reasons.hotEnd = 'even';
  check.apparentDistanceM = distance.distanceM;
  if (distance.distanceM === null) reasons.apparentDistanceM = distance.reason;
  check.reversed = distance.reversed;
  if (distance.reversed === null) reasons.reversed = 'no apparent distance';
  check.fanDeg = findings.fan;
  check.lineFanDeg = lines?.lineFanDeg ?? null;
  if (lines === null) reasons.lineFanDeg = 'fewer than two parallel edges';
  check.growthNear = growth?.near ?? null;
  check.growthFar = growth?.far ?? null;
  if (growth === null) reasons.growthNear = reasons.growthFar = 'no set edge in the light';
  check.edgeRatio = edge?.median ?? null;
  if (edge === null) {
    const pointed = findings.edges.length > 0;
    reasons.edgeRatio = pointed ? 'a point has no width: give the lamp its lens' : 'no edge on the patch';
  }
  check.stepStopsPer10cm = step?.stopsPer10cm ?? null;
  if (step === null) reasons.stepStopsPer10cm = 'no pane is 2 cm wide';
  check.fill = findings.fill;
  if (findings.fill === null) reasons.fill = 'no opening';
  check.shadowCount = findings.shadows;
}

/** Figures that later work will fill; they are never guessed. */
const LATER: readonly SunFigure[] = [
  'windowSpreadDeg',
  'windowLevelStops',
  'overAmbienceStops',
  'overKeyStops',
  'hazeDeg',
];

/**
 * Judges the light of one source on one surface against the sun.
 * @returns all figures; those that are undefined are null with a reason. Levels do not enter: a lamp that is off is
 *   judged as if it were on (flag `off`).
 * @remarks Left out so far: several windows, levels over ambience and key, haze, confidence.
 */
export function judgeSun(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  effort: Effort = 'full',
): SunCheck {
  const check = emptyCheck(surface.id, source.id);
  for (const figure of LATER) check.reasons[figure] = NOT_YET;
  if (source.level === 0) check.flags.push('off');
  const patch = findPatch(scene, source, surface, effort);
  if (typeof patch === 'string') {
    const reason = NO_PATCH_WORDS[patch];
    for (const figure of Object.keys(check) as SunFigure[]) {
      if (check[figure] === null && check.reasons[figure] === undefined) check.reasons[figure] = reason;
    }
    check.flags.push(patch);
    check.sentence = sentenceOf(scene, check, null);
    return check;
  }
  const findings = findOut(scene, source, surface, patch, check.flags);
  const edge = edgeFigures([...findings.edges, ...findings.gate]);
  enter(check, findings, edge);
  judgeAgainstStory(scene, source, surface, findings.arrival, check);
  flagPatch(scene, source, surface, findings, check);
  const haze = scene.document.story?.haze ?? false;
  const tooSmall = check.flags.includes('tooSmall');
  check.scores = tooSmall ? {} : scoreCheck(check, edge?.score ?? null, patch.barsMelt, haze);
  Object.assign(check, verdictOf(check.scores));
  check.sentence = sentenceOf(scene, check, findings);
  check.drawing = drawingOf(surface, findings);
  return check;
}

function flagPatch(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  { patch, growth }: Findings,
  check: SunCheck,
): void {
  if (patch.totalAreaM2 < LEAST_AREA_M2 || patch.cells.length < 2) check.flags.push('tooSmall');
  if (patch.barsMelt) check.flags.push('barsMelt');
  if (check.reversed) check.flags.push('reversed');
  if (growth && growth.far / growth.near > UNEVEN_GROWTH) check.flags.push('unevenGrowth');
  if (cutBySurface(scene, source, surface)) check.flags.push('cutBySurface');
}
