/** Light at places on the sides of cells, where neighbours ask for it again: the last few thousand values are kept. */
import type { GridLight } from './gridLight';

const KEPT = 1 << 12;
/** Places are told apart to this part of a step between receivers: the finest that cells are looked at along their sides. */
const PER_STEP = 8;

export class SharedLight {
  private readonly light: GridLight;
  /** Which place each value belongs to; of two places for one slot the last stays. */
  private readonly places = new Float64Array(KEPT).fill(-1);
  private readonly values = new Float64Array(KEPT);
  private readonly placesPerRow: number;

  constructor(light: GridLight) {
    this.light = light;
    this.placesPerRow = PER_STEP * (light.grid.columns + 2);
  }

  /** As `readAt` of the grid's light, for places at whole parts of a step. */
  readAt(column: number, row: number, level: number): number {
    const x = Math.round(PER_STEP * (column + 1));
    const y = Math.round(PER_STEP * (row + 1));
    const place = y * this.placesPerRow + x;
    // Neighbouring places go far apart: primes, as hashes of grid places commonly take them.
    const slot = ((Math.imul(x, 73856093) ^ Math.imul(y, 19349663)) >>> 7) & (KEPT - 1);
    if (this.places[slot] === place) return this.values[slot]!;
    const value = this.light.readAt(column, row, level);
    this.places[slot] = place;
    this.values[slot] = value;
    return value;
  }
}
