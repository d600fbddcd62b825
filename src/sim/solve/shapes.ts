/** Outlines of the document's plane shapes, counter-clockwise, in the thing's own right/up metres. */
import type { ModifierShape, Opening, Point2, Surface, SurfaceShape } from '../../scene/schema';
import { cutPattern } from '../../scene/geometry/cutPattern';
import { areaMatchedCircle, counterClockwise } from '../geometry/convexPieces';

/** Corners that stand for a round flag, dot or scrim; its area is exact, its rim within 0.06 % of the radius. */
const ROUND_CORNERS = 48;

export interface PlaneShape {
  readonly outline: readonly Point2[];
  readonly holes: readonly (readonly Point2[])[];
}

const box = (left: number, bottom: number, width: number, height: number): Point2[] => [
  [left, bottom],
  [left + width, bottom],
  [left + width, bottom + height],
  [left, bottom + height],
];
export { box as rectangleOutline };

/** A surface's outline: a rectangle stands on its lower left corner. */
export function surfaceOutline(shape: SurfaceShape): PlaneShape {
  if (shape.kind === 'rectangle') return { outline: box(0, 0, shape.widthM, shape.heightM), holes: [] };
  return { outline: counterClockwise(shape.outlineM), holes: (shape.holesM ?? []).map(counterClockwise) };
}

/** An opening's outline in its wall's right/up metres. */
export function openingOutline(opening: Opening): readonly Point2[] {
  return surfaceOutline(opening.shape).outline.map(
    ([right, up]) => [right + opening.leftM, up + opening.sillM] as const,
  );
}

/** A modifier's outline: rectangles and discs are centred on its pose. */
export function modifierOutline(shape: ModifierShape): PlaneShape {
  switch (shape.kind) {
    case 'rectangle':
      return { outline: box(-shape.widthM / 2, -shape.heightM / 2, shape.widthM, shape.heightM), holes: [] };
    case 'pattern': {
      const { widthM, heightM, seed, holes } = shape;
      return {
        outline: box(-widthM / 2, -heightM / 2, widthM, heightM),
        holes: cutPattern(seed, holes, widthM, heightM),
      };
    }
    case 'disc':
      return { outline: areaMatchedCircle(shape.diameterM / 2, ROUND_CORNERS), holes: [] };
    case 'polygon':
      return { outline: counterClockwise(shape.outlineM), holes: (shape.holesM ?? []).map(counterClockwise) };
  }
}

/** Bars (and frame) of a window as rectangles that do not overlap, in the wall's right/up metres; and its clear panes. */
export function windowBars(opening: Opening): { bars: Point2[][]; panes: Point2[][] } {
  const outline = openingOutline(opening);
  const left = Math.min(...outline.map((p) => p[0]));
  const right = Math.max(...outline.map((p) => p[0]));
  const sill = Math.min(...outline.map((p) => p[1]));
  const head = Math.max(...outline.map((p) => p[1]));
  const { columns, rows, barWidthM, frameWidthM = 0 } = opening.window!;
  const bars: Point2[][] = [];
  const panes: Point2[][] = [];
  if (frameWidthM > 0) {
    bars.push(box(left, sill, frameWidthM, head - sill), box(right - frameWidthM, sill, frameWidthM, head - sill));
    const inner = right - left - 2 * frameWidthM;
    bars.push(box(left + frameWidthM, sill, inner, frameWidthM));
    bars.push(box(left + frameWidthM, head - frameWidthM, inner, frameWidthM));
  }
  const paneWidth = (right - left - 2 * frameWidthM - (columns - 1) * barWidthM) / columns;
  const paneHeight = (head - sill - 2 * frameWidthM - (rows - 1) * barWidthM) / rows;
  for (let column = 0; column < columns; column++) {
    const paneLeft = left + frameWidthM + column * (paneWidth + barWidthM);
    if (column > 0 && barWidthM > 0) {
      bars.push(box(paneLeft - barWidthM, sill + frameWidthM, barWidthM, head - sill - 2 * frameWidthM));
    }
    for (let row = 0; row < rows; row++) {
      const paneSill = sill + frameWidthM + row * (paneHeight + barWidthM);
      if (row > 0 && barWidthM > 0) bars.push(box(paneLeft, paneSill - barWidthM, paneWidth, barWidthM));
      panes.push(box(paneLeft, paneSill, paneWidth, paneHeight));
    }
  }
  return { bars, panes };
}

/** Depth of a window's bars behind the lit inner face, m. */
export const barDepthM = (surface: Surface, opening: Opening): number =>
  opening.window?.barDepthM ?? (surface.thicknessM ?? 0) / 2;
