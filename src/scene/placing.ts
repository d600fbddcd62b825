/** What lies on a surface, and the edge of a modifier; just enough shape to look at a document by itself. */
import { ringOf } from './invariants';
import { sideOfRing, type Ring } from './outlines';
import type { Modifier, Point2, Surface } from './schema';

const DISC_CORNERS = 48;

/** Whether a point in the surface's plane lies on its material: inside the outline, and in no hole. */
export function isOnSurface(surface: Surface, inPlaneM: Point2): boolean {
  if (sideOfRing(inPlaneM, ringOf(surface.shape)) === 'outside') return false;
  const holes = surface.shape.kind === 'polygon' ? (surface.shape.holesM ?? []) : [];
  return holes.every((hole) => sideOfRing(inPlaneM, hole) !== 'inside');
}

/** Outer edge of a modifier in its own right/up metres, its position at the origin; a disc as a polygon of 48 corners. */
export function modifierRing(shape: Modifier['shape']): Ring {
  if (shape.kind === 'polygon') return shape.outlineM;
  if (shape.kind === 'disc') {
    return Array.from({ length: DISC_CORNERS }, (_, corner): Point2 => {
      const turn = (2 * Math.PI * corner) / DISC_CORNERS;
      return [(shape.diameterM / 2) * Math.cos(turn), (shape.diameterM / 2) * Math.sin(turn)];
    });
  }
  const [right, up] = [shape.widthM / 2, shape.heightM / 2];
  return [
    [-right, -up],
    [right, -up],
    [right, up],
    [-right, up],
  ];
}
