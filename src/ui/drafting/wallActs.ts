/** Walls by keys, by figures, and by a press in their elevation. */
import type { ObjectRef } from '../../render/contract';
import { frameFromPose, localFromWorld } from '../../scene/geometry/frames';
import { openingRing } from '../../scene/invariants';
import { sideOfRing } from '../../scene/outlines';
import type { Aim, Point2, Point3, Surface } from '../../scene/schema';
import type { App } from '../app';
import { travelNote } from '../sheets/travelNote';
import { notify, wallPartOf } from '../stores/session';
import { nudgeDelta, type ArrowKey } from '../tools/nudge';
import { stretchOf } from '../tools/draw/drawing';
import { nudgeWall, wallFrom, wallTo } from '../tools/wallMoves';
import { endsOf, type WallChange } from '../tools/walls';
import { unitsOf } from '../words/format';
import { putOpeningAt } from './drafting';

type Desk = Pick<App, 'session' | 'document' | 'actions'>;

/** Does a change of a wall as one step. @returns why not, or null */
export const carryOutWall = (desk: Desk, change: WallChange): string | null =>
  change.ok ? desk.actions.run(change.command) : change.why;

type Alone<Value> = (value: Value) => string | null;
/** A typed place of a wall's lower left corner: joined walls go along. `alone` does what touches no corner on the plan. */
export function placeWall(desk: Desk, id: string, positionM: Point3, alone: Alone<Point3>): string | null {
  const scene = desk.document.getState().history.present;
  const surface = scene.surfaces[id];
  const ends = surface && endsOf(surface);
  const [x, y] = surface?.pose.positionM ?? [0, 0];
  const [dx, dy] = [positionM[0] - x, positionM[1] - y];
  if (!ends || (dx === 0 && dy === 0)) return alone(positionM);
  const left: Point2 = [ends.left[0] + dx, ends.left[1] + dy];
  return carryOutWall(desk, wallFrom(scene, id, left, desk.session.getState().areWallsJoined));
}

/** A typed pan of a wall turns it about its left corner: joined walls go along. A tilt or a roll is its own. */
export function turnWall(desk: Desk, id: string, aim: Aim, alone: Alone<Aim>): string | null {
  const scene = desk.document.getState().history.present;
  const ends = scene.surfaces[id] && endsOf(scene.surfaces[id]);
  const isPan = !('atM' in aim) && aim.tiltDeg === 0 && (aim.rollDeg ?? 0) === 0;
  if (!ends || !isPan) return alone(aim);
  const { lengthM } = stretchOf(ends.left, ends.right);
  // Seen from its lit side a wall runs to the right a quarter turn before the way it looks.
  const bearing = { lengthM, bearingDeg: aim.panDeg - 90 };
  return carryOutWall(desk, wallTo(scene, id, 'left', bearing, desk.session.getState().areWallsJoined));
}

/** The words and the place of a note. */
export interface WallNote {
  readonly words: string;
  readonly at: Point2;
}
/** An arrow key on the plan for the chosen wall or its corner. @returns null where no wall is chosen */
export function wallKey(desk: Desk, ref: ObjectRef, key: ArrowKey, stepM: number): WallNote | null {
  const { document, session } = desk;
  const scene = document.getState().history.present;
  const surface = ref.kind === 'surface' ? scene.surfaces[ref.id] : undefined;
  const before = surface && endsOf(surface);
  if (!before) return null;
  const part = wallPartOf(session.getState(), ref.id);
  const change = nudgeWall(scene, ref.id, part, nudgeDelta(key, stepM), session.getState().areWallsJoined);
  const why = carryOutWall(desk, change);
  const { ends, movedM } = change.ok ? change : { ends: before, movedM: 0 };
  const words =
    why ??
    travelNote({ kind: 'walled', ends, movedM }, unitsOf(scene), []) + (part === 'whole' ? '' : `, ${part} corner`);
  const middle: Point2 = [(ends.left[0] + ends.right[0]) / 2, (ends.left[1] + ends.right[1]) / 2];
  return { words, at: part === 'whole' ? middle : ends[part] };
}

/** Whether a press in an elevation puts an opening into the wall that it shows. */
export function putsOpenings({ session }: Pick<Desk, 'session'>): boolean {
  const { tool, drawing } = session.getState();
  return tool === 'draw' && (drawing.kind === 'window' || drawing.kind === 'door');
}

/** Whether a place on a wall lies in one of its openings: the drawing may not show the latest yet. */
const isInOpening = ({ openings = {} }: Surface, place: Point2): boolean =>
  Object.values(openings).some((opening) => sideOfRing(place, openingRing(opening)) !== 'outside');

/** An opening where a wall was pressed in its elevation. */
export function pressOnWall(desk: Desk, place: { readonly surfaceId: string; readonly atM: Point3 } | null): void {
  const { document, session } = desk;
  const { kind } = session.getState().drawing;
  const surface = place && document.getState().history.present.surfaces[place.surfaceId];
  const at = place && surface ? localFromWorld(frameFromPose(surface.pose), place.atM) : null;
  if (!place || !surface || !at || isInOpening(surface, [at.right, at.up])) {
    const lines = ['Press on the wall, beside the openings that are there.'];
    return notify(session, { kind: 'caution', lines });
  }
  if (kind === 'window' || kind === 'door') putOpeningAt(desk, kind, place.surfaceId, at.right, at.up);
}
