/** The figures of nets that stand already, read off their places: for a stagger of an earlier day, or one moved by hand. */
import type { Modifier } from '../../scene/schema';
import { frameFromPose } from '../../scene/geometry/frames';
import { addScaled, dot, subtract, type Vec3 } from '../../scene/geometry/vector';
import { netField } from '../mends/netRig';
import { meanRay } from '../mends/placing';
import type { Situation } from '../mends/situation';
import type { NetsRequest } from './gripRequest';
import { coverOf } from './nets';

/** True for a net that a helper or a mend could have hung: a rectangle with one open side. */
export const isOpenEndNet = ({ shape, material, frame }: Modifier): boolean =>
  shape.kind === 'rectangle' && material.kind === 'net' && frame?.openSides?.length === 1;

/** Middle of a net's free edge, world; its centre where it has no width. */
export function freeEdgeOf({ pose, shape, frame }: Modifier): Vec3 {
  const { origin, right } = frameFromPose(pose);
  const sign = frame?.openSides?.[0] === 'left' ? -1 : 1;
  return shape.kind === 'rectangle' ? addScaled(origin, right, (sign * shape.widthM) / 2) : origin;
}

/**
 * The request that these nets answer to, in the light without them: the inverse of their placing.
 * @returns null where none of them stands across the light
 */
export function netsAgain(situation: Situation, nets: readonly Modifier[]): NetsRequest | null {
  const [first] = nets;
  if (!first) return null;
  const ray = meanRay(situation);
  const turnDeg = first.pose.aim.rollDeg ?? 0;
  const field = netField(situation, ray, turnDeg);
  const read = nets.flatMap((net) => {
    const { material, pose } = net;
    if (material.kind !== 'net') return [];
    const { origin, forward } = frameFromPose(pose);
    const depthM = dot(forward, subtract(origin, field.lens)) / dot(forward, field.down);
    const beside = subtract(freeEdgeOf(net), addScaled(field.lens, field.down, depthM));
    if (depthM <= ray.mirrorLegM) return [];
    const coverShare = coverOf(field, dot(beside, field.frame.right) / depthM);
    return [{ depthM, stops: material.stops, coverShare: Number(Math.min(1, Math.max(0, coverShare)).toFixed(3)) }];
  });
  if (read.length === 0) return null;
  read.sort((a, b) => a.depthM - b.depthM);
  return {
    helper: 'nets',
    lampId: situation.lampId,
    surfaceId: situation.main.pair.surface.id,
    distanceM: Number((read[0]!.depthM - ray.mirrorLegM).toFixed(3)),
    turnDeg,
    nets: read.map(({ stops, coverShare }) => ({ stops, coverShare })),
  };
}
