/** What a gel does to the colour of a light. */
import type { Colour } from '../../scene/schema';
import { cctAndDuv, chromaticityFromCct, chromaticityOf, shiftCctK } from './cct';

/** Ends of the Planckian locus as it is held here, K. */
const COLDEST_K = 1000;
const HOTTEST_K = 100_000;

/**
 * Colour after a gel.
 * @param miredShift added to 1e6 / CCT; positive warms
 * @param greenShift added to Duv; positive is towards green
 * @returns null where the light has no colour temperature, before the gel or after it
 * @remarks A shift is nominal: it is the filter maker's figure for one white light, and another spectrum shifts by
 *   another amount. Shifts of a stack add in any order. @source check values 7.7 (mired shifts add), 7.8 (sign of Duv)
 */
export function shiftColour(colour: Colour, miredShift: number, greenShift: number): Colour | null {
  if (miredShift === 0 && greenShift === 0) return colour;
  const before = 'cctK' in colour ? { cctK: colour.cctK, duv: colour.duv ?? 0 } : cctAndDuv(chromaticityOf(colour));
  if (before === null) return null;
  const cctK = shiftCctK(before.cctK, miredShift);
  if (!(cctK >= COLDEST_K && cctK <= HOTTEST_K)) return null;
  const { x, y } = chromaticityFromCct(cctK, before.duv + greenShift);
  return { x, y };
}
