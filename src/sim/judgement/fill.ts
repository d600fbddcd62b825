/** Whether the beam overfills the opening, or its own round edge is on the wall. */
import { dot, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import { worldFromLocal } from '../../scene/geometry/frames';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { profileShare } from '../solve/profile';
import { layersInLight } from '../solve/receivers';
import { sumLight, type LightSums } from './lightSums';
import { isBlocked } from './rays';
import { passesOpening, towardsSource, type Effort } from './patch';

const VISIBLE = 0.9;
/** The field edge: a tenth of the largest intensity towards the opening. */
const FIELD = 0.1;

/** Relative intensity of the lamp towards a point, from the middle of its face; the sun shines alike everywhere. */
export function intensityShare(source: CompiledSource, point: Vec3): number {
  const { shape, profile, frame } = source;
  if (shape.kind === 'sun' || shape.kind === 'sphere') return 1;
  const out = subtract(point, frame.origin);
  const away = Math.hypot(...out);
  if (shape.kind === 'tube') {
    const along = dot(out, frame.right) / away;
    return Math.sqrt(Math.max(0, 1 - along * along));
  }
  const depth = dot(out, frame.forward);
  const right = dot(out, scale(frame.right, -1)) / depth;
  return profileShare(profile, depth / away, right, dot(out, frame.up) / depth);
}

/** A share this near to 1 needs no finer look. */
const OVERFILLS = 0.999;
const FINE_CELLS_ACROSS = 160;

/**
 * Share of the patch that the opening would let through which the beam really fills (intensity at least a tenth of its
 * largest there): 1 overfills. A beam that does not overfill is measured again on a finer grid.
 * @returns null without openings, or where none of the light comes through one
 * @source judgement definition 2.13
 */
export function fillShare(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  sums: LightSums,
  effort: Effort,
): number | null {
  const share = filledShare(scene, source, surface, sums);
  if (share === null || share >= OVERFILLS || effort === 'quick') return share;
  const { region } = sums;
  const cell = Math.max(region.widthM, region.heightM) / FINE_CELLS_ACROSS;
  const [columns, rows] = [Math.ceil(region.widthM / cell), Math.ceil(region.heightM / cell)];
  return filledShare(scene, source, surface, sumLight(scene, source, surface, region, columns, rows));
}

function filledShare(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  sums: LightSums,
): number | null {
  const front = layersInLight(scene, source).filter((layer) => layer.onlySourceId !== null && layer.role === 'cut');
  const open: { areaM2: number; intensity: number }[] = [];
  for (let cell = 0; cell < sums.bareLx.length; cell++) {
    if (sums.bareLx[cell] === 0 || sums.hardNoGateLx[cell]! < VISIBLE * sums.bareLx[cell]!) continue;
    const at = [sums.xs[cell % sums.columns]!, sums.ys[Math.floor(cell / sums.columns)]!] as const;
    const point = worldFromLocal(surface.frame, at);
    const { direction } = towardsSource(source, point);
    if (!scene.openings.some((opening) => passesOpening(opening, point, direction))) continue;
    open.push({
      areaM2: sums.areaM2[cell]!,
      intensity: isBlocked(front, source.frame.origin, point) ? 0 : intensityShare(source, point),
    });
  }
  if (open.length === 0) return null;
  const largest = open.reduce((most, { intensity }) => Math.max(most, intensity), 0);
  if (largest === 0) return 0;
  let [all, filled] = [0, 0];
  for (const { areaM2, intensity } of open) {
    all += areaM2;
    if (intensity >= FIELD * largest) filled += areaM2;
  }
  return filled / all;
}
