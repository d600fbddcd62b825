/** A mirror that lengthens the throw: the path of a length that somebody sets, folded as space and kit allow. */
import { toDegrees } from '../../scene/geometry/frames';
import { dot } from '../../scene/geometry/vector';
import { MirrorSearch, noFoldWords } from '../mends/mirror';
import { lensAt, mirrorSetup } from '../mends/mirrorRig';
import type { Situation } from '../mends/situation';
import { metres } from '../mends/words';
import { angle, fineLength, length, refused, type GripPlan } from './gripPlan';
import type { MirrorRequest } from './gripRequest';
import { mirrorsToHand } from './toHand';

/**
 * Puts a mirror on the light's line and the lamp beside it.
 * @source unfolding: the lens' image stands as far behind the glass as the lens before it, so that the throw is the sum
 *   of both legs (law of reflection)
 */
export function planMirror(situation: Situation, request: MirrorRequest): GripPlan {
  if (situation.source.image !== null) {
    return refused('The light comes off a mirror already; a second one is not worked out.');
  }
  const stock = mirrorsToHand(situation.document, situation.setup);
  if (stock.length === 0) return refused('The kit has no free mirror.');
  const search = new MirrorSearch(situation, stock);
  const { shortestM, longestM } = search.bounds();
  if (longestM < shortestM) return refused(noFoldWords(situation, search, stock));
  if (request.pathM < shortestM - 1e-9 || request.pathM > longestM + 1e-9) {
    return refused(`The space takes a path of ${metres(shortestM)} to ${metres(longestM)} over a mirror.`);
  }
  const fitting = search.fitting(request.pathM);
  const chosen = fitting[Math.min(request.way, fitting.length - 1)];
  if (!chosen) return refused(noFoldWords(situation, search, stock));
  const { fold, needed, entry } = chosen;
  const setup = mirrorSetup(situation, search.ray, fold, needed, entry);
  const foldDeg = toDegrees(Math.acos(Math.max(-1, Math.min(1, -dot(fold.towardsLamp, search.ray.towards)))));
  return {
    ok: true,
    setup,
    pieceIds: Object.keys(setup.modifiers).filter((id) => !Object.hasOwn(situation.setup.modifiers, id)),
    facts: [
      length('Lamp to mirror', fold.lampLegM),
      length('Mirror to patch', fold.patchLegM),
      length('Height of the lens', lensAt(search.ray, fold)[2]),
      length('Height of the mirror', needed.centre[2]),
      angle('Turned off its way by', 180 - foldDeg),
      fineLength('Glass, width', entry.widthM),
      fineLength('Glass, height', entry.heightM),
      fineLength('Glass needed, width', needed.widthM),
      fineLength('Glass needed, height', needed.heightM),
    ],
    remarks: [
      `Way ${Math.min(request.way, fitting.length - 1) + 1} of ${fitting.length} that space and kit allow for this path.`,
    ],
  };
}

/** Lengths of path that the space allows over a mirror, m; null where there is none. */
export function mirrorBounds(situation: Situation): { shortestM: number; longestM: number } | null {
  if (situation.source.image !== null) return null;
  const stock = mirrorsToHand(situation.document, situation.setup);
  const bounds = new MirrorSearch(situation, stock).bounds();
  return bounds.longestM < bounds.shortestM ? null : bounds;
}
