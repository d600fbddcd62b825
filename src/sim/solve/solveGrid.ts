/** Illuminance on a grid of receivers over a surface. */
import type { Point2 } from '../../scene/schema';
import { SolveCancelled, type GridLayer, type GridRequest, type GridResult, type SolveControl } from '../results';
import type { CompiledScene, CompiledSource, CompiledSurface } from './compiled';
import { layerKey, type Keeping } from './keptLayers';
import { GRID_QUALITY, type Quality } from './quality';
import { layersInLight, ownLayersOf, planeOfSurface } from './receivers';
import { ReceiverTree } from './receiverTree';

/** Even-odd test: inside the outline. */
export function insideOutline(outline: readonly Point2[], [x, y]: Point2): boolean {
  let inside = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const a = outline[i]!;
    const b = outline[j]!;
    if (a[1] > y !== b[1] > y && x < a[0] + ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1])) inside = !inside;
  }
  return inside;
}

/** On the surface itself: inside its outline and in none of its openings. */
export const onSurface = (surface: CompiledSurface, point: Point2): boolean =>
  insideOutline(surface.outline, point) && !surface.openings.some((opening) => insideOutline(opening, point));

/** Local coordinates of cell centres along one axis of a grid, m. */
export const cellCentres = (start: number, size: number, count: number): Float64Array =>
  Float64Array.from({ length: count }, (_, i) => start + ((i + 0.5) * size) / count);

/** Turns over the cells of a row that lie left of each place where the outline crosses it: even-odd, as `insideOutline`. */
function toggleRow(outline: readonly Point2[], y: number, xs: Float64Array, turns: Uint8Array): void {
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const a = outline[i]!;
    const b = outline[j]!;
    if (a[1] > y === b[1] > y) continue;
    const crossing = a[0] + ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]);
    let left = 0;
    for (let step = xs.length; step > 0; step >>= 1) {
      while (left + step <= xs.length && xs[left + step - 1]! < crossing) left += step;
    }
    if (left > 0) turns[left - 1]! ^= 1;
  }
}

/** Marks a row's cells inside the outline that was toggled; an opening's unmarks them. */
function markRow(turns: Uint8Array, row: Uint8Array, isOutline: boolean): void {
  let inside = 0;
  for (let column = row.length - 1; column >= 0; column--) {
    inside ^= turns[column]!;
    if (isOutline) row[column] = inside;
    else if (inside === 1) row[column] = 0;
  }
}

/** Blanks the receivers that lie off the surface, if any do, and adds the rest to the sum. */
function addLayer(sum: Float32Array, layer: Float32Array, level: number, mask: Uint8Array | null): void {
  if (mask !== null) for (let cell = 0; cell < mask.length; cell++) if (mask[cell] === 0) layer[cell] = 0;
  // Four at a time: a loop's own steps cost as much as one.
  const fours = sum.length - (sum.length % 4);
  for (let cell = 0; cell < fours; cell += 4) {
    sum[cell]! += level * layer[cell]!;
    sum[cell + 1]! += level * layer[cell + 1]!;
    sum[cell + 2]! += level * layer[cell + 2]!;
    sum[cell + 3]! += level * layer[cell + 3]!;
  }
  for (let cell = fours; cell < sum.length; cell++) sum[cell]! += level * layer[cell]!;
}

/** True where every cell centre lies on the surface for sure: a convex quadrangle without openings that holds the corners. */
function holdsAll({ outline, openings }: CompiledSurface, xs: Float64Array, ys: Float64Array): boolean {
  if (outline.length !== 4 || openings.length > 0) return false;
  const turns = outline.map((b, i) => {
    const a = outline.at(i - 1)!;
    const c = outline[(i + 1) % 4]!;
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
  });
  const isConvex = turns.every((turn) => turn >= 0) || turns.every((turn) => turn <= 0);
  const corners = [xs[0]!, xs.at(-1)!].flatMap((x) => [ys[0]!, ys.at(-1)!].map((y): Point2 => [x, y]));
  return isConvex && corners.every((corner) => insideOutline(outline, corner));
}

/** 1 where a cell centre lies on the surface, row by row from the crossings of its outlines. */
function maskOf(surface: CompiledSurface, xs: Float64Array, ys: Float64Array): Uint8Array {
  const columns = xs.length;
  const mask = new Uint8Array(columns * ys.length);
  const turns = new Uint8Array(columns);
  ys.forEach((y, row) => {
    const start = row * columns;
    [surface.outline, ...surface.openings].forEach((outline, index) => {
      turns.fill(0);
      toggleRow(outline, y, xs, turns);
      markRow(turns, mask.subarray(start, start + columns), index === 0);
    });
  });
  return mask;
}

/**
 * Direct illuminance at the cell centres of a grid over a surface, one layer a source at level 1 and their sum at the
 * sources' levels; lux, row-major, row 0 lowest, column 0 left seen from the lit side.
 * @throws {RangeError} if the surface does not exist or the grid has no cells
 * @param before layers solved before, which are taken where they still hold; new ones are kept there
 * @throws {SolveCancelled} if `control.isCancelled` says so
 * @remarks Direct light through plane things only: no interreflection, no light sent on by diffusion, bounce or
 *   a second mirror.
 *   Within 1 % of the source's peak on the grid everywhere (tests/sim/gridAgainstMeters.test.ts, against the meters' rule;
 *   that rule is held to 0.3 % of brute force by tests/sim/kernelAgainstBrute.test.ts).
 */
export function solveGrid(
  scene: CompiledScene,
  request: GridRequest,
  control: SolveControl = {},
  quality: Quality = GRID_QUALITY,
  before: Keeping | null = null,
): GridResult {
  const surface = scene.surfaces.get(request.surfaceId);
  if (!surface) throw new RangeError(`no surface "${request.surfaceId}" in this scene`);
  const { columns, rows } = request;
  if (!(Number.isInteger(columns) && Number.isInteger(rows) && columns > 0 && rows > 0)) {
    throw new RangeError(`a grid of ${columns} x ${rows} cells`);
  }
  const region = request.region ?? surface.bounds;
  const xs = cellCentres(region.leftM, region.widthM, columns);
  const ys = cellCentres(region.bottomM, region.heightM, rows);
  const isWhole = holdsAll(surface, xs, ys);
  const mask = isWhole ? new Uint8Array(columns * rows).fill(1) : maskOf(surface, xs, ys);
  const plane = planeOfSurface(surface);
  const ignored = ownLayersOf(surface.id);
  const grid = {
    firstX: xs[0]!,
    firstY: ys[0]!,
    stepX: region.widthM / columns,
    stepY: region.heightM / rows,
    columns,
    rows,
  };
  const cells = columns * rows;
  const illuminanceLx = new Float32Array(cells);
  let solved = 0;
  const onCell = (more: number): void => {
    solved += more;
    if (control.isCancelled?.()) throw new SolveCancelled();
    control.onProgress?.(solved / (cells * scene.sources.length));
  };
  const layers: GridLayer[] = [];
  const solve = (source: CompiledSource): Float32Array<ArrayBuffer> => {
    const layer = new Float32Array(cells);
    const inWay = layersInLight(scene, source).filter((one) => !ignored(one));
    new ReceiverTree(source, inWay, plane, quality, grid, layer, onCell).fill();
    return layer;
  };
  for (const [index, source] of scene.sources.entries()) {
    const key = before && layerKey(before.sourceKeys[index]!, surface.id, plane, grid, quality);
    const known = key === null ? null : before!.kept.take(key);
    const unitIlluminanceLx = known ?? solve(source);
    if (known) onCell(cells);
    else if (key !== null) before!.kept.keep(key, unitIlluminanceLx);
    addLayer(illuminanceLx, unitIlluminanceLx, source.level, isWhole ? null : mask);
    const own = layers.find(({ sourceId }) => sourceId === source.id);
    if (own) unitIlluminanceLx.forEach((lux, cell) => (own.unitIlluminanceLx[cell]! += lux));
    else layers.push({ sourceId: source.id, unitIlluminanceLx });
  }
  const { leftM, bottomM, widthM, heightM } = region;
  const place = { surfaceId: surface.id, columns, rows, leftM, bottomM, widthM, heightM };
  return { ...place, mask, layers, illuminanceLx };
}
