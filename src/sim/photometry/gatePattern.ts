/** Holes in a plate at a projection spot's gate, as convex pieces in the tangents of its picture. */
import { cutPattern } from '../../scene/geometry/cutPattern';
import type { Distribution, Point2 } from '../../scene/schema';
import { cosDeg, sinDeg, toRadians } from '../../scene/geometry/frames';
import { counterClockwise } from '../geometry/convexPieces';

export type PatternOf = NonNullable<Extract<Distribution, { kind: 'projection' }>['pattern']>;

/** Open where X right + Y up <= offset (X, Y tangents of the picture, seen from behind the lamp). */
export interface HoleSide {
  readonly right: number;
  readonly up: number;
  readonly offset: number;
}
export interface GateHole {
  readonly corners: readonly Point2[];
  readonly sides: readonly HoleSide[];
  /** A circle that holds the hole with its soft edge: nothing passes outside it. */
  readonly x: number;
  readonly y: number;
  readonly reach: number;
}
export interface GatePattern {
  readonly holes: readonly GateHole[];
  readonly edgeWidthRad: number;
}

/** Softness of a pattern's edges where none is given, degrees: a plate stands nearly in the gate's own focus. */
const DEFAULT_EDGE_DEG = 0.2;
/** Half the soft band with what bounds it (gateEdges.ts), as a share of its width. */
export const HALF_BAND = 0.55;

/** Outlines in shares of the field's radius, not yet turned. */
function outlinesOf(pattern: PatternOf): readonly (readonly Point2[])[] {
  switch (pattern.kind) {
    case 'panes': {
      const { columns, rows, barShare, heightOverWidth = 1 } = pattern;
      const halfWidth = 1 / Math.hypot(1, heightOverWidth);
      const halfHeight = halfWidth * heightOverWidth;
      const [paneWidth, paneHeight] = [(2 * halfWidth) / columns, (2 * halfHeight) / rows];
      return Array.from({ length: columns * rows }, (_, i) => {
        const left = -halfWidth + paneWidth * ((i % columns) + barShare / 2);
        const low = -halfHeight + paneHeight * (Math.floor(i / columns) + barShare / 2);
        return box(left, low, paneWidth * (1 - barShare), paneHeight * (1 - barShare));
      });
    }
    case 'slats': {
      const pitch = 2 / pattern.slats;
      return Array.from({ length: pattern.slats }, (_, i) =>
        box(-1, -1 + pitch * (i + (1 - pattern.openShare) / 2), 2, pitch * pattern.openShare),
      );
    }
    case 'shapes':
      return pattern.outlines;
    default:
      return cutPattern(pattern.seed, pattern.holes, 2, 2);
  }
}
const box = (left: number, low: number, width: number, height: number): Point2[] => [
  [left, low],
  [left + width, low],
  [left + width, low + height],
  [left, low + height],
];

/** The pattern's holes as outlines in tangents, counter-clockwise, seen from behind the lamp. */
export function patternOutlines(pattern: PatternOf, fieldAngleDeg: number): Point2[][] {
  const radius = Math.tan(toRadians(fieldAngleDeg / 2));
  const [c, s] = [radius * cosDeg(pattern.turnDeg ?? 0), radius * sinDeg(pattern.turnDeg ?? 0)];
  return outlinesOf(pattern).map((outline) =>
    counterClockwise(outline).map(([x, y]): Point2 => [c * x - s * y, s * x + c * y]),
  );
}

/** @returns the pattern ready for the kernel; its edges are made no softer than the metal between its holes is wide */
export function compilePattern(pattern: PatternOf, fieldAngleDeg: number): GatePattern {
  const holes = patternOutlines(pattern, fieldAngleDeg).map(withMitres);
  const roomRad = Math.atan(leastRoom(holes)) / HALF_BAND;
  const edgeWidthRad = Math.min(toRadians(pattern.edgeWidthDeg ?? DEFAULT_EDGE_DEG), roomRad);
  const band = Math.tan(HALF_BAND * edgeWidthRad);
  return {
    edgeWidthRad,
    holes: holes.map(({ sides, corners }) => {
      const x = corners.reduce((sum, corner) => sum + corner.x, 0) / corners.length;
      const y = corners.reduce((sum, corner) => sum + corner.y, 0) / corners.length;
      const far = corners.map((one) => Math.hypot(one.x - x + band * one.mitreX, one.y - y + band * one.mitreY));
      return { corners: corners.map((one): Point2 => [one.x, one.y]), sides, x, y, reach: Math.max(...far) };
    }),
  };
}

/** A corner, and how it moves when every side moves out by 1. */
interface Corner {
  readonly x: number;
  readonly y: number;
  readonly mitreX: number;
  readonly mitreY: number;
}
interface Hole {
  readonly sides: readonly HoleSide[];
  readonly corners: readonly Corner[];
}

function withMitres(outline: readonly Point2[]): Hole {
  const sides = outline.map(([x, y], i): HoleSide => {
    const [bx, by] = outline[(i + 1) % outline.length]!;
    const size = Math.hypot(bx - x, by - y);
    const [right, up] = [(by - y) / size, (x - bx) / size];
    return { right, up, offset: right * x + up * y };
  });
  const corners = outline.map(([x, y], i): Corner => {
    const before = sides[(i + sides.length - 1) % sides.length]!;
    const after = sides[i]!;
    const per = 1 + before.right * after.right + before.up * after.up;
    return { x, y, mitreX: (before.right + after.right) / per, mitreY: (before.up + after.up) / per };
  });
  return { sides, corners };
}

/** How far every side of every hole can move out before two holes meet, tangents; very far for a single hole. */
function leastRoom(holes: readonly Hole[]): number {
  let least = 1;
  holes.forEach((hole, index) => {
    for (let other = 0; other < index; other++) {
      least = Math.min(least, Math.max(roomBeyond(hole, holes[other]!), roomBeyond(holes[other]!, hole)));
    }
  });
  return Math.max(least, 1e-6);
}

/** As above for two, kept apart by a line along one of the sides of the first. */
function roomBeyond({ sides }: Hole, { corners }: Hole): number {
  let most = 0;
  for (const { right, up, offset } of sides) {
    let room = Infinity;
    for (const corner of corners) {
      const closing = 1 - right * corner.mitreX - up * corner.mitreY;
      const beyond = right * corner.x + up * corner.y - offset;
      room = Math.min(room, closing > 0 ? beyond / closing : beyond < 0 ? 0 : Infinity);
    }
    most = Math.max(most, room);
  }
  return most;
}
