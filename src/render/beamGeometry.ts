/**
 * The lines of a lamp's beam: where it has fallen to half of its peak (beam edge) and to a tenth (field edge), on a plane
 * through its axis, each stopped at what blocks it.
 */
import type { Distribution } from '../scene/schema';
import { toDegrees } from '../scene/geometry/frames';
import { cosinePowerHalfAngle } from '../sim/photometry/beams';
import { add, addScaled, dot, normalise, scale, subtract, type Vec3 } from '../scene/geometry/vector';
import { figuresOfWeb } from '../sim/solve/compileWeb';
import type { Spread } from '../sim/photometry/web/figures';
import { castRay, nearestFirst, type RayHit } from './raycast';
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
 * Beam and field half-angles of a distribution that is alike on all sides; null for light that leaves evenly all round,
 * and for a measured web, which may differ from side to side (`edgesOf`). A bare cos n source falls to a share s at acos(s^(1/n)); Lambert's n is 1.
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

/** Beam and field edges in one plane through the axis, signed towards its side; null where there is none to draw. */
interface Edges {
  readonly beam: Spread | null;
  readonly field: Spread | null;
}
const NO_EDGES: Edges = { beam: null, field: null };
const evenSpread = (halfDeg: number | null): Spread | null =>
  halfDeg === null ? null : { fromDeg: -halfDeg, toDeg: halfDeg };

/** Edges of a photometric file in the lamp's upright plane or in the one across it. */
function webEdges(things: SceneThings, lamp: LampThing, webId: string, side: Vec3): Edges {
  const isUpright = side === lamp.frame.up;
  const [across, upright] = figuresOfWeb(things.document.webs, webId).planes;
  const { beam, field } = isUpright ? upright! : across!;
  // The file counts to the right as seen from behind, the frame as seen by somebody who looks at the lamp.
  const turned = (spread: Spread | null): Spread | null =>
    spread === null || isUpright ? spread : { fromDeg: -spread.toDeg, toDeg: -spread.fromDeg };
  const drawn = (spread: Spread | null): Spread | null =>
    spread && Math.max(-spread.fromDeg, spread.toDeg) < WIDEST_EDGE_DEG ? spread : null;
  return { beam: turned(beam), field: drawn(turned(field)) };
}

function edgesOf(things: SceneThings, lamp: LampThing, side: Vec3): Edges {
  const { distribution } = lamp.lamp;
  if (!lamp.isLit) return NO_EDGES;
  if (distribution.kind === 'web') return webEdges(things, lamp, distribution.webId, side);
  const angles = halfAnglesOf(distribution);
  return angles ? { beam: evenSpread(angles.beamDeg), field: evenSpread(angles.fieldDeg) } : NO_EDGES;
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
export const FARTHEST_HIT_M = 200;
const CONE_RAYS = 80;

/** Ray at an angle from the axis, turned in the plane of axis and `side`. */
function turned(axis: Vec3, side: Vec3, angleDeg: number): Vec3 {
  const angle = (angleDeg * Math.PI) / 180;
  return normalise(add(scale(axis, Math.cos(angle)), scale(side, Math.sin(angle))));
}

/** A ray of a lamp to what stops it, or to `limitM` where nothing does. */
function castAlong(things: SceneThings, lamp: LampThing, direction: Vec3, limitM: number): RayHit {
  const from = lamp.lamp.pose.positionM;
  const hit = castRay(things, from, direction, FARTHEST_HIT_M);
  const isOpen = hit.surfaceId === null && hit.modifierId === null;
  return isOpen ? { ...hit, distanceM: limitM, atM: addScaled(from, direction, limitM) } : hit;
}

/** The axis alone of what `beamFigure` gives. */
export const axisOf = (things: SceneThings, lamp: LampThing, limitM: number): RayHit =>
  castAlong(things, lamp, lamp.frame.forward, limitM);

/**
 * Beam of a lamp in the plane of its axis and `side`: its own right for the plan, its own up for the section.
 * @param limitM how far a ray that meets nothing is drawn, metres
 */
export function beamFigure(things: SceneThings, lamp: LampThing, side: Vec3, limitM: number): BeamFigure {
  const from = lamp.lamp.pose.positionM;
  const axis = lamp.frame.forward;
  const { beam, field } = edgesOf(things, lamp, side);
  const near = nearestFirst(things, from);
  const cast = (angleDeg: number): RayHit => castAlong(near, lamp, turned(axis, side, angleDeg), limitM);
  const pair = (spread: Spread | null): RayHit[] => (spread ? [cast(spread.fromDeg), cast(spread.toDeg)] : []);
  const coneRays = beam
    ? Array.from({ length: CONE_RAYS + 1 }, (_, i) =>
        cast(beam.fromDeg + (i / CONE_RAYS) * (beam.toDeg - beam.fromDeg)),
      )
    : [];
  return {
    fromM: from,
    halfBeamDeg: beam ? Math.max(-beam.fromDeg, beam.toDeg) : 0,
    axis: axisOf(near, lamp, limitM),
    beam: pair(beam),
    field: pair(field),
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

/** Light that leaves a mirror: from its glass to what it meets next. */
export interface ReturnedRay {
  readonly fromM: Vec3;
  readonly atM: Vec3;
}

/** A ray on from the mirror that it ended at, by the law of reflection; null if it ended elsewhere or at a mirror's back. */
function returned(things: SceneThings, fromM: Vec3, hit: RayHit, limitM: number): ReturnedRay | null {
  const mirror = things.modifiers.find((thing) => thing.id === hit.modifierId);
  if (mirror?.modifier.material.kind !== 'mirror') return null;
  const along = normalise(subtract(hit.atM, fromM));
  const into = dot(along, mirror.frame.forward);
  if (into >= 0) return null;
  const direction = addScaled(along, mirror.frame.forward, -2 * into);
  const next = castRay(things, hit.atM, direction, FARTHEST_HIT_M);
  const isOpen = next.surfaceId === null && next.modifierId === null;
  return { fromM: hit.atM, atM: isOpen ? addScaled(hit.atM, direction, limitM) : next.atM };
}

/** Both outer rays of the beam that a mirror sends on, mirror by mirror, and the axis where it meets one. */
export function returnedRays(
  things: SceneThings,
  figure: BeamFigure,
  limitM: number,
): { readonly axis: ReturnedRay | null; readonly edges: readonly ReturnedRay[] } {
  const onward = (hit: RayHit): ReturnedRay | null => returned(things, figure.fromM, hit, limitM);
  const ends = new Map<string, RayHit[]>();
  for (const hit of figure.cone) {
    if (hit.modifierId !== null) ends.set(hit.modifierId, [...(ends.get(hit.modifierId) ?? []), hit]);
  }
  const outer = [...ends.values()].flatMap((hits) => [hits[0]!, hits[hits.length - 1]!]);
  return { axis: onward(figure.axis), edges: outer.map(onward).filter((ray) => ray !== null) };
}
