/** The judgement on the elevation: lit patch, contours, hot and cold end, shadow lines, edge, step, and the sun's patch. */
import type { Point2 } from '../scene/schema';
import type { SunCheck, SunCheckDrawing } from '../sim/results';
import { contourLayer, mapContours } from './drawContours';
import { levelContours, stopContours, type ContourLine } from './contours';
import { localToScreen, type MapPicture } from './drawMap';
import { DASH, WEIGHT } from './drawThings';
import { formatDegrees, formatFineLength, formatLevel, formatThirds, unitLx } from './format';
import { splitByRings, type Path } from './geometry2d';
import type { Box } from './labelGrid';
import type { LabelPlace, LabelPlacer } from './labels';
import { litOutlines } from './patchOutline';
import { shapesLayer, type Layer, type SheetContext } from './picture';
import type { SurfaceThing } from './sceneThings';
import { Sketch } from './sketch';
import { ON_MAP_INKS } from './tokens';

/** Shadow lines run on past the patch, so that the fan is seen against the bare wall. */
const FAN_RUN_M = 1.1;

interface DrawnCheck {
  readonly check: SunCheck;
  readonly drawing: SunCheckDrawing;
}

const drawn = (checks: readonly SunCheck[], surfaceId: string, sourceId: string | null): DrawnCheck | null => {
  const here = checks.filter((check) => check.surfaceId === surfaceId && check.drawing !== null);
  const check = here.find((one) => one.sourceId === sourceId) ?? here[0];
  return check?.drawing ? { check, drawing: check.drawing } : null;
};

/** The judgement drawn on a surface: the lamp in hand's, else the first. */
export const judgedCheck = (context: SheetContext, thing: SurfaceThing): DrawnCheck | null =>
  drawn(context.state.checks, thing.id, context.state.sourceId);

const twinCheck = (context: SheetContext, thing: SurfaceThing): DrawnCheck | null =>
  context.state.showTwin ? drawn(context.state.twinChecks, thing.id, null) : null;

interface Span {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}
function spanOf(drawing: SunCheckDrawing, name: string): Span | null {
  const rights = litOutlines(drawing).flatMap((ring) => ring.filter((_, i) => i % 2 === 0));
  return rights.length === 0 ? null : { name, from: Math.min(...rights), to: Math.max(...rights) };
}

/** Width of the lamp's lit patch. */
export function patchSpan(context: SheetContext, thing: SurfaceThing): Span | null {
  const judged = judgedCheck(context, thing);
  return judged ? spanOf(judged.drawing, isSun(context, judged) ? 'sun patch' : 'lamp patch') : null;
}
const isSun = (context: SheetContext, { check }: DrawnCheck): boolean =>
  context.things.suns.some((sun) => sun.id === check.sourceId);

/** Width of the twin's patch, while the twin is shown. */
export function twinSpan(context: SheetContext, thing: SurfaceThing): Span | null {
  const twin = twinCheck(context, thing);
  return twin ? spanOf(twin.drawing, 'sun patch') : null;
}

/**
 * Contours of the elevation. Where the surface is judged: of the open light, inside the lit patch alone, since across a
 * shadow edge they would bunch into a bar. Elsewhere: of the map, over the whole surface.
 */
export function elevationContours(
  context: SheetContext,
  thing: SurfaceThing,
  map: MapPicture | null,
): { layer: Layer; lines: readonly ContourLine[] } | null {
  const { state, memo } = context;
  const judged = judgedCheck(context, thing);
  const rings = map?.rings ?? null;
  if (judged && state.quantity !== 'lampOverSun') {
    const { grid } = judged.drawing;
    const level = levelOf(context, judged.check.sourceId);
    const stops = state.quantity === 'stopsOff';
    const perUnit = unitLx(state.units);
    const values = memo.get('openValues', [grid, level, stops, state.referenceLx, perUnit], () =>
      grid.openLx.map((lux) => (stops ? Math.log2((lux * level) / state.referenceLx) : (lux * level) / perUnit)),
    );
    const [least, most] = memo.get('openRange', [values, grid], () => rangeWithin(values, grid.lit));
    const levels = stops ? stopContours(least, most) : levelContours(least, most);
    return contourLayer(context, thing, {
      values,
      place: grid,
      levels,
      keep: grid.lit,
      scale: stops ? 'linear' : 'log',
      rings,
    });
  }
  return map ? mapContours(context, map) : null;
}

function levelOf(context: SheetContext, sourceId: string): number {
  const setup = context.state.document.setups.find((one) => one.id === context.state.setupId);
  const source = setup?.sources[sourceId];
  return source && source.off !== true ? (source.level ?? 1) : 1;
}

function rangeWithin(values: Float32Array, lit: Uint8Array): readonly [number, number] {
  let [least, most] = [Infinity, -Infinity];
  for (let i = 0; i < values.length; i++) {
    if (lit[i] !== 1 || !Number.isFinite(values[i]!)) continue;
    least = Math.min(least, values[i]!);
    most = Math.max(most, values[i]!);
  }
  return [least, most];
}

// --- shapes ---------------------------------------------------------------------------------------------------

/** Patch outline, shadow lines, step, shadow edge and end markers of the judged lamp, and the sun's patch over them. */
export function patchLayer(context: SheetContext, thing: SurfaceThing, rings: readonly Path[] | null): Layer {
  const judged = judgedCheck(context, thing);
  const twin = twinCheck(context, thing);
  const { camera, projection, inks, memo, state } = context;
  return memo.get(
    'patch',
    [camera, projection, inks, rings, judged?.drawing, twin?.drawing, thing, state.checksOutOfDate],
    () => {
      const sketch = new Sketch(inks, rings ? 'everywhere' : null, state.checksOutOfDate ? 0.55 : 1);
      const screen = (path: Path): number[] => localToScreen(context, thing, path);
      if (judged) {
        sketch.line(fanLines(judged.drawing, thing).map(screen), { role: 'lamp', widthPx: 1.25, dash: DASH.fan });
        const outline = litOutlines(judged.drawing).map(screen);
        sketch.line(outline, { role: 'ink1', widthPx: WEIGHT.patch, closed: true });
        if (!context.isSmall) {
          drawStep(sketch, judged.drawing, screen);
          drawEdge(sketch, judged.drawing, screen);
          drawEnds(sketch, judged.drawing, screen);
        }
      }
      if (twin)
        sketch.line(litOutlines(twin.drawing).map(screen), {
          role: 'sun',
          widthPx: WEIGHT.seen,
          dash: DASH.sun,
          closed: true,
        });
      return shapesLayer('patch', sketch.shapes);
    },
  );
}

/** Both edges of a bar throw a line: of lines that run together one is enough to show the fan. */
const LINES_APART_M = 0.22;

function toldLines(drawing: SunCheckDrawing): SunCheckDrawing['shadowLines'][number][] {
  const told: SunCheckDrawing['shadowLines'][number][] = [];
  const gap = (a: Point2, b: Point2): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
  const size = (line: { aM: Point2; bM: Point2 }): number => gap(line.aM, line.bM);
  for (const line of [...drawing.shadowLines].sort((a, b) => size(b) - size(a))) {
    const isNear = told.some((other) => {
      const path = [...other.aM, ...other.bM];
      const ends = [line.aM, line.bM].map(([x, y]) => distanceToLine(path, x, y));
      return Math.max(...ends) < LINES_APART_M;
    });
    if (!isNear) told.push(line);
  }
  return told;
}

function distanceToLine([ax, ay, bx, by]: Path, x: number, y: number): number {
  const [dx, dy] = [bx! - ax!, by! - ay!];
  return Math.abs(dx * (y - ay!) - dy * (x - ax!)) / Math.max(1e-9, Math.hypot(dx, dy));
}

export function fanLines(drawing: SunCheckDrawing, thing: SurfaceThing): Path[] {
  return toldLines(drawing).flatMap(({ aM, bM }) => {
    const size = Math.hypot(bM[0] - aM[0], bM[1] - aM[1]);
    if (size === 0) return [];
    const [ux, uy] = [((bM[0] - aM[0]) / size) * FAN_RUN_M, ((bM[1] - aM[1]) / size) * FAN_RUN_M];
    return splitByRings([aM[0] - ux, aM[1] - uy, bM[0] + ux, bM[1] + uy], thing.rings).inside;
  });
}

/** A step that would be told as 0.0 stop is nothing to point at. */
const LEAST_STEP_STOPS = 0.05;
type Step = SunCheckDrawing['step'];
const isStepSeen = (step: Step): step is NonNullable<Step> => step !== null && Math.abs(step.stops) >= LEAST_STEP_STOPS;

function drawStep(sketch: Sketch, drawing: SunCheckDrawing, screen: (path: Path) => number[]): void {
  if (!isStepSeen(drawing.step)) return;
  const { aM, bM } = drawing.step;
  const [ax, ay, bx, by] = screen([...aM, ...bM]) as [number, number, number, number];
  const size = Math.max(1, Math.hypot(bx - ax, by - ay));
  const [nx, ny] = [(-(by - ay) / size) * 5, ((bx - ax) / size) * 5];
  const ends: Path[] = [
    [ax - nx, ay - ny, ax + nx, ay + ny],
    [bx - nx, by - ny, bx + nx, by + ny],
  ];
  sketch.line([[ax, ay, bx, by], ...ends], { role: 'caution', widthPx: 2 });
}

/** The edge that is farthest from the sun's: the one to talk about. */
function toldEdge(drawing: SunCheckDrawing): SunCheckDrawing['edges'][number] | null {
  const far = (ratio: number): number => Math.abs(Math.log(ratio));
  return [...drawing.edges].filter((edge) => edge.ratio > 0).sort((a, b) => far(b.ratio) - far(a.ratio))[0] ?? null;
}

const EDGE_BAR_PX = 10;

/** Two short bars where the edge has 10 and 90 % of its light. */
function drawEdge(sketch: Sketch, drawing: SunCheckDrawing, screen: (path: Path) => number[]): void {
  const edge = toldEdge(drawing);
  if (!edge) return;
  const ends = ([-0.5, 0.5] as const).map((share): Point2 => [
    edge.atM[0] + edge.acrossM[0] * edge.widthM * share,
    edge.atM[1] + edge.acrossM[1] * edge.widthM * share,
  ]);
  const [ax, ay, bx, by] = screen(ends.flat()) as [number, number, number, number];
  const size = Math.max(1e-6, Math.hypot(bx - ax, by - ay));
  const [nx, ny] = [(-(by - ay) / size) * EDGE_BAR_PX, ((bx - ax) / size) * EDGE_BAR_PX];
  // At least 5 px apart, so that two bars are seen.
  const spread = Math.max(0, 5 - size) / 2;
  const [sx, sy] = [((bx - ax) / size) * spread, ((by - ay) / size) * spread];
  const bars: Path[] = [
    [ax - sx - nx, ay - sy - ny, ax - sx + nx, ay - sy + ny],
    [bx + sx - nx, by + sy - ny, bx + sx + nx, by + sy + ny],
  ];
  sketch.line(bars, { role: 'accent', widthPx: 2 });
}

/** Hot end: white dot, dark rim. Cold end: dark dot, white rim. */
function drawEnds(sketch: Sketch, drawing: SunCheckDrawing, screen: (path: Path) => number[]): void {
  const { ink1 } = ON_MAP_INKS;
  const dark = 0x0a0b0d;
  const [hx, hy, cx, cy] = screen([...drawing.hot.atM, ...drawing.cold.atM]) as [number, number, number, number];
  sketch.disc(hx, hy, 7, dark).disc(hx, hy, 5, ink1);
  sketch.disc(cx, cy, 7, ink1).disc(cx, cy, 5, dark);
}

// --- lettering ------------------------------------------------------------------------------------------------

/** Flags of the hot and cold end, callouts of edge and step, the fan, and the key of the twin. */
export function drawPatchLabels(
  context: SheetContext,
  thing: SurfaceThing,
  sketch: Sketch,
  placer: LabelPlacer,
  box: Box,
): void {
  const judged = judgedCheck(context, thing);
  if (!judged) return;
  const { drawing, check } = judged;
  const screen = (path: Path): number[] => localToScreen(context, thing, path);
  const dots = screen([...drawing.hot.atM, ...drawing.cold.atM]) as [number, number, number, number];
  for (const [x, y] of [dots.slice(0, 2), dots.slice(2)] as [number, number][]) {
    placer.block({ left: x - 8, top: y - 8, right: x + 8, bottom: y + 8 });
  }
  placer.avoid(
    litOutlines(drawing)
      .map(screen)
      .map((ring) => [...ring, ring[0]!, ring[1]!]),
  );
  placer.avoid(fanLines(drawing, thing).map(screen));
  drawKey(context, sketch, placer, box, check.lineFanDeg ?? check.fanDeg, check.lineFanDeg !== null);
  flag(context, placer, 'Hot end', drawing.hot.illuminanceLx, dots[0], dots[1]);
  flag(context, placer, 'Cold end', drawing.cold.illuminanceLx, dots[2], dots[3]);
  labelEdge(context, placer, drawing, screen);
  if (isStepSeen(drawing.step)) {
    const { aM, bM, stops } = drawing.step;
    const [ax, ay, bx, by] = screen([...aM, ...bM]) as [number, number, number, number];
    const places = calloutPlaces((ax + bx) / 2, (ay + by) / 2);
    const text = `Step ${Math.abs(stops).toFixed(1)} stop`;
    placer.place({ lines: [[{ text, bold: true }]], places, leaderTo: { x: (ax + bx) / 2, y: (ay + by) / 2 } });
  }
}

function flag(
  context: SheetContext,
  placer: LabelPlacer,
  name: string,
  illuminanceLx: number,
  x: number,
  y: number,
): void {
  const { referenceLx, units } = context.state;
  const stops = illuminanceLx > 0 ? `, ${formatThirds(Math.log2(illuminanceLx / referenceLx))}` : '';
  const text = `${name} ${formatLevel(illuminanceLx, units)}${stops}`;
  placer.place({ lines: [[{ text, bold: true }]], places: calloutPlaces(x, y), leaderTo: { x, y } });
}

/** Places beside a marker, then farther out with a leader. */
function calloutPlaces(x: number, y: number): LabelPlace[] {
  return [13, 30, 54, 80].flatMap((gap): LabelPlace[] => [
    { x: x + gap * 0.7, y: y - gap * 0.7, anchor: 'aboveLeft' },
    { x, y: y - gap, anchor: 'above' },
    { x: x - gap * 0.7, y: y - gap * 0.7, anchor: 'aboveRight' },
    { x: x + gap, y, anchor: 'left' },
    { x: x + gap * 0.7, y: y + gap * 0.7, anchor: 'belowLeft' },
    { x, y: y + gap, anchor: 'below' },
    { x: x - gap * 0.7, y: y + gap * 0.7, anchor: 'belowRight' },
    { x: x - gap, y, anchor: 'right' },
  ]);
}

function labelEdge(
  context: SheetContext,
  placer: LabelPlacer,
  drawing: SunCheckDrawing,
  screen: (path: Path) => number[],
): void {
  const edge = toldEdge(drawing);
  if (!edge) return;
  const { units } = context.state;
  const [x, y] = screen(edge.atM) as [number, number];
  placer.block({ left: x - 9, top: y - 9, right: x + 9, bottom: y + 9 });
  placer.place({
    lines: [
      [{ text: `Shadow edge ${formatFineLength(edge.widthM, units)}`, bold: true }],
      [{ text: `sun ${formatFineLength(edge.sunWidthM, units)}` }],
    ],
    places: [
      { x: x - 22, y: y - 14, anchor: 'aboveRight' },
      { x: x + 22, y: y - 14, anchor: 'aboveLeft' },
      { x: x - 52, y: y - 30, anchor: 'aboveRight' },
      { x: x + 52, y: y - 30, anchor: 'aboveLeft' },
      ...calloutPlaces(x, y),
    ],
    leaderTo: { x, y },
    leaderFromPx: 8,
  });
}

/** Key inside the surface, in whichever corner the patch leaves free: the fan, and the twin's line when it is shown. */
function drawKey(
  context: SheetContext,
  sketch: Sketch,
  placer: LabelPlacer,
  box: Box,
  fanDeg: number | null,
  fromLines: boolean,
): void {
  const twin = context.state.showTwin && context.state.twinChecks.some((check) => check.drawing !== null);
  const fan =
    fanDeg === null
      ? null
      : fromLines
        ? `Fan of shadow lines ${formatDegrees(fanDeg)}`
        : `Fan ${formatDegrees(fanDeg)}`;
  const rows = [...(fan ? [fan] : []), ...(twin ? [`${KEY_INDENT}sun twin, parallel`] : [])];
  if (rows.length === 0) return;
  const { widthPx, heightPx } = context.camera;
  const [left, right] = [Math.max(4, box.left) + 9, Math.min(widthPx - 4, box.right) - 9];
  const [top, bottom] = [Math.max(4, box.top) + 6, Math.min(heightPx - 4, box.bottom) - 6];
  const placed = placer.place({
    lines: rows.map((text) => [{ text, role: 'ink1' }]),
    places: [
      { x: left, y: top, anchor: 'belowLeft' },
      { x: right, y: top, anchor: 'belowRight' },
      { x: right, y: bottom, anchor: 'aboveRight' },
      { x: left, y: bottom, anchor: 'aboveLeft' },
    ],
    align: 'left',
  });
  if (!placed || !twin) return;
  const y = placed.bottom - 7.5;
  sketch.line([[placed.left, y, placed.left + 24, y]], { role: 'sun', widthPx: 1.25, dash: DASH.sun });
}
const KEY_INDENT = '\u2003\u2003\u2002';
