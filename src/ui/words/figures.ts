/** The figures of a sun judgement as rows: what is said, in which unit, against which limits, and how it is drawn. */
import { METRES_PER_FOOT } from '../../scene/units/convert';
import { formatDuv } from '../../scene/units/format';
import { DEFAULT_SUN_LIMITS, type SunLimits } from '../../sim/judgement/limits';
import type { ScoredFigure, SunCheck, SunFigure, Verdict } from '../../sim/results';
import { fixed, signedFixed, type Units } from './format';
import { limitText } from '../../sim/judgement/figureWords';
import { limitsFrom, ratioLimits, upToWords, type ScaleLimits } from './limits';

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  reads: 'Reads as sun',
  passable: 'Passable',
  givesAway: 'Gives it away',
  notEnough: 'Not enough to judge',
};

/** Linear figures run from 0 on a square-root scale; ratios are logarithmic and centred on 1. */
export type ScaleKind = 'fromZero' | 'ratio';
export interface FigureRow {
  readonly key: SunFigure;
  readonly name: string;
  readonly unit: string;
  /** Signed as computed; the scale shows its size. Null: `reason` says why. */
  readonly value: number | null;
  readonly text: string;
  /** What else is said of the value where the figure is explained. */
  readonly remark: string | null;
  readonly sunText: string;
  readonly reason: string | null;
  /** Class by this figure's own score; null for a figure that is shown and not scored. */
  readonly verdict: Verdict | null;
  readonly scale: ScaleKind | null;
  readonly scaleEnd: number;
  readonly sunAt: number;
  readonly limits: ScaleLimits | null;
  /** The limits in words, for the ear and the tooltip. */
  readonly limitWords: string;
  /** Scores that this figure goes into. */
  readonly scored: readonly ScoredFigure[];
}

export const classOfScore = (score: number): Verdict => (score <= 1 ? 'reads' : score <= 2 ? 'passable' : 'givesAway');

interface Described {
  readonly key: SunFigure;
  readonly name: string;
  readonly unit: string;
  readonly scored?: readonly ScoredFigure[];
  readonly text: (value: number) => string;
  readonly sun: string;
  readonly scale?: ScaleKind;
  readonly scaleEnd?: number;
  readonly sunAt?: number;
  readonly limits?: ScaleLimits;
  readonly limitWords?: string;
}

const degrees = (value: number): string => `${fixed(value, 0)}°`;
const ratio = (value: number): string => `×${value < 10 ? fixed(value, 2) : fixed(value, 0)}`;

const FARTHEST_SAID_M = 100;

/** As well as it is known: no centimetres on a distance that only says how the light falls off. */
function distanceText(valueM: number, { length }: Units): string {
  const feet = length === 'feet';
  const value = Math.min(valueM, FARTHEST_SAID_M) / (feet ? METRES_PER_FOOT : 1);
  const said = `${fixed(value, value < 10 ? 1 : 0)} ${feet ? 'ft' : 'm'}`;
  return valueM > FARTHEST_SAID_M ? `over ${said}` : said;
}

/** An edge crisper than the sun's: its limits as ratios. */
const crispEdgeOf = ({ crispEdge }: SunLimits) => ({ good: 2 ** -crispEdge.good, passable: 2 ** -crispEdge.passable });

const describe = (units: Units, level: (value: number) => string, limits: SunLimits): readonly Described[] => [
  {
    key: 'falloffStops',
    name: 'Fall-off',
    unit: 'stops',
    scored: ['fallOff'],
    text: (value) => fixed(value, 1),
    sun: '0',
    scale: 'fromZero',
    scaleEnd: 2.7,
    limits: limitsFrom(limits.fallOff),
    limitWords: upToWords(limits.fallOff, 'stop'),
  },
  {
    key: 'apparentDistanceM',
    name: 'Distance',
    unit: 'apparent',
    text: (value) => distanceText(value, units),
    sun: 'very far',
  },
  {
    key: 'lineFanDeg',
    name: 'Line fan',
    unit: '',
    scored: ['lineFan'],
    text: degrees,
    sun: '0°',
    scale: 'fromZero',
    scaleEnd: 30,
    limits: limitsFrom(limits.lineFan, '°'),
    limitWords: upToWords(limits.lineFan, 'degrees'),
  },
  {
    key: 'fanDeg',
    name: 'Fan',
    unit: '',
    scored: ['fan'],
    text: degrees,
    sun: '0°',
    scale: 'fromZero',
    scaleEnd: 30,
    limits: limitsFrom(limits.fan, '°'),
    limitWords: upToWords(limits.fan, 'degrees'),
  },
  {
    key: 'edgeRatio',
    name: 'Edge',
    unit: 'width',
    scored: ['edge'],
    text: ratio,
    sun: '×1',
    scale: 'ratio',
    scaleEnd: 12,
    sunAt: 1,
    limits: ratioLimits(crispEdgeOf(limits), limits.edge),
    limitWords: `reads as sun from ${limitText(crispEdgeOf(limits).good)} to ${limitText(limits.edge.good)} times the sun’s, passable from ${limitText(crispEdgeOf(limits).passable)} to ${limitText(limits.edge.passable)}`,
  },
  {
    key: 'stepStopsPer10cm',
    name: 'Step',
    unit: '/10 cm',
    scored: ['step'],
    text: (value) => fixed(value, 2),
    sun: '0',
    scale: 'fromZero',
    scaleEnd: 0.6,
    limits: limitsFrom(limits.step),
    limitWords: upToWords(limits.step, 'stop in 10 cm'),
  },
  {
    key: 'fill',
    name: 'Fill',
    unit: 'of beam',
    scored: ['fill'],
    text: (value) => `${fixed(value * 100, 1)}\u2009%`,
    sun: '100\u2009%',
    limitWords: `reads as sun from ${fixed((1 - limits.fill.good) * 100, 1)} %, passable from ${fixed((1 - limits.fill.passable) * 100, 0)} %`,
  },
  {
    key: 'shadowCount',
    name: 'Shadows',
    unit: '',
    scored: ['shadows'],
    text: (value) => fixed(value, 0),
    sun: '1',
    limitWords: 'one shadow reads as sun, two give it away',
  },
  {
    key: 'altitudeOffDeg',
    name: 'Height',
    unit: 'off',
    scored: ['height'],
    text: (value) => `${signedFixed(value, 0)}°`,
    sun: '0°',
    scale: 'fromZero',
    scaleEnd: 40,
    limits: limitsFrom(limits.height, '°'),
    limitWords: upToWords(limits.height, 'degrees off'),
  },
  {
    key: 'windowSpreadDeg',
    name: 'Windows',
    unit: 'spread',
    scored: ['windowSpread'],
    text: degrees,
    sun: '0°',
    scale: 'fromZero',
    scaleEnd: 30,
    limits: limitsFrom(limits.windowSpread, '°'),
    limitWords: upToWords(limits.windowSpread, 'degrees apart'),
  },
  {
    key: 'windowLevelStops',
    name: 'Windows',
    unit: 'level',
    scored: ['windowLevel'],
    text: (value) => fixed(value, 1),
    sun: '0',
    scale: 'fromZero',
    scaleEnd: 2.7,
    limits: limitsFrom(limits.windowLevel),
    limitWords: upToWords(limits.windowLevel, 'stop apart'),
  },
  {
    key: 'cctOffMired',
    name: 'Colour',
    unit: 'mired',
    scored: ['colour'],
    text: (value) => signedFixed(value, 0),
    sun: '0',
    scale: 'fromZero',
    scaleEnd: 120,
    limits: limitsFrom(limits.colour),
    limitWords: upToWords(limits.colour, 'mired off'),
  },
  {
    key: 'duvOff',
    name: 'Colour',
    unit: 'Duv',
    scored: ['colour'],
    text: formatDuv,
    sun: '0',
    scale: 'fromZero',
    scaleEnd: 0.015,
    limits: limitsFrom(limits.duv),
    limitWords: upToWords(limits.duv, 'off'),
  },
  {
    key: 'hazeDeg',
    name: 'Haze',
    unit: 'wedge',
    scored: ['haze'],
    text: degrees,
    sun: '0°',
    scale: 'fromZero',
    scaleEnd: 30,
    limits: limitsFrom(limits.haze, '°'),
    limitWords: upToWords(limits.haze, 'degrees'),
  },
  { key: 'growthNear', name: 'Growth', unit: 'near', text: ratio, sun: '×1', scale: 'ratio', scaleEnd: 4, sunAt: 1 },
  { key: 'growthFar', name: 'Growth', unit: 'far', text: ratio, sun: '×1', scale: 'ratio', scaleEnd: 4, sunAt: 1 },
  { key: 'overAmbienceStops', name: 'Level', unit: 'over room', text: level, sun: '-' },
  { key: 'overKeyStops', name: 'Level', unit: 'over key', text: level, sun: '-' },
];

/** Class of one figure: by the judgement's own score; colour's two rows each against their own limit. */
function verdictOfRow(check: SunCheck, { key, scored, limits }: Described, value: number | null): Verdict | null {
  if (value === null || !scored) return null;
  if (key === 'cctOffMired' || key === 'duvOff') {
    if (check.scores.colour === undefined || !limits) return null;
    const size = Math.abs(value);
    return size <= (limits.good[0] ?? 0) ? 'reads' : size <= (limits.passable[0] ?? 0) ? 'passable' : 'givesAway';
  }
  const scores = scored.flatMap((figure) => check.scores[figure] ?? []);
  return scores.length > 0 ? classOfScore(Math.max(...scores)) : null;
}

/**
 * Every figure of a check in reading order, undefined ones with their reason.
 * @param levelBand how well the lamp's level is known: "± 1 stop"
 */
export function figureRows(
  check: SunCheck,
  units: Units,
  levelBand: string,
  limits: SunLimits = DEFAULT_SUN_LIMITS,
): FigureRow[] {
  const level = (value: number): string => `${signedFixed(value, 1)} stops ${levelBand}`;
  return describe(units, level, limits).map((row) => {
    const value = check[row.key] as number | null;
    return {
      key: row.key,
      name: row.name,
      unit: row.unit,
      value,
      text: value === null ? '-' : row.text(value),
      remark: row.key === 'falloffStops' ? cornersWords(check) : null,
      sunText: row.sun,
      reason: value === null ? (check.reasons[row.key] ?? 'not known') : null,
      verdict: verdictOfRow(check, row, value),
      scale: row.scale ?? null,
      scaleEnd: row.scaleEnd ?? 1,
      sunAt: row.sunAt ?? 0,
      limits: row.limits ?? null,
      limitWords: row.limitWords ?? 'shown, not scored',
      scored: row.scored ?? [],
    };
  });
}

/** Fall-off leaves out a hundredth of the patch at either end; this leaves out nothing. */
const cornersWords = ({ drawing }: SunCheck): string | null =>
  drawing === null ? null : `${fixed(drawing.fullRangeStops, 2)} to its very corners`;

/** The row of the worst figure, for the line under the verdict's word. */
export function worstRow(rows: readonly FigureRow[], worst: ScoredFigure | null): FigureRow | null {
  if (worst === null) return null;
  const order: Record<string, number> = { givesAway: 3, passable: 2, reads: 1, notEnough: 0 };
  const found = rows.filter((row) => row.scored.includes(worst) && row.value !== null);
  return found.sort((a, b) => (order[b.verdict ?? ''] ?? 0) - (order[a.verdict ?? ''] ?? 0))[0] ?? null;
}

/** "2.1 stops against 1/3": a figure and the limit that it has passed, or is nearest to. */
export function againstLimit(row: FigureRow): string {
  const numeral = (values: readonly number[] | undefined): string | undefined =>
    row.limits?.numerals.find(({ at }) => values?.includes(at))?.text;
  const limit = row.verdict === 'givesAway' ? numeral(row.limits?.passable) : numeral(row.limits?.good);
  const unit = row.unit === 'stops' || row.unit === 'mired' ? ` ${row.unit}` : '';
  return `${row.text}${unit}${limit === undefined ? '' : ` against ${limit}`}`;
}
