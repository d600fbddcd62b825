/** Carrying a wall or one of its corners: by the pointer with snapping, by arrow keys, by figures. */
import type { SnapMark } from '../../render/contract';
import { cosDeg, frameFromPose, sinDeg } from '../../scene/geometry/frames';
import type { Vec3 } from '../../scene/geometry/vector';
import type { Point2, SceneDocument } from '../../scene/schema';
import { CORNER_REACH_PX, snapCorner, standingCorners } from './draw/drawSnap';
import { wallBetween } from './wallsAlong';
import { endsOf, joinedTo, otherSide, SIDES, type Side, type WallChange, type WallPart } from './walls';
import { teesOn } from './wallTees';

const UNKNOWN: WallChange = { ok: false, why: 'Only an upright wall has corners to move.' };
const round = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(6)) + 0;
const ground = ([x, y]: Point2): Vec3 => [x, y, 0];
/** A corner is drawn at most this far from the pointer, CSS pixels. */
const MOST_PULL_PX = 14;
/** Directions that a dragged corner is drawn to, degrees. */
const TURN_STEP_DEG = 15;

export interface CarriedWall {
  readonly change: WallChange;
  readonly marks: readonly SnapMark[];
}

/** The scene without what moves along: nothing snaps to itself. */
function restingScene(scene: SceneDocument, id: string, corners: readonly Point2[]): SceneDocument {
  const own = scene.surfaces[id] && endsOf(scene.surfaces[id]);
  const going = new Set([
    id,
    ...corners.flatMap((corner) => joinedTo(scene, id, corner).map((one) => one.id)),
    ...(own && corners.length > 0 ? teesOn(scene, own) : []),
  ]);
  const rest = Object.entries(scene.surfaces).filter(([otherId]) => !going.has(otherId));
  return { ...scene, surfaces: Object.fromEntries(rest) };
}

/** One corner to where the pointer is: on a corner that stands there, or at whole angles and lengths from the other end. */
export function dragCorner(
  scene: SceneDocument,
  id: string,
  side: Side,
  free: Point2,
  metresPerPixel: number,
  { isFree, isJoined }: { readonly isFree: boolean; readonly isJoined: boolean },
): CarriedWall {
  const wall = scene.surfaces[id];
  const ends = wall && endsOf(wall);
  if (!ends) return { change: UNKNOWN, marks: [] };
  const fixed = ends[otherSide(side)];
  const neighbour = isJoined ? joinedTo(scene, id, ends[side])[0] : undefined;
  const drawing = { kind: 'walls', corners: neighbour ? [neighbour.far, fixed] : [fixed], at: null } as const;
  const rest = restingScene(scene, id, [ends[side]]);
  const near = snapCorner(rest, drawing, free, metresPerPixel, isFree);
  // A long wall is not held to its direction by a whole angle that lies far from the pointer.
  const offM = Math.hypot(near.at[0] - free[0], near.at[1] - free[1]);
  const isHeld = offM <= MOST_PULL_PX * metresPerPixel;
  const snapped = isHeld ? near : snapCorner(rest, drawing, free, metresPerPixel, true);
  const change = wallBetween(scene, id, { ...ends, [side]: snapped.at }, side, isJoined);
  const marks = snapped.marks.map((mark) =>
    mark.kind === 'level' && neighbour ? { ...mark, word: `level with ${neighbour.name}` } : mark,
  );
  return { change, marks: marks.length > 0 || isFree || !isHeld ? marks : squareMark(fixed, snapped.at) };
}

/** Says that a stretch lies at a whole step of direction. */
function squareMark(from: Point2, to: Point2): SnapMark[] {
  const directionDeg = ((Math.atan2(to[0] - from[0], to[1] - from[1]) * 180) / Math.PI + 360) % 360;
  const whole = Math.round(directionDeg / TURN_STEP_DEG) * TURN_STEP_DEG;
  if (Math.abs(directionDeg - whole) > 0.02) return [];
  return [{ kind: 'level', atM: ground(to), otherM: ground(from), word: `at ${whole % 360}°` }];
}

/** The whole wall by an offset on the plan; where others are joined to it, only across itself. */
export function dragWall(
  scene: SceneDocument,
  id: string,
  delta: Point2,
  metresPerPixel: number,
  { isFree, isJoined, stepM }: { readonly isFree: boolean; readonly isJoined: boolean; readonly stepM: number },
): CarriedWall {
  const wall = scene.surfaces[id];
  const ends = wall && endsOf(wall);
  if (!wall || !ends) return { change: UNKNOWN, marks: [] };
  const [nx, ny] = frameFromPose(wall.pose).forward;
  const acrossM = delta[0] * nx + delta[1] * ny;
  const isHeld = isJoined && SIDES.some((side) => joinedTo(scene, id, ends[side]).length > 0);
  const rest = restingScene(scene, id, isJoined ? [ends.left, ends.right] : []);
  const snap = isFree ? null : levelCorner(rest, ends.left, [nx, ny], acrossM, CORNER_REACH_PX * metresPerPixel);
  const across = snap ? snap.acrossM : round(acrossM, stepM);
  const along = isHeld ? 0 : round(delta[1] * nx - delta[0] * ny, stepM);
  const shift = ([x, y]: Point2): Point2 => [x + across * nx - along * ny, y + across * ny + along * nx];
  const next = { left: shift(ends.left), right: shift(ends.right) };
  const change = wallBetween(scene, id, next, 'whole', isJoined);
  const isIdle = isHeld && across === 0 && Math.hypot(...delta) > stepM / 2;
  if (isIdle) {
    const why = `${wall.name} is joined: it moves across only. Let go of joined walls to slide it.`;
    return { change: { ok: false, why }, marks: [] };
  }
  const marks: SnapMark[] = snap
    ? [{ kind: 'level', atM: ground(next.left), otherM: ground(snap.at), word: `level with ${snap.name}` }]
    : [];
  return { change, marks };
}

/** The standing corner that the line of a wall comes level with first. */
function levelCorner(rest: SceneDocument, from: Point2, [nx, ny]: Point2, acrossM: number, reachM: number) {
  let best: { readonly acrossM: number; readonly at: Point2; readonly name: string } | null = null;
  for (const { at, name } of standingCorners(rest)) {
    const itsM = (at[0] - from[0]) * nx + (at[1] - from[1]) * ny;
    const off = Math.abs(itsM - acrossM);
    if (off > reachM || (best && off >= Math.abs(best.acrossM - acrossM))) continue;
    best = { acrossM: Number(itsM.toFixed(6)) + 0, at, name };
  }
  return best;
}

/** One step of an arrow key for the wall, or for the corner that is chosen. */
export function nudgeWall(
  scene: SceneDocument,
  id: string,
  part: WallPart,
  delta: Point2,
  isJoined: boolean,
): WallChange {
  const ends = scene.surfaces[id] && endsOf(scene.surfaces[id]);
  if (!ends) return UNKNOWN;
  if (part === 'whole') {
    const stepM = Math.max(Math.hypot(...delta), 0.001);
    return dragWall(scene, id, delta, 0, { isFree: true, isJoined, stepM: Math.min(stepM, 0.001) }).change;
  }
  const [x, y] = ends[part];
  const to: Point2 = [Number((x + delta[0]).toFixed(6)), Number((y + delta[1]).toFixed(6))];
  return wallBetween(scene, id, { ...ends, [part]: to }, part, isJoined);
}

/** The whole wall so that its left corner comes to a typed place; what is joined to it goes along. */
export function wallFrom(scene: SceneDocument, id: string, left: Point2, isJoined: boolean): WallChange {
  const ends = scene.surfaces[id] && endsOf(scene.surfaces[id]);
  if (!ends) return UNKNOWN;
  const right: Point2 = [ends.right[0] + left[0] - ends.left[0], ends.right[1] + left[1] - ends.left[1]];
  return wallBetween(scene, id, { left, right }, 'whole', isJoined);
}

/** One corner to a typed place. */
export function cornerTo(scene: SceneDocument, id: string, side: Side, to: Point2, isJoined: boolean): WallChange {
  const ends = scene.surfaces[id] && endsOf(scene.surfaces[id]);
  return ends ? wallBetween(scene, id, { ...ends, [side]: to }, side, isJoined) : UNKNOWN;
}

/** The wall as long as typed, or at a typed bearing from its left end to its right one; `fixed` stays. */
export function wallTo(
  scene: SceneDocument,
  id: string,
  fixed: Side,
  { lengthM, bearingDeg }: { readonly lengthM: number; readonly bearingDeg: number },
  isJoined: boolean,
): WallChange {
  const ends = scene.surfaces[id] && endsOf(scene.surfaces[id]);
  if (!ends) return UNKNOWN;
  const turn = fixed === 'left' ? 1 : -1;
  const [x, y] = ends[fixed];
  const to: Point2 = [x + turn * lengthM * sinDeg(bearingDeg), y + turn * lengthM * cosDeg(bearingDeg)];
  return cornerTo(scene, id, otherSide(fixed), to, isJoined);
}
