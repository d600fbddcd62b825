/**
 * Where a drag likes to come to rest: level with another thing, on it, or square to a wall. Worked out on the drawing's own
 * two axes; what lies in depth is left as it is. Pure, and let go of with Alt.
 */
import type { ObjectRef, SnapMark } from '../../render/contract';
import type { SceneDocument } from '../../scene/schema';
import { frameFromPose } from '../../scene/geometry/frames';
import { add, addScaled, cross, dot, length, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import { anchorOf, nameOf, sameRef, setupOf } from './things';
import type { ToolSheet } from './tool';

/** A place nearer than this to a line of rest is drawn onto it, CSS pixels. */
export const SNAP_PX = 6;

export interface Snapped {
  /** What is to be added to the free place, metres; lies in the drawing's plane. */
  readonly offsetM: Vec3;
  readonly marks: readonly SnapMark[];
}
export const NO_SNAP: Snapped = { offsetM: [0, 0, 0], marks: [] };

export interface Rest {
  readonly atM: Vec3;
  readonly name: string;
}
interface Axes {
  readonly right: Vec3;
  readonly up: Vec3;
}

/** Unit axes of a drawing in the world. */
export function axesOf(sheet: Pick<ToolSheet, 'worldFromScreen'>, through: Vec3): Axes {
  const corner = sheet.worldFromScreen({ x: 0, y: 0 }, through);
  return {
    right: normalise(subtract(sheet.worldFromScreen({ x: 100, y: 0 }, through), corner)),
    up: normalise(subtract(sheet.worldFromScreen({ x: 0, y: -100 }, through), corner)),
  };
}

/** Things that others are set level with or put on: lamps, grip, windows, meters and the camera. */
export function restsOf(document: SceneDocument, setupId: string, without: ObjectRef | null): Rest[] {
  const setup = setupOf(document, setupId);
  const openings = Object.entries(document.surfaces).flatMap(([surfaceId, surface]) =>
    Object.keys(surface.openings ?? {}).map((id): ObjectRef => ({ kind: 'opening', id, surfaceId })),
  );
  const refs: ObjectRef[] = [
    ...Object.keys(setup?.sources ?? {}).map((id): ObjectRef => ({ kind: 'source', id })),
    ...Object.keys(setup?.modifiers ?? {}).map((id): ObjectRef => ({ kind: 'modifier', id })),
    ...openings,
    ...Object.keys(document.meters).map((id): ObjectRef => ({ kind: 'meter', id })),
    { kind: 'camera', id: 'camera' },
  ];
  return refs.flatMap((ref) => {
    const atM = anchorOf(document, setupId, ref);
    return atM === undefined || sameRef(ref, without) ? [] : [{ atM, name: nameOf(document, setupId, ref) }];
  });
}

/** The rest nearest along one axis, within reach. */
function nearest(rests: readonly Rest[], free: Vec3, axis: Vec3, reachM: number): { rest: Rest; offM: number } | null {
  let best: { rest: Rest; offM: number } | null = null;
  for (const rest of rests) {
    const offM = dot(subtract(rest.atM, free), axis);
    if (Math.abs(offM) <= reachM && (!best || Math.abs(offM) < Math.abs(best.offM))) best = { rest, offM };
  }
  return best;
}

export function snapToRests(rests: readonly Rest[], free: Vec3, { right, up }: Axes, reachM: number): Snapped {
  const whole = rests.find((rest) => {
    const off = subtract(rest.atM, free);
    return Math.hypot(dot(off, right), dot(off, up)) <= reachM;
  });
  if (whole) {
    const off = subtract(whole.atM, free);
    const offsetM = add(scale(right, dot(off, right)), scale(up, dot(off, up)));
    return { offsetM, marks: [{ kind: 'on', atM: add(free, offsetM), word: `on ${whole.name}` }] };
  }
  const found = [
    { axis: right, near: nearest(rests, free, right, reachM) },
    { axis: up, near: nearest(rests, free, up, reachM) },
  ];
  let offsetM: Vec3 = [0, 0, 0];
  for (const { axis, near } of found) if (near) offsetM = addScaled(offsetM, axis, near.offM);
  const atM = add(free, offsetM);
  const marks = found.flatMap(({ near }): SnapMark[] =>
    near ? [{ kind: 'level', atM, otherM: near.rest.atM, word: `level with ${near.rest.name}` }] : [],
  );
  return { offsetM, marks };
}

/** Snaps the place that a thing is carried to. */
export function snapPlace(
  document: SceneDocument,
  setupId: string,
  ref: ObjectRef,
  free: Vec3,
  sheet: ToolSheet,
): Snapped {
  const rests = restsOf(document, setupId, ref);
  return snapToRests(rests, free, axesOf(sheet, free), SNAP_PX * sheet.metresPerPixel());
}

/** A wall that this drawing shows edge-on, and how far `free` is from standing square before `fromM` on it. */
function squareTo(document: SceneDocument, fromM: Vec3, free: Vec3, axes: Axes, reachM: number): Snapped | null {
  const towards = cross(axes.right, axes.up);
  const ray = subtract(free, fromM);
  let best: { offM: number; along: Vec3; word: string } | null = null;
  for (const surface of Object.values(document.surfaces)) {
    const { forward } = frameFromPose(surface.pose);
    if (Math.abs(dot(forward, towards)) > 0.1 || dot(ray, forward) >= 0) continue;
    const along = normalise(cross(towards, forward));
    const offM = -dot(ray, along);
    if (Math.abs(offM) > reachM || (best && Math.abs(offM) >= Math.abs(best.offM))) continue;
    best = { offM, along, word: `square to ${surface.name.charAt(0).toLowerCase()}${surface.name.slice(1)}` };
  }
  if (!best) return null;
  const offsetM = scale(best.along, best.offM);
  const atM = add(free, offsetM);
  return { offsetM, marks: [{ kind: 'square', atM, otherM: fromM, word: best.word }] };
}

/** Snaps the point that a thing at `fromM` is aimed at: on a thing, square to a wall, or level with what is there. */
export function snapAim(
  document: SceneDocument,
  setupId: string,
  ref: ObjectRef,
  fromM: Vec3,
  free: Vec3,
  sheet: ToolSheet,
): Snapped {
  if (length(subtract(free, fromM)) === 0) return NO_SNAP;
  const axes = axesOf(sheet, free);
  const reachM = SNAP_PX * sheet.metresPerPixel();
  const rests = restsOf(document, setupId, ref);
  const toRests = snapToRests(rests, free, axes, reachM);
  if (toRests.marks[0]?.kind === 'on') return toRests;
  return squareTo(document, fromM, free, axes, reachM) ?? toRests;
}
