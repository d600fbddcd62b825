/** The sun's disc: how wide it looks. */
import { coneSolidAngle } from './beams';

/** The sun's semi-diameter at 1 au, arcseconds. @source Auwers 1891, used by the Astronomical Almanac (from memory) */
const SOLAR_SEMIDIAMETER_ARCSEC = 959.63;

/**
 * Angular diameter of the sun's disc at `distanceAu`, radians, from its semi-diameter at 1 au.
 * @remarks With the default semi-diameter 0.04 % more than `angularDiameterOfSphere` of the nominal radius: both are in print.
 */
export function solarAngularDiameter(distanceAu: number, semidiameterArcsec = SOLAR_SEMIDIAMETER_ARCSEC): number {
  const semidiameterRad = (semidiameterArcsec / 3600) * (Math.PI / 180);
  return 2 * Math.asin(Math.sin(semidiameterRad) / distanceAu);
}

/** Angular diameter of a sphere, 2 asin(R/d), radians; both lengths in the same unit. */
export const angularDiameterOfSphere = (radius: number, distance: number): number => 2 * Math.asin(radius / distance);

/** Solid angle of a disc of this angular diameter, 2 pi (1 - cos(alpha/2)); sr. */
export const discSolidAngle = (angularDiameterRad: number): number => coneSolidAngle(angularDiameterRad / 2);
