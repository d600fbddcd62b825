/** Arrow keys: one step along the axes of the drawing that has the focus. */
import type { ObjectRef, SheetKind } from '../../render/contract';
import type { SceneDocument } from '../../scene/schema';
import { frameFromPose } from '../../scene/geometry/frames';
import { scale, type Vec3 } from '../../scene/geometry/vector';
import { sectionProjection } from '../../render/projections';
import { moveEdit, type Edit } from './edits';
import { openingOf, sourceOf } from './things';

export type ArrowKey = 'ArrowLeft' | 'ArrowRight' | 'ArrowUp' | 'ArrowDown';
const ARROWS: Readonly<Record<ArrowKey, readonly [right: number, up: number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};
export const isArrow = (key: string): key is ArrowKey => Object.hasOwn(ARROWS, key);

/** An arrow key as a step on the plan. */
export const nudgeDelta = (key: ArrowKey, stepM: number): readonly [number, number] => [
  ARROWS[key][0] * stepM,
  ARROWS[key][1] * stepM,
];

/** One step is a centimetre (the last shown digit); Shift makes it ten, Alt a tenth. */
export const nudgeStepM = (keys: { readonly shiftKey: boolean; readonly altKey: boolean }): number =>
  keys.shiftKey ? 0.1 : keys.altKey ? 0.001 : 0.01;

export interface NudgeView {
  readonly kind: SheetKind;
  readonly surfaceId: string;
  readonly sourceId: string | null;
}

/** Right and up of a drawing in the world. */
function axesOf(document: SceneDocument, setupId: string, view: NudgeView): { right: Vec3; up: Vec3 } {
  const plan = { right: [1, 0, 0] as Vec3, up: [0, 1, 0] as Vec3 };
  if (view.kind === 'plan') return plan;
  if (view.kind === 'elevation') {
    const surface = document.surfaces[view.surfaceId];
    return surface ? frameFromPose(surface.pose) : plan;
  }
  const source = view.sourceId === null ? undefined : sourceOf(document, setupId, view.sourceId);
  return source?.type === 'lamp' ? sectionProjection(source.pose) : plan;
}

/** The step of an arrow key as an edit; null where the thing cannot be moved that way. */
export function nudgeEdit(
  document: SceneDocument,
  setupId: string,
  ref: ObjectRef,
  key: ArrowKey,
  stepM: number,
  view: NudgeView,
): Edit | null {
  const [rightSteps, upSteps] = ARROWS[key];
  // An opening slides in its own wall whichever drawing has the focus: left and right along it, up and down in height.
  const wall = ref.kind === 'opening' ? openingOf(document, ref)?.surface : undefined;
  const axes = wall ? frameFromPose(wall.pose) : axesOf(document, setupId, view);
  const deltaM = scale(rightSteps !== 0 ? axes.right : axes.up, (rightSteps + upSteps) * stepM);
  return moveEdit(document, setupId, ref, deltaM, Math.min(stepM, 0.001));
}
