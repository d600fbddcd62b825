/** Carries what is drawn on the plan into the scene. */
import { frameFromPose, localFromWorld } from '../../scene/geometry/frames';
import type { Command } from '../../scene/commands';
import type { Point2 } from '../../scene/schema';
import type { App } from '../app';
import { notify } from '../stores/session';
import { reduceDrawing, startDrawing, type DrawEvent, type DrawKind, type Made } from '../tools/draw/drawing';
import type { InHand } from '../tools/draw/inHand';
import { putInHand } from './putting';
import { drawnCommand, markCommand, openingCommand, sillForMiddle, type Drawn } from '../tools/draw/drawnThings';

type Desk = Pick<App, 'session' | 'document' | 'actions'>;

export const DRAW_WORDS: Readonly<Record<DrawKind, string>> = {
  walls: 'Walls',
  window: 'Window',
  door: 'Doorway',
  backdrop: 'Backdrop',
  uprightPlane: 'Reading plane, upright',
  levelPlane: 'Reading plane, level',
  floor: 'Floor',
  top: 'Table top',
  ceiling: 'Ceiling',
  mark: 'Mark',
  lampInside: 'Ground for lamps, inside',
  lampOutside: 'Ground for lamps, outside',
  measure: 'Measure',
  scale: 'Scale of a picture',
  put: 'From the kit',
};

function say(desk: Desk, line: string): void {
  notify(desk.session, { kind: 'done', lines: [line], action: { label: 'Undo', run: desk.actions.undo } });
}
const refuse = (desk: Desk, line: string): void => notify(desk.session, { kind: 'caution', lines: [line] });

/** Does what was drawn; a refusal is said and the corners stay. */
function carryOut(desk: Desk, drawn: Drawn, said: string): boolean {
  const fault = drawn.ok ? desk.actions.run(drawn.command) : drawn.fault;
  if (fault !== null) {
    refuse(desk, fault);
    return false;
  }
  say(desk, said);
  return true;
}

const addedRef = (command: Command) => {
  const single = command.type === 'sequence' ? command.commands[0] : command;
  return single?.type === 'add' ? single.at : null;
};

/** What is said of a finished drawing, and whether the tool stays in hand: an outline is whole, a line may go on. */
const saidOf = (kind: DrawKind, { isClosed }: Made): string =>
  isClosed
    ? `${kind === 'walls' ? 'Room' : DRAW_WORDS[kind]} drawn. Draw is done, Select is on`
    : `${DRAW_WORDS[kind]} drawn. Draw stays on for the next`;

function finish(desk: Desk, kind: DrawKind, made: Made): boolean {
  const { document, session } = desk;
  const scene = document.getState().history.present;
  const drawn = drawnCommand(scene, kind, made, session.getState().drawSettings);
  if (!carryOut(desk, drawn, saidOf(kind, made))) return false;
  const at = drawn.ok ? addedRef(drawn.command) : null;
  if (at?.kind === 'surface') session.setState({ selection: { kind: 'surface', id: at.id }, surfaceId: at.id });
  return true;
}

/** An opening about a place on the plan. */
export function putOpening(desk: Desk, kind: 'window' | 'door', surfaceId: string, at: Point2): boolean {
  const scene = desk.document.getState().history.present;
  const surface = scene.surfaces[surfaceId];
  const middleM = surface ? localFromWorld(frameFromPose(surface.pose), [at[0], at[1], 0]).right : 0;
  return putOpeningAt(desk, kind, surfaceId, middleM);
}
/**
 * @param middleM from the wall's left edge, seen from the lit side
 * @param upM height of the opening's middle; the sill that is set for the next one if absent
 */
export function putOpeningAt(
  desk: Desk,
  kind: 'window' | 'door',
  surfaceId: string,
  middleM: number,
  upM?: number,
): boolean {
  const { document, session } = desk;
  const scene = document.getState().history.present;
  const settings = session.getState().drawSettings;
  const sillM = upM === undefined ? settings.sillM : sillForMiddle(scene.surfaces[surfaceId], upM, settings);
  const drawn = openingCommand(scene, surfaceId, kind, middleM, { ...settings, sillM });
  const name = scene.surfaces[surfaceId]?.name ?? '';
  if (!carryOut(desk, drawn, `${DRAW_WORDS[kind]} put in ${name}`)) return false;
  const ref = drawn.ok ? addedRef(drawn.command) : null;
  if (ref?.kind === 'opening') session.setState({ selection: { ...ref } });
  return true;
}

function putSpot(desk: Desk, kind: DrawKind, at: Point2, surfaceId: string | undefined): void {
  const scene = desk.document.getState().history.present;
  if (kind === 'put') putInHand(desk, at);
  else if (kind === 'mark') {
    const command = markCommand(scene, at);
    const ref = addedRef(command);
    if (!carryOut(desk, { ok: true, command }, 'Mark put down')) return;
    if (ref?.kind === 'mark') desk.session.setState({ selection: { kind: 'mark', id: ref.id } });
  } else if (kind === 'window' || kind === 'door') {
    if (surfaceId === undefined) refuse(desk, `Press on a wall: the ${DRAW_WORDS[kind].toLowerCase()} goes in there.`);
    else putOpening(desk, kind, surfaceId, at);
  }
}

/** One event of a drawing, from the pointer, a key or a typed figure. */
export function draw(desk: Desk, event: DrawEvent, onSurfaceId?: string): void {
  const { session } = desk;
  const { drawing, made } = reduceDrawing(session.getState().drawing, event);
  session.setState({ drawing });
  if (!made) return;
  const first = made.corners[0];
  if (first && made.corners.length === 1) putSpot(desk, drawing.kind, first, onSurfaceId);
  else if (finish(desk, drawing.kind, made)) {
    session.setState({ drawing: startDrawing(drawing.kind), ...(made.isClosed && { tool: 'select' }) });
  }
}

/** Takes up the pencil: the plan comes to the front. */
export function startDraw(desk: Desk, kind: DrawKind): void {
  desk.session.setState({ tool: 'draw', drawing: startDrawing(kind), page: 'sheets' });
  desk.actions.toFront('plan');
}
/** Takes a thing of the kit in hand; the next press on the plan puts it down. */
export function takeToPlan(desk: Desk, thing: InHand): void {
  desk.session.setState({ inHand: thing });
  startDraw(desk, 'put');
}
export function endDraw(desk: Desk): void {
  const { drawing } = desk.session.getState();
  desk.session.setState({ tool: 'select', drawing: startDrawing(drawing.kind) });
}

/** Keys on the plan while something is drawn. @returns whether the key was meant for the drawing */
export function drawKey(desk: Desk, key: string): boolean {
  const { corners } = desk.session.getState().drawing;
  if (key === 'Enter') draw(desk, { type: 'finish' });
  else if (key === 'Backspace' && corners.length > 0) draw(desk, { type: 'back' });
  else if (key === 'Escape') {
    if (corners.length > 0) draw(desk, { type: 'drop' });
    else endDraw(desk);
  } else return false;
  return true;
}
