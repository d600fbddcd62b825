/** The only home of factors between units. */

/** One foot, exactly (international yard and pound agreement, 1959; kept by NIST SP 811, appendix B). */
export const METRES_PER_FOOT = 0.3048;
export const METRES_PER_INCH = METRES_PER_FOOT / 12;
export const METRES_PER_YARD = METRES_PER_FOOT * 3;
/** One footcandle is one lumen a square foot: 1 / 0.3048² lx, exactly. */
export const LUX_PER_FOOTCANDLE = 1 / (METRES_PER_FOOT * METRES_PER_FOOT);

export const footcandlesFromLux = (illuminanceLx: number): number => illuminanceLx / LUX_PER_FOOTCANDLE;
export const luxFromFootcandles = (footcandles: number): number => footcandles * LUX_PER_FOOTCANDLE;
/** Reciprocal megakelvin of a colour temperature. */
export const miredFromKelvin = (cctK: number): number => 1e6 / cctK;

export type LengthUnit = 'metres' | 'feet';
export type IlluminanceUnit = 'lux' | 'footcandles';
