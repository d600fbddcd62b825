/** Everything that would make the lamps of a setup read more like the sun: found by simulating it, ranked. */
import type { SceneDocument } from '../../scene/schema';
import { compileScene } from '../solve/compileScene';
import { backOff } from './backOff';
import { feather } from './feather';
import { halfScrim } from './halfScrim';
import { MEND_KINDS, type Mend, type MendKind, type MendOptions } from './mend';
import { mirror } from './mirror';
import { narrowerSpot } from './narrowerSpot';
import { staggeredNets } from './nets';
import type { RankedMend } from './offer';
import { compareRanks, Pace } from './search';
import { lampPairs, situationOf, type Situation } from './situation';
import { swing } from './swing';

const SEARCHES: Readonly<Record<MendKind, (situation: Situation) => (Mend | RankedMend)[]>> = {
  backOff,
  swing,
  feather,
  halfScrim,
  staggeredNets,
  mirror,
  narrowerSpot,
};

const rankOf = ({ mend, sum, pieces }: RankedMend) => ({
  score: mend.scoreAfter ?? Infinity,
  sum,
  costStops: mend.costStops ?? Infinity,
  pieces,
});

/**
 * Mends of every lamp that plays the sun in a setup: possible ones first, best first by the highest score of the rig
 * after the mend, then the sum of scores, light lost, pieces of grip; then those that cannot be had, with the reason.
 * Each is searched within level, space, kit and story, then judged in full: the figures printed are of that.
 * @returns an empty list where no lamp plays the sun on a surface that it lights
 * @throws {RangeError} if the setup does not exist
 * @throws {SolveCancelled} if `options.control` says so
 * @source judgement definition 6; minutes and hands are typical (common practice, no source)
 * @remarks Left out: a second mirror, and the swing of a lamp whose light comes off one; nets between lamp and mirror;
 *   the aim of a lamp with a half scrim; lamps split over one patch; whether a lamp comes into the camera's view. Light that diffusion and bounce send on does not enter, as in the judgement.
 */
export function findMends(document: SceneDocument, setupId: string, options: MendOptions = {}): Mend[] {
  const steps = mendSteps(document, setupId, options);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

/** As `findMends`, one kind of mend a step: yields the share of the work that is done, 0..1. */
export function* mendSteps(
  document: SceneDocument,
  setupId: string,
  options: MendOptions = {},
): Generator<number, Mend[], void> {
  const scene = compileScene(document, setupId);
  const lampIds = [...new Set(lampPairs(scene).map(({ source }) => source.id))];
  const kinds = options.kinds ?? MEND_KINDS;
  const pace = new Pace(options.control ?? {}, Math.max(1, lampIds.length * (kinds.length + 1)));
  const ranked: RankedMend[] = [];
  const refused: Mend[] = [];
  for (const lampId of lampIds) {
    pace.check();
    const situation = situationOf(document, scene.setup, lampId, options, pace);
    yield pace.finishPart();
    if (typeof situation === 'string') continue;
    for (const kind of kinds) {
      for (const found of SEARCHES[kind](situation)) {
        if (!('mend' in found)) refused.push(found);
        else if (found.mend.possible) ranked.push(found);
        else refused.push(found.mend);
      }
      yield pace.finishPart();
    }
  }
  ranked.sort((a, b) => compareRanks(rankOf(a), rankOf(b)));
  return [...ranked.map(({ mend }) => mend), ...refused];
}
