/** Lamps, grip, meters and handles as every sheet draws them: symbols at reading size, grip at its true size. */
import { addScaled, type Vec3 } from '../scene/geometry/vector';
import { drawBlackEdges } from './blackEdgeStrips';
import type { ObjectRef } from './contract';
import { litFans, type BeamFigure } from './beamGeometry';
import { hatchRings, type Path } from './geometry2d';
import { RANK, type HitTarget } from './hitTest';
import { shapesLayer, toScreen, type Layer, type SheetContext } from './picture';
import type { RayHit } from './raycast';
import type { LampThing, ModifierThing } from './sceneThings';
import { Sketch, type MapArea } from './sketch';
import { LAMP_SYMBOLS, lampSymbolKind } from './symbols';
import type { InkRole } from './tokens';

export const DASH = { field: [7, 4], axis: [12, 3, 2, 3], fan: [2, 3], sun: [10, 4] } as const;
export const WEIGHT = { cutWall: 2.25, seen: 1.25, hair: 1, patch: 1.5, selection: 2 } as const;
const LAMP_SYMBOL_PX = 26;
const LARGEST_SYMBOL_PX = 160;

export const isSame = (ref: ObjectRef | null, kind: ObjectRef['kind'], id: string): boolean =>
  ref !== null && ref.kind === kind && ref.id === id;

/** Size of a lamp's symbol: readable, or true size where that is larger. */
export function lampSymbolPx(context: SheetContext, lamp: LampThing): number {
  const { emitter } = lamp.lamp;
  const sizeM =
    emitter.shape === 'rectangle'
      ? emitter.widthM
      : emitter.shape === 'tube'
        ? emitter.lengthM
        : emitter.shape === 'point'
          ? 0
          : emitter.diameterM;
  const truePx = (sizeM * context.camera.pixelsPerMetre * 24) / 20;
  return Math.min(LARGEST_SYMBOL_PX, Math.max(LAMP_SYMBOL_PX, truePx));
}

/** Screen angle of a world direction, degrees clockwise from straight up; null where it points at the reader. */
export function screenTurn(context: SheetContext, from: Vec3, direction: Vec3): number | null {
  const [x0, y0] = toScreen(context, from);
  const [x1, y1] = toScreen(context, addScaled(from, direction, 1));
  const [dx, dy] = [x1 - x0, y1 - y0];
  if (Math.hypot(dx, dy) < 0.15 * context.camera.pixelsPerMetre) return null;
  return (Math.atan2(dx, -dy) * 180) / Math.PI;
}

export function drawLampSymbol(context: SheetContext, sketch: Sketch, lamp: LampThing): void {
  const [x, y] = toScreen(context, lamp.lamp.pose.positionM);
  const turn = screenTurn(context, lamp.lamp.pose.positionM, lamp.frame.forward) ?? 0;
  sketch.symbol(LAMP_SYMBOLS[lampSymbolKind(lamp.lamp)], x, y, turn, lampSymbolPx(context, lamp), lamp.isLit ? 1 : 0.5);
  drawBlackEdges(context, sketch, lamp);
}

export interface BeamLook {
  /** The lamp in hand: full lines; the others are drawn back. */
  readonly isLeading: boolean;
  readonly withField: boolean;
}

/** Beams wider than this go nearly everywhere: their cone would only veil the sheet. */
const WIDEST_CONE_DEG = 50;

/** The cone where light really passes, as a thin fill; it lies under a heat map, whose colours it must not change. */
export function drawCone(context: SheetContext, sketch: Sketch, figure: BeamFigure, isLeading: boolean): void {
  if (figure.halfBeamDeg > WIDEST_CONE_DEG) return;
  const from = toScreen(context, figure.fromM);
  for (const fan of litFans(figure)) {
    const ring = [...from, ...fan.flatMap((hit) => toScreen(context, hit.atM))];
    sketch.fill([ring], sketch.inks.lamp, isLeading ? 0.09 : 0.05);
  }
}

/** Edges and axis of a beam, and of the shaft that an opening leaves of it; answers the lines that lettering keeps off. */
export function drawBeam(context: SheetContext, sketch: Sketch, figure: BeamFigure, look: BeamLook): Path[] {
  const from = toScreen(context, figure.fromM);
  const ray = (hit: { atM: Vec3 }): Path => [...from, ...toScreen(context, hit.atM)];
  const alpha = look.isLeading ? 1 : 0.6;
  const shaft = litFans(figure)
    .flatMap((fan) => [fan[0]!, fan[fan.length - 1]!])
    .filter((hit) => hit.passed.length > 0)
    .map(ray);
  const beam = figure.beam.map(ray);
  const field = look.withField ? figure.field.map(ray) : [];
  sketch.line(shaft, { role: 'lamp', widthPx: WEIGHT.hair, alpha: 0.55 * alpha });
  sketch.line(field, { role: 'lamp', widthPx: WEIGHT.hair, dash: DASH.field, alpha });
  sketch.line(beam, { role: 'lamp', widthPx: WEIGHT.seen, alpha });
  const axis = ray(figure.axis);
  if (look.isLeading) sketch.line([axis], { role: 'lamp', widthPx: WEIGHT.hair, dash: DASH.axis });
  return [...beam, ...field, ...shaft, ...(look.isLeading ? [axis] : [])];
}

// --- grip -----------------------------------------------------------------------------------------------------

/** A net's or scrim's rim: up to three quarters of a stop is a single. */
const isSingle = (stops: number): boolean => stops < 0.75;

export function rimRole(thing: ModifierThing): InkRole {
  const { material } = thing.modifier;
  if (material.kind !== 'net' && material.kind !== 'wireScrim') return 'grip';
  return isSingle(material.stops) ? 'netSingle' : 'netDouble';
}

/** Grip at its true size: seen edge-on as a line with its threads, else as an outline with its cloth hatched. */
export function drawModifier(context: SheetContext, sketch: Sketch, thing: ModifierThing): Path {
  const outline = thing.corners.flatMap((corner) => toScreen(context, corner));
  const edge = edgeOn(outline);
  if (edge) {
    drawEdgeOn(context, sketch, thing, edge);
    return edge;
  }
  const role = rimRole(thing);
  const { material } = thing.modifier;
  if (material.kind === 'opaque') sketch.fill([outline], sketch.inks.grip, 0.28);
  else {
    const threads = hatchRings([outline], 6, 60);
    const crossed = (material.kind === 'net' || material.kind === 'wireScrim') && !isSingle(material.stops);
    sketch.line(crossed ? [...threads, ...hatchRings([outline], 6, 120)] : threads, {
      role: 'grip',
      widthPx: 1,
      alpha: 0.45,
    });
  }
  sketch.line([...rimSides(outline, thing)], { role, widthPx: 1.5 });
  return [...outline, outline[0]!, outline[1]!];
}

/** Sides of a rim without the open ones: an open-end net has no member there. */
function rimSides(outline: Path, thing: ModifierThing): Path[] {
  const open = thing.modifier.frame?.openSides ?? [];
  if (open.length === 0 || outline.length !== 8) return [[...outline, outline[0]!, outline[1]!]];
  const names = ['bottom', 'right', 'top', 'left'] as const;
  return names.flatMap((name, i) => {
    if (open.includes(name)) return [];
    const j = (i + 1) % 4;
    return [[outline[2 * i]!, outline[2 * i + 1]!, outline[2 * j]!, outline[2 * j + 1]!]];
  });
}

/** The long line of an outline that has next to no depth on the screen, or null. */
function edgeOn(outline: Path): Path | null {
  let [longest, from, to] = [0, 0, 0];
  for (let i = 0; i < outline.length; i += 2) {
    for (let j = i + 2; j < outline.length; j += 2) {
      const span = Math.hypot(outline[j]! - outline[i]!, outline[j + 1]! - outline[i + 1]!);
      if (span > longest) [longest, from, to] = [span, i, j];
    }
  }
  const [ax, ay, bx, by] = [outline[from]!, outline[from + 1]!, outline[to]!, outline[to + 1]!];
  if (longest < 1) return [ax - 3, ay, ax + 3, ay];
  for (let i = 0; i < outline.length; i += 2) {
    const off = Math.abs((bx - ax) * (outline[i + 1]! - ay) - (by - ay) * (outline[i]! - ax)) / longest;
    if (off > 4) return null;
  }
  return [ax, ay, bx, by];
}

function drawEdgeOn(context: SheetContext, sketch: Sketch, thing: ModifierThing, edge: Path): void {
  const [ax, ay, bx, by] = [edge[0]!, edge[1]!, edge[2]!, edge[3]!];
  const lengthPx = Math.hypot(bx - ax, by - ay);
  const [ux, uy] = [(bx - ax) / lengthPx, (by - ay) / lengthPx];
  const { material } = thing.modifier;
  if (material.kind === 'opaque') {
    sketch.line([edge], { role: 'grip', widthPx: 4 });
    return;
  }
  const ticks: Path[] = [];
  const slant = (along: number, lean: number): Path => {
    const [x, y] = [ax + ux * along, ay + uy * along];
    return [x - uy * 4 - ux * lean, y + ux * 4 - uy * lean, x + uy * 4 + ux * lean, y - ux * 4 + uy * lean];
  };
  const crossed = (material.kind === 'net' || material.kind === 'wireScrim') && !isSingle(material.stops);
  for (let along = 5; along < lengthPx - 2; along += 7) {
    ticks.push(slant(along, 2.5));
    if (crossed || material.kind === 'diffusion') ticks.push(slant(along, -2.5));
  }
  sketch.line(ticks, { role: 'grip', widthPx: 1 });
  sketch.line([edge], { role: rimRole(thing), widthPx: 2 });
  const caps = endCaps(context, thing, edge);
  sketch.line(caps, { role: rimRole(thing), widthPx: 1.5 });
}

/** Short bars at the framed ends of an edge-on frame; an open end has none. */
function endCaps(context: SheetContext, thing: ModifierThing, [ax, ay, bx, by]: Path): Path[] {
  const open = thing.modifier.frame?.openSides ?? [];
  const lengthPx = Math.hypot(bx! - ax!, by! - ay!);
  const [nx, ny] = [(-(by! - ay!) / lengthPx) * 5, ((bx! - ax!) / lengthPx) * 5];
  const [cx, cy] = toScreen(context, thing.frame.origin);
  const [rx, ry] = toScreen(context, addScaled(thing.frame.origin, thing.frame.right, 1));
  const alongRight = (x: number, y: number): number => (x - cx) * (rx - cx) + (y - cy) * (ry - cy);
  const sideNames = alongRight(ax!, ay!) < 0 ? (['left', 'right'] as const) : (['right', 'left'] as const);
  const cap = (x: number, y: number): Path => [x - nx, y - ny, x + nx, y + ny];
  return [
    ...(open.includes(sideNames[0]) ? [] : [cap(ax!, ay!)]),
    ...(open.includes(sideNames[1]) ? [] : [cap(bx!, by!)]),
  ];
}

// --- selection and handles ------------------------------------------------------------------------------------

const STALK_PX = 36;
const TURN_RING_PX = 5;
const AIM_RING_PX = 7;

/** Ring round the thing in hand with its turn handle on a stalk behind; adds the handle's target. */
export function drawTurnHandle(
  sketch: Sketch,
  targets: HitTarget[],
  object: ObjectRef,
  at: readonly [number, number],
  turnDeg: number | null,
  radiusPx: number,
): void {
  const [x, y] = at;
  sketch.circle(x, y, radiusPx, { role: 'accent', widthPx: WEIGHT.selection, cased: true });
  if (turnDeg === null) return;
  const angle = (turnDeg * Math.PI) / 180;
  const [bx, by] = [-Math.sin(angle), Math.cos(angle)];
  const reach = Math.max(STALK_PX, radiusPx + 18);
  const stalk = [
    x + bx * radiusPx,
    y + by * radiusPx,
    x + bx * (reach - TURN_RING_PX),
    y + by * (reach - TURN_RING_PX),
  ];
  sketch.line([stalk], { role: 'accent', widthPx: WEIGHT.selection, cased: true });
  sketch.disc(x + bx * reach, y + by * reach, TURN_RING_PX, sketch.inks.sheet);
  sketch.circle(x + bx * reach, y + by * reach, TURN_RING_PX, {
    role: 'accent',
    widthPx: WEIGHT.selection,
    cased: true,
  });
  targets.push({
    hit: { object, handle: 'turn' },
    rank: RANK.handle,
    shape: { kind: 'point', x: x + bx * reach, y: y + by * reach, radiusPx: TURN_RING_PX },
  });
}

/** Ring with cross hairs where the axis meets a surface; adds its target. */
export function drawAimHandle(
  sketch: Sketch,
  targets: HitTarget[],
  object: ObjectRef,
  at: readonly [number, number],
): void {
  const [x, y] = at;
  const arm = AIM_RING_PX + 4;
  sketch.circle(x, y, AIM_RING_PX, { role: 'accent', widthPx: WEIGHT.selection, cased: true });
  const hairs = [
    [x - arm, y, x + arm, y],
    [x, y - arm, x, y + arm],
  ];
  sketch.line(hairs, { role: 'accent', widthPx: 1, cased: true });
  targets.push({
    hit: { object, handle: 'aim' },
    rank: RANK.handle,
    shape: { kind: 'point', x, y, radiusPx: AIM_RING_PX },
  });
}

/** Point that the aim handle sits on: the point aimed at, or where the axis first meets something. */
export function aimPoint(lamp: LampThing, axis: RayHit): Vec3 {
  const { aim } = lamp.lamp.pose;
  return 'atM' in aim ? aim.atM : axis.atM;
}

/** Cross of the reading, open in the middle; a pinned one stands in a ring. A layer of its own: it moves with the pointer. */
export function readingLayer(context: SheetContext, mapRings: MapArea): Layer {
  const { reading } = context.state;
  const sketch = new Sketch(context.inks, mapRings);
  if (!reading) return shapesLayer('reading', []);
  const [x, y] = toScreen(context, reading.atM);
  const arms = [
    [x - 11, y, x - 3, y],
    [x + 3, y, x + 11, y],
    [x, y - 11, x, y - 3],
    [x, y + 3, x, y + 11],
  ];
  sketch.line(arms, { role: 'accent', widthPx: WEIGHT.selection, cased: true });
  if (reading.pinned) sketch.circle(x, y, 14, { role: 'accent', widthPx: 1.25, cased: true });
  return shapesLayer('reading', sketch.shapes);
}
