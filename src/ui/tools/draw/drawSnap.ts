/** Where a corner comes to rest on the plan: on a corner that is there, on whole angles, level with the first corner. */
import type { SnapMark } from '../../../render/contract';
import { frameFromPose, worldFromLocal } from '../../../scene/geometry/frames';
import { ringOf } from '../../../scene/invariants';
import type { Point2, SceneDocument } from '../../../scene/schema';
import { apart, cornerAt, isSpotKind, stretchOf, type Drawing } from './drawing';

export const CORNER_REACH_PX = 10;
/** Directions come to whole steps of this, degrees. */
const TURN_STEP_DEG = 15;
const TURN_REACH_DEG = 4;
/** Lengths come to whole steps of this, metres; finer where the view is close enough to see them. */
const stepM = (metresPerPixel: number): number =>
  metresPerPixel >= 0.01 ? 0.05 : metresPerPixel >= 0.002 ? 0.01 : 0.001;
const roundTo = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(4)) + 0;

export interface SnappedCorner {
  readonly at: Point2;
  readonly marks: readonly SnapMark[];
}

/** Ends of everything that stands upright, on the ground. */
export function standingCorners(scene: SceneDocument): { readonly at: Point2; readonly name: string }[] {
  return Object.values(scene.surfaces).flatMap((surface) => {
    const frame = frameFromPose(surface.pose);
    if (Math.abs(frame.forward[2]) > 0.1 || surface.hidden === true) return [];
    const rights = ringOf(surface.shape).map(([right]) => right);
    return [Math.min(...rights), Math.max(...rights)].map((right) => {
      const [x, y] = worldFromLocal(frame, [right, 0]);
      return { at: [Number(x.toFixed(4)), Number(y.toFixed(4))] as Point2, name: surface.name };
    });
  });
}

const atGround = ([x, y]: Point2): [number, number, number] => [x, y, 0];

/** A place along the direction from `last`, stopped where it comes level with the first corner. */
function alongDirection(
  drawing: Drawing,
  last: Point2,
  free: Point2,
  reachM: number,
  step: number,
): SnappedCorner | null {
  const { lengthM, directionDeg } = stretchOf(last, free);
  const whole = Math.round(directionDeg / TURN_STEP_DEG) * TURN_STEP_DEG;
  const offDeg = Math.abs(directionDeg - whole);
  if (offDeg > TURN_REACH_DEG && lengthM * Math.sin((offDeg * Math.PI) / 180) > reachM) return null;
  const at = cornerAt(last, Math.max(step, roundTo(lengthM, step)), whole);
  const first = drawing.corners[0];
  if (!first || drawing.corners.length < 2 || whole % 90 !== 0) return { at, marks: [] };
  // Walking right or left it can come level with the first corner in x, walking up or down in y.
  const axis = whole % 180 === 0 ? 1 : 0;
  if (Math.abs(at[axis] - first[axis]) > reachM) return { at, marks: [] };
  const levelled: Point2 = axis === 1 ? [at[0], first[1]] : [first[0], at[1]];
  const word = 'level with the first corner';
  return { at: levelled, marks: [{ kind: 'level', atM: atGround(levelled), otherM: atGround(first), word }] };
}

/** @param isFree nothing snaps: places come to whole centimetres */
export function snapCorner(
  scene: SceneDocument,
  drawing: Drawing,
  free: Point2,
  metresPerPixel: number,
  isFree: boolean,
): SnappedCorner {
  const step = stepM(metresPerPixel);
  const rounded = (by: number): Point2 => [roundTo(free[0], by), roundTo(free[1], by)];
  if (isFree) return { at: rounded(Math.min(step, 0.01)), marks: [] };
  const reachM = CORNER_REACH_PX * metresPerPixel;
  const [first] = drawing.corners;
  const own = drawing.corners.length >= 3 && first ? [{ at: first, name: 'the first corner, closes' }] : [];
  const near = [...own, ...standingCorners(scene)].find(({ at }) => apart(at, free) <= reachM);
  if (near) return { at: near.at, marks: [{ kind: 'on', atM: atGround(near.at), word: `on ${near.name}` }] };
  const last = drawing.corners.at(-1);
  // The last corner again ends the line: it must be hit, not stepped away from.
  if (last && apart(last, free) <= reachM) return { at: last, marks: [] };
  if (!last || isSpotKind(drawing.kind) || (drawing.kind === 'measure' && drawing.corners.length !== 1)) {
    return { at: rounded(step), marks: [] };
  }
  return alongDirection(drawing, last, free, reachM, step) ?? { at: rounded(step), marks: [] };
}
