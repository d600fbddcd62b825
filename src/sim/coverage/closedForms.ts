/** Coverage by closed form: footprints, distances for a range, spacing of two lamps. Metres, degrees, stops. */
import { cosDeg, sinDeg, toRadians } from '../../scene/geometry/frames';

export interface Footprint {
  /** From where the axis meets the surface, along it; away from and towards the lamp. */
  readonly farM: number | null;
  readonly nearM: number;
  readonly widthM: number | null;
  /** The far side never meets the surface: the light runs off along it. */
  readonly runsOff: boolean;
}

/**
 * Where a cone about the axis meets a plane: distances from the aim along the plane, and its greatest width.
 * D sin t / cos(i + t) beyond the aim, D sin t / cos(i - t) short of it, width 2 D tan t / sqrt(1 - (e/a)²).
 * @param halfAngleDeg  t, half the beam (50 % of peak intensity) or field angle (10 %), above 0 and below 90
 * @param aimDistanceM  D, along the axis, positive
 * @param incidenceDeg  i, between the axis and the plane's normal, 0 up to 90
 * @throws {RangeError} outside those
 * @remarks The line where the surface itself reads half its brightest is another curve.
 * @source plane section of a right circular cone; judgement definition 3, footprint
 */
export function footprintOf(halfAngleDeg: number, aimDistanceM: number, incidenceDeg: number): Footprint {
  if (!(halfAngleDeg > 0 && halfAngleDeg < 90)) throw new RangeError(`half angle ${halfAngleDeg} degrees`);
  if (!(aimDistanceM > 0)) throw new RangeError(`aim distance ${aimDistanceM} m`);
  if (!(incidenceDeg >= 0 && incidenceDeg < 90)) throw new RangeError(`incidence ${incidenceDeg} degrees`);
  const reachM = aimDistanceM * sinDeg(halfAngleDeg);
  const nearM = reachM / cosDeg(incidenceDeg - halfAngleDeg);
  if (incidenceDeg + halfAngleDeg >= 90) return { farM: null, nearM, widthM: null, runsOff: true };
  const farM = reachM / cosDeg(incidenceDeg + halfAngleDeg);
  const offCentre = (farM - nearM) / (farM + nearM);
  const widthM = (2 * aimDistanceM * Math.tan(toRadians(halfAngleDeg))) / Math.sqrt(1 - offCentre ** 2);
  return { farM, nearM, widthM, runsOff: false };
}

/**
 * Distance of a point lamp from the nearest of two points in line with it, `depthM` apart, that keeps them within `stops`.
 * @source inverse square: w / (2^(s/2) - 1)
 */
export const distanceForDepthM = (depthM: number, stops: number): number => depthM / (2 ** (stops / 2) - 1);

/**
 * Distance of a lamp of intensity cos^n, aimed square on at the middle of a flat strip, that keeps it within `stops`.
 * @source E = I cos^(n+3) / h² on the plane: (w/2) / sqrt(2^(2s/(n+3)) - 1)
 */
export const distanceForFlatM = (widthM: number, exponent: number, stops: number): number =>
  widthM / 2 / Math.sqrt(2 ** ((2 * stops) / (exponent + 3)) - 1);

/**
 * Spacing of two like cos^n lamps square on to a plane, `throwM` before it, that makes the middle flattest; equal to the
 * throw for lamps as bright every way.
 * @source second derivative of the sum at the middle set to 0: 2h / sqrt(n + 4)
 */
export const flattestSpacingM = (throwM: number, exponent: number): number => (2 * throwM) / Math.sqrt(exponent + 4);
