/** Pictures of a plan: where a new one comes to lie, and its scale from two points of known distance. */
import type { Point2, SceneDocument } from '../../scene/schema';
import type { PlanPicture } from '../../scene/schemaPlan';
import { frameFromPose, worldFromLocal } from '../../scene/geometry/frames';
import { ringOf } from '../../scene/invariants';

export const MOST_PICTURES = 4;
/** Longer side of a new picture on bare ground, metres. */
const FIRST_SIZE_M = 10;
const LEAST_APART_M = 0.001;

/** Middle and longer side of the set on the plan, metres. */
function setExtent(scene: SceneDocument): { readonly middle: Point2; readonly sizeM: number } {
  const points = Object.values(scene.surfaces).flatMap((surface) =>
    ringOf(surface.shape).map((corner) => worldFromLocal(frameFromPose(surface.pose), corner)),
  );
  if (points.length === 0) return { middle: [0, 0], sizeM: FIRST_SIZE_M };
  const range = (axis: 0 | 1): readonly [number, number] => {
    const values = points.map((point) => point[axis]);
    return [Math.min(...values), Math.max(...values)];
  };
  const [[left, right], [low, high]] = [range(0), range(1)];
  return { middle: [(left + right) / 2, (low + high) / 2], sizeM: Math.max(right - left, high - low, 1) };
}

/** A picture over the middle of the set, as long as the set is; its true scale is not known yet. */
export function placedPicture(
  scene: SceneDocument,
  name: string,
  { image, widthPx, heightPx }: Pick<PlanPicture, 'image' | 'widthPx' | 'heightPx'>,
): PlanPicture {
  const { middle, sizeM } = setExtent(scene);
  const metresPerPixel = Number((sizeM / Math.max(widthPx, heightPx)).toPrecision(6));
  const round = (value: number): number => Number(value.toFixed(3)) + 0;
  return { name, image, widthPx, heightPx, metresPerPixel, positionM: [round(middle[0]), round(middle[1]), 0] };
}

export type Scaled =
  | { readonly ok: true; readonly fields: Pick<PlanPicture, 'metresPerPixel' | 'positionM'> }
  | { readonly ok: false; readonly fault: string };

/**
 * The picture scaled so that two points of it, pressed at `from` and `to` on the plan, come to lie `trueM` apart. What lies
 * under the first point stays there.
 */
export function scaledByTwoPoints(picture: PlanPicture, from: Point2, to: Point2, trueM: number): Scaled {
  const apartM = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (apartM < LEAST_APART_M) return { ok: false, fault: 'The two points lie on one spot. Press them farther apart.' };
  if (!(trueM > 0)) return { ok: false, fault: 'A distance above 0 is needed.' };
  const factor = trueM / apartM;
  const [x, y, z] = picture.positionM;
  const about = (value: number, fixed: number): number => Number((fixed + (value - fixed) * factor).toFixed(4)) + 0;
  return {
    ok: true,
    fields: {
      metresPerPixel: Number((picture.metresPerPixel * factor).toPrecision(9)),
      positionM: [about(x, from[0]), about(y, from[1]), z],
    },
  };
}
