/** The elevation: one surface face-on with its levels, the lit patch and where each figure of the judgement arises. */
import { drawChosen } from './drawChosen';
import { METRES_PER_FOOT } from '../scene/units/convert';
import { localFromWorld } from '../scene/geometry/frames';
import { windowBars } from '../sim/solve/shapes';
import { axisOf } from './beamGeometry';
import type { Margins, SheetBounds } from './camera';
import { drawSlatsFaceOn, isBeforeBars } from './drawBlind';
import { drawContourLabels } from './drawContours';
import { localToScreen, mapLayer, mapPicture, surfaceRings, type MapPicture } from './drawMap';
import { drawLegend, LEGEND_ROOM_PX } from './drawLegend';
import { drawGhost, drawMove, drawSnaps, OPEN_BEAM_M } from './drawObjects';
import { drawDimension, drawMeters, gridLayer, levelDimension, uprightDimension } from './drawSheet';
import { aimPoint, drawAimHandle, isSame, WEIGHT } from './drawThings';
import { elevationContours, judgedCheck, patchLayer, drawPatchLabels, patchSpan, twinSpan } from './drawPatch';
import { formatLength } from './format';
import { drawFigureMark } from './figureMarks';
import { drawStanding } from './elevationThings';
import type { Path } from './geometry2d';
import { RANK, type HitTarget } from './hitTest';
import { LabelPlacer } from './labels';
import { labelMeters } from './planLabels';
import { shapesLayer, toScreen, type Layer, type Picture, type SheetContext } from './picture';
import type { SurfaceThing } from './sceneThings';
import { drawShutters } from './shutterMarks';
import { crisp, Sketch } from './sketch';

export function elevationMargins(context: Pick<SheetContext, 'isSmall'>): Margins {
  if (context.isSmall) return { left: 12, top: 12, right: 12, bottom: 14 };
  return { left: 58, top: 46, right: LEGEND_ROOM_PX + 22, bottom: 66 };
}

export function elevationBounds(thing: SurfaceThing | undefined): SheetBounds | null {
  if (!thing) return null;
  const ring = thing.rings[0]!;
  const rights = ring.filter((_, i) => i % 2 === 0);
  const ups = ring.filter((_, i) => i % 2 === 1);
  return { minU: Math.min(...rights), maxU: Math.max(...rights), minV: Math.min(...ups), maxV: Math.max(...ups) };
}

interface ScreenBox {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export function drawElevation(context: SheetContext): Picture {
  const { camera, inks, memo, state, things } = context;
  const thing = things.surfaces.find((one) => one.id === state.surfaceId);
  if (!thing) return { layers: [gridLayer(context)], targets: [] };
  const map = mapPicture(context, thing);
  const rings = map?.rings ?? null;
  const outline = memo.get('outline', [camera, thing, context.projection], () => surfaceRings(context, thing));
  const box = boxOf(outline);
  const placer = new LabelPlacer(context.measure, inks, rings, camera.widthPx, camera.heightPx);
  const layers: Layer[] = [gridLayer(context)];
  if (map) layers.push(mapLayer(context, map));
  const contours = state.isSwiped ? null : elevationContours(context, thing, map);
  if (contours) layers.push(contours.layer);
  const targets = surfaceTargets(context, thing, outline);
  layers.push(
    memo.get('openings', [camera, thing, inks, outline], () => openingsLayer(context, thing, outline)),
    ...(state.isSwiped ? [] : [patchLayer(context, thing, rings)]),
  );
  placer.avoid(outline.map((ring) => [...ring, ring[0]!, ring[1]!]));
  const top = new Sketch(inks, rings);
  drawStanding(context, thing, rings, top, targets, placer);
  drawOnSurface(context, thing, top, targets, placer);
  if (!context.isSmall) {
    if (map)
      layers.push(
        ...drawLegend(
          context,
          map,
          placer,
          box.top + 4,
          legendFoot(camera.heightPx, box),
          legendX(camera.widthPx, box),
        ),
      );
    drawFrame(context, thing, top, placer, box, map);
    if (!state.isSwiped) drawPatchLabels(context, thing, top, placer, box);
    labelMeters(onSurfaceOnly(context, thing), placer);
    if (contours) drawContourLabels(context, thing, contours.lines, placer);
  }
  if (!state.isSwiped) drawFigureMark(context, thing, top);
  drawGhost(context, rings, top);
  drawMove(context, top, placer);
  drawSnaps(context, top);
  drawChosen(context, top);
  top.line(placer.leaders, { role: 'ink3', widthPx: 1 });
  layers.push({ name: 'top', rasters: [], shapes: top.shapes, texts: placer.texts });
  return { layers, targets, mapRings: rings };
}

const boxOf = (rings: readonly Path[]): ScreenBox => {
  const ring = rings[0]!;
  const xs = ring.filter((_, i) => i % 2 === 0);
  const ys = ring.filter((_, i) => i % 2 === 1);
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
};
/** The legend keeps beside the surface while there is room, and on the sheet when the surface runs off it. */
const legendX = (widthPx: number, box: ScreenBox): number => Math.min(box.right + 46, widthPx - 50);
const LEAST_LEGEND_PX = 130;
const legendFoot = (heightPx: number, box: ScreenBox): number =>
  Math.min(heightPx - 40, Math.max(box.bottom, box.top + 4 + LEAST_LEGEND_PX));

/** The context with only those meters that lie on the surface shown. */
function onSurfaceOnly(context: SheetContext, thing: SurfaceThing): SheetContext {
  const meters = context.things.meters.filter(
    ({ meter }) => Math.abs(localFromWorld(thing.frame, meter.positionM).above) < 0.05,
  );
  return { ...context, things: { ...context.things, meters } };
}

/** Openings with their bars, and the outline of the surface itself. */
function openingsLayer(context: SheetContext, thing: SurfaceThing, outline: readonly Path[]): Layer {
  const sketch = new Sketch(context.inks, null);
  for (const one of thing.openings) {
    const { opening, ring } = one;
    const hole = localToScreen(context, thing, ring);
    sketch.fill([hole], context.inks.sheet);
    if (!isBeforeBars(thing, one)) drawSlatsFaceOn(context, thing, one, sketch);
    if (opening.window) {
      const { bars } = windowBars(opening);
      for (const bar of bars) {
        sketch.fill(
          [
            localToScreen(
              context,
              thing,
              bar.flatMap(([x, y]) => [x, y]),
            ),
          ],
          context.inks.wall,
          0.5,
        );
      }
    }
    if (isBeforeBars(thing, one)) drawSlatsFaceOn(context, thing, one, sketch);
    sketch.line([hole], { role: 'wall', widthPx: WEIGHT.seen, closed: true });
  }
  sketch.line(outline, { role: 'wall', widthPx: 1.5, closed: true });
  const judged = thing.surface.judgedAreaM;
  if (judged) {
    const area = localToScreen(
      context,
      thing,
      judged.flatMap(([x, y]) => [x, y]),
    );
    sketch.line([area], { role: 'ink2', widthPx: 1, dash: [2, 4], closed: true });
  }
  return shapesLayer('openings', sketch.shapes);
}

function surfaceTargets(context: SheetContext, thing: SurfaceThing, outline: readonly Path[]): HitTarget[] {
  const object = { kind: 'surface' as const, id: thing.id };
  // Only the edges: the middle of the surface is for reading levels.
  const edges = outline.map((ring): HitTarget => {
    const path = [...ring, ring[0]!, ring[1]!];
    return { hit: { object, handle: 'body' }, rank: RANK.surface, shape: { kind: 'line', path } };
  });
  const openings = thing.openings.map(({ id, ring }): HitTarget => {
    const opening = { kind: 'opening' as const, id, surfaceId: thing.id };
    const rings = [localToScreen(context, thing, ring)];
    return { hit: { object: opening, handle: 'body' }, rank: RANK.opening, shape: { kind: 'area', rings } };
  });
  return [...edges, ...openings];
}

/** Meters on the surface, the aim of the lamp in hand and whatever is chosen. */
function drawOnSurface(
  context: SheetContext,
  thing: SurfaceThing,
  sketch: Sketch,
  targets: HitTarget[],
  placer: LabelPlacer,
): void {
  const { state, things } = context;
  const local = onSurfaceOnly(context, thing);
  drawMeters(local, sketch, true);
  for (const { id, meter } of local.things.meters) {
    const [x, y] = toScreen(context, meter.positionM);
    targets.push({
      hit: { object: { kind: 'meter', id }, handle: 'body' },
      rank: RANK.meter,
      shape: { kind: 'point', x, y, radiusPx: 6 },
    });
    placer.block({ left: x - 5, top: y - 5, right: x + 5, bottom: y + 5 });
  }
  for (const [ref, chosen] of [
    [state.hover, false],
    [state.selection, true],
  ] as const) {
    const style = { role: 'accent' as const, widthPx: chosen ? 2 : 1.25, closed: true, cased: true };
    if (isSame(ref, 'surface', thing.id)) sketch.line(surfaceRings(context, thing), style);
    if (ref?.kind !== 'opening' || ref.surfaceId !== thing.id) continue;
    const opening = thing.openings.find((one) => one.id === ref.id);
    if (opening) sketch.line([localToScreen(context, thing, opening.ring)], style);
  }
  for (const lamp of things.lamps) {
    if (!isSame(state.selection, 'source', lamp.id)) continue;
    drawShutters(context, thing, lamp, sketch, targets);
    const at = aimPoint(lamp, axisOf(things, lamp, OPEN_BEAM_M));
    if (Math.abs(localFromWorld(thing.frame, at).above) > 0.05) continue;
    const [x, y] = toScreen(context, at);
    drawAimHandle(sketch, targets, { kind: 'source', id: lamp.id }, [x, y]);
    placer.block({ left: x - 10, top: y - 10, right: x + 10, bottom: y + 10 });
  }
}

// --- ruler and dimensions -------------------------------------------------------------------------------------

const LEAST_TICK_PX = 34;

function drawFrame(
  context: SheetContext,
  thing: SurfaceThing,
  sketch: Sketch,
  placer: LabelPlacer,
  box: ScreenBox,
  map: MapPicture | null,
): void {
  drawRuler(context, thing, sketch, placer, box);
  const { units } = context.state;
  const heightM = (box.bottom - box.top) / context.camera.pixelsPerMetre;
  drawDimension(context, sketch, placer, formatLength(heightM, units), (labelPx) =>
    uprightDimension(box.top, box.bottom, box.left - 20, box.left, labelPx),
  );
  const patch = patchSpan(context, thing);
  if (patch) {
    const text = `${patch.name} ${formatLength(patch.to - patch.from, units)}`;
    const [x0, , x1] = localToScreen(context, thing, [patch.from, 0, patch.to, 0]) as [number, number, number, number];
    drawDimension(context, sketch, placer, text, (labelPx) =>
      levelDimension(x0, x1, box.top - 12, box.top - 2, labelPx),
    );
  }
  const twin = twinSpan(context, thing);
  if (twin) {
    const text = `${twin.name} ${formatLength(twin.to - twin.from, units)}`;
    const [x0, , x1] = localToScreen(context, thing, [twin.from, 0, twin.to, 0]) as [number, number, number, number];
    drawDimension(context, sketch, placer, text, (labelPx) =>
      levelDimension(x0, x1, box.bottom + 46, box.bottom + 32, labelPx),
    );
  }
  if (!map && !judgedCheck(context, thing)) {
    const [x, y] = [Math.max(6, box.left) + 9, Math.max(4, box.top) + 6];
    placer.place({ lines: [[{ text: thing.surface.name, bold: true }]], places: [{ x, y, anchor: 'belowLeft' }] });
  }
}

/** Metres (or feet) along the foot from the surface's left, over the hatch of the ground it stands on. */
function drawRuler(
  context: SheetContext,
  thing: SurfaceThing,
  sketch: Sketch,
  placer: LabelPlacer,
  box: ScreenBox,
): void {
  const { camera, state } = context;
  const metres = state.units.length === 'metres';
  const unit = metres ? 1 : METRES_PER_FOOT;
  const step =
    unit * ([0.5, 1, 2, 5, 10, 20].find((size) => size * unit * camera.pixelsPerMetre >= LEAST_TICK_PX) ?? 50);
  const foot = crisp(box.bottom);
  sketch.line([[box.left - 14, foot, box.right + 14, foot]], { role: 'wall', widthPx: 1.5 });
  const ground: Path[] = [];
  for (let x = box.left - 12; x < box.right + 12; x += 7) ground.push([x, foot + 6, x + 6, foot]);
  if (thing.isUpright) sketch.line(ground, { role: 'ink3', widthPx: 1, alpha: 0.6 });
  const first = Math.min(...thing.rings[0]!.filter((_, i) => i % 2 === 0));
  const last = (box.right - box.left) / camera.pixelsPerMetre;
  for (let k = 0; k * step <= last + 1e-9; k++) {
    const x = crisp(box.left + k * step * camera.pixelsPerMetre);
    sketch.line([[x, foot + 7, x, foot + 12]], { role: 'ink3', widthPx: 1 });
    const isLast = (k + 1) * step > last + 1e-9;
    const value = Number(((first + k * step) / unit).toFixed(1));
    const text = isLast ? `${value} ${metres ? 'm' : 'ft'}` : String(value);
    placer.place({ lines: [[{ text }]], places: [{ x, y: foot + 13, anchor: 'below' }], clearPx: 0 });
  }
}
