/** Does the light of one lamp on one surface read as the sun: every figure, its score, the verdict. */
import { miredFromKelvin } from '../../scene/units/convert';
import { cctAndDuv, chromaticityOf } from '../colour/cct';
import { sunColour } from '../colour/sunlight';
import { directionToSun, toDegrees } from '../../scene/geometry/frames';
import { dot } from '../../scene/geometry/vector';
import { SUN_FIGURES, type SunCheck } from '../results';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { colourBehindGels } from '../solve/solvePoint';
import { confidenceOf, doubtsOf } from './confidence';
import { cutBySurface } from './cutBySurface';
import { drawingOf } from './drawing';
import type { Findings } from './findings';
import { findOut } from './findOut';
import { hazeWedge } from './haze';
import { judgeLevels } from './levels';
import { limitsOf, verdictOf } from './limits';
import { findPatch, type Effort, type NoPatch } from './patch';
import { edgeFigures, scoreCheck, type EdgeFigures } from './scoring';
import { sentenceOf } from './sentence';
import type { SunPair } from './sunPairs';
import { windowFigures, type JudgedPatch } from './windows';

const LEAST_AREA_M2 = 0.01;
/** Growth that differs by more than this between the ends is named. */
const UNEVEN_GROWTH = 1.25;

const NO_PATCH_WORDS: Record<NoPatch, string> = {
  behind: 'behind: the lamp does not shine towards this surface',
  hidden: 'hidden: nothing of the lamp reaches this surface past the set',
  diffused: 'diffused: no shaft, this is soft window light, not sun',
};

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
    doubts: [],
    flags: [],
    sentence: '',
    reasons: {},
    drawing: null,
  };
}

/** Height and colour (behind the gels in its light, at the patch's centroid) against the story's sun; null figures get their reasons. */
function judgeAgainstStory(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  { arrival, patch: { centroid } }: Findings,
  check: SunCheck,
): { lampMired: number | null; sunMired: number | null } {
  const sun = scene.document.story?.sun;
  const lampAltitudeDeg = toDegrees(Math.asin(Math.max(-1, Math.min(1, arrival[2]))));
  if (!sun) check.reasons.altitudeOffDeg = 'no story sun';
  else {
    const towards = directionToSun(sun.altitudeDeg, sun.azimuthDeg, scene.document.northDeg ?? 0);
    const reaches = sun.altitudeDeg > 0 && dot(towards, surface.frame.forward) > 0;
    if (reaches) check.altitudeOffDeg = lampAltitudeDeg - sun.altitudeDeg;
    else check.reasons.altitudeOffDeg = 'sun cannot reach: it is below the horizon or behind this surface';
  }
  const colour = colourBehindGels(scene, source, centroid, surface.frame.forward);
  const own = colour && cctAndDuv(chromaticityOf(colour));
  const sunAltitudeDeg = Math.max(0, sun && sun.altitudeDeg > 0 ? sun.altitudeDeg : lampAltitudeDeg);
  const sunlight = sunColour(sunAltitudeDeg);
  if (!own || !sunlight) {
    const reason = source.colour ? 'too far from white for a colour temperature' : 'this source states no colour';
    check.reasons.cctOffMired = reason;
    check.reasons.duvOff = reason;
    return { lampMired: null, sunMired: null };
  }
  const [lampMired, sunMired] = [miredFromKelvin(own.cctK), miredFromKelvin(sunlight.cctK)];
  check.cctOffMired = lampMired - sunMired;
  check.duvOff = own.duv - sunlight.duv;
  return { lampMired, sunMired };
}

function enter(check: SunCheck, findings: Findings, edge: EdgeFigures | null): void {
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
  check.shadowCount = findings.shadows.count;
}

function noPatch(scene: CompiledScene, check: SunCheck, why: NoPatch): SunCheck {
  for (const figure of SUN_FIGURES) check.reasons[figure] = NO_PATCH_WORDS[why];
  check.flags.push(why);
  check.sentence = sentenceOf(scene, check, null);
  return check;
}

/** Wedge in haze of the window that lets the most light through; null without windows. */
function judgeHaze(scene: CompiledScene, { source, patch }: JudgedPatch, check: SunCheck): void {
  const areas = new Map<number, number>();
  patch.window.forEach((window, i) => {
    if (window >= 0) areas.set(window, (areas.get(window) ?? 0) + patch.areaM2[i]!);
  });
  const [largest] = [...areas].sort((a, b) => b[1] - a[1])[0] ?? [];
  const opening = largest === undefined ? undefined : scene.openings[largest];
  if (!opening) check.reasons.hazeDeg = 'no opening';
  else {
    const { planDeg, uprightDeg } = hazeWedge(source, opening);
    check.hazeDeg = Math.max(planDeg, uprightDeg);
  }
}

/** One pair half judged: its own figures are in, those that need the other pairs and the scores are not. */
interface Examined {
  readonly check: SunCheck;
  readonly judged: JudgedPatch;
  readonly findings: Findings;
  readonly edge: EdgeFigures | null;
  readonly mired: { lampMired: number | null; sunMired: number | null };
}

function examine(scene: CompiledScene, pair: SunPair, effort: Effort): Examined | SunCheck {
  const { source, surface } = pair;
  const check = emptyCheck(surface.id, source.id);
  if (source.level === 0) check.flags.push('off');
  const patch = findPatch(scene, source, surface, effort);
  if (typeof patch === 'string') return noPatch(scene, check, patch);
  const judged = { source, surface, patch };
  const findings = findOut(scene, source, surface, patch, check.flags);
  const edge = edgeFigures([...findings.edges, ...findings.gate]);
  enter(check, findings, edge);
  const mired = judgeAgainstStory(scene, source, surface, findings, check);
  judgeLevels(scene, judged, check);
  judgeHaze(scene, judged, check);
  flagPatch(scene, source, surface, findings, check);
  return { check, judged, findings, edge, mired };
}

function conclude(scene: CompiledScene, examined: Examined): SunCheck {
  const { check, judged, findings, edge, mired } = examined;
  const { patch, source, surface } = judged;
  const haze = scene.document.story?.haze ?? false;
  check.scores = check.flags.includes('tooSmall')
    ? {}
    : scoreCheck(check, edge, { barsMelt: patch.barsMelt, haze, limits: limitsOf(scene.document) });
  Object.assign(check, verdictOf(check.scores));
  const { dimmer, brighter } = findings.shadows;
  const edgeTail = edge?.tail ?? null;
  check.doubts = doubtsOf(check, {
    scene,
    source,
    findings,
    edgeTail,
    shadowsAtEnds: [dimmer, brighter],
    ...mired,
  });
  check.confidence = confidenceOf(check, check.doubts);
  check.sentence = sentenceOf(scene, check, findings);
  check.drawing = drawingOf(surface, findings);
  return check;
}

/**
 * Judges the light of sources on surfaces against the sun, together: windows are compared over all of them.
 * @returns a check for each pair; figures that are undefined are null with a reason. Levels do not enter but where they
 *   are compared: a lamp that is off is judged as if it were on (flag `off`).
 * @remarks Left out: light sent on by diffusion and bounce; ambience from the room's own surfaces.
 */
export function judgePairs(scene: CompiledScene, pairs: readonly SunPair[], effort: Effort = 'full'): SunCheck[] {
  const all = pairs.map((pair) => examine(scene, pair, effort));
  const examined = all.filter((one): one is Examined => 'judged' in one);
  const windows = windowFigures(
    scene.openings,
    examined.map(({ judged }) => judged),
  );
  return all.map((one) => {
    if (!('judged' in one)) return one;
    one.check.windowSpreadDeg = windows?.spreadDeg ?? null;
    one.check.windowLevelStops = windows?.levelStops ?? null;
    if (windows === null)
      one.check.reasons.windowSpreadDeg = one.check.reasons.windowLevelStops = 'fewer than two windows';
    return conclude(scene, one);
  });
}

/** Judges one source on one surface by itself; see `judgePairs`. */
export function judgeSun(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  effort: Effort = 'full',
): SunCheck {
  return judgePairs(scene, [{ source, surface }], effort)[0]!;
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
