/** How sharply a web bends: what steps over its directions have to resolve. */
import type { WebGrid } from './grid';

const known = new WeakMap<WebGrid, number>();

/** Largest second difference quotient along one line of values at uneven angles. */
function sharpest(angles: Float64Array, valueOf: (index: number) => number, stretch: number): number {
  let most = 0;
  for (let i = 1; i + 1 < angles.length; i++) {
    const before = (valueOf(i) - valueOf(i - 1)) / ((angles[i]! - angles[i - 1]!) * stretch);
    const after = (valueOf(i + 1) - valueOf(i)) / ((angles[i + 1]! - angles[i]!) * stretch);
    most = Math.max(most, Math.abs(after - before) / (((angles[i + 1]! - angles[i - 1]!) / 2) * stretch));
  }
  return most;
}

/**
 * Angle over which a web of peak 1 bends by its whole peak, 1 / sqrt(largest curvature); radians, a half turn at most.
 * A beam that falls to half at an angle b has about 0.85 b.
 */
export function bendRad(grid: WebGrid): number {
  let bend = known.get(grid);
  if (bend === undefined) {
    const { system, rows, columns, values } = grid;
    const width = columns.anglesRad.length;
    let most = 0;
    for (let column = 0; column < width; column++) {
      // In B the meridians run together towards H = 90, as the parallels do towards the poles in C and A.
      const stretch = system === 'B' ? Math.cos(columns.anglesRad[column]!) : 1;
      if (stretch > 0.05)
        most = Math.max(
          most,
          sharpest(rows.anglesRad, (row) => values[row * width + column]!, stretch),
        );
    }
    for (let row = 0; row < rows.anglesRad.length; row++) {
      const angle = rows.anglesRad[row]!;
      const stretch = system === 'B' ? 1 : system === 'C' ? Math.sin(angle) : Math.cos(angle);
      if (stretch > 0.05)
        most = Math.max(
          most,
          sharpest(columns.anglesRad, (column) => values[row * width + column]!, stretch),
        );
    }
    bend = Math.min(Math.PI, 1 / Math.sqrt(most));
    known.set(grid, bend);
  }
  return bend;
}
