/** A grid of places to hold a meter to, what it should read there, and what readings say of the plan. */
import type { Point2, SceneDocument } from '../../scene/schema';
import type { CompiledScene } from '../solve/compiled';
import { METER_QUALITY } from '../solve/quality';
import { solveGrid } from '../solve/solveGrid';
import { coverageArea } from './evenness';

export const METERING_GRIDS = [
  { columns: 3, rows: 3 },
  { columns: 5, rows: 3 },
] as const;

export interface MeteringPoint {
  /** Letter of the row from the top, number of the column from the left: A1 is top left, seen from the lit side. */
  readonly label: string;
  readonly column: number;
  /** Counted from the top. */
  readonly row: number;
  readonly atM: Point2;
  readonly expectedLx: number;
}

/** Points at the middles of even cells over the area, top row first, with the simulated level of all the setup's lamps. */
export function meteringGrid(
  scene: CompiledScene,
  document: SceneDocument,
  surfaceId: string,
  size: { readonly columns: number; readonly rows: number },
): MeteringPoint[] {
  const { region } = coverageArea(document, surfaceId).request;
  const grid = solveGrid(scene, { surfaceId, ...size, ...(region && { region }) }, {}, METER_QUALITY);
  return Array.from({ length: size.rows * size.columns }, (_, index) => {
    const row = Math.floor(index / size.columns);
    const column = index % size.columns;
    const fromFoot = size.rows - 1 - row;
    return {
      label: `${String.fromCharCode(65 + row)}${column + 1}`,
      row,
      column,
      atM: [
        grid.leftM + ((column + 0.5) * grid.widthM) / size.columns,
        grid.bottomM + ((fromFoot + 0.5) * grid.heightM) / size.rows,
      ],
      expectedLx: grid.illuminanceLx[fromFoot * size.columns + column]!,
    };
  });
}

export interface MeteringComparison {
  /** Points that were read and where light was expected. */
  readonly count: number;
  /** Mean of log2(read / expected): the whole level is this many stops off. */
  readonly biasStops: number;
  /** What is left once the bias is taken out: standard deviation, stops; null for one reading. */
  readonly spreadStops: number | null;
  readonly worst: { readonly label: string; readonly offStops: number };
  readonly measuredRangeStops: number | null;
  readonly expectedRangeStops: number | null;
  /** Factor on the outputs that takes the bias out. */
  readonly outputFactor: number;
}

const rangeOf = (levels: readonly number[]): number | null =>
  levels.length < 2 ? null : Math.log2(Math.max(...levels) / Math.min(...levels));

/**
 * Readings against expected levels.
 * @param readingsLx by label; points without one, and readings that are not above 0, are left out
 * @returns null where nothing can be compared
 * @remarks A bias is a lamp that gives more or less than its figure; a spread is a lamp that stands or looks elsewhere.
 */
export function compareReadings(
  points: readonly MeteringPoint[],
  readingsLx: Readonly<Record<string, number>>,
): MeteringComparison | null {
  const pairs = points.flatMap(({ label, expectedLx }) => {
    const readLx = readingsLx[label];
    return readLx !== undefined && readLx > 0 && expectedLx > 0 ? [{ label, readLx, expectedLx }] : [];
  });
  if (pairs.length === 0) return null;
  const offs = pairs.map(({ readLx, expectedLx }) => Math.log2(readLx / expectedLx));
  const biasStops = offs.reduce((sum, off) => sum + off, 0) / offs.length;
  const squares = offs.reduce((sum, off) => sum + (off - biasStops) ** 2, 0);
  const left = offs.map((off) => off - biasStops);
  const worst = left.reduce((at, off, i) => (Math.abs(off) > Math.abs(left[at]!) ? i : at), 0);
  return {
    count: pairs.length,
    biasStops,
    spreadStops: pairs.length > 1 ? Math.sqrt(squares / (pairs.length - 1)) : null,
    worst: { label: pairs[worst]!.label, offStops: left[worst]! },
    measuredRangeStops: rangeOf(pairs.map(({ readLx }) => readLx)),
    expectedRangeStops: rangeOf(pairs.map(({ expectedLx }) => expectedLx)),
    outputFactor: 2 ** biasStops,
  };
}
