/** The judgement's sums of light on a grid over a surface, for one lamp at level 1. */
import type { Role } from '../../scene/schema';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import type { Quality } from '../solve/quality';
import { GRID_QUALITY } from '../solve/quality';
import { ROLE_BITS } from '../solve/edgeTable';
import { ReceiverTree } from '../solve/receiverTree';
import { layersInLight, ownLayersOf, planeOfSurface } from '../solve/receivers';
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
  readonly bareLx: Float32Array;
  readonly hardLx: Float32Array;
  readonly hardNoGateLx: Float32Array;
  readonly allLx: Float32Array;
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
  const integrator = new SourceIntegrator(source, layersInLight(scene, source), quality);
  integrator.usePlane(planeOfSurface(surface), ownLayersOf(surface.id));
  return integrator;
}

/** Ratios of these sums are figures, so they are interpolated ten times as closely as a map. */
const SUMS_QUALITY: Quality = { ...GRID_QUALITY, interpolation: 0.0002 };

/**
 * Sums the light of `source` on a grid over part of `surface`.
 * @returns lux at level 1 at the cell centres; 0 off the surface
 */
export function sumLight(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  region: Region,
  columns: number,
  rows: number,
): LightSums {
  const xs = cellCentres(region.leftM, region.widthM, columns);
  const ys = cellCentres(region.bottomM, region.heightM, rows);
  const [cellWidthM, cellHeightM] = [region.widthM / columns, region.heightM / rows];
  const areaM2 = Float64Array.from({ length: columns * rows }, (_, cell) =>
    cellArea(surface, xs[cell % columns]!, ys[Math.floor(cell / columns)]!, cellWidthM, cellHeightM),
  );
  const own = ownLayersOf(surface.id);
  const layers = layersInLight(scene, source).filter((layer) => !own(layer));
  const grid = { firstX: xs[0]!, firstY: ys[0]!, stepX: cellWidthM, stepY: cellHeightM, columns, rows };
  const front = layers.filter((layer) => layer.onlySourceId !== null && layer.role === 'cut');
  const sum = (roles: readonly Role[], mode: 'full' | 'bare'): Float32Array => {
    // A lamp's own lens, doors and snoot shape its beam, as a gate does.
    const inWay = mode === 'full' ? layers : layers.filter((layer) => !front.includes(layer));
    const out = new Float32Array(columns * rows);
    const things = roles.reduce((bits, role) => bits | ROLE_BITS[role], 0);
    new ReceiverTree(source, inWay, planeOfSurface(surface), SUMS_QUALITY, grid, out, () => {}, {
      things,
      mode,
    }).fill();
    areaM2.forEach((area, cell) => {
      if (area === 0) out[cell] = 0;
    });
    return out;
  };
  const hardNoGateLx = sum(HARD, 'bare');
  const hasGate = source.profile.kind === 'projection' || front.length > 0;
  const hardLx = hasGate ? sum(HARD, 'full') : hardNoGateLx;
  const softens = layers.some((layer) => !HARD.includes(layer.role));
  const allLx = softens ? sum(ALL_ROLES, 'full') : hardLx;
  const place = { region, columns, rows, cellWidthM, cellHeightM, xs, ys };
  return { ...place, areaM2, bareLx: sum([], 'bare'), hardLx, hardNoGateLx, allLx };
}
