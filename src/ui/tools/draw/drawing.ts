/** Drawing by corners on the plan: where the corners lie so far, and what a click, a typed length or a key makes of them. */
import { sinDeg, cosDeg } from '../../../scene/geometry/frames';
import type { Point2 } from '../../../scene/schema';

/** Drawn as a line of corners: each stretch is an upright surface. */
export const LINE_KINDS = ['walls', 'backdrop', 'uprightPlane'] as const;
/** Drawn as an outline: a level surface, or a space on the ground. */
export const AREA_KINDS = ['floor', 'top', 'ceiling', 'levelPlane', 'lampInside', 'lampOutside'] as const;
/** Set down by one press: on a wall, or on the ground. */
export const SPOT_KINDS = ['window', 'door', 'mark', 'put'] as const;
/** Two points and the stretch between them; nothing is made of it by itself. */
export const TAPE_KINDS = ['measure', 'scale'] as const;
export type DrawKind =
  (typeof LINE_KINDS)[number] | (typeof AREA_KINDS)[number] | (typeof SPOT_KINDS)[number] | (typeof TAPE_KINDS)[number];

const among = <T extends DrawKind>(kinds: readonly T[], kind: DrawKind): kind is T =>
  (kinds as readonly DrawKind[]).includes(kind);
export const isLineKind = (kind: DrawKind): kind is (typeof LINE_KINDS)[number] => among(LINE_KINDS, kind);
export const isAreaKind = (kind: DrawKind): kind is (typeof AREA_KINDS)[number] => among(AREA_KINDS, kind);
export const isTapeKind = (kind: DrawKind): kind is (typeof TAPE_KINDS)[number] => among(TAPE_KINDS, kind);
export const isSpotKind = (kind: DrawKind): kind is (typeof SPOT_KINDS)[number] => among(SPOT_KINDS, kind);

export interface Drawing {
  readonly kind: DrawKind;
  /** Plan metres, in the order they were set. */
  readonly corners: readonly Point2[];
  /** Where the pointer is, snapped; null while it is away. */
  readonly at: Point2 | null;
}
export type DrawEvent =
  | { readonly type: 'kind'; readonly kind: DrawKind }
  | { readonly type: 'hover'; readonly at: Point2 | null }
  | { readonly type: 'corner'; readonly at: Point2 }
  /** From the last corner: length in metres, direction in degrees clockwise from straight up the plan. */
  | { readonly type: 'typed'; readonly lengthM: number; readonly directionDeg: number }
  | { readonly type: 'back' | 'close' | 'finish' | 'drop' };

/** What the corners have become; the drawing itself stays until it is dropped, so that a refusal loses nothing. */
export interface Made {
  readonly corners: readonly Point2[];
  readonly isClosed: boolean;
}
export interface DrawResult {
  readonly drawing: Drawing;
  readonly made?: Made;
}

export const startDrawing = (kind: DrawKind = 'walls'): Drawing => ({ kind, corners: [], at: null });

/** Nearer than this two corners are one, metres. */
export const SAME_CORNER_M = 0.001;
export const apart = (a: Point2, b: Point2): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const isSame = (a: Point2 | undefined, b: Point2): boolean => a !== undefined && apart(a, b) < SAME_CORNER_M;

/** The corner `lengthM` from `from` in a direction; whole tenths of a millimetre, so that square rooms close. */
export function cornerAt(from: Point2, lengthM: number, directionDeg: number): Point2 {
  const round = (value: number): number => Number(value.toFixed(4)) + 0;
  return [round(from[0] + lengthM * sinDeg(directionDeg)), round(from[1] + lengthM * cosDeg(directionDeg))];
}

/** Length in metres and direction, 0 to below 360 degrees clockwise from straight up the plan. */
export function stretchOf(from: Point2, to: Point2): { readonly lengthM: number; readonly directionDeg: number } {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const directionDeg = (Math.atan2(dx, dy) * 180) / Math.PI;
  return { lengthM: Math.hypot(dx, dy), directionDeg: directionDeg < 0 ? directionDeg + 360 : directionDeg };
}

export interface Stretch {
  readonly lengthM: number;
  /** Clockwise from straight up the plan. */
  readonly directionDeg: number;
}
const FIRST_STRETCH: Stretch = { lengthM: 4, directionDeg: 90 };

/**
 * What the next stretch most likely is: it turns as the last corner did (a right angle anti-clockwise where there is none yet),
 * and is as long as the one that it faces. A rectangle takes two typed lengths.
 */
export function likelyStretch(corners: readonly Point2[]): Stretch {
  const [before, from, last] = [corners.at(-3), corners.at(-2), corners.at(-1)];
  if (!from || !last) return FIRST_STRETCH;
  const { lengthM, directionDeg } = stretchOf(from, last);
  const facing = before && stretchOf(before, from);
  const turnDeg = facing ? directionDeg - facing.directionDeg : -90;
  // Corners lie on tenths of a millimetre: the direction between them is sure to a tenth of a degree.
  const round = (value: number, digits: number): number => Number(value.toFixed(digits));
  return {
    lengthM: round(facing?.lengthM ?? lengthM, 4),
    directionDeg: round((((directionDeg + turnDeg) % 360) + 360) % 360, 1) % 360,
  };
}

/** Corners after which a line is done by itself. */
const mostCorners = (kind: DrawKind): number =>
  kind === 'backdrop' || kind === 'uprightPlane' || isTapeKind(kind) ? 2 : 200;

function withCorner(drawing: Drawing, at: Point2): DrawResult {
  const { kind } = drawing;
  if (isSpotKind(kind)) return { drawing: { ...drawing, at }, made: { corners: [at], isClosed: false } };
  // A third press of the tape measures anew.
  const corners = isTapeKind(kind) && drawing.corners.length === 2 ? [] : drawing.corners;
  if (isSame(corners.at(-1), at)) return corners.length < 2 ? { drawing } : finished(drawing);
  if (corners.length >= 3 && isSame(corners[0], at)) return closed(drawing);
  const next = { ...drawing, corners: [...corners, at], at };
  const isDone = !isTapeKind(kind) && next.corners.length === mostCorners(kind);
  return isDone ? { drawing: next, made: { corners: next.corners, isClosed: false } } : { drawing: next };
}

const closed = (drawing: Drawing): DrawResult =>
  drawing.corners.length < 3 || isTapeKind(drawing.kind)
    ? { drawing }
    : { drawing, made: { corners: drawing.corners, isClosed: true } };

function finished(drawing: Drawing): DrawResult {
  if (isAreaKind(drawing.kind)) return closed(drawing);
  if (drawing.corners.length < 2 || isTapeKind(drawing.kind)) return { drawing };
  return { drawing, made: { corners: drawing.corners, isClosed: false } };
}

/** One step of a drawing. Same drawing and event give the same result. */
export function reduceDrawing(drawing: Drawing, event: DrawEvent): DrawResult {
  switch (event.type) {
    case 'kind':
      return { drawing: startDrawing(event.kind) };
    case 'hover':
      return { drawing: { ...drawing, at: event.at } };
    case 'corner':
      return withCorner(drawing, event.at);
    case 'typed': {
      const last = drawing.corners.at(-1);
      if (!last || event.lengthM <= 0) return { drawing };
      return withCorner(drawing, cornerAt(last, event.lengthM, event.directionDeg));
    }
    case 'back':
      return { drawing: { ...drawing, corners: drawing.corners.slice(0, -1) } };
    case 'close':
      return closed(drawing);
    case 'finish':
      return finished(drawing);
    case 'drop':
      return { drawing: startDrawing(drawing.kind) };
  }
}
