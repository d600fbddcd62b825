/** Where a lamp may stand: the story's polygons, and the ceiling over the inside ones. */
import { sideOfRing } from '../../scene/outlines';
import type { SceneDocument } from '../../scene/schema';
import { localFromWorld } from '../../scene/geometry/frames';
import type { Vec3 } from '../../scene/geometry/vector';
import type { CompiledScene } from '../solve/compiled';
import { onSurface } from '../solve/solveGrid';
import { lastGood } from './search';

/** Without any drawn space a lamp is not sent farther than this from the patch, m. */
export const FARTHEST_M = 40;
const STRIDE_M = 0.05;

/** True where the scene says where lamps may stand. */
export function spaceIsDrawn({ story }: SceneDocument): boolean {
  const { insideM = [], outsideM = [] } = story?.lampSpace ?? {};
  return insideM.length + outsideM.length > 0;
}

/** True where a lamp may stand at `point` (world): inside a drawn polygon and, indoors, under the ceiling. */
export function mayStand({ story }: SceneDocument, [x, y, z]: Vec3): boolean {
  const { insideM = [], outsideM = [], ceilingHeightM = Infinity } = story?.lampSpace ?? {};
  if (insideM.length + outsideM.length === 0) return z <= ceilingHeightM;
  if (outsideM.some((ring) => sideOfRing([x, y], ring) !== 'outside')) return true;
  return z <= ceilingHeightM && insideM.some((ring) => sideOfRing([x, y], ring) !== 'outside');
}

/** How far one may go from `from` on without leaving the space; at most `to`. `placeAt` gives the place. */
export function reachOf(document: SceneDocument, placeAt: (x: number) => Vec3, from: number, to: number): number {
  const holds = (x: number): boolean => mayStand(document, placeAt(x));
  const way = Math.sign(to - from);
  if (way === 0 || !holds(from)) return from;
  for (let x = from; ;) {
    const next = Math.abs(to - x) <= STRIDE_M ? to : x + way * STRIDE_M;
    if (!holds(next)) return lastGood(holds, x, next, 30);
    if (next === to) return to;
    x = next;
  }
}

/** What the ground at a place is called: the highest floor under it, else "the space". */
export function groundName(scene: CompiledScene, place: Vec3): string {
  let found: { name: string; heightM: number } | null = null;
  for (const [id, surface] of Object.entries(scene.document.surfaces)) {
    const compiled = scene.surfaces.get(id);
    if (surface.kind !== 'floor' || !compiled) continue;
    const { right, up, above } = localFromWorld(compiled.frame, place);
    if (above <= 0 || !onSurface(compiled, [right, up])) continue;
    if (found === null || above < found.heightM) found = { name: surface.name, heightM: above };
  }
  return found === null ? 'the space' : `the ${found.name.toLowerCase()}`;
}
