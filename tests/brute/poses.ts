/** Poses of the document as axes of the world, from the words of the schema alone. */
import type { Pose } from '../../src/scene/schema';
import { outer, plus, RADIAN, size, unit, type Triple } from './vectors';

export interface Axes {
  readonly origin: Triple;
  /** Right and up for somebody who looks at the face; `out` is where the face looks. */
  readonly right: Triple;
  readonly up: Triple;
  readonly out: Triple;
}

/** Pan 0 looks along +y and turns clockwise seen from above; tilt is up from level. */
export function looking(panDeg: number, tiltDeg: number): Triple {
  const pan = panDeg * RADIAN;
  const tilt = tiltDeg * RADIAN;
  return [Math.sin(pan) * Math.cos(tilt), Math.cos(pan) * Math.cos(tilt), Math.sin(tilt)];
}

export function axesOf(pose: Pose): Axes {
  const { aim } = pose;
  let panDeg = 0;
  let tiltDeg = 0;
  if ('panDeg' in aim) {
    panDeg = aim.panDeg;
    tiltDeg = aim.tiltDeg;
  } else {
    const towards = plus(aim.atM, pose.positionM, -1);
    if (size(towards) > 1e-9) {
      const level = Math.sqrt(towards[0] ** 2 + towards[1] ** 2);
      panDeg = level < 1e-12 * size(towards) ? 0 : Math.atan2(towards[0], towards[1]) / RADIAN;
      tiltDeg = Math.atan2(towards[2], level) / RADIAN;
    }
  }
  const out = looking(panDeg, tiltDeg);
  // A quarter turn of tilt more is the thing's upright; a quarter turn of pan less is its right seen from its front.
  const upright = looking(panDeg, tiltDeg + 90);
  const frontRight = looking(panDeg - 90, 0);
  // Clockwise seen from behind: the upright swings towards the right of somebody behind, which is the front's left.
  const roll = (aim.rollDeg ?? 0) * RADIAN;
  const up = unit(plus(plus([0, 0, 0], upright, Math.cos(roll)), frontRight, -Math.sin(roll)));
  return { origin: pose.positionM, out, up, right: outer(up, out) };
}

/** The world point `right`, `up` metres along the face and `behind` metres behind it. */
export const onFace = (axes: Axes, right: number, up: number, behind = 0): Triple =>
  plus(plus(plus(axes.origin, axes.right, right), axes.up, up), axes.out, -behind);
