/** How far the light's arrival directions run apart. */
import { axesAcross } from '../solve/emitterFace';
import { add, dot, length, normalise, subtract, type Vec3 } from '../../scene/geometry/vector';
import { toDegrees } from '../../scene/geometry/frames';

/** Convex hull of plane points, counter-clockwise (Andrew's monotone chain); indices into `points`. */
export function convexHull(points: readonly (readonly [number, number])[]): number[] {
  const order = points.map((_, i) => i).sort((a, b) => points[a]![0] - points[b]![0] || points[a]![1] - points[b]![1]);
  const turn = (a: number, b: number, c: number) => {
    const [p, q, r] = [points[a]!, points[b]!, points[c]!];
    return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  };
  const chain = (indices: readonly number[]) => {
    const kept: number[] = [];
    for (const i of indices) {
      while (kept.length >= 2 && turn(kept[kept.length - 2]!, kept[kept.length - 1]!, i) <= 0) kept.pop();
      kept.push(i);
    }
    return kept.slice(0, -1);
  };
  if (order.length < 3) return order;
  return [...chain(order), ...chain([...order].reverse())];
}

/**
 * Largest angle between two of the directions, degrees.
 * Only pairs on the convex hull in the tangent plane of the mean direction are tried.
 * @param directions unit vectors within 90 degrees of their mean
 */
export function fanDeg(directions: readonly Vec3[]): number {
  if (directions.length < 2) return 0;
  const mean = normalise(directions.reduce((sum, d) => add(sum, d), [0, 0, 0] as Vec3));
  const [right, up] = axesAcross(mean);
  const tangents = directions.map((d) => [dot(d, right) / dot(d, mean), dot(d, up) / dot(d, mean)] as const);
  const hull = convexHull(tangents);
  let widest = 0;
  for (const i of hull) {
    for (const j of hull) {
      // By the chord: exact for small angles too, where acos of a dot product is not.
      const half = length(subtract(directions[i]!, directions[j]!)) / 2;
      widest = Math.max(widest, 2 * Math.asin(Math.min(1, half)));
    }
  }
  return toDegrees(widest);
}
