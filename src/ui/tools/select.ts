/** Select: press to choose, drag to carry, aim or turn; drag on nothing to move the view; two fingers pan and zoom. */
import type { ObjectRef, SnapMark } from '../../render/contract';
import { frameFromPose } from '../../scene/geometry/frames';
import { add, cross, dot, subtract, type Vec3 } from '../../scene/geometry/vector';
import { aimEdit, moveEdit, shutterEdit, turnEdit, wrapDeg, type Edit, type TurnAxis } from './edits';
import { NO_SNAP, snapAim, snapPlace } from './snap';
import { offsetStep, snapLying, snapOffset } from './snapPlan';
import { refsInFrame } from './chosen';
import { dragCorner, dragWall } from './wallMoves';
import { isCarriedWall, type WallPart } from './walls';
import { aimPointOf, anchorOf, isFixed, poseOf, sameRef, sourceOf } from './things';
import {
  DRAG_THRESHOLD_PX,
  IDLE,
  type Cursor,
  type ScreenPoint,
  type ToolContext,
  type ToolEvent,
  type ToolResult,
  type ToolState,
  type Travel,
} from './tool';

type Of<T, Name> = T extends { name: Name } ? T : never;
type EditOf<Kind> = Extract<Edit, { kind: Kind }>;
type On<Type> = Extract<ToolEvent, { type: Type }>;
type Dragging = Of<ToolState, 'moving' | 'aiming' | 'turning' | 'cutting' | 'walling'>;

const span = (a: ScreenPoint, b: ScreenPoint): number => Math.hypot(a.x - b.x, a.y - b.y);
const isDragging = (state: ToolState): state is Dragging =>
  ['moving', 'aiming', 'turning', 'cutting', 'walling'].includes(state.name);

/** Dragged places come to whole centimetres, or to millimetres when the view is close enough to see them. */
const stepM = (metresPerPixel: number): number => (metresPerPixel >= 0.004 ? 0.01 : 0.001);

/** A snapped place keeps the digits of what it rests on. */
const SNAPPED_STEP_M = 0.0001;
const SNAPPED_ANGLE_STEP_DEG = 0.001;
const snappedPlace = (at: Vec3, offsetM: Vec3): [number, number, number] => {
  const [x, y, z] = add(at, offsetM).map((value, i) => (offsetM[i] === 0 ? value : Number(value.toFixed(4))));
  return [x ?? 0, y ?? 0, z ?? 0];
};

const TURN_AXIS = { plan: 'pan', section: 'tilt', elevation: 'roll' } as const satisfies Record<string, TurnAxis>;

/** Degrees, clockwise on the screen, that the pointer has gone round `centre`. */
function clockwiseDeg(centre: ScreenPoint, from: ScreenPoint, to: ScreenPoint): number {
  const angle = (at: ScreenPoint) => (Math.atan2(at.y - centre.y, at.x - centre.x) * 180) / Math.PI;
  return wrapDeg(angle(to) - angle(from));
}

/** Roll is clockwise seen from behind: on a drawing that shows the face it runs the other way. */
function seenFromBehind({ document, setupId, ref, through }: Dragging, sheet: ToolContext['sheet']): boolean {
  const pose = poseOf(document, setupId, ref);
  if (!pose) return false;
  const corner = sheet.worldFromScreen({ x: 0, y: 0 }, through);
  const right = subtract(sheet.worldFromScreen({ x: 100, y: 0 }, through), corner);
  const up = subtract(sheet.worldFromScreen({ x: 0, y: -100 }, through), corner);
  return dot(cross(right, up), frameFromPose(pose).forward) < 0;
}

function turned(state: Of<ToolState, 'turning'>, at: ScreenPoint, context: ToolContext) {
  const axis = TURN_AXIS[context.sheet.kind];
  const clockwise = clockwiseDeg(context.sheet.screenFromWorld(state.through), state.startAt, at);
  // In section the lamp throws to the right, so up is anti-clockwise.
  const keeps = axis === 'pan' || (axis === 'roll' && seenFromBehind(state, context.sheet));
  const deltaDeg = keeps ? clockwise : -clockwise;
  return {
    edit: turnEdit(state.document, state.setupId, state.ref, axis, deltaDeg),
    travel: { kind: 'turned', deltaDeg } as const,
  };
}

interface DragResult {
  readonly edit: Edit | null;
  readonly travel: Travel;
  readonly snaps: readonly SnapMark[];
}

/** The edit of a drag that has come to `at`, from the snapshot alone. */
function dragTo(state: Dragging, at: ScreenPoint, isFree: boolean, context: ToolContext): DragResult {
  if (state.name === 'turning') return { ...turned(state, at, context), snaps: [] };
  const { sheet } = context;
  const deltaM: Vec3 = subtract(
    sheet.worldFromScreen(at, state.through),
    sheet.worldFromScreen(state.startAt, state.through),
  );
  if (state.name === 'walling') return walled(state, at, isFree, context);
  if (state.name === 'cutting') return drawnBy(state, deltaM);
  return state.name === 'moving' ? moved(state, deltaM, isFree, sheet) : aimed(state, deltaM, isFree, sheet);
}

/** A wall, or one of its corners, to where the pointer is; told as its new length, or as what holds it. */
function walled(state: Of<ToolState, 'walling'>, at: ScreenPoint, isFree: boolean, context: ToolContext): DragResult {
  const { document, ref, part, startAt, through } = state;
  const { sheet } = context;
  const isJoined = context.areWallsJoined !== false;
  const mPerPx = sheet.metresPerPixel();
  const [x, y] = sheet.worldFromScreen(at, through);
  const from = sheet.worldFromScreen(startAt, through);
  const { change, marks } =
    part === 'whole'
      ? dragWall(document, ref.id, [x - from[0], y - from[1]], mPerPx, { isFree, isJoined, stepM: stepM(mPerPx) })
      : dragCorner(document, ref.id, part, [x, y], mPerPx, { isFree, isJoined });
  if (!change.ok) return { edit: null, travel: { kind: 'held', why: change.why }, snaps: [] };
  const edit = { kind: 'wall', ref, command: change.command } as const;
  return { edit, travel: { kind: 'walled', ends: change.ends, movedM: change.movedM }, snaps: marks };
}

/** A shutter by as much of its angle as the cut has moved; told as a turn. */
function drawnBy(state: Of<ToolState, 'cutting'>, deltaM: Vec3): DragResult {
  const { document, setupId, ref, shutter, through } = state;
  const edit = shutterEdit(document, setupId, ref, shutter, through, add(through, deltaM));
  const before = sourceOf(document, setupId, ref.id);
  const standsDeg =
    before?.type === 'lamp' && before.distribution.kind === 'projection'
      ? before.distribution.shutters?.[shutter]?.offsetDeg
      : undefined;
  const deltaDeg = edit?.kind === 'shutter' && standsDeg !== undefined ? edit.offsetDeg - standsDeg : 0;
  return { edit, travel: { kind: 'turned', deltaDeg }, snaps: [] };
}

function moved(state: Dragging, deltaM: Vec3, isFree: boolean, sheet: ToolContext['sheet']): DragResult {
  const { document, setupId, ref } = state;
  const edit = moveEdit(document, setupId, ref, deltaM, stepM(sheet.metresPerPixel()));
  const travel = { kind: 'moved', deltaM } as const;
  if (edit?.kind === 'mark') return lying(state, edit, deltaM, isFree, sheet);
  if (edit?.kind === 'figure') return stoodOff(state, edit, isFree, sheet);
  if (isFree || edit?.kind !== 'pose') return { edit, travel, snaps: [] };
  const { pose } = edit;
  const { offsetM, marks } = snapPlace(document, setupId, ref, pose.positionM, sheet);
  const positionM = snappedPlace(pose.positionM, offsetM);
  return {
    edit: { ...edit, pose: { ...pose, positionM } },
    travel: { kind: 'moved', deltaM: add(deltaM, offsetM) },
    snaps: marks,
  };
}

/** A mark or a picture, to where it comes to rest. */
function lying(
  { document, setupId, ref }: Dragging,
  edit: EditOf<'mark'>,
  deltaM: Vec3,
  isFree: boolean,
  sheet: ToolContext['sheet'],
): DragResult {
  const { offsetM, marks } = isFree ? NO_SNAP : snapLying(document, setupId, ref, edit.positionM, sheet);
  const positionM = snappedPlace(edit.positionM, offsetM);
  return { edit: { ...edit, positionM }, travel: { kind: 'moved', deltaM: add(deltaM, offsetM) }, snaps: marks };
}

/** The line of a dimension, across itself. */
function stoodOff(
  { document, setupId, ref }: Dragging,
  edit: EditOf<'figure'>,
  isFree: boolean,
  sheet: ToolContext['sheet'],
): DragResult {
  if (!('offsetM' in edit.fields)) return { edit, travel: { kind: 'moved', deltaM: [0, 0, 0] }, snaps: [] };
  const free = { offsetM: edit.fields.offsetM, marks: [] };
  const { offsetM, marks } = isFree
    ? free
    : snapOffset(document, setupId, ref.id, free.offsetM, sheet.metresPerPixel());
  const travel = { kind: 'moved', deltaM: offsetStep(document, setupId, ref.id, offsetM) } as const;
  return { edit: { ...edit, fields: { offsetM } }, travel, snaps: marks };
}

function aimed(state: Dragging, deltaM: Vec3, isFree: boolean, sheet: ToolContext['sheet']): DragResult {
  const { document, setupId, ref } = state;
  const step = stepM(sheet.metresPerPixel());
  const pose = poseOf(document, setupId, ref);
  const { offsetM, marks } =
    isFree || !pose
      ? NO_SNAP
      : snapAim(document, setupId, ref, pose.positionM, add(aimPointOf(document, pose), deltaM), sheet);
  const travel = { kind: 'aimed', deltaM: add(deltaM, offsetM) } as const;
  const edit =
    marks.length === 0
      ? aimEdit(document, setupId, ref, deltaM, step)
      : aimEdit(document, setupId, ref, travel.deltaM, SNAPPED_STEP_M, SNAPPED_ANGLE_STEP_DEG);
  return { edit, travel, snaps: marks };
}

/** A wall that is chosen can be carried on the plan; one that is not fills the drawing, and dragging it moves the view. */
const isWallInHand = (ref: ObjectRef, { document, sheet, chosen }: ToolContext): boolean =>
  sheet.kind === 'plan' &&
  ref.kind === 'surface' &&
  chosen?.length === 1 &&
  sameRef(chosen[0] ?? null, ref) &&
  isCarriedWall(document.surfaces[ref.id]);

function cursorOver(hit: ReturnType<ToolContext['sheet']['hitTest']>, context: ToolContext): Cursor {
  if (context.tool === 'pan') return 'grab';
  if (!hit) return 'default';
  if (hit.handle === 'aim') return 'crosshair';
  if (hit.handle === 'turn' || hit.handle === 'shutter') return 'grab';
  if (hit.handle === 'corner' || isWallInHand(hit.object, context)) return 'move';
  return isFixed(context.document, context.setupId, hit.object) ? 'pointer' : 'move';
}

function onDown(state: ToolState, event: On<'down'>, context: ToolContext): ToolResult {
  if (event.touch && state.name !== 'idle') {
    const first = state.name === 'pinching' ? state.fingers[0] : { pointerId: state.pointerId, at: lastPlace(state) };
    if (!first) return { state };
    const fingers = [first, { pointerId: event.pointerId, at: event.at }];
    return { state: { name: 'pinching', fingers }, ...(isDragging(state) && dropped) };
  }
  if (state.name !== 'idle' || event.button === 2) return { state };
  if (event.button === 1 || context.tool === 'pan') {
    return { state: { name: 'panning', pointerId: event.pointerId, lastAt: event.at }, cursor: 'grabbing' };
  }
  const { document, setupId } = context;
  const hit = context.sheet.hitTest(event.at, event.touch);
  const { pointerId, button, touch } = event;
  const pressed = { name: 'pressed', pointerId, document, setupId, startAt: event.at, hit, button, touch } as const;
  return { state: event.adds === true ? { ...pressed, adds: true } : pressed };
}
const dropped = { draft: null, travel: null, ghost: null, snaps: [], cursor: 'default' } as const;
const lastPlace = (state: Exclude<ToolState, { name: 'idle' | 'pinching' }>): ScreenPoint =>
  state.name === 'panning' ? state.lastAt : state.startAt;

/** From a press that has travelled far enough to the drag that it means. */
function beginDrag(state: Of<ToolState, 'pressed'>, event: On<'move'>, context: ToolContext): ToolResult {
  const { pointerId, document, setupId, startAt, hit } = state;
  const panning: ToolResult = {
    state: { name: 'panning', pointerId, lastAt: event.at },
    view: [{ kind: 'pan', deltaX: event.at.x - startAt.x, deltaY: event.at.y - startAt.y }],
    cursor: 'grabbing',
  };
  if (state.adds && (!hit || hit.object.kind === 'surface')) {
    const framing = { name: 'framing', pointerId, document, setupId, startAt, at: event.at } as const;
    return { state: framing, frame: [startAt, event.at], cursor: 'crosshair' };
  }
  if (!hit) return panning;
  const ref = hit.object;
  if (isWallInHand(ref, context)) {
    const part: WallPart = hit.corner ?? 'whole';
    const drag: Dragging = { name: 'walling', pointerId, document, setupId, startAt, ref, through: [0, 0, 0], part };
    const wallPart = { surfaceId: ref.id, part };
    return { ...continueDrag(drag, event, context), wallPart, ghost: ref, cursor: 'move' };
  }
  if (isFixed(document, setupId, ref)) {
    // A wall fills most of a drawing: dragging it moves the view, as dragging the empty ground does.
    if (ref.kind === 'surface') return panning;
    return { state: IDLE, select: ref, cursor: 'not-allowed' };
  }
  const through = hit.shutter ? hit.shutter.atM : takeHold(state, ref);
  if (!through) return { state: IDLE };
  if (hit.shutter) {
    const drag: Dragging = {
      name: 'cutting',
      pointerId,
      document,
      setupId,
      startAt,
      ref,
      through,
      shutter: hit.shutter.index,
    };
    return { ...continueDrag(drag, event, context), select: ref, ghost: ref, cursor: 'grabbing' };
  }
  const name = hit.handle === 'aim' ? 'aiming' : hit.handle === 'turn' ? 'turning' : 'moving';
  const drag: Dragging = { name, pointerId, document, setupId, startAt, ref, through };
  const cursor: Cursor = name === 'aiming' ? 'crosshair' : name === 'turning' ? 'grabbing' : 'move';
  // What is chosen with it goes along, so the choice stays.
  const isChosen = context.chosen?.some((one) => sameRef(one, ref)) === true;
  return { ...continueDrag(drag, event, context), ...(!isChosen && { select: ref }), ghost: ref, cursor };
}

function takeHold(state: Of<ToolState, 'pressed'>, ref: ObjectRef): Vec3 | undefined {
  if (state.hit?.handle !== 'aim') return anchorOf(state.document, state.setupId, ref);
  const pose = poseOf(state.document, state.setupId, ref);
  return pose && aimPointOf(state.document, pose);
}

function continueDrag(state: Dragging, event: On<'move'>, context: ToolContext): ToolResult {
  const { edit, travel, snaps } = dragTo(state, event.at, event.alt === true, context);
  return { state, draft: edit, travel, snaps };
}

function pinch(state: Of<ToolState, 'pinching'>, event: On<'move'>): ToolResult {
  const fingers = state.fingers.map((finger) =>
    finger.pointerId === event.pointerId ? { ...finger, at: event.at } : finger,
  );
  const [a0, b0] = state.fingers;
  const [a1, b1] = fingers;
  if (!a0 || !b0 || !a1 || !b1) return { state };
  const middle = (a: ScreenPoint, b: ScreenPoint): ScreenPoint => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
  const from = middle(a0.at, b0.at);
  const to = middle(a1.at, b1.at);
  const factor = span(a1.at, b1.at) / Math.max(1, span(a0.at, b0.at));
  return {
    state: { name: 'pinching', fingers },
    view: [
      { kind: 'pan', deltaX: to.x - from.x, deltaY: to.y - from.y },
      { kind: 'zoom', at: to, factor: Math.max(0.5, Math.min(2, factor)) },
    ],
  };
}

function onMove(state: ToolState, event: On<'move'>, context: ToolContext): ToolResult {
  if (state.name === 'idle') {
    if (event.touch) return { state };
    const hit = context.sheet.hitTest(event.at, false);
    return { state, hover: hit?.object ?? null, cursor: cursorOver(hit, context) };
  }
  if (state.name === 'pinching') return pinch(state, event);
  if (event.pointerId !== state.pointerId) return { state };
  switch (state.name) {
    case 'pressed':
      return span(state.startAt, event.at) < DRAG_THRESHOLD_PX ? { state } : beginDrag(state, event, context);
    case 'framing':
      return { state: { ...state, at: event.at }, frame: [state.startAt, event.at] };
    case 'panning': {
      const { x, y } = state.lastAt;
      const view = [{ kind: 'pan', deltaX: event.at.x - x, deltaY: event.at.y - y }] as const;
      return { state: { ...state, lastAt: event.at }, view };
    }
    default:
      return continueDrag(state, event, context);
  }
}

function onUp(state: ToolState, event: On<'up'>, context: ToolContext): ToolResult {
  if (state.name === 'idle') return { state };
  if (state.name === 'pinching') {
    const left = state.fingers.find((finger) => finger.pointerId !== event.pointerId);
    return { state: left ? { name: 'panning', pointerId: left.pointerId, lastAt: left.at } : IDLE };
  }
  if (event.pointerId !== state.pointerId) return { state };
  if (state.name === 'pressed') {
    const object = state.hit?.object ?? null;
    const part: WallPart = state.hit?.corner ?? 'whole';
    const wall = object?.kind === 'surface' ? { surfaceId: object.id, part } : null;
    if (!state.adds) return { state: IDLE, select: object, ...(wall && { wallPart: wall }) };
    return object ? { state: IDLE, toggle: object } : { state: IDLE };
  }
  if (state.name === 'framing') {
    const { document, setupId, startAt } = state;
    const choose = refsInFrame(document, setupId, context.sheet, [startAt, event.at]);
    return { state: IDLE, frame: null, choose, cursor: 'default' };
  }
  if (state.name === 'panning') return { state: IDLE, cursor: context.tool === 'pan' ? 'grab' : 'default' };
  const { edit } = dragTo(state, event.at, event.alt === true, context);
  return { state: IDLE, ...dropped, ...(edit && { commit: edit }) };
}

/** One step of the tool. Same state, event and context give the same result. */
export function reduce(state: ToolState, event: ToolEvent, context: ToolContext): ToolResult {
  switch (event.type) {
    case 'down':
      return onDown(state, event, context);
    case 'move':
      return onMove(state, event, context);
    case 'up':
      return onUp(state, event, context);
    case 'cancel':
      return state.name === 'idle'
        ? { state }
        : { state: IDLE, frame: null, ...(isDragging(state) ? dropped : { cursor: 'default' }) };
    case 'leave':
      return state.name === 'idle' ? { state, hover: null } : { state };
  }
}
