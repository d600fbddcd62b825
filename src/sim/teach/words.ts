/** Sentences that lessons and the reading log share. */
import type { ReadingFit } from '../photometry/fitReadings';
import { decimal } from './say';

/** Output with its 95 % band: "89 800 cd (87 000 to 92 700)"; the band is left out where it is nothing. */
export function formatNumberBand({ candela }: ReadingFit): string {
  const round = (value: number): string => decimal(Number(value.toPrecision(3)), 0);
  const { value, low, high } = candela;
  const band = high / low > 1.001 ? ` (${round(low)} to ${round(high)})` : '';
  return `${round(value)}\u2009cd${band}`;
}
