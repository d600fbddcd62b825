/**
 * A smooth function for the light over a cell of receivers, from a few exact values and held against others. A check can
 * miss what no probe sees, so there are the more of them the more may hide in a cell (docs/physics.md).
 */
import type { GridLight } from './gridLight';
import { biquadraticAt, fitBentBilinear, fitBiquadratic, NODES, type Cell, type Place } from './interpolation';

/** The middle among NODES. */
const MIDDLE = 4;
/** Where a half-shadow begins in the cell, its kink is looked for along the sides too. */
const SIDES: readonly Place[] = [
  [1, 0.4],
  [-0.4, 1],
  [-1, -0.4],
  [0.4, -1],
];
/** An open block is wide and stands for many cells: it is checked between the nodes and along the sides as well. */
const BLOCK_CHECKS: readonly Place[] = [
  [1, 0.5],
  [-1, -0.5],
  [-0.5, 1],
  [0.5, -1],
  [-0.5, -0.5],
  [0.5, 0.5],
];

/** Shares of the tolerance that residuals may use, smaller where less is seen of a cell or where a kink is in it. */
const IN_CELL = 1;
const IN_BLOCK = 0.5;
const BILINEAR = 0.5;
const AT_KINK = 0.6;

/** smallest: not quartered any more; larger: might be quartered instead; open: a block of the open light. */
export type CellKind = 'smallest' | 'larger' | 'open';

export class CellFit {
  private readonly light: GridLight;
  private level = 0;
  private cell: Cell = { column: 0, row: 0, columns: 0, rows: 0 };
  private coefficients: Float64Array = new Float64Array(9);
  /** Values at (-1, -1), (1, -1), (-1, 1), (1, 1). */
  private readonly corners = new Float64Array(4);

  constructor(light: GridLight) {
    this.light = light;
  }

  /**
   * Fits the light of a cell, from the list of `level`: first bilinear between the corners and bent to meet the middle; where
   * that does not hold and the cell is not one of the smallest, biquadratic through nine values.
   * @param coefficients gets those of s^i t^j at 3 j + i, s and t from -1 to 1 between the cell's outer receivers
   * @returns whether the fit holds where it is checked
   */
  fits(cell: Cell, level: number, kind: CellKind, coefficients: Float64Array): boolean {
    this.cell = cell;
    this.level = level;
    this.coefficients = coefficients;
    const { light, corners } = this;
    const strict = kind === 'smallest' ? IN_CELL : BILINEAR;
    const middle = this.valueAt(0, 0);
    corners[0] = this.valueAt(-1, -1);
    corners[3] = this.valueAt(1, 1);
    const isStraight = light.isClose((corners[0] + corners[3]) / 2, middle, strict);
    if (!isStraight && kind === 'smallest') return false;
    corners[1] = this.valueAt(1, -1);
    corners[2] = this.valueAt(-1, 1);
    if (isStraight && light.isClose((corners[1] + corners[2]) / 2, middle, strict)) {
      fitBentBilinear(corners, middle, coefficients);
      if (this.holdsBesideMiddle(-1, strict)) return this.holdsAtKinks(kind);
    }
    return kind !== 'smallest' && this.fitsQuadratic(middle, kind);
  }

  private fitsQuadratic(middle: number, kind: CellKind): boolean {
    const { coefficients: c, corners, light } = this;
    for (let k = 0; k < NODES.length; k++) c[k] = k === MIDDLE ? middle : this.valueAt(NODES[k]![0], NODES[k]![1]);
    fitBiquadratic(c);
    const strict = kind === 'open' ? IN_BLOCK : IN_CELL;
    for (let k = 0; k < corners.length; k++) {
      const value = biquadraticAt(c, k % 2 === 0 ? -1 : 1, k < 2 ? -1 : 1);
      if (!light.isClose(value, corners[k]!, strict)) return false;
    }
    return kind === 'open' ? this.holdsAtAll(BLOCK_CHECKS, IN_BLOCK) : this.holdsAtKinks(kind);
  }

  /**
   * Checks a bilinear fit at a receiver on each of two sides, near their middles.
   * @param side -1 for the lower and the left side, 1 for the others
   */
  private holdsBesideMiddle(side: -1 | 1, strict: number): boolean {
    const { columns, rows } = this.cell;
    const s = 1 - (2 * besideMiddle(columns)) / (columns - 1);
    const t = 1 - (2 * besideMiddle(rows)) / (rows - 1);
    return this.holdsAt(side * s, side, strict) && this.holdsAt(side, -side * t, strict);
  }

  /** Checks the fit where half-shadows begin in the cell, and along its sides. */
  private holdsAtKinks(kind: CellKind): boolean {
    const { kinks, kinkCount } = this.light.occlusion;
    if (kind === 'open' || kinkCount === 0) return true;
    for (let k = 0; k < kinkCount; k++) if (!this.holdsAt(kinks[2 * k]!, kinks[2 * k + 1]!, AT_KINK)) return false;
    return kind === 'smallest' ? this.holdsBesideMiddle(1, IN_CELL) : this.holdsAtAll(SIDES, AT_KINK);
  }

  private holdsAtAll(places: readonly Place[], strict: number): boolean {
    for (let k = 0; k < places.length; k++) if (!this.holdsAt(places[k]![0], places[k]![1], strict)) return false;
    return true;
  }

  private holdsAt(s: number, t: number, strict: number): boolean {
    return this.light.isClose(biquadraticAt(this.coefficients, s, t), this.valueAt(s, t), strict);
  }

  private valueAt(s: number, t: number): number {
    const { column, row, columns, rows } = this.cell;
    return this.light.readAt(column + ((1 + s) * (columns - 1)) / 2, row + ((1 + t) * (rows - 1)) / 2, this.level);
  }
}

/** The receiver before the middle of a side of `count`, from its end; not the end itself. */
function besideMiddle(count: number): number {
  return Math.max(1, (count >> 1) - 1);
}
