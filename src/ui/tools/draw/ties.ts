/** What a dimension can be tied to: corners of walls, jambs of openings, lamps, grip, meters, marks and the camera. */
import { endPointM } from '../../../scene/dimensions';
import { frameFromPose } from '../../../scene/geometry/frames';
import type { Vec3 } from '../../../scene/geometry/vector';
import type { Point2, SceneDocument } from '../../../scene/schema';
import type { DimensionEnd, TiedEnd } from '../../../scene/schemaPlan';
import { setupOf } from '../things';

export interface Tie {
  readonly end: DimensionEnd;
  readonly name: string;
  readonly atM: Vec3;
}
/** Nearer than this to a tie a point lies on it, metres. */
const SAME_PLACE_M = 0.001;
const SIDES = ['left', 'right'] as const;

/** All of them in a setup, corners first. */
export function tiesOf(scene: SceneDocument, setupId: string): Tie[] {
  const ends: { readonly end: TiedEnd; readonly name: string }[] = [];
  const standing = Object.entries(scene.surfaces).filter(
    ([, surface]) => surface.hidden !== true && Math.abs(frameFromPose(surface.pose).forward[2]) < 0.1,
  );
  for (const [id, { name }] of standing) {
    for (const side of SIDES) ends.push({ end: { kind: 'surface', id, side }, name: `${name}, ${side} corner` });
  }
  for (const [surfaceId, { openings }] of standing) {
    for (const [id, opening] of Object.entries(openings ?? {})) {
      for (const side of SIDES) {
        ends.push({ end: { kind: 'opening', id, surfaceId, side }, name: `${opening.name ?? id}, ${side} jamb` });
      }
    }
  }
  const setup = setupOf(scene, setupId);
  const named = (kind: TiedEnd['kind'], record: Readonly<Record<string, { readonly name: string }>> = {}): void => {
    for (const [id, { name }] of Object.entries(record)) ends.push({ end: { kind, id }, name });
  };
  named('source', setup?.sources);
  named('modifier', setup?.modifiers);
  named('meter', scene.meters);
  named('mark', scene.marks);
  const ties = ends.flatMap(({ end, name }): Tie[] => {
    const atM = endPointM(scene, setupId, end);
    return atM ? [{ end, name, atM }] : [];
  });
  const camera = scene.camera.pose?.positionM;
  return camera ? [...ties, { end: { atM: [...camera] }, name: 'Camera', atM: camera }] : ties;
}

/** The tie nearest to a place on the plan, within reach. */
export function tieNear(scene: SceneDocument, setupId: string, [x, y]: Point2, reachM: number): Tie | null {
  let best: { tie: Tie; apartM: number } | null = null;
  for (const tie of tiesOf(scene, setupId)) {
    const apartM = Math.hypot(tie.atM[0] - x, tie.atM[1] - y);
    if (apartM <= reachM && (!best || apartM < best.apartM - 1e-9)) best = { tie, apartM };
  }
  return best?.tie ?? null;
}

/** End of a dimension at a place: tied to what lies there, else free. */
export const endAt = (scene: SceneDocument, setupId: string, [x, y]: Point2): DimensionEnd =>
  tieNear(scene, setupId, [x, y], SAME_PLACE_M)?.end ?? { atM: [x, y, 0] };
