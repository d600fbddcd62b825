/** The largest visible step that no opening explains: a scrim's or net's line. */
import type { Patch } from './patch';

/** A hand's width, m: what a meter moved by hand reads. Narrower panes take the longest length that fits. */
const LENGTHS_M = [0.1, 0.08, 0.06, 0.04, 0.02];
const DIRECTIONS = 8;

export interface Step {
  readonly stopsPer10cm: number;
  /** Ends of the steepest segment, surface right/up metres; null where nothing changes. */
  readonly from: readonly [number, number] | null;
  readonly to: readonly [number, number] | null;
}

/** log2 of the modifier factor between cell centres, bilinear; NaN off the patch. */
function sampler(patch: Patch): (x: number, y: number) => number {
  const { sums, lit } = patch;
  const logs = new Float64Array(sums.columns * sums.rows).fill(NaN);
  patch.cells.forEach((cell, i) => (logs[cell] = Math.log2(patch.factor[i]!)));
  const value = (column: number, row: number, otherwise: number): number => {
    const inside = column >= 0 && row >= 0 && column < sums.columns && row < sums.rows;
    const found = inside ? logs[row * sums.columns + column]! : NaN;
    return Number.isNaN(found) ? otherwise : found;
  };
  return (x, y) => {
    const gx = (x - sums.region.leftM) / sums.cellWidthM;
    const gy = (y - sums.region.bottomM) / sums.cellHeightM;
    const [column, row] = [Math.floor(gx), Math.floor(gy)];
    if (column < 0 || row < 0 || column >= sums.columns || row >= sums.rows) return NaN;
    if (lit[row * sums.columns + column] === 0) return NaN;
    const own = logs[row * sums.columns + column]!;
    const [c0, r0] = [Math.floor(gx - 0.5), Math.floor(gy - 0.5)];
    const [s, t] = [gx - 0.5 - c0, gy - 0.5 - r0];
    const low = value(c0, r0, own) * (1 - s) + value(c0 + 1, r0, own) * s;
    const high = value(c0, r0 + 1, own) * (1 - s) + value(c0 + 1, r0 + 1, own) * s;
    return low * (1 - t) + high * t;
  };
}

/**
 * Largest |log2 m| difference over segments of 10 cm that lie wholly inside the patch, in eight directions, centred on
 * the cells; stops. A secant, not a slope: a hard line gives its own grade at any resolution.
 * @returns null where not even 2 cm fit inside the patch
 * @source judgement definition 2.7
 */
export function largestStep(patch: Patch): Step | null {
  const { sums } = patch;
  const log = sampler(patch);
  const cell = Math.min(sums.cellWidthM, sums.cellHeightM);
  for (const lengthM of LENGTHS_M) {
    let fits = false;
    let best: Step = { stopsPer10cm: 0, from: null, to: null };
    const checks = Math.max(1, Math.ceil(lengthM / cell));
    for (const index of patch.cells) {
      const x = sums.xs[index % sums.columns]!;
      const y = sums.ys[Math.floor(index / sums.columns)]!;
      for (let turn = 0; turn < DIRECTIONS; turn++) {
        const angle = (turn * Math.PI) / DIRECTIONS;
        const [dx, dy] = [(Math.cos(angle) * lengthM) / 2, (Math.sin(angle) * lengthM) / 2];
        const [from, to] = [log(x - dx, y - dy), log(x + dx, y + dy)];
        if (Number.isNaN(from) || Number.isNaN(to)) continue;
        let inside = true;
        for (let i = 1; inside && i < checks; i++) {
          const t = (2 * i) / checks - 1;
          inside = !Number.isNaN(log(x + t * dx, y + t * dy));
        }
        if (!inside) continue;
        fits = true;
        const stops = Math.abs(to - from);
        if (stops > best.stopsPer10cm) best = { stopsPer10cm: stops, from: [x - dx, y - dy], to: [x + dx, y + dy] };
      }
    }
    if (fits) return best;
  }
  return null;
}
