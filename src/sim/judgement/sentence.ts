/** The verdict in one plain sentence: the tell, where, how much, what it looks like. */
import { localFromWorld } from '../geometry/frames';
import { distance, type Vec3 } from '../geometry/vector';
import type { ScoredFigure, SunCheck } from '../results';
import type { CompiledScene, CompiledSurface } from '../solve/compiled';
import type { Findings } from './judgeSun';
import { DEFAULT_LIMITS, severalSmallTells } from './limits';
import type { Patch } from './patch';
import { weightedQuantiles } from './statistics';

/** A patch is even below this, stops. */
const EVEN_STOPS = 0.02;
/** The hot end is "the window end" where the cold end is this much farther from the window. */
const NEARER = 1.2;

type Place = readonly [right: number, up: number];
export interface HotEnd {
  readonly words: string | null;
  readonly hot: { readonly atM: Place; readonly illuminanceLx: number };
  readonly cold: { readonly atM: Place; readonly illuminanceLx: number };
}

/** Middle of the cells in the hottest or coldest twentieth of the patch, and one cell at that percentile. */
function endOf(surface: CompiledSurface, patch: Patch, logOpen: Float64Array, hot: boolean) {
  const [limit, spot] = weightedQuantiles(logOpen, patch.areaM2, hot ? [0.95, 0.99] : [0.05, 0.01]);
  let [x, y, n] = [0, 0, 0];
  let nearest = 0;
  logOpen.forEach((value, i) => {
    if (Math.abs(value - spot!) < Math.abs(logOpen[nearest]! - spot!)) nearest = i;
    if (hot ? value < limit! : value > limit!) return;
    const { right, up } = localFromWorld(surface.frame, patch.points[i]!);
    x += right;
    y += up;
    n++;
  });
  const { right, up } = localFromWorld(surface.frame, patch.points[nearest]!);
  return {
    middle: [x / n, y / n] as Place,
    point: patch.points[nearest]!,
    atM: [right, up] as Place,
    illuminanceLx: patch.openLx[nearest]!,
  };
}

/** The hot and the cold end of a patch, and the hot end's name as the crew would say it; null where it is even. */
export function hotEndOf(scene: CompiledScene, surface: CompiledSurface, patch: Patch, logOpen: Float64Array): HotEnd {
  const [hot, cold] = [endOf(surface, patch, logOpen, true), endOf(surface, patch, logOpen, false)];
  const even = Math.log2(hot.illuminanceLx / cold.illuminanceLx) < EVEN_STOPS;
  return { words: even ? null : endWords(scene, surface, patch, hot, cold), hot, cold };
}

function endWords(
  scene: CompiledScene,
  surface: CompiledSurface,
  patch: Patch,
  hot: { middle: Place; point: Vec3 },
  cold: { middle: Place; point: Vec3 },
): string {
  const opening = scene.openings[patch.window.find((index) => index >= 0) ?? -1];
  if (opening && opening.surfaceId !== surface.id) {
    const near = (point: Vec3) => Math.min(...opening.corners.map((corner) => distance(corner, point)));
    if (near(cold.point) > NEARER * near(hot.point)) return 'window end';
  }
  const [dx, dy] = [hot.middle[0] - cold.middle[0], hot.middle[1] - cold.middle[1]];
  if (Math.abs(dx) >= Math.abs(dy)) return dx > 0 ? 'right end' : 'left end';
  return dy > 0 ? 'top' : 'foot';
}

const oneDecimal = (value: number): string => value.toFixed(1);
const metres = (value: number): string => (value < 9.95 ? value.toFixed(1) : value.toFixed(0));
const degrees = (value: number): string => `${value.toFixed(0)}°`;

const FIGURE_WORDS: Record<ScoredFigure, string> = {
  fallOff: 'fall-off',
  fan: 'fan',
  lineFan: 'line fan',
  edge: 'edge',
  step: 'step',
  fill: 'fill',
  shadows: 'shadows',
  height: 'height',
  windowSpread: 'several windows, direction',
  windowLevel: 'several windows, level',
  colour: 'colour',
  haze: 'haze',
};

function fallOffSentence(check: SunCheck, wall: string): string {
  const by = `${oneDecimal(check.falloffStops!)} ${check.falloffStops! < 1.05 && check.falloffStops! >= 0.95 ? 'stop' : 'stops'}`;
  const where = check.hotEnd ? `The ${check.hotEnd} of ${wall}` : `One end of ${wall}`;
  if (check.reversed) return `${where} is ${by} hotter: the far end has been made brighter than the near one.`;
  if (check.apparentDistanceM === null) return `${where} is ${by} hotter than the other end.`;
  return `${where} is ${by} hotter than the other end: it falls off like a source ${metres(check.apparentDistanceM)} m away.`;
}

function edgeSentence(check: SunCheck): string {
  const ratio = check.edgeRatio!;
  if (ratio >= 1) return `The shadow edges are ${oneDecimal(ratio)} times as soft as the sun's.`;
  return `The shadow edges are ${oneDecimal(1 / ratio)} times as hard as the sun's.`;
}

function tell(worst: ScoredFigure, check: SunCheck, findings: Findings, wall: string): string {
  switch (worst) {
    case 'fallOff':
      return fallOffSentence(check, wall);
    case 'lineFan':
      return `The shadow lines on ${wall} run apart by ${degrees(check.lineFanDeg!)}. Sunlight would keep them parallel.`;
    case 'fan':
      return `The light on ${wall} fans by ${degrees(check.fanDeg!)} from side to side. Sunlight would come one way.`;
    case 'edge':
      return edgeSentence(check);
    case 'step': {
      const at = findings.step?.from ? ` ${oneDecimal(findings.step.from[0])} m from the left` : '';
      return `A net or scrim leaves a line on ${wall}${at}: ${check.stepStopsPer10cm!.toFixed(2)} stop in 10 cm.`;
    }
    case 'fill':
      return `The beam does not fill the window: its own round edge is on ${wall}.`;
    case 'shadows':
      return `${check.shadowCount} shadows of everything in the light on ${wall}. The sun throws one.`;
    case 'height': {
      const off = check.altitudeOffDeg!;
      return `The light comes in ${degrees(Math.abs(off))} too ${off > 0 ? 'high' : 'low'} for the story's sun.`;
    }
    case 'colour': {
      const off = check.cctOffMired!;
      if (Math.abs(off) / DEFAULT_LIMITS.colour.good < 0.5)
        return `The colour is ${duvWords(check.duvOff!)} for a sun this high.`;
      return `The colour is ${Math.abs(off).toFixed(0)} mired too ${off < 0 ? 'blue' : 'warm'} for a sun this high.`;
    }
    default:
      return `The worst figure is ${FIGURE_WORDS[worst]}.`;
  }
}
const duvWords = (off: number): string => `${Math.abs(off).toFixed(3)} Duv too ${off > 0 ? 'green' : 'pink'}`;

/** Below this score a figure is not worth naming. */
const WELL_INSIDE = 0.25;

function readsSentence(check: SunCheck): string {
  const worst = check.worst!;
  if (check.scores[worst]! < WELL_INSIDE) return 'Every figure is well inside its limit.';
  const shown: Partial<Record<ScoredFigure, string>> = {
    fallOff: `${(check.falloffStops ?? 0).toFixed(2)} of 1/3 stop`,
    lineFan: `${degrees(check.lineFanDeg ?? 0)} of 4°`,
    fan: `${degrees(check.fanDeg ?? 0)} of 4°`,
    step: `${(check.stepStopsPer10cm ?? 0).toFixed(2)} of 0.1 stop in 10 cm`,
    edge: `${(check.edgeRatio ?? 1).toFixed(1)} times the sun's, up to 3 reads`,
    height: `${degrees(Math.abs(check.altitudeOffDeg ?? 0))} of 5°`,
    colour: `${Math.abs(check.cctOffMired ?? 0).toFixed(0)} of 20 mired`,
  };
  return `Nearest to its limit: ${FIGURE_WORDS[worst]}${shown[worst] ? `, ${shown[worst]}` : ''}.`;
}

/**
 * One sentence on the worst figure: where it is and how much.
 * @param findings null where there is no patch
 */
export function sentenceOf(scene: CompiledScene, check: SunCheck, findings: Findings | null): string {
  const surface = scene.document.surfaces[check.surfaceId];
  const wall = `the ${(surface?.name ?? check.surfaceId).toLowerCase()}`;
  if (findings === null) {
    if (check.flags.includes('diffused')) return `No shaft on ${wall}: this is soft window light, not sun.`;
    if (check.flags.includes('hidden'))
      return `No light of this lamp reaches ${wall}: something of the set stands between.`;
    return `This lamp does not shine towards ${wall}.`;
  }
  if (check.flags.includes('tooSmall')) return `The patch on ${wall} is smaller than a hand: too small to judge.`;
  if (check.verdict === 'notEnough' || check.worst === null)
    return 'Not enough to judge: fewer than two figures can be had.';
  if (check.verdict === 'reads') return readsSentence(check);
  const several = check.verdict === 'passable' && severalSmallTells(check.scores) ? ' Several small tells.' : '';
  return `${tell(check.worst, check, findings, wall)}${several}`;
}
