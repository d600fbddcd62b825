/**
 * From the world to the plane of a drawing and back. Plan: x, y. Elevation: right and up of the surface. Section: along
 * the vertical plane through the lamp, in the direction of its pan, and height; the lamp throws to the right.
 */
import { frameFromPose, directionFromPanTilt, panTiltFromAim } from '../scene/geometry/frames';
import type { Pose } from '../scene/schema';
import { add, dot, scale, subtract, type Vec3 } from '../scene/geometry/vector';
import type { SheetPoint } from './camera';

export interface Projection {
  readonly kind: 'plan' | 'elevation' | 'section';
  /** World point that lies at u = v = depth = 0. */
  readonly origin: Vec3;
  /** Unit axes of the drawing; `towards` points out of it at the reader. */
  readonly right: Vec3;
  readonly up: Vec3;
  readonly towards: Vec3;
}

export const PLAN_PROJECTION: Projection = {
  kind: 'plan',
  origin: [0, 0, 0],
  right: [1, 0, 0],
  up: [0, 1, 0],
  towards: [0, 0, 1],
};

/** A surface face-on, seen from its lit side. */
export function elevationProjection(surfacePose: Pose): Projection {
  const { origin, right, up, forward } = frameFromPose(surfacePose);
  return { kind: 'elevation', origin, right, up, towards: forward };
}

/** The vertical plane through the lamp along its pan; u is 0 at the lamp's plan position, v is height above z = 0. */
export function sectionProjection(lampPose: Pose): Projection {
  const { panDeg } = panTiltFromAim(lampPose.aim, lampPose.positionM);
  const right = directionFromPanTilt(panDeg, 0);
  const [x, y] = lampPose.positionM;
  return { kind: 'section', origin: [x, y, 0], right, up: [0, 0, 1], towards: [right[1], -right[0], 0] };
}

export function sheetFromWorld(projection: Projection, world: Vec3): SheetPoint {
  const offset = subtract(world, projection.origin);
  return { u: dot(offset, projection.right), v: dot(offset, projection.up) };
}

/** How far a world point stands out of the drawing's plane, metres towards the reader. */
export const depthOf = (projection: Projection, world: Vec3): number =>
  dot(subtract(world, projection.origin), projection.towards);

/** World point of a sheet point at the depth of `through`. */
export function worldFromSheet(projection: Projection, point: SheetPoint, through: Vec3): Vec3 {
  const depth = depthOf(projection, through);
  const inPlane = add(scale(projection.right, point.u), scale(projection.up, point.v));
  return add(add(projection.origin, inPlane), scale(projection.towards, depth));
}

const WINDS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'] as const;

/**
 * Wind that the reader of a drawing looks towards, to the nearest of eight; `northDeg` is where north lies on the plan,
 * clockwise from +y. Null for a drawing seen from above.
 */
export function lookingTowards(projection: Projection, northDeg: number): (typeof WINDS)[number] | null {
  const [x, y] = scale(projection.towards, -1);
  if (Math.hypot(x, y) < 1e-6) return null;
  const azimuthDeg = (Math.atan2(x, y) * 180) / Math.PI - northDeg;
  const index = ((Math.round(azimuthDeg / 45) % 8) + 8) % 8;
  return WINDS[index] ?? null;
}
