/** A narrower spot of the kit in the lamp's place, farther off: trades fall-off and fan against edge, level and fill. */
import type { KitEntry, Lamp } from '../../scene/schema';
import { toDegrees } from '../../scene/geometry/frames';
import { addScaled, distance } from '../../scene/geometry/vector';
import type { CompiledSource } from '../solve/compiled';
import { compileScene } from '../solve/compileScene';
import { evaluateSetup, type Evaluation } from './evaluateSetup';
import type { Mend } from './mend';
import { offer, refusal, type RankedMend } from './offer';
import { placesAlong } from './backOff';
import { aimedAt, laidStraight, meanRay, movedTo } from './placing';
import { descend, scan, spaced } from './search';
import { withSetup } from '../../scene/withSetup';
import { withLamp, type Situation } from './situation';
import { FARTHEST_M, mayStand, reachOf } from './space';
import { degrees, metres } from './words';

const NARROWER = 0.95;
/** Nearest that a lamp is brought to the patch, or to the window in front of it, m. */
const NEAREST_M = 2;
const CLEAR_OF_WINDOW_M = 1;
const CLEAR_OF_MIRROR_M = 1;
/** What an aim beside the middle must better the score by. */
const WORTH_TURNING = 0.02;
/** How far the aim may leave the middle of the patch, in shares of the throw. */
const MOST_AIM = 0.3;

/** Angle from the axis to half the peak intensity, degrees; 90 for lamps that are as bright every way. */
export function halfIntensityDeg({ profile, shape }: CompiledSource): number {
  if (shape.kind === 'sphere' || shape.kind === 'tube') return 90;
  switch (profile.kind) {
    case 'cosine':
      return profile.exponent === 0 ? 90 : toDegrees(Math.acos(0.5 ** (1 / profile.exponent)));
    case 'beam':
      return toDegrees(profile.halfBeamRad);
    case 'projection':
      return toDegrees(profile.halfFieldRad);
    default:
      return 90;
  }
}

/** The lamp of a kit entry in the place, with the level and the aim, of the one there is. */
function exchanged(lamp: Lamp, kitId: string, entry: KitEntry): Lamp {
  const kept: Lamp = { ...entry.lamp!, type: 'lamp', name: lamp.name, unit: entry.name, pose: lamp.pose, kitId };
  return {
    ...kept,
    ...(lamp.level === undefined ? {} : { level: lamp.level }),
    ...(lamp.off === undefined ? {} : { off: lamp.off }),
    ...(lamp.stand === undefined ? {} : { stand: lamp.stand }),
  };
}

/** Free lamps of the kit with a narrower beam than the one there is. */
function narrowerLamps(situation: Situation): { name: string; lamp: Lamp }[] {
  const { document, setup, lampId, source } = situation;
  const widest = NARROWER * halfIntensityDeg(source);
  return Object.entries(document.kit ?? {}).flatMap(([kitId, entry]) => {
    if (entry.kind !== 'lamp' || !entry.lamp) return [];
    const used = Object.entries(setup.sources).filter(
      ([id, other]) => id !== lampId && other.type === 'lamp' && other.kitId === kitId,
    ).length;
    if (entry.count - used <= 0) return [];
    const lamp = exchanged(situation.lamp, kitId, entry);
    const compiled = compileScene(withSetup(document, withLamp(setup, lampId, lamp)), setup.id);
    const own = compiled.sources.find(({ id }) => id === lampId)!;
    return halfIntensityDeg(own) < widest ? [{ name: entry.name, lamp }] : [];
  });
}

export function narrowerSpot(situation: Situation): (Mend | RankedMend)[] {
  const { lampId, setup, document, main } = situation;
  const lamps = narrowerLamps(situation);
  if (lamps.length === 0) return [refusal(situation, 'narrowerSpot', 'The kit has no narrower spot free.')];
  if (!mayStand(document, situation.lamp.pose.positionM)) {
    return [refusal(situation, 'narrowerSpot', 'The lamp stands outside the space that is drawn for it.')];
  }
  const ray = meanRay(situation);
  const fromStraight = laidStraight(situation);
  const placeAt = placesAlong(situation, ray);
  const nearest = Math.max(
    ray.window ? distance(ray.middle, ray.window) + CLEAR_OF_WINDOW_M : NEAREST_M,
    ray.mirrorLegM > 0 ? ray.throwM - ray.mirrorLegM + CLEAR_OF_MIRROR_M : 0,
  );
  const farM = reachOf(document, placeAt, ray.throwM, Math.max(FARTHEST_M, ray.throwM));
  const nearM = reachOf(document, placeAt, ray.throwM, Math.min(nearest, ray.throwM));
  const { right } = main.pair.surface.frame;
  const lampAt = (index: number, r: number, aside: number): Lamp =>
    aimedAt(movedTo(lamps[index]!.lamp, placeAt(r)), fromStraight(addScaled(ray.middle, right, aside * r)));
  const objective = ([index, r, aside]: readonly number[]): Evaluation | null => {
    if (r! < nearM - 1e-9 || r! > farM + 1e-9 || Math.abs(aside!) > MOST_AIM) return null;
    const found = evaluateSetup(situation, withLamp(setup, lampId, lampAt(index!, r!, aside!)));
    return found === null || found.meanLx < situation.least.meanLx ? null : found;
  };
  const distances = spaced(nearM, farM, 7);
  const places = lamps.flatMap((_, index) => distances.map((r) => [index, r, 0]));
  const [start] = scan(places, objective, 1);
  if (!start) {
    return [refusal(situation, 'narrowerSpot', `No narrower spot of the kit gives ${situation.least.words} here.`)];
  }
  // The lamp stays chosen: its axis gets no step.
  const onLamp = (at: readonly number[]): Evaluation | null => (at[0] === start.at[0] ? objective(at) : null);
  const turned = descend(start, [0.5, (farM - nearM) / 12, 0.02], onLamp, 3);
  const straight = descend(
    { at: start.at.slice(0, 2), rank: start.rank },
    [0.5, (farM - nearM) / 12],
    (at) => onLamp([...at, 0]),
    3,
  );
  // To aim beside the middle is worth a word only where it betters the score.
  const best =
    turned.rank.score < straight.rank.score - WORTH_TURNING ? turned : { at: [...straight.at, 0], rank: straight.rank };
  const [index, r, aside] = best.at as [number, number, number];
  const lamp = lampAt(index, r, aside);
  const { costStops, falloffStops } = best.rank;
  const compiled = compileScene(withSetup(document, withLamp(setup, lampId, lamp)), setup.id);
  const angle = 2 * halfIntensityDeg(compiled.sources.find(({ id }) => id === lampId)!);
  const aim =
    Math.abs(aside * r) < 0.1
      ? ''
      : `, aimed ${metres(Math.abs(aside * r))} ${aside > 0 ? 'right' : 'left'} of the middle`;
  const brief = `Put up the ${lamp.unit ?? 'narrower spot'} (${degrees(angle)}) at ${metres(r)}`;
  return [
    offer(situation, {
      kind: 'narrowerSpot',
      setup: withLamp(setup, lampId, lamp, costStops),
      brief,
      order: `${brief}, lens at ${metres(lamp.pose.positionM[2])}${aim}`,
      why: farM - r < 0.1 ? 'The space ends there.' : 'Farther off the level, the edge or the fill gets worse.',
      pieces: 0,
      predictedFalloffStops: falloffStops,
      costStops,
    }),
  ];
}
