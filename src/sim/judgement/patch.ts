/** The lit patch of one lamp on one surface: where hard things leave it nearly whole. */
import { worldFromLocal } from '../../scene/geometry/frames';
import { add, addScaled, dot, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledOpening, CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { layersInLight } from '../solve/receivers';
import { sumLight, type LightSums, type Region } from './lightSums';
import { weightedQuantiles } from './statistics';

/** Share of the lamp's light that hard things must leave, and the least open light, 6 stops under the peak. */
export const VISIBLE = 0.9;
const FAINTEST = 1 / 64;
/** Openings whose best cell sees less of the lamp than this have no patch. */
const HIDDEN = 0.1;
const LEAST_MODIFIER_FACTOR = 1 / 64;
/** Less of the lamp's light than this is none: the last of a penumbra hangs on the last digit of a sine. */
const LEAST_SEEN = 1e-6;

export interface Patch {
  readonly sums: LightSums;
  /** Index of the lit cells in the grid, with their area, place, open light G, visibility v, modifier factor m, window. */
  readonly cells: Int32Array;
  readonly areaM2: Float64Array;
  readonly points: readonly Vec3[];
  readonly openLx: Float64Array;
  readonly factor: Float64Array;
  /** Index into scene.openings, or -1 for light through none. */
  readonly window: Int16Array;
  readonly lit: Uint8Array;
  readonly visibility: Float32Array;
  readonly openOfAllLx: Float32Array;
  readonly totalAreaM2: number;
  readonly centroid: Vec3;
  readonly barsMelt: boolean;
  readonly effort: Effort;
}
export type NoPatch = 'behind' | 'hidden' | 'diffused';

/** quick: coarse cells for a verdict while the hand moves; full: as the judgement defines its grid. */
export type Effort = 'quick' | 'full';

const SEARCH_COLUMNS = [64, 192];
const SEARCH_MOST_CELLS = 30_000;
const LEAST_LIT_CELLS = { quick: 300, full: 1000 };
const CELLS_ACROSS_PANE = { quick: 4, full: 8 };
const LEAST_CELL_M = 0.002;
/** A step is looked for over 10 cm: cells must not be larger than half of it, and finer where something shades. */
const LARGEST_CELL_M = { quick: 0.1, full: 0.05 };
const LARGEST_SHADED_CELL_M = { quick: 0.07, full: 0.025 };
const MOST_CELLS = { quick: 12_000, full: 60_000 };

/** Middle of the light of a source as a receiver at `point` sees it: unit direction, and distance (infinite for the sun). */
export function towardsSource(source: CompiledSource, point: Vec3): { direction: Vec3; distanceM: number } {
  if (source.shape.kind === 'sun') return { direction: source.frame.origin, distanceM: Infinity };
  const offset = subtract(source.frame.origin, point);
  const distanceM = Math.hypot(...offset);
  return { direction: scale(offset, 1 / distanceM), distanceM };
}

/** True where the ray from `point` along `direction` passes inside the opening's outline. */
export function passesOpening(opening: CompiledOpening, point: Vec3, direction: Vec3): boolean {
  const { corners, frame } = opening;
  const rate = dot(frame.forward, direction);
  if (Math.abs(rate) < 1e-12) return false;
  const t = dot(frame.forward, subtract(corners[0]!, point)) / rate;
  if (t <= 0) return false;
  const at = addScaled(point, direction, t);
  let inside = false;
  for (let i = 0, j = corners.length - 1; i < corners.length; j = i++) {
    const a = subtract(corners[i]!, at);
    const b = subtract(corners[j]!, at);
    const [ax, ay] = [dot(a, frame.right), dot(a, frame.up)];
    const [bx, by] = [dot(b, frame.right), dot(b, frame.up)];
    if (ay > 0 !== by > 0 && 0 < ax + ((bx - ax) * -ay) / (by - ay)) inside = !inside;
  }
  return inside;
}

/** Bounding box of the cells that hard things leave any light in, one cell wider each way; null where there are none. */
function litRegion(sums: LightSums, surface: CompiledSurface): { region: Region; areaM2: number } | null {
  let [left, right, bottom, top] = [Infinity, -Infinity, Infinity, -Infinity];
  let areaM2 = 0;
  for (let row = 0; row < sums.rows; row++) {
    for (let column = 0; column < sums.columns; column++) {
      const cell = row * sums.columns + column;
      if (sums.hardNoGateLx[cell]! <= LEAST_SEEN * sums.bareLx[cell]!) continue;
      left = Math.min(left, column);
      right = Math.max(right, column);
      bottom = Math.min(bottom, row);
      top = Math.max(top, row);
      if (sums.hardLx[cell]! > 0.5 * sums.bareLx[cell]!) areaM2 += sums.areaM2[cell]!;
    }
  }
  if (left > right) return null;
  const { bounds } = surface;
  const clampX = (column: number) => Math.max(0, Math.min(sums.columns, column)) * sums.cellWidthM;
  const clampY = (row: number) => Math.max(0, Math.min(sums.rows, row)) * sums.cellHeightM;
  const [x0, x1, y0, y1] = [clampX(left - 1), clampX(right + 2), clampY(bottom - 1), clampY(top + 2)];
  const region = { leftM: bounds.leftM + x0, bottomM: bounds.bottomM + y0, widthM: x1 - x0, heightM: y1 - y0 };
  return { region, areaM2 };
}

function searchGrid(surface: CompiledSurface, across: number): [columns: number, rows: number] {
  const { widthM, heightM } = surface.bounds;
  const cell = Math.max(Math.max(widthM, heightM) / across, Math.sqrt((widthM * heightM) / SEARCH_MOST_CELLS));
  return [Math.max(1, Math.round(widthM / cell)), Math.max(1, Math.round(heightM / cell))];
}

/** Cell size of the patch grid, m. */
function cellSize(scene: CompiledScene, source: CompiledSource, region: Region, litM2: number, effort: Effort): number {
  const shaded = layersInLight(scene, source).some((layer) => layer.role === 'shade');
  const pane = Math.min(...scene.openings.map((opening) => opening.narrowestPaneM), Infinity);
  const wanted = Math.min(
    shaded ? LARGEST_SHADED_CELL_M[effort] : LARGEST_CELL_M[effort],
    Math.sqrt(litM2 / LEAST_LIT_CELLS[effort]),
    pane / CELLS_ACROSS_PANE[effort],
  );
  const affordable = Math.sqrt((region.widthM * region.heightM) / MOST_CELLS[effort]);
  return Math.max(LEAST_CELL_M, affordable, wanted);
}

/**
 * Finds the lit patch of `source` on `surface`: a search grid first, then a finer grid over what it found.
 * @returns the patch, or why there is none
 */
export function findPatch(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  effort: Effort,
): Patch | NoPatch {
  let found: ReturnType<typeof litRegion> = null;
  let anyBare = false;
  for (const across of SEARCH_COLUMNS) {
    const [columns, rows] = searchGrid(surface, across);
    const sums = sumLight(scene, source, surface, surface.bounds, columns, rows);
    anyBare ||= sums.bareLx.some((value) => value > 0);
    if (!anyBare) return 'behind';
    found = litRegion(sums, surface);
    if (found) break;
  }
  if (found === null) return 'hidden';
  let cell = cellSize(scene, source, found.region, found.areaM2, effort);
  for (let attempt = 0; ; attempt++) {
    const { region } = found;
    const columns = Math.max(1, Math.round(region.widthM / cell));
    const rows = Math.max(1, Math.round(region.heightM / cell));
    const sums = sumLight(scene, source, surface, region, columns, rows);
    const patch = patchOf(scene, source, surface, sums, effort);
    if (typeof patch === 'string') return patch;
    const short = LEAST_LIT_CELLS[effort] / Math.max(1, patch.cells.length);
    const affordable = columns * rows * short <= MOST_CELLS[effort];
    if (short < 1.1 || attempt === 1 || !affordable || cell <= LEAST_CELL_M) return patch;
    cell = Math.max(LEAST_CELL_M, cell / Math.sqrt(short));
  }
}

/** Reference visibility of each window: its best cell, taken as whole from 0.9 on. */
function referenceVisibility(visibility: Float32Array, window: Int16Array, windows: number): Float64Array {
  const best = new Float64Array(windows + 1);
  visibility.forEach((v, cell) => {
    const of = window[cell]! + 1;
    if (v > best[of]!) best[of] = v;
  });
  const shaft = best.subarray(1).some((v) => v >= HIDDEN);
  // Beside a shaft, what leaks round the windows' edges is their penumbra, no patch of its own.
  if (shaft && best[0]! < VISIBLE) best[0] = 0;
  return best;
}

function patchOf(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  sums: LightSums,
  effort: Effort,
): Patch | NoPatch {
  const total = sums.columns * sums.rows;
  const visibility = new Float32Array(total);
  const openOfAllLx = new Float32Array(total).fill(NaN);
  const factors = new Float64Array(total);
  const windowOf = new Int16Array(total).fill(-1);
  const at = (cell: number): Vec3 =>
    worldFromLocal(surface.frame, [sums.xs[cell % sums.columns]!, sums.ys[Math.floor(cell / sums.columns)]!]);
  let arrives = false;
  for (let cell = 0; cell < total; cell++) {
    if (sums.bareLx[cell] === 0) continue;
    visibility[cell] = Math.min(1, sums.hardLx[cell]! / sums.bareLx[cell]!);
    if (visibility[cell] === 0) continue;
    if (sums.allLx[cell]! > 0) arrives = true;
    factors[cell] = Math.max(LEAST_MODIFIER_FACTOR, sums.allLx[cell]! / sums.hardLx[cell]!);
    openOfAllLx[cell] = sums.bareLx[cell]! * factors[cell]!;
    const point = at(cell);
    const { direction } = towardsSource(source, point);
    windowOf[cell] = scene.openings.findIndex((opening) => passesOpening(opening, point, direction));
  }
  const reference = referenceVisibility(visibility, windowOf, scene.openings.length);
  const barsMelt = reference.some((v) => v >= HIDDEN && v < VISIBLE);
  const threshold = (cell: number) => {
    const best = reference[windowOf[cell]! + 1]!;
    return best < HIDDEN ? Infinity : VISIBLE * (best >= VISIBLE ? 1 : best);
  };
  const seen: number[] = [];
  for (let cell = 0; cell < total; cell++) if (visibility[cell]! >= threshold(cell)) seen.push(cell);
  if (seen.length === 0) return 'hidden';
  if (!arrives) return layersInLight(scene, source).some((layer) => layer.role === 'spread') ? 'diffused' : 'hidden';
  const [peak] = weightedQuantiles(
    seen.map((cell) => openOfAllLx[cell]!),
    seen.map((cell) => sums.areaM2[cell]!),
    [0.99],
  );
  const cells = Int32Array.from(seen.filter((cell) => openOfAllLx[cell]! >= peak! * FAINTEST));
  const areaM2 = Float64Array.from(cells, (cell) => sums.areaM2[cell]!);
  const points = Array.from(cells, at);
  const totalAreaM2 = areaM2.reduce((sum, area) => sum + area, 0);
  const lit = new Uint8Array(total);
  cells.forEach((cell) => (lit[cell] = 1));
  const weighted = points.reduce((sum, point, i) => add(sum, scale(point, areaM2[i]!)), [0, 0, 0] as Vec3);
  return {
    sums,
    cells,
    areaM2,
    points,
    openLx: Float64Array.from(cells, (cell) => sums.bareLx[cell]! * factors[cell]!),
    factor: Float64Array.from(cells, (cell) => factors[cell]!),
    window: Int16Array.from(cells, (cell) => windowOf[cell]!),
    lit,
    visibility,
    openOfAllLx,
    totalAreaM2,
    centroid: scale(weighted, 1 / totalAreaM2),
    barsMelt,
    effort,
  };
}
