/** Dimensions that stay on the plan: witness lines from what is measured, ticks, and the figure beside the line. */
import { dimensionLine, measured } from '../scene/dimensions';
import type { SceneDocument } from '../scene/schema';
import type { Dimension } from '../scene/schemaPlan';
import { isSame, WEIGHT } from './drawThings';
import { formatLength } from './format';
import type { Path } from './geometry2d';
import { RANK, type HitTarget } from './hitTest';
import type { LabelPlace, LabelPlacer } from './labels';
import { toScreen, type SheetContext } from './picture';
import type { Sketch } from './sketch';

const TICK_PX = 4;
const OVERSHOOT_PX = 4;
const GAP_PX = 3;
/** Within this slope of level or upright a line is lettered along itself. */
const NEARLY = 0.05;

type Spot = readonly [x: number, y: number];
interface Figure {
  readonly line: Path;
  readonly others: readonly Path[];
  readonly places: readonly LabelPlace[];
  readonly turnDeg: 0 | -90;
}

/** A witness line from the measured point to a little past the dimension line; none where the two lie together. */
function witness([x0, y0]: Spot, [x1, y1]: Spot): Path[] {
  const reach = Math.hypot(x1 - x0, y1 - y0);
  if (reach <= GAP_PX + 1) return [];
  const [ux, uy] = [(x1 - x0) / reach, (y1 - y0) / reach];
  return [[x0 + ux * GAP_PX, y0 + uy * GAP_PX, x1 + ux * OVERSHOOT_PX, y1 + uy * OVERSHOOT_PX]];
}

function figureOf(from: Spot, to: Spot, a: Spot, b: Spot): Figure {
  const length = Math.max(1e-6, Math.hypot(b[0] - a[0], b[1] - a[1]));
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  // A tick at 45 degrees to the line, the drafting way.
  const [tx, ty] = [(ux + uy) * Math.SQRT1_2 * TICK_PX * 1.4, (uy - ux) * Math.SQRT1_2 * TICK_PX * 1.4];
  const tick = ([x, y]: Spot): Path => [x - tx, y - ty, x + tx, y + ty];
  const [x, y] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const isUpright = Math.abs(ux) < NEARLY;
  const isLevel = Math.abs(uy) < NEARLY;
  const beside: LabelPlace[] = isUpright
    ? [
        { x: x - 2, y, anchor: 'right' },
        { x: x + 2, y, anchor: 'left' },
      ]
    : isLevel
      ? [
          { x, y: y - 2, anchor: 'above' },
          { x, y: y + 2, anchor: 'below' },
        ]
      : [
          { x: x + 4, y: y - 2, anchor: ux * uy > 0 ? 'aboveLeft' : 'aboveRight' },
          { x: x - 4, y: y + 2, anchor: ux * uy > 0 ? 'belowRight' : 'belowLeft' },
        ];
  const ends: LabelPlace[] = [
    { x: b[0] + 8, y: b[1], anchor: 'left' },
    { x: a[0] - 8, y: a[1], anchor: 'right' },
    { x, y: y - 16, anchor: 'above' },
    { x, y: y + 16, anchor: 'below' },
  ];
  return {
    line: [a[0], a[1], b[0], b[1]],
    others: [...witness(from, a), ...witness(to, b), tick(a), tick(b)],
    places: [...beside, ...ends],
    turnDeg: isUpright && length > 60 ? -90 : 0,
  };
}

/** A dimension's line with witness lines and ticks on the screen; null where it measures nothing in this setup. */
export function dimensionFigure(
  context: SheetContext,
  document: SceneDocument,
  dimension: Dimension,
): (Figure & { readonly lengthM: number }) | null {
  const found = measured(document, context.state.setupId, dimension);
  const line = dimensionLine(document, context.state.setupId, dimension);
  if (dimension.hidden === true || !found || !line) return null;
  const at = ([x, y]: readonly number[]): Spot => toScreen(context, [x ?? 0, y ?? 0, 0]);
  const figure = figureOf(at(found.fromM), at(found.toM), at(line.from), at(line.to));
  return { ...figure, lengthM: found.lengthM };
}

function drawOne(
  context: SheetContext,
  sketch: Sketch,
  targets: HitTarget[],
  placer: LabelPlacer,
  id: string,
  dimension: Dimension,
): void {
  const { document, selection, hover, units } = context.state;
  const figure = dimensionFigure(context, document, dimension);
  if (!figure) return;
  const chosen = isSame(selection, 'dimension', id);
  if (chosen || isSame(hover, 'dimension', id)) {
    sketch.line([figure.line], { role: 'accent', widthPx: chosen ? WEIGHT.selection : WEIGHT.seen, cased: true });
  }
  sketch.line(chosen ? figure.others : [figure.line, ...figure.others], { role: 'ink3', widthPx: WEIGHT.hair });
  placer.avoid([figure.line]);
  targets.push({
    hit: { object: { kind: 'dimension', id }, handle: 'body' },
    rank: RANK.dimension,
    shape: { kind: 'line', path: figure.line },
  });
  if (context.isSmall) return;
  const text = formatLength(figure.lengthM, units);
  const role = chosen ? 'accent' : 'ink1';
  placer.place({
    lines: [[{ text, role }]],
    places: figure.places,
    turnDeg: figure.turnDeg,
    clearPx: 1,
  });
}

export function drawKeptDimensions(
  context: SheetContext,
  sketch: Sketch,
  targets: HitTarget[],
  placer: LabelPlacer,
): void {
  for (const [id, dimension] of Object.entries(context.state.document.dimensions ?? {})) {
    drawOne(context, sketch, targets, placer, id, dimension);
  }
}
