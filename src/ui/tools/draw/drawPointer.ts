/** The pointer while something is drawn on the plan: a press sets a corner; middle button and two fingers move the view. */
import type { SnapMark } from '../../../render/contract';
import type { Vec3 } from '../../../scene/geometry/vector';
import type { Point2 } from '../../../scene/schema';
import { reduce } from '../select';
import { IDLE, type ScreenPoint, type ToolContext, type ToolEvent, type ToolResult, type ToolState } from '../tool';
import type { DrawEvent, Drawing } from './drawing';
import { CORNER_REACH_PX, snapCorner } from './drawSnap';
import { tieNear } from './ties';

export interface DrawContext extends ToolContext {
  readonly drawing: Drawing;
}
export interface DrawPointerResult extends ToolResult {
  readonly drew?: DrawEvent;
  /** For an opening: the wall under the press. */
  readonly onSurfaceId?: string;
}

const GROUND = [0, 0, 0] as const;

const onTie = ([x, y]: Vec3): Point2 => [Number(x.toFixed(4)) + 0, Number(y.toFixed(4)) + 0];

function cornerUnder(
  at: ScreenPoint,
  isFree: boolean,
  context: DrawContext,
): { at: Point2; marks: readonly SnapMark[] } {
  const [x, y] = context.sheet.worldFromScreen(at, GROUND);
  // Points of a picture lie where they lie.
  const { kind } = context.drawing;
  if (kind === 'scale') return { at: [Number(x.toFixed(4)), Number(y.toFixed(4))], marks: [] };
  const mPerPx = context.sheet.metresPerPixel();
  const tie =
    kind === 'measure' && !isFree ? tieNear(context.document, context.setupId, [x, y], CORNER_REACH_PX * mPerPx) : null;
  if (tie) return { at: onTie(tie.atM), marks: [{ kind: 'on', atM: tie.atM, word: `on ${tie.name}` }] };
  return snapCorner(context.document, context.drawing, [x, y], mPerPx, isFree);
}

/** The wall within reach of a point, by itself or by one of its openings. */
function surfaceUnder(at: ScreenPoint, touch: boolean, context: DrawContext): string | undefined {
  const object = context.sheet.hitTest(at, touch)?.object;
  return object?.kind === 'surface' ? object.id : object?.surfaceId;
}

function hover(state: ToolState, event: Extract<ToolEvent, { type: 'move' }>, context: DrawContext): DrawPointerResult {
  const { at, marks } = cornerUnder(event.at, event.alt === true, context);
  return { state, drew: { type: 'hover', at }, snaps: marks, cursor: 'crosshair', hover: null };
}

function press(state: ToolState, event: Extract<ToolEvent, { type: 'up' }>, context: DrawContext): DrawPointerResult {
  if (state.name !== 'pressed' || event.pointerId !== state.pointerId) return { state };
  const { at } = cornerUnder(event.at, event.alt === true, context);
  const kind = context.drawing.kind;
  const surfaceId = kind === 'window' || kind === 'door' ? surfaceUnder(event.at, state.touch, context) : undefined;
  return {
    state: IDLE,
    snaps: [],
    drew: { type: 'corner', at },
    ...(surfaceId !== undefined && { onSurfaceId: surfaceId }),
  };
}

/** One step; what moves the view is the select tool's own. */
export function reduceDrawPointer(state: ToolState, event: ToolEvent, context: DrawContext): DrawPointerResult {
  const isView = state.name === 'panning' || state.name === 'pinching';
  switch (event.type) {
    case 'down': {
      const isSecondFinger = event.touch && state.name !== 'idle';
      if (isView || isSecondFinger || event.button !== 0) return reduce(state, event, context);
      if (state.name !== 'idle') return { state };
      const { pointerId, button, touch, at } = event;
      const { document, setupId } = context;
      return { state: { name: 'pressed', pointerId, document, setupId, startAt: at, hit: null, button, touch } };
    }
    case 'move':
      return isView ? reduce(state, event, context) : hover(state, event, context);
    case 'up':
      return isView ? reduce(state, event, context) : press(state, event, context);
    case 'cancel':
      return { state: IDLE, snaps: [] };
    case 'leave':
      return state.name === 'idle' ? { state, drew: { type: 'hover', at: null }, snaps: [] } : { state };
  }
}
