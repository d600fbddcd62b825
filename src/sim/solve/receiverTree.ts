/**
 * The light of one source on a grid of receivers: a quadtree over the grid. A cell whose receivers all see the same
 * pieces the same way has no shadow edge in it; its light is smooth and is interpolated. Where half-shadows are wide
 * against a cell they are smooth too. Everywhere else the cell is quartered, down to single receivers.
 * Every interpolation is checked against exact values that it did not use (docs/physics.md).
 */
import { CellFit, SMALLEST, WIDE } from './cellFit';
import type { BlockerLayer, CompiledSource } from './compiled';
import type { ReceiverPlane } from './edgeTable';
import { ALL_LIGHT, GridLight, type LightAsked, type ReceiverGrid } from './gridLight';
import { biquadraticAt, fillBiquadratic, type Cell, type Frame } from './interpolation';
import { OpenLight } from './openLight';
import type { Quality } from './quality';

/** Cells within cells: enough for grids of 2^20 receivers a side. */
const LEVELS = 24;
/** Widest cells that are interpolated: with nothing in the light, and in half-shadow. */
const WIDEST_SMOOTH = 64;
const WIDEST_SHADED = 32;

export class ReceiverTree {
  private readonly gridLight: GridLight;
  private readonly cellFit: CellFit;
  private readonly openLight: OpenLight;
  private readonly grid: ReceiverGrid;
  private readonly out: Float32Array;
  /** Bits of everything that can throw an edge: the things, and the gate where it counts. */
  private readonly edges: number;
  /** Those of the things alone. */
  private readonly things: number;
  private readonly interpolating: boolean;
  /** The receivers of the present cell, and what their light is fitted between. */
  private readonly cell: Cell = { column: 0, row: 0, columns: 0, rows: 0 };
  private readonly frame: Frame = { left: 0, bottom: 0, width: 0, height: 0 };
  private readonly coefficients = new Float64Array(9);
  private readonly onCell: (cells: number) => void;

  /**
   * @param out    one illuminance a receiver at level 1, lx, row-major; all 0 to begin with
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
    this.things = asked.things;
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
    const { gridLight, openLight, cellFit, frame } = this;
    const { light, occlusion } = gridLight;
    const isSmallest = columns <= SMALLEST && rows <= SMALLEST;
    const isWide = columns >= WIDE && rows >= WIDE;
    this.take(column, row, columns, rows, isWide);
    gridLight.moveToFrame(frame);
    const reached = gridLight.reach();
    if (reached === 'none' || !occlusion.narrow(level, this.edges, isWide)) {
      this.onCell(columns * rows); // dark as it is
      return;
    }
    openLight.enter(level, frame);
    const settled = occlusion.isSettled(level + 1);
    if (settled && this.fillsOpen(level)) return;
    if (isSmallest && gridLight.isPoint && this.fillsPoint(level)) return;
    const widest = settled ? WIDEST_SMOOTH : WIDEST_SHADED;
    const isSmooth = !occlusion.sharp && reached === 'all' && columns <= widest && rows <= widest;
    if (isSmooth || isSmallest) {
      gridLight.moveToFrame(frame);
      light.hold(level + 1, this.things, reached === 'all');
      cellFit.start(frame, level + 1, isSmallest ? 'smallest' : isWide ? 'wide' : 'small');
    }
    if (isSmooth && this.interpolates()) return;
    if (isSmallest) this.fillEach();
    else this.quarter(column, row, columns, rows, level + 1);
  }

  private quarter(column: number, row: number, columns: number, rows: number, level: number): void {
    const left = columns > SMALLEST ? columns >> 1 : columns;
    const low = rows > SMALLEST ? rows >> 1 : rows;
    this.fillNode(column, row, left, low, level);
    if (left < columns) this.fillNode(column + left, row, columns - left, low, level);
    if (low === rows) return;
    this.fillNode(column, row + low, left, rows - low, level);
    if (left < columns) this.fillNode(column + left, row + low, columns - left, rows - low, level);
  }

  private fillEach(): void {
    const { cell, cellFit, grid, out } = this;
    for (let row = 0; row < cell.rows; row++) {
      const start = (cell.row + row) * grid.columns + cell.column;
      for (let column = 0; column < cell.columns; column++) out[start + column] = cellFit.receiver(column, row);
    }
    this.onCell(cell.columns * cell.rows);
  }

  /** Fills the cell by interpolation if that holds where it is checked; false if it does not. */
  private interpolates(): boolean {
    const { coefficients, cell, frame } = this;
    if (!this.interpolating || cell.columns <= 2 || cell.rows <= 2 || !this.cellFit.fits(coefficients)) return false;
    fillBiquadratic(frame, coefficients, cell, 1, this.out, this.grid.columns);
    this.onCell(cell.columns * cell.rows);
    return true;
  }

  /** Fills a cell without edges by its share of the open light; false if that bends too much about it or no share holds. */
  private fillsOpen(level: number): boolean {
    if (!this.interpolating) return false;
    const { cell } = this;
    const share = this.gridLight.shareAt(level + 1);
    const block = share === null ? null : this.openLight.about(level);
    if (share === null || block === null) return false;
    fillBiquadratic(block, block.coefficients, cell, share, this.out, this.grid.columns);
    this.onCell(cell.columns * cell.rows);
    return true;
  }

  /** Fills a cell with shadows of a point source: to each receiver its own share of the open light; false if that bends. */
  private fillsPoint(level: number): boolean {
    const { gridLight, grid, out, cell } = this;
    const block = this.interpolating ? this.openLight.about(level) : null;
    if (block === null) return false;
    const perColumn = 2 / block.width;
    const perRow = 2 / block.height;
    for (let row = cell.row; row < cell.row + cell.rows; row++) {
      const t = (row - block.bottom) * perRow - 1;
      for (let column = cell.column; column < cell.column + cell.columns; column++) {
        gridLight.moveTo(column, row);
        const share = gridLight.pointShare(level + 1);
        const s = (column - block.left) * perColumn - 1;
        out[row * grid.columns + column] = share > 0 ? share * Math.max(0, biquadraticAt(block.coefficients, s, t)) : 0;
      }
    }
    this.onCell(cell.columns * cell.rows);
    return true;
  }

  /**
   * Takes a cell as the present one. Wide cells are fitted up to half way to the next one, so that neighbours ask for the
   * same places, but no farther than the grid's own receivers; others between their own receivers.
   */
  private take(column: number, row: number, columns: number, rows: number, isWide: boolean): void {
    const { cell, frame, grid } = this;
    cell.column = column;
    cell.row = row;
    cell.columns = columns;
    cell.rows = rows;
    const rim = isWide ? 0.5 : 0;
    frame.left = Math.max(0, column - rim);
    frame.bottom = Math.max(0, row - rim);
    frame.width = Math.min(grid.columns, column + columns + rim) - 1 - frame.left;
    frame.height = Math.min(grid.rows, row + rows + rim) - 1 - frame.bottom;
  }
}
