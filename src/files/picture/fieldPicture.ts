/** A surface's levels as a drawing to print: heat map, contours, metres along the edges, legend, figures. */
import {
  TIDE,
  colourAt,
  colourTable,
  halfDecadeTicks,
  hexFromRgb,
  logRangeAround,
  placeOnLog,
  type LogRange,
} from '../../sim/colour/colourMaps';
import type { GridResult } from '../../sim/results';
import { contourLines, type ContourLine } from './contourLines';
import { base64, encodePng } from './encodePng';
import { group, line, path, rectangle, text } from './svg';

export interface FieldPicture {
  readonly grid: GridResult;
  readonly title: string;
  readonly subtitle: string;
  /** Written under the drawing, one a line. */
  readonly captions: readonly string[];
  /** Openings and outline in the surface's right/up metres. */
  readonly outlines: readonly (readonly (readonly [right: number, up: number])[])[];
  /** Level that the camera is set for: the wedge at the legend, if it falls on the scale. */
  readonly keyLx: number;
  /** Whether the surface stands (heights on the left) or lies (metres on the left). */
  readonly standing: boolean;
}

const INK = '#181c20';
const INK_QUIET = '#42484e';
const PAPER = '#ffffff';
const WELL = '#e2e7e9';
const ON_MAP = '#f6f6f2';
const CASING = '#0a0b0d';
/** Space round the map: left for heights, right for the legend, top for the title. */
const MARGIN = { left: 74, right: 150, top: 84, foot: 60 };
const CAPTION_STEP = 18;
const MAP_WIDTH = 1000;
const MAP_HEIGHT = 640;
const LEAST_MAP = 220;
/** Steps of the map: finer than a picture of 8 bits can show. */
const TABLE_STEPS = 2048;
/** Contours nearer than this on the page are left out. */
const LEAST_GAP_PX = 9;
const LABEL_CLEAR_PX = 26;

/** Where the map lies on the page, pixels, and how the surface's metres get there. */
interface Sheet {
  readonly grid: GridResult;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly x: (rightM: number) => number;
  readonly y: (upM: number) => number;
}

function layOut(grid: GridResult): Sheet {
  const scale = Math.min(MAP_WIDTH / grid.widthM, MAP_HEIGHT / grid.heightM);
  // A long strip is stretched to stay readable; metres are written on both edges, so nothing is hidden.
  const width = Math.max(grid.widthM * scale, LEAST_MAP);
  const height = Math.max(grid.heightM * scale, LEAST_MAP);
  const { left, top } = MARGIN;
  return {
    grid,
    left,
    top,
    width,
    height,
    x: (rightM) => left + ((rightM - grid.leftM) / grid.widthM) * width,
    y: (upM) => top + height - ((upM - grid.bottomM) / grid.heightM) * height,
  };
}

function heatMap(sheet: Sheet, range: LogRange): string {
  const { columns, rows, mask, illuminanceLx } = sheet.grid;
  const table = colourTable(TIDE, TABLE_STEPS);
  const pixels = new Uint8Array(columns * rows * 4);
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      const index = row * columns + column;
      if (mask[index] !== 1) continue;
      const step = Math.round(placeOnLog(illuminanceLx[index] ?? 0, range) * (TABLE_STEPS - 1));
      pixels.set(table.subarray(step * 4, step * 4 + 4), ((rows - 1 - row) * columns + column) * 4);
    }
  }
  const address = `data:image/png;base64,${base64(encodePng(columns, rows, pixels))}`;
  const place = `x="${sheet.left}" y="${sheet.top}" width="${sheet.width}" height="${sheet.height}"`;
  return `<image ${place} preserveAspectRatio="none" image-rendering="optimizeSpeed" href="${address}"/>`;
}

interface PlacedLine {
  readonly line: ContourLine;
  readonly points: readonly (readonly [number, number])[];
  readonly lengthPx: number;
}

function placeLine(sheet: Sheet, contour: ContourLine): PlacedLine {
  const { columns, rows } = sheet.grid;
  const points = contour.points.map(
    ([right, up]) =>
      [sheet.left + (right / columns) * sheet.width, sheet.top + sheet.height - (up / rows) * sheet.height] as const,
  );
  const lengthPx = points
    .slice(1)
    .reduce((sum, [x, y], index) => sum + Math.hypot(x - (points[index]?.[0] ?? x), y - (points[index]?.[1] ?? y)), 0);
  return { line: contour, points, lengthPx };
}

/** Middle of each long enough line that keeps clear of the labels before it. */
function labelPlaces(
  lines: readonly PlacedLine[],
): { readonly x: number; readonly y: number; readonly label: string }[] {
  const places: { x: number; y: number; label: string }[] = [];
  const longestFirst = [...lines].sort((one, other) => other.lengthPx - one.lengthPx);
  for (const { line: contour, points, lengthPx } of longestFirst) {
    if (lengthPx < 60) continue;
    const tries = [0.5, 0.35, 0.65, 0.2, 0.8].map((share) => points[Math.floor(share * (points.length - 1))]);
    const free = tries.find(
      (point) =>
        point &&
        places.every((place) => Math.abs(place.x - point[0]) > 44 || Math.abs(place.y - point[1]) > LABEL_CLEAR_PX),
    );
    if (free) places.push({ x: free[0], y: free[1], label: levelText(contour.valueLx) });
  }
  return places;
}

function contourDrawing(sheet: Sheet, range: LogRange): string {
  const gapCells = LEAST_GAP_PX / Math.min(sheet.width / sheet.grid.columns, sheet.height / sheet.grid.rows);
  const lines = contourLines(sheet.grid, range, gapCells)
    .map((contour) => placeLine(sheet, contour))
    .filter((placed) => placed.lengthPx > 14);
  const drawn = lines.flatMap(({ line: { heavy }, points }) => {
    const width = heavy ? 1.75 : 1;
    return [
      path(points, false, { stroke: CASING, width: width + 2, opacity: 0.6 }),
      path(points, false, { stroke: ON_MAP, width }),
    ];
  });
  const labels = labelPlaces(lines).map(({ x, y, label }) =>
    text(label, x, y + 4, { size: 12, fill: ON_MAP, anchor: 'middle', halo: CASING }),
  );
  return group([...drawn, ...labels]);
}

function darkNotice({ left, top }: Sheet): string {
  return text('No light reaches this surface.', left + 16, top + 30, { size: 15, fill: ON_MAP, anchor: 'start' });
}

/** A round step in metres that leaves at least `leastPx` between two ticks. */
function tickStepM(pixelsPerM: number, leastPx: number): number {
  const rough = leastPx / pixelsPerM;
  const decade = 10 ** Math.floor(Math.log10(rough));
  return ([1, 2, 5, 10].find((step) => step * decade >= rough) ?? 10) * decade;
}

function ticks(fromM: number, sizeM: number, stepM: number): number[] {
  const first = Math.ceil(fromM / stepM - 1e-9);
  const last = Math.floor((fromM + sizeM) / stepM + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, index) => Number(((first + index) * stepM).toPrecision(10)));
}

function axes(sheet: Sheet, standing: boolean): string {
  const { grid, left, top, width, height } = sheet;
  const foot = top + height;
  const parts = [rectangle(left, top, width, height, { stroke: INK, width: 1.25 })];
  for (const rightM of ticks(grid.leftM, grid.widthM, tickStepM(width / grid.widthM, 60))) {
    const x = sheet.x(rightM);
    parts.push(line(x, foot, x, foot + 6, INK, 1));
    parts.push(text(String(rightM), x, foot + 21, { size: 12, fill: INK_QUIET, anchor: 'middle' }));
  }
  for (const upM of ticks(grid.bottomM, grid.heightM, tickStepM(height / grid.heightM, 48))) {
    const y = sheet.y(upM);
    parts.push(line(left - 6, y, left, y, INK, 1));
    parts.push(text(String(upM), left - 11, y + 4, { size: 12, fill: INK_QUIET, anchor: 'end' }));
  }
  parts.push(text('m to the right', left + width, foot + 39, { size: 12, fill: INK_QUIET, anchor: 'end' }));
  const upWords = standing ? 'm up' : 'm along';
  parts.push(text(upWords, left - 11, top - 14, { size: 12, fill: INK_QUIET, anchor: 'end' }));
  return group(parts);
}

const isOnScale = (levelLx: number, range: LogRange): boolean => levelLx > range.minimum && levelLx < range.maximum;

function legend(sheet: Sheet, range: LogRange, keyLx: number): string {
  const left = sheet.left + sheet.width + 44;
  const { top, height } = sheet;
  const steps = 160;
  const y = (place: number): number => top + height * (1 - place);
  const bars = Array.from({ length: steps }, (_, step) => {
    const colour = hexFromRgb(colourAt(TIDE, (step + 0.5) / steps));
    // A hair of overlap keeps the paper from showing through between two bars.
    return rectangle(left, y((step + 1) / steps), 18, height / steps + 0.6, { fill: colour });
  });
  const marks = halfDecadeTicks(range).flatMap(({ value, label }) => {
    const at = y(placeOnLog(value, range));
    return [
      line(left + 18, at, left + 24, at, INK, 1),
      text(levelText(label), left + 29, at + 4, { size: 12, fill: INK, anchor: 'start' }),
    ];
  });
  const parts = [...bars, rectangle(left, top, 18, height, { stroke: INK, width: 1 }), ...marks];
  parts.push(text('Lux', left, top - 10, { size: 13, fill: INK, anchor: 'start', bold: true }));
  if (isOnScale(keyLx, range)) {
    const at = y(placeOnLog(keyLx, range));
    parts.push(
      path(
        [
          [left - 3, at],
          [left - 13, at - 6],
          [left - 13, at + 6],
        ],
        true,
        { fill: INK },
      ),
    );
  }
  return group(parts);
}

/** A level as it is written: three figures, two under 100, a thin space from 10 000. */
function levelText(levelLx: number): string {
  const rounded = Number(levelLx.toPrecision(levelLx < 100 ? 2 : 3));
  return rounded >= 10_000 ? String(Math.round(rounded)).replace(/\B(?=(\d{3})+$)/g, '\u2009') : String(rounded);
}

/**
 * A surface's levels as one SVG drawing, dark on white; lux on a log scale in half-decades around the content.
 * Each cell of the grid is one even square: nothing is blurred between them.
 * @remarks Contours are left out where they would lie closer than 9 pixels, as across the edge of a shadow.
 */
export function fieldPictureSvg(picture: FieldPicture): { readonly svg: string; readonly width: number } {
  const { grid } = picture;
  const sheet = layOut(grid);
  const shown = Array.from(grid.illuminanceLx).filter((_, index) => grid.mask[index] === 1);
  const range = logRangeAround(shown);
  const width = Math.round(MARGIN.left + sheet.width + MARGIN.right);
  const captions = [...picture.captions];
  if (isOnScale(picture.keyLx, range)) {
    captions.push(`Wedge at the legend: the camera is set for ${levelText(picture.keyLx)} lx.`);
  }
  const captionTop = sheet.top + sheet.height + MARGIN.foot;
  const height = Math.round(captionTop + captions.length * CAPTION_STEP + 14);
  const parts = [
    rectangle(0, 0, width, height, { fill: PAPER }),
    text(picture.title, MARGIN.left, 34, { size: 20, fill: INK, anchor: 'start', bold: true }),
    text(picture.subtitle, MARGIN.left, 56, { size: 13, fill: INK_QUIET, anchor: 'start' }),
    rectangle(sheet.left, sheet.top, sheet.width, sheet.height, { fill: WELL }),
    heatMap(sheet, range),
    shown.some((level) => level > 0) ? contourDrawing(sheet, range) : darkNotice(sheet),
    ...picture.outlines.map((outline) =>
      path(
        outline.map(([right, up]) => [sheet.x(right), sheet.y(up)] as const),
        true,
        { stroke: INK, width: 1.25 },
      ),
    ),
    axes(sheet, picture.standing),
    legend(sheet, range, picture.keyLx),
    ...captions.map((caption, index) =>
      text(caption, MARGIN.left, captionTop + index * CAPTION_STEP, { size: 13, fill: INK, anchor: 'start' }),
    ),
  ];
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">${parts.join('')}</svg>`;
  return { svg, width };
}
