import type { Surface } from '../schema';
import { worldFromLocal, type Frame } from './frames';
import type { Vec3 } from './vector';

/** Lower corners of an upright rectangle, left and right as seen by somebody who looks at its lit face, m; null for any other surface. */
export function wallEnds(frame: Frame, shape: Surface['shape']): readonly [left: Vec3, right: Vec3] | null {
  if (shape.kind !== 'rectangle' || frame.up[2] < 1 - 1e-9) return null;
  return [frame.origin, worldFromLocal(frame, [shape.widthM, 0])];
}
