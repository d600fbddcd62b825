/** Contours on a sheet: traced once per field, placed on the screen, broken where their labels stand. */
import {
  contourLines,
  gentleCells,
  levelContours,
  stopContours,
  type ContourLevel,
  type ContourLine,
  type GridPlace,
} from './contours';
import { localToScreen, type MapPicture } from './drawMap';
import type { Path } from './geometry2d';
import type { Box } from './labelGrid';
import type { LabelPlace, LabelPlacer } from './labels';
import { shapesLayer, type Layer, type SheetContext } from './picture';
import type { SurfaceThing } from './sceneThings';
import { Sketch } from './sketch';

export interface ContourSource {
  readonly values: Float32Array;
  readonly place: GridPlace;
  readonly levels: readonly ContourLevel[];
  readonly keep: Uint8Array;
  readonly scale: 'log' | 'linear';
  /** Where the map lies on the screen, null when lines are drawn on the bare sheet. */
  readonly rings: readonly Path[] | null;
}

/** Traces and draws contours; `lines` (surface metres) go on to the labels. */
export function contourLayer(
  context: SheetContext,
  thing: SurfaceThing,
  source: ContourSource,
): { layer: Layer; lines: readonly ContourLine[] } {
  const { memo, camera, inks, projection } = context;
  const { values, place, keep, scale } = source;
  const levels = context.isSmall ? source.levels.filter((level) => level.heavy) : source.levels;
  const key = levels.map((level) => level.value).join(' ');
  const lines = memo.get('contourLines', [values, keep, key], () => contourLines(values, place, levels, keep, scale));
  const layer = memo.get('contourLayer', [lines, camera, projection, thing, inks, source.rings], () => {
    const sketch = new Sketch(inks, source.rings ? 'everywhere' : null);
    for (const line of lines) {
      const paths = line.paths.map((path) => localToScreen(context, thing, path));
      sketch.line(paths, { role: 'ink1', widthPx: line.heavy ? 1.75 : 1, round: true });
    }
    return shapesLayer('contours', sketch.shapes);
  });
  return { layer, lines };
}

/** Third-of-a-stop lines nearer than this cannot be told apart. */
const CLOSEST_LINES_PX = 7;

/** Contours of a map over its whole surface, left out where they would bunch. */
export function mapContours(context: SheetContext, map: MapPicture): { layer: Layer; lines: readonly ContourLine[] } {
  const { memo, camera } = context;
  const { scale, heat, result, rings } = map;
  const tide = scale.map === 'tide';
  // Scale in steps of two, so that a zoom does not trace anew at every notch.
  const pixelsPerM = 2 ** Math.round(Math.log2(camera.pixelsPerMetre));
  const levels = memo.get('mapLevels', [scale], () =>
    tide ? levelContours(scale.minimum, scale.maximum) : stopContours(scale.minimum, scale.maximum),
  );
  const keep = memo.get('gentleCells', [heat, pixelsPerM], () => {
    const stops = tide ? heat.values.map((value) => (value > 0 ? Math.log2(value) : NaN)) : heat.values;
    const finite = Uint8Array.from(stops, (value) => (Number.isFinite(value) ? 1 : 0));
    return gentleCells(stops, result, finite, pixelsPerM / 3 / CLOSEST_LINES_PX);
  });
  return contourLayer(context, map.thing, {
    values: heat.values,
    place: result,
    levels,
    keep,
    scale: tide ? 'log' : 'linear',
    rings,
  });
}

const LABEL_CLEAR_PX = 26;
const SHORTEST_LABELLED_PX = 30;
/** Pieces of one line that its label is tried on, the longest first. */
const MOST_PIECES = 4;
/** Where along a line its label is tried, the middle first. */
const SHARES = [0.5, 0.38, 0.62, 0.26, 0.74, 0.15, 0.85];

/** One label a line, on the line and upright, 26 px clear of every other; lines without room go unlabelled. */
export function drawContourLabels(
  context: SheetContext,
  thing: SurfaceThing,
  lines: readonly ContourLine[],
  placer: LabelPlacer,
): void {
  const order = [...lines].sort((a, b) => Number(b.heavy) - Number(a.heavy));
  const boxes: Box[] = [];
  for (const line of order) {
    const pieces = line.paths
      .map((path) => localToScreen(context, thing, path))
      .map((path) => ({ path, lengthPx: pathLength(path) }))
      .filter(({ lengthPx }) => lengthPx >= SHORTEST_LABELLED_PX)
      .sort((a, b) => b.lengthPx - a.lengthPx)
      .slice(0, MOST_PIECES);
    const places = pieces.flatMap(({ path, lengthPx }) =>
      SHARES.map((share): LabelPlace => ({ ...pointAlong(path, share * lengthPx), anchor: 'centre' })),
    );
    const apart = places.filter(({ x, y }) => boxes.every((box) => distanceToBox(x, y, box) > LABEL_CLEAR_PX + 8));
    const box = placer.place({ lines: [[{ text: line.label, bold: line.heavy }]], places: apart });
    if (box) boxes.push(box);
  }
}

const distanceToBox = (x: number, y: number, box: Box): number =>
  Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.bottom));

function pathLength(path: Path): number {
  let total = 0;
  for (let i = 0; i + 3 < path.length; i += 2)
    total += Math.hypot(path[i + 2]! - path[i]!, path[i + 3]! - path[i + 1]!);
  return total;
}

function pointAlong(path: Path, distance: number): { x: number; y: number } {
  let rest = distance;
  for (let i = 0; i + 3 < path.length; i += 2) {
    const span = Math.hypot(path[i + 2]! - path[i]!, path[i + 3]! - path[i + 1]!);
    if (span >= rest && span > 0) {
      const share = rest / span;
      return {
        x: path[i]! + share * (path[i + 2]! - path[i]!),
        y: path[i + 1]! + share * (path[i + 3]! - path[i + 1]!),
      };
    }
    rest -= span;
  }
  return { x: path[path.length - 2] ?? 0, y: path[path.length - 1] ?? 0 };
}
