/**
 * Walls where a drawing cuts them, in sheet metres: on the plan at 1.2 m (openings always shown), in the section along a
 * vertical plane. A wall's outline is its lit inner face; its thickness lies behind it.
 */
import { planSlats, sectionSlats } from './blindMarks';
import { insideIntervals, subtractIntervals, type Interval, type Path } from './geometry2d';
import { barDepthM, windowBars } from '../sim/solve/shapes';
import { worldFromLocal } from '../scene/geometry/frames';
import { dot, type Vec3 } from '../scene/geometry/vector';
import { sheetFromWorld, type Projection } from './projections';
import type { OpeningThing, SurfaceThing } from './sceneThings';

export const PLAN_CUT_HEIGHT_M = 1.2;

export interface CutWindow {
  readonly opening: OpeningThing;
  /** Lines of the two faces across the opening, then the glazing line; each [x0, y0, x1, y1]. */
  readonly faces: readonly Path[];
  readonly glazing: Path | null;
  /** Bars cut through, as small outlines at their true size. */
  readonly bars: readonly Path[];
  /** Lines of a blind: of each slat in a section, round them all on the plan. */
  readonly slats: readonly Path[];
}
export interface CutWall {
  readonly surfaceId: string;
  /** Outlines of the solid pieces; a wall without thickness gives lines of two points. */
  readonly pieces: readonly Path[];
  /** Lines to draw round the pieces: their outlines without the joints to other walls. */
  readonly edges: readonly Path[];
  readonly windows: readonly CutWindow[];
  /** Ends of the inner face, for joining corners. */
  readonly inner: Path;
}

interface Slab {
  readonly frame: SurfaceThing['frame'];
  readonly thicknessM: number;
  readonly project: (world: Vec3) => readonly [number, number];
}
const onSlab = (slab: Slab, right: number, up: number, depthM: number): readonly [number, number] =>
  slab.project(worldFromLocal(slab.frame, [right, up], depthM));

// --- plan -----------------------------------------------------------------------------------------------------

/** All upright walls and backdrops as the plan cuts them; corners of walls that meet are mitred. */
export function planWalls(surfaces: readonly SurfaceThing[]): CutWall[] {
  const upright = surfaces.filter((one) => one.isUpright && one.surface.kind !== 'readingPlane');
  const mitres = mitresOf(upright);
  return upright.flatMap((thing) => {
    const wall = planWall(thing, mitres.get(thing.id) ?? { start: 0, end: 0 });
    return wall ? [wall] : [];
  });
}

interface Mitre {
  /** How far the outer face runs past (positive) or stops short of the inner one at each end, metres. */
  readonly start: number;
  readonly end: number;
}

function spanAtCut(thing: SurfaceThing): Interval[] {
  const up = PLAN_CUT_HEIGHT_M - thing.frame.origin[2];
  const cut = insideIntervals(thing.rings, 0, up, 1, up);
  if (cut.length > 0) return cut;
  const rights = thing.rings[0]!.filter((_, i) => i % 2 === 0);
  return [[Math.min(...rights), Math.max(...rights)]];
}

function planWall(thing: SurfaceThing, mitre: Mitre): CutWall | null {
  const spans = spanAtCut(thing);
  const [first, last] = [spans[0]?.[0], spans[spans.length - 1]?.[1]];
  if (first === undefined || last === undefined) return null;
  const slab: Slab = {
    frame: thing.frame,
    thicknessM: thing.thicknessM,
    project: (world) => [world[0], world[1]],
  };
  const solid = subtractIntervals(
    spans,
    thing.openings.map((one): Interval => [one.leftM, one.rightM]),
  );
  const edges: Path[] = [];
  const pieces = solid.map(([from, to]): Path => {
    const [isStart, isEnd] = [from === first, to === last];
    const innerFrom = onSlab(slab, from, 0, 0);
    const innerTo = onSlab(slab, to, 0, 0);
    if (thing.thicknessM === 0) {
      edges.push([...innerFrom, ...innerTo]);
      return [...innerFrom, ...innerTo];
    }
    const outerFrom = onSlab(slab, isStart ? from - mitre.start : from, 0, thing.thicknessM);
    const outerTo = onSlab(slab, isEnd ? to + mitre.end : to, 0, thing.thicknessM);
    edges.push([...innerFrom, ...innerTo], [...outerFrom, ...outerTo]);
    if (!(isStart && mitre.start !== 0)) edges.push([...innerFrom, ...outerFrom]);
    if (!(isEnd && mitre.end !== 0)) edges.push([...innerTo, ...outerTo]);
    return [...innerFrom, ...innerTo, ...outerTo, ...outerFrom];
  });
  return {
    surfaceId: thing.id,
    pieces,
    edges,
    windows: thing.openings.map((one) => planWindow(thing, slab, one)),
    inner: [...onSlab(slab, first, 0, 0), ...onSlab(slab, last, 0, 0)],
  };
}

function planWindow(thing: SurfaceThing, slab: Slab, opening: OpeningThing): CutWindow {
  const across = (depthM: number): Path => [
    ...onSlab(slab, opening.leftM, 0, depthM),
    ...onSlab(slab, opening.rightM, 0, depthM),
  ];
  const depth = barDepthM(thing.surface, opening.opening);
  const bars = opening.opening.window ? windowBars(opening.opening).bars : [];
  const middleUp = (opening.sillM + opening.headM) / 2;
  const uprights = bars.filter(
    (bar) => bar[0]![1] < middleUp && bar[2]![1] > middleUp && spans(bar) > 0.5 * height(opening),
  );
  return {
    opening,
    faces: slab.thicknessM > 0 ? [across(0), across(slab.thicknessM)] : [],
    glazing: opening.opening.window ? across(depth) : null,
    bars: uprights.map((bar) => barOutline(slab, [bar[0]![0], bar[2]![0]], depth)),
    slats: planSlats(thing, opening),
  };
}
const spans = (bar: readonly (readonly [number, number])[]): number => bar[2]![1] - bar[0]![1];
const height = (opening: OpeningThing): number => opening.headM - opening.sillM;

function barOutline(slab: Slab, [left, right]: readonly [number, number], depthM: number): Path {
  const half = (right - left) / 2;
  return [
    ...onSlab(slab, left, 0, depthM - half),
    ...onSlab(slab, right, 0, depthM - half),
    ...onSlab(slab, right, 0, depthM + half),
    ...onSlab(slab, left, 0, depthM + half),
  ];
}

/** Walls whose inner faces end on one point share that corner: their outer faces are run on until they meet. */
function mitresOf(walls: readonly SurfaceThing[]): Map<string, Mitre> {
  const ends = walls.flatMap((thing) => {
    const cut = spanAtCut(thing);
    const at = (right: number): Vec3 => worldFromLocal(thing.frame, [right, 0]);
    return [
      { thing, side: 'start' as const, atM: at(cut[0]![0]), out: -1 },
      { thing, side: 'end' as const, atM: at(cut[cut.length - 1]![1]), out: 1 },
    ];
  });
  const mitres = new Map<string, Mitre>();
  for (const one of ends) {
    const other = ends.find(
      (end) => end.thing !== one.thing && Math.hypot(end.atM[0] - one.atM[0], end.atM[1] - one.atM[1]) < 0.02,
    );
    if (!other || one.thing.thicknessM === 0 || other.thing.thicknessM === 0) continue;
    // Run along the wall until the outer face of the neighbour is reached.
    const outwards = [one.thing.frame.right[0] * one.out, one.thing.frame.right[1] * one.out] as const;
    const [bx, by] = other.thing.frame.forward;
    const rate = outwards[0] * -bx + outwards[1] * -by;
    const facing = dot(one.thing.frame.forward, other.thing.frame.forward);
    if (Math.abs(rate) < 0.1) continue;
    const run = (other.thing.thicknessM - facing * one.thing.thicknessM) / rate;
    if (Math.abs(run) > 5 * Math.max(one.thing.thicknessM, other.thing.thicknessM)) continue;
    mitres.set(one.thing.id, { ...(mitres.get(one.thing.id) ?? { start: 0, end: 0 }), [one.side]: run });
  }
  return mitres;
}

// --- section --------------------------------------------------------------------------------------------------

/** Surfaces as a vertical section plane cuts them, in section metres (u along the throw, v height). */
export function sectionWalls(surfaces: readonly SurfaceThing[], projection: Projection): CutWall[] {
  const cuts = surfaces.flatMap((thing) => {
    if (thing.surface.kind === 'readingPlane') return [];
    const wall = sectionWall(thing, projection);
    return wall ? [{ thing, wall }] : [];
  });
  const upright = cuts.filter(({ thing }) => thing.isUpright).map(({ wall }) => wall);
  return cuts.map(({ thing, wall }) => (thing.isLevel ? overWalls(wall, upright) : wall));
}

const JOINT_M = 0.02;

/** A floor or ceiling that ends at the inner face of a wall is run on over the wall's thickness. */
function overWalls(slab: CutWall, walls: readonly CutWall[]): CutWall {
  const corners = walls.flatMap((wall) => wall.pieces);
  const outerOf = (u: number): number => {
    for (const piece of corners) {
      if (piece.length !== 8) continue;
      const meets = Math.abs(piece[0]! - u) < JOINT_M || Math.abs(piece[2]! - u) < JOINT_M;
      if (meets) return piece[6]!;
    }
    return u;
  };
  const pieces = slab.pieces.map((piece) => {
    if (piece.length !== 8) return piece;
    const us = [outerOf(piece[0]!), outerOf(piece[2]!)];
    return [us[0]!, piece[1]!, us[1]!, piece[3]!, us[1]!, piece[5]!, us[0]!, piece[7]!];
  });
  return { ...slab, pieces, edges: pieces.map(outlineOf) };
}

const outlineOf = (piece: Path): Path => (piece.length === 4 ? piece : [...piece, piece[0]!, piece[1]!]);

interface CutLine {
  /** A point of the cut in right/up metres and the unit direction along it. */
  readonly at: readonly [number, number];
  readonly along: readonly [number, number];
}

/** The line in which a face at a depth meets the section plane; null when they are parallel. */
function cutLine(thing: SurfaceThing, projection: Projection, depthM: number): CutLine | null {
  const { frame } = thing;
  const a = dot(frame.right, projection.towards);
  const b = dot(frame.up, projection.towards);
  const size = Math.hypot(a, b);
  if (size < 0.02) return null;
  const origin = worldFromLocal(frame, [0, 0], depthM);
  const gap = dot([origin[0] - projection.origin[0], origin[1] - projection.origin[1], origin[2]], projection.towards);
  const at: readonly [number, number] = [(-gap * a) / size ** 2, (-gap * b) / size ** 2];
  let along: readonly [number, number] = [-b / size, a / size];
  // Upwards for walls, with the throw for floors, so that both faces run the same way.
  const world = worldFromLocal(frame, along);
  const lift = world[2] - frame.origin[2];
  const reach = dot([world[0] - frame.origin[0], world[1] - frame.origin[1], lift], projection.right);
  if (thing.isLevel ? reach < 0 : lift < 0) along = [-along[0], -along[1]];
  return { at, along };
}

function sectionWall(thing: SurfaceThing, projection: Projection): CutWall | null {
  const { thicknessM } = thing;
  const front = cutLine(thing, projection, 0);
  const back = cutLine(thing, projection, thicknessM);
  if (!front || !back) return null;
  const point = (line: CutLine, t: number, depthM: number): readonly [number, number] => {
    const { u, v } = sheetFromWorld(
      projection,
      worldFromLocal(thing.frame, [line.at[0] + t * line.along[0], line.at[1] + t * line.along[1]], depthM),
    );
    return [u, v];
  };
  const cut = (line: CutLine, rings: readonly Path[]): Interval[] =>
    insideIntervals(rings, line.at[0], line.at[1], line.at[0] + line.along[0], line.at[1] + line.along[1]);
  const holes = (line: CutLine): Interval[] => thing.openings.flatMap((one) => cut(line, [one.ring]));
  const whole = cut(front, thing.rings);
  if (whole.length === 0) return null;
  const middle = cutLine(thing, projection, thicknessM / 2) ?? front;
  const frontSolid = subtractIntervals(whole, holes(front));
  const backSolid = subtractIntervals(cut(back, thing.rings), holes(back));
  // A slanting cut can pass the opening on one face only: then the middle of the wall stands for both.
  const same = frontSolid.length === backSolid.length;
  const [ends, behind] = same
    ? [frontSolid, backSolid]
    : [subtractIntervals(whole, holes(middle)), subtractIntervals(whole, holes(middle))];
  const pieces = ends.map(([from, to], i): Path => {
    const inner = [...point(front, from, 0), ...point(front, to, 0)];
    if (thicknessM === 0) return inner;
    return [...inner, ...point(back, behind[i]![1], thicknessM), ...point(back, behind[i]![0], thicknessM)];
  });
  return {
    surfaceId: thing.id,
    pieces,
    edges: pieces.map(outlineOf),
    windows: thing.openings.flatMap((one) => sectionWindow(thing, projection, one, cut(middle, [one.ring]), point)),
    inner: [...point(front, whole[0]![0], 0), ...point(front, whole[whole.length - 1]![1], 0)],
  };
}

function sectionWindow(
  thing: SurfaceThing,
  projection: Projection,
  opening: OpeningThing,
  gap: readonly Interval[],
  point: (line: CutLine, t: number, depthM: number) => readonly [number, number],
): CutWindow[] {
  const [span] = gap;
  if (!span) return [];
  const across = (depthM: number): Path => {
    const line = cutLine(thing, projection, depthM)!;
    return [...point(line, span[0], depthM), ...point(line, span[1], depthM)];
  };
  const depth = barDepthM(thing.surface, opening.opening);
  const line = cutLine(thing, projection, depth)!;
  const bars = opening.opening.window ? windowBars(opening.opening).bars : [];
  const cutBars = bars.flatMap((bar) => {
    const ring = bar.flatMap(([x, y]) => [x, y]);
    const through = insideIntervals(
      [ring],
      line.at[0],
      line.at[1],
      line.at[0] + line.along[0],
      line.at[1] + line.along[1],
    );
    return through.flatMap(([from, to]) => {
      const half = Math.min(to - from, 0.06) / 2;
      if (to - from > 0.5 * height(opening)) return [];
      return [
        [
          ...point(line, from, depth - half),
          ...point(line, to, depth - half),
          ...point(line, to, depth + half),
          ...point(line, from, depth + half),
        ],
      ];
    });
  });
  return [
    {
      opening,
      faces: thing.thicknessM > 0 ? [across(0), across(thing.thicknessM)] : [],
      glazing: opening.opening.window ? across(depth) : null,
      bars: cutBars,
      slats: sectionSlats(thing, projection, opening),
    },
  ];
}
