/** Lettering, dimensions and handles of the plan. */
import { dot, type Vec3 } from '../scene/geometry/vector';
import { localFromWorld, worldFromLocal } from '../scene/geometry/frames';
import type { BeamFigure } from './beamGeometry';
import { drawDimension, levelDimension, uprightDimension } from './drawSheet';
import { aimPoint, drawAimHandle, drawTurnHandle, isSame, lampSymbolPx, screenTurn } from './drawThings';
import { formatDegrees, formatLength, formatPan } from './format';
import type { HitTarget } from './hitTest';
import type { LabelLine, LabelPlace, LabelPlacer } from './labels';
import { pathToScreen, toScreen, type SheetContext } from './picture';
import type { LampThing, ModifierThing, SurfaceThing } from './sceneThings';
import type { Sketch } from './sketch';
import { lampSymbolKind } from './symbols';
import { sunPlaces } from './sunPlaces';
import type { CutWall } from './wallGeometry';

const LAMP_WORDS = {
  point: 'Point lamp',
  lensedSpot: 'Lensed spot',
  projectionSpot: 'Projection spot',
  panel: 'Panel',
  tube: 'Tube',
  mat: 'Mat',
  sphere: 'Lantern',
  openFace: 'Open-face',
  discharge: 'Discharge lamp',
  strip: 'Strip of cells',
} as const;

/** How many of `placesRound` touch the point's own surroundings. */
const NEAR_PLACES = 13;

/** Places round a point, the likeliest first: below, above, then the sides, then farther out with a leader. */
export function placesRound(x: number, y: number, gap: number): LabelPlace[] {
  const near: LabelPlace[] = [
    { x: x - gap * 0.6, y: y + gap, anchor: 'belowLeft' },
    { x: x - gap * 1.5, y: y + gap, anchor: 'belowLeft' },
    { x: Math.max(4, x - gap * 1.9), y: y + gap, anchor: 'belowLeft' },
    { x: Math.max(4, x - gap * 1.9), y: y + gap + 10, anchor: 'belowLeft' },
    { x, y: y + gap, anchor: 'below' },
    { x: x + gap, y, anchor: 'left' },
    { x, y: y - gap, anchor: 'above' },
    { x: x - gap * 0.6, y: y - gap, anchor: 'aboveLeft' },
    { x: x - gap, y, anchor: 'right' },
    { x: x + gap, y: y + gap, anchor: 'belowLeft' },
    { x: x + gap, y: y - gap, anchor: 'aboveLeft' },
    { x: x - gap, y: y + gap, anchor: 'belowRight' },
    { x: x - gap, y: y - gap, anchor: 'aboveRight' },
  ];
  const far = [48, 72].flatMap((reach): LabelPlace[] => [
    { x, y: y + gap + reach, anchor: 'below' },
    { x, y: y - gap - reach, anchor: 'above' },
    { x: x + gap + reach, y, anchor: 'left' },
    { x: x - gap - reach, y, anchor: 'right' },
  ]);
  return [...near, ...far];
}

/** Lettering of a lamp: name and kind, then height, pan and tilt for the lamp in hand or when there are few. */
export function lampTag(context: SheetContext, lamp: LampThing, full: boolean): LabelLine[] {
  const title =
    lamp.lamp.name.length > 14 ? lamp.lamp.name : `${lamp.lamp.name} ${LAMP_WORDS[lampSymbolKind(lamp.lamp)]}`;
  if (!full) return [[{ text: lamp.lamp.name.slice(0, 16), bold: true }]];
  const height = formatLength(lamp.lamp.pose.positionM[2], context.state.units);
  const figures = `h ${height}  pan ${formatPan(lamp.panDeg)}  tilt ${formatDegrees(lamp.tiltDeg)}`;
  const off = lamp.isLit ? [] : [[{ text: 'off' }]];
  return [[{ text: title, bold: true }], [{ text: figures }], ...off];
}

export function gripTag(thing: ModifierThing): LabelLine[] {
  const { material, name } = thing.modifier;
  if (material.kind !== 'net' && material.kind !== 'wireScrim') return [[{ text: name }]];
  const thirds = Math.round(material.stops * 6) / 6;
  const grade = Math.abs(thirds - 0.5) < 0.01 ? '1/2' : String(Number(material.stops.toFixed(2)));
  return [[{ text: name }, { text: `  ${grade}`, bold: true }]];
}

/** From so many lamps and pieces on a name keeps to its thing or is left out: leaders would lie across everything. */
const CROWD = 60;

/** Things that are off the sheet are not named at its edge. */
function isOnSheet({ camera }: SheetContext, x: number, y: number): boolean {
  return x >= 0 && y >= 0 && x <= camera.widthPx && y <= camera.heightPx;
}

export function drawPlanLabels(context: SheetContext, placer: LabelPlacer, walls: readonly CutWall[]): void {
  const { state, things } = context;
  const isCrowd = things.lamps.length + things.modifiers.length > CROWD;
  const lamps = [...things.lamps].sort(
    (a, b) => Number(isSame(state.selection, 'source', b.id)) - Number(isSame(state.selection, 'source', a.id)),
  );
  for (const lamp of lamps) {
    const [x, y] = toScreen(context, lamp.lamp.pose.positionM);
    if (!isOnSheet(context, x, y)) continue;
    const isChosen = isSame(state.selection, 'source', lamp.id);
    const full = !context.isSmall && (things.lamps.length <= 3 || isChosen);
    const gap = Math.min(34, lampSymbolPx(context, lamp) / 2) + 8;
    const places = placesRound(x, y, gap);
    const label = { places: isCrowd && !isChosen ? places.slice(0, NEAR_PLACES) : places, leaderTo: { x, y } };
    // Two lines far from their lamp would look like another's: near, or the name alone.
    const near = full ? { places: places.slice(0, NEAR_PLACES), mostCrossings: 3 } : {};
    const placed = placer.place({ ...label, lines: lampTag(context, lamp, full), ...near });
    if (!placed && full) placer.place({ ...label, lines: lampTag(context, lamp, false) });
  }
  if (context.isSmall) return;
  labelMeters(context, placer);
  labelShownWall(context, placer, walls);
  for (const thing of things.modifiers) {
    const [x, y] = toScreen(context, thing.frame.origin);
    if (!isOnSheet(context, x, y)) continue;
    placer.place({
      lines: gripTag(thing),
      places: placesRound(x, y, 16).slice(0, isCrowd ? NEAR_PLACES : NEAR_PLACES + 4),
      leaderTo: { x, y },
      mostCrossings: isCrowd ? 1 : 2,
    });
  }
  labelRest(context, placer, isCrowd);
}

export function labelMeters(context: SheetContext, placer: LabelPlacer): void {
  for (const { meter } of context.things.meters) {
    const [x, y] = toScreen(context, meter.positionM);
    if (!isOnSheet(context, x, y)) continue;
    const places: LabelPlace[] = [
      { x: x + 3, y: y + 7, anchor: 'belowLeft' },
      { x: x - 3, y: y + 7, anchor: 'belowRight' },
      { x: x + 9, y, anchor: 'left' },
      { x: x - 9, y, anchor: 'right' },
      { x, y: y - 9, anchor: 'above' },
    ];
    placer.place({ lines: [[{ text: meter.name, role: 'meter' }]], places });
  }
}

/** Name of the surface that the elevation shows, along the outside of its wall. */
function labelShownWall(context: SheetContext, placer: LabelPlacer, walls: readonly CutWall[]): void {
  const shown = context.things.surfaces.find((thing) => thing.id === context.state.surfaceId);
  const wall = walls.find((one) => one.surfaceId === context.state.surfaceId);
  if (!shown || !wall) return;
  const [x0, y0, x1, y1] = pathToScreen(context.camera, wall.inner) as [number, number, number, number];
  const away = shown.thicknessM * context.camera.pixelsPerMetre + 7;
  const [fx, fy] = shown.frame.forward;
  const places = [0.5, 0.35, 0.65, 0.2, 0.8].flatMap((share): LabelPlace[] => {
    const [x, y] = [x0 + share * (x1 - x0), y0 + share * (y1 - y0)];
    if (Math.abs(fy) > Math.abs(fx)) {
      return fy < 0 ? [{ x, y: y - away, anchor: 'above' }] : [{ x, y: y + away, anchor: 'below' }];
    }
    return fx < 0 ? [{ x: x + away, y, anchor: 'left' }] : [{ x: x - away, y, anchor: 'right' }];
  });
  placer.place({ lines: [[{ text: shown.surface.name, bold: true }]], places });
}

function labelRest(context: SheetContext, placer: LabelPlacer, isCrowd: boolean): void {
  const { state, things } = context;
  for (const { x, y, label } of sunPlaces(context)) {
    placer.place({ lines: [[{ text: label }]], places: placesRound(x, y, 16).slice(0, NEAR_PLACES), mostCrossings: 1 });
  }
  if (things.camera) {
    const [x, y] = toScreen(context, things.camera.frame.origin);
    placer.place({ lines: [[{ text: 'Camera', role: 'camera' }]], places: placesRound(x, y, 17) });
  }
  for (const mark of Object.values(state.document.marks ?? {})) {
    const [x, y] = toScreen(context, mark.positionM);
    if (!isOnSheet(context, x, y)) continue;
    const places = placesRound(x, y, 11);
    placer.place({ lines: [[{ text: mark.name }]], places: isCrowd ? places.slice(0, NEAR_PLACES) : places });
  }
  for (const thing of things.surfaces) {
    if (thing.surface.kind !== 'top') continue;
    const ring = thing.rings[0]!;
    const middle: [number, number] = [0, 0];
    for (let i = 0; i < ring.length; i += 2) {
      middle[0] += (2 * ring[i]!) / ring.length;
      middle[1] += (2 * ring[i + 1]!) / ring.length;
    }
    const [x, y] = toScreen(context, worldFromLocal(thing.frame, middle));
    placer.place({
      lines: [[{ text: thing.surface.name }]],
      places: [{ x, y, anchor: 'centre' }, ...placesRound(x, y, 20)],
    });
  }
}

// --- dimensions and handles -----------------------------------------------------------------------------------

/** Size of the room below and at its right, and how far the lamp in hand stands from the wall it shines through. */
export function drawPlanDimensions(
  context: SheetContext,
  sketch: Sketch,
  placer: LabelPlacer,
  walls: readonly CutWall[],
): void {
  drawRoomSize(context, sketch, placer, walls);
  drawStandOff(context, sketch, placer);
}

function drawRoomSize(context: SheetContext, sketch: Sketch, placer: LabelPlacer, walls: readonly CutWall[]): void {
  const { things, state } = context;
  const shown = things.surfaces.find((thing) => thing.id === state.surfaceId);
  const inner = walls.find((wall) => wall.surfaceId === shown?.id)?.inner;
  const floors = things.surfaces.filter((thing) => thing.surface.kind === 'floor');
  const middle: Vec3 | null = inner ? [(inner[0]! + inner[2]!) / 2, (inner[1]! + inner[3]!) / 2, 0] : null;
  const floor = middle ? nearestFloor(floors, middle) : floors[0];
  if (!floor) return;
  const ring = floor.rings[0]!;
  const points: (readonly [number, number])[] = [];
  for (let i = 0; i < ring.length; i += 2) {
    points.push(toScreen(context, worldFromLocal(floor.frame, [ring[i]!, ring[i + 1]!])));
  }
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const thickPx =
    Math.max(0, ...things.surfaces.map((thing) => (thing.isUpright ? thing.thicknessM : 0))) *
    context.camera.pixelsPerMetre;
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const { units } = state;
  const metres = (px: number): string => formatLength(px / context.camera.pixelsPerMetre, units);
  const { widthPx, heightPx } = context.camera;
  if (bottom + thickPx + 30 < heightPx)
    drawDimension(context, sketch, placer, metres(right - left), (labelPx) =>
      levelDimension(left, right, bottom + thickPx + 22, bottom + thickPx, labelPx),
    );
  if (right + thickPx + 30 < widthPx)
    drawDimension(context, sketch, placer, metres(bottom - top), (labelPx) =>
      uprightDimension(top, bottom, right + thickPx + 22, right + thickPx, labelPx),
    );
}

function nearestFloor(floors: readonly SurfaceThing[], point: Vec3): SurfaceThing | undefined {
  const gap = (thing: SurfaceThing): number => {
    const ring = thing.rings[0]!;
    const { right, up } = localFromWorld(thing.frame, point);
    let nearest = Infinity;
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      nearest = Math.min(
        nearest,
        Math.hypot((ring[i]! + ring[j]!) / 2 - right, (ring[i + 1]! + ring[j + 1]!) / 2 - up),
      );
    }
    return nearest;
  };
  return [...floors].sort((a, b) => gap(a) - gap(b))[0];
}

/** Distance of the lamp in hand to the outer face of the wall whose opening its axis passes, square to that wall. */
function drawStandOff(context: SheetContext, sketch: Sketch, placer: LabelPlacer): void {
  const { state, things } = context;
  const lamp =
    things.lamps.find((one) => isSame(state.selection, 'source', one.id)) ??
    things.lamps.find((one) => one.id === state.sourceId);
  if (!lamp) return;
  const from = lamp.lamp.pose.positionM;
  const wall = things.surfaces.find(
    (thing) =>
      thing.isUpright &&
      thing.openings.length > 0 &&
      dot(lamp.frame.forward, thing.frame.forward) > 0.2 &&
      localFromWorld(thing.frame, from).above < -thing.thicknessM,
  );
  if (!wall) return;
  const distanceM = -localFromWorld(wall.frame, from).above - wall.thicknessM;
  const [fx, fy] = wall.frame.forward;
  const [x0, y0] = toScreen(context, from);
  const foot: Vec3 = [from[0] + fx * distanceM, from[1] + fy * distanceM, from[2]];
  const [x1, y1] = toScreen(context, foot);
  const text = formatLength(distanceM, state.units);
  // The scale bar keeps the foot of the sheet.
  if (y0 + 88 > context.camera.heightPx - 48) return;
  if (Math.abs(fy) < 0.02) {
    drawDimension(context, sketch, placer, `${text} to wall line`, (labelPx) =>
      levelDimension(x0, x1, y0 + 88, y0 + 68, labelPx),
    );
  } else if (Math.abs(fx) < 0.02) {
    drawDimension(context, sketch, placer, `${text} to wall line`, (labelPx) =>
      uprightDimension(y0, y1, x0 - 60, x0 - 14, labelPx),
    );
  }
}

/** Rings and handles of the thing in hand, and a thinner ring round the one under the pointer. */
export function drawHandles(
  context: SheetContext,
  sketch: Sketch,
  targets: HitTarget[],
  figures: ReadonlyMap<string, BeamFigure>,
): void {
  const { state, things } = context;
  for (const lamp of things.lamps) {
    const at = toScreen(context, lamp.lamp.pose.positionM);
    const radius = Math.min(40, lampSymbolPx(context, lamp) / 2 + 5);
    const object = { kind: 'source' as const, id: lamp.id };
    if (isSame(state.selection, 'source', lamp.id)) {
      const figure = figures.get(lamp.id);
      if (figure) drawAimHandle(sketch, targets, object, toScreen(context, aimPoint(lamp, figure.axis)));
      drawTurnHandle(
        sketch,
        targets,
        object,
        at,
        screenTurn(context, lamp.lamp.pose.positionM, lamp.frame.forward),
        radius,
      );
    } else if (isSame(state.hover, 'source', lamp.id)) {
      sketch.circle(at[0], at[1], radius, { role: 'accent', widthPx: 1.25, cased: true, alpha: 0.8 });
    }
  }
  for (const thing of things.modifiers) {
    if (!isSame(state.selection, 'modifier', thing.id)) continue;
    const at = toScreen(context, thing.frame.origin);
    drawTurnHandle(
      sketch,
      targets,
      { kind: 'modifier', id: thing.id },
      at,
      screenTurn(context, thing.frame.origin, thing.frame.forward),
      8,
    );
  }
  const view = things.camera;
  if (view && state.selection?.kind === 'camera') {
    const at = toScreen(context, view.frame.origin);
    drawTurnHandle(
      sketch,
      targets,
      state.selection,
      at,
      screenTurn(context, view.frame.origin, view.frame.forward),
      17,
    );
  }
  for (const sun of sunPlaces(context)) {
    if (context.projection.kind !== 'plan' || !sun.id || !isSame(state.selection, 'source', sun.id)) continue;
    sketch.circle(sun.x, sun.y, 17, { role: 'accent', widthPx: 2, cased: true });
  }
}
