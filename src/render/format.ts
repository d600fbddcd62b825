/** Figures as the drawings letter them, in the units that the sheet's state names. */
import { LUX_PER_FOOTCANDLE, type IlluminanceUnit, type LengthUnit } from '../scene/units/convert';
import {
  formatAngle,
  formatIlluminance,
  formatLength as formatLengthIn,
  formatStops as formatThirds,
} from '../scene/units/format';

export interface UnitChoice {
  readonly length: LengthUnit;
  readonly illuminance: IlluminanceUnit;
}

export const MINUS = '\u2212';
export { formatThirds };

/** Lux in one of the chosen unit. */
export const unitLx = (units: UnitChoice): number => (units.illuminance === 'lux' ? 1 : LUX_PER_FOOTCANDLE);
export const illuminanceUnit = (units: UnitChoice): string => (units.illuminance === 'lux' ? 'lx' : 'fc');
export const formatLevel = (illuminanceLx: number, units: UnitChoice): string =>
  formatIlluminance(illuminanceLx, units.illuminance);

/** A length or a place. */
export const formatLength = (lengthM: number, units: UnitChoice): string => formatLengthIn(lengthM, units.length);
/** The width of a shadow edge. */
export const formatFineLength = (lengthM: number, units: UnitChoice): string =>
  formatLengthIn(lengthM, units.length, true);

/** Whole degrees. */
export const formatDegrees = (angleDeg: number): string => formatAngle(angleDeg, 'verdict');
/** A pan for a tag: whole degrees, 0 to 359. */
export const formatPan = (panDeg: number): string => formatDegrees(((Math.round(panDeg) % 360) + 360) % 360);
