/**
 * Plane outlines: whether they are simple, whether one lies within another, whether two overlap.
 * Points are metres in a plane; a ring closes from its last corner to its first. Things nearer than TOUCH_M touch.
 */
import type { Point2 } from './schema';

/** Corners and edges nearer than this, in metres, count as touching: far below any tape, far above rounding. */
export const TOUCH_M = 1e-6;

export type Ring = readonly Point2[];

const at = (ring: Ring, index: number): Point2 => ring[index % ring.length] ?? [0, 0];
/** Twice the signed area of the triangle a, b, c in m²; positive when c lies to the left of a → b. */
const turn = (a: Point2, b: Point2, c: Point2): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
const gap = (a: Point2, b: Point2): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Where along a → b the point nearest to `p` lies, 0..1. */
function nearestShare(p: Point2, a: Point2, b: Point2): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const squared = dx * dx + dy * dy;
  return squared === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / squared));
}
const between = (a: Point2, b: Point2, share: number): Point2 => [
  a[0] + (b[0] - a[0]) * share,
  a[1] + (b[1] - a[1]) * share,
];
const gapToEdge = (p: Point2, a: Point2, b: Point2): number => gap(p, between(a, b, nearestShare(p, a, b)));

function cross(a: Point2, b: Point2, c: Point2, d: Point2): boolean {
  const [abc, abd, cda, cdb] = [turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)];
  return abc > 0 !== abd > 0 && cda > 0 !== cdb > 0 && abc !== 0 && abd !== 0 && cda !== 0 && cdb !== 0;
}
function meet(a: Point2, b: Point2, c: Point2, d: Point2): boolean {
  return (
    cross(a, b, c, d) ||
    gapToEdge(a, c, d) <= TOUCH_M ||
    gapToEdge(b, c, d) <= TOUCH_M ||
    gapToEdge(c, a, b) <= TOUCH_M ||
    gapToEdge(d, a, b) <= TOUCH_M
  );
}

interface Edge {
  readonly ring: number;
  readonly index: number;
  readonly a: Point2;
  readonly b: Point2;
  readonly leftM: number;
  readonly rightM: number;
  readonly lowM: number;
  readonly highM: number;
}
/** Two edges that meet and should not: ring numbers and edge numbers (edge i runs from corner i to corner i + 1). */
export interface Meeting {
  readonly rings: readonly [number, number];
  readonly edges: readonly [number, number];
}

function edgesOf(rings: readonly Ring[]): Edge[] {
  return rings.flatMap((ring, ringIndex) =>
    ring.map((a, index) => {
      const b = at(ring, index + 1);
      return {
        ring: ringIndex,
        index,
        a,
        b,
        leftM: Math.min(a[0], b[0]),
        rightM: Math.max(a[0], b[0]),
        lowM: Math.min(a[1], b[1]),
        highM: Math.max(a[1], b[1]),
      };
    }),
  );
}
const areNeighbours = (one: Edge, other: Edge, corners: number): boolean => {
  const apart = Math.abs(one.index - other.index);
  return one.ring === other.ring && (apart === 1 || apart === corners - 1);
};

/**
 * The first pair of edges of the rings that cross or touch, neighbours in a ring left out (see `ringFlaw` for those).
 * Edges are swept from left to right, so that plain outlines cost little; the worst case is the square of the corners.
 * @returns null when no two edges meet
 */
export function findMeeting(rings: readonly Ring[]): Meeting | null {
  const edges = edgesOf(rings).sort((one, other) => one.leftM - other.leftM);
  let open: Edge[] = [];
  for (const edge of edges) {
    open = open.filter((earlier) => earlier.rightM + TOUCH_M >= edge.leftM);
    for (const earlier of open) {
      if (earlier.highM + TOUCH_M < edge.lowM || edge.highM + TOUCH_M < earlier.lowM) continue;
      if (areNeighbours(earlier, edge, rings[edge.ring]?.length ?? 0)) continue;
      if (!meet(earlier.a, earlier.b, edge.a, edge.b)) continue;
      const [first, second] =
        earlier.ring < edge.ring || (earlier.ring === edge.ring && earlier.index < edge.index)
          ? [earlier, edge]
          : [edge, earlier];
      return { rings: [first.ring, second.ring], edges: [first.index, second.index] };
    }
    open.push(edge);
  }
  return null;
}

/** What is wrong between neighbouring corners: a corner twice over, or a spike that runs back along its own edge. */
export function ringFlaw(ring: Ring): { readonly corner: number; readonly kind: 'repeated' | 'spike' } | null {
  for (let corner = 0; corner < ring.length; corner++) {
    if (gap(at(ring, corner), at(ring, corner + 1)) <= TOUCH_M) {
      return { corner: (corner + 1) % ring.length, kind: 'repeated' };
    }
  }
  for (let corner = 0; corner < ring.length; corner++) {
    const [a, b, c] = [at(ring, corner), at(ring, corner + 1), at(ring, corner + 2)];
    if (gapToEdge(c, a, b) <= TOUCH_M || gapToEdge(a, b, c) <= TOUCH_M) {
      return { corner: (corner + 1) % ring.length, kind: 'spike' };
    }
  }
  return null;
}

/** Whether `p` lies inside the ring, on its edge (within TOUCH_M) or outside. */
export function sideOfRing(p: Point2, ring: Ring): 'inside' | 'edge' | 'outside' {
  let inside = false;
  for (let index = 0; index < ring.length; index++) {
    const [a, b] = [at(ring, index), at(ring, index + 1)];
    if (Math.min(a[1], b[1]) > p[1] + TOUCH_M || Math.max(a[1], b[1]) < p[1] - TOUCH_M) continue;
    if (gapToEdge(p, a, b) <= TOUCH_M) return 'edge';
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < a[0] + ((p[1] - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) {
      inside = !inside;
    }
  }
  return inside ? 'inside' : 'outside';
}

/** Middles of the pieces into which the edges of `ring` are cut where they meet `other`. */
function pieceMiddles(ring: Ring, other: Ring): Point2[] {
  const middles: Point2[] = [];
  ring.forEach((a, index) => {
    const b = at(ring, index + 1);
    const shares = [0, 1];
    const box = boundsOf([a, b]);
    other.forEach((c, otherIndex) => {
      const d = at(other, otherIndex + 1);
      if (Math.min(c[0], d[0]) > box.rightM + TOUCH_M || Math.max(c[0], d[0]) < box.leftM - TOUCH_M) return;
      if (Math.min(c[1], d[1]) > box.highM + TOUCH_M || Math.max(c[1], d[1]) < box.lowM - TOUCH_M) return;
      if (gapToEdge(c, a, b) <= TOUCH_M) shares.push(nearestShare(c, a, b));
      const [fromA, fromB] = [turn(c, d, a), turn(c, d, b)];
      if (cross(a, b, c, d)) shares.push(fromA / (fromA - fromB));
    });
    shares.sort((one, another) => one - another);
    const lengthM = gap(a, b);
    for (let piece = 1; piece < shares.length; piece++) {
      const [from, to] = [shares[piece - 1] ?? 0, shares[piece] ?? 1];
      if ((to - from) * lengthM > TOUCH_M) middles.push(between(a, b, (from + to) / 2));
    }
  });
  return middles;
}

/** Whether the whole of `inner` lies within `outer`; the two may share edges. Both must be simple. */
export function liesWithin(inner: Ring, outer: Ring): boolean {
  const meeting = findMeeting([outer, inner]);
  // Two rings that are simple and do not meet: one corner tells for all.
  if (meeting === null) return sideOfRing(at(inner, 0), outer) !== 'outside';
  return [...inner, ...pieceMiddles(inner, outer)].every((p) => sideOfRing(p, outer) !== 'outside');
}

/** A point well inside a simple ring: the middle of the widest stretch on a level line between two corners. */
export function innerPoint(ring: Ring): Point2 {
  const levels = [...new Set(ring.map((p) => p[1]))].sort((a, b) => a - b);
  let best: { point: Point2; widthM: number } = { point: at(ring, 0), widthM: -1 };
  for (let index = 1; index < levels.length; index++) {
    const y = ((levels[index - 1] ?? 0) + (levels[index] ?? 0)) / 2;
    const crossings: number[] = [];
    ring.forEach((a, corner) => {
      const b = at(ring, corner + 1);
      if (a[1] > y !== b[1] > y) crossings.push(a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
    });
    crossings.sort((a, b) => a - b);
    for (let pair = 1; pair < crossings.length; pair += 2) {
      const [from, to] = [crossings[pair - 1] ?? 0, crossings[pair] ?? 0];
      if (to - from > best.widthM) best = { point: [(from + to) / 2, y], widthM: to - from };
    }
  }
  return best.point;
}

/** Bounding box of a ring, metres. */
export function boundsOf(ring: Ring): { leftM: number; rightM: number; lowM: number; highM: number } {
  const bounds = { leftM: Infinity, rightM: -Infinity, lowM: Infinity, highM: -Infinity };
  for (const [x, y] of ring) {
    bounds.leftM = Math.min(bounds.leftM, x);
    bounds.rightM = Math.max(bounds.rightM, x);
    bounds.lowM = Math.min(bounds.lowM, y);
    bounds.highM = Math.max(bounds.highM, y);
  }
  return bounds;
}

/** Whether two simple rings share area; touching along an edge or at a corner is not sharing. */
export function ringsOverlap(one: Ring, other: Ring): boolean {
  const [a, b] = [boundsOf(one), boundsOf(other)];
  if (a.rightM <= b.leftM || b.rightM <= a.leftM || a.highM <= b.lowM || b.highM <= a.lowM) return false;
  if (findMeeting([one, other]) === null) {
    return sideOfRing(at(one, 0), other) === 'inside' || sideOfRing(at(other, 0), one) === 'inside';
  }
  return (
    pieceMiddles(one, other).some((p) => sideOfRing(p, other) === 'inside') ||
    pieceMiddles(other, one).some((p) => sideOfRing(p, one) === 'inside') ||
    sideOfRing(innerPoint(one), other) === 'inside'
  );
}

/** Corners of a rectangle, counter-clockwise from its lower left, metres. */
export const rectangleRing = (leftM: number, lowM: number, widthM: number, heightM: number): Ring => [
  [leftM, lowM],
  [leftM + widthM, lowM],
  [leftM + widthM, lowM + heightM],
  [leftM, lowM + heightM],
];
