/** The light of one source at any place of a grid of receivers, and how near to it a fit has to come. */
import type { BlockerLayer, CompiledSource } from './compiled';
import type { ReceiverPlane } from './edgeTable';
import type { Frame } from './interpolation';
import type { Occlusion } from './occlusion';
import { featureRad } from './profile';
import type { Quality } from './quality';
import { ALL_THINGS, ReceiverLight } from './receiverLight';

/** Cells a side from which the peak is taken, and receivers a side of each. */
const PEAK_CELLS = 4;
const CELL_PROBES = 2;

/** Which light a tree sums: past things of which roles, and with or without a projection spot's gate. */
export interface LightAsked {
  /** Bits of the roles that count (ROLE_BITS). */
  readonly things: number;
  readonly mode: 'full' | 'bare';
}
export const ALL_LIGHT: LightAsked = { things: ALL_THINGS, mode: 'full' };

/** Where the receivers of a grid lie on the plane: the first one's centre and the steps between them, m. */
export interface ReceiverGrid {
  readonly firstX: number;
  readonly firstY: number;
  readonly stepX: number;
  readonly stepY: number;
  readonly columns: number;
  readonly rows: number;
}

export class GridLight {
  readonly light: ReceiverLight;
  readonly occlusion: Occlusion;
  readonly grid: ReceiverGrid;
  /** Bits of the parts of a projection spot's gate, where they count. */
  readonly gateBits: number;
  readonly isPoint: boolean;
  /** Angle over which the source's light changes by most of itself. */
  readonly featureRad: number;
  private readonly asked: LightAsked;
  private readonly relativeTolerance: number;
  private absoluteTolerance = 0;

  /** @param levels cells within cells that will be asked for */
  constructor(
    source: CompiledSource,
    layers: readonly BlockerLayer[],
    plane: ReceiverPlane,
    quality: Quality,
    grid: ReceiverGrid,
    asked: LightAsked,
    levels: number,
  ) {
    this.light = new ReceiverLight(source, layers, plane, quality, levels);
    this.occlusion = this.light.occlusion;
    this.grid = grid;
    this.asked = asked;
    this.gateBits = asked.mode === 'full' ? this.light.gateBits : 0;
    this.isPoint = source.shape.kind === 'point' && this.gateBits === 0;
    this.featureRad = featureRad(source.profile);
    this.relativeTolerance = quality.interpolation;
  }

  /** Fits are held to this grid's own peak from now on. */
  meetPeak(): void {
    this.absoluteTolerance = this.relativeTolerance * this.shadedPeakLx();
  }

  /**
   * Largest illuminance of a few receivers spread over the grid, lx. What stands in the way counts: a residual that is
   * small against the open light is not small where little of it arrives. A patch that all of them miss is held to the
   * relative tolerance alone.
   */
  private shadedPeakLx(): number {
    const width = this.grid.columns / PEAK_CELLS;
    const height = this.grid.rows / PEAK_CELLS;
    let peak = 0;
    for (let row = 0; row < PEAK_CELLS; row++) {
      for (let column = 0; column < PEAK_CELLS; column++) {
        const cell = { left: column * width - 0.5, bottom: row * height - 0.5, width, height };
        this.moveToFrame(cell);
        const isLit = this.occlusion.narrow(0, this.asked.things | this.gateBits, false);
        if (isLit) peak = Math.max(peak, this.peakInLx(cell));
      }
    }
    return peak;
  }

  /** Largest illuminance of a few receivers within a frame, from the list of level 1, lx. */
  private peakInLx({ left, bottom, width, height }: Frame): number {
    let peak = 0;
    for (let j = 0.5; j < CELL_PROBES; j++) {
      for (let i = 0.5; i < CELL_PROBES; i++) {
        const value = this.readAt(left + (i / CELL_PROBES) * width, bottom + (j / CELL_PROBES) * height, 1);
        peak = Math.max(peak, value);
      }
    }
    return peak;
  }

  /** Takes a place of the grid, in columns and rows (fractions allowed), as the present receiver. */
  moveTo(column: number, row: number): void {
    const { grid, occlusion } = this;
    occlusion.at[0] = grid.firstX + column * grid.stepX;
    occlusion.at[1] = grid.firstY + row * grid.stepY;
  }

  /** Takes the middle of a cell's frame as the present receiver, and what is within the frame as the present cell. */
  moveToFrame({ left, bottom, width, height }: Frame): void {
    const { grid, occlusion } = this;
    this.moveTo(left + width / 2, bottom + height / 2);
    occlusion.half[0] = (width / 2) * grid.stepX;
    occlusion.half[1] = (height / 2) * grid.stepY;
  }

  /** Illuminance of the present receiver, from the list of `level`. */
  valueAt(level: number): number {
    const { light } = this;
    if (!light.place()) return 0;
    light.integrate(level, this.asked.things, this.asked.mode);
    const value = light.integral.total[0]!;
    return value > 0 ? value : 0;
  }

  readAt(column: number, row: number, level: number): number {
    this.moveTo(column, row);
    return this.valueAt(level);
  }

  /** What the list of `level`, which has no pieces, lets through of the open light; null where that is no constant. */
  shareAt(level: number): number | null {
    return this.gateBits === 0 ? this.occlusion.shareAt(level, this.asked.things) : null;
  }

  /** Share of a point source's open light that comes to the present receiver, from the list of `level`. */
  pointShare(level: number): number {
    const { light, occlusion, asked } = this;
    if (!occlusion.hasWeaves) return occlusion.pointShare(level, asked.things);
    if (!light.place()) return 0;
    light.integrate(level, asked.things, 'area');
    return light.integral.total[0]!;
  }

  /** Whether the receivers of the present cell lie before the lamp's face and before its mirror. */
  reach(): 'all' | 'some' | 'none' {
    const { fronts } = this.light;
    const { at, half } = this.occlusion;
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

  /** Angle that half the present cell takes up at most, seen from the source. */
  cellAngleRad(): number {
    const { light, occlusion } = this;
    if (light.atInfinity) return 0;
    light.release();
    if (!light.place()) return Infinity;
    const half = Math.hypot(occlusion.half[0]!, occlusion.half[1]!);
    const nearest = light.farM() - half;
    return nearest > 0 ? Math.atan(half / nearest) : Infinity;
  }

  /**
   * Whether a value may stand for an exact one.
   * @param strict share of the tolerance that may be used
   */
  isClose(value: number, exact: number, strict: number): boolean {
    return Math.abs(value - exact) <= strict * (this.absoluteTolerance + this.relativeTolerance * exact);
  }
}
