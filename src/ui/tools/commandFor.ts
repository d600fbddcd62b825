/** From the edits of tools and the references of drawings to commands of the scene. */
import type { ObjectRef } from '../../render/contract';
import { panTiltFromAim } from '../../scene/geometry/frames';
import type { Aim, SceneDocument } from '../../scene/schema';
import type { Command, SingleCommand, ThingRef } from '../../scene/commands';
import { nameOf, poseOf, sourceOf, tuple } from './things';
import type { Edit } from './edits';

/** Reference of a thing as commands want it; null for the camera, which is a part of the scene and no thing. */
export function thingRefOf(setupId: string, ref: ObjectRef): ThingRef | null {
  switch (ref.kind) {
    case 'source':
    case 'modifier':
      return { kind: ref.kind, setupId, id: ref.id };
    case 'opening':
      return ref.surfaceId === undefined ? null : { kind: 'opening', surfaceId: ref.surfaceId, id: ref.id };
    case 'surface':
    case 'meter':
    case 'mark':
    case 'picture':
    case 'dimension':
      return { kind: ref.kind, id: ref.id };
    case 'camera':
      return null;
  }
}

function sameAim(a: Aim, b: Aim): boolean {
  if ('atM' in a && 'atM' in b) return a.atM.every((value, axis) => value === b.atM[axis]) && a.rollDeg === b.rollDeg;
  const from = panTiltFromAim(a, [0, 0, 0]);
  const to = panTiltFromAim(b, [0, 0, 0]);
  return (
    'atM' in a === 'atM' in b && from.panDeg === to.panDeg && from.tiltDeg === to.tiltDeg && from.rollDeg === to.rollDeg
  );
}

function shutterCommand(
  document: SceneDocument,
  setupId: string,
  { ref, index, offsetDeg }: Extract<Edit, { kind: 'shutter' }>,
  at: ThingRef,
): Command | null {
  const source = sourceOf(document, setupId, ref.id);
  if (source?.type !== 'lamp' || source.distribution.kind !== 'projection') return null;
  const { distribution } = source;
  if (distribution.shutters?.[index]?.offsetDeg === offsetDeg) return null;
  const shutters = distribution.shutters?.map((one, i) => (i === index ? { ...one, offsetDeg } : one));
  return { type: 'patch', at, fields: { distribution: { ...distribution, ...(shutters && { shutters }) } } };
}

/** The command of an edit; null when it changes nothing. */
export function commandFor(document: SceneDocument, setupId: string, edit: Edit): Command | null {
  const at = thingRefOf(setupId, edit.ref);
  if (edit.kind === 'opening') {
    const { leftM, sillM } = edit;
    return at && { type: 'patch', at, fields: { leftM, sillM } };
  }
  if (edit.kind === 'shutter') return at && shutterCommand(document, setupId, edit, at);
  if (edit.kind === 'figure') return at && { type: 'patch', at, fields: edit.fields };
  if (edit.kind === 'mark') return at && { type: 'move', at, positionM: tuple(edit.positionM) };
  const before = poseOf(document, setupId, edit.ref);
  if (!before) return null;
  if (!at) return { type: 'patchScene', part: 'camera', fields: { pose: edit.pose } };
  const commands: SingleCommand[] = [];
  if (edit.pose.positionM.some((value, axis) => value !== before.positionM[axis])) {
    commands.push({ type: 'move', at, positionM: tuple(edit.pose.positionM) });
  }
  if (!sameAim(before.aim, edit.pose.aim)) commands.push({ type: 'aim', at, aim: edit.pose.aim });
  const [first, second] = commands;
  if (!first) return null;
  return second ? { type: 'sequence', label: `Place ${nameOf(document, setupId, edit.ref)}`, commands } : first;
}
