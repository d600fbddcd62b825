/** The things that are chosen together: the selection first, then the others that were added to it. */
import type { ObjectRef } from '../../render/contract';
import type { SceneDocument } from '../../scene/schema';
import { anchorOf, ifThere, isFixed, refKey, sameRef, setupOf } from './things';
import type { ScreenPoint, ToolSheet } from './tool';

/** Others beside a selection; they hold only while that selection does. */
export interface Also {
  readonly key: string;
  readonly refs: readonly ObjectRef[];
}
export const NO_OTHERS: Also = { key: '', refs: [] };

interface Choice {
  readonly selection: ObjectRef | null;
  readonly also: Also;
}

/** All that is chosen, the leading one first; what is gone from the scene is left out. */
export function chosenRefs(scene: SceneDocument, setupId: string, { selection, also }: Choice): ObjectRef[] {
  const first = ifThere(scene, setupId, selection);
  if (!first) return [];
  const others = also.key === refKey(first) ? also.refs : [];
  return [first, ...others.filter((ref) => ifThere(scene, setupId, ref) && !sameRef(ref, first))];
}

export function choiceOf(refs: readonly ObjectRef[]): Choice {
  const [first = null, ...rest] = refs;
  return { selection: first, also: first ? { key: refKey(first), refs: rest } : NO_OTHERS };
}

/** Adds a thing to what is chosen, or takes it out again. */
export const toggled = (chosen: readonly ObjectRef[], ref: ObjectRef): ObjectRef[] =>
  chosen.some((one) => sameRef(one, ref)) ? chosen.filter((one) => !sameRef(one, ref)) : [...chosen, ref];

/** Lamps, grip, meters and marks of a setup: what a frame drawn with the pointer chooses. */
export function looseRefs(scene: SceneDocument, setupId: string): ObjectRef[] {
  const setup = setupOf(scene, setupId);
  const refs = (kind: ObjectRef['kind'], record: object | undefined): ObjectRef[] =>
    Object.keys(record ?? {}).map((id) => ({ kind, id }));
  return [
    ...refs('source', setup?.sources),
    ...refs('modifier', setup?.modifiers),
    ...refs('meter', scene.meters),
    ...refs('mark', scene.marks),
  ];
}

/** Things whose anchors lie in the frame between two screen points. */
export function refsInFrame(
  scene: SceneDocument,
  setupId: string,
  sheet: Pick<ToolSheet, 'screenFromWorld'>,
  [a, b]: readonly [ScreenPoint, ScreenPoint],
): ObjectRef[] {
  const [left, right] = [Math.min(a.x, b.x), Math.max(a.x, b.x)];
  const [top, bottom] = [Math.min(a.y, b.y), Math.max(a.y, b.y)];
  return looseRefs(scene, setupId).filter((ref) => {
    const anchor = anchorOf(scene, setupId, ref);
    if (!anchor) return false;
    const { x, y } = sheet.screenFromWorld(anchor);
    return x >= left && x <= right && y >= top && y <= bottom;
  });
}

/** The thing with the rest of its group, if it is in one. */
export function withGroup(scene: SceneDocument, setupId: string, ref: ObjectRef): ObjectRef[] {
  const group = Object.values(scene.groups ?? {}).find(({ memberIds }) => memberIds.includes(ref.id));
  if (!group) return [ref];
  const members = looseRefs(scene, setupId).filter(({ id }) => group.memberIds.includes(id));
  return members.some((member) => sameRef(member, ref))
    ? [ref, ...members.filter((member) => !sameRef(member, ref))]
    : [ref];
}

export const canMove = (scene: SceneDocument, setupId: string, ref: ObjectRef): boolean =>
  !isFixed(scene, setupId, ref);
