/** What goes into a tool and what comes out of it. Tools are pure: they hold no page, no store and no clock. */
import type { Hit, ObjectRef, Sheet, SheetKind, SnapMark } from '../../render/contract';
import type { SceneDocument } from '../../scene/schema';
import type { Vec3 } from '../../scene/geometry/vector';
import type { Edit } from './edits';
import type { WallEnds, WallPart } from './walls';

export interface ScreenPoint {
  readonly x: number;
  readonly y: number;
}
export type ToolName = 'select' | 'pan' | 'draw';

export type ToolEvent =
  | {
      readonly type: 'down';
      readonly pointerId: number;
      readonly at: ScreenPoint;
      /** 0 main, 1 middle, 2 second. */
      readonly button: number;
      readonly touch: boolean;
      /** Shift is down, or every press adds: a press adds, a drag on nothing frames. */
      readonly adds?: boolean;
    }
  | {
      readonly type: 'move';
      readonly pointerId: number;
      readonly at: ScreenPoint;
      readonly touch: boolean;
      /** Alt is down: nothing snaps. */
      readonly alt?: boolean;
    }
  | { readonly type: 'up'; readonly pointerId: number; readonly at: ScreenPoint; readonly alt?: boolean }
  /** Escape, pointercancel, or the window lost the focus: the gesture never happened. */
  | { readonly type: 'cancel' }
  | { readonly type: 'leave' };

/** The drawing as a tool sees it. */
export type ToolSheet = Pick<Sheet, 'hitTest' | 'worldFromScreen' | 'screenFromWorld' | 'metresPerPixel'> & {
  readonly kind: SheetKind;
};
export interface ToolContext {
  readonly tool: ToolName;
  /** The document without the gesture's own draft. */
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly sheet: ToolSheet;
  /** What is chosen now. */
  readonly chosen?: readonly ObjectRef[];
  /** False: a wall moves alone. */
  readonly areWallsJoined?: boolean;
}

export type Cursor = 'default' | 'pointer' | 'move' | 'crosshair' | 'grab' | 'grabbing' | 'not-allowed';

/** Where a gesture started, and the document at that moment: every move is computed from it anew. */
export interface Snapshot {
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly startAt: ScreenPoint;
}
interface OnePointer extends Snapshot {
  readonly pointerId: number;
}
export type ToolState =
  | { readonly name: 'idle' }
  | (OnePointer & {
      readonly name: 'pressed';
      readonly hit: Hit | null;
      readonly button: number;
      readonly touch: boolean;
      readonly adds?: boolean;
    })
  | (OnePointer & { readonly name: 'framing'; readonly at: ScreenPoint })
  | (OnePointer & { readonly name: 'moving'; readonly ref: ObjectRef; readonly through: Vec3 })
  | (OnePointer & { readonly name: 'aiming'; readonly ref: ObjectRef; readonly through: Vec3 })
  | (OnePointer & { readonly name: 'turning'; readonly ref: ObjectRef; readonly through: Vec3 })
  | (OnePointer & {
      readonly name: 'cutting';
      readonly ref: ObjectRef;
      readonly through: Vec3;
      readonly shutter: number;
    })
  | (OnePointer & {
      readonly name: 'walling';
      readonly ref: ObjectRef;
      readonly through: Vec3;
      readonly part: WallPart;
    })
  | { readonly name: 'panning'; readonly pointerId: number; readonly lastAt: ScreenPoint }
  | {
      readonly name: 'pinching';
      readonly fingers: readonly { readonly pointerId: number; readonly at: ScreenPoint }[];
    };

export const IDLE: ToolState = { name: 'idle' };
/** A press that travels less than this is a click, CSS pixels. */
export const DRAG_THRESHOLD_PX = 4;

export type ViewChange =
  | { readonly kind: 'pan'; readonly deltaX: number; readonly deltaY: number }
  | { readonly kind: 'zoom'; readonly at: ScreenPoint; readonly factor: number };

/** How far the gesture has come, for the note beside the pointer. */
export type Travel =
  | { readonly kind: 'moved'; readonly deltaM: Vec3 }
  | { readonly kind: 'aimed'; readonly deltaM: Vec3 }
  | { readonly kind: 'turned'; readonly deltaDeg: number }
  /** A wall between its ends, or why it stays where it was. */
  | { readonly kind: 'walled'; readonly ends: WallEnds; readonly movedM: number }
  | { readonly kind: 'held'; readonly why: string };

/** Absent fields leave things as they are; null clears. */
export interface ToolResult {
  readonly state: ToolState;
  readonly draft?: Edit | null;
  readonly commit?: Edit;
  readonly select?: ObjectRef | null;
  /** Adds this to what is chosen, or takes it out. */
  readonly toggle?: ObjectRef;
  /** Chooses these. */
  readonly choose?: readonly ObjectRef[];
  /** The frame under way, screen pixels; null when it is gone. */
  readonly frame?: readonly [ScreenPoint, ScreenPoint] | null;
  /** What of the wall was pressed or dragged. */
  readonly wallPart?: { readonly surfaceId: string; readonly part: WallPart };
  readonly hover?: ObjectRef | null;
  readonly cursor?: Cursor;
  readonly view?: readonly ViewChange[];
  readonly travel?: Travel | null;
  /** What the drag rests on; empty where it is free. */
  readonly snaps?: readonly SnapMark[];
  /** The thing whose place before the drag stays visible. */
  readonly ghost?: ObjectRef | null;
}
