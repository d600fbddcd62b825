/** Judges everything that plays the sun in a setup. */
import type { SunCheck } from '../results';
import type { CompiledScene } from '../solve/compiled';
import { judgePairs } from './judgeSun';
import type { Effort } from './patch';
import { sunPairs } from './sunPairs';

/**
 * One check for each pair of source and surface that the story says plays the sun and this setup has.
 * @param effort `quick` takes a coarser grid, for a verdict while the hand moves; figures may differ by a few per cent
 */
export function judgeSetup(scene: CompiledScene, effort: Effort = 'full'): SunCheck[] {
  return judgePairs(scene, sunPairs(scene), effort);
}
