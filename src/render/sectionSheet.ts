/** The section: a vertical slice along the throw of one lamp, with heights, the stand, what stands in the beam and the sun. */
import { drawChosen } from './drawChosen';
import { panTiltFromDirection, worldFromLocal } from '../scene/geometry/frames';
import { addScaled, dot, type Vec3 } from '../scene/geometry/vector';
import { beamFigure, type BeamFigure } from './beamGeometry';
import type { Margins, SheetBounds } from './camera';
import { blockHandles, drawMove, drawSnaps, drawGhost, markModifier, OPEN_BEAM_M } from './drawObjects';
import {
  clearRange,
  drawChosenWalls,
  drawSunRays,
  drawWalls,
  gridLayer,
  sunnyOpenings,
  sunRay,
  wallTargets,
} from './drawSheet';
import { drawBeam, drawCone, drawLampSymbol, drawModifier, lampSymbolPx } from './drawThings';
import type { Path } from './geometry2d';
import { drawHazeWedges, uprightSides } from './hazeWedge';
import { RANK, type HitTarget } from './hitTest';
import { LabelPlacer, WALL_WEIGHT } from './labels';
import { drawHandles } from './planLabels';
import { pathToScreen, shapesLayer, toScreen, type Layer, type Picture, type SheetContext } from './picture';
import { depthOf, sectionProjection, sheetFromWorld, type Projection } from './projections';
import { castRay } from './raycast';
import { drawSectionLabels } from './sectionLabels';
import type { LampThing, OpeningThing, SceneThings, SurfaceThing } from './sceneThings';
import { crisp, Sketch } from './sketch';
import { sectionWalls, type CutWall } from './wallGeometry';

/** Grip, meters and other lamps farther from the cut than this are not in the slice. */
const SLICE_M = 1.2;
const METER_SLICE_M = 0.15;

export function sectionMargins(context: Pick<SheetContext, 'isSmall'>): Margins {
  if (context.isSmall) return { left: 26, top: 18, right: 14, bottom: 16 };
  return { left: 58, top: 40, right: 34, bottom: 62 };
}

/** Lamp that a section is cut through: the one named, else the set-up's first. */
export const sectionLamp = (things: SceneThings, sourceId: string | null): LampThing | null =>
  things.lamps.find((lamp) => lamp.id === sourceId) ?? things.lamps[0] ?? null;

/** What a fitted section shows: from behind the lamp to past what its axis meets, the ground to the highest cut wall. */
export function sectionBounds(things: SceneThings, projection: Projection, lamp: LampThing): SheetBounds {
  const figure = beamFigure(things, lamp, lamp.frame.up, OPEN_BEAM_M);
  const from = sheetFromWorld(projection, lamp.lamp.pose.positionM);
  const ends = [figure.axis, ...figure.beam].map((hit) => sheetFromWorld(projection, hit.atM));
  const reach = Math.max(...ends.map(({ u }) => u), from.u + 1);
  let [minV, maxV] = [groundUnder(things, lamp), from.v];
  for (const wall of sectionWalls(things.surfaces, projection)) {
    for (const piece of wall.pieces) {
      for (let i = 0; i < piece.length; i += 2) {
        if (piece[i]! < from.u - 1 || piece[i]! > reach + 0.6) continue;
        maxV = Math.max(maxV, piece[i + 1]!);
        minV = Math.min(minV, Math.max(piece[i + 1]!, minV - 0.3));
      }
    }
  }
  return { minU: from.u - 0.5, maxU: reach + 0.5, minV, maxV: maxV + 0.05 };
}

/** Height of what the lamp's stand stands on, metres; 0 where nothing lies below. */
export function groundUnder(things: SceneThings, lamp: LampThing): number {
  const drop = castRay(things, lamp.lamp.pose.positionM, [0, 0, -1], 100);
  return drop.surfaceId ? drop.atM[2] : 0;
}

/** The cut of a set-up without a lamp: with the sun's light, through the first opening that it shines in by. */
export function sunCut(things: SceneThings): Projection | null {
  const sun = things.storySun;
  if (!sun || Math.hypot(sun.towards[0], sun.towards[1]) < 1e-3) return null;
  const by = sunnyOpenings({ things }, sun.towards)[0];
  if (!by) return null;
  const { panDeg } = panTiltFromDirection([-sun.towards[0], -sun.towards[1], 0]);
  const middle = worldFromLocal(
    by.thing.frame,
    [(by.opening.leftM + by.opening.rightM) / 2, 0],
    by.thing.thicknessM / 2,
  );
  return sectionProjection({ positionM: [...middle], aim: { panDeg, tiltDeg: 0 } });
}

/** What a fitted section without a lamp shows: some way outside the opening to the wall that the sun falls on. */
export function sunBounds(things: SceneThings, projection: Projection): SheetBounds {
  const hit = castRay(things, addScaled(projection.origin, [0, 0, 1], 1), projection.right, OPEN_BEAM_M);
  const reach = Math.max(2, sheetFromWorld(projection, hit.atM).u);
  const heights = sectionWalls(things.surfaces, projection)
    .flatMap((wall) => wall.pieces)
    .flatMap((piece) => (piece[0]! > -3 && piece[0]! < reach + 0.6 ? piece.filter((_, i) => i % 2 === 1) : []));
  return { minU: -3, maxU: reach + 0.5, minV: Math.min(0, ...heights), maxV: Math.max(2, ...heights) };
}

export function drawSection(context: SheetContext): Picture {
  const { camera, inks, memo, state, things, projection } = context;
  const lamp = sectionLamp(things, state.sourceId);
  if (projection.kind !== 'section') return { layers: [gridLayer(context)], targets: [] };
  const walls = memo.get('sectionWalls', [state.document.surfaces, projection], () =>
    sectionWalls(things.surfaces, projection),
  );
  const figure = memo.get('sectionBeam', [things, lamp], () =>
    lamp ? beamFigure(things, lamp, lamp.frame.up, OPEN_BEAM_M) : null,
  );
  const placer = new LabelPlacer(context.measure, inks, null, camera.widthPx, camera.heightPx);
  const targets: HitTarget[] = memo.get('sectionTargets', [camera, walls], () => wallTargets(camera, walls)).slice();
  const groundV = memo.get('ground', [things, lamp], () => (lamp ? groundUnder(things, lamp) : 0));
  const layers: Layer[] = [
    gridLayer(context),
    memo.get('sectionWallLayer', [camera, walls, inks, groundV], () => sectionWallLayer(context, walls, groundV)),
    sectionBeams(context, figure, placer),
    sliceLayer(context, lamp, groundV, targets, placer),
  ];
  for (const wall of walls) {
    const lines = [...wall.edges, ...wall.windows.flatMap((window) => window.faces)];
    placer.avoid(
      lines.map((line) => pathToScreen(camera, line)),
      WALL_WEIGHT,
    );
  }
  const top = new Sketch(inks, null);
  drawChosenWalls(context, top, walls);
  const inSlice = { ...context, things: { ...things, lamps: lamp ? [lamp] : [], suns: [] } };
  drawHandles(inSlice, top, targets, new Map(lamp && figure ? [[lamp.id, figure]] : []));
  blockHandles(targets, placer);
  drawMove(context, top, placer);
  drawSnaps(context, top);
  drawChosen(context, top);
  drawSectionLabels(context, {
    subject: lamp && figure ? { lamp, figure } : null,
    walls,
    groundV,
    sketch: top,
    placer,
  });
  top.line(placer.leaders, { role: 'ink3', widthPx: 1 });
  layers.push({ name: 'top', rasters: [], shapes: top.shapes, texts: placer.texts });
  return { layers, targets };
}

function sectionWallLayer(context: SheetContext, walls: readonly CutWall[], groundV: number): Layer {
  const { camera, inks } = context;
  const sketch = new Sketch(inks, null);
  const hasFloor = walls.some((wall) =>
    context.things.surfaces.some((thing) => thing.id === wall.surfaceId && thing.isLevel && thing.frame.forward[2] > 0),
  );
  if (!hasFloor) drawGround(context, sketch, groundV);
  drawWalls(camera, sketch, walls);
  return shapesLayer('walls', sketch.shapes);
}

/** Ground line with its hatch over the width of the sheet, at the height the lamp stands on. */
function drawGround(context: SheetContext, sketch: Sketch, groundV: number): void {
  const { camera } = context;
  const [, y] = pathToScreen(camera, [0, groundV]) as [number, number];
  const ground = crisp(y);
  const [from, to] = context.isSmall ? [6, camera.widthPx - 6] : [44, camera.widthPx - 14];
  sketch.line([[from, ground, to, ground]], { role: 'wall', widthPx: 1.5 });
  const hatch: Path[] = [];
  for (let x = from + 2; x < to - 4; x += 7) hatch.push([x, ground + 6, x + 6, ground]);
  sketch.line(hatch, { role: 'ink3', widthPx: 1, alpha: 0.6 });
}

function sectionBeams(context: SheetContext, figure: BeamFigure | null, placer: LabelPlacer): Layer {
  const { camera, inks, memo, things, projection, state } = context;
  const deps = [camera, things, figure, inks, projection, state.showTwin, state.document.story];
  const { layer, lines } = memo.get('sectionBeams', deps, () => {
    const sketch = new Sketch(inks, null);
    if (figure) drawCone(context, sketch, figure, true);
    const drawn = figure ? drawBeam(context, sketch, figure, { isLeading: true, withField: true }) : [];
    drawn.push(...drawHazeWedges(context, sketch, (thing, opening) => sectionSides(context, thing, opening)));
    drawn.push(...drawSectionSun(context, sketch));
    return { layer: shapesLayer('beams', sketch.shapes), lines: drawn };
  });
  placer.avoid(lines);
  return layer;
}

/** Where along a wall the cut passes it, on its lit face or in its middle; null where it runs along the wall or past the opening. */
function cutRight(context: SheetContext, thing: SurfaceThing, opening: OpeningThing, depthM: number): number | null {
  const { projection } = context;
  const across = dot(thing.frame.right, projection.towards);
  if (Math.abs(across) < 0.05) return null;
  const right = -depthOf(projection, worldFromLocal(thing.frame, [0, 0], depthM)) / across;
  return right < opening.leftM || right > opening.rightM ? null : right;
}

function sectionSides(context: SheetContext, thing: SurfaceThing, opening: OpeningThing): readonly [Vec3, Vec3] | null {
  const right = cutRight(context, thing, opening, 0);
  return right === null ? null : uprightSides(thing, opening, right);
}

/** Rays of the story's sun at sill and head of the openings that the cut passes, beside the lamp's beam. */
function drawSectionSun(context: SheetContext, sketch: Sketch): Path[] {
  const { things, projection } = context;
  const sun = things.storySun;
  if (!sun || Math.abs(dot(sun.towards, projection.right)) < 0.25) return [];
  const rays = sunnyOpenings(context, sun.towards).flatMap(({ thing, opening }) => {
    const right = cutRight(context, thing, opening, thing.thicknessM / 2);
    if (right === null) return [];
    const [along, through] = [dot(sun.towards, thing.frame.up), dot(sun.towards, thing.frame.forward)];
    const clear = clearRange(opening.sillM, opening.headM, along, through, thing.thicknessM) ?? [];
    return clear.map((up) =>
      sunRay(context, worldFromLocal(thing.frame, [right, up], thing.thicknessM / 2), sun.towards),
    );
  });
  return drawSunRays(context, sketch, rays);
}

/** Whatever stands in the slice: grip and meters near the cut, the lamp, its stand and its bag. */
function sliceLayer(
  context: SheetContext,
  lamp: LampThing | null,
  groundV: number,
  targets: HitTarget[],
  placer: LabelPlacer,
): Layer {
  const { inks, things, projection } = context;
  const sketch = new Sketch(inks, null);
  for (const thing of things.modifiers) {
    const depths = thing.corners.map((corner) => depthOf(projection, corner));
    if (Math.min(...depths) > SLICE_M || Math.max(...depths) < -SLICE_M) continue;
    const line = drawModifier(context, sketch, thing);
    targets.push({
      hit: { object: { kind: 'modifier', id: thing.id }, handle: 'body' },
      rank: RANK.modifier,
      shape: { kind: 'line', path: line },
    });
    markModifier(context, sketch, thing.id, line);
    placer.avoid([line]);
  }
  if (lamp) placeLamp(context, sketch, lamp, groundV, targets, placer);
  for (const { id, meter } of things.meters) {
    if (Math.abs(depthOf(projection, meter.positionM)) > METER_SLICE_M) continue;
    const [mx, my] = toScreen(context, meter.positionM);
    sketch.line(
      [
        [mx - 5, my, mx + 5, my],
        [mx, my - 5, mx, my + 5],
      ],
      { role: 'meter', widthPx: 1.5 },
    );
    targets.push({
      hit: { object: { kind: 'meter', id }, handle: 'body' },
      rank: RANK.meter,
      shape: { kind: 'point', x: mx, y: my, radiusPx: 6 },
    });
  }
  drawGhost(context, null, sketch);
  return shapesLayer('slice', sketch.shapes);
}

/** The lamp on its stand, where it can be grabbed, and the room that lettering leaves it. */
function placeLamp(
  context: SheetContext,
  sketch: Sketch,
  lamp: LampThing,
  groundV: number,
  targets: HitTarget[],
  placer: LabelPlacer,
): void {
  drawStand(context, sketch, lamp, groundV, placer);
  drawLampSymbol(context, sketch, lamp);
  const [x, y] = toScreen(context, lamp.lamp.pose.positionM);
  const radiusPx = Math.min(30, lampSymbolPx(context, lamp) / 2);
  targets.push({
    hit: { object: { kind: 'source', id: lamp.id }, handle: 'body' },
    rank: RANK.source,
    shape: { kind: 'point', x, y, radiusPx },
  });
  placer.block({ left: x - radiusPx - 5, top: y - radiusPx - 5, right: x + radiusPx + 5, bottom: y + radiusPx + 5 });
}

const LEG_M = 0.45;
const LEG_RISE_M = 0.55;

/** Riser, legs and bag from the lamp to the ground; a lamp without a stand gets a dotted plumb line. */
function drawStand(context: SheetContext, sketch: Sketch, lamp: LampThing, groundV: number, placer: LabelPlacer): void {
  const { u, v } = sheetFromWorld(context.projection, lamp.lamp.pose.positionM);
  const line = (path: Path): number[] => pathToScreen(context.camera, path);
  const hub = groundV + Math.min(LEG_RISE_M, (v - groundV) * 0.6);
  const riser = line([u, v, u, groundV]);
  riser[1] = riser[1]! + lampSymbolPx(context, lamp) / 2;
  placer.avoid([riser]);
  if (!lamp.lamp.stand) {
    sketch.line([riser], { role: 'grip', widthPx: 1, dash: [1, 4] });
    return;
  }
  const column = line([u, v, u, hub]);
  column[1] = column[1]! + lampSymbolPx(context, lamp) / 2;
  const legs = [
    line([u, hub, u - LEG_M, groundV]),
    line([u, hub, u + LEG_M, groundV]),
    line([u, hub, u, groundV + 0.04]),
  ];
  sketch.line([column, ...legs], { role: 'grip', widthPx: 1.25 });
  if ((lamp.lamp.stand.bags ?? 0) === 0) return;
  const [bx, by] = line([u + LEG_M * 0.85, groundV]) as [number, number];
  const bag: number[] = [];
  for (let i = 0; i <= 12; i++) bag.push(bx + 7 * Math.cos((Math.PI * i) / 12), by - 6 * Math.sin((Math.PI * i) / 12));
  sketch.fill([bag], sketch.inks.grip);
}
