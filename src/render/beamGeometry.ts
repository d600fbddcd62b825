/**
 * The lines of a lamp's beam: where it has fallen to half of its peak (beam edge) and to a tenth (field edge), on a plane
 * through its axis, each stopped at what blocks it.
 */
import type { Distribution } from '../scene/schema';
import { toDegrees } from '../scene/geometry/frames';
import { cosinePowerHalfAngle } from '../sim/photometry/beams';
import { add, addScaled, normalise, scale, type Vec3 } from '../scene/geometry/vector';
import { castRay, type RayHit } from './raycast';
import type { LampThing, SceneThings } from './sceneThings';

export interface HalfAngles {
  /** Half-angle at 50 % of the peak, degrees; for a projection spot the half-value edge of its field. */
  readonly beamDeg: number;
  /** Half-angle at 10 %, degrees, or null where it is not known or next to the beam edge. */
  readonly fieldDeg: number | null;
}

/** Edges wider than this say nothing that a lamp's symbol does not: light goes nearly everywhere in front of it. */
const WIDEST_EDGE_DEG = 80;

/**
 * Beam and field half-angles of a distribution; null for light that leaves evenly all round, and for a measured web,
 * whose angles only its file knows. A bare cos n source falls to a share s at acos(s^(1/n)); Lambert's n is 1.
 */
export function halfAnglesOf(distribution: Distribution): HalfAngles | null {
  switch (distribution.kind) {
    case 'uniform':
    case 'web':
      return null;
    case 'lambertian':
      return fromCosine(1);
    case 'cosinePower':
      return distribution.exponent > 0 ? fromCosine(distribution.exponent) : null;
    case 'beam':
    case 'lensed':
      return {
        beamDeg: distribution.beamAngleDeg / 2,
        fieldDeg: distribution.fieldAngleDeg === undefined ? null : distribution.fieldAngleDeg / 2,
      };
    case 'projection':
      return { beamDeg: distribution.fieldAngleDeg / 2, fieldDeg: null };
  }
}

function fromCosine(exponent: number): HalfAngles {
  const fieldDeg = toDegrees(cosinePowerHalfAngle(exponent, 0.1));
  return {
    beamDeg: toDegrees(cosinePowerHalfAngle(exponent, 0.5)),
    fieldDeg: fieldDeg < WIDEST_EDGE_DEG ? fieldDeg : null,
  };
}

export interface BeamFigure {
  readonly fromM: Vec3;
  /** 0 for a lamp without a beam to draw. */
  readonly halfBeamDeg: number;
  readonly axis: RayHit;
  /** Both beam edges, left (or lower) first; empty where the lamp has none. */
  readonly beam: readonly RayHit[];
  readonly field: readonly RayHit[];
  /** Ends of rays spread over the beam, in order, for the filled cone. */
  readonly cone: readonly RayHit[];
}

/** Beyond this nothing stops a beam. */
const FARTHEST_HIT_M = 200;
const CONE_RAYS = 80;

/** Ray at an angle from the axis, turned in the plane of axis and `side`. */
function turned(axis: Vec3, side: Vec3, angleDeg: number): Vec3 {
  const angle = (angleDeg * Math.PI) / 180;
  return normalise(add(scale(axis, Math.cos(angle)), scale(side, Math.sin(angle))));
}

/**
 * Beam of a lamp in the plane of its axis and `side`: its own right for the plan, its own up for the section.
 * @param limitM how far a ray that meets nothing is drawn, metres
 */
export function beamFigure(things: SceneThings, lamp: LampThing, side: Vec3, limitM: number): BeamFigure {
  const from = lamp.lamp.pose.positionM;
  const axis = lamp.frame.forward;
  const angles = lamp.isLit ? halfAnglesOf(lamp.lamp.distribution) : null;
  const castAlong = (direction: Vec3): RayHit => {
    const hit = castRay(things, from, direction, FARTHEST_HIT_M);
    const isOpen = hit.surfaceId === null && hit.modifierId === null;
    return isOpen ? { ...hit, distanceM: limitM, atM: addScaled(from, direction, limitM) } : hit;
  };
  const cast = (angleDeg: number): RayHit => castAlong(turned(axis, side, angleDeg));
  const pair = (angleDeg: number | null): RayHit[] => (angleDeg === null ? [] : [cast(-angleDeg), cast(angleDeg)]);
  const coneRays = angles
    ? Array.from({ length: CONE_RAYS + 1 }, (_, i) => cast(angles.beamDeg * ((2 * i) / CONE_RAYS - 1)))
    : [];
  return {
    fromM: from,
    halfBeamDeg: angles?.beamDeg ?? 0,
    axis: castAlong(axis),
    beam: pair(angles?.beamDeg ?? null),
    field: pair(angles?.fieldDeg ?? null),
    cone: coneRays,
  };
}

/**
 * The parts of the cone where light really goes through: runs of rays that pass an opening, or all of it when none does.
 * Each run is a fan of ray ends.
 */
export function litFans(figure: BeamFigure): RayHit[][] {
  if (!figure.cone.some((ray) => ray.passed.length > 0)) return figure.cone.length > 1 ? [[...figure.cone]] : [];
  const fans: RayHit[][] = [];
  let fan: RayHit[] | null = null;
  for (const ray of figure.cone) {
    if (ray.passed.length === 0) {
      fan = null;
    } else if (fan) {
      fan.push(ray);
    } else {
      fan = [ray];
      fans.push(fan);
    }
  }
  return fans.filter((one) => one.length > 1);
}
