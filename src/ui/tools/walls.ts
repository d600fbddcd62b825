/**
 * Walls on the plan by their corners: what moves when one of them, or the whole wall, is carried. Every change is computed
 * from the scene before the gesture. Pure.
 */
import type { Command, Fields, SingleCommand } from '../../scene/commands';
import { frameFromPose, toDegrees, worldFromLocal } from '../../scene/geometry/frames';
import { wallEnds } from '../../scene/geometry/wallEnds';
import { openingRing, outlineProblems, ringOf } from '../../scene/invariants';
import { boundsOf } from '../../scene/outlines';
import type { Point2, SceneDocument, Surface } from '../../scene/schema';
import { formatLength } from '../../scene/units/format';
import { apart, SAME_CORNER_M } from './draw/drawing';
import { followedOutline, followsWalls } from './levelOutlines';

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
const MOST_NAME = 80;
const plain = (value: number): number => Number(value.toFixed(9)) + 0;
const isAt = (a: Point2, b: Point2): boolean => apart(a, b) < SAME_CORNER_M;

/** Ends of an upright rectangle; null for any other surface. */
export function endsOf({ pose, shape }: Surface): WallEnds | null {
  const ends = wallEnds(frameFromPose(pose), shape);
  if (!ends) return null;
  const [left, right] = ends.map(([x, y]): Point2 => [plain(x), plain(y)]);
  return { left: left!, right: right! };
}

/** Whether a surface has corners that can be carried on the plan. */
export const isCarriedWall = (surface: Surface | undefined): surface is Surface =>
  surface !== undefined && surface.locked !== true && endsOf(surface) !== null;

/** Length of the wall that its openings need when the other end stays, and the opening that needs it. */
function neededM(surface: Surface, moved: Side, widthM: number): { readonly lengthM: number; readonly name: string } {
  let needed = { lengthM: 0, name: '' };
  for (const [id, opening] of Object.entries(surface.openings ?? {})) {
    const { leftM, rightM } = boundsOf(openingRing(opening));
    const lengthM = moved === 'right' ? rightM : widthM - leftM;
    if (lengthM > needed.lengthM) needed = { lengthM, name: opening.name ?? id };
  }
  return needed;
}

/**
 * Fields of a wall between two new ends; what is in it stays where it is, seen from the end that has not moved.
 * @returns one sentence where its openings have no room, or it would be too short
 */
function reshaped(surface: Surface, before: WallEnds, after: WallEnds, unit: LengthUnit): Fields | string {
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
  const aim = isStraight ? surface.pose.aim : { panDeg: plain(toDegrees(Math.atan2(dy, -dx))), tiltDeg: 0 };
  const shiftM = lone === 'left' ? nextM - widthM : 0;
  const openings = Object.fromEntries(
    Object.entries(surface.openings ?? {}).map(([id, one]) => [id, { ...one, leftM: plain(one.leftM + shiftM) }]),
  );
  const judged = surface.judgedAreaM?.map(([right, up]): [number, number] => [plain(right + shiftM), up]);
  return {
    pose: { positionM: [plain(after.left[0]), plain(after.left[1]), surface.pose.positionM[2]], aim },
    shape: {
      kind: 'rectangle',
      widthM: nextM,
      heightM: surface.shape.kind === 'rectangle' ? surface.shape.heightM : 1,
    },
    ...(shiftM !== 0 && surface.openings && { openings }),
    ...(shiftM !== 0 && judged && { judgedAreaM: judged }),
  };
}

type LengthUnit = Parameters<typeof formatLength>[1];
type Moves = readonly { readonly from: Point2; readonly to: Point2 }[];
const movedBy =
  (moves: Moves) =>
  (corner: Point2): Point2 | null =>
    moves.find(({ from }) => isAt(from, corner))?.to ?? null;

/** Ends on the plan of an upright surface that is no rectangle: where others may be joined to it. */
function shapedEnds(surface: Surface): Point2[] {
  const frame = frameFromPose(surface.pose);
  if (Math.abs(frame.forward[2]) > 0.1) return [];
  const { leftM, rightM } = boundsOf(ringOf(surface.shape));
  return [leftM, rightM].map((right): Point2 => {
    const [x, y] = worldFromLocal(frame, [right, 0]);
    return [x, y];
  });
}

/** What a surface that is joined to moved corners becomes: its fields, null where it is not touched, or why not. */
function followed(surface: Surface, moves: Moves, unit: LengthUnit): Fields | string | null {
  const moved = movedBy(moves);
  const ends = endsOf(surface);
  const stays = `Let go of joined walls to move it alone.`;
  if (ends) {
    const [left, right] = [moved(ends.left), moved(ends.right)];
    if (!left && !right) return null;
    if (surface.locked === true) return `${surface.name} is joined here and locked. ${stays}`;
    return reshaped(surface, ends, { left: left ?? ends.left, right: right ?? ends.right }, unit);
  }
  if (followsWalls(surface)) {
    const fields = followedOutline(surface, moved);
    if (fields?.shape.kind === 'polygon' && outlineProblems(fields.shape.outlineM, []).length > 0) {
      return `${surface.name} would cross itself.`;
    }
    return fields && surface.locked === true ? `${surface.name} is joined here and locked. ${stays}` : fields;
  }
  const isJoined = shapedEnds(surface).some((end) => moved(end) !== null);
  return isJoined ? `${surface.name} is joined here and cut to a shape. ${stays}` : null;
}

const turnsAbout = (a: WallEnds, b: WallEnds): boolean =>
  (a.right[0] - a.left[0]) * (b.right[0] - b.left[0]) + (a.right[1] - a.left[1]) * (b.right[1] - b.left[1]) <= 0;

/**
 * The wall between new ends, and with it every wall, floor and ceiling that is joined to a corner that moves.
 * @param isJoined false: it moves alone
 */
export function wallBetween(
  scene: SceneDocument,
  id: string,
  ends: WallEnds,
  part: WallPart,
  isJoined: boolean,
): WallChange {
  const wall = scene.surfaces[id];
  const before = wall && endsOf(wall);
  if (!wall || !before) return { ok: false, why: 'Only an upright rectangle has corners to move.' };
  if (wall.locked === true) return { ok: false, why: `${wall.name} is locked. Unlock it first.` };
  const unit = scene.display?.length ?? 'metres';
  const own = reshaped(wall, before, ends, unit);
  if (typeof own === 'string') return { ok: false, why: own };
  const patch = (surfaceId: string, fields: Fields): SingleCommand => ({
    type: 'patch',
    at: { kind: 'surface', id: surfaceId },
    fields,
  });
  const commands = [patch(id, own)];
  const moves = SIDES.filter((side) => !isAt(before[side], ends[side])).map((side) => ({
    from: before[side],
    to: ends[side],
  }));
  for (const [otherId, surface] of isJoined ? Object.entries(scene.surfaces) : []) {
    if (otherId === id) continue;
    const fields = followed(surface, moves, unit);
    if (fields === null) continue;
    if (typeof fields === 'string') return { ok: false, why: fields };
    const [was, now] = [endsOf(surface), endsOf({ ...surface, ...fields } as Surface)];
    if (part === 'whole' && was && now && turnsAbout(was, now)) {
      return { ok: false, why: `${surface.name} would be turned about.` };
    }
    commands.push(patch(otherId, fields));
  }
  const label = `${part === 'whole' ? 'Move' : 'Move a corner of'} ${wall.name.slice(0, MOST_NAME)}`;
  const movedM = part === 'whole' ? apart(before.left, ends.left) : 0;
  return { ok: true, command: { type: 'sequence', label, commands }, ends, movedM };
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
