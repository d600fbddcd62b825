/** Parts that sheets share: grid, scale bar, north, dimensions, meters, camera, sun and cut walls. */
import { drawCutSlats } from './drawBlind';
import { METRES_PER_FOOT, METRES_PER_YARD } from '../scene/units/convert';
import { addScaled, dot, scale, type Vec3 } from '../scene/geometry/vector';
import { cosDeg, sinDeg } from '../scene/geometry/frames';
import type { Camera } from './camera';
import { levelDimension, roundLength, uprightDimension, type DimensionFigure } from './dimensions';
import { DASH, isSame, WEIGHT } from './drawThings';
import { hatchRings, type Path } from './geometry2d';
import { RANK, type HitTarget } from './hitTest';
import { LABEL_SIZE_PX, type LabelPlacer } from './labels';
import { pathToScreen, shapesLayer, toScreen, type Layer, type SheetContext } from './picture';
import { castRay } from './raycast';
import type { OpeningThing, SurfaceThing } from './sceneThings';
import { crisp, Sketch } from './sketch';
import { CAMERA_SYMBOL, METER_DOME_SYMBOL, METER_FLAT_SYMBOL } from './symbols';
import type { CutWall } from './wallGeometry';

const LEAST_GRID_PX = 10;

/** Squares of 1 m (1 yd in feet), or of 5 or 10 where those would crowd. */
export function gridLayer(context: SheetContext): Layer {
  const { camera, inks, memo, state } = context;
  return memo.get('grid', [camera, inks, state.units.length], () => {
    const unit = state.units.length === 'metres' ? 1 : METRES_PER_YARD;
    const step = unit * ([1, 5, 10, 50].find((size) => size * unit * camera.pixelsPerMetre >= LEAST_GRID_PX) ?? 100);
    const halfU = camera.widthPx / 2 / camera.pixelsPerMetre;
    const halfV = camera.heightPx / 2 / camera.pixelsPerMetre;
    const paths: Path[] = [];
    for (let k = Math.ceil((camera.centre.u - halfU) / step); k * step < camera.centre.u + halfU; k++) {
      const x = crisp(camera.widthPx / 2 + (k * step - camera.centre.u) * camera.pixelsPerMetre);
      paths.push([x, 0, x, camera.heightPx]);
    }
    for (let k = Math.ceil((camera.centre.v - halfV) / step); k * step < camera.centre.v + halfV; k++) {
      const y = crisp(camera.heightPx / 2 - (k * step - camera.centre.v) * camera.pixelsPerMetre);
      paths.push([0, y, camera.widthPx, y]);
    }
    return shapesLayer('grid', new Sketch(inks, null).line(paths, { role: 'lineGrid', widthPx: 1 }).shapes);
  });
}

/** Scale bar at the lower left and, on the plan, the north arrow beside it. */
export function drawScale(context: SheetContext, sketch: Sketch, placer: LabelPlacer, northDeg: number | null): void {
  const { camera, state } = context;
  const perUnit = state.units.length === 'metres' ? 1 : METRES_PER_FOOT;
  const lengthUnits = roundLength(camera.pixelsPerMetre * perUnit, 110);
  const barPx = lengthUnits * perUnit * camera.pixelsPerMetre;
  const [x, y] = [14, camera.heightPx - 18];
  const block = { left: x - 6, top: y - 20, right: x + barPx + (northDeg === null ? 10 : 74), bottom: y + 8 };
  sketch.fill([[x, y, x + barPx / 2, y, x + barPx / 2, y + 5, x, y + 5]], sketch.inks.ink1);
  const frame = [
    crisp(x),
    crisp(y),
    crisp(x + barPx),
    crisp(y),
    crisp(x + barPx),
    crisp(y + 4),
    crisp(x),
    crisp(y + 4),
  ];
  sketch.line([frame], { role: 'ink1', widthPx: 1, closed: true });
  const unit = state.units.length === 'metres' ? 'm' : 'ft';
  placer.place({ lines: [[{ text: '0' }]], places: [{ x, y: y - 2, anchor: 'above' }] });
  const end = `${Number(lengthUnits.toPrecision(2))} ${unit}`;
  placer.place({ lines: [[{ text: end }]], places: [{ x: x + barPx, y: y - 2, anchor: 'above' }] });
  if (northDeg !== null) drawNorth(sketch, placer, x + barPx + 40, y - 4, northDeg);
  placer.block(block);
}

function drawNorth(sketch: Sketch, placer: LabelPlacer, x: number, y: number, northDeg: number): void {
  const [ux, uy] = [sinDeg(northDeg), -cosDeg(northDeg)];
  const [tipX, tipY] = [x + ux * 12, y + uy * 12];
  const barb = (lean: number): Path => [tipX, tipY, tipX - ux * 6 + -uy * 4 * lean, tipY - uy * 6 + ux * 4 * lean];
  sketch.line([[x - ux * 10, y - uy * 10, tipX, tipY], barb(1), barb(-1)], { role: 'ink1', widthPx: 1.5, round: true });
  placer.place({ lines: [[{ text: 'N', bold: true }]], places: [{ x: x + 9, y: y + 6, anchor: 'left' }], clearPx: 0 });
}

/** A dimension with its figure; the lines stay even where the figure finds no room. */
export function drawDimension(
  context: SheetContext,
  sketch: Sketch,
  placer: LabelPlacer,
  text: string,
  make: (labelPx: number) => DimensionFigure,
): void {
  const figure = make(context.measure(text, LABEL_SIZE_PX, 400));
  sketch.line(figure.paths, { role: 'ink3', widthPx: WEIGHT.hair });
  placer.place({ lines: [[{ text, role: 'ink1' }]], places: figure.places, turnDeg: figure.turnDeg, clearPx: 1 });
  placer.avoid(figure.paths.slice(0, 1));
}
export { levelDimension, uprightDimension };

// --- walls ----------------------------------------------------------------------------------------------------

const WALL_HATCH_PX = 7;

/** Cut walls with their hatch, windows with faces, glazing and bars. */
export function drawWalls(camera: Camera, sketch: Sketch, walls: readonly CutWall[]): void {
  for (const wall of walls) {
    for (const piece of wall.pieces) {
      const ring = pathToScreen(camera, piece);
      if (ring.length === 4) continue;
      sketch.fill([ring], sketch.inks.sheet);
      sketch.line(hatchRings([ring], WALL_HATCH_PX), { role: 'wall', widthPx: 1, alpha: 0.5 });
    }
    const edges = wall.edges.map((edge) => pathToScreen(camera, edge));
    sketch.line(edges, { role: 'wall', widthPx: WEIGHT.cutWall, round: true });
    for (const window of wall.windows) {
      const faces = window.faces.map((face) => pathToScreen(camera, face));
      sketch.line(faces, { role: 'wall', widthPx: WEIGHT.hair, alpha: 0.7 });
      if (window.glazing) sketch.line([pathToScreen(camera, window.glazing)], { role: 'wall', widthPx: WEIGHT.seen });
      for (const bar of window.bars) sketch.fill([growBar(pathToScreen(camera, bar))], sketch.inks.wall);
      drawCutSlats(camera, sketch, window.slats);
    }
  }
}

/** Bars keep at least 4 px, so that they are seen at any scale. */
function growBar(ring: Path): Path {
  const xs = ring.filter((_, i) => i % 2 === 0);
  const ys = ring.filter((_, i) => i % 2 === 1);
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  if (Math.max(maxX - minX, maxY - minY) >= 4) return ring;
  const [cx, cy] = [(minX + maxX) / 2, (minY + maxY) / 2];
  return [cx - 2, cy - 2, cx + 2, cy - 2, cx + 2, cy + 2, cx - 2, cy + 2];
}

/** Targets of cut walls and their openings. */
export function wallTargets(camera: Camera, walls: readonly CutWall[]): HitTarget[] {
  return walls.flatMap((wall) => {
    const object = { kind: 'surface' as const, id: wall.surfaceId };
    const pieces = wall.pieces.map((piece): HitTarget => {
      const path = pathToScreen(camera, piece);
      const shape = path.length === 4 ? ({ kind: 'line', path } as const) : ({ kind: 'area', rings: [path] } as const);
      return { hit: { object, handle: 'body' }, rank: RANK.surface, shape };
    });
    const windows = wall.windows.flatMap((window): HitTarget[] => {
      const line = window.glazing ?? window.faces[0];
      if (!line) return [];
      const opening = { kind: 'opening' as const, id: window.opening.id, surfaceId: wall.surfaceId };
      return [
        {
          hit: { object: opening, handle: 'body' },
          rank: RANK.opening,
          shape: { kind: 'line', path: pathToScreen(camera, line) },
        },
      ];
    });
    return [...pieces, ...windows];
  });
}

/** Accent round the chosen (or hovered, thinner) wall or opening. */
export function drawChosenWalls(context: SheetContext, sketch: Sketch, walls: readonly CutWall[]): void {
  const { selection, hover } = context.state;
  const mark = (paths: Path[], closed: boolean, chosen: boolean): void => {
    sketch.line(paths, { role: 'accent', widthPx: chosen ? 2 : 1.25, closed, cased: true, alpha: chosen ? 1 : 0.7 });
  };
  for (const wall of walls) {
    for (const [ref, chosen] of [
      [selection, true],
      [hover, false],
    ] as const) {
      if (isSame(ref, 'surface', wall.surfaceId)) {
        for (const piece of wall.pieces) mark([pathToScreen(context.camera, piece)], piece.length > 4, chosen);
      }
      if (ref?.kind !== 'opening' || ref.surfaceId !== wall.surfaceId) continue;
      const window = wall.windows.find((one) => one.opening.id === ref.id);
      const lines = window ? [...window.faces, ...(window.glazing ? [window.glazing] : [])] : [];
      mark(
        lines.map((line) => pathToScreen(context.camera, line)),
        false,
        chosen,
      );
    }
  }
}

// --- meters, camera, sun --------------------------------------------------------------------------------------

const METER_PX = 22;
const METER_CROSS_PX = 5;

/** Symbol of each meter; on a map a plain cross, so that the level beneath stays to be seen. */
export function drawMeters(context: SheetContext, sketch: Sketch, asCrosses: boolean): void {
  for (const { id, meter } of context.things.meters) {
    const [x, y] = toScreen(context, meter.positionM);
    if (asCrosses || context.isSmall || sketch.isOnMap(x, y)) {
      const arm = METER_CROSS_PX;
      sketch.line(
        [
          [x - arm, y, x + arm, y],
          [x, y - arm, x, y + arm],
        ],
        { role: 'meter', widthPx: 1.5 },
      );
    } else {
      sketch.symbol(meter.receptor === 'dome' ? METER_DOME_SYMBOL : METER_FLAT_SYMBOL, x, y, 0, METER_PX);
    }
    const chosen = isSame(context.state.selection, 'meter', id);
    if (chosen || isSame(context.state.hover, 'meter', id)) {
      sketch.circle(x, y, 13, { role: 'accent', widthPx: chosen ? 2 : 1.25, cased: true });
    }
  }
}

export function drawCamera(context: SheetContext, sketch: Sketch, targets: HitTarget[], turnDeg: number | null): void {
  const { camera } = context.things;
  if (!camera) return;
  const [x, y] = toScreen(context, camera.frame.origin);
  sketch.symbol(CAMERA_SYMBOL, x, y, turnDeg ?? 0, 26);
  targets.push({
    hit: { object: { kind: 'camera', id: 'camera' }, handle: 'body' },
    rank: RANK.camera,
    shape: { kind: 'point', x, y, radiusPx: 13 },
  });
}

export interface SunnyOpening {
  readonly thing: SurfaceThing;
  readonly opening: OpeningThing;
}

/** Openings that the sun can shine in through: it stands behind their wall. */
export function sunnyOpenings(context: Pick<SheetContext, 'things'>, towards: Vec3): SunnyOpening[] {
  return context.things.surfaces
    .filter((thing) => thing.surface.kind === 'wall' && dot(thing.frame.forward, towards) < -0.05)
    .flatMap((thing) => thing.openings.map((opening) => ({ thing, opening })));
}

const CLEAR_INSET_M = 0.01;

/**
 * Range of right (or up) on the middle plane of a wall that a parallel light passes: the thickness takes its share at
 * both sides. Null when nothing gets through.
 */
export function clearRange(
  low: number,
  high: number,
  alongFace: number,
  throughWall: number,
  thicknessM: number,
): readonly [number, number] | null {
  const loss = Math.abs((alongFace / throughWall) * thicknessM) / 2 + CLEAR_INSET_M;
  return high - low > 2 * loss ? [low + loss, high - loss] : null;
}

const OUTSIDE_M = 1.3;
const FARTHEST_M = 40;

/** World path of a sun ray through a point of an opening: from a little outside to what it meets. */
export function sunRay(context: SheetContext, through: Vec3, towards: Vec3): readonly [Vec3, Vec3] {
  const from = addScaled(through, towards, OUTSIDE_M);
  return [from, castRay(context.things, from, scale(towards, -1), FARTHEST_M).atM];
}

export function drawSunRays(context: SheetContext, sketch: Sketch, rays: readonly (readonly [Vec3, Vec3])[]): Path[] {
  const paths = rays.map(([from, to]): Path => [...toScreen(context, from), ...toScreen(context, to)]);
  sketch.line(paths, { role: 'sun', widthPx: WEIGHT.seen, dash: DASH.sun });
  return paths;
}
