/**
 * The light of one source on a grid of receivers: a quadtree over the grid. A cell whose receivers all see the same
 * pieces the same way has no shadow edge in it; its light is smooth and is interpolated. Where half-shadows are wide
 * against a cell they are smooth too. Everywhere else the cell is quartered, down to single receivers.
 * Every interpolation is checked against exact values that it did not use (docs/physics.md).
 */
import { CellFit } from './cellFit';
import type { BlockerLayer, CompiledSource } from './compiled';
import type { ReceiverPlane } from './edgeTable';
import { ALL_LIGHT, GridLight, type LightAsked, type ReceiverGrid } from './gridLight';
import { biquadraticAt, fillBiquadratic, type Cell } from './interpolation';
import { OpenLight } from './openLight';
import type { Quality } from './quality';

/** Cells within cells: enough for grids of 2^20 receivers a side. */
const LEVELS = 24;
/** Widest cells that are interpolated: with nothing in the light, and in half-shadow. */
const WIDEST_SMOOTH = 64;
const WIDEST_SHADED = 32;
/** Cells this small are not quartered any more. */
const LEAF = 4;

export class ReceiverTree {
  private readonly gridLight: GridLight;
  private readonly cellFit: CellFit;
  private readonly openLight: OpenLight;
  private readonly grid: ReceiverGrid;
  private readonly out: Float32Array;
  /** Bits of everything that can throw an edge: the things, and the gate where it counts. */
  private readonly edges: number;
  private readonly interpolating: boolean;
  private readonly cell: Cell = { column: 0, row: 0, columns: 0, rows: 0 };
  private readonly coefficients = new Float64Array(9);
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
    this.gridLight = new GridLight(source, layers, plane, quality, grid, asked, LEVELS);
    this.cellFit = new CellFit(this.gridLight);
    this.openLight = new OpenLight(this.gridLight, this.cellFit, LEVELS);
    this.grid = grid;
    this.out = out;
    this.edges = asked.things | this.gridLight.gateBits;
    this.interpolating = quality.interpolation > 0;
    this.onCell = onCell;
  }

  fill(): void {
    const { columns, rows } = this.grid;
    this.gridLight.meetPeak();
    this.fillNode(0, 0, columns, rows, 0);
  }

  /** The cell of columns x rows receivers from (column, row) on, starting from the pieces listed at `level`. */
  private fillNode(column: number, row: number, columns: number, rows: number, level: number): void {
    const { gridLight, openLight } = this;
    const { light, occlusion } = gridLight;
    gridLight.moveToCell(column, row, columns, rows);
    const reached = gridLight.reach();
    if (reached === 'none' || !occlusion.narrow(level, this.edges)) {
      this.clear(column, row, columns, rows);
      return;
    }
    openLight.enter(level, column, row, columns, rows);
    const settled = occlusion.isSettled(level + 1);
    const small = columns <= LEAF && rows <= LEAF;
    if (settled && this.fillsOpen(column, row, columns, rows, level)) return;
    if (small && gridLight.isPoint && this.fillsPoint(column, row, columns, rows, level)) return;
    const widest = settled ? WIDEST_SMOOTH : WIDEST_SHADED;
    const smooth = !occlusion.sharp && reached === 'all' && columns <= widest && rows <= widest;
    if (smooth || small) {
      gridLight.moveToCell(column, row, columns, rows);
      light.hold(level + 1);
    }
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
        this.out[j * this.grid.columns + i] = this.gridLight.readAt(i, j, level);
      }
    }
    this.onCell(columns * rows);
  }

  /** Fills the cell by interpolation if that holds where it is checked; false if it does not. */
  private interpolates(column: number, row: number, columns: number, rows: number, level: number): boolean {
    if (!this.interpolating || columns <= 2 || rows <= 2) return false;
    const { coefficients } = this;
    const cell = this.take(column, row, columns, rows);
    const kind = columns <= LEAF && rows <= LEAF ? 'smallest' : 'larger';
    if (!this.cellFit.fits(cell, level, kind, coefficients)) return false;
    fillBiquadratic(cell, coefficients, cell, 1, this.out, this.grid.columns);
    this.onCell(columns * rows);
    return true;
  }

  /** Fills a cell without edges by its share of the open light; false if that bends too much about it or no share holds. */
  private fillsOpen(column: number, row: number, columns: number, rows: number, level: number): boolean {
    if (!this.interpolating) return false;
    const share = this.gridLight.shareAt(level + 1);
    const block = share === null ? null : this.openLight.about(level);
    if (share === null || block === null) return false;
    const cell = this.take(column, row, columns, rows);
    fillBiquadratic(block, block.coefficients, cell, share, this.out, this.grid.columns);
    this.onCell(columns * rows);
    return true;
  }

  /** Fills a cell with shadows of a point source: to each receiver its own share of the open light; false if that bends. */
  private fillsPoint(column: number, row: number, columns: number, rows: number, level: number): boolean {
    const { gridLight, grid, out } = this;
    const block = this.interpolating ? this.openLight.about(level) : null;
    if (block === null) return false;
    const perColumn = 2 / (block.columns - 1);
    const perRow = 2 / (block.rows - 1);
    for (let j = row; j < row + rows; j++) {
      const t = (j - block.row) * perRow - 1;
      for (let i = column; i < column + columns; i++) {
        gridLight.moveTo(i, j);
        const share = gridLight.pointShare(level + 1);
        const s = (i - block.column) * perColumn - 1;
        out[j * grid.columns + i] = share > 0 ? share * Math.max(0, biquadraticAt(block.coefficients, s, t)) : 0;
      }
    }
    this.onCell(columns * rows);
    return true;
  }

  private take(column: number, row: number, columns: number, rows: number): Cell {
    const { cell } = this;
    cell.column = column;
    cell.row = row;
    cell.columns = columns;
    cell.rows = rows;
    return cell;
  }
}
