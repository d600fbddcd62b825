/** Where the light comes from, over the patch: with nets and scrims, without walls and flags. */
import { localFromWorld } from '../../scene/geometry/frames';
import type { Vec3 } from '../../scene/geometry/vector';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { HARD, integratorOn, SHADE } from './lightSums';
import { ALL_ROLES } from '../solve/sourceIntegrator';
import { towardsSource, VISIBLE, type Patch } from './patch';

/** Halvings between a lit cell's centre and its corner in the half-shadow: the rim to a sixteenth of a cell. */
const HALVINGS = 4;

/**
 * Unit arrival directions on the patch's rim and at its centroid, and the open light on the rim, lux at level 1.
 * The rim is the corners of lit cells, drawn in to where nine tenths of the lamp are seen: cell centres alone would
 * read the fan low by one cell over the distance, whole corners in the half-shadow as much too high.
 */
export function arrivalDirections(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  patch: Patch,
): { corners: Vec3[]; openLx: number[]; middle: Vec3 } {
  const integrator = integratorOn(scene, source, surface);
  const { sums, lit } = patch;
  const sees = (x: number, y: number): boolean => {
    if (!integrator.moveTo(x, y)) return false;
    return integrator.illuminanceLx(HARD) >= VISIBLE * integrator.illuminanceLx([], 'bare');
  };
  const isLit = (column: number, row: number) =>
    column >= 0 && row >= 0 && column < sums.columns && row < sums.rows && lit[row * sums.columns + column] === 1;
  const corners: Vec3[] = [];
  const openLx: number[] = [];
  for (const cell of patch.cells) {
    const [column, row] = [cell % sums.columns, Math.floor(cell / sums.columns)];
    for (const [right, up] of [
      [-1, -1],
      [1, -1],
      [-1, 1],
      [1, 1],
    ] as const) {
      // Only the rim can be farthest: a corner with lit cells all round it is skipped.
      if (isLit(column + right, row) && isLit(column, row + up) && isLit(column + right, row + up)) continue;
      const [x, y] = [sums.xs[column]!, sums.ys[row]!];
      let share = 1;
      const at = (t: number) => [x + (t * right * sums.cellWidthM) / 2, y + (t * up * sums.cellHeightM) / 2] as const;
      if (!sees(...at(1))) {
        let [low, high] = [0, 1];
        for (let i = 0; i < HALVINGS; i++) {
          const middle = (low + high) / 2;
          if (sees(...at(middle))) low = middle;
          else high = middle;
        }
        share = low;
      }
      if (!integrator.moveTo(...at(share))) continue;
      corners.push(integrator.arrivalDirection(SHADE));
      const hardLx = integrator.illuminanceLx(HARD);
      if (hardLx > 0) {
        openLx.push((integrator.illuminanceLx([], 'bare') * integrator.illuminanceLx(ALL_ROLES)) / hardLx);
      }
    }
  }
  const { right, up } = localFromWorld(surface.frame, patch.centroid);
  const middle = integrator.moveTo(right, up)
    ? integrator.arrivalDirection(SHADE)
    : towardsSource(source, patch.centroid).direction;
  return { corners, openLx, middle };
}
