/** Things on any sheet: what marks them, where they can be grabbed, and where they stood before a drag. */
import { dimensionLine } from '../scene/dimensions';
import { distance, type Vec3 } from '../scene/geometry/vector';
import type { SceneDocument } from '../scene/schema';
import { beamFigure } from './beamGeometry';
import type { ObjectRef } from './contract';
import { drawMeters } from './drawSheet';
import { DASH, drawBeam, drawLampSymbol, drawModifier, isSame, lampSymbolPx, WEIGHT } from './drawThings';
import type { Path } from './geometry2d';
import { RANK, type HitTarget } from './hitTest';
import { formatLength } from './format';
import type { LabelPlace, LabelPlacer } from './labels';
import { toScreen, type SheetContext } from './picture';
import type { SceneThings } from './sceneThings';
import { Sketch, type ShapeOp } from './sketch';

/** How far a beam that meets nothing is drawn. */
export const OPEN_BEAM_M = 12;

export function markModifier(context: SheetContext, sketch: Sketch, id: string, line: Path): void {
  const chosen = isSame(context.state.selection, 'modifier', id);
  if (!chosen && !isSame(context.state.hover, 'modifier', id)) return;
  const xs = line.filter((_, i) => i % 2 === 0);
  const ys = line.filter((_, i) => i % 2 === 1);
  const [cx, cy] = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
  const radius = Math.min(60, Math.max(12, Math.hypot(xs[0]! - cx, ys[0]! - cy) + 6));
  sketch.circle(cx, cy, radius, { role: 'accent', widthPx: chosen ? 2 : 1.25, cased: true });
}

/** Targets of lamps and meters, whose places are also kept free of lettering. */
export function pushPointTargets(context: SheetContext, targets: HitTarget[], placer: LabelPlacer): void {
  for (const lamp of context.things.lamps) {
    const [x, y] = toScreen(context, lamp.lamp.pose.positionM);
    const radiusPx = Math.min(30, lampSymbolPx(context, lamp) / 2);
    const hit = { object: { kind: 'source' as const, id: lamp.id }, handle: 'body' as const };
    targets.push({ hit, rank: RANK.source, shape: { kind: 'point', x, y, radiusPx } });
    const keep = radiusPx + (isSame(context.state.selection, 'source', lamp.id) ? 6 : 0);
    placer.block({ left: x - keep, top: y - keep, right: x + keep, bottom: y + keep });
  }
  for (const { id, meter } of context.things.meters) {
    const [x, y] = toScreen(context, meter.positionM);
    targets.push({
      hit: { object: { kind: 'meter', id }, handle: 'body' },
      rank: RANK.meter,
      shape: { kind: 'point', x, y, radiusPx: 8 },
    });
    placer.block({ left: x - 5, top: y - 5, right: x + 5, bottom: y + 5 });
  }
}

/** Keeps lettering off the handles of the thing in hand. */
export function blockHandles(targets: readonly HitTarget[], placer: LabelPlacer): void {
  for (const { hit, shape } of targets) {
    if (hit.handle === 'body' || shape.kind !== 'point') continue;
    const room = shape.radiusPx + 3;
    placer.block({ left: shape.x - room, top: shape.y - room, right: shape.x + room, bottom: shape.y + room });
  }
}

/** How strongly an old place is drawn. */
export const GHOST_ALPHA = 0.4;

/** The thing being dragged as it stood before. */
export function drawGhost(context: SheetContext, rings: readonly Path[] | null, onto: Sketch): void {
  const { ghost, setupId, selection, hover } = context.state;
  if (!ghost) return;
  const things = context.thingsFor(ghost.document, setupId);
  const { kind, id } = ghost.object;
  // A drag stands still behind itself: its beam is worked out once, not at every step.
  const key = [things, kind, id, context.camera, context.projection, context.inks, rings, selection, hover];
  onto.shapes.push(...context.memo.get('ghost', key, () => ghostShapes(context, things, ghost.object, rings)));
}

function ghostShapes(
  context: SheetContext,
  things: SceneThings,
  object: ObjectRef,
  rings: readonly Path[] | null,
): readonly ShapeOp[] {
  const sketch = new Sketch(context.inks, rings, GHOST_ALPHA);
  const before = { ...context, things };
  const lamp = things.lamps.find((one) => isSame(object, 'source', one.id));
  if (lamp) {
    const side = context.projection.kind === 'section' ? lamp.frame.up : lamp.frame.right;
    drawBeam(before, sketch, beamFigure(things, lamp, side, OPEN_BEAM_M), { isLeading: true, withField: false });
    drawLampSymbol(before, sketch, lamp);
  }
  const modifier = things.modifiers.find((one) => isSame(object, 'modifier', one.id));
  if (modifier) drawModifier(before, sketch, modifier);
  const meter = things.meters.find((one) => isSame(object, 'meter', one.id));
  if (meter) drawMeters({ ...before, things: { ...things, meters: [meter] } }, sketch, false);
  return sketch.shapes;
}

const LEAST_MOVE_PX = 12;

/** Where a thing stands in a set-up; null for what has no place of its own. */
export function anchorOfThing(things: SceneThings, object: ObjectRef): Vec3 | null {
  switch (object.kind) {
    case 'source':
      return things.lamps.find((one) => one.id === object.id)?.lamp.pose.positionM ?? null;
    case 'modifier':
      return things.modifiers.find((one) => one.id === object.id)?.frame.origin ?? null;
    case 'meter':
      return things.meters.find((one) => one.id === object.id)?.meter.positionM ?? null;
    case 'mark':
      return things.document.marks?.[object.id]?.positionM ?? null;
    case 'picture':
      return things.document.pictures?.[object.id]?.positionM ?? null;
    case 'camera':
      return things.camera?.frame.origin ?? null;
    default:
      return null;
  }
}

function middleOfDimension(document: SceneDocument, setupId: string, id: string): Vec3 | null {
  const dimension = document.dimensions?.[id];
  const line = dimension && dimensionLine(document, setupId, dimension);
  return line ? [(line.from[0] + line.to[0]) / 2, (line.from[1] + line.to[1]) / 2, 0] : null;
}

/** During a drag: how far the thing has come, on a dotted line from its old place. */
export function drawMove(context: SheetContext, sketch: Sketch, placer: LabelPlacer): void {
  const { ghost, setupId, units } = context.state;
  if (!ghost) return;
  const { object } = ghost;
  const placeIn = (document: SceneDocument): Vec3 | null =>
    object.kind === 'dimension'
      ? middleOfDimension(document, setupId, object.id)
      : anchorOfThing(context.thingsFor(document, setupId), object);
  const from = placeIn(ghost.document);
  const to = placeIn(context.state.document);
  if (!from || !to) return;
  const [x0, y0] = toScreen(context, from);
  const [x1, y1] = toScreen(context, to);
  if (Math.hypot(x1 - x0, y1 - y0) < LEAST_MOVE_PX) return;
  sketch.line([[x0, y0, x1, y1]], { role: 'accent', widthPx: 1.25, dash: [2, 3], cased: true });
  const [x, y] = [(x0 + x1) / 2, (y0 + y1) / 2];
  placer.place({
    lines: [[{ text: formatLength(distance(from, to), units), bold: true, role: 'accent' }]],
    places: [8, 20, 34].flatMap((gap): LabelPlace[] => [
      { x: x + gap, y: y - gap / 2, anchor: 'aboveLeft' },
      { x: x - gap, y: y - gap / 2, anchor: 'aboveRight' },
      { x: x + gap, y: y + gap / 2, anchor: 'belowLeft' },
      { x: x - gap, y: y + gap / 2, anchor: 'belowRight' },
    ]),
  });
}

const SNAP_TICK_PX = 5;

/** Marks of what a drag rests on: a dotted guide with two ticks, a small cross, or an open corner. */
export function drawSnaps(context: SheetContext, sketch: Sketch): void {
  const style = { role: 'accent', widthPx: WEIGHT.selection, cased: true } as const;
  for (const mark of context.state.snaps) {
    const [x, y] = toScreen(context, mark.atM);
    const r = SNAP_TICK_PX;
    if (mark.kind === 'on' || !mark.otherM) {
      const cross = [
        [x - r, y - r, x + r, y + r],
        [x - r, y + r, x + r, y - r],
      ];
      sketch.line(cross, style);
      continue;
    }
    const [x1, y1] = toScreen(context, mark.otherM);
    const span = Math.hypot(x1 - x, y1 - y);
    if (span < 1) continue;
    const [ux, uy] = [(x1 - x) / span, (y1 - y) / span];
    if (mark.kind === 'square') {
      // The corner between the axis and the wall, on the axis' side of it.
      const side = 2 * r;
      const corner = [
        x + ux * side,
        y + uy * side,
        x + (ux - uy) * side,
        y + (uy + ux) * side,
        x - uy * side,
        y + ux * side,
      ];
      sketch.line([corner], style);
      continue;
    }
    sketch.line([[x, y, x1, y1]], { ...style, widthPx: 1.25, dash: DASH.fan });
    const tick = (px: number, py: number): Path => [px - uy * r, py + ux * r, px + uy * r, py - ux * r];
    sketch.line([tick(x, y), tick(x1, y1)], style);
  }
}
