/** The heat map of a surface on the sheet: its raster, and marks where it is out of range or out of date. */
import type { SheetContext, Layer } from './picture';
import { toScreen } from './picture';
import type { SurfaceThing } from './sceneThings';
import { worldFromLocal } from '../scene/geometry/frames';
import type { GridResult } from '../sim/results';
import { hatchRings, insideRings, type Path } from './geometry2d';
import { heatBytes, heatScale, heatValues, sideOfScale, type HeatScale, type HeatValues } from './heatMap';
import { Sketch, type RasterOp } from './sketch';
import { MAP_BRIGHTNESS } from './tokens';

export interface MapPicture {
  readonly thing: SurfaceThing;
  readonly result: GridResult;
  readonly heat: HeatValues;
  readonly scale: HeatScale;
  readonly bytes: Uint8Array;
  /** Outline and holes on the screen. */
  readonly rings: readonly Path[];
}

/** The map of the given surface, or null when the field is another surface's or its grid is empty. */
export function mapPicture(context: SheetContext, thing: SurfaceThing | undefined): MapPicture | null {
  const { state, memo, camera } = context;
  const { field, quantity, referenceLx, units, theme } = state;
  if (!thing || !field || field.result.surfaceId !== thing.id || field.result.columns * field.result.rows === 0)
    return null;
  if (quantity === 'lampOverSun' && !field.sunIlluminanceLx) return null;
  const { result } = field;
  const sources = [
    result,
    quantity === 'lampOverSun' ? field.sunIlluminanceLx : null,
    quantity,
    referenceLx,
    units.illuminance,
  ];
  const heat = memo.get('heatValues', sources, () => heatValues(field, quantity, referenceLx, units));
  const scale = memo.get('heatScale', [heat], () => heatScale(heat));
  const bytes = memo.get('heatBytes', [heat, scale, theme], () =>
    heatBytes(heat.values, scale, result.mask, MAP_BRIGHTNESS[theme]),
  );
  const rings = memo.get('mapRings', [camera, thing, context.projection], () => surfaceRings(context, thing));
  return memo.get('mapPicture', [thing, result, heat, scale, bytes, rings], () => ({
    thing,
    result,
    heat,
    scale,
    bytes,
    rings,
  }));
}

/** Outline and holes of a surface on the screen. */
export function surfaceRings(context: SheetContext, thing: SurfaceThing): Path[] {
  return thing.rings.map((ring) => localToScreen(context, thing, ring));
}

/** A path of a surface's right/up metres on the screen. */
export function localToScreen(context: SheetContext, thing: SurfaceThing, path: Path): number[] {
  const placed: number[] = [];
  for (let i = 0; i < path.length; i += 2) {
    placed.push(...toScreen(context, worldFromLocal(thing.frame, [path[i]!, path[i + 1]!])));
  }
  return placed;
}

const OUT_OF_DATE_ALPHA = 0.55;
const HATCH_PITCH_PX = 10;

/** Raster of the map with its hatch when it is older than the scene, and dots where it is out of range. */
export function mapLayer(context: SheetContext, map: MapPicture): Layer {
  const outOfDate = context.state.field?.outOfDate === true;
  return context.memo.get('mapLayer', [context.camera, context.projection, context.inks, map, outOfDate], () => {
    const sketch = new Sketch(context.inks, null);
    const dots = outOfRangeDots(context, map);
    if (dots.over.length > 0) pushDots(sketch, dots.over, 0x0a0b0d, 0.55);
    if (dots.under.length > 0) pushDots(sketch, dots.under, 0xf6f6f2, 0.3);
    if (outOfDate) {
      const lines = hatchRings(map.rings, HATCH_PITCH_PX);
      sketch.line(lines, { role: 'ink1', widthPx: 1, alpha: 0.5 });
    }
    return { name: 'map', rasters: [rasterOf(context, map, outOfDate)], shapes: sketch.shapes, texts: [] };
  });
}

function rasterOf(context: SheetContext, map: MapPicture, outOfDate: boolean): RasterOp {
  const { result, thing } = map;
  const at = (right: number, up: number): readonly [number, number] =>
    toScreen(context, worldFromLocal(thing.frame, [right, up]));
  const [x, y] = at(result.leftM, result.bottomM);
  const [xRight, yRight] = at(result.leftM + result.widthM, result.bottomM);
  const [xUp, yUp] = at(result.leftM, result.bottomM + result.heightM);
  const { columns, rows } = result;
  return {
    kind: 'raster',
    bytes: map.bytes,
    columns,
    rows,
    matrix: [(xRight - x) / columns, (yRight - y) / columns, (xUp - x) / rows, (yUp - y) / rows, x, y],
    alpha: outOfDate ? OUT_OF_DATE_ALPHA : 1,
    smooth: true,
  };
}

const DOT_PITCH_PX = 7;
const MOST_DOTS = 20_000;

function outOfRangeDots(context: SheetContext, map: MapPicture): { over: number[][]; under: number[][] } {
  const dots = { over: [] as number[][], under: [] as number[][] };
  if (map.scale.map !== 'balance') return dots;
  const { matrix, columns, rows } = rasterOf(context, map, false);
  const [a, b, c, d, x0, y0] = matrix;
  const determinant = a * d - b * c;
  const { widthPx, heightPx } = context.camera;
  if (determinant === 0 || (widthPx * heightPx) / DOT_PITCH_PX ** 2 > MOST_DOTS) return dots;
  for (let row = 0; row * DOT_PITCH_PX < heightPx; row++) {
    for (let x = row % 2 === 0 ? 0 : DOT_PITCH_PX / 2; x < widthPx; x += DOT_PITCH_PX) {
      const y = row * DOT_PITCH_PX;
      const column = Math.floor((d * (x - x0) - c * (y - y0)) / determinant);
      const line = Math.floor((a * (y - y0) - b * (x - x0)) / determinant);
      if (column < 0 || line < 0 || column >= columns || line >= rows || !insideRings(map.rings, x, y)) continue;
      const value = map.heat.values[line * columns + column]!;
      if (Number.isNaN(value)) continue;
      const side = sideOfScale(map.scale, value);
      if (side !== 0) (side > 0 ? dots.over : dots.under).push([x - 0.75, y, x + 0.75, y]);
    }
  }
  return dots;
}

function pushDots(sketch: Sketch, paths: Path[], colour: number, alpha: number): void {
  sketch.shapes.push({ kind: 'line', paths, closed: false, widthPx: 1.5, colour, alpha, round: false });
}
