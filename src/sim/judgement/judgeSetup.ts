/** Judges everything that plays the sun in a setup. */
import type { SunCheck } from '../results';
import type { CompiledScene } from '../solve/compiled';
import { judgePairs, type SunPair } from './judgeSun';
import type { Effort } from './patch';

/**
 * One check for each pair of source and surface that the story says plays the sun and this setup has.
 * @param effort `quick` takes a coarser grid, for a verdict while the hand moves; figures may differ by a few per cent
 */
export function judgeSetup(scene: CompiledScene, effort: Effort = 'full'): SunCheck[] {
  const pairs: SunPair[] = [];
  for (const { sourceId, surfaceId } of scene.document.story?.playsSun ?? []) {
    const source = scene.sources.find((candidate) => candidate.id === sourceId);
    const surface = scene.surfaces.get(surfaceId);
    if (source && surface) pairs.push({ source, surface });
  }
  return judgePairs(scene, pairs, effort);
}
