/** Whether the shaft runs off the surface that it is judged on. */
import { localFromWorld } from '../../scene/geometry/frames';
import { add, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { onSurface } from '../solve/solveGrid';
import { shadowOf } from './shadowEdges';

const SAMPLES_AN_EDGE = 64;
/** Share of the windows' outline that may fall beside the surface. */
const MOST_BESIDE = 0.01;

/** True where more than 1 % of the geometric outline of the windows, thrown from the lamp's centre, misses the surface. */
export function cutBySurface(scene: CompiledScene, source: CompiledSource, surface: CompiledSurface): boolean {
  let [on, all] = [0, 0];
  for (const opening of scene.openings) {
    if (opening.surfaceId === surface.id) continue;
    const shadows: (Vec3 | null)[] = [];
    opening.corners.forEach((from, i) => {
      const to = opening.corners[(i + 1) % opening.corners.length]!;
      for (let k = 0; k < SAMPLES_AN_EDGE; k++) {
        const at = add(from, scale(subtract(to, from), (k + 0.5) / SAMPLES_AN_EDGE));
        shadows.push(shadowOf(source, surface, at));
      }
    });
    const landed = shadows.map((shadow) => {
      if (shadow === null) return false;
      const { right, up } = localFromWorld(surface.frame, shadow);
      return onSurface(surface, [right, up]);
    });
    // A window none of whose outline lands here has its shaft elsewhere.
    if (!landed.some(Boolean)) continue;
    on += landed.filter(Boolean).length;
    all += landed.length;
  }
  return all > 0 && 1 - on / all > MOST_BESIDE;
}
