/** The direct beam of the sun through a clear sky: its level and its colour by altitude. */
import { sinDeg } from '../../scene/geometry/frames';
import { chromaticityFromXyz, xyzFromSpectrum, type Chromaticity, type Xyz } from './chromaticity';
import { cctAndDuv, type CctDuv } from './cct';

/** Mean normal illuminance outside the atmosphere, lux (IES 1984). Published values run from 127 500 to 133 800. */
export const EXTRATERRESTRIAL_ILLUMINANCE_LX = 127_500;
/** Extinction of the beam per air mass, clear sky (IES 1984). */
export const CLEAR_SKY_EXTINCTION = 0.21;
/** Turbidity of a very clear sky: the one that the judgement takes for its sun. */
export const VERY_CLEAR_TURBIDITY = 2;
/** Solid angle of the mean solar disc, sr: 2 pi (1 - cos(0.533 deg / 2)). */
const SUN_SOLID_ANGLE_SR = 6.799961531964533e-5;
const LUMENS_PER_WATT = 683;

/**
 * Air mass along the line of sight, 1 at the zenith of a flat atmosphere, 37.9 at the horizon.
 * @param altitudeDeg 0 to 90, apparent
 * @throws {RangeError} below the horizon
 * @source Kasten & Young, Appl. Opt. 28, 4735 (1989)
 */
export function airMass(altitudeDeg: number): number {
  if (!(altitudeDeg >= 0 && altitudeDeg <= 90)) {
    throw new RangeError(`Air mass is known from 0 to 90 degrees of altitude, not ${altitudeDeg}.`);
  }
  return 1 / (sinDeg(altitudeDeg) + 0.50572 * (altitudeDeg + 6.07995) ** -1.6364);
}

/**
 * Normal illuminance outside the atmosphere on a day of the year, lux.
 * @param dayOfYear 1 is 1 January
 * @source IES, Recommended Practice for the Calculation of Daylight Availability, J. IES 13(4), 381 (1984)
 */
export function extraterrestrialIlluminanceLx(dayOfYear: number): number {
  return EXTRATERRESTRIAL_ILLUMINANCE_LX * (1 + 0.034 * Math.cos((2 * Math.PI * (dayOfYear - 2)) / 365));
}

/** Beam left after `mass` air masses: E exp(-c m), lux (IES 1984). */
export function attenuatedBeamLx(outsideLx: number, extinction: number, mass: number): number {
  return outsideLx * Math.exp(-extinction * mass);
}

/**
 * Direct normal illuminance of the sun under a clear sky, lux; 0 below the horizon.
 * @param dayOfYear sets the distance of the sun; its yearly mean if absent
 * @remarks Good to some 20 %: the sky's clearness decides. The air mass is Kasten and Young's, because 1 / sin h is
 *   already 22 % low at 5 degrees.
 * @source IES, J. IES 13(4), 381 (1984), with c = 0.21 for a clear sky
 */
export function directNormalIlluminanceLx(
  altitudeDeg: number,
  dayOfYear?: number,
  extinction = CLEAR_SKY_EXTINCTION,
): number {
  if (altitudeDeg < 0) return 0;
  const outsideLx =
    dayOfYear === undefined ? EXTRATERRESTRIAL_ILLUMINANCE_LX : extraterrestrialIlluminanceLx(dayOfYear);
  return attenuatedBeamLx(outsideLx, extinction, airMass(altitudeDeg));
}

type SpectralTable = readonly (readonly [wavelengthNm: number, value: number])[];

/** Radiance of the sun, 380 to 750 nm, in 100 W m^-2 nm^-1 sr^-1: Preetham et al., Table 2. */
const SUN_RADIANCE: SpectralTable = [
  165.5, 162.3, 211.2, 258.8, 258.2, 242.3, 267.6, 296.6, 305.4, 300.6, 306.6, 288.3, 287.1, 278.2, 271.0, 272.3, 263.6,
  255.0, 250.6, 253.1, 253.5, 251.3, 246.3, 241.7, 236.8, 232.1, 228.2, 223.4, 219.7, 215.3, 211.0, 207.3, 202.4, 198.7,
  194.3, 190.7, 186.3, 182.6,
].map((radiance, index) => [380 + 10 * index, radiance] as const);
/** Absorption of ozone, cm^-1: Iqbal 1983, p. 127. */
// prettier-ignore
const OZONE: SpectralTable = [
  [355, 0], [445, 0.003], [450, 0.003], [455, 0.004], [460, 0.006], [465, 0.008], [470, 0.009], [475, 0.012],
  [480, 0.014], [485, 0.017], [490, 0.021], [495, 0.025], [500, 0.03], [505, 0.035], [510, 0.04], [515, 0.045],
  [520, 0.048], [525, 0.057], [530, 0.063], [535, 0.07], [540, 0.075], [545, 0.08], [550, 0.085], [555, 0.095],
  [560, 0.103], [565, 0.11], [570, 0.12], [575, 0.122], [580, 0.12], [585, 0.118], [590, 0.115], [595, 0.12],
  [600, 0.125], [605, 0.13], [610, 0.12], [620, 0.105], [630, 0.09], [640, 0.079], [650, 0.067], [660, 0.057],
  [670, 0.048], [680, 0.036], [690, 0.028], [700, 0.023], [710, 0.018], [720, 0.014], [730, 0.011], [740, 0.01],
  [750, 0.009], [760, 0.007], [770, 0.004], [780, 0],
];
/** Absorption of water vapour, cm^-1: Iqbal 1983, p. 130. */
// prettier-ignore
const WATER: SpectralTable = [
  [689, 0], [690, 0.016], [700, 0.024], [710, 0.0125], [720, 1], [730, 0.87], [740, 0.061], [750, 0.001], [760, 0.00001],
];
const OZONE_CM = 0.35;
const WATER_CM = 2;

/** Value of a table at a wavelength, linear between its rows; 0 outside them. */
function tableAt(table: SpectralTable, wavelengthNm: number): number {
  const above = table.findIndex(([rowNm]) => rowNm >= wavelengthNm);
  const high = table[above];
  if (!high) return 0;
  if (high[0] === wavelengthNm) return high[1];
  const low = table[above - 1];
  return low ? low[1] + ((high[1] - low[1]) * (wavelengthNm - low[0])) / (high[0] - low[0]) : 0;
}

/** Share of the beam that passes `mass` air masses at one wavelength. */
function beamTransmittance(wavelengthNm: number, mass: number, turbidity: number): number {
  const micrometres = wavelengthNm / 1000;
  const rayleigh = 0.008735 * micrometres ** -4.08;
  const aerosol = (0.0460836582205 * turbidity - 0.04586025928522) * micrometres ** -1.3;
  const ozone = tableAt(OZONE, wavelengthNm) * OZONE_CM;
  const water = tableAt(WATER, wavelengthNm) * WATER_CM * mass;
  return Math.exp(-mass * (rayleigh + aerosol + ozone) - (0.2385 * water) / (1 + 20.07 * water) ** 0.45);
}

/** Tristimulus values of the beam through `mass` air masses; Y in lux, 127 990 outside the atmosphere. */
export function sunBeamXyz(mass: number, turbidity = VERY_CLEAR_TURBIDITY): Xyz {
  const toLux = 100 * LUMENS_PER_WATT * SUN_SOLID_ANGLE_SR;
  return xyzFromSpectrum(
    (wavelengthNm) =>
      toLux * tableAt(SUN_RADIANCE, wavelengthNm) * (mass > 0 ? beamTransmittance(wavelengthNm, mass, turbidity) : 1),
  );
}

/**
 * Colour of the sun's direct beam at an altitude under a clear sky.
 * @param altitudeDeg apparent altitude of the sun, up to 90
 * @param turbidity 2 very clear, 3 clear
 * @returns chromaticity with its CCT in K and Duv; null below the horizon, or where no CCT can be said (under 1000 K)
 * @remarks Derived, not a measured table: treat it as good to 10 % in CCT, some 22 mired at 4500 K. Blue sky is left out.
 * @source Preetham, Shirley & Smits, SIGGRAPH 1999, Appendix A.1 (attenuation after Iqbal 1983, ozone 0.35 cm, water
 *   2 cm), with the air mass of Kasten & Young 1989 and the CIE 1931 observer at 5 nm
 */
export function sunColour(altitudeDeg: number, turbidity = VERY_CLEAR_TURBIDITY): (Chromaticity & CctDuv) | null {
  if (!(altitudeDeg >= 0)) return null;
  const chromaticity = chromaticityFromXyz(sunBeamXyz(airMass(altitudeDeg), turbidity));
  const reading = chromaticity && cctAndDuv(chromaticity);
  return chromaticity && reading ? { ...chromaticity, ...reading } : null;
}
