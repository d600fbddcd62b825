/** Walls that stand with an end against the run of another one: where they meet it after it has been carried. Plan metres. */
import type { Point2, SceneDocument } from '../../scene/schema';
import { apart, SAME_CORNER_M } from './draw/drawing';
import { endsOf, SIDES, type WallEnds } from './walls';

/** One wall's run before and after. */
export interface Run {
  readonly before: WallEnds;
  readonly after: WallEnds;
}
/** Two lines nearer to parallel than this do not meet: the sine of the angle between them. */
const LEAST_SINE = 1e-3;

/** Whether a place lies on the run between two ends, clear of both. */
export function isOnRun([x, y]: Point2, { left, right }: WallEnds): boolean {
  const lengthM = apart(left, right);
  const [dx, dy] = [(right[0] - left[0]) / lengthM, (right[1] - left[1]) / lengthM];
  const alongM = (x - left[0]) * dx + (y - left[1]) * dy;
  const offM = Math.abs((x - left[0]) * dy - (y - left[1]) * dx);
  return offM < SAME_CORNER_M && alongM > SAME_CORNER_M && alongM < lengthM - SAME_CORNER_M;
}

/** Where the line through two ends meets the run; null where it passes it by. */
function meeting(own: WallEnds, run: WallEnds): Point2 | null {
  const [ax, ay] = [own.right[0] - own.left[0], own.right[1] - own.left[1]];
  const [bx, by] = [run.right[0] - run.left[0], run.right[1] - run.left[1]];
  const turn = ax * by - ay * bx;
  if (Math.abs(turn) < LEAST_SINE * Math.hypot(ax, ay) * Math.hypot(bx, by)) return null;
  const share = ((own.left[0] - run.left[0]) * ay - (own.left[1] - run.left[1]) * ax) / -turn;
  return share < -1e-9 || share > 1 + 1e-9 ? null : [run.left[0] + share * bx, run.left[1] + share * by];
}

/**
 * Ends of a wall after the runs that it stands against have gone: it keeps its direction and is made longer or shorter.
 * @returns null where it stands against none of them, or no longer reaches the one it stood against
 */
export function endsAgainst(own: WallEnds, runs: readonly Run[]): WallEnds | null {
  let next: WallEnds | null = null;
  for (const side of SIDES) {
    const run = runs.find(({ before }) => isOnRun(own[side], before));
    const to = run && meeting(own, run.after);
    if (to && apart(to, own[side]) > 1e-9) next = { ...(next ?? own), [side]: to };
  }
  return next;
}

/** Walls whose end stands against the run of this one. */
export function teesOn(scene: SceneDocument, run: WallEnds): string[] {
  return Object.entries(scene.surfaces).flatMap(([id, surface]) => {
    const ends = surface.kind === 'wall' ? endsOf(surface) : null;
    return ends && SIDES.some((side) => isOnRun(ends[side], run)) ? [id] : [];
  });
}
