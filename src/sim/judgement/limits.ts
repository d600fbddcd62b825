/**
 * Limits of the sun judgement and the rule that turns a figure into a score.
 * All limits are common practice with no published source; they are shown beside each figure and can be edited.
 */
import type { SceneDocument } from '../../scene/schema';
import type { ScoredFigure, Verdict } from '../results';

export interface Limits {
  /** Up to here a figure reads as sun ... */
  readonly good: number;
  /** ... and up to here it is passable. */
  readonly passable: number;
}

export const LIMITS_BASIS = 'common practice, no published source';

export const DEFAULT_LIMITS: Readonly<Record<ScoredFigure, Limits>> = {
  fallOff: { good: 1 / 3, passable: 2 / 3 }, // stops
  fan: { good: 4, passable: 12 }, // degrees
  lineFan: { good: 4, passable: 12 }, // degrees
  edge: { good: 3, passable: 6 }, // ratio to the sun's; below 1 the limits are 1/2 and 1/4
  step: { good: 0.1, passable: 0.25 }, // stops per 10 cm
  fill: { good: 0.002, passable: 0.02 }, // share of the opening left unfilled
  shadows: { good: 1, passable: 1 }, // count
  height: { good: 5, passable: 15 }, // degrees
  windowSpread: { good: 4, passable: 12 }, // degrees
  windowLevel: { good: 1 / 3, passable: 2 / 3 }, // stops
  colour: { good: 20, passable: 50 }, // mired
  haze: { good: 4, passable: 12 }, // degrees
};
/** Duv off the sun's, scored beside the mired. */
export const DUV_LIMITS: Limits = { good: 0.003, passable: 0.006 };
/** An edge crisper than the sun's: limits of |log2 ratio|. */
export const CRISP_EDGE_LIMITS: Limits = { good: 1, passable: 2 };

/** Limits of every scored figure, with the two that stand beside one: Duv, and edges crisper than the sun's. */
export type SunLimits = Readonly<Record<ScoredFigure | 'duv' | 'crispEdge', Limits>>;

export const DEFAULT_SUN_LIMITS: SunLimits = { ...DEFAULT_LIMITS, duv: DUV_LIMITS, crispEdge: CRISP_EDGE_LIMITS };

/** The limits in force: the defaults, with those that the document's story sets in their place. */
export const limitsOf = ({ story }: Pick<SceneDocument, 'story'>): SunLimits => ({
  ...DEFAULT_SUN_LIMITS,
  ...Object.fromEntries(Object.entries(story?.limits ?? {}).filter(([, limits]) => limits !== undefined)),
});

/** Score of a figure against its limits: up to 1 good, up to 2 passable, then 2 plus the stops beyond passable. */
export function scoreAgainst(value: number, { good, passable }: Limits): number {
  if (value <= good) return good > 0 ? value / good : 0;
  if (value <= passable) return 1 + (value - good) / (passable - good);
  return 2 + Math.log2(value / passable);
}

/** Score of an edge ratio: softer than the sun's against 3 and 6 times, crisper against a half and a quarter. */
export function scoreEdge(ratio: number, { edge, crispEdge }: SunLimits = DEFAULT_SUN_LIMITS): number {
  const stops = Math.abs(Math.log2(ratio));
  if (ratio < 1) return scoreAgainst(stops, crispEdge);
  return scoreAgainst(stops, { good: Math.log2(edge.good), passable: Math.log2(edge.passable) });
}

/** One shadow is what the sun throws; every further one gives the lamp away. */
export const scoreShadows = (count: number): number => (count <= 1 ? 0 : 2 + Math.log2(count));

/** Ties within this go to what the eye meets first. */
export const TIE = 0.05;
const EYE_MEETS_FIRST: readonly ScoredFigure[] = [
  'shadows',
  'step',
  'fallOff',
  'lineFan',
  'fan',
  'haze',
  'fill',
  'edge',
  'windowSpread',
  'windowLevel',
  'height',
  'colour',
];

export type Scores = Partial<Record<ScoredFigure, number>>;

/** Class of the highest score, never an average; fewer than two scored figures are not enough to judge. */
export function verdictOf(scores: Scores): { verdict: Verdict; worst: ScoredFigure | null } {
  const scored = EYE_MEETS_FIRST.filter((figure) => scores[figure] !== undefined);
  if (scored.length === 0) return { verdict: 'notEnough', worst: null };
  const highest = Math.max(...scored.map((figure) => scores[figure]!));
  const worst = scored.find((figure) => scores[figure]! >= highest - TIE)!;
  if (scored.length < 2) return { verdict: 'notEnough', worst };
  return { verdict: highest <= 1 ? 'reads' : highest <= 2 ? 'passable' : 'givesAway', worst };
}

/** Passable with four figures or more above 1: no single tell, but several small ones. */
export const severalSmallTells = (scores: Scores): boolean =>
  Object.values(scores).filter((score) => score > 1).length >= 4;
