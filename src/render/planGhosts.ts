/** What only the plan shows, as it stood before a drag, faintly: a kept dimension, a plan picture, a mark, a wall. */
import { wallEnds } from '../scene/geometry/wallEnds';
import { GHOST_ALPHA } from './drawObjects';
import { DASH, WEIGHT } from './drawThings';
import type { Path } from './geometry2d';
import { toScreen, type SheetContext } from './picture';
import { dimensionFigure } from './planDimensions';
import { pictureRing } from './planPictures';
import { Sketch } from './sketch';
import { MARK_SYMBOL } from './symbols';

/** Walls that change in the drag, each as the line between its old ends. */
function drawOldWalls(context: SheetContext, sketch: Sketch, before: SheetContext['things']): void {
  const now = new Map(context.things.surfaces.map((thing) => [thing.id, thing.surface]));
  for (const { id, surface, frame } of before.surfaces) {
    const ends = now.get(id) === surface ? null : wallEnds(frame, surface.shape);
    if (!ends) continue;
    const [left, right] = ends.map((end) => toScreen(context, end));
    sketch.line([[...left!, ...right!]], { role: 'wall', widthPx: WEIGHT.seen, dash: DASH.fan });
  }
}

/** The thing in hand as it lay before, onto the sketch of the plan. */
export function drawPlanGhost(context: SheetContext, rings: readonly Path[] | null, onto: Sketch): void {
  const { ghost, setupId } = context.state;
  if (!ghost) return;
  const { object, document } = ghost;
  const sketch = new Sketch(context.inks, rings, GHOST_ALPHA);
  const hair = { role: 'ink3', widthPx: WEIGHT.hair } as const;
  if (object.kind === 'surface') drawOldWalls(context, sketch, context.thingsFor(document, setupId));
  const dimension = object.kind === 'dimension' ? document.dimensions?.[object.id] : undefined;
  const figure = dimension && dimensionFigure(context, document, dimension);
  if (figure) sketch.line([figure.line, ...figure.others], hair);
  const picture = object.kind === 'picture' ? document.pictures?.[object.id] : undefined;
  if (picture) sketch.line([pictureRing(context, picture)], { role: 'accent', widthPx: WEIGHT.seen, closed: true });
  const mark = object.kind === 'mark' ? document.marks?.[object.id] : undefined;
  if (mark) {
    const [x, y] = toScreen(context, mark.positionM);
    sketch.symbol(MARK_SYMBOL, x, y, 0, 16);
  }
  onto.shapes.push(...sketch.shapes);
}
