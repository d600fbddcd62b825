/** What the fit of meter readings says where it cannot give both figures. */
import type { FitLimit, NoFit } from '../../sim/photometry/fitReadings';

export const LIMIT_WORDS: Readonly<Record<FitLimit, string>> = {
  originGiven: 'The origin is given, so the readings tell the output alone.',
  oneReading: 'One reading tells the output alone. A second, well farther off, tells where the origin lies.',
  sameDistance: 'All readings are from one distance: they tell the output alone.',
  originAtFront: 'The origin comes out at the lens, within the readings’ scatter.',
  fallsTooFast:
    'The readings fall off faster than distance allows. Check the distances, and that the meter faced the lamp.',
};
export const NO_FIT_WORDS: Readonly<Record<NoFit, string>> = {
  noReadings: 'No reading above 0 lx, so the lamp gives no light.',
  doesNotFall: 'The readings do not fall off with distance. The farthest one is used alone.',
};
