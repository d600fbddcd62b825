/** What is chosen beside the selection, and the frame that is being drawn round things to choose them. */
import { anchorOfThing } from './drawObjects';
import { toScreen, type SheetContext } from './picture';
import type { Sketch } from './sketch';

const RING_PX = 16;

export function drawChosen(context: SheetContext, sketch: Sketch): void {
  const { also, frame } = context.state;
  for (const object of also ?? []) {
    const at = anchorOfThing(context.things, object);
    if (!at) continue;
    const [x, y] = toScreen(context, at);
    sketch.circle(x, y, RING_PX, { role: 'accent', widthPx: 2, dash: [6, 4], cased: true });
  }
  if (!frame) return;
  const [{ x: x0, y: y0 }, { x: x1, y: y1 }] = frame;
  const corners = [x0, y0, x1, y0, x1, y1, x0, y1];
  sketch.line([corners], { role: 'accent', widthPx: 1.25, dash: [6, 4], closed: true, cased: true });
}
