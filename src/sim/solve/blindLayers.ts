/** A window's blind as layers of the kernel: one opaque rectangle a slat, each in a plane of its own. */
import { blindSlats, type Blind, type OpeningBox, type Slat } from '../../scene/geometry/blindSlats';
import { worldFromLocal, type Frame } from '../../scene/geometry/frames';
import { cross, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { BlockerLayer, HardEdge } from './compiled';

/** The opening that a blind hangs in, by its surface, and what it is called. */
export interface BlindPlace {
  readonly surfaceId: string;
  readonly openingId: string;
  readonly label: string;
  /** The wall's frame, and the box round the opening in it. */
  readonly frame: Frame;
  readonly box: OpeningBox;
}

/** Corners about the slat's upper side at tilt 0: along the room's edge to the right, back along the outer edge. */
function cornersOf({ frame, box }: BlindPlace, { roomEdge, outerEdge }: Slat): Vec3[] {
  const at = (rightM: number, { upM, depthM }: Slat['roomEdge']) => worldFromLocal(frame, [rightM, upM], depthM);
  return [at(box.leftM, roomEdge), at(box.rightM, roomEdge), at(box.rightM, outerEdge), at(box.leftM, outerEdge)];
}

/**
 * Slats and their edges. A ray passes where it misses every slat, so the layers' product is exact where slats overlap as
 * the light sees them.
 * @remarks Left out: light that slats reflect or let through; see blindSlats for what of their shape is.
 */
export function blindLayers(place: BlindPlace, blind: Blind): { layers: BlockerLayer[]; hardEdges: HardEdge[] } {
  const layers: BlockerLayer[] = [];
  const hardEdges: HardEdge[] = [];
  const { surfaceId, openingId, label, box } = place;
  blindSlats(box, blind).forEach((slat, index) => {
    const corners = cornersOf(place, slat);
    const [first, second, third] = corners as [Vec3, Vec3, Vec3];
    const normal = normalise(cross(subtract(second, first), subtract(third, second)));
    const layerId = `${surfaceId}/${openingId} slat ${index + 1}`;
    // Slats that hang before the wall can shade it; behind its face they cannot.
    const isBehindFace = Math.min(slat.roomEdge.depthM, slat.outerEdge.depthM) >= 0;
    layers.push({
      id: layerId,
      ownSurfaceId: isBehindFace ? surfaceId : null,
      onlySourceId: null,
      role: 'set',
      origin: first,
      normal,
      opacity: 1,
      weave: null,
      pieces: [{ corners, hole: false }],
    });
    corners.forEach((from, i) => {
      const to = corners[(i + 1) % corners.length]!;
      const open = scale(normalise(cross(normal, subtract(to, from))), -1);
      hardEdges.push({ from, to, open, layerId, role: 'set', openingId: `${surfaceId}/${openingId}`, label });
    });
  });
  return { layers, hardEdges };
}
