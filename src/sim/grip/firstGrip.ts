/** Where a helper's form starts: figures that a gaffer would begin from, read off the light as it falls. */
import type { SceneDocument } from '../../scene/schema';
import { localFromWorld } from '../../scene/geometry/frames';
import { netReach } from '../mends/nets';
import { meanRay } from '../mends/placing';
import type { Situation } from '../mends/situation';
import type { FlagRequest, GripHelper, GripRequest } from './gripRequest';
import { bestHalfScrimFor } from './halfScrim';
import { mirrorBounds } from './mirror';
import { stageOf } from './stage';

/** Two doubles staggered in evenly, at arm's length (common practice, no source). */
const FIRST_NETS = [
  { stops: 1, coverShare: 0.67 },
  { stops: 1, coverShare: 0.33 },
] as const;
const FIRST_NET_M = 0.6;
const FIRST_FLAG_M = 1;
/** A line at this share of the lit width: beyond it lies what spills. */
const FIRST_LINE = 0.75;
/** A path that is worth its mirror. */
const FIRST_PATH = 1.5;

const cm = (value: number): number => Number(value.toFixed(2));

function firstFlag({ main }: Situation, lampId: string, surfaceId: string): FlagRequest {
  const { frame, bounds } = main.pair.surface;
  const across = main.patch.points.map((point) => localFromWorld(frame, point).right - bounds.leftM);
  const [from, to] = [Math.min(...across), Math.max(...across)];
  return {
    helper: 'flag',
    lampId,
    dark: { surfaceId, side: 'right', lineM: cm(from + FIRST_LINE * (to - from)) },
    wantedSurfaceId: surfaceId,
    distanceM: FIRST_FLAG_M,
    edge: 'dark',
  };
}

/**
 * @returns the first request, or a sentence where the lamp throws no patch on the surface
 * @throws {RangeError} if the setup does not exist
 */
export function firstGrip(
  document: SceneDocument,
  setupId: string,
  helper: GripHelper,
  lampId: string,
  surfaceId: string,
): GripRequest | string {
  const situation = stageOf(document, setupId, lampId, surfaceId, 'quick');
  if (typeof situation === 'string') return situation;
  switch (helper) {
    case 'nets': {
      const ray = meanRay(situation);
      const distanceM = cm(Math.min(FIRST_NET_M, netReach(situation, ray).farthestM - ray.mirrorLegM));
      return { helper, lampId, surfaceId, distanceM, turnDeg: 0, nets: FIRST_NETS };
    }
    case 'flag':
      return firstFlag(situation, lampId, surfaceId);
    case 'mirror': {
      const bounds = mirrorBounds(situation);
      const wantedM = FIRST_PATH * meanRay(situation).throwM;
      // Down to whole centimetres, so that the longest path is not overstepped.
      const longestM = bounds === null ? wantedM : Math.floor(bounds.longestM * 100) / 100;
      return { helper, lampId, surfaceId, pathM: cm(Math.min(wantedM, longestM)), way: 0 };
    }
    case 'halfScrim': {
      const first = { helper, lampId, surfaceId, grades: [1], clockDeg: 0 } as const;
      return bestHalfScrimFor(situation, first) ?? first;
    }
  }
}
