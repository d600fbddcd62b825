/** Which figures are scored, and how. */
import type { ScoredFigure, SunCheck } from '../results';
import { scoreAgainst, scoreEdge, scoreShadows, type Scores, type SunLimits } from './limits';
import { weightedQuantiles } from './statistics';

/** Bars so blurred that nothing sees nine tenths of the lamp give it away at least. */
const JUST_GIVEN_AWAY = 2 + 1e-6;

export interface EdgeFigures {
  /** Length-weighted median of the ratios to the sun's edges. */
  readonly median: number;
  /** The ratio that is scored: at the 90th percentile of the distance from 1 in stops. */
  readonly tail: number;
}

/** The edges of a patch in two numbers; null where no edge has a width. */
export function edgeFigures(samples: readonly { ratio: number; weightM: number }[]): EdgeFigures | null {
  const sized = samples.filter((sample) => sample.ratio > 0);
  if (sized.length === 0) return null;
  const weights = sized.map((sample) => sample.weightM);
  const logs = sized.map((sample) => Math.log2(sample.ratio));
  const off = logs.map(Math.abs);
  const [median] = weightedQuantiles(logs, weights, [0.5]);
  const [tail] = weightedQuantiles(off, weights, [0.9]);
  // Softer or crisper: the side on which most of the tail lies.
  const side = logs.reduce((sum, log, i) => (off[i]! >= tail! * 0.999 ? sum + Math.sign(log) * weights[i]! : sum), 0);
  return { median: 2 ** median!, tail: 2 ** (side < 0 ? -tail! : tail!) };
}

/** Scores of the figures that are scored; haze on, or things in the light, would score the larger of fan and line fan. */
export function scoreCheck(
  check: SunCheck,
  edge: EdgeFigures | null,
  { barsMelt, haze, limits }: { readonly barsMelt: boolean; readonly haze: boolean; readonly limits: SunLimits },
): Scores {
  const scores: Scores = {};
  const put = (figure: ScoredFigure, value: number | null, score: (value: number) => number) => {
    if (value !== null) scores[figure] = score(value);
  };
  const against = (figure: ScoredFigure) => (value: number) => scoreAgainst(value, limits[figure]);
  put('fallOff', check.falloffStops, against('fallOff'));
  if (check.lineFanDeg !== null) put('lineFan', check.lineFanDeg, against('lineFan'));
  if (check.lineFanDeg === null || (haze && (check.fanDeg ?? 0) > check.lineFanDeg))
    put('fan', check.fanDeg, against('fan'));
  if (edge !== null) scores.edge = Math.max(scoreEdge(edge.tail, limits), barsMelt ? JUST_GIVEN_AWAY : 0);
  put('step', check.stepStopsPer10cm, against('step'));
  put('fill', check.fill, (fill) => scoreAgainst(1 - fill, limits.fill));
  put('shadows', check.shadowCount, scoreShadows);
  put('windowSpread', check.windowSpreadDeg, against('windowSpread'));
  put('windowLevel', check.windowLevelStops, against('windowLevel'));
  if (haze) put('haze', check.hazeDeg, against('haze'));
  put('height', check.altitudeOffDeg, (off) => scoreAgainst(Math.abs(off), limits.height));
  if (check.cctOffMired !== null && check.duvOff !== null) {
    const mired = scoreAgainst(Math.abs(check.cctOffMired), limits.colour);
    scores.colour = Math.max(mired, scoreAgainst(Math.abs(check.duvOff), limits.duv));
  }
  return scores;
}
