/** The wedge that a shaft makes in haze, where the sun's sides stay parallel. */
import { toDegrees } from '../../scene/geometry/frames';
import { add, scale, subtract } from '../../scene/geometry/vector';
import type { CompiledOpening, CompiledSource } from '../solve/compiled';

export interface HazeWedge {
  readonly planDeg: number;
  readonly uprightDeg: number;
}

/**
 * Full wedge between the rays from the emitter's centre past the two sides of an opening, in plan and in the upright
 * plane through the opening's middle; degrees. The sun's is 0.
 * @source judgement definition 2.14
 */
export function hazeWedge(source: CompiledSource, opening: CompiledOpening): HazeWedge {
  if (source.shape.kind === 'sun') return { planDeg: 0, uprightDeg: 0 };
  const offsets = opening.corners.map((corner) => subtract(corner, source.frame.origin));
  const middle = scale(
    offsets.reduce((sum, offset) => add(sum, offset)),
    1 / offsets.length,
  );
  const bearing = Math.atan2(middle[0], middle[1]);
  const turned = offsets.map(([x, y]) => {
    const turn = Math.atan2(x, y) - bearing;
    return Math.atan2(Math.sin(turn), Math.cos(turn));
  });
  const level = Math.hypot(middle[0], middle[1]);
  const rises = offsets.map(([, , z]) => Math.atan2(z, level));
  return {
    planDeg: toDegrees(Math.max(...turned) - Math.min(...turned)),
    uprightDeg: toDegrees(Math.max(...rises) - Math.min(...rises)),
  };
}
