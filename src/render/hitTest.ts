/** What lies under a pointer: targets are screen shapes, the nearest of the highest rank within reach wins. Pure. */
import type { Hit } from './contract';
import { distanceToPath, insideRings, type Path, type Shift } from './geometry2d';

/** Ranks, highest first: handles of the selection, lamps, meters, grip, openings, surfaces. */
export const RANK = {
  handle: 5,
  source: 4,
  meter: 3,
  camera: 3,
  mark: 3,
  modifier: 2,
  opening: 1,
  dimension: 0.5,
  surface: 0,
  picture: -1,
} as const;

export interface HitTarget {
  readonly hit: Hit;
  readonly rank: number;
  /** A point with the radius it is drawn with, a line, or an area. */
  readonly shape:
    | { readonly kind: 'point'; readonly x: number; readonly y: number; readonly radiusPx: number }
    | { readonly kind: 'line'; readonly path: Path }
    | { readonly kind: 'area'; readonly rings: readonly Path[] };
}

/** How far beside a thing a pointer still means it, CSS pixels; a finger needs a target of 44. */
export const reachPx = (coarse: boolean): number => (coarse ? 24 : 10);

/** Distance from the pointer to the drawn thing, 0 on it. */
export function distanceToTarget(target: HitTarget, x: number, y: number): number {
  const { shape } = target;
  switch (shape.kind) {
    case 'point':
      return Math.hypot(x - shape.x, y - shape.y);
    case 'line':
      return distanceToPath(shape.path, x, y);
    case 'area':
      if (insideRings(shape.rings, x, y)) return 0;
      return Math.min(...shape.rings.map((ring) => distanceToPath(ring, x, y, true)));
  }
}

/** Targets that were placed for another view, and how far they lie from there now, px. */
export interface TargetLot {
  readonly targets: readonly HitTarget[];
  readonly shift: Shift;
}

/** The hit of the best target within reach, or null; those of `kept` come first where two are as good. */
export function pickTarget(
  targets: readonly HitTarget[],
  x: number,
  y: number,
  coarse: boolean,
  kept?: TargetLot,
): Hit | null {
  let best: { hit: Hit; rank: number; distance: number } | null = null;
  const here: TargetLot = { targets, shift: [0, 0] };
  for (const lot of kept ? [kept, here] : [here]) {
    for (const target of lot.targets) {
      const distance = distanceToTarget(target, x - lot.shift[0], y - lot.shift[1]);
      const reach = target.shape.kind === 'point' ? Math.max(reachPx(coarse), target.shape.radiusPx) : reachPx(coarse);
      if (distance > reach) continue;
      // Areas are wide already: a near miss of a wall must not hide what stands just in front of it.
      if (!best || target.rank > best.rank || (target.rank === best.rank && distance < best.distance)) {
        best = { hit: target.hit, rank: target.rank, distance };
      }
    }
  }
  return best?.hit ?? null;
}
