/** The wedge of a shaft in haze: from the lamp past the two sides of an opening, on through the room to what stops it. */
import { localFromWorld, worldFromLocal } from '../scene/geometry/frames';
import { addScaled, length, scale, subtract, type Vec3 } from '../scene/geometry/vector';
import { castRay } from './raycast';
import { toScreen, type SheetContext } from './picture';
import type { LampThing, OpeningThing, SurfaceThing } from './sceneThings';
import type { Path } from './geometry2d';
import type { Sketch } from './sketch';

const FARTHEST_M = 40;
/** Sides are drawn this far inside the opening's edge, so that the edge itself does not stop them, m. */
const INSET_M = 0.005;

/** True where the lamp stands behind the wall and in line with its opening. */
const isBehind = (thing: SurfaceThing, lamp: LampThing): boolean =>
  localFromWorld(thing.frame, lamp.frame.origin).above < 0;

function drawSide(context: SheetContext, sketch: Sketch, lamp: LampThing, through: Vec3): Path | null {
  const { origin } = lamp.frame;
  const way = subtract(through, origin);
  const reachM = length(way);
  const direction = scale(way, 1 / reachM);
  const { distanceM } = castRay(context.things, origin, direction, FARTHEST_M);
  if (distanceM <= reachM) return null;
  const path = [...toScreen(context, through), ...toScreen(context, addScaled(origin, direction, distanceM))];
  sketch.line([path], { role: 'lamp', widthPx: 1.75 });
  return path;
}

/**
 * Draws the sides of every lamp's shaft and answers their paths; nothing where the story has no haze.
 * @param sidesOf the two points of an opening that bound the shaft in this drawing; null where it is not cut
 */
export function drawHazeWedges(
  context: SheetContext,
  sketch: Sketch,
  sidesOf: (thing: SurfaceThing, opening: OpeningThing) => readonly [Vec3, Vec3] | null,
): Path[] {
  if (context.state.document.story?.haze !== true) return [];
  const played = new Set(context.state.document.story.playsSun?.map(({ sourceId }) => sourceId));
  return context.things.lamps
    .filter((lamp) => played.has(lamp.id))
    .flatMap((lamp) =>
      context.things.surfaces
        .filter((thing) => isBehind(thing, lamp))
        .flatMap((thing) =>
          thing.openings.flatMap((opening) => {
            const sides = sidesOf(thing, opening) ?? [];
            return sides.flatMap((through) => {
              const path = drawSide(context, sketch, lamp, through);
              return path ? [path] : [];
            });
          }),
        ),
    );
}

/** Left and right side of an opening at half its height, on the lit face of its wall. */
export const planSides = (thing: SurfaceThing, opening: OpeningThing): readonly [Vec3, Vec3] => {
  const up = (opening.sillM + opening.headM) / 2;
  return [
    worldFromLocal(thing.frame, [opening.leftM + INSET_M, up]),
    worldFromLocal(thing.frame, [opening.rightM - INSET_M, up]),
  ];
};

/** Sill and head of an opening where a cut passes it at `right`, on the lit face of its wall. */
export const uprightSides = (thing: SurfaceThing, opening: OpeningThing, right: number): readonly [Vec3, Vec3] => [
  worldFromLocal(thing.frame, [right, opening.sillM + INSET_M]),
  worldFromLocal(thing.frame, [right, opening.headM - INSET_M]),
];
