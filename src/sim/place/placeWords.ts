/** A placement in words, and what cannot be had. */
import type { ScoredFigure } from '../results';
import { FIGURE_WORDS } from '../judgement/figureWords';
import { MOVED_FIGURES } from '../mends/evaluateSetup';
import { lastGood } from '../mends/search';
import { counted, degrees, metres, stops } from '../mends/words';
import type { Placement } from './placeAnswer';
import type { PlaceTask } from './placeRequest';
import { LOWEST_LENS_M, lensAt, overGroundM, spotTrouble, type SpotNumbers } from './placeSpots';
import type { SpotRater } from './rateSpots';

/** How far out the distance that would read is looked for, m. */
const LOOKED_AS_FAR_M = 60;
const HALVINGS = 7;
const LEAST_TURN_DEG = 0.5;
/** A dimmer from here on is full up. */
const FULL = 0.995;
/** With less light than this to spare, the level binds; share of full. */
const LEVEL_BINDS = 0.9;
/** Nearer to its bound than this, the distance is said to be bound, m. */
const AT_BOUND_M = 0.1;

const tStop = (value: number): string => `T${Number(value.toFixed(1))}`;
const percent = (share: number): string => `${Math.max(1, Math.round(100 * share))} %`;
const wholeDegrees = (value: number): string => (Math.abs(value) < 9.95 ? `${value.toFixed(1)}°` : degrees(value));

/** What to put up: lamp, place, height, aim, nets, dimmer. */
export function placementWords(task: PlaceTask, placement: Placement): string {
  const { lampName, distanceM, lensHeightM, turnDeg, riseDeg, nets, level } = placement;
  const high = placement.check.altitudeOffDeg ?? riseDeg;
  const offs = [
    ...(Math.abs(turnDeg) < LEAST_TURN_DEG
      ? []
      : [`${degrees(Math.abs(turnDeg))} ${turnDeg > 0 ? 'clockwise' : 'anticlockwise'} of the story’s sun`]),
    ...(Math.abs(high) < LEAST_TURN_DEG
      ? []
      : [`its light ${degrees(Math.abs(high))} too ${high > 0 ? 'high' : 'low'}`]),
  ];
  const off = offs.length === 0 ? 'on the line of the story’s sun' : offs.join(', ');
  const net = nets.length === 0 ? '' : `, ${counted(nets.length).toLowerCase()} ${nets.length === 1 ? 'net' : 'nets'}`;
  const dim = level < FULL ? `, dimmed to ${percent(level)}` : '';
  return `${lampName}, ${metres(distanceM)} from the window, lens at ${metres(lensHeightM)}, ${off}${net}${dim}. ${placement.check.sentence}`;
}

/** "No lamp of the kit reaches T4 from 7.0 m: 1.2 stops short, T2.6 would do." */
function shortWords({ document, overKeyStops }: PlaceTask, { distanceM, shortStops }: Placement): string {
  const { tStop: set } = document.camera;
  const over = overKeyStops === 0 ? '' : ` with the sun ${stops(overKeyStops)} over key`;
  const would = tStop(set / 2 ** (shortStops / 2));
  return `No lamp of the kit reaches ${tStop(set)}${over}: from ${metres(distanceM)} the best is ${stops(shortStops)} short; ${would} would do.`;
}

/** Why the lamp does not stand on the line of the story's sun at its own distance; null where it may, or does. */
function heightWords(
  rater: SpotRater,
  { distanceM, turnDeg, riseDeg, check }: Placement,
  lampIndex: number,
): string | null {
  const { task } = rater;
  const onLine: SpotNumbers = [distanceM, 0, 0, 0, 0];
  const place = lensAt(task, onLine);
  const heightM = overGroundM(task, place) ?? place[2];
  const sun = `The sun at ${wholeDegrees(task.sun.altitudeDeg)} would need a lens at ${metres(heightM)}, ${metres(distanceM)} from the window`;
  const off = check.altitudeOffDeg ?? riseDeg;
  const comes = `the light comes ${wholeDegrees(Math.abs(off))} too ${off > 0 ? 'high' : 'low'}`;
  switch (spotTrouble(task, onLine)) {
    case 'high':
      return `${sun}; lenses go up to ${metres(task.request.highestLensM!)}: ${comes}.`;
    case 'low':
      return `${sun}; lenses start at ${metres(LOWEST_LENS_M)}: ${comes}.`;
    case 'space':
      return `${sun}, where no lamp may stand.`;
    default: {
      if (Math.max(Math.abs(turnDeg), Math.abs(riseDeg)) < LEAST_TURN_DEG) return null;
      return rater.simulate(lampIndex, onLine) === null ? `${sun}; something of the set is in the way.` : null;
    }
  }
}

/** "The lines fan": which figure keeps the rig from reading as sun, and the distance that would mend it. */
function verdictWords(rater: SpotRater, placement: Placement, lampIndex: number): string | null {
  const { check, distanceM, turnDeg, riseDeg, level, azimuthScore, score } = placement;
  if (azimuthScore > 1 && azimuthScore >= score - 1e-9) {
    const side = `${wholeDegrees(Math.abs(turnDeg))} ${turnDeg > 0 ? 'clockwise' : 'anticlockwise'} of the story’s sun`;
    return `A verdict of “reads as sun” cannot be had: the light comes from ${side} on the plan.`;
  }
  if (check.verdict === 'reads' || check.worst === null) return null;
  const worst: ScoredFigure = check.worst;
  const what = `A verdict of “reads as sun” cannot be had: ${FIGURE_WORDS[worst]} stands against it`;
  const bound = rater.task.request.farthestM;
  if (!MOVED_FIGURES.includes(worst) || worst === 'height') return `${what}.`;
  if (bound - distanceM > AT_BOUND_M) {
    return level > LEVEL_BINDS ? `${what}; farther off the level goes.` : `${what}.`;
  }
  const reads = (r: number): boolean =>
    (rater.simulate(lampIndex, [r, turnDeg, riseDeg, 0, 0])?.scores[worst] ?? Infinity) <= 1;
  if (!reads(LOOKED_AS_FAR_M)) return `${what}, and more distance alone does not mend it.`;
  const needM = lastGood(reads, LOOKED_AS_FAR_M, distanceM, HALVINGS);
  return `${what}; that needs about ${needM.toFixed(0)} m from the window, and ${metres(bound)} is the farthest.`;
}

/** Why nothing lands on the surface at all. */
function noPatchWords(rater: SpotRater, mostOffDeg: number): string {
  const { task } = rater;
  const { farthestM } = task.request;
  const within = `within ${mostOffDeg}° of the story’s sun and ${metres(farthestM)} of the window`;
  if (rater.tried > 0) return `No lamp of the kit lights this surface through this window from any place ${within}.`;
  const onLine: SpotNumbers = [farthestM, 0, 0, 0, 0];
  const place = lensAt(task, onLine);
  const heightM = overGroundM(task, place) ?? place[2];
  const needs = `the sun at ${wholeDegrees(task.sun.altitudeDeg)} would need a lens at ${metres(heightM)}`;
  return `No lamp may stand anywhere ${within}: ${needs}, ${metres(farthestM)} out.`;
}

/**
 * What of the request cannot be had, and why; empty where all of it can.
 * @param best null where no spot gives a patch
 */
export function cannotWords(
  rater: SpotRater,
  best: { readonly placement: Placement; readonly lampIndex: number } | null,
  mostOffDeg: number,
): string[] {
  if (best === null) return [noPatchWords(rater, mostOffDeg)];
  const { placement, lampIndex } = best;
  return [
    placement.shortStops < 0.01 ? null : shortWords(rater.task, placement),
    heightWords(rater, placement, lampIndex),
    verdictWords(rater, placement, lampIndex),
  ].filter((words) => words !== null);
}
