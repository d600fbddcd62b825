/** Heights, distances and lettering of the section. */
import { METRES_PER_FOOT } from '../scene/units/convert';
import { toDegrees } from '../scene/geometry/frames';
import type { BeamFigure } from './beamGeometry';
import { drawDimension, levelDimension, uprightDimension } from './drawSheet';
import { aimPoint, isSame } from './drawThings';
import { formatDegrees, formatLength } from './format';
import type { LabelPlace, LabelPlacer } from './labels';
import { pathToScreen, toScreen, type SheetContext } from './picture';
import { gripTag, placesRound } from './planLabels';
import { depthOf, sheetFromWorld } from './projections';
import type { LampThing } from './sceneThings';
import { crisp, type Sketch } from './sketch';
import type { CutWall } from './wallGeometry';

export interface SectionParts {
  /** The lamp that the section is cut through; null when it is cut along the sun. */
  readonly subject: { readonly lamp: LampThing; readonly figure: BeamFigure } | null;
  readonly walls: readonly CutWall[];
  readonly groundV: number;
  readonly sketch: Sketch;
  readonly placer: LabelPlacer;
}

const SLICE_LABEL_M = 0.6;
const METER_SLICE_M = 0.15;

export function drawSectionLabels(context: SheetContext, parts: SectionParts): void {
  const { subject } = parts;
  if (context.isSmall) {
    if (subject) labelShort(context, parts, subject.lamp);
    return;
  }
  drawHeights(context, parts);
  drawWindowHeights(context, parts);
  if (subject) {
    drawFootDimensions(context, parts, subject);
    drawTrim(context, parts, subject.lamp);
    labelLamp(context, parts, subject.lamp);
    labelAim(context, parts, subject);
  } else {
    labelSun(context, parts);
  }
  labelSlice(context, parts);
}

function labelShort(context: SheetContext, { placer }: SectionParts, lamp: LampThing): void {
  const [x, y] = toScreen(context, lamp.lamp.pose.positionM);
  placer.place({ lines: [[{ text: lamp.lamp.name.slice(0, 16), bold: true }]], places: placesRound(x, y, 20) });
}

/** The sun's altitude beside its upper ray, in a section without a lamp. */
function labelSun(context: SheetContext, { walls, placer }: SectionParts): void {
  const sun = context.things.storySun;
  const glass = firstWindow(walls, -Infinity, Infinity);
  if (!sun || !glass) return;
  const [x, y] = pathToScreen(context.camera, [glass.outerU - 0.9, glass.headV]) as [number, number];
  placer.place({
    lines: [[{ text: `Sun ${formatDegrees(sun.altitudeDeg)} up`, bold: true }]],
    places: placesRound(x, y, 10),
  });
}

/** Heights from the ground at the left edge, whole metres (or every few feet). */
function drawHeights(context: SheetContext, { groundV, sketch, placer }: SectionParts): void {
  const { camera, state } = context;
  const metres = state.units.length === 'metres';
  const unit = metres ? 1 : METRES_PER_FOOT;
  const step = unit * ([1, 2, 5, 10].find((size) => size * unit * camera.pixelsPerMetre >= 24) ?? 20);
  for (let k = 0; k < 40; k++) {
    const [, y] = pathToScreen(camera, [0, groundV + k * step]) as [number, number];
    if (y < 16) break;
    sketch.line([[38, crisp(y), 44, crisp(y)]], { role: 'ink3', widthPx: 1 });
    const [, next] = pathToScreen(camera, [0, groundV + (k + 1) * step]) as [number, number];
    const value = Number(((k * step) / unit).toFixed(0));
    const text = next < 16 ? `${value} ${metres ? 'm' : 'ft'}` : String(value);
    placer.place({ lines: [[{ text }]], places: [{ x: 34, y, anchor: 'right' }], clearPx: 0 });
  }
}

/** From the lamp to the glass, and from the glass to the wall that the axis meets. */
function drawFootDimensions(
  context: SheetContext,
  { walls, groundV, sketch, placer }: SectionParts,
  { lamp, figure }: NonNullable<SectionParts['subject']>,
): void {
  const { camera, projection, state } = context;
  const from = sheetFromWorld(projection, lamp.lamp.pose.positionM).u;
  const to = sheetFromWorld(projection, figure.axis.atM).u;
  const glass = firstWindow(walls, from, to);
  const lowest = Math.min(
    groundV,
    ...walls.flatMap((wall) => wall.pieces.flatMap((piece) => piece.filter((_, i) => i % 2 === 1))),
  );
  const [x0, y] = pathToScreen(camera, [from, Math.max(lowest, groundV - 0.6)]) as [number, number];
  const xAt = (u: number): number => pathToScreen(camera, [u, 0])[0]!;
  const spans: [number, number, string][] = glass
    ? [
        [from, glass.u, 'lamp to glass'],
        [glass.u, to, figure.axis.surfaceId ? 'glass to wall' : 'past the glass'],
      ]
    : [[from, to, 'throw']];
  for (const [a, b, words] of spans) {
    if (b - a < 0.05) continue;
    const length = formatLength(b - a, state.units);
    const full = `${length} ${words}`;
    const room = Math.abs(xAt(b) - xAt(a)) > context.measure(full, 12, 400) + 14;
    drawDimension(context, sketch, placer, room ? full : length, (labelPx) =>
      levelDimension(a === from ? x0 : xAt(a), xAt(b), y + 24, y + 4, labelPx),
    );
  }
}

interface CutGlass {
  readonly u: number;
  readonly sillV: number;
  readonly headV: number;
  readonly outerU: number;
}

/** The first window that the cut passes between two distances. */
function firstWindow(walls: readonly CutWall[], fromU: number, toU: number): CutGlass | null {
  const found = walls.flatMap((wall) =>
    wall.windows.flatMap((window): CutGlass[] => {
      const line = window.glazing ?? window.faces[0];
      if (!line) return [];
      const u = (line[0]! + line[2]!) / 2;
      const outerU = Math.min(u, ...window.faces.map((face) => face[0]!));
      return u > fromU && u < toU
        ? [{ u, outerU, sillV: Math.min(line[1]!, line[3]!), headV: Math.max(line[1]!, line[3]!) }]
        : [];
    }),
  );
  return found.sort((a, b) => a.u - b.u)[0] ?? null;
}

/** Sill and height of the window that the beam passes, on the lamp's side of its wall. */
function drawWindowHeights(context: SheetContext, { subject, walls, groundV, sketch, placer }: SectionParts): void {
  const { camera, projection, state } = context;
  const from = subject ? sheetFromWorld(projection, subject.lamp.lamp.pose.positionM).u : -Infinity;
  const to = subject ? sheetFromWorld(projection, subject.figure.axis.atM).u : Infinity;
  const glass = firstWindow(walls, from, to);
  if (!glass) return;
  const outer = pathToScreen(camera, [glass.outerU, 0])[0]!;
  const yAt = (v: number): number => pathToScreen(camera, [0, v])[1]!;
  for (const [low, high] of [
    [groundV, glass.sillV],
    [glass.sillV, glass.headV],
  ] as const) {
    drawDimension(context, sketch, placer, formatLength(high - low, state.units), (labelPx) =>
      uprightDimension(yAt(high), yAt(low), outer - 20, outer - 2, labelPx),
    );
  }
}

function drawTrim(context: SheetContext, { groundV, sketch, placer }: SectionParts, lamp: LampThing): void {
  const { u, v } = sheetFromWorld(context.projection, lamp.lamp.pose.positionM);
  const [x, top] = pathToScreen(context.camera, [u, v]) as [number, number];
  const [, bottom] = pathToScreen(context.camera, [u, groundV]) as [number, number];
  // Left of the stand's legs and of the turn handle.
  const at = Math.max(56, x - 0.45 * context.camera.pixelsPerMetre - 14);
  const text = `trim ${formatLength(v - groundV, context.state.units)}`;
  drawDimension(context, sketch, placer, text, (labelPx) => uprightDimension(top, bottom, at, x - 4, labelPx));
}

/** Lamp's name with the height its light arrives at beside the story's sun. */
function labelLamp(context: SheetContext, { placer }: SectionParts, lamp: LampThing): void {
  const { state, things } = context;
  const [x, y] = toScreen(context, lamp.lamp.pose.positionM);
  const check = state.checks.find((one) => one.sourceId === lamp.id && one.drawing !== null);
  const arrivalDeg = check?.drawing ? toDegrees(Math.asin(check.drawing.arrival[2])) : null;
  const words = arrivalDeg === null ? `tilt ${formatDegrees(lamp.tiltDeg)}` : `arrives at ${formatDegrees(arrivalDeg)}`;
  const story = things.storySun ? `, story sun ${formatDegrees(things.storySun.altitudeDeg)}` : '';
  placer.place({
    lines: [[{ text: `${lamp.lamp.name}  `, bold: true }, { text: `${words}${story}` }]],
    places: [
      { x: x + 6, y: y - 22, anchor: 'aboveLeft' },
      { x: x + 6, y: y - 44, anchor: 'aboveLeft' },
      ...placesRound(x, y, 24),
    ],
  });
}

function labelAim(
  context: SheetContext,
  { groundV, placer }: SectionParts,
  { lamp, figure }: NonNullable<SectionParts['subject']>,
): void {
  const at = isSame(context.state.selection, 'source', lamp.id) ? aimPoint(lamp, figure.axis) : figure.axis.atM;
  const [x, y] = toScreen(context, at);
  const text = `aim ${formatLength(at[2] - groundV, context.state.units)}`;
  placer.place({
    lines: [[{ text, role: 'ink1' }]],
    places: [
      { x: x - 13, y: y + 10, anchor: 'belowRight' },
      { x: x - 13, y: y - 10, anchor: 'aboveRight' },
      ...[16, 26, 38, 54].flatMap((out): LabelPlace[] => [
        { x: x + out, y: y - 8, anchor: 'aboveLeft' },
        { x: x + out, y: y + 16, anchor: 'belowLeft' },
      ]),
    ],
  });
}

function labelSlice(context: SheetContext, { placer }: SectionParts): void {
  const { things, projection } = context;
  for (const thing of things.modifiers) {
    if (Math.abs(depthOf(projection, thing.frame.origin)) > 2 * SLICE_LABEL_M) continue;
    const [x, y] = toScreen(context, thing.frame.origin);
    const half = spanV(context, thing.corners) / 2;
    placer.place({ lines: gripTag(thing), places: placesRound(x, y, half + 8), leaderTo: { x, y: y - half } });
  }
  for (const { meter } of things.meters) {
    if (Math.abs(depthOf(projection, meter.positionM)) > METER_SLICE_M) continue;
    const [x, y] = toScreen(context, meter.positionM);
    placer.place({ lines: [[{ text: meter.name, role: 'meter' }]], places: placesRound(x, y, 7).slice(0, 10) });
  }
}

function spanV(context: SheetContext, corners: readonly (readonly [number, number, number])[]): number {
  const ys = corners.map((corner) => toScreen(context, corner)[1]);
  return Math.max(...ys) - Math.min(...ys);
}
