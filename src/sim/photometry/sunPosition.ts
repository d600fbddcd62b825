/** Where the sun stands at a place and hour. */
import { toDegrees, toRadians } from '../../scene/geometry/frames';

export interface SunHour {
  /** North and east are positive, degrees. */
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** "2025-10-18". */
  readonly date: string;
  /** "16:30" or "16:30:30", by a clock that runs `utcOffsetHours` before universal time. */
  readonly clock: string;
  readonly utcOffsetHours: number;
  readonly pressureHPa?: number;
  readonly temperatureC?: number;
}
export interface SunPosition {
  /** Up from level as it is seen, refraction included, degrees. */
  readonly altitudeDeg: number;
  /** Clockwise from true north, 0..360 degrees. */
  readonly azimuthDeg: number;
}

const sin = (angleDeg: number): number => Math.sin(toRadians(angleDeg));
const cos = (angleDeg: number): number => Math.cos(toRadians(angleDeg));
const turn = (angleDeg: number): number => ((angleDeg % 360) + 360) % 360;

/** Terrestrial less universal time in these decades, s; a minute more or less moves the sun by 0.0007°. */
const DELTA_T_S = 69;
const HORIZONTAL_PARALLAX_DEG = 8.794 / 3600;
const USUAL_PRESSURE_HPA = 1013.25;
const USUAL_TEMPERATURE_C = 10;
/** Geometric altitude under which no light of the sun's disc is lifted over the horizon, degrees. */
const LOWEST_REFRACTED_DEG = -0.83;

/** Apparent right ascension and declination, degrees, and distance, au, `centuries` after 2000. */
function equatorial(centuries: number): { ascensionDeg: number; declinationDeg: number; distanceAu: number } {
  const t = centuries;
  const meanLongitude = 280.46646 + t * (36000.76983 + 0.0003032 * t);
  const anomaly = 357.52911 + t * (35999.05029 - 0.0001537 * t);
  const eccentricity = 0.016708634 - 0.000042037 * t;
  const centre =
    (1.914602 - t * (0.004817 + 0.000014 * t)) * sin(anomaly) +
    (0.019993 - 0.000101 * t) * sin(2 * anomaly) +
    0.000289 * sin(3 * anomaly);
  const node = 125.04 - 1934.136 * t;
  const longitude = meanLongitude + centre - 0.00569 - 0.00478 * sin(node);
  const obliquity = 23.439291 - 0.0130042 * t + 0.00256 * cos(node);
  return {
    ascensionDeg: toDegrees(Math.atan2(cos(obliquity) * sin(longitude), cos(longitude))),
    declinationDeg: toDegrees(Math.asin(sin(obliquity) * sin(longitude))),
    distanceAu: (1.000001018 * (1 - eccentricity ** 2)) / (1 + eccentricity * cos(anomaly + centre)),
  };
}

/** Lift of a body at geometric altitude `altitudeDeg` by the air, degrees; 0 well under the horizon. */
export function refractionDeg(altitudeDeg: number, pressureHPa: number, temperatureC: number): number {
  if (altitudeDeg < LOWEST_REFRACTED_DEG) return 0;
  const bent = 1.02 / (60 * Math.tan(toRadians(altitudeDeg + 10.3 / (altitudeDeg + 5.11))));
  return (pressureHPa / 1010) * (283 / (273 + temperatureC)) * bent;
}

/**
 * Apparent altitude and azimuth of the sun's centre, to about 0.01 degree between 1950 and 2050.
 * @throws {RangeError} for a date or a clock that is none
 * @source J. Meeus, Astronomical Algorithms, 2nd ed., chapters 12, 13, 25 and 40 (low precision); refraction as in I. Reda
 *   and A. Andreas, Solar Position Algorithm, NREL/TP-560-34302 (2008), eq. 42
 * @remarks Leaves out the observer's height, and mountains and houses in the way.
 */
export function sunPosition(hour: SunHour): SunPosition {
  const clock = /^\d{2}:\d{2}$/.test(hour.clock) ? `${hour.clock}:00` : hour.clock;
  const localMs = Date.parse(`${hour.date}T${clock}Z`);
  if (!Number.isFinite(localMs)) throw new RangeError(`no such hour: ${hour.date} ${hour.clock}`);
  const days = (localMs - hour.utcOffsetHours * 3_600_000) / 86_400_000 + 2440587.5 - 2451545;
  const centuries = days / 36525;
  const { ascensionDeg, declinationDeg, distanceAu } = equatorial((days + DELTA_T_S / 86400) / 36525);
  const node = 125.04 - 1934.136 * centuries;
  const sidereal =
    280.46061837 + 360.98564736629 * days + 0.000387933 * centuries ** 2 - 0.00478 * sin(node) * cos(23.44);
  const hourAngle = sidereal + hour.longitudeDeg - ascensionDeg;
  const { latitudeDeg } = hour;
  const sine = sin(latitudeDeg) * sin(declinationDeg) + cos(latitudeDeg) * cos(declinationDeg) * cos(hourAngle);
  const fromCentre = toDegrees(Math.asin(Math.max(-1, Math.min(1, sine))));
  const geometric = fromCentre - (HORIZONTAL_PARALLAX_DEG / distanceAu) * cos(fromCentre);
  const { pressureHPa = USUAL_PRESSURE_HPA, temperatureC = USUAL_TEMPERATURE_C } = hour;
  const east = -cos(declinationDeg) * sin(hourAngle);
  const north = sin(declinationDeg) * cos(latitudeDeg) - cos(declinationDeg) * sin(latitudeDeg) * cos(hourAngle);
  return {
    altitudeDeg: geometric + refractionDeg(geometric, pressureHPa, temperatureC),
    azimuthDeg: turn(toDegrees(Math.atan2(east, north))),
  };
}
