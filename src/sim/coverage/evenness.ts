/** How even the light is over an area: the figures, on a named grid of cell centres. */
import type { SceneDocument } from '../../scene/schema';
import { judgedLevels, reportGrid } from '../report';
import type { GridRequest, GridResult, SolveControl } from '../results';
import type { CompiledScene } from '../solve/compiled';
import { METER_QUALITY } from '../solve/quality';
import { solveGrid } from '../solve/solveGrid';

export interface Evenness {
  /** Cells that were read; a finer grid finds a brighter brightest and a darker darkest. */
  readonly cells: number;
  readonly minLx: number;
  readonly maxLx: number;
  readonly meanLx: number;
  readonly minOverMean: number | null;
  readonly minOverMax: number | null;
  readonly rangeStops: number | null;
  /** Why a figure is null. */
  readonly reason: string | null;
  /** Share of the area that gets no light, 0..1. */
  readonly unlitShare: number;
}

/**
 * Evenness of levels at cell centres: least and greatest over all cells, mean weighted by area.
 * @param levelsLx lux, one a cell
 * @param areasM2  area of each cell; equal if absent
 * @returns a dark cell makes both ratios 0 and the range null; fewer than two cells leave all three null
 * @source judgement definition 3, uniformity
 */
export function evennessOf(levelsLx: readonly number[], areasM2?: readonly number[]): Evenness {
  let [minLx, maxLx, sum, area, unlit] = [Infinity, 0, 0, 0, 0];
  levelsLx.forEach((level, i) => {
    const weight = areasM2?.[i] ?? 1;
    minLx = Math.min(minLx, level);
    maxLx = Math.max(maxLx, level);
    sum += weight * level;
    area += weight;
    if (level <= 0) unlit += weight;
  });
  const cells = levelsLx.length;
  const meanLx = area > 0 ? sum / area : 0;
  const unlitShare = area > 0 ? unlit / area : 0;
  const known = { cells, minLx: cells > 0 ? minLx : 0, maxLx, meanLx, unlitShare };
  const none = { minOverMean: null, minOverMax: null, rangeStops: null } as const;
  if (cells < 2) return { ...known, ...none, reason: 'fewer than two cells of the grid lie on the area' };
  if (maxLx <= 0) return { ...known, ...none, reason: 'no light reaches the area' };
  const ratios = { minOverMean: minLx / meanLx, minOverMax: minLx / maxLx };
  if (minLx <= 0) return { ...known, ...ratios, rangeStops: null, reason: 'part of the area gets no light' };
  return { ...known, ...ratios, rangeStops: Math.log2(maxLx / minLx), reason: null };
}

/** The chosen area of a surface: its judged area if it has one, else the whole of it; read on the report's grid. */
export interface CoverageArea {
  readonly surfaceId: string;
  readonly request: GridRequest;
}
/** @throws {RangeError} if the surface does not exist */
export function coverageArea(document: SceneDocument, surfaceId: string): CoverageArea {
  const surface = document.surfaces[surfaceId];
  if (!surface) throw new RangeError(`no surface "${surfaceId}" in this scene`);
  return { surfaceId, request: reportGrid(surfaceId, surface) };
}

export interface SolvedArea {
  readonly grid: GridResult;
  readonly evenness: Evenness;
}
/**
 * Solves the area in a compiled scene; direct light, as `solveGrid`, but by the rule of meters: the darkest cell decides
 * the range, and the grid's rule is only good to a share of the brightest.
 */
export function solveArea(scene: CompiledScene, area: CoverageArea, control: SolveControl = {}): SolvedArea {
  const grid = solveGrid(scene, area.request, control, METER_QUALITY);
  const surface = scene.document.surfaces[area.surfaceId]!;
  return { grid, evenness: evennessOf(judgedLevels(grid, surface)) };
}
