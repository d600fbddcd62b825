/**
 * A smooth function for the light over a cell of receivers, from a few exact values and held against others. A check can
 * miss what no probe sees, so there are the more of them the more may hide in a cell (docs/physics.md).
 */
import type { GridLight } from './gridLight';
import { biquadraticAt, fitBentBilinear, fitBiquadratic, type Frame, type Place } from './interpolation';
import { MOST_KINKS } from './pieceLists';
import { SharedLight } from './sharedLight';

/** Receivers a side of the smallest cells, which are not quartered any more. */
export const SMALLEST = 4;
/** Receivers a side from which on a biquadratic saves more values than it takes. */
export const WIDE = 8;

/** Corners, middles of the sides and middle of a cell, row by row. */
const NINE: readonly Place[] = [-1, 0, 1].flatMap((t) => [-1, 0, 1].map((s): Place => [s, t]));
/** Half way between corners and middles of the sides. A kink that runs through a cell comes near two of them. */
const QUARTERS: readonly Place[] = [-1, 1].flatMap((side) =>
  [-0.5, 0.5].flatMap((along): Place[] => [
    [along, side],
    [side, along],
  ]),
);
/** An open block, which stands for many cells, and a cell with kinks are looked at within as well. */
const WITHIN: readonly Place[] = [
  [-0.5, -0.5],
  [0.5, 0.5],
];
const WITHIN_AT_KINKS: readonly Place[] = [...WITHIN, [-0.5, 0.5], [0.5, -0.5]];
/** Of the receivers between those that a smallest cell is fitted through. */
const BETWEEN: readonly (readonly [column: number, row: number])[] = [
  [1, 1],
  [2, 3],
  [0, 1],
  [2, 1],
];

/** Shares of the tolerance that residuals may use, smaller where less is seen of a cell or where a kink is in it. */
const BILINEAR = { smallest: 0.7, small: 0.8, wide: 0.8, open: 0.5 } as const;
const BIQUADRATIC = { wide: 0.8, open: 0.5 } as const;
const THROUGH_RECEIVERS = 0.8;
const AT_KINK = 0.6;
const THROUGH_RECEIVERS_AT_KINK = 0.5;

/** smallest: not quartered any more; small and wide: might be quartered instead; open: a block of the open light. */
export type CellKind = 'smallest' | 'small' | 'wide' | 'open';

export class CellFit {
  private readonly light: GridLight;
  private readonly shaded: SharedLight;
  private readonly open: SharedLight;
  private level = 0;
  private kind: CellKind = 'smallest';
  private frame: Frame = { left: 0, bottom: 0, width: 0, height: 0 };
  private coefficients: Float64Array = new Float64Array(9);
  /** Values at NINE, as far as taken. */
  private readonly nine = new Float64Array(9);
  /** Values of the receivers of one of the smallest cells, row by row; NaN where not taken yet. */
  private readonly known = new Float64Array(SMALLEST * SMALLEST);

  constructor(light: GridLight) {
    this.light = light;
    this.shaded = new SharedLight(light);
    this.open = new SharedLight(light);
  }

  /** Takes a cell, the receivers in whose frame see what the list of `level` holds. */
  start(frame: Frame, level: number, kind: CellKind): void {
    this.frame = frame;
    this.level = level;
    this.kind = kind;
    if (kind === 'smallest') this.known.fill(NaN);
  }

  /**
   * Fits the cell's light: first bilinear between the corners and bent to meet the middle; where that does not hold
   * biquadratic, through nine values or, in one of the smallest cells, through nine receivers. In small cells that saves
   * nothing.
   * @param coefficients gets those of s^i t^j at 3 j + i, s and t from -1 to 1 between the frame's sides
   * @returns whether the fit holds where it is checked
   */
  fits(coefficients: Float64Array): boolean {
    const { kind } = this;
    this.coefficients = coefficients;
    const tooManyKinks = this.kinkCount() > MOST_KINKS;
    if (!tooManyKinks && this.fitsBilinear(kind)) return true;
    if (kind === 'smallest') return this.fitsReceivers();
    return !tooManyKinks && kind !== 'small' && this.fitsBiquadratic(kind);
  }

  /** Light at a receiver of one of the smallest cells, counted from its lower left one; each is taken once. */
  receiver(column: number, row: number): number {
    const { frame, known, light } = this;
    const at = row * SMALLEST + column;
    const value = known[at]!;
    if (!Number.isNaN(value)) return value;
    return (known[at] = light.readAt(frame.left + column, frame.bottom + row, this.level));
  }

  private fitsBilinear(kind: CellKind): boolean {
    const { light, nine } = this;
    const strict = BILINEAR[kind];
    const middle = this.take(4);
    // Nothing else is tried between these places in the two smaller kinds, so nothing more is taken for it.
    const isLast = kind === 'smallest' || kind === 'small';
    const isStraight = light.isClose((this.take(0) + this.take(8)) / 2, middle, strict);
    if (!isStraight && isLast) return false;
    const isStraightAcross = light.isClose((this.take(2) + this.take(6)) / 2, middle, strict);
    if (!isStraightAcross && isLast) return false;
    if (kind === 'smallest') {
      fitBentBilinear(nine, this.coefficients);
      return (
        this.holdsBesideMiddles(-1) && this.holdsAtKinks() && (this.kinkCount() === 0 || this.holdsBesideMiddles(1))
      );
    }
    for (let k = 1; k < NINE.length; k += 2) this.take(k);
    if (!isStraight || !isStraightAcross) return false;
    fitBentBilinear(nine, this.coefficients);
    for (let k = 1; k < NINE.length; k += 2) {
      if (!this.holds(NINE[k]![0], NINE[k]![1], nine[k]!, strict)) return false;
    }
    return this.holdsAtKinks();
  }

  /** After a bilinear fit that did not hold. */
  private fitsBiquadratic(kind: 'wide' | 'open'): boolean {
    const { coefficients } = this;
    coefficients.set(this.nine);
    fitBiquadratic(coefficients, 0, 0);
    if (!this.holdsAll(QUARTERS, BIQUADRATIC[kind])) return false;
    if (kind === 'open') return this.holdsAll(WITHIN, BIQUADRATIC.open);
    return this.kinkCount() === 0 || (this.holdsAll(WITHIN_AT_KINKS, BIQUADRATIC.wide) && this.holdsAtKinks());
  }

  /** Takes the value at one of NINE. */
  private take(k: number): number {
    const value = this.valueAt(NINE[k]![0], NINE[k]![1]);
    this.nine[k] = value;
    return value;
  }

  /**
   * Through the receivers of three columns and three rows. Those that are left lie beside them, so that a few tell for all;
   * and every value that was taken stands for its receiver if the fit does not hold.
   */
  private fitsReceivers(): boolean {
    const { width, height } = this.frame;
    if (width < SMALLEST - 1 || height < SMALLEST - 1) return false;
    const { coefficients: c } = this;
    for (let row = 0; row < 3; row++) {
      for (let column = 0; column < 3; column++) {
        c[3 * row + column] = this.receiver(column < 2 ? column : 3, row > 0 ? row + 1 : 0);
      }
    }
    fitBiquadratic(c, -1 / 3, 1 / 3);
    const strict = this.kinkCount() > 0 ? THROUGH_RECEIVERS_AT_KINK : THROUGH_RECEIVERS;
    for (let k = 0; k < BETWEEN.length; k++) {
      if (!this.holdsAtReceiver(BETWEEN[k]![0], BETWEEN[k]![1], strict)) return false;
    }
    return true;
  }

  /** Half-shadows that begin in the cell; none stands in open light. */
  private kinkCount(): number {
    return this.kind === 'open' ? 0 : this.light.occlusion.kinkCount;
  }

  private holdsAtKinks(): boolean {
    const { kinks } = this.light.occlusion;
    for (let k = 0; k < this.kinkCount(); k++) {
      if (!this.holds(kinks[2 * k]!, kinks[2 * k + 1]!, this.valueBetween(kinks[2 * k]!, kinks[2 * k + 1]!), AT_KINK)) {
        return false;
      }
    }
    return true;
  }

  /**
   * Checks the fit of a smallest cell at a receiver on each of two sides, near their middles.
   * @param side -1 for the lower and the left side, 1 for the others
   */
  private holdsBesideMiddles(side: -1 | 1): boolean {
    const { width, height } = this.frame;
    const column = besideMiddle(width);
    const row = besideMiddle(height);
    const strict = BILINEAR.smallest;
    return side < 0
      ? this.holdsAtReceiver(column, 0, strict) && this.holdsAtReceiver(0, height - row, strict)
      : this.holdsAtReceiver(width - column, height, strict) && this.holdsAtReceiver(width, row, strict);
  }

  private holdsAtReceiver(column: number, row: number, strict: number): boolean {
    const { width, height } = this.frame;
    const value = biquadraticAt(this.coefficients, (2 * column) / width - 1, (2 * row) / height - 1);
    return this.light.isClose(value, this.receiver(column, row), strict);
  }

  private holdsAll(places: readonly Place[], strict: number): boolean {
    for (let k = 0; k < places.length; k++) {
      const s = places[k]![0];
      const t = places[k]![1];
      if (!this.holds(s, t, this.valueAt(s, t), strict)) return false;
    }
    return true;
  }

  private holds(s: number, t: number, exact: number, strict: number): boolean {
    return this.light.isClose(biquadraticAt(this.coefficients, s, t), exact, strict);
  }

  /** At a corner of the cell, in its middle, or at half or a quarter of a side. */
  private valueAt(s: number, t: number): number {
    const { frame, kind } = this;
    const column = ((1 + s) * frame.width) / 2;
    const row = ((1 + t) * frame.height) / 2;
    if (kind === 'smallest') return s === 0 ? this.valueBetween(s, t) : this.receiver(column, row);
    const shared = kind === 'open' ? this.open : this.shaded;
    return shared.readAt(frame.left + column, frame.bottom + row, this.level);
  }

  private valueBetween(s: number, t: number): number {
    const { left, bottom, width, height } = this.frame;
    return this.light.readAt(left + ((1 + s) * width) / 2, bottom + ((1 + t) * height) / 2, this.level);
  }
}

/** The receiver before the middle of a side of so many steps, from its end; not the end itself. */
function besideMiddle(steps: number): number {
  return Math.max(1, ((steps + 1) >> 1) - 1);
}
