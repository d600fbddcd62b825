/** Half scrims in the lantern, grade and clock angle as somebody sets them. */
import {
  bestHalfScrim,
  freeSlotM,
  halfScrimSheets,
  MOST_PATCHES,
  ONLY_DIMS_IN_GATE,
  withHalfScrims,
} from '../mends/halfScrim';
import { blendOverPatch } from '../mends/sheets';
import { withLamp, type Situation } from '../mends/situation';
import { gradeWords } from '../mends/words';
import { angle, fineLength, refused, type GripPlan } from './gripPlan';
import type { HalfScrimRequest } from './gripRequest';

/** @source a half scrim takes off its grade at most; the gradient about 2r(D - s)/(v + s) wide is the kernel's own */
export function planHalfScrim(situation: Situation, request: HalfScrimRequest): GripPlan {
  if (situation.source.profile.kind === 'projection') return refused(ONLY_DIMS_IN_GATE);
  if (request.grades.length < 1 || request.grades.length > 2) return refused('One or two half scrims go in the slots.');
  const { lamp, lampId, setup } = situation;
  const slotM = freeSlotM(lamp);
  const [sheet] = halfScrimSheets(lamp, request.grades, request.clockDeg, slotM);
  const patches = blendOverPatch(situation, sheet!.cover, slotM);
  const grade = request.grades.reduce((sum, stops) => sum + stops, 0);
  const remarks = [`It never takes off more than its grade, ${gradeWords(grade)}. Test on the day.`];
  if (patches > MOST_PATCHES) {
    remarks.push(`So near the lens it blends over ${patches.toFixed(0)} patch lengths: it mostly dims.`);
  }
  return {
    ok: true,
    setup: withLamp(setup, lampId, withHalfScrims(lamp, request.grades, request.clockDeg)),
    pieceIds: [],
    remarks,
    facts: [angle('Mesh toward', request.clockDeg), fineLength('Slot in front of the lens', slotM)],
  };
}

/** The request with the clock angle that leaves the least fall-off; null where none can be had. */
export function bestHalfScrimFor(situation: Situation, request: HalfScrimRequest): HalfScrimRequest | null {
  if (situation.source.profile.kind === 'projection') return null;
  const found = bestHalfScrim(situation, [request.grades]);
  return found && { ...request, clockDeg: Number(found.clockDeg.toFixed(1)) };
}
