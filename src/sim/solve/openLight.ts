/**
 * The light that a source sends to a grid with nothing in its way. It is smooth over much wider cells than those in which
 * one shadow ends and the next begins; so it is fitted over wide blocks, each once, and the small cells of a block that
 * see the whole face alike take theirs from there.
 */
import type { CellFit } from './cellFit';
import type { GridLight } from './gridLight';
import type { Cell } from './interpolation';

/** Widest blocks, receivers a side. */
const WIDEST = 64;

export interface Block extends Cell {
  /** Those of s^i t^j at 3 j + i, s and t from -1 to 1 between the block's outer receivers. */
  readonly coefficients: Float64Array;
  state: 'unknown' | 'fits' | 'bends';
}

export class OpenLight {
  private readonly gridLight: GridLight;
  private readonly cellFit: CellFit;
  /** The cells within cells under way, by level. */
  private readonly blocks: readonly Block[];
  /** Level of the widest of them that may be fitted. */
  private widest = 0;

  constructor(gridLight: GridLight, cellFit: CellFit, levels: number) {
    this.gridLight = gridLight;
    this.cellFit = cellFit;
    this.blocks = Array.from({ length: levels }, (): Block => {
      return { column: 0, row: 0, columns: 0, rows: 0, coefficients: new Float64Array(9), state: 'unknown' };
    });
  }

  /** The cell of `level` that is under way from now on; told from the outside in. */
  enter(level: number, column: number, row: number, columns: number, rows: number): void {
    const block = this.blocks[level]!;
    block.column = column;
    block.row = row;
    block.columns = columns;
    block.rows = rows;
    block.state = 'unknown';
    if (columns > WIDEST || rows > WIDEST) this.widest = level + 1;
  }

  /** The widest block about the cell of `level` over which a fit holds; null if none. May move the present receiver. */
  about(level: number): Block | null {
    for (let at = this.widest; at <= level; at++) {
      const block = this.blocks[at]!;
      if (block.state === 'unknown') block.state = this.fits(block) ? 'fits' : 'bends';
      if (block.state === 'fits') return block;
    }
    return null;
  }

  private fits(block: Block): boolean {
    const { gridLight } = this;
    if (block.columns <= 2 || block.rows <= 2) return false;
    gridLight.moveToCell(block.column, block.row, block.columns, block.rows);
    if (gridLight.reach() !== 'all' || gridLight.cellAngleRad() > gridLight.featureRad) return false;
    const { openLevel } = gridLight.occlusion;
    gridLight.light.hold(openLevel);
    return this.cellFit.fits(block, openLevel, 'open', block.coefficients);
  }
}
