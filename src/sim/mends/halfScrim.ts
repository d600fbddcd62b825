/** Half scrims in the lamp's slots: mesh over the side of the beam that lights the hot end. */
import type { Lamp } from '../../scene/schema';
import { cosDeg, frameFromPose, sinDeg } from '../../scene/geometry/frames';
import { add, addScaled, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { Mend } from './mend';
import { offer, refusal, type RankedMend } from './offer';
import { laidStraight } from './placing';
import { descend, compareRanks, scan, type Trial } from './search';
import { blendOverPatch, SheetRater, type HalfPlane, type SheetsRank } from './sheets';
import { withLamp, type Situation } from './situation';
import { gradeWords } from './words';

/** First slot in front of the lens and the next ones, where the lamp's own scrims name none; m. */
const FIRST_SLOT_M = 0.03;
const SLOT_PITCH_M = 0.015;
/** What comes with a lamp: half single, half double, and two of them stacked; stops (common practice, no source). */
const GRADES: readonly (readonly number[])[] = [[0.5], [1], [1, 0.5], [1, 1]];
const CLOCK_STEP_DEG = 15;
/** A blend longer than so many patches, that takes off less than a quarter of its grade, only dims. */
export const MOST_PATCHES = 2;
export const LEAST_USE = 0.25;

/** The mesh of half scrims at one clock angle (0 right, 90 top, seen from behind the lamp) as half planes. */
export function halfScrimSheets(lamp: Lamp, grades: readonly number[], clockDeg: number, slotM: number): HalfPlane[] {
  const frame = frameFromPose(lamp.pose);
  const [c, s] = [cosDeg(clockDeg), sinDeg(clockDeg)];
  // Seen from behind, right is the other way round than seen from the front.
  const cover = add(scale(frame.right, -c), scale(frame.up, s));
  const along = add(scale(frame.right, s), scale(frame.up, c));
  return grades.map((stops, i) => ({
    edge: addScaled(frame.origin, frame.forward, slotM + i * SLOT_PITCH_M),
    along,
    cover,
    stops,
    weave: null,
  }));
}

type Scrim = Extract<NonNullable<Lamp['accessories']>[number], { kind: 'wireScrim' }>;

/** Distance of the first free slot in front of the lens, m. */
export function freeSlotM(lamp: Lamp): number {
  const taken = (lamp.accessories ?? []).filter(({ kind }) => kind === 'wireScrim').length;
  return FIRST_SLOT_M + SLOT_PITCH_M * taken;
}

/** The lamp with half scrims in its next slots. */
export function withHalfScrims(lamp: Lamp, grades: readonly number[], clockDeg: number): Lamp {
  const slotM = freeSlotM(lamp);
  const scrims = grades.map((stops, i): Scrim => ({
    kind: 'wireScrim',
    stops,
    half: { clockDeg },
    slotM: slotM + i * SLOT_PITCH_M,
  }));
  return { ...lamp, accessories: [...(lamp.accessories ?? []), ...scrims] };
}

/** A sheet in front of the lamp as it stands in front of the lamp's image, where there is a mirror. */
function sheetLaidStraight(situation: Situation, sheet: HalfPlane): HalfPlane {
  const straight = laidStraight(situation);
  const turned = (direction: Vec3): Vec3 => subtract(straight(add(sheet.edge, direction)), straight(sheet.edge));
  return { ...sheet, edge: straight(sheet.edge), along: turned(sheet.along), cover: turned(sheet.cover) };
}

/** Half scrims at their best clock angle. */
export interface FoundScrim {
  readonly grades: readonly number[];
  readonly clockDeg: number;
  readonly rank: SheetsRank;
  /** Length of the blend on the surface over that of the patch. */
  readonly blendPatches: number;
}

/**
 * The best of some choices of grades, each turned to its best clock angle.
 * @returns null where any of them takes the patch under the least level
 */
export function bestHalfScrim(situation: Situation, choices: readonly (readonly number[])[]): FoundScrim | null {
  const { lamp } = situation;
  const slotM = freeSlotM(lamp);
  const [coarse, rater] = [new SheetRater(situation, true), new SheetRater(situation, false)];
  const sheetsAt = ([clock, choice]: readonly number[]): HalfPlane[] =>
    halfScrimSheets(lamp, choices[choice!]!, clock!, slotM).map((sheet) => sheetLaidStraight(situation, sheet));
  const clocks = Array.from({ length: 360 / CLOCK_STEP_DEG }, (_, i) => i * CLOCK_STEP_DEG);
  const places = clocks.flatMap((clock) => choices.map((_, choice) => [clock, choice]));
  const starts = scan(places, (at) => coarse.rate(sheetsAt(at)), 3);
  const full = (at: readonly number[]): SheetsRank | null => {
    situation.pace.check();
    return rater.rate(sheetsAt(at));
  };
  const best = starts
    .flatMap((start): Trial<SheetsRank>[] => {
      const rank = full(start.at);
      return rank === null ? [] : [descend({ at: start.at, rank }, [CLOCK_STEP_DEG / 2], full, 1)];
    })
    .sort((a, b) => compareRanks(a.rank, b.rank))[0];
  if (!best) return null;
  return {
    grades: choices[best.at[1]!]!,
    clockDeg: ((best.at[0]! % 360) + 360) % 360,
    rank: best.rank,
    blendPatches: blendOverPatch(situation, sheetsAt(best.at)[0]!.cover, slotM),
  };
}

export const ONLY_DIMS_IN_GATE =
  'Every point of a projection spot’s lens carries the whole picture: a half scrim in its slot only dims.';

export function halfScrim(situation: Situation): (Mend | RankedMend)[] {
  const { lamp, lampId, setup } = situation;
  if (situation.source.profile.kind === 'projection') return [refusal(situation, 'halfScrim', ONLY_DIMS_IN_GATE)];
  const best = bestHalfScrim(situation, GRADES);
  if (!best) return [refusal(situation, 'halfScrim', `Any half scrim takes the patch under ${situation.least.words}.`)];
  const { grades, clockDeg, blendPatches } = best;
  const stops = grades.reduce((sum, one) => sum + one, 0);
  const { falloffStops, costStops } = best.rank;
  const takenOff = (situation.main.check.falloffStops ?? 0) - falloffStops;
  if (blendPatches > MOST_PATCHES && takenOff < LEAST_USE * stops) {
    const words = `So near the lens a half scrim blends over ${blendPatches.toFixed(0)} patch lengths: it would only dim.`;
    return [refusal(situation, 'halfScrim', words)];
  }
  const what = grades.map((one) => (one === 1 ? 'half double' : 'half single')).join(' and a ');
  return [
    offer(situation, {
      kind: 'halfScrim',
      setup: withLamp(setup, lampId, withHalfScrims(lamp, grades, clockDeg), costStops),
      brief: `A ${what} in the lantern`,
      order: `A ${what} in the lantern, mesh at ${Math.round(clockDeg)}° (0 right, 90 top, from behind)`,
      why: `A half scrim never takes off more than its grade, ${gradeWords(stops)}.`,
      pieces: grades.length,
      predictedFalloffStops: falloffStops,
      costStops,
      remark: 'Test on the day.',
    }),
  ];
}
