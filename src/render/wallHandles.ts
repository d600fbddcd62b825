/** Corners of the chosen wall, to be carried; and, while one is, the lengths of all walls that change with it. */
import { wallEnds } from '../scene/geometry/wallEnds';
import { drawStretch } from './drawDrawing';
import { isSame, WEIGHT } from './drawThings';
import { RANK, type HitTarget } from './hitTest';
import type { LabelPlacer } from './labels';
import { toScreen, type SheetContext } from './picture';
import type { Sketch } from './sketch';

const CORNER_PX = 5;
const SIDES = ['left', 'right'] as const;

export function drawWallHandles(
  context: SheetContext,
  sketch: Sketch,
  targets: HitTarget[],
  placer: LabelPlacer,
): void {
  const { ghost, selection, setupId, wallCorner } = context.state;
  const before = ghost?.object.kind === 'surface' ? context.thingsFor(ghost.document, setupId).surfaces : null;
  for (const thing of context.things.surfaces) {
    const ends = wallEnds(thing.frame, thing.surface.shape);
    if (!ends) continue;
    const was = before?.find(({ id }) => id === thing.id);
    // The note beside the pointer tells the length of the one in hand.
    if (was && was.surface !== thing.surface && ghost?.object.id !== thing.id) {
      const [left, right] = ends.map(([x = 0, y = 0]) => [x, y] as const);
      drawStretch(context, sketch, placer, [left!, right!]);
    }
    if (!isSame(selection, 'surface', thing.id) || thing.surface.locked === true) continue;
    SIDES.forEach((corner, index) => {
      const [x, y] = toScreen(context, [ends[index]![0]!, ends[index]![1]!, 0]);
      const isChosen = wallCorner === corner;
      sketch.disc(x, y, CORNER_PX, isChosen ? sketch.inks.accent : sketch.inks.sheet);
      sketch.circle(x, y, CORNER_PX, { role: 'accent', widthPx: WEIGHT.selection, cased: true });
      const hit = { object: { kind: 'surface', id: thing.id }, handle: 'corner', corner } as const;
      targets.push({ hit, rank: RANK.handle, shape: { kind: 'point', x, y, radiusPx: CORNER_PX } });
    });
  }
}
