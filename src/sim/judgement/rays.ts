/** Single rays against hard things: what an edge's shadow line needs to know. */
import { addScaled, cross, dot, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { BlockerLayer } from '../solve/compiled';

const ON_PLANE_M = 1e-6;

/** True where the layer covers `point` (taken as lying in its plane): solid pieces minus holes. */
export function covers(layer: BlockerLayer, point: Vec3): boolean {
  let cover = 0;
  for (const piece of layer.pieces) {
    const inside = piece.corners.every((a, i) => {
      const b = piece.corners[(i + 1) % piece.corners.length]!;
      return dot(layer.normal, cross(subtract(b, a), subtract(point, a))) >= 0;
    });
    if (inside) cover += piece.hole ? -1 : 1;
  }
  return cover > 0;
}

/** Where the segment from `from` to `to` crosses the layer's plane, as a share of its length; NaN where it does not. */
function crossingAt(layer: BlockerLayer, from: Vec3, to: Vec3): number {
  const before = dot(layer.normal, subtract(from, layer.origin));
  const after = dot(layer.normal, subtract(to, layer.origin));
  if (Math.abs(before) <= ON_PLANE_M || Math.abs(after) <= ON_PLANE_M || before > 0 === after > 0) return NaN;
  return before / (before - after);
}

/** True where any of `layers` stops the straight ray from `from` to `to`. */
export function isBlocked(layers: readonly BlockerLayer[], from: Vec3, to: Vec3): boolean {
  return layers.some((layer) => {
    const t = crossingAt(layer, from, to);
    return !Number.isNaN(t) && covers(layer, addScaled(from, subtract(to, from), t));
  });
}
