/** Where a posed surface or shape stands in the world; just enough geometry to look at a document by itself. */
import { ringOf } from './invariants';
import { sideOfRing, type Ring } from './outlines';
import type { Modifier, Point2, Point3, Pose, Surface } from './schema';

type Vector = Point3;
const DISC_CORNERS = 48;

const subtract = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const dotProduct = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const crossProduct = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const inRadians = (angleDeg: number): number => (angleDeg * Math.PI) / 180;

/** Unit axes of a posed thing: the way it faces, and right and up as seen by somebody who looks at its face. */
export interface Axes {
  readonly origin: Point3;
  readonly right: Vector;
  readonly up: Vector;
  readonly forward: Vector;
}

/** Pan and tilt in radians; straight up or down has pan 0. */
function panAndTilt({ aim, positionM }: Pose): readonly [number, number] {
  if ('panDeg' in aim) return [inRadians(aim.panDeg), inRadians(aim.tiltDeg)];
  const [x, y, z] = subtract(aim.atM, positionM);
  const level = Math.hypot(x, y);
  return [level < 1e-12 ? 0 : Math.atan2(x, y), Math.atan2(z, level)];
}

/** Axes of a pose by the frame of schema.ts: pan clockwise from +y, tilt up from level, roll clockwise from behind. */
export function axesOf(pose: Pose): Axes {
  const { aim } = pose;
  const [pan, tilt] = panAndTilt(pose);
  const roll = inRadians(aim.rollDeg ?? 0);
  const forward: Vector = [Math.sin(pan) * Math.cos(tilt), Math.cos(pan) * Math.cos(tilt), Math.sin(tilt)];
  const level: Vector = [-Math.sin(pan) * Math.sin(tilt), -Math.cos(pan) * Math.sin(tilt), Math.cos(tilt)];
  const side = crossProduct(level, forward);
  const up: Vector = [
    level[0] * Math.cos(roll) - side[0] * Math.sin(roll),
    level[1] * Math.cos(roll) - side[1] * Math.sin(roll),
    level[2] * Math.cos(roll) - side[2] * Math.sin(roll),
  ];
  return { origin: pose.positionM, right: crossProduct(up, forward), up, forward };
}

/** Right and up of a world point in the axes' plane, and how far it stands in front of that plane, metres. */
export function localOf(axes: Axes, point: Point3): { readonly inPlaneM: Point2; readonly inFrontM: number } {
  const offset = subtract(point, axes.origin);
  return {
    inPlaneM: [dotProduct(offset, axes.right), dotProduct(offset, axes.up)],
    inFrontM: dotProduct(offset, axes.forward),
  };
}
/** World point of a point in the axes' plane. */
export const worldOf = ({ origin, right, up }: Axes, [r, u]: Point2): Point3 => [
  origin[0] + right[0] * r + up[0] * u,
  origin[1] + right[1] * r + up[1] * u,
  origin[2] + right[2] * r + up[2] * u,
];

/** Whether a point in the surface's plane lies on its material: inside the outline, and in no hole. */
export function isOnSurface(surface: Surface, inPlaneM: Point2): boolean {
  if (sideOfRing(inPlaneM, ringOf(surface.shape)) === 'outside') return false;
  const holes = surface.shape.kind === 'polygon' ? (surface.shape.holesM ?? []) : [];
  return holes.every((hole) => sideOfRing(inPlaneM, hole) !== 'inside');
}

/** Outer edge of a modifier in its own right/up metres, its position at the origin; a disc as a polygon of 48 corners. */
export function modifierRing(shape: Modifier['shape']): Ring {
  if (shape.kind === 'polygon') return shape.outlineM;
  if (shape.kind === 'disc') {
    return Array.from({ length: DISC_CORNERS }, (_, corner): Point2 => {
      const turn = (2 * Math.PI * corner) / DISC_CORNERS;
      return [(shape.diameterM / 2) * Math.cos(turn), (shape.diameterM / 2) * Math.sin(turn)];
    });
  }
  const [right, up] = [shape.widthM / 2, shape.heightM / 2];
  return [
    [-right, -up],
    [right, -up],
    [right, up],
    [-right, up],
  ];
}
