/** What is being drawn on the plan: corners, stretches with their lengths and directions, the stretch under the pointer. */
import { formatDegrees, formatLength } from './format';
import type { LabelPlace, LabelPlacer } from './labels';
import { toScreen, type SheetContext } from './picture';
import type { Sketch } from './sketch';

type Plan = readonly [x: number, y: number];
const CORNER_PX = 3.5;
const TICK_PX = 5;

function stretchWords(context: SheetContext, from: Plan, to: Plan): string {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const directionDeg = (Math.atan2(dx, dy) * 180) / Math.PI;
  return `${formatLength(Math.hypot(dx, dy), context.state.units)}  ${formatDegrees((Math.round(directionDeg) + 360) % 360)}`;
}

/** A stretch between two corners with its length beside it. */
export function drawStretch(
  context: SheetContext,
  sketch: Sketch,
  placer: LabelPlacer,
  ends: readonly [Plan, Plan],
): void {
  const [from, to] = ends;
  const [x0, y0] = toScreen(context, [from[0], from[1], 0]);
  const [x1, y1] = toScreen(context, [to[0], to[1], 0]);
  const lengthPx = Math.hypot(x1 - x0, y1 - y0);
  if (lengthPx < 1) return;
  sketch.line([[x0, y0, x1, y1]], { role: 'accent', widthPx: 2, cased: true });
  const [nx, ny] = [(-TICK_PX * (y1 - y0)) / lengthPx, (TICK_PX * (x1 - x0)) / lengthPx];
  const ticks = [
    [x0 - nx, y0 - ny, x0 + nx, y0 + ny],
    [x1 - nx, y1 - ny, x1 + nx, y1 + ny],
  ];
  sketch.line(ticks, { role: 'accent', widthPx: 1.25, cased: true });
  if (lengthPx < 24) return;
  const [x, y] = [(x0 + x1) / 2, (y0 + y1) / 2];
  const isLevel = Math.abs(x1 - x0) > Math.abs(y1 - y0);
  const places: LabelPlace[] = [6, 16].flatMap((gap): LabelPlace[] =>
    isLevel
      ? [
          { x, y: y - gap, anchor: 'above' },
          { x, y: y + gap, anchor: 'below' },
        ]
      : [
          { x: x + gap, y, anchor: 'left' },
          { x: x - gap, y, anchor: 'right' },
        ],
  );
  placer.place({ lines: [[{ text: stretchWords(context, from, to), bold: true, role: 'accent' }]], places });
}

export function drawDrawing(context: SheetContext, sketch: Sketch, placer: LabelPlacer): void {
  const drawing = context.state.drawing;
  if (!drawing) return;
  const { corners, at, isArea } = drawing;
  const reached: readonly Plan[] = at ? [...corners, at] : corners;
  reached.slice(1).forEach((to, index) => drawStretch(context, sketch, placer, [reached[index]!, to]));
  const [first, last] = [reached[0], reached.at(-1)];
  if (isArea && first && last && reached.length > 2) {
    const [x0, y0] = toScreen(context, [last[0], last[1], 0]);
    const [x1, y1] = toScreen(context, [first[0], first[1], 0]);
    sketch.line([[x0, y0, x1, y1]], { role: 'accent', widthPx: 1, dash: [4, 4], cased: true });
  }
  for (const [x, y] of corners) {
    const [px, py] = toScreen(context, [x, y, 0]);
    sketch.disc(px, py, CORNER_PX, context.inks.accent);
  }
  if (corners.length >= 3 && first) {
    const [px, py] = toScreen(context, [first[0], first[1], 0]);
    sketch.circle(px, py, 9, { role: 'accent', widthPx: 1.25, cased: true });
  }
}
