/** The figure that is being explained, marked on the elevation where it arises. */
import { directionToSun } from '../scene/geometry/frames';
import { dot } from '../scene/geometry/vector';
import type { SunCheckDrawing, SunFigure } from '../sim/results';
import { fanLines, judgedCheck } from './drawPatch';
import { litOutlines } from './patchOutline';
import { localToScreen } from './drawMap';
import { DASH } from './drawThings';
import type { Path } from './geometry2d';
import type { SheetContext } from './picture';
import type { SurfaceThing } from './sceneThings';
import type { Sketch } from './sketch';

const MARK = { role: 'accent', widthPx: 2, cased: true } as const;
const END_RING_PX = 11;
/** Length of the arrows of arrival on the surface, m. */
const ARRIVAL_M = 0.9;

/** Marks the chosen figure; nothing where none is chosen or the surface is not judged. */
export function drawFigureMark(context: SheetContext, thing: SurfaceThing, sketch: Sketch): void {
  const { figure } = context.state;
  const judged = judgedCheck(context, thing);
  if (figure === null || !judged || judged.check[figure] === null) return;
  const screen = (path: Path): number[] => localToScreen(context, thing, path);
  MARKS[figure]?.(sketch, judged.drawing, screen, thing, context);
}

type Mark = (
  sketch: Sketch,
  drawing: SunCheckDrawing,
  screen: (path: Path) => number[],
  thing: SurfaceThing,
  context: SheetContext,
) => void;

const wholePatch: Mark = (sketch, drawing, screen) => {
  sketch.line(litOutlines(drawing).map(screen), { ...MARK, closed: true });
};
const hotToCold: Mark = (sketch, { hot, cold }, screen) => {
  const [hx, hy, cx, cy] = screen([...hot.atM, ...cold.atM]) as [number, number, number, number];
  const size = Math.hypot(cx - hx, cy - hy);
  if (size > 2 * END_RING_PX) {
    const [ux, uy] = [((cx - hx) / size) * END_RING_PX, ((cy - hy) / size) * END_RING_PX];
    sketch.line([[hx + ux, hy + uy, cx - ux, cy - uy]], MARK);
  }
  sketch.circle(hx, hy, END_RING_PX, MARK).circle(cx, cy, END_RING_PX, MARK);
};
const shadowLines: Mark = (sketch, drawing, screen, thing) => {
  sketch.line(fanLines(drawing, thing).map(screen), MARK);
};
/** Each scored edge from a tenth to nine tenths of its light, at least some pixels long. */
const edges: Mark = (sketch, drawing, screen) => {
  const bars = drawing.edges.map(({ atM, acrossM, widthM }): number[] => {
    const half = Math.max(widthM, 0.02) / 2;
    return screen([
      atM[0] - acrossM[0] * half,
      atM[1] - acrossM[1] * half,
      atM[0] + acrossM[0] * half,
      atM[1] + acrossM[1] * half,
    ]);
  });
  sketch.line(bars, MARK);
};
const step: Mark = (sketch, drawing, screen) => {
  if (drawing.step) sketch.line([screen([...drawing.step.aM, ...drawing.step.bM])], { ...MARK, widthPx: 4 });
};
/** The light's way across the surface through the middle of the patch, and the story sun's. */
const arrivals: Mark = (sketch, drawing, screen, thing, { state }) => {
  const [x, y] = drawing.centroidM;
  const towards = (direction: readonly [number, number, number]): number[] => {
    const [right, up] = [dot(direction, thing.frame.right), dot(direction, thing.frame.up)];
    const size = Math.max(1e-6, Math.hypot(right, up));
    return screen([x, y, x + (right / size) * ARRIVAL_M, y + (up / size) * ARRIVAL_M]);
  };
  const sun = state.document.story?.sun;
  if (sun) {
    const direction = directionToSun(sun.altitudeDeg, sun.azimuthDeg, state.document.northDeg ?? 0);
    sketch.line([towards(direction)], { role: 'sun', widthPx: 2, dash: DASH.sun, cased: true });
  }
  sketch.line([towards(drawing.arrival)], { role: 'lamp', widthPx: 2, cased: true });
  const [cx, cy] = screen([x, y]) as [number, number];
  sketch.circle(cx, cy, 5, MARK);
};

const MARKS: Partial<Record<SunFigure, Mark>> = {
  falloffStops: hotToCold,
  apparentDistanceM: hotToCold,
  lineFanDeg: shadowLines,
  fanDeg: wholePatch,
  edgeRatio: edges,
  stepStopsPer10cm: step,
  fill: wholePatch,
  shadowCount: wholePatch,
  altitudeOffDeg: arrivals,
  windowSpreadDeg: wholePatch,
  windowLevelStops: wholePatch,
  cctOffMired: wholePatch,
  duvOff: wholePatch,
  hazeDeg: wholePatch,
  growthNear: shadowLines,
  growthFar: shadowLines,
  overAmbienceStops: wholePatch,
  overKeyStops: wholePatch,
};
