/**
 * The luminous face of a source: a plane patch c + u U + v V that is integrated over. The unit square (rectangle) or
 * the unit disc of (u, v) is the face. A sphere and a tube show another face to every receiver (their silhouette);
 * the sun is a disc of directions, the same for every receiver.
 */
import { cross, length, scale, type Vec3 } from '../../scene/geometry/vector';
import { uniformPolygonIlluminance } from '../photometry/closedForms';
import { CIRCLE_ARCS } from './patches';
import type { CompiledSource, LitSector } from './compiled';
import type { Quality } from './quality';

/** The face as one receiver sees it. One instance serves all receivers of a plane, so that none is made on the way. */
export interface EmitterFace {
  /** From the receiver to the face's centre; for the sun the direction to its centre. */
  readonly towards: Float64Array;
  readonly halfU: Float64Array;
  readonly halfV: Float64Array;
  /** Corners in (u, v), counter-clockwise, flat: u0, v0, u1, v1, ...; of a round face the ends of its arcs. */
  readonly corners: Float64Array;
  readonly round: boolean;
  /** So narrow in v that light changes along u alone beyond second order. */
  readonly slim: boolean;
  /** Largest |u| on the face; |v| is at most 1. */
  extentU: number;
  /** Area of one unit of (u, v), m² (steradians for the sun). */
  areaPerUnit: number;
}

const SQUARE = new Float64Array([-1, -1, 1, -1, 1, 1, -1, 1]);
/** Ends of the arcs that make the whole circle. */
const CIRCLE = Float64Array.from({ length: 2 * CIRCLE_ARCS }, (_, i) => {
  const turn = (2 * Math.PI * (i >> 1)) / CIRCLE_ARCS;
  return i % 2 === 0 ? Math.cos(turn) : Math.sin(turn);
});

/** Two unit vectors that make a right-handed set with `forward`. */
export function axesAcross(forward: Vec3): [Vec3, Vec3] {
  const helper: Vec3 = Math.abs(forward[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  const side = cross(helper, forward);
  const right = scale(side, 1 / length(side));
  return [right, cross(forward, right)];
}

/** Spheres and tubes show another face to every receiver. */
export const facesReceiver = (source: CompiledSource): boolean =>
  source.shape.kind === 'sphere' || source.shape.kind === 'tube';

/** Points taken along each of a tube's two end rims: a slim tube's are small, and straight lines do for them. */
const RIM_POINTS = 7;

/** The face of a source, with its fixed halves filled in; `turnFace` turns it to a receiver. */
export function makeFace(source: CompiledSource, quality: Quality): EmitterFace {
  const { frame, shape } = source;
  const [halfU, halfV] = halvesOf(source);
  const round = shape.kind === 'disc' || shape.kind === 'sphere' || shape.kind === 'sun';
  const slim = shape.kind === 'tube' && shape.radiusM < quality.slimTube * shape.halfLengthM;
  const square = shape.kind === 'tube' && !slim ? new Float64Array(4 * RIM_POINTS) : SQUARE.slice();
  return {
    towards: new Float64Array(frame.origin),
    halfU: new Float64Array(halfU),
    halfV: new Float64Array(halfV),
    corners: round ? CIRCLE : square,
    round,
    slim,
    extentU: 1,
    areaPerUnit: length(cross(halfU, halfV)),
  };
}

function halvesOf({ frame, shape }: CompiledSource): readonly [Vec3, Vec3] {
  switch (shape.kind) {
    case 'disc':
      return [scale(frame.right, shape.radiusM), scale(frame.up, shape.radiusM)];
    case 'rectangle':
      return [scale(frame.right, shape.halfWidthM), scale(frame.up, shape.halfHeightM)];
    case 'sun':
      return [scale(frame.right, shape.tangentRadius), scale(frame.up, shape.tangentRadius)];
    case 'tube':
      return [scale(frame.right, shape.halfLengthM), [0, 0, 0]];
    default:
      return [
        [0, 0, 0],
        [0, 0, 0],
      ];
  }
}

/**
 * Turns `face` as the receiver `point` sees it. On entry `face.towards` is from the receiver to the emitter's centre.
 * @returns false inside the emitter, and where a tube shows its dark side alone
 */
export function turnFace(face: EmitterFace, source: CompiledSource): boolean {
  const { shape, frame } = source;
  if (shape.kind === 'sphere') return turnToSphere(face, shape.radiusM);
  if (shape.kind === 'tube') return turnToTube(face, frame.right, shape.halfLengthM, shape.radiusM, shape.lit);
  return true;
}

/**
 * What a sphere shows to a receiver: the disc through its circle of tangents, square to the line of sight. A uniform
 * Lambertian sphere and this disc subtend the same cone, so they light the receiver alike.
 */
function turnToSphere(face: EmitterFace, radiusM: number): boolean {
  const { towards, halfU, halfV } = face;
  const far = Math.sqrt(towards[0]! * towards[0]! + towards[1]! * towards[1]! + towards[2]! * towards[2]!);
  if (far <= radiusM) return false;
  const along = 1 - (radiusM / far) ** 2;
  const rim = radiusM * Math.sqrt(along);
  const x = towards[0]! / far;
  const y = towards[1]! / far;
  const z = towards[2]! / far;
  // Two axes across the line of sight, from the world's axis that lies least along it.
  if (Math.abs(z) < 0.9) {
    const k = rim / Math.sqrt(x * x + y * y);
    halfU[0] = -y * k;
    halfU[1] = x * k;
    halfU[2] = 0;
  } else {
    const k = rim / Math.sqrt(y * y + z * z);
    halfU[0] = 0;
    halfU[1] = -z * k;
    halfU[2] = y * k;
  }
  halfV[0] = y * halfU[2]! - z * halfU[1]!;
  halfV[1] = z * halfU[0]! - x * halfU[2]!;
  halfV[2] = x * halfU[1]! - y * halfU[0]!;
  for (let i = 0; i < 3; i++) towards[i]! *= along;
  face.areaPerUnit = rim * rim;
  return true;
}

/** From and to which turn about its axis a tube shows its lit skin, from the side nearest to the receiver, radians. */
const seen = new Float64Array(2);

/** Mean over v of the half ellipse (1 - v²)^½ between two values of v. */
function meanOfEllipse(low: number, high: number): number {
  const area = (v: number): number =>
    (v * Math.sqrt(Math.max(0, 1 - v * v)) + Math.asin(Math.max(-1, Math.min(1, v)))) / 2;
  return (area(high) - area(low)) / (high - low);
}

/**
 * What a tube's lit side shows to a receiver: the strip between its two lines of tangents, with the near arcs of its
 * end rims seen in perspective. Its dark end caps hide nothing of it.
 */
function turnToTube(
  face: EmitterFace,
  axis: Vec3,
  halfLengthM: number,
  radiusM: number,
  lit: LitSector | null,
): boolean {
  const { towards, halfV } = face;
  const alongM = -(towards[0]! * axis[0] + towards[1]! * axis[1] + towards[2]! * axis[2]);
  const outX = -towards[0]! - alongM * axis[0];
  const outY = -towards[1]! - alongM * axis[1];
  const outZ = -towards[2]! - alongM * axis[2];
  const awayM = Math.sqrt(outX * outX + outY * outY + outZ * outZ);
  if (awayM <= radiusM) return false;
  const chordM = (radiusM * radiusM) / awayM; // the tangent lines lie this far from the axis towards the receiver
  const halfWidthM = radiusM * Math.sqrt(1 - (radiusM / awayM) ** 2);
  const wide = halfWidthM / awayM;
  halfV[0] = (axis[1] * outZ - axis[2] * outY) * wide;
  halfV[1] = (axis[2] * outX - axis[0] * outZ) * wide;
  halfV[2] = (axis[0] * outY - axis[1] * outX) * wide;
  const widest = Math.acos(radiusM / awayM);
  seen[0] = -widest;
  seen[1] = widest;
  if (lit !== null) {
    const { middle, halfRad } = lit;
    const ahead = (outX * middle[0] + outY * middle[1] + outZ * middle[2]) / awayM;
    const aside = (halfV[0]! * middle[0] + halfV[1]! * middle[1] + halfV[2]! * middle[2]) / halfWidthM;
    const turned = Math.atan2(aside, ahead);
    seen[0] = Math.max(-widest, turned - halfRad);
    seen[1] = Math.min(widest, turned + halfRad);
    if (seen[0] >= seen[1]) return false;
  }
  towards[0]! += (outX / awayM) * chordM;
  towards[1]! += (outY / awayM) * chordM;
  towards[2]! += (outZ / awayM) * chordM;
  face.areaPerUnit = halfLengthM * halfWidthM;
  if (face.slim) placeEnds(face, alongM, awayM, chordM, halfLengthM, radiusM, lit === null);
  else placeRims(face, alongM, awayM, chordM, halfLengthM, halfWidthM, radiusM);
  return true;
}

/** Ends of a slim tube as straight lines, where half ellipses of the same area as its rims would lie. */
function placeEnds(
  face: EmitterFace,
  alongM: number,
  awayM: number,
  chordM: number,
  halfLengthM: number,
  radiusM: number,
  isLitAllRound: boolean,
): void {
  const { corners } = face;
  // From one line of tangents to the other, where nothing of it is dark.
  const low = isLitAllRound ? -1 : rimPlace(seen[0]!, awayM, chordM, radiusM);
  const high = isLitAllRound ? 1 : rimPlace(seen[1]!, awayM, chordM, radiusM);
  const mean = isLitAllRound ? Math.PI / 4 : meanOfEllipse(low, high);
  const reach = 1 + mean * ((awayM - chordM) / (awayM - radiusM) - 1);
  const far = (alongM + (halfLengthM - alongM) * reach) / halfLengthM;
  const near = (alongM + (-halfLengthM - alongM) * reach) / halfLengthM;
  corners[1] = low;
  corners[3] = low;
  corners[5] = high;
  corners[7] = high;
  corners[0] = near;
  corners[2] = far;
  corners[4] = far;
  corners[6] = near;
  face.extentU = Math.max(Math.abs(far), Math.abs(near));
}

/** Place v on the chord plane of the skin at a turn. */
const rimPlace = (turned: number, awayM: number, chordM: number, radiusM: number): number =>
  (radiusM * Math.sin(turned) * (awayM - chordM)) /
  ((awayM - radiusM * Math.cos(turned)) * radiusM * Math.sqrt(1 - (radiusM / awayM) ** 2));

function placeRims(
  face: EmitterFace,
  alongM: number,
  awayM: number,
  chordM: number,
  halfLengthM: number,
  halfWidthM: number,
  radiusM: number,
): void {
  const { corners } = face;
  const perRim = corners.length / 4;
  let extentU = 0;
  for (let i = 0; i < perRim; i++) {
    const turned = seen[0]! + ((seen[1]! - seen[0]!) * i) / (perRim - 1);
    const reach = (awayM - chordM) / (awayM - radiusM * Math.cos(turned)); // central projection on to the chord plane
    const v = (radiusM * Math.sin(turned) * reach) / halfWidthM;
    const far = (alongM + (halfLengthM - alongM) * reach) / halfLengthM;
    const near = (alongM + (-halfLengthM - alongM) * reach) / halfLengthM;
    corners[2 * i] = far;
    corners[2 * i + 1] = v;
    corners[2 * (2 * perRim - 1 - i)] = near;
    corners[2 * (2 * perRim - 1 - i) + 1] = v;
    extentU = Math.max(extentU, Math.abs(far), Math.abs(near));
  }
  face.extentU = extentU;
}

/** Lambert's contour integral of an evenly bright patch of a face: exact however near it is, but for arcs, taken in chords. */
export function contourIlluminance(
  { towards: w, halfU: U, halfV: V }: EmitterFace,
  luminance: number,
  receiverNormal: Vec3,
  outline: readonly (readonly [u: number, v: number])[],
): number {
  const corners = outline.map(([u, v]): Vec3 => [
    w[0]! + u * U[0]! + v * V[0]!,
    w[1]! + u * U[1]! + v * V[1]!,
    w[2]! + u * U[2]! + v * V[2]!,
  ]);
  return uniformPolygonIlluminance(luminance, corners, [0, 0, 0], receiverNormal);
}
