/** Where a patch is hottest and coldest, and what the crew would call that end. */
import { localFromWorld } from '../../scene/geometry/frames';
import { distance, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledScene, CompiledSurface } from '../solve/compiled';
import type { Patch } from './patch';
import { weightedQuantiles } from './statistics';

/** A patch is even below this, stops. */
const EVEN_STOPS = 0.02;
/** The hot end is "the window end" where the cold end is this much farther from the window. */
const NEARER = 1.2;

type Place = readonly [right: number, up: number];
export interface HotEnd {
  readonly words: string | null;
  readonly hot: { readonly atM: Place; readonly illuminanceLx: number };
  readonly cold: { readonly atM: Place; readonly illuminanceLx: number };
}

/** Middle of the cells in the hottest or coldest twentieth of the patch, and one cell at that percentile. */
function endOf(surface: CompiledSurface, patch: Patch, logOpen: Float64Array, hot: boolean) {
  const [limit, spot] = weightedQuantiles(logOpen, patch.areaM2, hot ? [0.95, 0.99] : [0.05, 0.01]);
  let [x, y, n] = [0, 0, 0];
  let nearest = 0;
  logOpen.forEach((value, i) => {
    if (Math.abs(value - spot!) < Math.abs(logOpen[nearest]! - spot!)) nearest = i;
    if (hot ? value < limit! : value > limit!) return;
    const { right, up } = localFromWorld(surface.frame, patch.points[i]!);
    x += right;
    y += up;
    n++;
  });
  const { right, up } = localFromWorld(surface.frame, patch.points[nearest]!);
  return {
    middle: [x / n, y / n] as Place,
    point: patch.points[nearest]!,
    atM: [right, up] as Place,
    illuminanceLx: patch.openLx[nearest]!,
  };
}

/** The hot and the cold end of a patch, and the hot end's name as the crew would say it; null where it is even. */
export function hotEndOf(scene: CompiledScene, surface: CompiledSurface, patch: Patch, logOpen: Float64Array): HotEnd {
  const [hot, cold] = [endOf(surface, patch, logOpen, true), endOf(surface, patch, logOpen, false)];
  const even = Math.log2(hot.illuminanceLx / cold.illuminanceLx) < EVEN_STOPS;
  return { words: even ? null : endWords(scene, surface, patch, hot, cold), hot, cold };
}

function endWords(
  scene: CompiledScene,
  surface: CompiledSurface,
  patch: Patch,
  hot: { middle: Place; point: Vec3 },
  cold: { middle: Place; point: Vec3 },
): string {
  const opening = scene.openings[patch.window.find((index) => index >= 0) ?? -1];
  if (opening && opening.surfaceId !== surface.id) {
    const near = (point: Vec3) => Math.min(...opening.corners.map((corner) => distance(corner, point)));
    if (near(cold.point) > NEARER * near(hot.point)) return 'window end';
  }
  const [dx, dy] = [hot.middle[0] - cold.middle[0], hot.middle[1] - cold.middle[1]];
  if (Math.abs(dx) >= Math.abs(dy)) return dx > 0 ? 'right end' : 'left end';
  return dy > 0 ? 'top' : 'foot';
}
