/** The verdict in one plain sentence: the tell, where, how much, what it looks like. */
import type { ScoredFigure, SunCheck } from '../results';
import type { CompiledScene } from '../solve/compiled';
import { FIGURE_WORDS, limitText } from './figureWords';
import type { Findings } from './findings';
import { limitsOf, severalSmallTells, type SunLimits } from './limits';

const oneDecimal = (value: number): string => value.toFixed(1);
const metres = (value: number): string => (value < 9.95 ? value.toFixed(1) : value.toFixed(0));
const degrees = (value: number): string => `${value.toFixed(0)}°`;

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

/** What a sentence is about: the check, its findings, the surface's name, the limits in force. */
interface Told {
  readonly check: SunCheck;
  readonly findings: Findings;
  readonly wall: string;
  readonly limits: SunLimits;
}

function tell(worst: ScoredFigure, { check, findings, wall, limits }: Told): string {
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
      if (Math.abs(off) / limits.colour.good < 0.5)
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

function readsSentence(check: SunCheck, limits: SunLimits): string {
  const worst = check.worst!;
  if (check.scores[worst]! < WELL_INSIDE) return 'Every figure is well inside its limit.';
  const good = (figure: ScoredFigure): string => limitText(limits[figure].good);
  const shown: Partial<Record<ScoredFigure, string>> = {
    fallOff: `${(check.falloffStops ?? 0).toFixed(2)} of ${good('fallOff')} stop`,
    lineFan: `${degrees(check.lineFanDeg ?? 0)} of ${good('lineFan')}°`,
    fan: `${degrees(check.fanDeg ?? 0)} of ${good('fan')}°`,
    step: `${(check.stepStopsPer10cm ?? 0).toFixed(2)} of ${good('step')} stop in 10 cm`,
    edge: `${(check.edgeRatio ?? 1).toFixed(1)} times the sun's, up to ${good('edge')} reads`,
    height: `${degrees(Math.abs(check.altitudeOffDeg ?? 0))} of ${good('height')}°`,
    colour: `${Math.abs(check.cctOffMired ?? 0).toFixed(0)} of ${good('colour')} mired`,
  };
  return `Nearest to its limit: ${FIGURE_WORDS[worst]}${shown[worst] ? `, ${shown[worst]}` : ''}.`;
}

/** "the plaster wall", but "Wall 1": a name with a number stands alone. */
const inSentence = (name: string): string => (/\d$/.test(name) ? name : `the ${name.toLowerCase()}`);

/**
 * One sentence on the worst figure: where it is and how much.
 * @param findings null where there is no patch
 */
export function sentenceOf(scene: CompiledScene, check: SunCheck, findings: Findings | null): string {
  const surface = scene.document.surfaces[check.surfaceId];
  const wall = inSentence(surface?.name ?? check.surfaceId);
  if (findings === null) {
    if (check.flags.includes('diffused')) return `No shaft on ${wall}: this is soft window light, not sun.`;
    if (check.flags.includes('hidden'))
      return `No light of this lamp reaches ${wall}: something of the set stands between.`;
    return `This lamp does not shine towards ${wall}.`;
  }
  if (check.flags.includes('tooSmall')) return `The patch on ${wall} is smaller than a hand: too small to judge.`;
  if (check.verdict === 'notEnough' || check.worst === null)
    return 'Not enough to judge: fewer than two figures can be had.';
  if (check.verdict === 'reads') return readsSentence(check, limitsOf(scene.document));
  const several = check.verdict === 'passable' && severalSmallTells(check.scores) ? ' Several small tells.' : '';
  return `${tell(check.worst, { check, findings, wall, limits: limitsOf(scene.document) })}${several}`;
}
