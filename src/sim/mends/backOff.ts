/** Back off: farther along the light's middle ray, as far as the level and the space let it go. */
import type { Vec3 } from '../../scene/geometry/vector';
import { addScaled, distance } from '../../scene/geometry/vector';
import { limitsOf, type Limits } from '../judgement/limits';
import { evaluateSetup, type Evaluation } from './evaluateSetup';
import type { DistanceNeed, Mend } from './mend';
import { offer, refusal, type RankedMend } from './offer';
import { laidStraight, meanRay, movedTo, type MeanRay } from './placing';
import { lastGood, scanAndDescend, spaced } from './search';
import { withLamp, type Situation } from './situation';
import { FARTHEST_M, groundName, mayStand, reachOf, spaceIsDrawn } from './space';
import { gradeWords, metres } from './words';

/** Less than this is no move, m. */
const LEAST_MOVE_M = 0.1;
/** How far out the distance of a limit is looked for, m. */
const LIMIT_WITHIN_M = 60;
const HALVINGS = 10;

/** Where the lens stands with `r` metres of path to the patch's middle. */
export function placesAlong(situation: Situation, { middle, towards }: MeanRay): (r: number) => Vec3 {
  const fromStraight = laidStraight(situation);
  return (r) => fromStraight(addScaled(middle, towards, r));
}

/** The rig with the lens r metres from the patch's middle, along the middle ray. */
export function evaluateAlong(situation: Situation, ray: MeanRay): (r: number) => Evaluation | null {
  const known = new Map<number, Evaluation | null>();
  const placeAt = placesAlong(situation, ray);
  return (r) => {
    const key = Math.round(r * 1e6);
    if (!known.has(key)) {
      const lamp = movedTo(situation.lamp, placeAt(r));
      known.set(key, evaluateSetup(situation, withLamp(situation.setup, situation.lampId, lamp)));
    }
    return known.get(key)!;
  };
}

/** Distances about a limit, as shares of it, that the fall-off is taken at. */
const ABOUT = spaced(0.92, 1.08, 9);

/**
 * Distance from `from` on where the fall-off comes within `stops`, whatever level and space say; null beyond 60 m.
 * @remarks On the quick grid single distances scatter by a hundredth of a stop, as lit cells come and go. Near the limit
 *   fall-off goes as a power of the distance: the answer is where the line through several distances, in logarithms,
 *   meets the limit.
 */
export function distanceForFalloff(
  evaluate: (r: number) => Evaluation | null,
  stops: number,
  from: number,
): number | null {
  const falloffAt = (r: number): number => evaluate(r)?.falloffStops ?? Infinity;
  const within = (r: number): boolean => falloffAt(r) <= stops;
  if (within(from)) return from;
  if (!within(LIMIT_WITHIN_M)) return null;
  const near = lastGood(within, LIMIT_WITHIN_M, from, HALVINGS);
  const samples = ABOUT.map((share) => Math.max(from, share * near))
    .map((r) => [Math.log(r), Math.log(falloffAt(r) / stops)] as const)
    .filter(([, off]) => Number.isFinite(off));
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [middle, off] = [mean(samples.map(([x]) => x)), mean(samples.map(([, y]) => y))];
  const slope =
    samples.reduce((sum, [x, y]) => sum + (x - middle) * (y - off), 0) /
    samples.reduce((sum, [x]) => sum + (x - middle) ** 2, 0);
  const met = Math.exp(middle - off / slope);
  return slope < 0 && met > 0.9 * near && met < 1.1 * near ? Math.max(from, met) : near;
}

/** "2/3 stop needs 14.5 m": the next limit that the fall-off has not met. */
function needWords(
  evaluate: (r: number) => Evaluation | null,
  from: number,
  left: number,
  { good, passable }: Limits,
): string | null {
  const limit = left > passable ? passable : left > good ? good : null;
  if (limit === null) return null;
  const needM = distanceForFalloff(evaluate, limit, from);
  return needM === null
    ? `${gradeWords(limit)} needs more than ${LIMIT_WITHIN_M} m`
    : `${gradeWords(limit)} needs ${metres(needM)}`;
}

/** What distance alone would bring the lines' fan, where it is the worst figure and over its limit; null elsewhere. */
function lineFanNeed(
  { main, document }: Situation,
  { throwM, middle, window }: MeanRay,
  evaluate: (r: number) => Evaluation | null,
): DistanceNeed | null {
  const limitDeg = limitsOf(document).lineFan.good;
  if (main.check.worst !== 'lineFan' || (main.check.lineFanDeg ?? 0) <= limitDeg) return null;
  const within = (r: number): boolean => (evaluate(r)?.lineFanDeg ?? Infinity) <= limitDeg;
  if (!within(LIMIT_WITHIN_M)) return null;
  const r = lastGood(within, LIMIT_WITHIN_M, throwM, HALVINGS);
  return {
    limitDeg,
    distanceM: window ? r - distance(middle, window) : r,
    from: window ? 'window' : 'patch',
    edgeRatio: evaluate(r)?.edgeRatio ?? null,
  };
}

/** How far the lens may go from the patch, and what stops it. */
export interface Reach {
  readonly farthestM: number;
  readonly bound: 'space' | 'level' | 'search';
}
export function farthest(situation: Situation, ray: MeanRay, evaluate: (r: number) => Evaluation | null): Reach {
  const placeAt = placesAlong(situation, ray);
  const spaceM = reachOf(situation.document, placeAt, ray.throwM, Math.max(FARTHEST_M, ray.throwM));
  const holds = (r: number): boolean => (evaluate(r)?.meanLx ?? 0) >= situation.least.meanLx;
  if (holds(spaceM)) {
    return { farthestM: spaceM, bound: spaceM < FARTHEST_M && spaceIsDrawn(situation.document) ? 'space' : 'search' };
  }
  if (!holds(ray.throwM)) return { farthestM: ray.throwM, bound: 'level' };
  return { farthestM: lastGood(holds, ray.throwM, spaceM, HALVINGS + 2), bound: 'level' };
}

export function backOff(situation: Situation): (Mend | RankedMend)[] {
  const ray = meanRay(situation);
  const evaluate = evaluateAlong(situation, ray);
  const ground = groundName(situation.scene, situation.lamp.pose.positionM);
  if (!mayStand(situation.document, situation.lamp.pose.positionM)) {
    return [refusal(situation, 'backOff', 'The lamp stands outside the space that is drawn for it.')];
  }
  const { farthestM, bound } = farthest(situation, ray, evaluate);
  const ends = {
    space: `${capital(ground)} ends ${metres(farthestM)} from the patch`,
    level: `Level binds at ${metres(farthestM)}, ${situation.least.words}`,
    search: `Nobody has drawn a space; looked as far as ${metres(farthestM)}`,
  }[bound];
  const limits = limitsOf(situation.document).fallOff;
  const now = situation.main.check.falloffStops ?? 0;
  if (farthestM - ray.throwM < LEAST_MOVE_M) {
    const need = needWords(evaluate, ray.throwM, now, limits);
    const refused = refusal(situation, 'backOff', need === null ? `${ends}.` : `${ends}: ${need}.`);
    return [{ ...refused, needs: lineFanNeed(situation, ray, evaluate) }];
  }
  const objective = ([r]: readonly number[]): Evaluation | null => {
    if (r! <= ray.throwM || r! > farthestM) return null;
    return evaluate(r!);
  };
  const step = (farthestM - ray.throwM) / 6;
  const places = spaced(ray.throwM + step, farthestM, 6).map((r) => [r]);
  const best = scanAndDescend(places, [step / 2], objective, 3);
  if (best === null) return [refusal(situation, 'backOff', 'The patch is lost when the lamp backs off.')];
  const r = best.at[0]!;
  const { falloffStops, costStops } = best.rank;
  const atBound = farthestM - r < LEAST_MOVE_M;
  const need = needWords(evaluate, ray.throwM, falloffStops, limits);
  const lamp = movedTo(situation.lamp, placesAlong(situation, ray)(r));
  const brief =
    ray.mirrorLegM > 0
      ? `Back off to ${metres(r - (ray.throwM - ray.mirrorLegM))} from the mirror, ${metres(r)} of light`
      : `Back off to ${metres(r)}`;
  const why = atBound ? `${ends}${need === null ? '' : `: ${need}`}.` : 'Farther off another figure gets worse.';
  return [
    offer(situation, {
      kind: 'backOff',
      setup: withLamp(situation.setup, situation.lampId, lamp, costStops),
      order: `${brief}, lens at ${metres(lamp.pose.positionM[2])}`,
      brief,
      why,
      pieces: 0,
      predictedFalloffStops: falloffStops,
      costStops,
      needs: lineFanNeed(situation, ray, evaluate),
      ...(need === null || !atBound ? {} : { remark: why }),
    }),
  ];
}
const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
