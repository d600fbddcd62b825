/** The plan: the scene from above, with cut walls, beams to what stops them, and the levels of a floor if it is solved. */
import { drawChosen } from './drawChosen';
import type { Vec3 } from '../scene/geometry/vector';
import { worldFromLocal } from '../scene/geometry/frames';
import { pictureCorners } from '../scene/planPictures';
import { boundsOf, type Camera, type Margins, type SheetBounds, type SheetPoint } from './camera';
import { mapContours, drawContourLabels } from './drawContours';
import { localToScreen, mapLayer, mapPicture } from './drawMap';
import { drawLegend, LEGEND_ROOM_PX } from './drawLegend';
import {
  blockHandles,
  drawMove,
  drawSnaps,
  drawGhost,
  markModifier,
  OPEN_BEAM_M,
  pushPointTargets,
} from './drawObjects';
import { drawCamera, drawChosenWalls, drawMeters, drawScale, drawWalls, gridLayer, wallTargets } from './drawSheet';
import { drawLampSymbol, drawModifier, isSame, screenTurn, WEIGHT } from './drawThings';
import { drawDrawing } from './drawDrawing';
import type { Path, Shift } from './geometry2d';
import { RANK, type HitTarget } from './hitTest';
import { KeptBeams } from './keptBeams';
import { KeptDrawings } from './keptDrawings';
import { LabelPlacer, WALL_WEIGHT } from './labels';
import { beamsLayer, conesLayer } from './planBeams';
import { drawChosenPicture, planPictureLayer } from './planPictures';
import { drawKeptDimensions } from './planDimensions';
import { drawHandles, drawPlanDimensions, drawPlanLabels } from './planLabels';
import { sunPlaces } from './sunPlaces';
import { keptBox, pathToScreen, shapesLayer, toScreen, type Layer, type Picture, type SheetContext } from './picture';
import type { LampThing, ModifierThing, SceneThings, SurfaceThing } from './sceneThings';
import { Sketch, type ShapeOp } from './sketch';
import { drawPlanGhost } from './planGhosts';
import { MARK_SYMBOL, SUN_SYMBOL } from './symbols';
import { planWalls, type CutWall } from './wallGeometry';
import { drawWallHandles } from './wallHandles';

export function planMargins(context: Pick<SheetContext, 'isSmall'>, withLegend: boolean): Margins {
  if (context.isSmall) return { left: 24, top: 16, right: 18, bottom: 18 };
  return { left: 40, top: 34, right: withLegend ? LEGEND_ROOM_PX + 8 : 40, bottom: 58 };
}

/** What a fitted plan shows: the walls and whatever is placed; floors only where there is no wall. */
export function planBounds(things: SceneThings): SheetBounds | null {
  const points: SheetPoint[] = [];
  const push = (world: Vec3): void => void points.push({ u: world[0], v: world[1] });
  const walls = planWalls(things.surfaces);
  for (const wall of walls) for (const piece of wall.pieces) pushPath(points, piece);
  for (const lamp of things.lamps) {
    push(lamp.lamp.pose.positionM);
    if ('atM' in lamp.lamp.pose.aim) push(lamp.lamp.pose.aim.atM);
  }
  for (const thing of things.modifiers) thing.corners.forEach(push);
  for (const { meter } of things.meters) push(meter.positionM);
  if (things.camera) push(things.camera.frame.origin);
  for (const picture of Object.values(things.document.pictures ?? {})) {
    if (picture.hidden !== true) for (const [x, y] of pictureCorners(picture)) push([x, y, 0]);
  }
  const flat = things.surfaces.filter((thing) => thing.isLevel && (walls.length === 0 || thing.surface.kind === 'top'));
  for (const thing of flat) {
    const ring = thing.rings[0]!;
    for (let i = 0; i < ring.length; i += 2) push(worldFromLocal(thing.frame, [ring[i]!, ring[i + 1]!]));
  }
  return boundsOf(points);
}

function pushPath(points: SheetPoint[], path: Path): void {
  for (let i = 0; i < path.length; i += 2) points.push({ u: path[i]!, v: path[i + 1]! });
}

/** The level surface whose levels lie on the plan, if the field is one's. */
const mappedSurface = (context: SheetContext): SurfaceThing | undefined =>
  context.things.surfaces.find((thing) => thing.isLevel && thing.id === context.state.field?.result.surfaceId);

/**
 * The context with the view that the walls, beams and things were last drawn for, and how far they lie from there now: a
 * view that is only shifted needs none of them drawn anew.
 */
function heldView(context: SheetContext): { readonly held: SheetContext; readonly shift: Shift } {
  const { camera, memo } = context;
  const { pixelsPerMetre, widthPx, heightPx } = camera;
  const size = [pixelsPerMetre, widthPx, heightPx];
  const shiftFrom = ({ centre }: Camera): Shift => [
    (centre.u - camera.centre.u) * pixelsPerMetre,
    (camera.centre.v - centre.v) * pixelsPerMetre,
  ];
  const known = memo.get('heldCamera', size, () => camera);
  const [x, y] = shiftFrom(known);
  // Beyond its kept box nothing was drawn.
  const reaches = Math.abs(x) <= widthPx && Math.abs(y) <= heightPx;
  const heldCamera = reaches ? known : memo.renew('heldCamera', size, camera);
  return { held: { ...context, camera: heldCamera }, shift: shiftFrom(heldCamera) };
}

const shifted = (path: Path, [x, y]: Shift): Path => path.map((value, i) => value + (i % 2 === 0 ? x : y));

export function drawPlan(context: SheetContext): Picture {
  const { camera, inks, memo, state, things } = context;
  const { held, shift } = heldView(context);
  const at = (layer: Layer): Layer => memo.get(`${layer.name} shifted`, [layer, ...shift], () => ({ ...layer, shift }));
  const heldMap = mapPicture(held, mappedSurface(context));
  const heldRings = heldMap?.rings ?? null;
  const map = memo.get(
    'planMap',
    [heldMap, ...shift],
    () => heldMap && { ...heldMap, rings: heldMap.rings.map((ring) => shifted(ring, shift)) },
  );
  const rings = map?.rings ?? null;
  const walls = memo.get('planWalls', [state.document.surfaces], () => planWalls(things.surfaces));
  const beams = memo.get('planBeams', [], () => new KeptBeams(OPEN_BEAM_M));
  const figures = memo.get('planFigures', [things], () => beams.of(things));
  const wallLots = memo.get('planWallTargets', [held.camera, walls], () => wallTargets(held.camera, walls));
  const [targets, heldTargets]: [HitTarget[], HitTarget[]] = [[], [...wallLots]];
  const placer = new LabelPlacer(context.measure, inks, rings, camera.widthPx, camera.heightPx);
  const under = planPictureLayer(context);
  const layers: Layer[] = [...(under ? [under] : []), gridLayer(context), at(conesLayer(held, figures))];
  const contours = heldMap ? mapContours(held, heldMap) : null;
  if (map && contours) layers.push(mapLayer(context, map), at(contours.layer));
  const drawnWalls = [
    memo.get('planFloors', [held.camera, state.document.surfaces, inks, heldRings], () => floorsLayer(held, heldRings)),
    memo.get('planWallLayer', [held.camera, walls, inks, heldRings], () => wallsLayer(held, walls, heldRings)),
    beamsLayer(held, figures, heldRings, placer, shift),
    gripAndLampsLayer(held, heldRings, heldTargets, placer, shift),
  ];
  layers.push(...drawnWalls.map(at), pointsLayer(context, rings, targets, placer));
  const edges = memo.get('planWallEdges', [held.camera, walls], () =>
    walls.flatMap((wall) => wall.edges.map((edge) => pathToScreen(held.camera, edge))),
  );
  placer.avoid(edges, WALL_WEIGHT, shift);
  const top = new Sketch(inks, rings);
  drawChosenWalls(context, top, walls);
  drawChosenPicture(context, top, targets);
  drawWallHandles(context, top, targets, placer);
  drawHandles(context, top, targets, figures);
  blockHandles(targets, placer);
  drawMove(context, top, placer);
  drawSnaps(context, top);
  drawChosen(context, top);
  drawDrawing(context, top, placer);
  drawKeptDimensions(context, top, targets, placer);
  if (!context.isSmall) {
    drawScale(context, top, placer, state.document.northDeg ?? 0);
    if (map)
      layers.push(...drawLegend(context, map, placer, 46, Math.min(camera.heightPx - 60, 300), camera.widthPx - 56));
    drawPlanDimensions(context, top, placer, walls);
  }
  drawPlanLabels(context, placer, walls);
  if (map && contours && !context.isSmall) drawContourLabels(context, map.thing, contours.lines, placer);
  top.line(placer.leaders, { role: 'ink3', widthPx: 1 });
  layers.push({ name: 'top', rasters: [], shapes: top.shapes, texts: placer.texts });
  return { layers, targets, keptTargets: { targets: heldTargets, shift }, mapRings: map?.rings ?? null };
}

function floorsLayer(context: SheetContext, rings: readonly Path[] | null): Layer {
  const sketch = new Sketch(context.inks, rings, 1, keptBox(context.camera));
  for (const thing of context.things.surfaces) {
    if (!thing.isLevel || thing.surface.kind === 'ceiling' || thing.surface.kind === 'readingPlane') continue;
    const outlines = thing.rings.map((ring) => localToScreen(context, thing, ring));
    if (thing.surface.kind === 'top') {
      sketch.line(outlines, { role: 'grip', widthPx: WEIGHT.seen, closed: true });
    } else {
      sketch.line(outlines, { role: 'ink3', widthPx: WEIGHT.hair, closed: true, alpha: 0.5 });
    }
  }
  return shapesLayer('floors', sketch.shapes);
}

function wallsLayer(context: SheetContext, walls: readonly CutWall[], rings: readonly Path[] | null): Layer {
  // Walls are drawn in sheet inks: only what lies inside a map's outline changes, and a wall stands round it.
  const sketch = new Sketch(context.inks, null, 1, keptBox(context.camera));
  drawWalls(context.camera, sketch, walls);
  return shapesLayer(rings ? 'walls on map' : 'walls', sketch.shapes);
}

interface DrawnGrip {
  readonly id: string;
  readonly shapes: readonly ShapeOp[];
  /** Where it lies, for the pointer and for lettering that keeps off it. */
  readonly line: Path;
  readonly target: HitTarget;
}
function gripDrawing(context: SheetContext, rings: readonly Path[] | null, thing: ModifierThing): DrawnGrip {
  const own = new Sketch(context.inks, rings, 1, keptBox(context.camera));
  const line = drawModifier(context, own, thing);
  const hit = { object: { kind: 'modifier', id: thing.id }, handle: 'body' } as const;
  return {
    id: thing.id,
    shapes: own.shapes,
    line,
    target: { hit, rank: RANK.modifier, shape: { kind: 'line', path: line } },
  };
}

/** Grip and lamps: most of what stands on a plan, so that it is kept while the view is shifted. */
function gripAndLampsLayer(
  held: SheetContext,
  rings: readonly Path[] | null,
  targets: HitTarget[],
  placer: LabelPlacer,
  shift: Shift,
): Layer {
  const { things, inks, camera, memo } = held;
  const sketch = new Sketch(inks, rings);
  const keptGrip = memo.get('planGrip', [], () => new KeptDrawings<ModifierThing, DrawnGrip>());
  const keptLamps = memo.get('planLamps', [], () => new KeptDrawings<LampThing, readonly ShapeOp[]>());
  const key = [camera, inks, rings];
  for (const { id, shapes, line, target } of keptGrip.of(things.modifiers, key, (thing) =>
    gripDrawing(held, rings, thing),
  )) {
    sketch.shapes.push(...shapes);
    placer.avoid([line], 1, shift);
    targets.push(target);
    markModifier(held, sketch, id, line);
  }
  const symbols = keptLamps.of(things.lamps, key, (lamp) => {
    const own = new Sketch(inks, rings, 1, keptBox(camera));
    drawLampSymbol(held, own, lamp);
    return own.shapes;
  });
  for (const shapes of symbols) sketch.shapes.push(...shapes);
  return shapesLayer('things', sketch.shapes);
}

/** Marks, meters, camera and sun, the places of the lamps, and where a thing stood before a drag. */
function pointsLayer(
  context: SheetContext,
  rings: readonly Path[] | null,
  targets: HitTarget[],
  placer: LabelPlacer,
): Layer {
  const { things, inks, state } = context;
  const sketch = new Sketch(inks, rings);
  for (const [id, mark] of Object.entries(state.document.marks ?? {})) {
    const [x, y] = toScreen(context, mark.positionM);
    sketch.symbol(MARK_SYMBOL, x, y, 0, 16);
    const hit = { object: { kind: 'mark', id }, handle: 'body' } as const;
    targets.push({ hit, rank: RANK.mark, shape: { kind: 'point', x, y, radiusPx: 10 } });
    if (isSame(state.selection, 'mark', id)) sketch.circle(x, y, 13, { role: 'accent', widthPx: 2, cased: true });
    placer.block({ left: x - 8, top: y - 8, right: x + 8, bottom: y + 8 });
  }
  pushPointTargets(context, targets, placer);
  drawMeters(context, sketch, false);
  const view = things.camera;
  if (view) {
    drawCamera(context, sketch, targets, screenTurn(context, view.frame.origin, view.frame.forward));
    const [x, y] = toScreen(context, view.frame.origin);
    placer.block({ left: x - 12, top: y - 12, right: x + 12, bottom: y + 12 });
  }
  for (const { x, y, id, turn } of sunPlaces(context)) {
    sketch.symbol(SUN_SYMBOL, x, y, turn, 26);
    if (id)
      targets.push({
        hit: { object: { kind: 'source', id }, handle: 'body' },
        rank: RANK.source,
        shape: { kind: 'point', x, y, radiusPx: 13 },
      });
    placer.block({ left: x - 13, top: y - 13, right: x + 13, bottom: y + 13 });
  }
  drawGhost(context, rings, sketch);
  drawPlanGhost(context, rings, sketch);
  return shapesLayer('points', sketch.shapes);
}
