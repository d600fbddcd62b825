/**
 * What a lamp's edge line meets first. A drawing aid, not the light: walls block outside their openings on both faces
 * and at the reveals, opaque grip blocks, window bars, slats, nets, glass and diffusion let the line through.
 */
import { insideRings } from './geometry2d';
import { localFromWorld, worldFromLocal, type Frame } from '../scene/geometry/frames';
import { addScaled, distance, dot, type Vec3 } from '../scene/geometry/vector';
import type { Ball, ModifierThing, OpeningThing, SceneThings, SurfaceThing } from './sceneThings';

export interface RayHit {
  readonly distanceM: number;
  readonly atM: Vec3;
  /** Unit vector of the ray. */
  readonly direction: Vec3;
  readonly surfaceId: string | null;
  readonly modifierId: string | null;
  /** Openings passed on the way, as "surface/opening". */
  readonly passed: readonly string[];
}

const NEAR_M = 1e-6;

/** Distance along the ray to a plane parallel to the frame's, `depthM` behind it; null if parallel or behind. */
function distanceToPlane(frame: Frame, depthM: number, from: Vec3, direction: Vec3): number | null {
  const rate = dot(direction, frame.forward);
  if (Math.abs(rate) < 1e-9) return null;
  const above = localFromWorld(frame, from).above + depthM;
  const distance = -above / rate;
  return distance > NEAR_M ? distance : null;
}

interface FaceCrossing {
  readonly distanceM: number;
  readonly onSurface: boolean;
  readonly opening: OpeningThing | null;
}

function crossFace(thing: SurfaceThing, depthM: number, from: Vec3, direction: Vec3): FaceCrossing | null {
  const distanceM = distanceToPlane(thing.frame, depthM, from, direction);
  if (distanceM === null) return null;
  const { right, up } = localFromWorld(thing.frame, addScaled(from, direction, distanceM));
  const onSurface = insideRings(thing.rings, right, up);
  const opening = onSurface ? thing.openings.find((one) => insideRings([one.ring], right, up)) : undefined;
  return { distanceM, onSurface, opening: opening ?? null };
}

/** Where within a thick wall the ray leaves the opening it came in by: on the reveal. */
function revealDistance(thing: SurfaceThing, opening: OpeningThing, from: Vec3, direction: Vec3, face: number): number {
  const start = localFromWorld(thing.frame, from);
  const rate = { right: dot(direction, thing.frame.right), up: dot(direction, thing.frame.up) };
  const exits = [
    (opening.leftM - start.right) / rate.right,
    (opening.rightM - start.right) / rate.right,
    (opening.sillM - start.up) / rate.up,
    (opening.headM - start.up) / rate.up,
  ].filter((distance) => Number.isFinite(distance) && distance > face + NEAR_M);
  return exits.length > 0 ? Math.min(...exits) : face;
}

function meetSurface(thing: SurfaceThing, from: Vec3, direction: Vec3): { distanceM: number | null; passed: string[] } {
  if (thing.surface.kind === 'readingPlane') return { distanceM: null, passed: [] };
  const depths = thing.thicknessM > 0 && thing.surface.kind === 'wall' ? [0, thing.thicknessM] : [0];
  const faces = depths
    .map((depthM) => crossFace(thing, depthM, from, direction))
    .filter((face) => face !== null)
    .sort((a, b) => a.distanceM - b.distanceM);
  const passed: string[] = [];
  let within: FaceCrossing | null = null;
  for (const face of faces) {
    if (within?.opening && face.opening !== within.opening) {
      const reveal = revealDistance(thing, within.opening, from, direction, within.distanceM);
      return { distanceM: Math.min(reveal, face.distanceM), passed };
    }
    if (face.onSurface && !face.opening) return { distanceM: face.distanceM, passed };
    if (face.opening && !within) passed.push(`${thing.id}/${face.opening.id}`);
    within = face;
  }
  return { distanceM: null, passed };
}

/** Whether grip stops a line at all. */
export const isStopping = ({ modifier }: ModifierThing): boolean =>
  modifier.material.kind === 'opaque' || modifier.material.kind === 'bounce' || modifier.material.kind === 'mirror';

/** Distance along the ray to a piece of grip that stops it, or null. */
export function meetModifier(thing: ModifierThing, from: Vec3, direction: Vec3): number | null {
  if (!isStopping(thing)) return null;
  const distanceM = distanceToPlane(thing.frame, 0, from, direction);
  if (distanceM === null) return null;
  const { right, up } = localFromWorld(thing.frame, addScaled(from, direction, distanceM));
  return insideRings(thing.rings, right, up) ? distanceM : null;
}

/** Whether a ray misses a ball, or comes to it only beyond `farthestM`. */
function misses({ middle, radiusM }: Ball, from: Vec3, direction: Vec3, farthestM: number): boolean {
  const [x, y, z] = [middle[0] - from[0], middle[1] - from[1], middle[2] - from[2]];
  const alongM = x * direction[0] + y * direction[1] + z * direction[2];
  if (alongM < -radiusM || alongM - radiusM > farthestM) return true;
  return x * x + y * y + z * z - alongM * alongM > radiusM * radiusM;
}

/** The same things with those nearest to a point first: a ray from there that has met one passes over all farther ones. */
export function nearestFirst(things: SceneThings, from: Vec3): SceneThings {
  const sorted = <T extends { readonly ball: Ball }>(list: readonly T[]): T[] =>
    list
      .map((thing) => ({ thing, gapM: distance(thing.ball.middle, from) - thing.ball.radiusM }))
      .sort((a, b) => a.gapM - b.gapM)
      .map(({ thing }) => thing);
  return { ...things, surfaces: sorted(things.surfaces), modifiers: sorted(things.modifiers) };
}

/** First thing that stops a ray, at most `limitM` away; `direction` is a unit vector. */
export function castRay(things: SceneThings, from: Vec3, direction: Vec3, limitM: number): RayHit {
  let nearest = { distanceM: limitM, surfaceId: null as string | null, modifierId: null as string | null };
  const passed: { name: string; distanceM: number }[] = [];
  for (const thing of things.surfaces) {
    // What a ray passes on its way is named by where it crosses the inner face, which may lie before the ball.
    const farthestM = thing.openings.length > 0 ? limitM : nearest.distanceM;
    if (misses(thing.ball, from, direction, farthestM)) continue;
    const met = meetSurface(thing, from, direction);
    const plane = distanceToPlane(thing.frame, 0, from, direction) ?? Infinity;
    passed.push(...met.passed.map((name) => ({ name, distanceM: plane })));
    if (met.distanceM !== null && met.distanceM < nearest.distanceM) {
      nearest = { distanceM: met.distanceM, surfaceId: thing.id, modifierId: null };
    }
  }
  for (const thing of things.modifiers) {
    if (misses(thing.ball, from, direction, nearest.distanceM)) continue;
    const distanceM = meetModifier(thing, from, direction);
    if (distanceM !== null && distanceM < nearest.distanceM) {
      nearest = { distanceM, surfaceId: null, modifierId: thing.id };
    }
  }
  return {
    ...nearest,
    direction,
    atM: addScaled(from, direction, nearest.distanceM),
    passed: passed.filter((one) => one.distanceM <= nearest.distanceM).map((one) => one.name),
  };
}

/** World point on a surface from its right/up metres. */
export const surfacePoint = (thing: SurfaceThing, right: number, up: number): Vec3 =>
  worldFromLocal(thing.frame, [right, up]);
