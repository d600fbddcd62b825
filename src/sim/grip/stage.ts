/** The light that a helper works in: one lamp on one surface, whether or not the story has it play the sun there. */
import type { SceneDocument, Setup } from '../../scene/schema';
import { Pace } from '../mends/search';
import { situationOf, type Situation } from '../mends/situation';
import type { Effort } from '../judgement/patch';

/** The document with this lamp on this surface as all that is judged. */
export const judgedAlone = (document: SceneDocument, lampId: string, surfaceId: string): SceneDocument => ({
  ...document,
  story: { ...document.story, playsSun: [{ sourceId: lampId, surfaceId }] },
});

export function setupIn(document: SceneDocument, setupId: string): Setup {
  const setup = document.setups.find(({ id }) => id === setupId);
  if (!setup) throw new RangeError(`no setup "${setupId}" in this scene`);
  return setup;
}

/**
 * The lamp's light on the surface as the mends see it, with no least level to keep: how much is lost is shown instead.
 * @returns a sentence where there is no patch to work on
 * @throws {RangeError} if the setup does not exist
 */
export function stageOf(
  document: SceneDocument,
  setupId: string,
  lampId: string,
  surfaceId: string,
  effort: Effort,
): Situation | string {
  const setup = setupIn(document, setupId);
  const lamp = setup.sources[lampId];
  if (lamp?.type !== 'lamp') return 'The lamp is gone from this setup.';
  if (!document.surfaces[surfaceId]) return 'The surface is gone from the scene.';
  const options = { effort, leastMeanLx: 0 };
  return situationOf(judgedAlone(document, lampId, surfaceId), setup, lampId, options, new Pace({}, 1));
}
