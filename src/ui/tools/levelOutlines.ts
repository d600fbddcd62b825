/** Floors and ceilings whose corners lie under the corners of walls go along with them. */
import { frameFromPose, localFromWorld, worldFromLocal } from '../../scene/geometry/frames';
import { ringOf } from '../../scene/invariants';
import type { Point2, Surface } from '../../scene/schema';

const plain = (value: number): number => Number(value.toFixed(9)) + 0;
const FLAT = 1e-7;

/** Whether a level surface is one that follows its walls. */
export const followsWalls = ({ kind, pose }: Surface): boolean =>
  (kind === 'floor' || kind === 'ceiling') && Math.abs(frameFromPose(pose).forward[2]) > 1 - 1e-9;

type FloorFields = Pick<Surface, 'shape'> & {
  readonly pose?: Surface['pose'];
  readonly judgedAreaM?: [number, number][];
};

/** The ring's corners as an upright rectangle in its own axes; null where they make none. */
function rectangleOf(ring: readonly Point2[]): { low: Point2; widthM: number; heightM: number } | null {
  const rights = ring.map(([right]) => right);
  const ups = ring.map(([, up]) => up);
  const [left, rightmost, low, high] = [Math.min(...rights), Math.max(...rights), Math.min(...ups), Math.max(...ups)];
  const isCorner = ([right, up]: Point2): boolean =>
    Math.min(right - left, rightmost - right) < FLAT && Math.min(up - low, high - up) < FLAT;
  if (ring.length !== 4 || !ring.every(isCorner) || rightmost - left < FLAT || high - low < FLAT) return null;
  return { low: [left, low], widthM: plain(rightmost - left), heightM: plain(high - low) };
}

/**
 * Fields of a floor or ceiling after `moved` has taken some of its corners elsewhere; null where none of them moves. A
 * rectangle stays one where it can, else it becomes a polygon.
 * @param moved plan metres to plan metres; null for a corner that stays
 */
export function followedOutline(surface: Surface, moved: (corner: Point2) => Point2 | null): FloorFields | null {
  const frame = frameFromPose(surface.pose);
  const ring = ringOf(surface.shape);
  let hasMoved = false;
  const next = ring.map((corner): [number, number] => {
    const [x, y, z] = worldFromLocal(frame, corner);
    const to = moved([x, y]);
    if (!to) return [corner[0], corner[1]];
    hasMoved = true;
    const { right, up } = localFromWorld(frame, [to[0], to[1], z]);
    return [plain(right), plain(up)];
  });
  if (!hasMoved) return null;
  const rectangle = surface.shape.kind === 'rectangle' ? rectangleOf(next) : null;
  if (!rectangle) {
    const holes = surface.shape.kind === 'polygon' && surface.shape.holesM ? { holesM: surface.shape.holesM } : {};
    return { shape: { kind: 'polygon', outlineM: next, ...holes } };
  }
  const { low, widthM, heightM } = rectangle;
  const [x, y, z] = worldFromLocal(frame, low);
  const judged = surface.judgedAreaM?.map(([right, up]): [number, number] => [right - low[0], up - low[1]]);
  return {
    pose: { ...surface.pose, positionM: [plain(x), plain(y), plain(z)] },
    shape: { kind: 'rectangle', widthM, heightM },
    ...(judged && { judgedAreaM: judged }),
  };
}
