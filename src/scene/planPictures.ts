/** Where a picture of a plan lies. */
import { cosDeg, sinDeg } from './geometry/frames';
import type { Point2 } from './schema';
import type { PlanPicture } from './schemaPlan';

/** Corners of a picture on the plan, metres: upper left, upper right, lower right, lower left as it is looked at. */
export function pictureCorners({ widthPx, heightPx, metresPerPixel, positionM, turnDeg = 0 }: PlanPicture): Point2[] {
  const [halfW, halfH] = [(widthPx * metresPerPixel) / 2, (heightPx * metresPerPixel) / 2];
  const [sin, cos] = [sinDeg(turnDeg), cosDeg(turnDeg)];
  return [
    [-halfW, halfH],
    [halfW, halfH],
    [halfW, -halfH],
    [-halfW, -halfH],
  ].map(([u = 0, v = 0]): Point2 => [positionM[0] + u * cos + v * sin, positionM[1] - u * sin + v * cos]);
}
