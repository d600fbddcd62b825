/** Walls by keys, by figures, and by a press in their elevation. */
import type { ObjectRef } from '../../render/contract';
import { frameFromPose, localFromWorld } from '../../scene/geometry/frames';
import type { Point2, Point3 } from '../../scene/schema';
import type { App } from '../app';
import { travelNote } from '../sheets/travelNote';
import { notify, wallPartOf } from '../stores/session';
import { nudgeDelta, type ArrowKey } from '../tools/nudge';
import { nudgeWall } from '../tools/wallMoves';
import { endsOf, type WallChange } from '../tools/walls';
import { unitsOf } from '../words/format';
import { putOpeningAt } from './drafting';

type Desk = Pick<App, 'session' | 'document' | 'actions'>;

/** Does a change of a wall as one step. @returns why not, or null */
export const carryOutWall = (desk: Desk, change: WallChange): string | null =>
  change.ok ? desk.actions.run(change.command) : change.why;

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

/** An opening where a wall was pressed in its elevation. */
export function pressOnWall(desk: Desk, place: { readonly surfaceId: string; readonly atM: Point3 } | null): void {
  const { document, session } = desk;
  const { kind } = session.getState().drawing;
  const surface = place && document.getState().history.present.surfaces[place.surfaceId];
  if (!place || !surface) {
    const lines = ['Press on the wall, beside the openings that are there.'];
    return notify(session, { kind: 'caution', lines });
  }
  const { right, up } = localFromWorld(frameFromPose(surface.pose), place.atM);
  if (kind === 'window' || kind === 'door') putOpeningAt(desk, kind, place.surfaceId, right, up);
}
