/** Other lamps that double the shadow of anything put in the patch. */
import { localFromWorld } from '../../scene/geometry/frames';
import { dot, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { ALL_ROLES } from '../solve/sourceIntegrator';
import { integratorOn } from './lightSums';
import { towardsSource, type Patch } from './patch';

/** A second source counts from an eighth of the lamp's light (three stops down) over a twentieth of the patch ... */
const LEAST_SHARE = 1 / 8;
const LEAST_AREA = 0.05;
/** ... if it is small enough for an edge and comes from another direction; degrees. */
const LARGEST_WIDTH_DEG = 10;
const LEAST_TURN_DEG = 1;
const MOST_CELLS = 400;

/** Smallest angular width of a source seen from a point, degrees. */
export function angularWidthDeg(source: CompiledSource, point: Vec3): number {
  const { shape } = source;
  const { distanceM } = towardsSource(source, point);
  const across = (): number => {
    switch (shape.kind) {
      case 'point':
        return 0;
      case 'rectangle':
        return 2 * Math.min(shape.halfWidthM, shape.halfHeightM);
      case 'sun':
        return 0;
      default:
        return 2 * shape.radiusM;
    }
  };
  if (shape.kind === 'sun') return (2 * Math.atan(shape.tangentRadius) * 180) / Math.PI;
  return (2 * Math.atan2(across() / 2, distanceM) * 180) / Math.PI;
}

/**
 * 1 plus the number of other sources, and of other ways of the lamp's own light (a mirror beside it), that throw a second shadow on the patch, at the sources' levels; also with the
 * others a stop dimmer and a stop brighter, because that is how well levels are known.
 * @source judgement definition 2.8
 */
export function shadowCount(
  scene: CompiledScene,
  lamp: CompiledSource,
  surface: CompiledSurface,
  patch: Patch,
): { count: number; dimmer: number; brighter: number } {
  const counts = { count: 1, dimmer: 1, brighter: 1 };
  for (const other of scene.sources) {
    if (other === lamp || other.level === 0) continue;
    const shares = doubledShares(scene, lamp, other, surface, patch);
    if (shares.count >= LEAST_AREA) counts.count++;
    if (shares.dimmer >= LEAST_AREA) counts.dimmer++;
    if (shares.brighter >= LEAST_AREA) counts.brighter++;
  }
  return counts;
}

/** Shares of the patch's area where `other` throws a shadow of its own. */
function doubledShares(
  scene: CompiledScene,
  lamp: CompiledSource,
  other: CompiledSource,
  surface: CompiledSurface,
  patch: Patch,
): { count: number; dimmer: number; brighter: number } {
  const stride = Math.max(1, Math.floor(patch.cells.length / MOST_CELLS));
  const lampLevel = lamp.level > 0 ? lamp.level : 1;
  const integrator = integratorOn(scene, other, surface);
  const shares = { count: 0, dimmer: 0, brighter: 0 };
  let all = 0;
  for (let i = 0; i < patch.points.length; i += stride) {
    const point = patch.points[i]!;
    const area = patch.areaM2[i]!;
    all += area;
    if (angularWidthDeg(other, point) > LARGEST_WIDTH_DEG) continue;
    const turn = dot(towardsSource(other, point).direction, towardsSource(lamp, point).direction);
    if (turn > Math.cos((LEAST_TURN_DEG * Math.PI) / 180)) continue;
    const { right, up } = localFromWorld(surface.frame, point);
    if (!integrator.moveTo(right, up)) continue;
    const lampLx = lampLevel * patch.sums.allLx[patch.cells[i]!]!;
    const share = lampLx > 0 ? (other.level * integrator.illuminanceLx(ALL_ROLES)) / lampLx : Infinity;
    if (share >= LEAST_SHARE) shares.count += area;
    if (share / 2 >= LEAST_SHARE) shares.dimmer += area;
    if (share * 2 >= LEAST_SHARE) shares.brighter += area;
  }
  return { count: shares.count / all, dimmer: shares.dimmer / all, brighter: shares.brighter / all };
}
