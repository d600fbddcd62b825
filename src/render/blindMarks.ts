/**
 * A window's blind in the drawings. Section: each slat as the line that it is, at its tilt and depth. Elevation: what of each
 * slat shows face on, with its nearer edge. Plan: the strip that the slats take up across the opening, seen from above.
 */
import { blindSlats, type CutPlace, type Slat } from '../scene/geometry/blindSlats';
import { worldFromLocal } from '../scene/geometry/frames';
import { dot } from '../scene/geometry/vector';
import type { Path } from './geometry2d';
import { depthOf, sheetFromWorld, type Projection } from './projections';
import type { OpeningThing, SurfaceThing } from './sceneThings';

/** Slats that a cut runs along, or nearly, do not show as lines. */
const LEAST_CROSSING = 0.02;

/** Slats of the opening's blind from the head down; none without a blind. */
export const slatsOf = ({ opening, sillM, headM }: OpeningThing): Slat[] => {
  const blind = opening.window?.blind;
  return blind ? blindSlats({ sillM, headM }, blind) : [];
};

/** The slats as a section cuts them, each [u0, v0, u1, v1] in sheet metres from the room's edge outwards. */
export function sectionSlats(thing: SurfaceThing, projection: Projection, opening: OpeningThing): Path[] {
  const { frame } = thing;
  const rate = dot(frame.right, projection.towards);
  if (Math.abs(rate) < LEAST_CROSSING) return [];
  const cut = ({ upM, depthM }: CutPlace): readonly [u: number, v: number] | null => {
    const right = -depthOf(projection, worldFromLocal(frame, [0, upM], depthM)) / rate;
    if (right < opening.leftM || right > opening.rightM) return null;
    const { u, v } = sheetFromWorld(projection, worldFromLocal(frame, [right, upM], depthM));
    return [u, v];
  };
  return slatsOf(opening).flatMap(({ roomEdge, outerEdge }) => {
    const [from, to] = [cut(roomEdge), cut(outerEdge)];
    return from && to ? [[...from, ...to]] : [];
  });
}

/** The strip of the slats on the plan, jamb to jamb, as a closed line in sheet metres; none without a blind. */
export function planSlats(thing: SurfaceThing, opening: OpeningThing): Path[] {
  const [slat] = slatsOf(opening);
  if (!slat) return [];
  const at = (rightM: number, depthM: number): [number, number] => {
    const [x, y] = worldFromLocal(thing.frame, [rightM, 0], depthM);
    return [x, y];
  };
  const { leftM, rightM } = opening;
  const [room, outer] = [slat.roomEdge.depthM, slat.outerEdge.depthM];
  const start = at(leftM, room);
  return [[...start, ...at(rightM, room), ...at(rightM, outer), ...at(leftM, outer), ...start]];
}

/** Heights that slats take up face on, those that overlap taken together, from the lowest up, in the wall's metres. */
export function seenBands(slats: readonly Slat[]): [lowM: number, highM: number][] {
  const bands: [number, number][] = [];
  for (const { roomEdge, outerEdge } of [...slats].reverse()) {
    const low = Math.min(roomEdge.upM, outerEdge.upM);
    const high = Math.max(roomEdge.upM, outerEdge.upM);
    const last = bands[bands.length - 1];
    if (last && low <= last[1]) last[1] = Math.max(last[1], high);
    else bands.push([low, high]);
  }
  return bands;
}
