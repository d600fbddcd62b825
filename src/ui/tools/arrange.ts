/** Arranging what is chosen: each function gives the one command that does it, or a sentence why it cannot be done. */
import type { ObjectRef } from '../../render/contract';
import type { Command, SingleCommand, Thing, ThingRef } from '../../scene/commands';
import { panTiltFromAim, sinDeg, cosDeg } from '../../scene/geometry/frames';
import { add, type Vec3 } from '../../scene/geometry/vector';
import type { Aim, SceneDocument } from '../../scene/schema';
import { thingRefOf } from './commandFor';
import { freshLabels } from './draw/ids';
import { wrapDeg } from './edits';
import { mirroredThing, throughLine } from './mirror';
import { aimPointOf, anchorOf, modifierOf, nameOf, poseOf, sourceOf } from './things';

export type Arranged =
  | { readonly ok: true; readonly command: Command; readonly made?: readonly ObjectRef[] }
  | { readonly ok: false; readonly fault: string };

export interface Where {
  readonly scene: SceneDocument;
  readonly setupId: string;
}
const refuse = (fault: string): Arranged => ({ ok: false, fault });
const all = (label: string, commands: readonly SingleCommand[], none: string): Arranged =>
  commands.length === 0 ? refuse(none) : { ok: true, command: { type: 'sequence', label, commands } };

const rounded = ([x, y, z]: Vec3): [number, number, number] => [
  Number(x.toFixed(4)) + 0,
  Number(y.toFixed(4)) + 0,
  Number(z.toFixed(4)) + 0,
];
const countWords = (refs: readonly ObjectRef[], { scene, setupId }: Where): string =>
  refs.length === 1 ? nameOf(scene, setupId, refs[0]!) : `${refs.length} things`;

interface Placed {
  readonly ref: ObjectRef;
  readonly at: ThingRef;
  readonly positionM: Vec3;
}
/** Those of the chosen that have a place of their own and can be carried. */
function placedOf({ scene, setupId }: Where, refs: readonly ObjectRef[]): Placed[] {
  return refs.flatMap((ref) => {
    if (ref.kind === 'surface' || ref.kind === 'opening' || ref.kind === 'camera' || ref.kind === 'dimension')
      return [];
    const at = thingRefOf(setupId, ref);
    const positionM = anchorOf(scene, setupId, ref);
    return at && positionM ? [{ ref, at, positionM }] : [];
  });
}
const NOT_PLACED = 'Nothing here has a place of its own: choose lamps, grip, meters or marks.';

/** Moves to a new place; an aim at a point stays on its point. */
const moveTo = (at: ThingRef, positionM: Vec3): SingleCommand => ({ type: 'move', at, positionM: rounded(positionM) });

export function moveBy(where: Where, refs: readonly ObjectRef[], deltaM: Vec3): Arranged {
  const commands = placedOf(where, refs).flatMap(({ ref, at, positionM }) => {
    const moves = [moveTo(at, add(positionM, deltaM))];
    const aim = poseOf(where.scene, where.setupId, ref)?.aim;
    // Carried with others, a lamp keeps its direction: the point it looks at goes along.
    if (aim && 'atM' in aim && refs.length > 1) {
      moves.push({ type: 'aim', at, aim: { ...aim, atM: rounded(add(aim.atM, deltaM)) } });
    }
    return moves;
  });
  return all(`Move ${countWords(refs, where)}`, commands, NOT_PLACED);
}

function thingOf({ scene, setupId }: Where, ref: ObjectRef): Thing | undefined {
  if (ref.kind === 'source') return sourceOf(scene, setupId, ref.id);
  if (ref.kind === 'modifier') return modifierOf(scene, setupId, ref.id);
  if (ref.kind === 'meter') return scene.meters[ref.id];
  return ref.kind === 'mark' ? scene.marks?.[ref.id] : undefined;
}
const STEMS = { source: 'lamp', modifier: 'grip', meter: 'meter', mark: 'mark' } as const;
/** "L4" from "L1", "Wall 3" from "Wall 1": the letters of a name, so that a copy counts on. */
const stemOf = (name: string): string => {
  const stem = name.replace(/\s*\d+$/, '');
  return stem === '' ? 'Copy' : stem;
};

function copied(
  where: Where,
  refs: readonly ObjectRef[],
  change: (thing: Thing, step: number) => Thing,
  times: number,
) {
  const labels = freshLabels(where.scene);
  const commands: SingleCommand[] = [];
  const made: ObjectRef[] = [];
  for (let step = 1; step <= times; step += 1) {
    for (const { ref, at } of placedOf(where, refs)) {
      const thing = thingOf(where, ref);
      if (!thing || !('name' in thing) || thing.name === undefined) continue;
      const id = labels.id(STEMS[ref.kind as keyof typeof STEMS]);
      const { locked: _held, ...free } = change(thing, step) as Thing & { locked?: boolean };
      commands.push({
        type: 'add',
        at: { ...at, id } as ThingRef,
        value: { ...free, name: labels.name(stemOf(thing.name)) } as Thing,
      });
      made.push({ kind: ref.kind, id });
    }
  }
  return { commands, made };
}

/** A thing carried by an offset, with the point it looks at. */
export function shiftedThing(thing: Thing, deltaM: Vec3): Thing {
  const aimed = (aim: Aim): Aim => ('atM' in aim ? { ...aim, atM: rounded(add(aim.atM, deltaM)) } : aim);
  if ('pose' in thing && thing.pose) {
    const { positionM, aim } = thing.pose;
    return { ...thing, pose: { positionM: rounded(add(positionM, deltaM)), aim: aimed(aim) } };
  }
  if (!('positionM' in thing)) return thing;
  const positionM = rounded(add(thing.positionM, deltaM));
  return 'aim' in thing ? { ...thing, positionM, aim: aimed(thing.aim) } : { ...thing, positionM };
}

export const MOST_COPIES = 50;
export function copyBy(where: Where, refs: readonly ObjectRef[], deltaM: Vec3, times: number): Arranged {
  if (!Number.isInteger(times) || times < 1 || times > MOST_COPIES) return refuse(`Copies: 1 to ${MOST_COPIES}.`);
  const scaled = (step: number): Vec3 => [deltaM[0] * step, deltaM[1] * step, deltaM[2] * step];
  const { commands, made } = copied(where, refs, (thing, step) => shiftedThing(thing, scaled(step)), times);
  const result = all(`Copy ${countWords(refs, where)}`, commands, NOT_PLACED);
  return result.ok ? { ...result, made } : result;
}

/** Mirrors at an upright plane through `throughM`: across east (x) or across north (y); with copies or in place. */
export function mirrorAt(
  where: Where,
  refs: readonly ObjectRef[],
  axis: 0 | 1,
  throughM: number,
  asCopy: boolean,
): Arranged {
  const line = throughLine(axis, throughM);
  const label = `Mirror ${countWords(refs, where)}`;
  if (asCopy) {
    const { commands, made } = copied(where, refs, (thing) => mirroredThing(thing, line), 1);
    const result = all(label, commands, NOT_PLACED);
    return result.ok ? { ...result, made } : result;
  }
  const commands = placedOf(where, refs).flatMap(({ ref, at }): SingleCommand[] => {
    const thing = thingOf(where, ref);
    return thing ? [{ type: 'replace', at, value: mirroredThing(thing, line) }] : [];
  });
  return all(label, commands, NOT_PLACED);
}

const AXIS_WORDS = ['east', 'north', 'height'] as const;

/** Brings all to the place of the first along one axis: 0 east, 1 north, 2 height. */
export function alignTo(where: Where, refs: readonly ObjectRef[], axis: 0 | 1 | 2): Arranged {
  const [first, ...others] = placedOf(where, refs);
  if (!first || others.length === 0) return refuse('Choose two things or more; they line up with the first.');
  const commands = others.map(({ at, positionM }) =>
    moveTo(at, positionM.map((value, i) => (i === axis ? first.positionM[axis] : value)) as unknown as Vec3),
  );
  return all(`Line up ${countWords(refs, where)} by ${AXIS_WORDS[axis]}`, commands, NOT_PLACED);
}

/** Even gaps between the outermost two, along the axis on which they lie farthest apart. */
export function distribute(where: Where, refs: readonly ObjectRef[]): Arranged {
  const placed = placedOf(where, refs);
  if (placed.length < 3) return refuse('Choose three things or more; the outermost two stay.');
  const spread = ([0, 1, 2] as const).map((axis) => {
    const values = placed.map(({ positionM }) => positionM[axis]);
    return Math.max(...values) - Math.min(...values);
  });
  const axis = spread.indexOf(Math.max(...spread)) as 0 | 1 | 2;
  const sorted = [...placed].sort((a, b) => a.positionM[axis] - b.positionM[axis]);
  const [low, high] = [sorted[0]!.positionM[axis], sorted.at(-1)!.positionM[axis]];
  const commands = sorted.slice(1, -1).map(({ at, positionM }, index) => {
    const value = low + ((high - low) * (index + 1)) / (sorted.length - 1);
    return moveTo(at, positionM.map((old, i) => (i === axis ? value : old)) as unknown as Vec3);
  });
  return all(`Space ${sorted.length} things evenly`, commands, NOT_PLACED);
}

/** Puts all at the height of another thing. */
export function levelWith(where: Where, refs: readonly ObjectRef[], heightM: number): Arranged {
  const commands = placedOf(where, refs).map(({ at, positionM }) => moveTo(at, [positionM[0], positionM[1], heightM]));
  return all(`Level ${countWords(refs, where)}`, commands, NOT_PLACED);
}

/** Aims lamps, grip and meters at a point; it stays their aim. */
export function aimAt(where: Where, refs: readonly ObjectRef[], targetM: Vec3): Arranged {
  const commands = placedOf(where, refs).flatMap(({ ref, at, positionM }): SingleCommand[] => {
    const pose = poseOf(where.scene, where.setupId, ref);
    if (!pose || positionM.every((value, axis) => Math.abs(value - targetM[axis]!) < 1e-6)) return [];
    const roll = pose.aim.rollDeg === undefined ? {} : { rollDeg: pose.aim.rollDeg };
    return [{ type: 'aim', at, aim: { atM: rounded(targetM), ...roll } }];
  });
  return all(`Aim ${countWords(refs, where)}`, commands, 'None of these can be aimed: choose lamps, grip or meters.');
}

/**
 * Swings things round an upright line, clockwise seen from above. A lamp that looks at a point goes on looking at it;
 * one that is aimed by angles turns with the swing.
 * @param pivotM null: the point that the first one's axis meets
 */
export function swingBy(where: Where, refs: readonly ObjectRef[], angleDeg: number, pivotM: Vec3 | null): Arranged {
  const placed = placedOf(where, refs);
  const firstPose = placed[0] && poseOf(where.scene, where.setupId, placed[0].ref);
  const pivot = pivotM ?? (firstPose && aimPointOf(where.scene, firstPose));
  if (!pivot) return refuse('Choose a lamp, grip or a meter: the swing goes round the point it looks at.');
  const [sin, cos] = [sinDeg(angleDeg), cosDeg(angleDeg)];
  const turn = ([x, y, z]: Vec3): Vec3 => {
    const [dx, dy] = [x - pivot[0], y - pivot[1]];
    return [pivot[0] + dx * cos + dy * sin, pivot[1] - dx * sin + dy * cos, z];
  };
  const commands = placed.flatMap(({ ref, at, positionM }): SingleCommand[] => {
    const moved = moveTo(at, turn(positionM));
    const aim = poseOf(where.scene, where.setupId, ref)?.aim;
    if (!aim || 'atM' in aim) return [moved];
    return [moved, { type: 'aim', at, aim: { ...aim, panDeg: Number(wrapDeg(aim.panDeg + angleDeg).toFixed(4)) + 0 } }];
  });
  return all(`Swing ${countWords(refs, where)}`, commands, NOT_PLACED);
}

/** Sets or clears a switch that lamps, grip, meters and surfaces have. */
export function switchAll(
  where: Where,
  refs: readonly ObjectRef[],
  field: 'locked' | 'hidden',
  isOn: boolean,
): Arranged {
  const commands = refs.flatMap((ref): SingleCommand[] => {
    const at = thingRefOf(where.setupId, ref);
    if (!at || ref.kind === 'opening' || ref.kind === 'mark' || ref.kind === 'camera') return [];
    return [
      isOn ? { type: 'patch', at, fields: { [field]: true } } : { type: 'patch', at, fields: {}, clear: [field] },
    ];
  });
  const verb = field === 'locked' ? (isOn ? 'Lock' : 'Unlock') : isOn ? 'Hide' : 'Show';
  return all(`${verb} ${countWords(refs, where)}`, commands, `Nothing here can be ${field}.`);
}

export function removeAll(where: Where, refs: readonly ObjectRef[]): Arranged {
  const commands = refs.flatMap((ref): SingleCommand[] => {
    const at = thingRefOf(where.setupId, ref);
    return at ? [{ type: 'remove', at }] : [];
  });
  return all(`Remove ${countWords(refs, where)}`, commands, 'The camera stays.');
}

/** A group of the chosen: pressed on one, all are chosen. Members leave the groups they were in. */
export function groupAll(where: Where, refs: readonly ObjectRef[]): Arranged {
  const ids = placedOf(where, refs).map(({ ref }) => ref.id);
  if (ids.length < 2) return refuse('Choose two things or more to group them.');
  const ungroup = leaveGroups(where.scene, ids);
  const labels = freshLabels(where.scene);
  const value = { name: labels.name('Group'), memberIds: ids };
  const commands: SingleCommand[] = [...ungroup, { type: 'add', at: { kind: 'group', id: labels.id('group') }, value }];
  return all(`Group ${ids.length} things`, commands, NOT_PLACED);
}

function leaveGroups(scene: SceneDocument, ids: readonly string[]): SingleCommand[] {
  return Object.entries(scene.groups ?? {}).flatMap(([id, group]): SingleCommand[] => {
    const memberIds = group.memberIds.filter((member) => !ids.includes(member));
    if (memberIds.length === group.memberIds.length) return [];
    const at = { kind: 'group', id } as const;
    return [memberIds.length < 2 ? { type: 'remove', at } : { type: 'patch', at, fields: { memberIds } }];
  });
}
export const ungroupAll = (where: Where, refs: readonly ObjectRef[]): Arranged =>
  all(
    'Ungroup',
    leaveGroups(
      where.scene,
      refs.map(({ id }) => id),
    ),
    'None of these is in a group.',
  );

/** Pan and tilt as angles in place of an aim at a point: where a thing looks now. */
export const heldAim = (aim: Aim, positionM: Vec3): Aim => {
  const { panDeg, tiltDeg, rollDeg } = panTiltFromAim(aim, [...positionM]);
  return { panDeg, tiltDeg, ...(rollDeg === 0 ? {} : { rollDeg }) };
};
