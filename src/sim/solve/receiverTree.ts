/**
 * The light of one source on a grid of receivers: a quadtree over the grid. A cell whose receivers all see the same
 * pieces the same way has no shadow edge in it; its light is smooth and is interpolated. Where half-shadows are wide
 * against a cell they are smooth too. Everywhere else the cell is quartered, down to single receivers.
 * Every interpolation is checked against exact values that it did not use (docs/physics.md).
 */
import type { BlockerLayer, CompiledSource } from './compiled';
import type { ReceiverPlane } from './edgeTable';
import { biquadraticAt, CHECKS, fillBiquadratic, fitBentBilinear, fitBiquadratic, NODES } from './interpolation';
import type { Quality } from './quality';
import { ALL_THINGS, ReceiverLight } from './receiverLight';

/** Cells within cells: enough for grids of 2^20 receivers a side. */
const LEVELS = 24;
/** Widest cells that are interpolated: with nothing in the light, and in half-shadow. */
const WIDEST_SMOOTH = 64;
const WIDEST_SHADED = 32;
/** Cells this small are not quartered any more. */
const LEAF = 4;
/** Receivers a side from which the peak is taken. */
const PEAK_PROBES = 8;

/** Which light a tree sums: past things of which roles, and with or without a projection spot's gate. */
export interface LightAsked {
  /** Bits of the roles that count (ROLE_BITS). */
  readonly things: number;
  readonly mode: 'full' | 'bare';
}
const ALL_LIGHT: LightAsked = { things: ALL_THINGS, mode: 'full' };

/** Where the receivers of a grid lie on the plane: the first one's centre and the steps between them, m. */
export interface ReceiverGrid {
  readonly firstX: number;
  readonly firstY: number;
  readonly stepX: number;
  readonly stepY: number;
  readonly columns: number;
  readonly rows: number;
}

export class ReceiverTree {
  private readonly light: ReceiverLight;
  private readonly grid: ReceiverGrid;
  private readonly out: Float32Array;
  private readonly asked: LightAsked;
  /** Bits of everything that can throw an edge: the things, and the gate where it counts. */
  private readonly edges: number;
  private readonly relativeTolerance: number;
  private absoluteTolerance = 0;
  private readonly values = new Float64Array(NODES.length);
  private readonly onCell: (cells: number) => void;

  /**
   * @param out    one illuminance a receiver at level 1, lx, row-major; written over
   * @param onCell told now and then how many more receivers are done; may throw to stop
   */
  constructor(
    source: CompiledSource,
    layers: readonly BlockerLayer[],
    plane: ReceiverPlane,
    quality: Quality,
    grid: ReceiverGrid,
    out: Float32Array,
    onCell: (cells: number) => void,
    asked: LightAsked = ALL_LIGHT,
  ) {
    this.light = new ReceiverLight(source, layers, plane, quality, LEVELS);
    this.grid = grid;
    this.out = out;
    this.asked = asked;
    this.edges = asked.things | (asked.mode === 'full' ? this.light.gateBits : 0);
    this.relativeTolerance = quality.interpolation;
    this.onCell = onCell;
  }

  fill(): void {
    const { columns, rows } = this.grid;
    this.absoluteTolerance = this.relativeTolerance * this.shadedPeakLx();
    this.fillNode(0, 0, columns, rows, 0);
  }

  /**
   * Largest illuminance of a few receivers spread over the grid, lx. What stands in the way counts: a residual that is
   * small against the open light is not small where little of it arrives. A patch that all of them miss is held to the
   * relative tolerance alone.
   */
  private shadedPeakLx(): number {
    const { columns, rows } = this.grid;
    let peak = 0;
    for (let j = 0; j < PEAK_PROBES; j++) {
      for (let i = 0; i < PEAK_PROBES; i++) {
        this.moveTo(((i + 0.5) / PEAK_PROBES) * columns - 0.5, ((j + 0.5) / PEAK_PROBES) * rows - 0.5);
        peak = Math.max(peak, this.valueAt(0));
      }
    }
    return peak;
  }

  /** Takes a place of the grid, in columns and rows (fractions allowed), as the present receiver. */
  private moveTo(column: number, row: number): void {
    const { grid, light } = this;
    light.occlusion.at[0] = grid.firstX + column * grid.stepX;
    light.occlusion.at[1] = grid.firstY + row * grid.stepY;
  }

  /** Illuminance of the present receiver, from the list of `level`. */
  private valueAt(level: number): number {
    const { light } = this;
    if (!light.place()) return 0;
    light.integrate(level, this.asked.things, this.asked.mode);
    const value = light.integral.total[0]!;
    return value > 0 ? value : 0;
  }

  /** The cell of columns x rows receivers from (column, row) on, starting from the pieces listed at `level`. */
  private fillNode(column: number, row: number, columns: number, rows: number, level: number): void {
    const { grid } = this;
    const { occlusion } = this.light;
    this.moveTo(column + (columns - 1) / 2, row + (rows - 1) / 2);
    occlusion.half[0] = ((columns - 1) / 2) * grid.stepX;
    occlusion.half[1] = ((rows - 1) / 2) * grid.stepY;
    const reached = this.reach();
    if (reached === 'none' || !occlusion.narrow(level, this.edges)) {
      this.clear(column, row, columns, rows);
      return;
    }
    const sharp = occlusion.sharp || reached === 'some';
    const settled = occlusion.isSettled(level + 1);
    const small = columns <= LEAF && rows <= LEAF;
    const widest = settled ? WIDEST_SMOOTH : WIDEST_SHADED;
    const smooth = !sharp && columns <= widest && rows <= widest;
    if (smooth || small) this.light.hold(level + 1);
    if (smooth && this.interpolates(column, row, columns, rows, level + 1)) return;
    if (small) this.fillEach(column, row, columns, rows, level + 1);
    else this.quarter(column, row, columns, rows, level + 1);
  }

  private quarter(column: number, row: number, columns: number, rows: number, level: number): void {
    const left = columns > LEAF ? columns >> 1 : columns;
    const low = rows > LEAF ? rows >> 1 : rows;
    this.fillNode(column, row, left, low, level);
    if (left < columns) this.fillNode(column + left, row, columns - left, low, level);
    if (low === rows) return;
    this.fillNode(column, row + low, left, rows - low, level);
    if (left < columns) this.fillNode(column + left, row + low, columns - left, rows - low, level);
  }

  /** Whether the receivers of the cell about `occlusion.at` lie before the lamp's face and before its mirror. */
  private reach(): 'all' | 'some' | 'none' {
    const { fronts, occlusion } = this.light;
    const { at, half } = occlusion;
    let reached: 'all' | 'some' = 'all';
    for (let i = 0; i < fronts.length; i++) {
      const [c, cx, cy] = fronts[i]!;
      const middle = c + cx * at[0]! + cy * at[1]!;
      const slack = Math.abs(cx) * half[0]! + Math.abs(cy) * half[1]!;
      if (middle + slack <= 0) return 'none';
      if (middle - slack <= 0) reached = 'some';
    }
    return reached;
  }

  private clear(column: number, row: number, columns: number, rows: number): void {
    for (let j = row; j < row + rows; j++) {
      const at = j * this.grid.columns + column;
      this.out.fill(0, at, at + columns);
    }
    this.onCell(columns * rows);
  }

  private fillEach(column: number, row: number, columns: number, rows: number, level: number): void {
    for (let j = row; j < row + rows; j++) {
      for (let i = column; i < column + columns; i++) {
        this.moveTo(i, j);
        this.out[j * this.grid.columns + i] = this.valueAt(level);
      }
    }
    this.onCell(columns * rows);
  }

  /** Fills the cell by interpolation if that holds where it is checked; false if it does not. */
  private interpolates(column: number, row: number, columns: number, rows: number, level: number): boolean {
    if (columns <= 2 || rows <= 2 || this.relativeTolerance === 0) return false;
    if (columns <= LEAF && rows <= LEAF) return this.interpolatesLeaf(column, row, columns, rows, level);
    const { values, out, grid } = this;
    const halfColumns = (columns - 1) / 2;
    const halfRows = (rows - 1) / 2;
    const x = column + halfColumns;
    const y = row + halfRows;
    for (let k = 0; k < NODES.length; k++) {
      this.moveTo(x + NODES[k]![0] * halfColumns, y + NODES[k]![1] * halfRows);
      values[k] = this.valueAt(level);
    }
    fitBiquadratic(values);
    for (let k = 0; k < CHECKS.length; k++) {
      const s = CHECKS[k]![0];
      const t = CHECKS[k]![1];
      this.moveTo(x + s * halfColumns, y + t * halfRows);
      const exact = this.valueAt(level);
      if (!this.isClose(biquadraticAt(values, s, t), exact)) return false;
    }
    fillBiquadratic(values, out, row * grid.columns + column, grid.columns, columns, rows);
    this.onCell(columns * rows);
    return true;
  }

  private isClose(value: number, exact: number): boolean {
    return Math.abs(value - exact) <= this.absoluteTolerance + this.relativeTolerance * exact;
  }

  /**
   * The smallest cells: bilinear between the corners and bent to meet the middle, checked in the middle along both
   * diagonals and at a receiver on each of two sides.
   */
  private interpolatesLeaf(column: number, row: number, columns: number, rows: number, level: number): boolean {
    const { values } = this;
    const right = column + columns - 1;
    const top = row + rows - 1;
    const middle = this.readAt((column + right) / 2, (row + top) / 2, level);
    const a = this.readAt(column, row, level);
    const d = this.readAt(right, top, level);
    if (!this.isClose((a + d) / 2, middle)) return false;
    const b = this.readAt(right, row, level);
    const c = this.readAt(column, top, level);
    if (!this.isClose((b + c) / 2, middle)) return false;
    fitBentBilinear(a, b, c, d, middle, values);
    const s = 2 / (columns - 1) - 1;
    if (!this.isClose(biquadraticAt(values, s, -1), this.readAt(column + 1, row, level))) return false;
    const t = 1 - 2 / (rows - 1);
    if (!this.isClose(biquadraticAt(values, -1, t), this.readAt(column, top - 1, level))) return false;
    fillBiquadratic(values, this.out, row * this.grid.columns + column, this.grid.columns, columns, rows);
    this.onCell(columns * rows);
    return true;
  }

  private readAt(column: number, row: number, level: number): number {
    this.moveTo(column, row);
    return this.valueAt(level);
  }
}
