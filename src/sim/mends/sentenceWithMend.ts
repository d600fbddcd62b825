/** The verdict's sentence with the cheapest mend behind it. */
import type { SunCheck } from '../results';
import { TIE } from '../judgement/limits';
import type { DistanceNeed, Mend } from './mend';
import { costWords, stops } from './words';

/** A mend that betters the highest score by less than this is no answer to the tell. */
const WORTH_SAYING = 0.1;
/** Work, light or scores that differ by less are the same. */
const SAME = 1e-6;

const classOf = (score: number): number => (score <= 1 ? 0 : score <= 2 ? 1 : 2);
const workOf = ({ hands, minutes }: Mend): number => hands * minutes;

/**
 * The cheapest mend of a check: of those whose highest score lies within a tie of the lowest that any brings, the one
 * with the least work (hands times minutes), then the least light lost, then the lowest score.
 * @returns null where none betters the highest score worth saying
 */
export function cheapestMend(check: SunCheck, mends: readonly Mend[]): Mend | null {
  const able = mends.filter(
    ({ sourceId, possible, scoreAfter, scoreBefore }) =>
      sourceId === check.sourceId && possible && scoreAfter !== null && scoreBefore - scoreAfter >= WORTH_SAYING,
  );
  if (able.length === 0) return null;
  const best = Math.min(...able.map(({ scoreAfter }) => scoreAfter!));
  const order = (a: Mend, b: Mend): number => {
    const differences = [workOf(a) - workOf(b), a.costStops! - b.costStops!, a.scoreAfter! - b.scoreAfter!];
    return differences.find((difference) => Math.abs(difference) > SAME) ?? 0;
  };
  return able.filter(({ scoreAfter }) => scoreAfter! <= best + TIE).sort(order)[0] ?? null;
}

function needWords({ limitDeg, distanceM, from, edgeRatio }: DistanceNeed): string {
  const brings = `Only distance mends that: ${distanceM.toFixed(0)} m from the ${from} brings ${limitDeg.toFixed(0)}°`;
  return edgeRatio === null
    ? `${brings}.`
    : `${brings}, and brings the edges to ${edgeRatio.toFixed(1)} times the sun’s.`;
}

/** "Two singles 1.5 m in front of the lens, free edges 8 cm apart: leaves 0.2 stop, costs 0.5 stop." */
function mendWords({ brief, falloffStops, costStops }: Mend): string {
  const leaves = falloffStops === null ? '' : `leaves ${stops(falloffStops)}, `;
  return `${brief}: ${leaves}${costWords(costStops ?? 0)}.`;
}

/**
 * What gives the shaft away, and what to do about it: the check's own sentence, then the cheapest mend with what it
 * leaves and costs; where no mend betters the class of the verdict and the lines fan, the distance that would.
 * @param mends as `findMends` gives them; empty as long as they have not been looked for
 * @returns the check's sentence alone where it reads as sun, cannot be judged, or no mend was looked for
 */
export function sentenceWithMend(check: SunCheck, mends: readonly Mend[]): string {
  const own = mends.filter(({ sourceId }) => sourceId === check.sourceId);
  if (own.length === 0 || check.verdict === 'reads' || check.verdict === 'notEnough') return check.sentence;
  const mend = cheapestMend(check, own);
  const betters = mend !== null && classOf(mend.scoreAfter!) < classOf(mend.scoreBefore);
  const need = own.find(({ needs }) => needs !== null)?.needs ?? null;
  if (!betters && check.worst === 'lineFan' && need !== null) return `${check.sentence} ${needWords(need)}`;
  if (mend === null) return `${check.sentence} Nothing in the kit and the space mends it.`;
  return `${check.sentence} ${mendWords(mend)}`;
}
