/** What tells one setup from another: things put in and taken out, moved, turned, dimmed, coloured, dressed otherwise. */
import { panTiltFromAim } from './geometry/frames';
import { subtract, type Vec3 } from './geometry/vector';
import type { Lamp, Modifier, Pose, Setup, Source } from './schema';

type Accessory = NonNullable<Lamp['accessories']>[number];

/** One thing that is otherwise with a lamp or a piece of grip. Angles and lengths are from the first setup to the second. */
export type Change =
  | { readonly what: 'moved'; readonly byM: Vec3 }
  /** Signed, the short way round, degrees: pan clockwise seen from above, tilt up, roll clockwise seen from behind. */
  | { readonly what: 'turned'; readonly panDeg: number; readonly tiltDeg: number; readonly rollDeg: number }
  | { readonly what: 'sunMoved'; readonly altitudeDeg: number; readonly azimuthDeg: number }
  | { readonly what: 'switched'; readonly isOn: boolean }
  /** Levels 0 to 1, linear in light. */
  | { readonly what: 'level'; readonly from: number; readonly to: number }
  | { readonly what: 'colour'; readonly from: Source['colour']; readonly to: Source['colour'] }
  | { readonly what: 'putOn' | 'takenOff'; readonly accessory: Accessory }
  /** The same kind of accessory, set otherwise. */
  | { readonly what: 'reset'; readonly from: Accessory; readonly to: Accessory }
  | { readonly what: 'material'; readonly from: Modifier['material']; readonly to: Modifier['material'] }
  | { readonly what: 'shape'; readonly from: Modifier['shape']; readonly to: Modifier['shape'] }
  | { readonly what: 'renamed'; readonly from: string; readonly to: string }
  /** Other parts of the thing, by their names in the scene: nothing that differs is passed over. */
  | { readonly what: 'other'; readonly parts: readonly string[] };

export interface SetupChange {
  readonly kind: 'source' | 'modifier';
  /** Ids in the setups that have the thing. */
  readonly idBefore: string | null;
  readonly idAfter: string | null;
  readonly name: string;
  /** Empty where the thing was put in or taken out. */
  readonly changes: readonly Change[];
}

/** Below these two places, angles or shares are the same: rounding, and no hand could set them apart. */
const SAME_M = 0.0005;
const SAME_DEG = 0.05;
const SAME_SHARE = 0.0005;

/** Equal by what they hold; a part that is absent equals one that is undefined. */
function isAlike(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [one, other] = [a as Record<string, unknown>, b as Record<string, unknown>];
  return [...new Set([...Object.keys(one), ...Object.keys(other)])].every((key) => isAlike(one[key], other[key]));
}

/** An angle brought to -180 (left out) to 180 (taken in), degrees. */
function shortWay(angleDeg: number): number {
  const turned = ((angleDeg % 360) + 360) % 360;
  return turned > 180 ? turned - 360 : turned;
}

function poseChanges(before: Pose, after: Pose): Change[] {
  const byM = subtract(after.positionM, before.positionM);
  const moved: Change[] = byM.some((part) => Math.abs(part) >= SAME_M) ? [{ what: 'moved', byM }] : [];
  const [from, to] = [panTiltFromAim(before.aim, before.positionM), panTiltFromAim(after.aim, after.positionM)];
  const turn = {
    panDeg: shortWay(to.panDeg - from.panDeg),
    tiltDeg: to.tiltDeg - from.tiltDeg,
    rollDeg: shortWay(to.rollDeg - from.rollDeg),
  };
  const isTurned = Object.values(turn).some((angleDeg) => Math.abs(angleDeg) >= SAME_DEG);
  return isTurned ? [...moved, { what: 'turned', ...turn }] : moved;
}

/** Accessories as they are: by kind, those alike set aside, then those of one kind against each other. */
function accessoryChanges(before: readonly Accessory[] = [], after: readonly Accessory[] = []): Change[] {
  const gone = [...before];
  const come = after.filter((accessory) => {
    const at = gone.findIndex((one) => isAlike(one, accessory));
    if (at >= 0) gone.splice(at, 1);
    return at < 0;
  });
  const changes: Change[] = [];
  for (const accessory of come) {
    const at = gone.findIndex(({ kind }) => kind === accessory.kind);
    const [from] = at < 0 ? [] : gone.splice(at, 1);
    changes.push(from ? { what: 'reset', from, to: accessory } : { what: 'putOn', accessory });
  }
  return [...changes, ...gone.map((accessory): Change => ({ what: 'takenOff', accessory }))];
}

function otherChanges(before: object, after: object, told: readonly string[]): Change[] {
  const [one, other] = [before as Record<string, unknown>, after as Record<string, unknown>];
  const names = [...new Set([...Object.keys(one), ...Object.keys(other)])];
  const parts = names.filter((name) => !told.includes(name) && !isAlike(one[name], other[name]));
  return parts.length > 0 ? [{ what: 'other', parts }] : [];
}

const renamed = (from: string, to: string): Change[] => (from === to ? [] : [{ what: 'renamed', from, to }]);

function sourceChanges(before: Source, after: Source): Change[] {
  const areLamps = before.type === 'lamp' && after.type === 'lamp';
  const changes = [...renamed(before.name, after.name), ...(areLamps ? poseChanges(before.pose, after.pose) : [])];
  const [wasOn, isOn] = [before.off !== true, after.off !== true];
  if (wasOn !== isOn) changes.push({ what: 'switched', isOn });
  const [from, to] = [before.level ?? 1, after.level ?? 1];
  if (Math.abs(to - from) >= SAME_SHARE) changes.push({ what: 'level', from, to });
  if (!isAlike(before.colour, after.colour)) changes.push({ what: 'colour', from: before.colour, to: after.colour });
  const told = ['type', 'name', 'off', 'level', 'colour'];
  if (areLamps) {
    changes.push(...accessoryChanges(before.accessories, after.accessories));
    told.push('pose', 'accessories');
  }
  if (before.type === 'sun' && after.type === 'sun') {
    const altitudeDeg = after.altitudeDeg - before.altitudeDeg;
    const azimuthDeg = shortWay(after.azimuthDeg - before.azimuthDeg);
    const isMoved = Math.max(Math.abs(altitudeDeg), Math.abs(azimuthDeg)) >= SAME_DEG;
    if (isMoved) changes.push({ what: 'sunMoved', altitudeDeg, azimuthDeg });
    told.push('altitudeDeg', 'azimuthDeg');
  }
  return [...changes, ...otherChanges(before, after, told)];
}

function modifierChanges(before: Modifier, after: Modifier): Change[] {
  const changes = [...renamed(before.name, after.name), ...poseChanges(before.pose, after.pose)];
  if (!isAlike(before.material, after.material))
    changes.push({ what: 'material', from: before.material, to: after.material });
  if (!isAlike(before.shape, after.shape)) changes.push({ what: 'shape', from: before.shape, to: after.shape });
  return [...changes, ...otherChanges(before, after, ['name', 'pose', 'material', 'shape'])];
}

/** Pairs of the same thing: by id, as copies keep it, then by name where only one on each side has it. */
function pairs<T extends { readonly name: string }>(
  before: Readonly<Record<string, T>>,
  after: Readonly<Record<string, T>>,
  areOneThing: (a: T, b: T) => boolean,
): (readonly [before: string | null, after: string | null])[] {
  const partner = new Map<string, string>();
  for (const id of Object.keys(before)) {
    const there = after[id];
    if (there && areOneThing(before[id]!, there)) partner.set(id, id);
  }
  const taken = new Set(partner.values());
  const left = Object.keys(before).filter((id) => !partner.has(id));
  const free = Object.keys(after).filter((id) => !taken.has(id));
  for (const id of left) {
    const isNamesake = (record: Readonly<Record<string, T>>) => (other: string) =>
      record[other]!.name === before[id]!.name;
    const [only, second] = free.filter(isNamesake(after));
    if (only === undefined || second !== undefined || left.filter(isNamesake(before)).length > 1) continue;
    if (areOneThing(before[id]!, after[only]!)) partner.set(id, only);
  }
  const met = new Set(partner.values());
  return [
    ...Object.keys(before).map((id) => [id, partner.get(id) ?? null] as const),
    ...free.filter((id) => !met.has(id)).map((id) => [null, id] as const),
  ];
}

function changesOf<T extends { readonly name: string }>(
  kind: SetupChange['kind'],
  before: Readonly<Record<string, T>>,
  after: Readonly<Record<string, T>>,
  areOneThing: (a: T, b: T) => boolean,
  between: (a: T, b: T) => Change[],
): SetupChange[] {
  return pairs(before, after, areOneThing).flatMap(([idBefore, idAfter]): SetupChange[] => {
    const [was, is] = [idBefore === null ? null : before[idBefore]!, idAfter === null ? null : after[idAfter]!];
    const changes = was && is && was !== is ? between(was, is) : [];
    if (was && is && changes.length === 0) return [];
    return [{ kind, idBefore, idAfter, name: (is ?? was)!.name, changes }];
  });
}

/**
 * What differs from one setup to another, lamps and suns before grip, in the order of the setups.
 * @returns empty where nothing differs; names and notes of the setups themselves are not compared
 */
export function setupDifferences(before: Setup, after: Setup): SetupChange[] {
  return [
    ...changesOf('source', before.sources, after.sources, (a, b) => a.type === b.type, sourceChanges),
    ...changesOf('modifier', before.modifiers, after.modifiers, () => true, modifierChanges),
  ];
}
