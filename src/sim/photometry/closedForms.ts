/**
 * Illuminance from unobstructed Lambertian sources by closed form: the test of every integrated emitter, and the fast
 * path where nothing stands in the light. Metres, radians, cd/m², lux.
 */
import { addScaled, cross, dot, length, subtract, type Vec3 } from '../../scene/geometry/vector';

/**
 * Illuminance from a point source, E = I cos(i) / d²; lux, 0 at and beyond grazing incidence.
 * @param intensityCd   luminous intensity towards the point
 * @param incidenceRad  between the receiver's normal and the light
 * @throws {RangeError} if the distance is not positive
 * @source Lambert 1760; ANSI/IES LS-1 [9.1.1]; CIE S 017 17-25-104, photometric distance law
 */
export function pointIlluminance(intensityCd: number, distanceM: number, incidenceRad: number): number {
  requirePositive('distanceM', distanceM);
  return (intensityCd * Math.max(0, Math.cos(incidenceRad))) / (distanceM * distanceM);
}

/**
 * Illuminance from a uniform Lambertian disc at a receiver on its axis, E = pi L R²/(R² + d²) cos(tilt); lux.
 * @param tiltRad  of the receiver against the disc; the disc must be wholly above its horizon
 * @throws {RangeError} if the disc dips below the receiver's horizon (use `uniformPolygonIlluminance`)
 * @source Lambert 1760; Foote 1915 (from memory); Howell catalogue B-12, B-13
 */
export function discIlluminanceOnAxis(luminanceCdM2: number, radiusM: number, distanceM: number, tiltRad = 0): number {
  requirePositive('distanceM', distanceM);
  if (Math.abs(tiltRad) > Math.atan2(distanceM, radiusM) + 1e-12)
    throw new RangeError(`disc cut by the receiver's horizon: tilt ${tiltRad} rad`);
  return ((Math.PI * luminanceCdM2 * radiusM ** 2) / (radiusM ** 2 + distanceM ** 2)) * Math.cos(tiltRad);
}

/**
 * Illuminance from a uniform Lambertian disc on a plane parallel to it, off axis; lux.
 * E = (pi L/2) [1 - (h² + r² - R²)/S], S = sqrt((h² + r² + R²)² - 4 R² r²).
 * @param planeDistanceM  h, between the planes, positive
 * @param offsetM         r, from the axis
 * @source Foote 1915; Moon, Scientific Basis of Illuminating Engineering, 1936 (from memory)
 */
export function discIlluminanceParallel(
  luminanceCdM2: number,
  radiusM: number,
  planeDistanceM: number,
  offsetM: number,
): number {
  requirePositive('planeDistanceM', planeDistanceM);
  const near = planeDistanceM ** 2 + offsetM ** 2 - radiusM ** 2;
  const root = Math.sqrt((near + 2 * radiusM ** 2) ** 2 - 4 * radiusM ** 2 * offsetM ** 2);
  // 1 - near/root loses digits far away; (root - near)(root + near) = 4 R² h² exactly.
  const share = near > 0 ? (4 * radiusM ** 2 * planeDistanceM ** 2) / (root * (root + near)) : 1 - near / root;
  return ((Math.PI * luminanceCdM2) / 2) * share;
}

/**
 * Illuminance from a uniform Lambertian disc on a plane at right angles to it whose normal points at its axis; lux.
 * E = (pi L/2)(h/r) [(h² + r² + R²)/S - 1], written without the difference.
 * @param planeDistanceM  h, of the receiver from the disc's plane, positive
 * @param offsetM         r, from the axis, at least R
 * @throws {RangeError} if r < R: the receiver's horizon then cuts the disc
 * @source Foote 1915; Hamilton & Morgan, NACA TN-2836, 1952 (from memory)
 */
export function discIlluminancePerpendicular(
  luminanceCdM2: number,
  radiusM: number,
  planeDistanceM: number,
  offsetM: number,
): number {
  requirePositive('planeDistanceM', planeDistanceM);
  if (offsetM < radiusM) throw new RangeError(`disc cut by the receiver's horizon: r = ${offsetM} m`);
  const sum = planeDistanceM ** 2 + offsetM ** 2 + radiusM ** 2;
  const root = Math.sqrt(sum ** 2 - 4 * radiusM ** 2 * offsetM ** 2);
  return (2 * Math.PI * luminanceCdM2 * planeDistanceM * offsetM * radiusM ** 2) / (root * (root + sum));
}

/**
 * Configuration factor of a rectangle from a point opposite one of its corners, planes parallel; 0..1/4.
 * E = pi L F for a uniform Lambertian rectangle; other places by adding and subtracting corner rectangles.
 * @source Howell catalogue, parallel rectangle with the normal through a corner (entry number from memory: B-3/B-4)
 */
export function rectangleFactorParallel(widthM: number, heightM: number, distanceM: number): number {
  requirePositive('distanceM', distanceM);
  const x = widthM / distanceM;
  const y = heightM / distanceM;
  const rootX = Math.sqrt(1 + x * x);
  const rootY = Math.sqrt(1 + y * y);
  return ((x / rootX) * Math.atan(y / rootX) + (y / rootY) * Math.atan(x / rootY)) / (2 * Math.PI);
}

/**
 * Configuration factor of a rectangle standing on the receiver's own plane, a corner opposite the receiver; 0..1/4.
 * @param heightM    along the receiver's normal
 * @param widthM     to one side
 * @param distanceM  of the rectangle's plane
 * @source Howell catalogue B-8 with the planes at 90 degrees
 */
export function rectangleFactorPerpendicular(heightM: number, widthM: number, distanceM: number): number {
  requirePositive('distanceM', distanceM);
  const x = heightM / widthM;
  const y = distanceM / widthM;
  const slant = Math.hypot(x, y);
  return (Math.atan(1 / y) - (y / slant) * Math.atan(1 / slant)) / (2 * Math.PI);
}

/**
 * Illuminance from a uniform Lambertian polygon at any receiver (Lambert's contour formula); lux.
 * E = (L/2) |sum theta_i (n . G_i)| over the polygon clipped to the receiver's horizon.
 * @param vertices  of the plane polygon in order, either way round; world metres
 * @param normal    of the receiver, unit length
 * @returns 0 where the polygon lies below the horizon or is seen edge-on; finite with the point on an edge
 * @remarks Shines both ways: whether the point is before the face is the caller's question.
 * @source Lambert 1760; Moon 1936; Baum, Rushmeier & Winget, SIGGRAPH 1989
 */
export function uniformPolygonIlluminance(
  luminanceCdM2: number,
  vertices: readonly Vec3[],
  point: Vec3,
  normal: Vec3,
): number {
  const above = clipToHorizon(
    vertices.map((vertex) => subtract(vertex, point)),
    normal,
  );
  let sum = 0;
  above.forEach((from, index) => {
    const to = above[(index + 1) % above.length] ?? from;
    const across = cross(from, to);
    const size = length(across);
    if (size > 0) sum += (Math.atan2(size, dot(from, to)) * dot(normal, across)) / size;
  });
  return (luminanceCdM2 / 2) * Math.abs(sum);
}

/** The part of a polygon (vectors from the receiver) above the receiver's horizon: Sutherland & Hodgman, one plane. */
function clipToHorizon(polygon: readonly Vec3[], normal: Vec3): Vec3[] {
  const kept: Vec3[] = [];
  polygon.forEach((from, index) => {
    const to = polygon[(index + 1) % polygon.length] ?? from;
    const fromHeight = dot(normal, from);
    const toHeight = dot(normal, to);
    if (fromHeight >= 0) kept.push(from);
    if (fromHeight >= 0 !== toHeight >= 0)
      kept.push(addScaled(from, subtract(to, from), fromHeight / (fromHeight - toHeight)));
  });
  return kept;
}

/**
 * Illuminance from a uniform Lambertian sphere, its part below the receiver's horizon cut off; lux.
 * Wholly above: E = pi L (R/d)² cos t exactly. Cut, with D = d/R and q = sqrt(D² - 1):
 * F = 1/2 - asin(q/(D sin t))/pi + [cos t acos(-q cot t) - q sqrt(1 - D² cos² t)]/(pi D²).
 * @throws {RangeError} if the point lies inside the sphere
 * @source Snyder, MSR-TR-96-11, 1996 (from memory)
 */
export function sphereIlluminance(
  luminanceCdM2: number,
  centre: Vec3,
  radiusM: number,
  point: Vec3,
  normal: Vec3,
): number {
  const towards = subtract(centre, point);
  const distanceM = length(towards);
  if (distanceM < radiusM) throw new RangeError(`receiver inside the sphere: ${distanceM} m from its centre`);
  const cosine = Math.max(-1, Math.min(1, dot(normal, towards) / distanceM));
  const ratio = distanceM / radiusM;
  if (cosine * ratio >= 1) return (Math.PI * luminanceCdM2 * cosine) / ratio ** 2;
  if (cosine * ratio <= -1) return 0;
  const sine = Math.sqrt(1 - cosine * cosine);
  const q = Math.sqrt(ratio * ratio - 1);
  const factor =
    0.5 -
    Math.asin(Math.min(1, q / (ratio * sine))) / Math.PI +
    (cosine * Math.acos(Math.max(-1, Math.min(1, (-q * cosine) / sine))) -
      q * Math.sqrt(Math.max(0, 1 - ratio * ratio * cosine * cosine))) /
      (Math.PI * ratio * ratio);
  return Math.PI * luminanceCdM2 * Math.max(0, factor);
}

/** How a line source's elements radiate and which way its receiver, opposite one end, looks. */
export type LineCase = 'facing' | 'alongLine' | 'facingIsotropic';

/**
 * Illuminance from a straight line source at a receiver opposite one end; lux. Halves add for a foot in between.
 * @param intensityPerMetreCdM  at right angles to the line; elements fall as the cosine to the line except 'facingIsotropic'
 * @param lengthM               from the foot point; Infinity allowed
 * @param lineCase              'facing': normal points at the foot; 'alongLine': normal parallel to the line
 * @source Moon 1936; Walsh, Photometry, 1958 (from memory)
 */
export function lineIlluminance(
  intensityPerMetreCdM: number,
  lengthM: number,
  distanceM: number,
  lineCase: LineCase = 'facing',
): number {
  requirePositive('distanceM', distanceM);
  const scaleLx = intensityPerMetreCdM / distanceM;
  const ratio = lengthM / distanceM;
  if (lineCase === 'facingIsotropic') return ratio === Infinity ? scaleLx : (scaleLx * ratio) / Math.hypot(1, ratio);
  const share = ratio === Infinity ? 1 : ratio ** 2 / (1 + ratio ** 2);
  if (lineCase === 'alongLine') return (scaleLx / 2) * share;
  return (scaleLx / 2) * (Math.atan(ratio) + (ratio === Infinity ? 0 : ratio / (1 + ratio ** 2)));
}

/**
 * Illuminance from a Lambertian tube (lateral surface only) at a receiver opposite one end, facing the axis; lux.
 * Halves add for a receiver opposite a point in between. Far away it is the line source of 2 r L cd per metre.
 * @param axisDistanceM  of the receiver from the axis, more than the radius
 * @throws {RangeError} if the receiver is not outside the tube
 * @source Leuenberger & Person, ASME 56-A-144, 1956; Howell catalogue B-31 (number from memory)
 */
export function tubeIlluminance(
  luminanceCdM2: number,
  radiusM: number,
  lengthM: number,
  axisDistanceM: number,
): number {
  if (!(axisDistanceM > radiusM)) throw new RangeError(`receiver inside the tube: ${axisDistanceM} m from its axis`);
  const l = lengthM / radiusM;
  const h = axisDistanceM / radiusM;
  const x = (1 + h) ** 2 + l * l;
  const y = (1 - h) ** 2 + l * l;
  const first = Math.atan(l / Math.sqrt(h * h - 1)) / (Math.PI * h);
  const second = ((x - 2 * h) / (h * Math.sqrt(x * y))) * Math.atan(Math.sqrt((x * (h - 1)) / (y * (h + 1))));
  const third = Math.atan(Math.sqrt((h - 1) / (h + 1))) / h;
  return Math.PI * luminanceCdM2 * (first + (l / Math.PI) * (second - third));
}

function requirePositive(name: string, value: number): void {
  if (!(value > 0)) throw new RangeError(`${name} must be positive, is ${value}`);
}
