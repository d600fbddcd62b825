import { boundsOf } from '../outlines';
import type { Surface } from '../schema';
import { worldFromLocal, type Frame } from './frames';
import type { Vec3 } from './vector';

/**
 * Lower ends of an upright surface, left and right as seen by somebody who looks at its lit face, m: a rectangle's lower corners,
 * and under the outermost points of an outline at the height of its lowest one. Null for a surface that leans, or lies.
 */
export function wallEnds(frame: Frame, shape: Surface['shape']): readonly [left: Vec3, right: Vec3] | null {
  if (frame.up[2] < 1 - 1e-9) return null;
  if (shape.kind === 'rectangle') return [frame.origin, worldFromLocal(frame, [shape.widthM, 0])];
  const { leftM, rightM, lowM } = boundsOf(shape.outlineM);
  return [worldFromLocal(frame, [leftM, lowM]), worldFromLocal(frame, [rightM, lowM])];
}
