/**
 * The luminous face of a source: a plane patch c + u U + v V that is integrated over. The unit square (rectangle) or
 * the unit disc of (u, v) is the face. A sphere and a tube show another face to every receiver (their silhouette);
 * the sun is a disc of directions, the same for every receiver.
 */
import { areaMatchedCircle } from '../geometry/convexPieces';
import { cross, dot, length, scale, subtract, type Vec3 } from '../geometry/vector';

export interface EmitterFace {
  /** From the receiver to the face's centre; for the sun the direction to its centre. */
  towards: Vec3;
  readonly halfU: Vec3;
  readonly halfV: Vec3;
  /** Corners in (u, v), counter-clockwise, flat: u0, v0, u1, v1, ... */
  readonly corners: Float64Array;
  readonly round: boolean;
  /** Largest |u| and |v| on the face. */
  readonly extentU: number;
  readonly extentV: number;
  /** Area of one unit of (u, v), m² (steradians for the sun). */
  readonly areaPerUnit: number;
}

const SQUARE = new Float64Array([-1, -1, 1, -1, 1, 1, -1, 1]);
const circles = new Map<number, Float64Array>();

/** Corners of the unit circle as a polygon of equal area. */
export function unitCircle(corners: number): Float64Array {
  let circle = circles.get(corners);
  if (!circle) {
    circle = new Float64Array(areaMatchedCircle(1, corners).flatMap((p) => [p[0], p[1]]));
    circles.set(corners, circle);
  }
  return circle;
}

const areaOf = (halfU: Vec3, halfV: Vec3): number => length(cross(halfU, halfV));

export function rectangleFace(towards: Vec3, halfU: Vec3, halfV: Vec3): EmitterFace {
  const areaPerUnit = areaOf(halfU, halfV);
  return { towards, halfU, halfV, corners: SQUARE, round: false, extentU: 1, extentV: 1, areaPerUnit };
}

export function discFace(towards: Vec3, halfU: Vec3, halfV: Vec3, discCorners: number): EmitterFace {
  const areaPerUnit = areaOf(halfU, halfV);
  const corners = unitCircle(discCorners);
  return { towards, halfU, halfV, corners, round: true, extentU: 1, extentV: 1, areaPerUnit };
}

/** Two unit vectors that make a right-handed set with `forward`. */
export function axesAcross(forward: Vec3): [Vec3, Vec3] {
  const helper: Vec3 = Math.abs(forward[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  const side = cross(helper, forward);
  const right = scale(side, 1 / length(side));
  return [right, cross(forward, right)];
}

/**
 * What a sphere shows to a receiver: the disc through its circle of tangents, square to the line of sight. A uniform
 * Lambertian sphere and this disc subtend the same cone, so they light the receiver alike. Null inside the sphere.
 */
export function sphereSilhouette(
  centre: Vec3,
  radiusM: number,
  receiver: Vec3,
  discCorners: number,
): EmitterFace | null {
  const toCentre = subtract(centre, receiver);
  const far = length(toCentre);
  if (far <= radiusM) return null;
  const along = 1 - (radiusM / far) ** 2;
  const rim = radiusM * Math.sqrt(along);
  const [right, up] = axesAcross(scale(toCentre, 1 / far));
  return discFace(scale(toCentre, along), scale(right, rim), scale(up, rim), discCorners);
}

/** Points taken along each of the tube's two end rims. */
const RIM_POINTS = 7;

/**
 * What a tube's lit side shows to a receiver: the strip between its two lines of tangents, with the near arcs of its
 * end rims seen in perspective. Its dark end caps hide nothing of it. Null inside the tube's cylinder.
 */
export function tubeSilhouette(
  centre: Vec3,
  axis: Vec3,
  halfLengthM: number,
  radiusM: number,
  receiver: Vec3,
): EmitterFace | null {
  const fromAxis = subtract(receiver, centre);
  const alongM = dot(fromAxis, axis);
  const outward = subtract(fromAxis, scale(axis, alongM));
  const awayM = length(outward);
  if (awayM <= radiusM) return null;
  const out = scale(outward, 1 / awayM);
  const across = cross(axis, out);
  const chordM = (radiusM * radiusM) / awayM; // the tangent lines lie this far from the axis towards the receiver
  const halfWidthM = radiusM * Math.sqrt(1 - (radiusM / awayM) ** 2);
  const toChordM = awayM - chordM;
  const corners = new Float64Array(4 * RIM_POINTS);
  const widest = Math.acos(radiusM / awayM);
  let extentU = 0;
  for (let end = 0; end < 2; end++) {
    for (let i = 0; i < RIM_POINTS; i++) {
      const turned = (end === 0 ? 1 : -1) * widest * ((2 * i) / (RIM_POINTS - 1) - 1);
      const rimOutM = radiusM * Math.cos(turned);
      const seen = toChordM / (awayM - rimOutM); // central projection from the receiver on to the chord plane
      const rimAlongM = (end === 0 ? halfLengthM : -halfLengthM) - alongM;
      const u = (alongM + rimAlongM * seen) / halfLengthM;
      corners[2 * (end * RIM_POINTS + i)] = u;
      corners[2 * (end * RIM_POINTS + i) + 1] = (radiusM * Math.sin(turned) * seen) / halfWidthM;
      extentU = Math.max(extentU, Math.abs(u));
    }
  }
  const towards = subtract(subtract(centre, receiver), scale(out, -chordM));
  const halfU = scale(axis, halfLengthM);
  const halfV = scale(across, halfWidthM);
  return { towards, halfU, halfV, corners, round: false, extentU, extentV: 1, areaPerUnit: areaOf(halfU, halfV) };
}
