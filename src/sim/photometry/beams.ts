/** Beams whose intensity depends on the angle from the axis alone: flux, centre-beam candela, beam and field angles. */

/**
 * Flux of a cos^n emitter over its front hemisphere, 2 pi I0 / (n + 1); lm.
 * @source elementary integration of I0 cos^n; same form in Moreno & Sun, Opt. Express 16, 1808, 2008 (from memory)
 */
export const cosinePowerFlux = (peakCd: number, exponent: number): number => (2 * Math.PI * peakCd) / (exponent + 1);

/** Flux of a cos^n emitter inside a cone, 2 pi I0 (1 - cos^(n+1) a) / (n + 1); lm. Source as `cosinePowerFlux`. */
export const cosinePowerFluxWithin = (peakCd: number, exponent: number, halfAngleRad: number): number =>
  -cosinePowerFlux(peakCd, exponent) * Math.expm1((exponent + 1) * Math.log(Math.cos(halfAngleRad)));

/** Centre-beam candela of a cos^n emitter with a given flux; cd. */
export const cosinePowerPeak = (fluxLm: number, exponent: number): number => (fluxLm * (exponent + 1)) / (2 * Math.PI);

/** Exponent n of the cos^n beam that has 50 % of its peak at this half-angle, ln 0.5 / ln cos(a). */
export const cosinePowerExponent = (halfBeamRad: number): number => Math.log(0.5) / Math.log(Math.cos(halfBeamRad));

/** Half-angle at which a cos^n beam has fallen to `level` (0..1) of its peak; radians. */
export const cosinePowerHalfAngle = (exponent: number, level: number): number => Math.acos(level ** (1 / exponent));

/** Solid angle of a circular cone, 2 pi (1 - cos a); sr. */
export const coneSolidAngle = (halfAngleRad: number): number => 4 * Math.PI * Math.sin(halfAngleRad / 2) ** 2;

/** Intensity of a spot that spreads its flux evenly over a cone, I = flux / solid angle; cd. */
export const uniformSpotIntensity = (fluxLm: number, halfAngleRad: number): number =>
  fluxLm / coneSolidAngle(halfAngleRad);

/**
 * Solid angle of a rectangle seen square-on from its axis, 4 atan(w h / (2 d sqrt(4 d² + w² + h²))); sr.
 * What framing shutters pass is this times the intensity, where the intensity is even.
 */
export const rectangleSolidAngle = (widthM: number, heightM: number, distanceM: number): number =>
  4 * Math.atan((widthM * heightM) / (2 * distanceM * Math.sqrt(4 * distanceM ** 2 + widthM ** 2 + heightM ** 2)));

/** Width of a spot's pool on a wall square to its axis, 2 d tan(full/2); m. */
export const poolWidth = (distanceM: number, fullAngleRad: number): number =>
  2 * distanceM * Math.tan(fullAngleRad / 2);
