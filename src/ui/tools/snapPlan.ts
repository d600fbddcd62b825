/** Where marks, plan pictures and the lines of kept dimensions like to come to rest on a drawing. Pure, and let go of with Alt. */
import type { ObjectRef, SnapMark } from '../../render/contract';
import { dimensionLine } from '../../scene/dimensions';
import { dot, subtract, type Vec3 } from '../../scene/geometry/vector';
import { pictureCorners } from '../../scene/planPictures';
import type { SceneDocument } from '../../scene/schema';
import { standingCorners } from './draw/drawSnap';
import { axesOf, NO_SNAP, restsOf, SNAP_PX, snapToRests, type Rest, type Snapped } from './snap';
import type { ToolSheet } from './tool';

const cornerRests = (document: SceneDocument): Rest[] =>
  standingCorners(document).map(({ at: [x, y], name }) => ({ atM: [x, y, 0], name: `the corner of ${name}` }));

/** What a carried picture can be laid by: its corners first, then its middle, each as far from the middle as it lies. */
function holdsOf(document: SceneDocument, ref: ObjectRef): Vec3[] {
  const picture = ref.kind === 'picture' ? document.pictures?.[ref.id] : undefined;
  if (!picture) return [[0, 0, 0]];
  const corners = pictureCorners(picture).map(([x, y]): Vec3 => subtract([x, y, 0], picture.positionM));
  return [...corners.map(([x, y]): Vec3 => [x, y, 0]), [0, 0, 0]];
}

/** Snaps a mark by its place, and a picture by the corner or middle that comes nearest to something. */
export function snapLying(
  document: SceneDocument,
  setupId: string,
  ref: ObjectRef,
  free: Vec3,
  sheet: ToolSheet,
): Snapped {
  const rests = [...restsOf(document, setupId, ref), ...cornerRests(document)];
  const reachM = SNAP_PX * sheet.metresPerPixel();
  const axes = axesOf(sheet, free);
  let best: Snapped = NO_SNAP;
  for (const hold of holdsOf(document, ref)) {
    const at: Vec3 = [free[0] + hold[0], free[1] + hold[1], free[2] + hold[2]];
    const snapped = snapToRests(rests, at, axes, reachM);
    if (snapped.marks[0]?.kind === 'on') return snapped;
    if (snapped.marks.length > best.marks.length) best = snapped;
  }
  return best;
}

export interface SnappedOffset {
  readonly offsetM: number;
  readonly marks: readonly SnapMark[];
}

/** Lines of the other kept dimensions, each by its two ends. */
const otherLines = (document: SceneDocument, setupId: string, id: string): Rest[] =>
  Object.entries(document.dimensions ?? {}).flatMap(([otherId, other]): Rest[] => {
    const line = otherId === id || other.hidden === true ? null : dimensionLine(document, setupId, other);
    return line ? [line.from, line.to].map(([x, y]): Rest => ({ atM: [x, y, 0], name: other.name })) : [];
  });

/** Snaps how far a dimension's line stands off: level with another dimension's line, a thing or a corner. */
export function snapOffset(
  document: SceneDocument,
  setupId: string,
  id: string,
  freeM: number,
  metresPerPixel: number,
): SnappedOffset {
  const dimension = document.dimensions?.[id];
  const line = dimension && dimensionLine(document, setupId, { ...dimension, offsetM: freeM });
  if (!line) return { offsetM: freeM, marks: [] };
  const from: Vec3 = [line.from[0], line.from[1], 0];
  const across: Vec3 = [-(line.to[1] - line.from[1]) / line.lengthM, (line.to[0] - line.from[0]) / line.lengthM, 0];
  const rests = [...otherLines(document, setupId, id), ...restsOf(document, setupId, null), ...cornerRests(document)];
  let best: { readonly rest: Rest; readonly offM: number } | null = null;
  for (const rest of rests) {
    const offM = dot(subtract(rest.atM, from), across);
    if (Math.abs(offM) > SNAP_PX * metresPerPixel || (best && Math.abs(offM) >= Math.abs(best.offM) - 1e-9)) continue;
    best = { rest, offM };
  }
  if (!best) return { offsetM: freeM, marks: [] };
  const { rest, offM } = best;
  const atM: Vec3 = [from[0] + across[0] * offM, from[1] + across[1] * offM, 0];
  const far: Vec3 = [line.to[0] + across[0] * offM, line.to[1] + across[1] * offM, 0];
  const nearEnd = distanceTo(far, rest.atM) < distanceTo(atM, rest.atM) ? far : atM;
  const mark: SnapMark = { kind: 'level', atM: nearEnd, otherM: rest.atM, word: `level with ${rest.name}` };
  return { offsetM: Number((freeM + offM).toFixed(4)), marks: [mark] };
}
const distanceTo = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** How far a dimension's line has gone across itself as a step on the plan. */
export function offsetStep(document: SceneDocument, setupId: string, id: string, offsetM: number): Vec3 {
  const dimension = document.dimensions?.[id];
  const before = dimension && dimensionLine(document, setupId, dimension);
  const after = dimension && dimensionLine(document, setupId, { ...dimension, offsetM });
  if (!before || !after) return [0, 0, 0];
  return [after.from[0] - before.from[0], after.from[1] - before.from[1], 0];
}
