/** Things of the kit in hand: pressed down on the plan, or placed in front of the shown wall. */
import type { Command } from '../../scene/commands';
import type { GripClass } from '../../scene/kit/gripClasses';
import type { Lamp, Modifier, Point2, SceneDocument } from '../../scene/schema';
import type { App } from '../app';
import { placeFromKit } from '../kitCommands';
import { newFlag } from '../newThings';
import { elevationSurfaceId } from '../stores/shownPlaces';
import { notify } from '../stores/session';
import { freshLabels } from '../tools/draw/ids';
import { beamPoseAt } from '../tools/draw/between';

type Desk = Pick<App, 'session' | 'document' | 'actions'>;

const there = (positionM: readonly [number, number, number], at: Point2 | null): [number, number, number] =>
  at ? [at[0], at[1], positionM[2]] : [...positionM];

/** Grip faces the lamp that the section goes through, and hangs at the height of its beam there; else before the wall. */
export function gripCommand(
  scene: SceneDocument,
  setupId: string,
  surfaceId: string | null,
  piece: GripClass,
  at: Point2 | null,
): { readonly command: Command; readonly id: string } {
  const labels = freshLabels(scene);
  const plain = newFlag(scene, setupId, surfaceId);
  const lampPose = at ? beamPoseAt(scene, setupId, at) : null;
  const pose = lampPose ?? { ...plain.pose, positionM: there(plain.pose.positionM, at) };
  const value: Modifier = { name: labels.name(piece.letter), pose, ...piece.piece };
  const id = labels.id('grip');
  return { id, command: { type: 'add', at: { kind: 'modifier', setupId, id }, value } };
}

function show(desk: Desk, command: Command, ref: { kind: 'source' | 'modifier'; id: string }, name: string): void {
  const fault = desk.actions.run(command);
  if (fault !== null) {
    notify(desk.session, { kind: 'caution', lines: [fault] });
    return;
  }
  desk.actions.select(ref);
  notify(desk.session, {
    kind: 'done',
    lines: [`${name} placed`],
    action: { label: 'Undo', run: desk.actions.undo },
  });
}

function present({ document, session }: Desk): { scene: SceneDocument; setupId: string; surfaceId: string | null } {
  const scene = document.getState().history.present;
  return { scene, setupId: session.getState().setupId, surfaceId: elevationSurfaceId(scene, session.getState()) };
}

/** @param at plan metres; null: in front of the wall that is shown */
export function putGrip(desk: Desk, piece: GripClass, at: Point2 | null): void {
  const { scene, setupId, surfaceId } = present(desk);
  const { command, id } = gripCommand(scene, setupId, surfaceId, piece, at);
  show(desk, command, { kind: 'modifier', id }, piece.name);
}

export function putInHand(desk: Desk, at: Point2): void {
  const { inHand } = desk.session.getState();
  if (!inHand) return;
  if (inHand.kind === 'grip') return putGrip(desk, inHand.piece, at);
  const { scene, setupId, surfaceId } = present(desk);
  const { command, lampId } = placeFromKit(scene, { setupId, surfaceId }, inHand.entry, inHand.kitId, inHand.symbol);
  if (command.type !== 'add' || !('pose' in command.value) || !command.value.pose) return undefined;
  const { pose } = command.value;
  const value = { ...command.value, pose: { ...pose, positionM: there(pose.positionM, at) } } as Lamp;
  const adds: Command = { ...command, value };
  return show(desk, withFirstSun(scene, adds, lampId, surfaceId), { kind: 'source', id: lampId }, inHand.entry.name);
}

/** The first lamp of a scene plays the sun on the shown wall, so that there is a verdict to start from. */
function withFirstSun(scene: SceneDocument, adds: Command, lampId: string, surfaceId: string | null): Command {
  if (adds.type === 'sequence' || surfaceId === null || (scene.story?.playsSun ?? []).length > 0) return adds;
  const playsSun = [{ sourceId: lampId, surfaceId }];
  return {
    type: 'sequence',
    label: 'Place a lamp',
    commands: [adds, { type: 'patchScene', part: 'story', fields: { ...scene.story, playsSun } }],
  };
}
