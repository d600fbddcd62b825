/** A lamp or a group of lamps as one thing that moves nearer to a surface or farther from it. */
import { frameFromPose, localFromWorld, type Frame } from '../../scene/geometry/frames';
import { addScaled, dot, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { Lamp, SceneDocument, Setup } from '../../scene/schema';

/** Nearer than this a lamp is not taken to the surface, m. */
export const NEAREST_M = 0.2;
/** A typed target nearer than this, or behind the lamp, is replaced by where the axis meets the surface. */
const LEAST_TARGET_M = 0.05;

export interface RigLamp {
  readonly id: string;
  readonly lamp: Lamp;
}
export interface Rig {
  readonly setup: Setup;
  readonly surfaceId: string;
  readonly surface: Frame;
  readonly lamps: readonly RigLamp[];
  /** True for several lamps, which move square to the surface; one lamp moves along its own axis. */
  readonly isGroup: boolean;
  /** Unit vector away from the surface. */
  readonly away: Vec3;
  /** Throw as it stands: along the axis to the surface; for a group the mean of its lamps' distances square to it. */
  readonly distanceM: number;
}

/** Lamps of a setup that a lamp's or a group's id stands for; a group's members that are not in the setup are left out. */
function lampsOf(document: SceneDocument, setup: Setup, id: string): RigLamp[] {
  const ids = setup.sources[id] ? [id] : (document.groups?.[id]?.memberIds ?? []);
  return ids.flatMap((each) => {
    const source = setup.sources[each];
    return source?.type === 'lamp' ? [{ id: each, lamp: source }] : [];
  });
}

/** Ids of the lamps and groups of a setup that can be moved as a rig, lamps first. */
export function rigIds(document: SceneDocument, setup: Setup): string[] {
  const lamps = Object.keys(setup.sources).filter((id) => setup.sources[id]?.type === 'lamp');
  const groups = Object.keys(document.groups ?? {}).filter((id) => lampsOf(document, setup, id).length > 1);
  return [...lamps, ...groups.filter((id) => !lamps.includes(id))];
}

/** Distance along the lamp's axis to the surface's plane, m; null where it looks away from the lit side. */
function axisDistanceM(lamp: Lamp, surface: Frame): number | null {
  const { above } = localFromWorld(surface, lamp.pose.positionM);
  const approach = -dot(frameFromPose(lamp.pose).forward, surface.forward);
  return above > 0 && approach > 1e-6 ? above / approach : null;
}

/**
 * The rig of a lamp or a group against a surface.
 * @throws {RangeError} if the setup, the surface or the lamp does not exist, or a lamp cannot light the surface
 */
export function rigOf(document: SceneDocument, setupId: string, sourceId: string, surfaceId: string): Rig {
  const setup = document.setups.find((candidate) => candidate.id === setupId);
  const target = document.surfaces[surfaceId];
  if (!setup) throw new RangeError(`no setup "${setupId}" in this scene`);
  if (!target) throw new RangeError(`no surface "${surfaceId}" in this scene`);
  const lamps = lampsOf(document, setup, sourceId);
  const [first] = lamps;
  if (!first) throw new RangeError(`no lamp or group of lamps "${sourceId}" in setup "${setupId}"`);
  const surface = frameFromPose(target.pose);
  for (const { lamp } of lamps) {
    if (localFromWorld(surface, lamp.pose.positionM).above <= 0) {
      throw new RangeError(`${lamp.name} stands behind ${target.name}`);
    }
  }
  const kept = { setup, surfaceId, surface, lamps };
  if (lamps.length > 1) {
    const sum = lamps.reduce((total, { lamp }) => total + localFromWorld(surface, lamp.pose.positionM).above, 0);
    return { ...kept, isGroup: true, away: surface.forward, distanceM: sum / lamps.length };
  }
  const distanceM = axisDistanceM(first.lamp, surface);
  if (distanceM === null) throw new RangeError(`${first.lamp.name} is aimed away from ${target.name}`);
  return { ...kept, isGroup: false, away: scale(frameFromPose(first.lamp.pose).forward, -1), distanceM };
}

const tuple = ([x, y, z]: Vec3): [number, number, number] => [x, y, z];

/** One lamp moved; its typed target stays while it lies ahead of it. */
function movedLamp(lamp: Lamp, place: Vec3, rig: Rig): Lamp {
  const { aim } = lamp.pose;
  const pose = { ...lamp.pose, positionM: tuple(place) };
  if (!('atM' in aim) || rig.isGroup) return { ...lamp, pose };
  const forward = scale(rig.away, -1);
  if (dot(subtract(aim.atM, place), forward) >= LEAST_TARGET_M) return { ...lamp, pose };
  const reachM = axisDistanceM(lamp, rig.surface)! - dot(subtract(place, lamp.pose.positionM), forward);
  return { ...lamp, pose: { ...pose, aim: { ...aim, atM: tuple(addScaled(place, forward, reachM)) } } };
}

/**
 * The rig's lamps with its throw at `distanceM`: one lamp along its own axis, beam unchanged; a group square to the
 * surface, places across, heights and typed targets unchanged.
 * @throws {RangeError} if a lamp would come nearer than `NEAREST_M` to the surface
 */
export function lampsAt(rig: Rig, distanceM: number): readonly RigLamp[] {
  return rig.lamps.map(({ id, lamp }) => {
    const place = addScaled(lamp.pose.positionM, rig.away, distanceM - rig.distanceM);
    if (localFromWorld(rig.surface, place).above < NEAREST_M - 1e-9) {
      throw new RangeError(`${lamp.name} would come nearer than ${NEAREST_M} m`);
    }
    return { id, lamp: movedLamp(lamp, place, rig) };
  });
}

/** A scene with this one setup, whose only light is these lamps; grip and walls stay. */
export function sceneWithOnly(document: SceneDocument, setup: Setup, lamps: readonly RigLamp[]): SceneDocument {
  const sources = Object.fromEntries(lamps.map(({ id, lamp }) => [id, lamp]));
  // Story and groups point at lamps that are not here; nothing of coverage reads them.
  const { story: _story, groups: _groups, ...rest } = document;
  return { ...rest, setups: [{ ...setup, sources }] };
}
