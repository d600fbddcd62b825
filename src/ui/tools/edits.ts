/** What a gesture does to the document: a change computed from the state before the gesture, never from the last move. */
import type { ObjectRef } from '../../render/contract';
import type { Aim, Pose, SceneDocument } from '../../scene/schema';
import { dimensionLine } from '../../scene/dimensions';
import { DIMENSION_OFFSET_M } from '../../scene/schemaPlan';
import { frameFromPose, panTiltFromAim, panTiltFromDirection } from '../../scene/geometry/frames';
import { add, dot, subtract, type Vec3 } from '../../scene/geometry/vector';
import { offsetThrough } from '../../render/shutterMarks';
import { aimPointOf, extentOf, isFixed, openingOf, poseOf, sourceOf, tuple } from './things';

export type Edit =
  | { readonly kind: 'pose'; readonly ref: ObjectRef; readonly pose: Pose }
  | { readonly kind: 'opening'; readonly ref: ObjectRef; readonly leftM: number; readonly sillM: number }
  | { readonly kind: 'shutter'; readonly ref: ObjectRef; readonly index: number; readonly offsetDeg: number }
  /** A mark or a picture: a thing that only lies somewhere. */
  | { readonly kind: 'mark'; readonly ref: ObjectRef; readonly positionM: Vec3 }
  /** One figure of a thing: the turn of a picture, how far a dimension stands off. */
  | { readonly kind: 'figure'; readonly ref: ObjectRef; readonly fields: { turnDeg: number } | { offsetM: number } };

const ANGLE_STEP_DEG = 0.1;
const roundTo = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(6));
export const wrapDeg = (angleDeg: number): number => ((((angleDeg + 180) % 360) + 360) % 360) - 180;

/** Rounds the axes that were moved; the others keep every digit that was typed. */
const roundMoved = (point: Vec3, deltaM: Vec3, stepM: number): [number, number, number] => {
  const [x, y, z] = point;
  const [dx, dy, dz] = deltaM;
  const one = (value: number, delta: number) => (Math.abs(delta) < 1e-9 ? value : roundTo(value, stepM));
  return [one(x, dx), one(y, dy), one(z, dz)];
};

const clamp = (value: number, least: number, most: number): number => Math.max(least, Math.min(most, value));

/**
 * Carries a thing by `deltaM` from where it stands in `document`. An opening slides in its wall and stays inside it.
 * @returns null for a thing that cannot be carried
 */
export function moveEdit(
  document: SceneDocument,
  setupId: string,
  ref: ObjectRef,
  deltaM: Vec3,
  stepM: number,
): Edit | null {
  if (isFixed(document, setupId, ref)) return null;
  if (ref.kind === 'opening') {
    const found = openingOf(document, ref);
    if (!found) return null;
    const { opening, surface } = found;
    const frame = frameFromPose(surface.pose);
    const extent = extentOf(opening);
    const shape = surface.shape;
    const most = shape.kind === 'rectangle' ? shape : { widthM: Infinity, heightM: Infinity };
    const least = shape.kind === 'rectangle' ? 0 : -Infinity;
    const slide = (from: number, by: number, limit: number): number =>
      Math.abs(by) < 1e-9 ? from : clamp(roundTo(from + by, stepM), least, Math.max(least, limit));
    return {
      kind: 'opening',
      ref,
      leftM: slide(opening.leftM, dot(deltaM, frame.right), most.widthM - extent.widthM),
      sillM: slide(opening.sillM, dot(deltaM, frame.up), most.heightM - extent.heightM),
    };
  }
  if (ref.kind === 'dimension') return offsetEdit(document, setupId, ref, deltaM, stepM);
  const mark =
    ref.kind === 'mark' ? document.marks?.[ref.id] : document.pictures?.[ref.kind === 'picture' ? ref.id : ''];
  if (mark) return { kind: 'mark', ref, positionM: roundMoved(add(mark.positionM, deltaM), deltaM, stepM) };
  const pose = poseOf(document, setupId, ref);
  if (!pose) return null;
  return { kind: 'pose', ref, pose: { ...pose, positionM: roundMoved(add(pose.positionM, deltaM), deltaM, stepM) } };
}

/** Carries the line of a dimension across itself. */
function offsetEdit(
  document: SceneDocument,
  setupId: string,
  ref: ObjectRef,
  deltaM: Vec3,
  stepM: number,
): Edit | null {
  const dimension = document.dimensions?.[ref.id];
  const line = dimension && dimensionLine(document, setupId, dimension);
  if (!dimension || !line) return null;
  const [ax, ay] = [(line.to[0] - line.from[0]) / line.lengthM, (line.to[1] - line.from[1]) / line.lengthM];
  const offsetM = (dimension.offsetM ?? DIMENSION_OFFSET_M) - deltaM[0] * ay + deltaM[1] * ax;
  return { kind: 'figure', ref, fields: { offsetM: roundTo(offsetM, stepM) } };
}

/** An aim that keeps the form of the one before: a typed target stays a target, pan and tilt stay angles. */
function aimedAt(before: Aim, positionM: Vec3, target: Vec3, angleStepDeg: number): Aim {
  const roll = before.rollDeg === undefined ? {} : { rollDeg: before.rollDeg };
  if ('atM' in before) return { atM: tuple(target), ...roll };
  const { panDeg, tiltDeg } = panTiltFromDirection(subtract(target, positionM));
  return { panDeg: roundTo(wrapDeg(panDeg), angleStepDeg), tiltDeg: roundTo(tiltDeg, angleStepDeg), ...roll };
}

/** Moves the point that a thing's axis meets by `deltaM`; null for a thing without an axis, or a locked one. */
export function aimEdit(
  document: SceneDocument,
  setupId: string,
  ref: ObjectRef,
  deltaM: Vec3,
  stepM: number,
  angleStepDeg = ANGLE_STEP_DEG,
): Edit | null {
  const pose = poseOf(document, setupId, ref);
  if (!pose || isFixed(document, setupId, ref)) return null;
  const target = roundMoved(add(aimPointOf(document, pose), deltaM), deltaM, stepM);
  return { kind: 'pose', ref, pose: { ...pose, aim: aimedAt(pose.aim, pose.positionM, target, angleStepDeg) } };
}

/** Farthest that a shutter can stand from the axis, degrees: beyond it lies no picture. */
const MOST_SHUTTER_DEG = 89;

/**
 * Draws a shutter by as much as the cut moves from `from` to `to`; in tenths of a degree.
 * @returns null for a shutter that is not there, or a locked lamp
 */
export function shutterEdit(
  document: SceneDocument,
  setupId: string,
  ref: ObjectRef,
  index: number,
  from: Vec3,
  to: Vec3,
): Edit | null {
  const source = sourceOf(document, setupId, ref.id);
  if (source?.type !== 'lamp' || source.distribution.kind !== 'projection') return null;
  const shutter = source.distribution.shutters?.[index];
  if (!shutter || isFixed(document, setupId, ref)) return null;
  const frame = frameFromPose(source.pose);
  const byDeg = offsetThrough({ frame }, shutter, to) - offsetThrough({ frame }, shutter, from);
  const offsetDeg = clamp(roundTo(shutter.offsetDeg + byDeg, ANGLE_STEP_DEG), -MOST_SHUTTER_DEG, MOST_SHUTTER_DEG);
  return { kind: 'shutter', ref, index, offsetDeg };
}

export type TurnAxis = 'pan' | 'tilt' | 'roll';

/** Turns a thing about one of its axes; the aim becomes angles. Tilt stays within straight down and straight up. */
export function turnEdit(
  document: SceneDocument,
  setupId: string,
  ref: ObjectRef,
  axis: TurnAxis,
  deltaDeg: number,
): Edit | null {
  const picture = ref.kind === 'picture' ? document.pictures?.[ref.id] : undefined;
  if (picture && !isFixed(document, setupId, ref)) {
    const turnDeg = roundTo(wrapDeg((picture.turnDeg ?? 0) + deltaDeg), ANGLE_STEP_DEG);
    return { kind: 'figure', ref, fields: { turnDeg } };
  }
  const pose = poseOf(document, setupId, ref);
  if (!pose || isFixed(document, setupId, ref)) return null;
  const { panDeg, tiltDeg, rollDeg } = panTiltFromAim(pose.aim, pose.positionM);
  const turned = (from: number, own: TurnAxis): number =>
    own === axis ? roundTo(from + deltaDeg, ANGLE_STEP_DEG) : roundTo(from, 0.001);
  const roll = turned(rollDeg, 'roll');
  const aim: Aim = {
    panDeg: wrapDeg(turned(panDeg, 'pan')),
    tiltDeg: clamp(turned(tiltDeg, 'tilt'), -90, 90),
    ...(roll === 0 ? {} : { rollDeg: wrapDeg(roll) }),
  };
  return { kind: 'pose', ref, pose: { ...pose, aim } };
}
