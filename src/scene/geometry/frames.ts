/**
 * From poses in the document (degrees) to axes in the world.
 * Pan 0 looks along +y and turns clockwise seen from above; tilt is up from level; roll turns clockwise seen from behind.
 */
import type { Aim, Point2, Point3, Pose } from '../../scene/schema';
import { add, addScaled, cross, dot, length, normalise, scale, subtract, type Vec3 } from './vector';

/** Sine of an angle in degrees, exact at multiples of 90, so that square walls stay square. */
export function sinDeg(angleDeg: number): number {
  const turn = ((angleDeg % 360) + 360) % 360;
  if (turn === 0 || turn === 180) return 0;
  if (turn === 90) return 1;
  if (turn === 270) return -1;
  return Math.sin((turn * Math.PI) / 180);
}
/** Cosine of an angle in degrees, exact at multiples of 90. */
export const cosDeg = (angleDeg: number): number => sinDeg(angleDeg + 90);
export const toDegrees = (angleRad: number): number => (angleRad * 180) / Math.PI;
export const toRadians = (angleDeg: number): number => (angleDeg * Math.PI) / 180;

/** Right-handed axes of a thing: it faces `forward`; `right` and `up` are as seen by somebody who looks AT its face. */
export interface Frame {
  readonly origin: Vec3;
  readonly right: Vec3;
  readonly up: Vec3;
  readonly forward: Vec3;
}

/** Unit vector of a pan and a tilt, degrees: pan 0, tilt 0 is +y. */
export function directionFromPanTilt(panDeg: number, tiltDeg: number): Vec3 {
  return [sinDeg(panDeg) * cosDeg(tiltDeg), cosDeg(panDeg) * cosDeg(tiltDeg), sinDeg(tiltDeg)];
}

/** Pan and tilt of a direction, degrees: pan 0..360, tilt -90..90. Straight up or down has pan 0. */
export function panTiltFromDirection(direction: Vec3): { panDeg: number; tiltDeg: number } {
  const [x, y, z] = normalise(direction);
  const level = Math.hypot(x, y);
  const panDeg = level < 1e-12 ? 0 : (toDegrees(Math.atan2(x, y)) + 360) % 360;
  return { panDeg, tiltDeg: toDegrees(Math.atan2(z, level)) };
}

/** Pan and tilt of an aim as seen from `positionM`, degrees; a target on the spot itself looks along +y. */
export function panTiltFromAim(aim: Aim, positionM: Point3): { panDeg: number; tiltDeg: number; rollDeg: number } {
  const rollDeg = aim.rollDeg ?? 0;
  if ('panDeg' in aim) return { panDeg: aim.panDeg, tiltDeg: aim.tiltDeg, rollDeg };
  const towards = subtract(aim.atM, positionM);
  return length(towards) < 1e-9 ? { panDeg: 0, tiltDeg: 0, rollDeg } : { ...panTiltFromDirection(towards), rollDeg };
}

/**
 * Axes of a posed thing. `up` leans back as the thing tilts; looked at from its lit side, `right` is on the right.
 * A floor that faces up is pan 180, tilt 90: then right is +x and up is +y, as on the plan.
 */
export function frameFromPose(pose: Pose): Frame {
  const { panDeg, tiltDeg, rollDeg } = panTiltFromAim(pose.aim, pose.positionM);
  const forward: Vec3 = directionFromPanTilt(panDeg, tiltDeg);
  const level: Vec3 = [-sinDeg(panDeg) * sinDeg(tiltDeg), -cosDeg(panDeg) * sinDeg(tiltDeg), cosDeg(tiltDeg)];
  const side = cross(level, forward);
  // Clockwise seen from behind is counter-clockwise for somebody who looks at the face.
  const up = add(scale(level, cosDeg(rollDeg)), scale(side, -sinDeg(rollDeg)));
  return { origin: pose.positionM, right: cross(up, forward), up, forward };
}

/** World point of local coordinates (right, up) metres on the frame's plane. */
export function worldFromLocal(frame: Frame, local: Point2, depthM = 0): Vec3 {
  return addScaled(
    addScaled(addScaled(frame.origin, frame.right, local[0]), frame.up, local[1]),
    frame.forward,
    -depthM,
  );
}

/** Local (right, up) of a world point and its height above the plane, metres. */
export function localFromWorld(frame: Frame, point: Vec3): { right: number; up: number; above: number } {
  const offset = subtract(point, frame.origin);
  return { right: dot(offset, frame.right), up: dot(offset, frame.up), above: dot(offset, frame.forward) };
}

/** Unit vector towards the sun from its altitude and azimuth (clockwise from true north), degrees. */
export function directionToSun(altitudeDeg: number, azimuthDeg: number, northDeg: number): Vec3 {
  return directionFromPanTilt(azimuthDeg + northDeg, altitudeDeg);
}
