/** Plane outlines cut into convex pieces, which is what the clipping kernel works on. */
import earcut from 'earcut';
import type { Point2 } from '../../scene/schema';

export function signedArea(outline: readonly Point2[]): number {
  let twice = 0;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    twice += outline[j]![0] * outline[i]![1] - outline[i]![0] * outline[j]![1];
  }
  return twice / 2;
}

/** The outline turned counter-clockwise. */
export const counterClockwise = (outline: readonly Point2[]): readonly Point2[] =>
  signedArea(outline) < 0 ? [...outline].reverse() : outline;

function turn(a: Point2, b: Point2, c: Point2): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/** True where every corner turns left or goes straight on. */
export function isConvex(outline: readonly Point2[]): boolean {
  const n = outline.length;
  return outline.every((b, i) => turn(outline[(i + n - 1) % n]!, b, outline[(i + 1) % n]!) >= 0);
}

/** Two convex pieces joined along a shared edge, or null where they share none or the union is not convex. */
function joined(a: readonly Point2[], b: readonly Point2[]): Point2[] | null {
  for (let i = 0; i < a.length; i++) {
    const from = a[i]!;
    const to = a[(i + 1) % a.length]!;
    const j = b.findIndex((p, k) => p === to && b[(k + 1) % b.length] === from);
    if (j < 0) continue;
    const around = [
      ...Array.from({ length: a.length - 1 }, (_, k) => a[(i + 1 + k) % a.length]!),
      ...Array.from({ length: b.length - 1 }, (_, k) => b[(j + 1 + k) % b.length]!),
    ];
    return isConvex(around) ? around : null;
  }
  return null;
}

/**
 * Convex counter-clockwise pieces that together fill a simple outline, holes left out; pieces share only edges.
 * Ear cutting, then pieces are joined greedily while the union stays convex (at most four times the least number).
 */
export function convexPieces(outline: readonly Point2[], holes: readonly (readonly Point2[])[] = []): Point2[][] {
  const rim = counterClockwise(outline);
  if (holes.length === 0 && isConvex(rim)) return [[...rim]];
  const corners: Point2[] = [...rim, ...holes.flat()];
  const starts: number[] = [];
  let start = rim.length;
  for (const hole of holes) {
    starts.push(start);
    start += hole.length;
  }
  const triangles = earcut(
    corners.flatMap((p) => [p[0], p[1]]),
    starts,
  );
  const pieces: Point2[][] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const triangle = [corners[triangles[t]!]!, corners[triangles[t + 1]!]!, corners[triangles[t + 2]!]!];
    if (Math.abs(signedArea(triangle)) > 0) pieces.push([...counterClockwise(triangle)]);
  }
  for (let i = 0; i < pieces.length; i++) {
    for (let j = i + 1; j < pieces.length; j++) {
      const union = joined(pieces[i]!, pieces[j]!);
      if (union === null) continue;
      pieces[i] = union;
      pieces.splice(j, 1);
      j = i; // the larger piece may now join one that was tried before
    }
  }
  return pieces;
}

/** Corners of a circle about the origin, counter-clockwise; the polygon has the circle's own area. */
export function areaMatchedCircle(radiusM: number, corners: number): Point2[] {
  const reach = radiusM * Math.sqrt((2 * Math.PI) / (corners * Math.sin((2 * Math.PI) / corners)));
  return Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * (i + 0.5)) / corners;
    return [reach * Math.cos(angle), reach * Math.sin(angle)] as const;
  });
}
