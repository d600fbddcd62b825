/** One entry for all helpers: a request and a scene in, the setup with the pieces in it out. Pure. */
import type { SceneDocument } from '../../scene/schema';
import { planFlag } from './flag';
import { refused, type GripPlan } from './gripPlan';
import type { GripRequest } from './gripRequest';
import { bestHalfScrimFor, planHalfScrim } from './halfScrim';
import { planMirror } from './mirror';
import { bestNetsFor, planNets } from './nets';
import { stageOf } from './stage';

/**
 * @param document the scene without the helper's pieces
 * @returns the setup with them, or one sentence why they cannot be had; the document is not touched
 * @throws {RangeError} if the setup does not exist
 */
export function planGrip(document: SceneDocument, setupId: string, request: GripRequest): GripPlan {
  if (request.helper === 'flag') return planFlag(document, setupId, request);
  const situation = stageOf(document, setupId, request.lampId, request.surfaceId, 'quick');
  if (typeof situation === 'string') return refused(situation);
  switch (request.helper) {
    case 'nets':
      return planNets(situation, request);
    case 'mirror':
      return planMirror(situation, request);
    case 'halfScrim':
      return planHalfScrim(situation, request);
  }
}

/**
 * The request with its places where the search of the mends finds the least fall-off for the same pieces.
 * @returns null where there is no search for this helper, or nothing to be had
 */
export function bestGrip(document: SceneDocument, setupId: string, request: GripRequest): GripRequest | null {
  if (request.helper !== 'nets' && request.helper !== 'halfScrim') return null;
  const situation = stageOf(document, setupId, request.lampId, request.surfaceId, 'full');
  if (typeof situation === 'string') return null;
  return request.helper === 'nets' ? bestNetsFor(situation, request) : bestHalfScrimFor(situation, request);
}
