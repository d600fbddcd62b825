/** Walls on the plan by their ends: where these lie, and what a wall becomes between new ones. Pure. */
import type { Command, Fields } from '../../scene/commands';
import { frameFromPose, toDegrees } from '../../scene/geometry/frames';
import { wallEnds } from '../../scene/geometry/wallEnds';
import type { Point2, SceneDocument, Surface } from '../../scene/schema';
import { formatLength } from '../../scene/units/format';
import { apart, SAME_CORNER_M } from './draw/drawing';
import { leftOf, neededM, noRoom, shiftedRing, widened } from './wallShapes';

export type Side = 'left' | 'right';
export type WallPart = Side | 'whole';
/** Ends on the plan, metres, as seen by somebody who looks at the lit face. */
export type WallEnds = Readonly<Record<Side, Point2>>;
export type WallChange =
  | {
      readonly ok: true;
      readonly command: Command;
      readonly ends: WallEnds;
      /** How far the whole wall has gone; 0 where one end stays. */
      readonly movedM: number;
    }
  /** Why it stays: one sentence. */
  | { readonly ok: false; readonly why: string };

export const SIDES = ['left', 'right'] as const;
export const otherSide = (side: Side): Side => (side === 'left' ? 'right' : 'left');

const LEAST_WALL_M = 0.05;
export type LengthUnit = Parameters<typeof formatLength>[1];
const plain = (value: number): number => Number(value.toFixed(9)) + 0;
export const isAt = (a: Point2, b: Point2): boolean => apart(a, b) < SAME_CORNER_M;

/** Ends of an upright surface; null for one that leans or lies. */
export function endsOf({ pose, shape }: Surface): WallEnds | null {
  const ends = wallEnds(frameFromPose(pose), shape);
  if (!ends) return null;
  const [left, right] = ends.map(([x, y]): Point2 => [plain(x), plain(y)]);
  return { left: left!, right: right! };
}

/** Whether a surface has corners that can be carried on the plan. */
export const isCarriedWall = (surface: Surface | undefined): surface is Surface =>
  surface !== undefined && surface.locked !== true && endsOf(surface) !== null;

/**
 * Fields of a wall between two new ends; what is in it stays where it is, seen from the end that has not moved.
 * @returns one sentence where its openings have no room, or it would be too short
 */
export function reshaped(surface: Surface, before: WallEnds, after: WallEnds, unit: LengthUnit): Fields | string {
  const widthM = apart(before.left, before.right);
  const nextM = plain(apart(after.left, after.right));
  if (nextM < LEAST_WALL_M) return `${surface.name} would be shorter than 5 cm.`;
  const hasMoved = (side: Side): boolean => !isAt(before[side], after[side]);
  const lone = SIDES.filter(hasMoved).length === 1 ? SIDES.find(hasMoved) : undefined;
  const needed = neededM(surface, lone ?? 'right', widthM);
  if (nextM < needed.lengthM - 1e-9) {
    return `${needed.name} keeps ${surface.name} at ${formatLength(needed.lengthM, unit)} or more.`;
  }
  const [dx, dy] = [(after.right[0] - after.left[0]) / nextM, (after.right[1] - after.left[1]) / nextM];
  // Seen at its face, right is a quarter turn from the way it looks: right = (-cos pan, sin pan).
  const was = frameFromPose(surface.pose).right;
  const isStraight = Math.hypot(dx - was[0], dy - was[1]) < 1e-9;
  // A wall that looks at a point would turn to it from its new place.
  const keepsAim = isStraight && !('atM' in surface.pose.aim);
  const aim = keepsAim ? surface.pose.aim : { panDeg: plain(toDegrees(Math.atan2(dy, -dx))), tiltDeg: 0 };
  const shiftM = lone === 'left' ? nextM - widthM : 0;
  const openings = Object.fromEntries(
    Object.entries(surface.openings ?? {}).map(([id, one]) => [id, { ...one, leftM: plain(one.leftM + shiftM) }]),
  );
  const shape = widened(surface.shape, nextM, shiftM);
  const why = noRoom(surface.name, shape, openings);
  if (why !== null) return why;
  const judged = surface.judgedAreaM && shiftedRing(surface.judgedAreaM, shiftM);
  // The pose is the origin of the wall's own metres; an outline may start beside it.
  const fromM = leftOf(surface);
  const [x, y] = [after.left[0] - fromM * dx, after.left[1] - fromM * dy];
  return {
    pose: { positionM: [plain(x), plain(y), surface.pose.positionM[2]], aim },
    shape,
    ...(shiftM !== 0 && surface.openings && { openings }),
    ...(shiftM !== 0 && judged && { judgedAreaM: judged }),
  };
}

/** Upright surfaces that share a corner with a wall, with the far ends of those that have one. */
export function joinedTo(
  scene: SceneDocument,
  id: string,
  corner: Point2,
): { id: string; name: string; far: Point2 }[] {
  return Object.entries(scene.surfaces).flatMap(([otherId, surface]) => {
    const ends = otherId === id ? null : endsOf(surface);
    if (!ends) return [];
    const side = SIDES.find((one) => isAt(ends[one], corner));
    return side ? [{ id: otherId, name: surface.name, far: ends[otherSide(side)] }] : [];
  });
}
