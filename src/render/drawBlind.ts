/** Draws a window's blind: as the plan and the section cut it, and face on. */
import { blindDepthM } from '../scene/geometry/blindSlats';
import { barDepthM } from '../sim/solve/shapes';
import { seenBands, slatsOf } from './blindMarks';
import type { Camera } from './camera';
import { localToScreen } from './drawMap';
import { WEIGHT } from './drawThings';
import { insideIntervals, type Path } from './geometry2d';
import { pathToScreen, type SheetContext } from './picture';
import type { OpeningThing, SurfaceThing } from './sceneThings';
import type { Sketch } from './sketch';

/** Lines nearer than this run into a grey: then every second, third ... slat is drawn. */
const LEAST_GAP_PX = 3;
const SLAT_TONE = 0.3;

function thinned(lines: readonly Path[]): readonly Path[] {
  const [first, second] = lines;
  if (!first || !second) return lines;
  const gapPx = Math.hypot(first[0]! - second[0]!, first[1]! - second[1]!);
  const each = Math.max(1, Math.ceil(LEAST_GAP_PX / gapPx));
  return lines.filter((_, i) => i % each === 0);
}

/** Draws the blind's lines of a cut window. */
export function drawCutSlats(camera: Camera, sketch: Sketch, slats: readonly Path[]): void {
  const lines = thinned(slats.map((slat) => pathToScreen(camera, slat)));
  sketch.line(lines, { role: 'grip', widthPx: WEIGHT.seen });
}

/** True where the blind hangs on the room's side of the window's bars. */
export const isBeforeBars = (thing: SurfaceThing, { opening }: OpeningThing): boolean => {
  const blind = opening.window?.blind;
  return blind !== undefined && blindDepthM(blind) <= barDepthM(thing.surface, opening);
};

/**
 * Draws the slats as somebody in the room sees them square on: what they hide in a tone, their nearer edges as lines. What
 * the wall hides of a blind in its reveal is left out.
 */
export function drawSlatsFaceOn(context: SheetContext, thing: SurfaceThing, one: OpeningThing, sketch: Sketch): void {
  const { opening, ring, leftM, rightM, sillM, headM } = one;
  const slats = slatsOf(one);
  const isInRoom = slats.some(({ roomEdge, outerEdge }) => Math.min(roomEdge.depthM, outerEdge.depthM) < 0);
  if (opening.shape.kind === 'rectangle') {
    for (const [low, high] of seenBands(slats)) {
      const [lowM, highM] = isInRoom ? [low, high] : [Math.max(sillM, low), Math.min(headM, high)];
      const band = localToScreen(context, thing, [leftM, lowM, rightM, lowM, rightM, highM, leftM, highM]);
      sketch.fill([band], context.inks.grip, SLAT_TONE);
    }
  }
  const edges = slats.flatMap(({ roomEdge: { upM } }) => {
    const spans = isInRoom ? [[leftM, rightM] as const] : insideIntervals([ring], 0, upM, 1, upM);
    return spans.map(([from, to]) => localToScreen(context, thing, [from, upM, to, upM]));
  });
  sketch.line(thinned(edges), { role: 'grip', widthPx: WEIGHT.hair });
}
