/** Levels at 5 x 5 places of a map, for those who read numbers rather than colours. */
import { formatIlluminance, formatLength, formatStops } from '../../scene/units/format';
import type { Quantity } from '../../render/contract';
import type { GridResult } from '../../sim/results';
import type { Units } from './format';

export const TABLE_SIZE = 5;
export interface LevelTableData {
  readonly columnHeads: readonly string[];
  /** From the top of the surface down. */
  readonly rows: readonly { readonly head: string; readonly cells: readonly string[] }[];
}

/** What a map shows in one cell, in words. "-" off the surface and where a comparison has nothing to compare. */
function cellWords(
  levelLx: number,
  sunLx: number | undefined,
  quantity: Quantity,
  referenceLx: number,
  units: Units,
): string {
  switch (quantity) {
    case 'illuminance':
      return formatIlluminance(levelLx, units.illuminance);
    case 'stopsOff':
      return levelLx > 0 ? formatStops(Math.log2(levelLx / referenceLx)) : 'none';
    case 'lampOverSun':
      return levelLx > 0 && sunLx !== undefined && sunLx > 0 ? formatStops(Math.log2(levelLx / sunLx)) : '-';
  }
}

/** The cells nearest to the middles of 5 x 5 equal fields; fewer where the grid itself has fewer. */
export function levelTable(
  grid: GridResult,
  quantity: Quantity,
  referenceLx: number,
  units: Units,
  sunLx?: Float32Array,
): LevelTableData {
  const places = (count: number): number[] => {
    const size = Math.min(TABLE_SIZE, count);
    return Array.from({ length: size }, (_, index) => Math.floor(((index + 0.5) * count) / size));
  };
  const columns = places(grid.columns);
  const rows = places(grid.rows).reverse();
  const rightM = (column: number): number => grid.leftM + ((column + 0.5) * grid.widthM) / grid.columns;
  const upM = (row: number): number => grid.bottomM + ((row + 0.5) * grid.heightM) / grid.rows;
  return {
    columnHeads: columns.map((column) => formatLength(rightM(column), units.length)),
    rows: rows.map((row) => ({
      head: formatLength(upM(row), units.length),
      cells: columns.map((column) => {
        const cell = row * grid.columns + column;
        if (grid.mask[cell] === 0) return '-';
        return cellWords(grid.illuminanceLx[cell] ?? 0, sunLx?.[cell], quantity, referenceLx, units);
      }),
    })),
  };
}
