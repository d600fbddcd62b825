/**
 * From light to exposure: the incident law of ISO 2720 with its constant C kept visible, shutter, stops from what the
 * camera is set for. Lux, seconds, ISO speed.
 */
import type { Camera } from '../../scene/schema';

export type Receptor = 'flat' | 'dome';

/** ISO 2720 incident constant with E in lux where the document gives none. The standard allows 240-400 flat, 320-540 dome. */
export const INCIDENT_CONSTANT_FLAT = 250;
export const INCIDENT_CONSTANT_DOME = 340;
/** Reflectance of the mid-grey that a correct incident reading places in the middle; common practice. */
export const MID_GREY_REFLECTANCE = 0.18;

/** Shutter time (angle/360)/fps, seconds. */
export const shutterTimeS = (framesPerSecond: number, shutterAngleDeg: number): number =>
  shutterAngleDeg / 360 / framesPerSecond;

/** T-stop of a lens from its f-number and transmittance, N / sqrt(tau). */
export const tStopFromFNumber = (fNumber: number, transmittance: number): number => fNumber / Math.sqrt(transmittance);

/** Illuminance that a stop, time and speed call for, E = C N²/(S t); lux. @source ISO 2720:1974, incident law */
export const incidentIlluminanceLx = (stop: number, timeS: number, iso: number, constant: number): number =>
  (constant * stop * stop) / (iso * timeS);

/** Stop that an illuminance calls for, N = sqrt(E S t / C). @source ISO 2720:1974, incident law */
export const stopForIlluminance = (illuminanceLx: number, timeS: number, iso: number, constant: number): number =>
  Math.sqrt((illuminanceLx * iso * timeS) / constant);

/** Constant C (lux) that a rule of thumb implies, E S t / N². */
export const impliedIncidentConstant = (illuminanceLx: number, stop: number, timeS: number, iso: number): number =>
  (illuminanceLx * iso * timeS) / (stop * stop);

/** Exposure value of a level, log2(E S / C); EV = log2(N²/t). */
export const exposureValue = (illuminanceLx: number, iso: number, constant: number): number =>
  Math.log2((illuminanceLx * iso) / constant);

/** Illuminance of an exposure value at ISO 100, E = C 2^EV / 100; lux. */
export const illuminanceFromExposureValue = (value: number, constant: number): number => (constant * 2 ** value) / 100;

/** Luminance that a stop, time and speed call for, L = K N²/(S t); cd/m². @source ISO 2720:1974, reflected law */
export const reflectedLuminanceCdM2 = (stop: number, timeS: number, iso: number, constantK: number): number =>
  (constantK * stop * stop) / (iso * timeS);

/** Reflectance at which a reflected and an incident meter agree, pi K / C. */
export const impliedReflectance = (constantK: number, constantC: number): number => (Math.PI * constantK) / constantC;

/** Luminance of a matt surface, rho E / pi; cd/m². @source Lambert 1760 */
export const matteLuminance = (reflectance: number, illuminanceLx: number): number =>
  (reflectance * illuminanceLx) / Math.PI;

/**
 * What a receptor reads of light from one direction, against light square-on: flat cos a, never below 0; ideal dome
 * (1 + cos a)/2, the projected area of a hemisphere.
 * @param cosIncidence  cosine of the angle between the receptor's axis and the light, -1..1
 */
export const receptorResponse = (receptor: Receptor, cosIncidence: number): number =>
  receptor === 'dome' ? (1 + cosIncidence) / 2 : Math.max(0, cosIncidence);

/** The constant C in force for a receptor: the camera basis's own, else the default. */
export function incidentConstant(camera: Camera, receptor: Receptor = 'flat'): number {
  return receptor === 'dome'
    ? (camera.incidentConstantDome ?? INCIDENT_CONSTANT_DOME)
    : (camera.incidentConstantFlat ?? INCIDENT_CONSTANT_FLAT);
}

/**
 * Level the camera is set for, C T²/(S t) 2^offset; lux.
 * The camera's own offset is in stops, positive where this camera needs more light than its index says.
 * @source ISO 2720:1974, incident law, with the T-stop in place of the f-number
 */
export function keyIlluminanceLx(camera: Camera, receptor: Receptor = 'flat'): number {
  const timeS = shutterTimeS(camera.framesPerSecond, camera.shutterAngleDeg);
  const key = incidentIlluminanceLx(camera.tStop, timeS, camera.iso, incidentConstant(camera, receptor));
  return key * 2 ** (camera.offsetStops ?? 0);
}

/** Stops above (positive) or below what the camera is set for, log2(E/key); null without light. */
export function stopsFromCamera(illuminanceLx: number, camera: Camera, receptor: Receptor = 'flat'): number | null {
  return illuminanceLx > 0 ? Math.log2(illuminanceLx / keyIlluminanceLx(camera, receptor)) : null;
}

/** T-stop that places this level as key with the camera's speed, shutter and offset; 0 without light. */
export function tStopForIlluminance(illuminanceLx: number, camera: Camera, receptor: Receptor = 'flat'): number {
  return camera.tStop * Math.sqrt(illuminanceLx / keyIlluminanceLx(camera, receptor));
}

/**
 * Where a matt surface falls against mid-grey, log2(rho E / (0.18 key)) stops; null where it sends nothing back.
 * @param reflectance  rho, 0..1
 */
export function reflectedStopsFromMidGrey(illuminanceLx: number, reflectance: number, camera: Camera): number | null {
  const level = reflectance * illuminanceLx;
  return level > 0 ? Math.log2(level / (MID_GREY_REFLECTANCE * keyIlluminanceLx(camera))) : null;
}
