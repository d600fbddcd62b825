/** One sun check as lines of text: the verdict, its sentence, and every figure against its limits and the sun's value. */
import { flagWords } from '../sim/judgement/flagWords';
import { LIMITS_BASIS, type SunLimits } from '../sim/judgement/limits';
import { NOT_JUDGED } from '../sim/report';
import type { ScoredFigure, SunCheck, SunFigure, Verdict } from '../sim/results';
import { formatDuv } from '../scene/units/format';
import { NONE, columnsText, decimalText } from './format';

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  reads: 'Reads as sun',
  passable: 'Passable',
  givesAway: 'Gives it away',
  notEnough: 'Not enough to judge',
};

interface FigureRow {
  readonly figure: SunFigure;
  readonly words: string;
  readonly sun: string;
  readonly decimals: number;
  /** The scored figure whose limits stand beside it; some figures are only shown. */
  readonly scored?: ScoredFigure;
  /** Limits in words, where they are not "up to" two numbers. */
  readonly limits?: (limits: SunLimits) => readonly [reads: string, passable: string];
}

const third = (limit: number): string => {
  const thirds = Math.round(limit * 3);
  return Math.abs(limit * 3 - thirds) < 1e-9 && thirds < 3 && thirds > 0 ? `${thirds}/3` : String(limit);
};
const short = (value: number): string => String(Number(value.toFixed(4)));
const crisp = (stops: number): string => short(2 ** -stops);

const ROWS: readonly FigureRow[] = [
  { figure: 'falloffStops', words: 'Fall-off, stops', sun: '0', decimals: 2, scored: 'fallOff' },
  { figure: 'apparentDistanceM', words: 'Apparent distance, m', sun: 'very far', decimals: 1 },
  { figure: 'fanDeg', words: 'Fan, degrees', sun: '0', decimals: 1, scored: 'fan' },
  { figure: 'lineFanDeg', words: 'Line fan, degrees', sun: '0', decimals: 1, scored: 'lineFan' },
  { figure: 'growthNear', words: 'Growth, near end', sun: '1', decimals: 2 },
  { figure: 'growthFar', words: 'Growth, far end', sun: '1', decimals: 2 },
  {
    figure: 'edgeRatio',
    words: 'Edge, times the sun’s',
    sun: '1',
    decimals: 2,
    scored: 'edge',
    limits: ({ edge, crispEdge }) => [
      `${crisp(crispEdge.good)} to ${edge.good}`,
      `${crisp(crispEdge.passable)} to ${edge.passable}`,
    ],
  },
  { figure: 'stepStopsPer10cm', words: 'Step, stops in 10 cm', sun: '0', decimals: 2, scored: 'step' },
  {
    figure: 'fill',
    words: 'Fill, share of the opening',
    sun: '1',
    decimals: 3,
    scored: 'fill',
    limits: ({ fill }) => [`from ${short(1 - fill.good)}`, `from ${short(1 - fill.passable)}`],
  },
  { figure: 'shadowCount', words: 'Shadows', sun: '1', decimals: 0, scored: 'shadows', limits: () => ['1', NONE] },
  { figure: 'altitudeOffDeg', words: 'Height off, degrees', sun: '0', decimals: 1, scored: 'height' },
  { figure: 'windowSpreadDeg', words: 'Several windows, degrees', sun: '0', decimals: 1, scored: 'windowSpread' },
  { figure: 'windowLevelStops', words: 'Several windows, stops', sun: '0', decimals: 2, scored: 'windowLevel' },
  { figure: 'overAmbienceStops', words: 'Level over ambience, stops', sun: NONE, decimals: 1 },
  { figure: 'overKeyStops', words: 'Level over key, stops', sun: NONE, decimals: 1 },
  { figure: 'cctOffMired', words: 'Colour off, mired', sun: '0', decimals: 0, scored: 'colour' },
  {
    figure: 'duvOff',
    words: 'Colour off, Duv',
    sun: '0',
    decimals: 3,
    limits: ({ duv }) => [`to ${duv.good}`, `to ${duv.passable}`],
  },
  { figure: 'hazeDeg', words: 'Wedge in haze, degrees', sun: '0', decimals: 1, scored: 'haze' },
];

function scoreWords(score: number | undefined): string {
  if (score === undefined) return 'shown';
  return score <= 1 ? 'reads as sun' : score <= 2 ? 'passable' : 'gives it away';
}

function limitWords(row: FigureRow, limits: SunLimits): readonly [string, string] {
  if (row.limits) return row.limits(limits);
  if (!row.scored) return [NONE, NONE];
  const { good, passable } = limits[row.scored];
  return [`to ${third(good)}`, `to ${third(passable)}`];
}

function figureCells(row: FigureRow, check: SunCheck, limits: SunLimits): string[] | null {
  const value = check[row.figure];
  if (typeof value !== 'number') return null;
  const shown = row.figure === 'duvOff' ? formatDuv(value) : decimalText(value, row.decimals);
  // Duv is scored with the mired, as one figure: colour.
  const scored = row.figure === 'duvOff' ? 'colour' : row.scored;
  return [row.words, shown, row.sun, ...limitWords(row, limits), scoreWords(scored && check.scores[scored])];
}

/** Lines about one lamp on one surface, not indented. */
export function sunCheckLines(check: SunCheck, sourceName: string, surfaceName: string, limits: SunLimits): string[] {
  const table = [['figure', 'lamp', 'sun', 'reads', 'passable', '']];
  const reasons = new Map<string, string[]>();
  for (const row of ROWS) {
    const cells = figureCells(row, check, limits);
    if (cells) table.push(cells);
    else {
      const reason = check.reasons[row.figure] ?? NOT_JUDGED;
      reasons.set(reason, [...(reasons.get(reason) ?? []), row.words.replace(/,.*/, '')]);
    }
  }
  const confidence = check.confidence ? `, ${check.confidence}` : '';
  const hot = check.hotEnd ? [`Hottest: ${check.hotEnd}${check.reversed ? ' (the far end: reversed)' : ''}.`] : [];
  const flags = flagWords(check);
  const sentence = check.sentence === '' ? [] : [check.sentence];
  const figures =
    table.length > 1
      ? [...columnsText(table, [false, true, true, false, false, false]), `Limits: ${LIMITS_BASIS}.`]
      : [];
  return [
    `${sourceName} on ${surfaceName}: ${VERDICT_WORDS[check.verdict]}${confidence}`,
    ...sentence,
    ...hot,
    ...flags,
    ...figures,
    ...[...reasons].map(([reason, words]) => `None for ${[...new Set(words)].join(', ')}: ${reason}.`),
  ];
}
