/** The report of a scene: what the meters read, how even the surfaces are, whether what plays the sun reads as it. */
import { sideOfRing } from '../scene/outlines';
import type { SceneDocument, Surface } from '../scene/schema';
import { footcandlesFromLux } from '../scene/units/convert';
import { MAX_DUV_FOR_CCT } from './colour/cct';
import { stopsFromCamera } from './exposure/exposure';
import { judgeSetup } from './judgement/judgeSetup';
import {
  SUN_FIGURES,
  type GridRequest,
  type GridResult,
  type MeterReport,
  type PointReading,
  type SceneReport,
  type SetupReport,
  type SunCheck,
  type SurfaceReport,
} from './results';
import type { CompiledScene } from './solve/compiled';
import { compileScene } from './solve/compileScene';
import { solveGrid } from './solve/solveGrid';
import { readMeter } from './solve/solvePoint';

/** Said of a figure that the judgement left empty without a reason of its own. */
export const NOT_JUDGED = 'not judged yet';

const REPORT_CELL_M = 0.25;
const LEAST_CELLS = 16;
const MOST_CELLS = 200;

interface Bounds {
  readonly leftM: number;
  readonly bottomM: number;
  readonly widthM: number;
  readonly heightM: number;
}

function boundsOf(points: readonly (readonly [number, number])[]): Bounds {
  const rights = points.map((point) => point[0]);
  const ups = points.map((point) => point[1]);
  const leftM = Math.min(...rights);
  const bottomM = Math.min(...ups);
  return { leftM, bottomM, widthM: Math.max(...rights) - leftM, heightM: Math.max(...ups) - bottomM };
}

/** Bounding box of what is judged of a surface: its judged area if it has one, else its outline; right/up metres. */
export function reportedBounds(surface: Surface): Bounds {
  if (surface.judgedAreaM) return boundsOf(surface.judgedAreaM);
  if (surface.shape.kind === 'polygon') return boundsOf(surface.shape.outlineM);
  return { leftM: 0, bottomM: 0, widthM: surface.shape.widthM, heightM: surface.shape.heightM };
}

/**
 * Grid that the report reads a surface on: cells of a quarter of a metre, at least 16 and at most 200 each way.
 * @returns a request for `solveGrid`
 */
export function reportGrid(surfaceId: string, surface: Surface): GridRequest {
  const { leftM, bottomM, widthM, heightM } = reportedBounds(surface);
  const cells = (lengthM: number): number =>
    Math.min(MOST_CELLS, Math.max(LEAST_CELLS, Math.ceil(lengthM / REPORT_CELL_M - 1e-9)));
  return {
    surfaceId,
    columns: cells(widthM),
    rows: cells(heightM),
    region: { leftM, bottomM, widthM, heightM },
  };
}

/** Levels of the cells that lie on the surface and, if one is given, inside its judged area; lux. */
export function judgedLevels(grid: GridResult, surface: Surface): number[] {
  const levels: number[] = [];
  const area = surface.judgedAreaM;
  for (let row = 0; row < grid.rows; row += 1) {
    for (let column = 0; column < grid.columns; column += 1) {
      const index = row * grid.columns + column;
      if (grid.mask[index] !== 1) continue;
      const right = grid.leftM + ((column + 0.5) * grid.widthM) / grid.columns;
      const up = grid.bottomM + ((row + 0.5) * grid.heightM) / grid.rows;
      if (area && sideOfRing([right, up], area) === 'outside') continue;
      levels.push(grid.illuminanceLx[index] ?? 0);
    }
  }
  return levels;
}

/** Least, greatest and mean level with the two measures of evenness; null with a reason where one cannot be said. */
export function surfaceFigures(levelsLx: readonly number[]): Omit<SurfaceReport, 'id' | 'name' | 'columns' | 'rows'> {
  const nothing = 'no cell of the grid lies on the surface';
  if (levelsLx.length === 0) {
    const none = { uniformityMinOverMean: null, rangeStops: null } as const;
    const why = { uniformityMinOverMeanReason: nothing, rangeStopsReason: nothing };
    return { minLx: 0, maxLx: 0, meanLx: 0, ...none, ...why };
  }
  const minLx = levelsLx.reduce((least, level) => Math.min(least, level), Infinity);
  const maxLx = levelsLx.reduce((most, level) => Math.max(most, level), 0);
  const meanLx = levelsLx.reduce((sum, level) => sum + level, 0) / levelsLx.length;
  const dark = maxLx > 0 ? 'part of the surface gets no light' : 'no light reaches the surface';
  return {
    minLx,
    maxLx,
    meanLx,
    ...(meanLx > 0
      ? { uniformityMinOverMean: minLx / meanLx }
      : { uniformityMinOverMean: null, uniformityMinOverMeanReason: dark }),
    ...(minLx > 0 ? { rangeStops: Math.log2(maxLx / minLx) } : { rangeStops: null, rangeStopsReason: dark }),
  };
}

function surfaceReport(scene: CompiledScene, id: string, surface: Surface): SurfaceReport {
  const grid = solveGrid(scene, reportGrid(id, surface));
  const figures = surfaceFigures(judgedLevels(grid, surface));
  return { id, name: surface.name, columns: grid.columns, rows: grid.rows, ...figures };
}

function colourReport(reading: PointReading): Pick<MeterReport, 'cctK' | 'cctKReason' | 'duv' | 'duvReason'> {
  const { illuminanceLx, cctK, duv } = reading;
  const unknown = illuminanceLx > 0 ? 'the colour of a source is not known' : 'no light';
  const far = duv !== null && Math.abs(duv) > MAX_DUV_FOR_CCT ? 'too far from white for a colour temperature' : unknown;
  return {
    ...(cctK === null ? { cctK, cctKReason: far } : { cctK }),
    ...(duv === null ? { duv, duvReason: unknown } : { duv }),
  };
}

function meterReport(scene: CompiledScene, id: string): MeterReport {
  const meter = scene.document.meters[id];
  if (!meter) throw new RangeError(`no meter "${id}" in this scene`);
  const reading = readMeter(scene, id);
  const stops = stopsFromCamera(reading.illuminanceLx, scene.document.camera, meter.receptor);
  return {
    id,
    name: meter.name,
    illuminanceLx: reading.illuminanceLx,
    footcandles: footcandlesFromLux(reading.illuminanceLx),
    ...(stops === null ? { stopsFromCamera: null, stopsFromCameraReason: 'no light' } : { stopsFromCamera: stops }),
    ...colourReport(reading),
    bySource: reading.bySource.map(({ sourceId, illuminanceLx }) => ({ sourceId, illuminanceLx })),
    integrationError: reading.integrationErrorLx,
  };
}

function setupReport(document: SceneDocument, setupId: string): SetupReport {
  const scene = compileScene(document, setupId);
  return {
    id: setupId,
    name: scene.setup.name,
    meters: Object.keys(document.meters).map((id) => meterReport(scene, id)),
    surfaces: Object.entries(document.surfaces).map(([id, surface]) => surfaceReport(scene, id, surface)),
    sunChecks: judgeSetup(scene),
  };
}

/**
 * The report of a scene, setup by setup in the order of the document.
 * @param options.setupId that setup alone
 * @throws {RangeError} if the setup does not exist
 * @remarks Surfaces are read on `reportGrid`; a finer grid finds a brighter brightest and a darker darkest cell.
 */
export function buildReport(document: SceneDocument, options: { readonly setupId?: string } = {}): SceneReport {
  const ids = options.setupId === undefined ? document.setups.map((setup) => setup.id) : [options.setupId];
  return { format: 'farsun-report/1', scene: document.name, setups: ids.map((id) => setupReport(document, id)) };
}

/** A sun check as the report prints it: null figures with `<key>Reason` beside them, the drawing left out. */
function flatSunCheck(check: SunCheck): Record<string, unknown> {
  const flat: Record<string, unknown> = { surfaceId: check.surfaceId, sourceId: check.sourceId };
  for (const figure of SUN_FIGURES) {
    flat[figure] = check[figure];
    if (check[figure] === null) flat[`${figure}Reason`] = check.reasons[figure] ?? NOT_JUDGED;
  }
  flat['scores'] = check.scores;
  flat['verdict'] = check.verdict;
  flat['worst'] = check.worst;
  if (check.worst === null) flat['worstReason'] = 'no figure is scored';
  flat['confidence'] = check.confidence;
  if (check.confidence === null) {
    flat['confidenceReason'] = check.verdict === 'notEnough' ? 'too few figures are scored' : NOT_JUDGED;
  }
  flat['flags'] = check.flags;
  flat['sentence'] = check.sentence;
  return flat;
}

/** The report as plain data for JSON, `farsun-report/1`: every figure that is null has its reason beside it. */
export function reportJson(report: SceneReport): Record<string, unknown> {
  return {
    format: report.format,
    scene: report.scene,
    setups: report.setups.map((setup) => ({ ...setup, sunChecks: setup.sunChecks.map(flatSunCheck) })),
  };
}
