/** Places of a lamp outside a window, by distance and by how far they stand off the sun's direction. */
import type { Lamp, Setup } from '../../scene/schema';
import { directionToSun, localFromWorld } from '../../scene/geometry/frames';
import { addScaled, dot, type Vec3 } from '../../scene/geometry/vector';
import { mayStand } from '../mends/space';
import { onSurface } from '../solve/solveGrid';
import type { LampChoice, PlaceTask } from './placeRequest';

/** A lens stands no lower over the ground, and no nearer to the window, m. */
export const LOWEST_LENS_M = 0.3;
export const NEAREST_M = 1;
/** How far the aim may leave the middle of the window, in shares of the distance. */
const MOST_AIM = 0.2;
/** Tolerance of bounds, m and degrees. */
const SLACK = 1e-9;

/** What the search varies: distance from the window, azimuth and altitude off the sun's, aim beside and above. */
export type SpotNumbers = readonly [distanceM: number, turnDeg: number, riseDeg: number, aside: number, above: number];

export function lensAt({ document, pivot, sun }: PlaceTask, [distanceM, turnDeg, riseDeg]: SpotNumbers): Vec3 {
  const towards = directionToSun(sun.altitudeDeg + riseDeg, sun.azimuthDeg + turnDeg, document.northDeg ?? 0);
  return addScaled(pivot, towards, distanceM);
}

/** Height of a place over the highest floor that is not above it; null where no floor is drawn there. */
export function overGroundM({ scene, document }: PlaceTask, place: Vec3): number | null {
  let [least, under]: [number | null, boolean] = [null, false];
  for (const [id, { kind }] of Object.entries(document.surfaces)) {
    const compiled = scene.surfaces.get(id);
    if (kind !== 'floor' || !compiled) continue;
    const { right, up, above } = localFromWorld(compiled.frame, place);
    if (!onSurface(compiled, [right, up])) continue;
    if (above < 0) under = true;
    else least = Math.min(least ?? Infinity, above);
  }
  return least ?? (under ? 0 : null);
}

/** Why no lens may be there: too high or too low over the ground, outside the drawn space; null where one may. */
export function spotTrouble(task: PlaceTask, spot: SpotNumbers): 'high' | 'low' | 'space' | null {
  const place = lensAt(task, spot);
  const { highestLensM = Infinity } = task.request;
  const heightM = overGroundM(task, place);
  if ((heightM ?? LOWEST_LENS_M) < LOWEST_LENS_M - SLACK) return 'low';
  if ((heightM ?? place[2]) > highestLensM + SLACK) return 'high';
  return mayStand(task.document, place) ? null : 'space';
}

/** True where the spot keeps to every bound; `mostOffDeg` is the story's, `nearM` to `farM` the distance's. */
export function isAllowed(task: PlaceTask, spot: SpotNumbers, mostOffDeg: number): boolean {
  const [distanceM, turnDeg, riseDeg, aside, above] = spot;
  if (distanceM < NEAREST_M - SLACK || distanceM > task.request.farthestM + SLACK) return false;
  if (Math.abs(turnDeg) > mostOffDeg + SLACK || Math.abs(riseDeg) > mostOffDeg + SLACK) return false;
  if (Math.max(Math.abs(aside), Math.abs(above)) > MOST_AIM + SLACK) return false;
  if (task.sun.altitudeDeg + riseDeg > 89) return false;
  const place = lensAt(task, spot);
  const outside = dot(task.opening.frame.forward, addScaled(place, task.pivot, -1)) < -SLACK;
  return outside && spotTrouble(task, spot) === null;
}

/** The lamp of the kit on that spot. */
export function lampOn(task: PlaceTask, { lamp }: LampChoice, spot: SpotNumbers): Lamp {
  const [x, y, z] = lensAt(task, spot);
  const { right, up } = task.opening.frame;
  const [distanceM, , , aside, above] = spot;
  const [atX, atY, atZ] = addScaled(addScaled(task.pivot, right, aside * distanceM), up, above * distanceM);
  return { ...lamp, pose: { positionM: [x, y, z], aim: { atM: [atX, atY, atZ] } } };
}

export const setupWith = (task: PlaceTask, lamp: Lamp): Setup => ({
  ...task.setup,
  sources: { ...task.setup.sources, [task.lampId]: lamp },
});
