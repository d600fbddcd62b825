/**
 * The light that a source sends to a grid with nothing in its way. It is smooth over much wider cells than those in which
 * one shadow ends and the next begins; so it is fitted over wide blocks, each once, and the small cells of a block that
 * see the whole face alike take theirs from there.
 */
import type { CellFit } from './cellFit';
import type { GridLight } from './gridLight';
import type { Frame } from './interpolation';

/** Widest blocks, receivers a side. */
const WIDEST = 64;

export interface Block extends Frame {
  /** Those of s^i t^j at 3 j + i, s and t from -1 to 1 between the frame's sides. */
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
      return { left: 0, bottom: 0, width: 0, height: 0, coefficients: new Float64Array(9), state: 'unknown' };
    });
  }

  /** The frame of the cell of `level` that is under way from now on; told from the outside in. */
  enter(level: number, { left, bottom, width, height }: Frame): void {
    const block = this.blocks[level]!;
    block.left = left;
    block.bottom = bottom;
    block.width = width;
    block.height = height;
    block.state = 'unknown';
    if (width > WIDEST || height > WIDEST) this.widest = level + 1;
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
    if (block.width < 2 || block.height < 2) return false;
    gridLight.moveToFrame(block);
    if (gridLight.reach() !== 'all' || gridLight.cellAngleRad() > gridLight.featureRad) return false;
    const { openLevel } = gridLight.occlusion;
    gridLight.light.hold(openLevel, 0, true);
    this.cellFit.start(block, openLevel, 'open');
    return this.cellFit.fits(block.coefficients);
  }
}
