/** Things of a scene by reference: where they stand, what they are called, whether they are held fast. */
import type { ObjectRef } from '../../render/contract';
import type {
  Modifier,
  Opening,
  Point2,
  Point3,
  Pose,
  SceneDocument,
  Setup,
  Source,
  Surface,
} from '../../scene/schema';
import { dimensionLine } from '../../scene/dimensions';
import { frameFromPose, localFromWorld, worldFromLocal, type Frame } from '../../scene/geometry/frames';
import { addScaled, dot, subtract, type Vec3 } from '../../scene/geometry/vector';
import { openingOutline, surfaceOutline } from '../../sim/solve/shapes';
import { insideOutline } from '../../sim/solve/solveGrid';

export const setupOf = (document: SceneDocument, setupId: string): Setup | undefined =>
  document.setups.find((setup) => setup.id === setupId);

export const sameRef = (a: ObjectRef | null, b: ObjectRef | null): boolean =>
  a === b || (!!a && !!b && a.kind === b.kind && a.id === b.id && a.surfaceId === b.surfaceId);

/** One string for a reference, for keys of lists. */
export const refKey = (ref: ObjectRef): string => [ref.kind, ref.surfaceId ?? '', ref.id].join('/');

export const sourceOf = (document: SceneDocument, setupId: string, id: string): Source | undefined =>
  setupOf(document, setupId)?.sources[id];
export const modifierOf = (document: SceneDocument, setupId: string, id: string): Modifier | undefined =>
  setupOf(document, setupId)?.modifiers[id];
export function openingOf(document: SceneDocument, ref: ObjectRef): { surface: Surface; opening: Opening } | undefined {
  const surface = ref.surfaceId === undefined ? undefined : document.surfaces[ref.surfaceId];
  const opening = surface?.openings?.[ref.id];
  return surface && opening && { surface, opening };
}

/** Pose of a lamp, a modifier, a surface or the camera; undefined for the sun, meters and openings. */
export function poseOf(document: SceneDocument, setupId: string, ref: ObjectRef): Pose | undefined {
  switch (ref.kind) {
    case 'source': {
      const source = sourceOf(document, setupId, ref.id);
      return source?.type === 'lamp' ? source.pose : undefined;
    }
    case 'modifier':
      return modifierOf(document, setupId, ref.id)?.pose;
    case 'surface':
      return document.surfaces[ref.id]?.pose;
    case 'camera':
      return document.camera.pose;
    case 'meter': {
      const meter = document.meters[ref.id];
      return meter && { positionM: meter.positionM, aim: meter.aim };
    }
    default:
      return undefined;
  }
}

/** World point of a thing: where a drag takes hold of it. */
export function anchorOf(document: SceneDocument, setupId: string, ref: ObjectRef): Vec3 | undefined {
  if (ref.kind === 'mark') return document.marks?.[ref.id]?.positionM;
  if (ref.kind === 'picture') return document.pictures?.[ref.id]?.positionM;
  if (ref.kind === 'dimension') return dimensionMiddle(document, setupId, ref.id);
  if (ref.kind !== 'opening') return poseOf(document, setupId, ref)?.positionM;
  const found = openingOf(document, ref);
  if (!found) return undefined;
  const { widthM, heightM } = extentOf(found.opening);
  const middle: Point2 = [found.opening.leftM + widthM / 2, found.opening.sillM + heightM / 2];
  return worldFromLocal(frameFromPose(found.surface.pose), middle);
}

/** Where the line of a dimension has its middle, on the ground. */
function dimensionMiddle(document: SceneDocument, setupId: string, id: string): Vec3 | undefined {
  const dimension = document.dimensions?.[id];
  const line = dimension && dimensionLine(document, setupId, dimension);
  return line ? [(line.from[0] + line.to[0]) / 2, (line.from[1] + line.to[1]) / 2, 0] : undefined;
}

/** Width and height of an opening's own box, metres. */
export function extentOf(opening: Opening): { widthM: number; heightM: number } {
  const outline = openingOutline(opening);
  const span = (axis: 0 | 1) => {
    const values = outline.map((corner) => corner[axis]);
    return Math.max(...values) - Math.min(...values);
  };
  return { widthM: span(0), heightM: span(1) };
}

/** True where a thing may not be moved: it is locked, or it is no thing that one carries. */
export function isFixed(document: SceneDocument, setupId: string, ref: ObjectRef): boolean {
  switch (ref.kind) {
    case 'source': {
      const source = sourceOf(document, setupId, ref.id);
      return source?.type !== 'lamp' || source.locked === true;
    }
    case 'modifier':
      return modifierOf(document, setupId, ref.id)?.locked === true;
    case 'meter':
      return document.meters[ref.id]?.locked === true;
    case 'opening':
      return openingOf(document, ref)?.surface.locked === true;
    case 'surface':
      return true; // walls stand; their exact place is typed
    case 'mark':
      return false;
    case 'picture':
      return document.pictures?.[ref.id]?.locked === true;
    case 'dimension':
      return document.dimensions?.[ref.id]?.locked === true;
    case 'camera':
      return document.camera.pose === undefined;
  }
}

/** Whether a thing is locked; an opening is where its wall is. What has no lock is never. */
export function isLocked(document: SceneDocument, setupId: string, ref: ObjectRef): boolean {
  switch (ref.kind) {
    case 'source':
      return sourceOf(document, setupId, ref.id)?.locked === true;
    case 'surface':
      return document.surfaces[ref.id]?.locked === true;
    case 'mark':
    case 'camera':
      return false;
    default:
      return isFixed(document, setupId, ref);
  }
}

function exists(document: SceneDocument, setupId: string, ref: ObjectRef): boolean {
  switch (ref.kind) {
    case 'source':
      return sourceOf(document, setupId, ref.id) !== undefined;
    case 'opening':
      return openingOf(document, ref) !== undefined;
    case 'meter':
      return document.meters[ref.id] !== undefined;
    case 'mark':
      return document.marks?.[ref.id] !== undefined;
    case 'picture':
      return document.pictures?.[ref.id] !== undefined;
    case 'dimension':
      return document.dimensions?.[ref.id] !== undefined;
    case 'camera':
      return true;
    default:
      return poseOf(document, setupId, ref) !== undefined;
  }
}
/** The reference itself while the thing is still there, else null. */
export const ifThere = (document: SceneDocument, setupId: string, ref: ObjectRef | null): ObjectRef | null =>
  ref && exists(document, setupId, ref) ? ref : null;

/** Name of a thing as the crew says it. */
export function nameOf(document: SceneDocument, setupId: string, ref: ObjectRef): string {
  switch (ref.kind) {
    case 'source':
      return sourceOf(document, setupId, ref.id)?.name ?? ref.id;
    case 'modifier':
      return modifierOf(document, setupId, ref.id)?.name ?? ref.id;
    case 'surface':
      return document.surfaces[ref.id]?.name ?? ref.id;
    case 'opening':
      return openingOf(document, ref)?.opening.name ?? ref.id;
    case 'meter':
      return document.meters[ref.id]?.name ?? ref.id;
    case 'mark':
      return document.marks?.[ref.id]?.name ?? ref.id;
    case 'picture':
      return document.pictures?.[ref.id]?.name ?? ref.id;
    case 'dimension':
      return document.dimensions?.[ref.id]?.name ?? ref.id;
    case 'camera':
      return 'Camera';
  }
}

const FALLBACK_AIM_M = 5;

/** Distance along a ray to a surface, through its openings; null where it misses. */
function distanceToSurface(frame: Frame, surface: Surface, from: Vec3, forward: Vec3): number | null {
  const closing = dot(forward, frame.forward);
  if (Math.abs(closing) < 1e-9) return null;
  const distanceM = dot(subtract(frame.origin, from), frame.forward) / closing;
  if (distanceM < 0.01) return null;
  const { right, up } = localFromWorld(frame, addScaled(from, forward, distanceM));
  if (!insideOutline(surfaceOutline(surface.shape).outline, [right, up])) return null;
  const openings = Object.values(surface.openings ?? {});
  return openings.some((opening) => insideOutline(openingOutline(opening), [right, up])) ? null : distanceM;
}

/** Where an axis meets the first surface, or 5 m out where it meets none. A typed target is its own answer. */
export function aimPointOf(document: SceneDocument, pose: Pose): Vec3 {
  if ('atM' in pose.aim) return pose.aim.atM;
  const { forward } = frameFromPose(pose);
  let nearestM: number | null = null;
  for (const surface of Object.values(document.surfaces)) {
    if (surface.kind === 'readingPlane') continue;
    const distanceM = distanceToSurface(frameFromPose(surface.pose), surface, pose.positionM, forward);
    if (distanceM !== null && (nearestM === null || distanceM < nearestM)) nearestM = distanceM;
  }
  return addScaled(pose.positionM, forward, nearestM ?? FALLBACK_AIM_M);
}

/** A mutable triple, as the document's schema wants it. */
export const tuple = (point: Vec3 | Point3): [number, number, number] => [point[0], point[1], point[2]];
