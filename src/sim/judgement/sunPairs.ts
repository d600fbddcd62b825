/** Which light of which lamp plays the sun on which surface. */
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { sumLight } from './lightSums';

export interface SunPair {
  readonly source: CompiledSource;
  readonly surface: CompiledSurface;
}

const ACROSS = 24;

/**
 * The source's light on the surface that is to be judged: its own, or, where a mirror sends more, what the mirror shows.
 * The other ways count as further shadows. Undefined for an id that the setup does not have.
 */
export function playingLight(
  scene: CompiledScene,
  sourceId: string,
  surface: CompiledSurface,
): CompiledSource | undefined {
  const ways = scene.sources.filter(({ id }) => id === sourceId);
  if (ways.length < 2) return ways[0];
  const lit = ways.map((way) => {
    const { allLx, areaM2 } = sumLight(scene, way, surface, surface.bounds, ACROSS, ACROSS);
    return allLx.reduce((sum, lux, cell) => sum + lux * areaM2[cell]!, 0);
  });
  return ways[lit.indexOf(Math.max(...lit))];
}

/** Pairs that the story says play the sun and that this setup has. */
export function sunPairs(scene: CompiledScene): SunPair[] {
  return (scene.document.story?.playsSun ?? []).flatMap(({ sourceId, surfaceId }) => {
    const surface = scene.surfaces.get(surfaceId);
    const source = surface && playingLight(scene, sourceId, surface);
    return source && surface ? [{ source, surface }] : [];
  });
}
