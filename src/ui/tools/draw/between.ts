/** Where a piece of grip hangs in a beam when it is put down on the plan. */
import { addScaled, dot, normalise, subtract, type Vec3 } from '../../../scene/geometry/vector';
import type { Point2, Pose, SceneDocument } from '../../../scene/schema';
import { aimPointOf, setupOf, tuple } from '../things';

/** Nearer beside a beam's axis than this share of the way along it counts as in the beam. */
const IN_BEAM = 0.5;

/**
 * Pose that faces the nearest lamp whose beam passes over a place on the plan, at the height of that beam's axis there.
 * @returns null where no lamp throws that way
 */
export function beamPoseAt(scene: SceneDocument, setupId: string, at: Point2): Pose | null {
  let best: { pose: Pose; alongM: number } | null = null;
  for (const source of Object.values(setupOf(scene, setupId)?.sources ?? {})) {
    if (source.type !== 'lamp' || source.off === true) continue;
    const lampAt = source.pose.positionM;
    const towards: Vec3 = normalise(subtract(aimPointOf(scene, source.pose), lampAt));
    const level = Math.hypot(towards[0], towards[1]);
    if (level < 1e-6) continue;
    const offset: Vec3 = [at[0] - lampAt[0], at[1] - lampAt[1], 0];
    const alongPlanM = dot(offset, [towards[0] / level, towards[1] / level, 0]);
    const besideM = Math.abs((offset[0] * towards[1] - offset[1] * towards[0]) / level);
    if (alongPlanM <= 0.01 || besideM > IN_BEAM * alongPlanM) continue;
    if (best && alongPlanM >= best.alongM) continue;
    const onAxis = addScaled(lampAt, towards, alongPlanM / level);
    const positionM: [number, number, number] = [at[0], at[1], Number(onAxis[2].toFixed(3))];
    best = { alongM: alongPlanM, pose: { positionM, aim: { atM: tuple(lampAt) } } };
  }
  return best?.pose ?? null;
}
