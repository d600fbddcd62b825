/** The error metric of the bench: P = max |E - reference| / max(1 % of the reference, 0.5 % of its peak); good at <= 1. */
import type { GridResult } from '../../src/sim/results';
import { METER_QUALITY, type Quality } from '../../src/sim/solve/quality';
import { solveGrid } from '../../src/sim/solve/solveGrid';
import type { Workload } from './workload';

const RELATIVE = 0.01;
const OF_PEAK = 0.005;
/** No meter reads less; a surface in full shade holds rounding of some 1e-16 lx, and shares of that mean nothing. */
const LEAST_LX = 1e-6;

/** Every receiver by itself, faces split finely: the answer that finer rules no longer change. */
export const CONVERGED: Quality = METER_QUALITY;

export function errorP(levels: Float32Array, reference: Float32Array): number {
  const peak = reference.reduce((most, value) => Math.max(most, value), 0);
  let worst = 0;
  for (let i = 0; i < levels.length; i++) {
    const difference = Math.abs(levels[i]! - reference[i]!);
    if (difference === 0) continue; // also where all is dark and nothing is allowed
    const error = difference / Math.max(RELATIVE * reference[i]!, OF_PEAK * peak, LEAST_LX);
    if (!(error <= worst)) worst = error; // a NaN must show
  }
  return worst;
}

/** Largest error against the published probes of the summed light, in the same measure; null where none is published. */
export function probeP({ expected, columns }: Workload, levels: Float32Array): number | null {
  if (expected === null) return null;
  return expected.probes.reduce((worst, [column, row, ...bySource]) => {
    const reference = bySource.reduce((sum, lux) => sum + lux, 0);
    const allowed = Math.max(RELATIVE * reference, OF_PEAK * expected.peakTotal);
    return Math.max(worst, Math.abs(levels[row! * columns + column!]! - reference) / allowed);
  }, 0);
}

export const solveWorkload = (workload: Workload, quality?: Quality): GridResult => {
  const { scene, surfaceId, columns, rows } = workload;
  return solveGrid(scene, { surfaceId, columns, rows }, {}, quality);
};
