/** Swing: round the window (round the patch where there is none) at the same distance, squarer to the wall. */
import { panTiltFromDirection } from '../../scene/geometry/frames';
import { subtract } from '../../scene/geometry/vector';
import { limitsOf } from '../judgement/limits';
import { evaluateSetup, type Evaluation } from './evaluateSetup';
import type { Mend } from './mend';
import { offer, refusal, type RankedMend } from './offer';
import { meanRay, swungAbout, turnedAbout } from './placing';
import { scanAndDescend, spaced } from './search';
import { withLamp, type Situation } from './situation';
import { mayStand } from './space';
import { degrees } from './words';

/** Azimuth off the story's that still passes: as height. */
const mostOffDeg = ({ document }: Situation): number => limitsOf(document).height.passable;
const FREE_TURN_DEG = 90;
const LEAST_TURN_DEG = 0.5;

const wrapped = (angleDeg: number): number => ((((angleDeg + 180) % 360) + 360) % 360) - 180;

/** Turns that the story lets pass, from and to, degrees clockwise; always takes in 0. */
function turnBounds(situation: Situation, azimuthDeg: number): readonly [number, number] {
  if (situation.options.anyAzimuth === true) return [-FREE_TURN_DEG, FREE_TURN_DEG];
  const sun = situation.document.story?.sun;
  const off = sun ? wrapped(azimuthDeg - sun.azimuthDeg - (situation.document.northDeg ?? 0)) : 0;
  const most = mostOffDeg(situation);
  return [Math.min(0, -most - off), Math.max(0, most - off)];
}

export function swing(situation: Situation): (Mend | RankedMend)[] {
  const { lamp, lampId, setup, document, main } = situation;
  if (situation.source.image !== null) {
    const words = 'The light comes off a mirror: to swing it, lamp and mirror both go round, by hand.';
    return [refusal(situation, 'swing', words)];
  }
  const ray = meanRay(situation);
  const pivot = ray.window ?? ray.middle;
  const azimuthDeg = panTiltFromDirection(subtract(lamp.pose.positionM, pivot)).panDeg;
  const [from, to] = turnBounds(situation, azimuthDeg);
  const heightLimit = Math.max(2, main.check.scores.height ?? 0) + 1e-6;
  const objective = ([turn]: readonly number[]): Evaluation | null => {
    if (Math.abs(turn!) < LEAST_TURN_DEG || turn! < from || turn! > to) return null;
    if (!mayStand(document, turnedAbout(lamp.pose.positionM, pivot, turn!))) return null;
    const found = evaluateSetup(situation, withLamp(setup, lampId, swungAbout(lamp, pivot, turn!)));
    if (found === null || found.meanLx < situation.least.meanLx) return null;
    return (found.scores.height ?? 0) > heightLimit ? null : found;
  };
  const count = situation.options.anyAzimuth === true ? 37 : 9;
  const places = spaced(from, to, count).map((turn) => [turn]);
  const best = scanAndDescend(places, [(to - from) / (count - 1) / 2], objective, 3);
  if (best === null) {
    return [refusal(situation, 'swing', 'No swing keeps to the space, the level and the height of the story’s sun.')];
  }
  const turn = best.at[0]!;
  const { costStops, falloffStops } = best.rank;
  const swung = swungAbout(lamp, pivot, turn);
  const brief = `Swing ${degrees(Math.abs(turn))} ${turn > 0 ? 'clockwise' : 'anticlockwise'}`;
  const atStory = situation.options.anyAzimuth !== true && Math.min(turn - from, to - turn) < 0.05;
  return [
    offer(situation, {
      kind: 'swing',
      setup: withLamp(setup, lampId, swung, costStops),
      brief,
      order: `${brief} on the plan, round the ${ray.window ? 'window' : 'middle of the patch'}`,
      why: atStory
        ? `The sun's place binds: ${mostOffDeg(situation)}° off is what the story lets pass.`
        : 'Farther round another figure gets worse, or the space ends.',
      pieces: 0,
      predictedFalloffStops: falloffStops,
      costStops,
      ...(situation.options.anyAzimuth === true ? { remark: 'The story’s azimuth was left free.' } : {}),
    }),
  ];
}
