/**
 * Light that starts behind a lamp's lens (at a virtual origin) is only out in the open from the lens on: a wall or a
 * flag behind the lens does not stand in it, though it may stand between the virtual origin and the receiver.
 */
import { addScaled, dot, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { BlockerLayer, CompiledSource, ConvexPiece } from './compiled';

/** The part of a convex polygon where `height` is above 0. */
function partAbove(corners: readonly Vec3[], height: (point: Vec3) => number): Vec3[] {
  const kept: Vec3[] = [];
  corners.forEach((from, i) => {
    const to = corners[(i + 1) % corners.length]!;
    const [a, b] = [height(from), height(to)];
    if (a > 0) kept.push(from);
    if (a > 0 !== b > 0) kept.push(addScaled(from, subtract(to, from), a / (a - b)));
  });
  return kept.length < 3 ? [] : kept;
}

/**
 * @returns the layers as they stand in the source's light: cut off at the plane where it leaves the lamp; what belongs to
 *   the lamp itself stays whole
 */
export function beyondOutlet(source: CompiledSource, layers: readonly BlockerLayer[]): readonly BlockerLayer[] {
  const { frame, outletM } = source;
  if (outletM === 0) return layers;
  const height = (point: Vec3): number => dot(frame.forward, subtract(point, frame.origin)) - outletM;
  return layers.flatMap((layer) => {
    if (layer.onlySourceId !== null) return [layer];
    const pieces = layer.pieces
      .map((piece): ConvexPiece => ({ ...piece, corners: partAbove(piece.corners, height) }))
      .filter(({ corners }) => corners.length > 0);
    return pieces.length > 0 ? [{ ...layer, pieces }] : [];
  });
}
