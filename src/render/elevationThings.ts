/** Lamps and grip that stand before the surface of an elevation, square on to it: drawn back, so that levels stay first. */
import { localFromWorld } from '../scene/geometry/frames';
import type { ObjectRef } from './contract';
import { markModifier } from './drawObjects';
import { drawLampSymbol, drawModifier, drawTurnHandle, isSame, lampSymbolPx, screenTurn } from './drawThings';
import { RANK, type HitTarget } from './hitTest';
import type { LabelPlacer } from './labels';
import { toScreen, type SheetContext } from './picture';
import { gripTag, placesRound } from './planLabels';
import type { LampThing, ModifierThing, SurfaceThing } from './sceneThings';
import { Sketch, type MapArea } from './sketch';

/** What is nearer to the surface than this lies on it; what is farther before it than that belongs to another room, m. */
const ON_SURFACE_M = 0.02;
const FARTHEST_M = 20;
const DRAWN_BACK = 0.6;
/** Markers of lamps that stand beside the view keep this far from the sheet's edge. */
const MARKER_INSET_PX = 16;
const MARKER_PX = 7;

const standsBefore = (thing: SurfaceThing, at: readonly [number, number, number]): boolean => {
  const { above } = localFromWorld(thing.frame, at);
  return above > ON_SURFACE_M && above < FARTHEST_M;
};

/** Draws what stands before the surface, with its targets; lamps beside the view get a marker at the sheet's edge. */
export function drawStanding(
  context: SheetContext,
  thing: SurfaceThing,
  map: MapArea,
  sketch: Sketch,
  targets: HitTarget[],
  placer: LabelPlacer,
): void {
  for (const grip of context.things.modifiers) {
    if (standsBefore(thing, grip.frame.origin)) drawGrip(context, map, sketch, targets, placer, grip);
  }
  for (const lamp of context.things.lamps) {
    if (standsBefore(thing, lamp.frame.origin)) drawLamp(context, map, sketch, targets, placer, lamp);
  }
}

function isInView({ camera }: SheetContext, [x, y]: readonly [number, number]): boolean {
  return x > 0 && y > 0 && x < camera.widthPx && y < camera.heightPx;
}

function drawGrip(
  context: SheetContext,
  map: MapArea,
  sketch: Sketch,
  targets: HitTarget[],
  placer: LabelPlacer,
  grip: ModifierThing,
): void {
  const object: ObjectRef = { kind: 'modifier', id: grip.id };
  const chosen = isSame(context.state.selection, 'modifier', grip.id);
  const pale = new Sketch(context.inks, map, chosen ? 1 : DRAWN_BACK);
  const path = drawModifier(context, pale, grip);
  sketch.shapes.push(...pale.shapes);
  markModifier(context, sketch, grip.id, path);
  // The middle is for reading levels, until the thing itself is in hand.
  const shape =
    chosen && path.length > 4 ? ({ kind: 'area', rings: [path] } as const) : ({ kind: 'line', path } as const);
  targets.push({ hit: { object, handle: 'body' }, rank: RANK.modifier, shape });
  const at = toScreen(context, grip.frame.origin);
  if (!isInView(context, at)) return;
  if (chosen) drawTurnHandle(sketch, targets, object, at, 0, 8);
  if (!context.isSmall) placer.place({ lines: gripTag(grip), places: placesRound(at[0], at[1], 14) });
}

function drawLamp(
  context: SheetContext,
  map: MapArea,
  sketch: Sketch,
  targets: HitTarget[],
  placer: LabelPlacer,
  lamp: LampThing,
): void {
  const object: ObjectRef = { kind: 'source', id: lamp.id };
  const chosen = isSame(context.state.selection, 'source', lamp.id);
  const at = toScreen(context, lamp.frame.origin);
  const name = [[{ text: lamp.lamp.name.slice(0, 16), bold: true }]];
  if (!isInView(context, at)) {
    const [x, y] = drawMarker(context, sketch, at, chosen);
    targets.push({
      hit: { object, handle: 'body' },
      rank: RANK.source,
      shape: { kind: 'point', x, y, radiusPx: MARKER_PX },
    });
    if (!context.isSmall) placer.place({ lines: name, places: placesRound(x, y, 12) });
    return;
  }
  const pale = new Sketch(context.inks, map, chosen ? 1 : DRAWN_BACK);
  drawLampSymbol(context, pale, lamp);
  sketch.shapes.push(...pale.shapes);
  const radiusPx = Math.min(30, lampSymbolPx(context, lamp) / 2);
  targets.push({
    hit: { object, handle: 'body' },
    rank: RANK.source,
    shape: { kind: 'point', x: at[0], y: at[1], radiusPx },
  });
  placer.block({
    left: at[0] - radiusPx,
    top: at[1] - radiusPx,
    right: at[0] + radiusPx,
    bottom: at[1] + radiusPx,
  });
  if (chosen) {
    const turn = screenTurn(context, lamp.frame.origin, lamp.frame.forward) ?? 0;
    drawTurnHandle(sketch, targets, object, at, turn, radiusPx + 5);
  } else if (isSame(context.state.hover, 'source', lamp.id)) {
    sketch.circle(at[0], at[1], radiusPx + 5, { role: 'accent', widthPx: 1.25, cased: true });
  }
  if (!context.isSmall) placer.place({ lines: name, places: placesRound(at[0], at[1], radiusPx + 8) });
}

/** An arrow head at the sheet's edge towards a lamp that stands beside the view; answers its place. */
function drawMarker(
  { camera }: SheetContext,
  sketch: Sketch,
  [x, y]: readonly [number, number],
  chosen: boolean,
): [number, number] {
  const atX = Math.max(MARKER_INSET_PX, Math.min(camera.widthPx - MARKER_INSET_PX, x));
  const atY = Math.max(MARKER_INSET_PX, Math.min(camera.heightPx - MARKER_INSET_PX, y));
  const angle = Math.atan2(y - atY, x - atX);
  const corner = (turn: number, size: number): number[] => [
    atX + size * Math.cos(angle + turn),
    atY + size * Math.sin(angle + turn),
  ];
  const head = [...corner(0, MARKER_PX), ...corner(2.4, MARKER_PX), ...corner(-2.4, MARKER_PX)];
  sketch.fill([head], sketch.inks.lamp);
  if (chosen) sketch.circle(atX, atY, MARKER_PX + 5, { role: 'accent', widthPx: 2, cased: true });
  return [atX, atY];
}
