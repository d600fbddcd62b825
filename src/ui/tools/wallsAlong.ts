/** A wall that is carried, and all that goes along with it. Every change is computed from the scene before the gesture. Pure. */
import type { Fields, SingleCommand } from '../../scene/commands';
import { frameFromPose, worldFromLocal } from '../../scene/geometry/frames';
import { outlineProblems, ringOf } from '../../scene/invariants';
import { boundsOf } from '../../scene/outlines';
import type { Point2, SceneDocument, Surface } from '../../scene/schema';
import { apart } from './draw/drawing';
import { followedOutline, followsWalls } from './levelOutlines';
import { endsAgainst, type Run } from './wallTees';
import { endsOf, isAt, reshaped, SIDES, type LengthUnit, type WallChange, type WallEnds, type WallPart } from './walls';

const MOST_NAME = 80;
/** Of a surface that counts as standing: how far its face may look up or down. */
const MOST_LEAN = 0.1;
const unitOf = (scene: SceneDocument): LengthUnit => scene.display?.length ?? 'metres';
type Moves = readonly { readonly from: Point2; readonly to: Point2 }[];
const movedBy =
  (moves: Moves) =>
  (corner: Point2): Point2 | null =>
    moves.find(({ from }) => isAt(from, corner))?.to ?? null;

/** Ends on the plan of a surface that leans: where others may be joined to it. */
function leaningEnds(surface: Surface): Point2[] {
  const frame = frameFromPose(surface.pose);
  if (Math.abs(frame.forward[2]) > MOST_LEAN) return [];
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
  const isJoined = leaningEnds(surface).some((end) => moved(end) !== null);
  return isJoined ? `${surface.name} is joined here and leans: it cannot go along. ${stays}` : null;
}

const turnsAbout = (a: WallEnds, b: WallEnds): boolean =>
  (a.right[0] - a.left[0]) * (b.right[0] - b.left[0]) + (a.right[1] - a.left[1]) * (b.right[1] - b.left[1]) <= 0;

const patch = (id: string, fields: Fields): SingleCommand => ({ type: 'patch', at: { kind: 'surface', id }, fields });

interface Along {
  readonly commands: readonly SingleCommand[];
  readonly runs: readonly Run[];
}
/** What shares a moved corner, as commands; one sentence where it cannot go along. */
function cornersAlong(scene: SceneDocument, id: string, part: WallPart, moves: Moves): Along | string {
  const commands: SingleCommand[] = [];
  const runs: Run[] = [];
  const unit = unitOf(scene);
  for (const [otherId, surface] of Object.entries(scene.surfaces)) {
    const fields = otherId === id ? null : followed(surface, moves, unit);
    if (fields === null) continue;
    if (typeof fields === 'string') return fields;
    const [before, after] = [endsOf(surface), endsOf({ ...surface, ...fields } as Surface)];
    if (part === 'whole' && before && after && turnsAbout(before, after)) {
      return `${surface.name} would be turned about.`;
    }
    if (before && after) runs.push({ before, after });
    commands.push(patch(otherId, fields));
  }
  return { commands, runs };
}

/** Walls that stand against the run of one that moves stay against it. */
function teesAlong(scene: SceneDocument, going: ReadonlySet<string>, runs: readonly Run[]): SingleCommand[] | string {
  const commands: SingleCommand[] = [];
  for (const [id, surface] of Object.entries(scene.surfaces)) {
    if (going.has(id) || surface.kind !== 'wall' || surface.locked === true) continue;
    const before = endsOf(surface);
    const after = before && endsAgainst(before, runs);
    if (!before || !after) continue;
    if (turnsAbout(before, after)) return `${surface.name} would be turned about.`;
    const fields = reshaped(surface, before, after, unitOf(scene));
    if (typeof fields === 'string') return fields;
    commands.push(patch(id, fields));
  }
  return commands;
}

/** The ground that lamps may stand on, where its corners lie under those that move. */
function groundAlong({ story }: SceneDocument, moves: Moves): SingleCommand[] {
  const before = story?.lampSpace;
  if (!before) return [];
  const moved = movedBy(moves);
  let isMoved = false;
  const outlines = (rings: readonly (readonly Point2[])[]): [number, number][][] =>
    rings.map((ring) =>
      ring.map((corner): [number, number] => {
        const to = moved(corner);
        isMoved ||= to !== null;
        return [...(to ?? corner)];
      }),
    );
  const { insideM, outsideM } = before;
  const lampSpace = {
    ...before,
    ...(insideM && { insideM: outlines(insideM) }),
    ...(outsideM && { outsideM: outlines(outsideM) }),
  };
  return isMoved ? [{ type: 'patchScene', part: 'story', fields: { lampSpace } }] : [];
}

/** Everything that goes along with a wall whose corners move, or one sentence why it cannot. */
function alongWith(scene: SceneDocument, id: string, part: WallPart, own: Run): readonly SingleCommand[] | string {
  const moves = SIDES.filter((side) => !isAt(own.before[side], own.after[side])).map((side) => ({
    from: own.before[side],
    to: own.after[side],
  }));
  const corners = cornersAlong(scene, id, part, moves);
  if (typeof corners === 'string') return corners;
  const going = new Set([id, ...corners.commands.flatMap((one) => ('at' in one ? [one.at.id] : []))]);
  const tees = teesAlong(scene, going, [own, ...corners.runs]);
  if (typeof tees === 'string') return tees;
  return [...corners.commands, ...tees, ...groundAlong(scene, moves)];
}

/**
 * The wall between new ends, and with it every wall, floor, ceiling and ground for lamps that is joined to a corner that moves, and
 * every wall that stands against a run that moves.
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
  if (!wall || !before) return { ok: false, why: 'Only an upright wall has corners to move.' };
  if (wall.locked === true) return { ok: false, why: `${wall.name} is locked. Unlock it first.` };
  const own = reshaped(wall, before, ends, unitOf(scene));
  if (typeof own === 'string') return { ok: false, why: own };
  const along = isJoined ? alongWith(scene, id, part, { before, after: ends }) : [];
  if (typeof along === 'string') return { ok: false, why: along };
  const label = `${part === 'whole' ? 'Move' : 'Move a corner of'} ${wall.name.slice(0, MOST_NAME)}`;
  const movedM = part === 'whole' ? apart(before.left, ends.left) : 0;
  return { ok: true, command: { type: 'sequence', label, commands: [patch(id, own), ...along] }, ends, movedM };
}
