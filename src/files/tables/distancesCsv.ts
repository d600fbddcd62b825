/** Rows of distances as comma-separated values. */
import type { DistanceRow } from '../../sim/coverage/distanceTable';

/** A header and a line for each row, six figures; nothing between the commas where a figure cannot be said. */
export function distancesCsv(rows: readonly DistanceRow[]): string {
  const number = (value: number | null): string => (value === null ? '' : String(Number(value.toPrecision(6))));
  const head = 'distanceM,meanLx,rangeStops,minOverMean,minOverMax,fanDeg,lampX,lampY,lampZ';
  const lines = rows.map(({ distanceM, meanLx, rangeStops, minOverMean, minOverMax, fanDeg, lampPosition }) =>
    [distanceM, meanLx, rangeStops, minOverMean, minOverMax, fanDeg, ...lampPosition].map(number).join(','),
  );
  return `${[head, ...lines].join('\n')}\n`;
}
