/** Moving a lamp: along the ray of its light, about an upright axis, and turning it. */
import type { Lamp, Pose } from '../../scene/schema';
import { cosDeg, frameFromPose, panTiltFromAim, sinDeg } from '../../scene/geometry/frames';
import {
  add,
  addScaled,
  distance,
  dot,
  length,
  normalise,
  scale,
  subtract,
  type Vec3,
} from '../../scene/geometry/vector';
import { passesOpening } from '../judgement/patch';
import type { Situation } from './situation';

/** A lamp is aimed at a place at least this far off, m. */
const LEAST_AIM_M = 0.5;

const tuple = ([x, y, z]: Vec3): [number, number, number] => [x, y, z];

/** The lamp at another place, its beam the same way as before. */
export function movedTo(lamp: Lamp, place: Vec3): Lamp {
  const { aim, positionM } = lamp.pose;
  if (!('atM' in aim)) return { ...lamp, pose: { ...lamp.pose, positionM: tuple(place) } };
  const { forward } = frameFromPose(lamp.pose);
  // The aim stays about the same place of the set: what the lamp moves along its beam is taken out again.
  const reachM = distance(positionM, aim.atM) - dot(subtract(place, positionM), forward);
  const target = addScaled(place, forward, Math.max(LEAST_AIM_M, reachM));
  return { ...lamp, pose: { positionM: tuple(place), aim: { ...aim, atM: tuple(target) } } };
}

/** The lamp aimed at a place. */
export function aimedAt(lamp: Lamp, target: Vec3): Lamp {
  const { rollDeg } = lamp.pose.aim;
  const aim = rollDeg === undefined ? { atM: tuple(target) } : { atM: tuple(target), rollDeg };
  return { ...lamp, pose: { positionM: lamp.pose.positionM, aim } };
}

/** A place turned about the upright through `pivot`, clockwise seen from above, degrees. */
export function turnedAbout(place: Vec3, pivot: Vec3, turnDeg: number): Vec3 {
  const [dx, dy] = [place[0] - pivot[0], place[1] - pivot[1]];
  const [c, s] = [cosDeg(turnDeg), sinDeg(turnDeg)];
  return [pivot[0] + c * dx + s * dy, pivot[1] - s * dx + c * dy, place[2]];
}

/** The lamp swung about an upright, its beam with it. */
export function swungAbout(lamp: Lamp, pivot: Vec3, turnDeg: number): Lamp {
  const { aim, positionM } = lamp.pose;
  const turned: Pose['aim'] =
    'atM' in aim
      ? { ...aim, atM: tuple(turnedAbout(aim.atM, pivot, turnDeg)) }
      : { ...aim, panDeg: panTiltFromAim(aim, positionM).panDeg + turnDeg };
  return { ...lamp, pose: { positionM: tuple(turnedAbout(positionM, pivot, turnDeg)), aim: turned } };
}

/**
 * From places of the set to places of the path laid out straight, and back: for light off a mirror the reflection in its
 * plane, which puts the lamp where its image stands; without a mirror nothing changes.
 */
export function laidStraight({ source: { image } }: Situation): (place: Vec3) => Vec3 {
  if (image === null) return (place) => place;
  return (place) => addScaled(place, image.normal, -2 * dot(image.normal, subtract(place, image.origin)));
}

/**
 * The light's middle ray: from the patch's middle C to the lens, its length, and where it passes the window. Off a
 * mirror it goes on straight, to the lens of the image: its length is that of both legs.
 */
export interface MeanRay {
  readonly middle: Vec3;
  readonly towards: Vec3;
  readonly throwM: number;
  /** From the lens to the mirror along the ray; 0 without a mirror. */
  readonly mirrorLegM: number;
  /** Where the ray crosses the wall of the window that lets the most light in; null without a window. */
  readonly window: Vec3 | null;
}

export function meanRay(situation: Situation): MeanRay {
  const { main, lamp, scene, source } = situation;
  const middle = main.patch.centroid;
  const lens = laidStraight(situation)(lamp.pose.positionM);
  const run = subtract(lens, middle);
  const towards = normalise(run);
  const { image } = source;
  const mirrorLegM = image ? dot(image.normal, subtract(lens, image.origin)) / dot(image.normal, towards) : 0;
  const counts = new Map<number, number>();
  main.patch.window.forEach((index) => {
    if (index >= 0) counts.set(index, (counts.get(index) ?? 0) + 1);
  });
  const [index] = [...counts].sort((a, b) => b[1] - a[1])[0] ?? [];
  const opening = index === undefined ? undefined : scene.openings[index];
  let window: Vec3 | null = null;
  if (opening) {
    const rate = dot(opening.frame.forward, towards);
    const at = addScaled(middle, towards, dot(opening.frame.forward, subtract(opening.corners[0]!, middle)) / rate);
    const corners = opening.corners.reduce(add, [0, 0, 0] as Vec3);
    window = passesOpening(opening, middle, towards) ? at : scale(corners, 1 / opening.corners.length);
  }
  return { middle, towards, throwM: length(run), mirrorLegM, window };
}
