/** What stands beside a drag or a nudge, in words. */
import type { SnapMark } from '../../render/contract';
import { formatAngle, formatLength } from '../../scene/units/format';
import { stretchOf } from '../tools/draw/drawing';
import type { Travel } from '../tools/tool';
import type { WallEnds } from '../tools/walls';
import { formatTravel, type Units } from '../words/format';

/** Length of a wall, and its bearing from its left end to its right one. */
export function wallWords({ left, right }: WallEnds, movedM: number, units: Units): string {
  const { lengthM, directionDeg } = stretchOf(left, right);
  const moved = movedM > 5e-4 ? `moved ${formatLength(movedM, units.length)}, ` : '';
  return `${moved}${formatLength(lengthM, units.length)} long, bearing ${formatAngle(directionDeg)}`;
}

function travelWords(travel: Travel, units: Units): string {
  switch (travel.kind) {
    case 'turned':
      return formatAngle(travel.deltaDeg);
    case 'walled':
      return wallWords(travel.ends, travel.movedM, units);
    case 'held':
      return travel.why;
    default:
      return formatTravel(travel.deltaM, units);
  }
}

/** How far the drag has come, and what it rests on. */
export const travelNote = (travel: Travel, units: Units, snaps: readonly SnapMark[]): string =>
  [travelWords(travel, units), ...snaps.map((mark) => mark.word)].join(', ');
