/** Dimension lines in screen pixels: extension lines, 45° ticks, the figure above the line (left of it when upright). */
import type { LabelPlace } from './labels';
import { crisp } from './sketch';
import type { Path } from './geometry2d';

export interface DimensionFigure {
  readonly paths: readonly Path[];
  readonly places: readonly LabelPlace[];
  readonly turnDeg: 0 | -90;
}

const TICK_PX = 4;
const OVERSHOOT_PX = 4;
const GAP_PX = 3;

/** A level dimension between two x at height `y`; extension lines start at `fromY` (where the measured thing ends). */
export function levelDimension(x0: number, x1: number, y: number, fromY: number, labelPx: number): DimensionFigure {
  const [left, right] = [crisp(Math.min(x0, x1)), crisp(Math.max(x0, x1))];
  const line = crisp(y);
  const side = Math.sign(line - fromY);
  const middle = (left + right) / 2;
  const roomy = right - left > labelPx + 10;
  return {
    turnDeg: 0,
    paths: [
      [left, line, right, line],
      ...[left, right].map((x): Path => [x, fromY + side * GAP_PX, x, line + side * OVERSHOOT_PX]),
      ...[left, right].map((x): Path => [x - TICK_PX, line + TICK_PX, x + TICK_PX, line - TICK_PX]),
    ],
    places: roomy
      ? [
          { x: middle, y: line - 2, anchor: 'above' },
          { x: middle, y: line + 2, anchor: 'below' },
        ]
      : [
          { x: right + 7, y: line, anchor: 'left' },
          { x: left - 7, y: line, anchor: 'right' },
        ],
  };
}

/** An upright dimension between two y at `x`; extension lines start at `fromX`. */
export function uprightDimension(y0: number, y1: number, x: number, fromX: number, labelPx: number): DimensionFigure {
  const [top, bottom] = [crisp(Math.min(y0, y1)), crisp(Math.max(y0, y1))];
  const line = crisp(x);
  const side = Math.sign(line - fromX);
  const middle = (top + bottom) / 2;
  const roomy = bottom - top > labelPx + 6;
  return {
    turnDeg: roomy ? -90 : 0,
    paths: [
      [line, top, line, bottom],
      ...[top, bottom].map((y): Path => [fromX + side * GAP_PX, y, line + side * OVERSHOOT_PX, y]),
      ...[top, bottom].map((y): Path => [line - TICK_PX, y + TICK_PX, line + TICK_PX, y - TICK_PX]),
    ],
    places: roomy
      ? [
          { x: line - 2, y: middle, anchor: 'right' },
          { x: line + 2, y: middle, anchor: 'left' },
        ]
      : [
          { x: line - 7, y: middle, anchor: 'right' },
          { x: line + 7, y: middle, anchor: 'left' },
        ],
  };
}

/** The round length (1, 2 or 5 times a power of ten) that is drawn nearest under `mostPx`. */
export function roundLength(pixelsPerUnit: number, mostPx: number): number {
  const most = mostPx / pixelsPerUnit;
  const decade = 10 ** Math.floor(Math.log10(most));
  const factor = [5, 2, 1].find((step) => step * decade <= most * (1 + 1e-9)) ?? 1;
  return factor * decade;
}
