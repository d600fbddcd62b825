/** The judgement's sums of light on a grid over a surface, for one lamp at level 1. */
import type { Role } from '../../scene/schema';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import type { Quality } from '../solve/quality';
import { GRID_QUALITY } from '../solve/quality';
import { ownLayersOf, planeOfSurface } from '../solve/receivers';
import { cellCentres, onSurface } from '../solve/solveGrid';
import { ALL_ROLES, SourceIntegrator } from '../solve/sourceIntegrator';

export const HARD: readonly Role[] = ['set', 'cut'];
export const SHADE: readonly Role[] = ['shade'];

export interface Region {
  readonly leftM: number;
  readonly bottomM: number;
  readonly widthM: number;
  readonly heightM: number;
}

export interface LightSums {
  readonly region: Region;
  readonly columns: number;
  readonly rows: number;
  readonly cellWidthM: number;
  readonly cellHeightM: number;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  /** Area of each cell inside the surface's outline and outside its openings, m². */
  readonly areaM2: Float64Array;
  /** Bare lamp; behind hard things; behind hard things without the gate's edges; behind everything. Lux at level 1. */
  readonly bareLx: Float64Array;
  readonly hardLx: Float64Array;
  readonly hardNoGateLx: Float64Array;
  readonly allLx: Float64Array;
}

const SUBSAMPLES = 4;

/** Area of a cell that lies on the surface; cells that its outline crosses are sampled 4 x 4. */
function cellArea(surface: CompiledSurface, x: number, y: number, width: number, height: number): number {
  let inside = 0;
  for (const [a, b] of [
    [-0.5, -0.5],
    [0.5, -0.5],
    [-0.5, 0.5],
    [0.5, 0.5],
  ] as const) {
    // Just inside the cell, so that cells which only touch the outline count as whole.
    if (onSurface(surface, [x + a * width * 0.999, y + b * height * 0.999])) inside++;
  }
  if (inside === 4) return width * height;
  let share = 0;
  for (let i = 0; i < SUBSAMPLES; i++) {
    for (let j = 0; j < SUBSAMPLES; j++) {
      const px = x + ((i + 0.5) / SUBSAMPLES - 0.5) * width;
      const py = y + ((j + 0.5) / SUBSAMPLES - 0.5) * height;
      if (onSurface(surface, [px, py])) share++;
    }
  }
  return (share / SUBSAMPLES ** 2) * width * height;
}

/** An integrator for one source and the receivers of one surface. */
export function integratorOn(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  quality: Quality = GRID_QUALITY,
): SourceIntegrator {
  const integrator = new SourceIntegrator(source, scene.layers, quality);
  integrator.usePlane(planeOfSurface(surface), ownLayersOf(surface.id));
  return integrator;
}

/** Sums the light of `source` on a grid over part of `surface`. */
export function sumLight(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  region: Region,
  columns: number,
  rows: number,
): LightSums {
  const integrator = integratorOn(scene, source, surface);
  const xs = cellCentres(region.leftM, region.widthM, columns);
  const ys = cellCentres(region.bottomM, region.heightM, rows);
  const [cellWidthM, cellHeightM] = [region.widthM / columns, region.heightM / rows];
  const cells = columns * rows;
  const make = () => new Float64Array(cells);
  const [areaM2, bareLx, hardLx, hardNoGateLx, allLx] = [make(), make(), make(), make(), make()];
  const gated = source.profile.kind === 'projection';
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const cell = row * columns + column;
      const [x, y] = [xs[column]!, ys[row]!];
      areaM2[cell] = cellArea(surface, x, y, cellWidthM, cellHeightM);
      if (areaM2[cell] === 0 || !integrator.moveTo(x, y)) continue;
      bareLx[cell] = integrator.illuminanceLx([], 'bare');
      hardNoGateLx[cell] = integrator.illuminanceLx(HARD, 'bare');
      if (hardNoGateLx[cell] === 0) continue;
      hardLx[cell] = gated ? integrator.illuminanceLx(HARD) : hardNoGateLx[cell]!;
      if (hardLx[cell] > 0) allLx[cell] = integrator.illuminanceLx(ALL_ROLES);
    }
  }
  return { region, columns, rows, cellWidthM, cellHeightM, xs, ys, areaM2, bareLx, hardLx, hardNoGateLx, allLx };
}
