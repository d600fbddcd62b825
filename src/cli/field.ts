/** `field`: the levels over one surface, as a grid of numbers or as a picture. */
import { writeFileSync } from 'node:fs';
import { onOneLine } from '../scene/faults';
import type { SceneDocument, SurfaceShape } from '../scene/schema';
import { formatIlluminance } from '../scene/units/format';
import { fieldPictureSvg } from '../files/picture/fieldPicture';
import { keyIlluminanceLx } from '../sim/exposure/exposure';
import { surfaceFigures } from '../sim/report';
import type { GridResult } from '../sim/results';
import { compileScene } from '../sim/solve/compileScene';
import { solveGrid } from '../sim/solve/solveGrid';
import { GOOD, callFault, fileTrouble, readScene, setupIdOf, surfaceIdOf, type Command, type ExitCode } from './call';
import { decimalText, levelBand } from './format';
import { rasteriseSvg } from './rasterise';
import { readWords, wholeNumber, type Words } from './words';

const MOST_CELLS = 4000;
const MOST_DEFAULT_CELLS = 720;
const LEAST_DEFAULT_CELLS = 16;
const CSV_CELL_M = 0.05;
const PICTURE_CELL_M = 0.0125;
/** Pixels of the file for each of the drawing's own, so that letters stay sharp in print. */
const PICTURE_ZOOM = 2;

type Outline = readonly (readonly [number, number])[];

function outlinesOf(shape: SurfaceShape, leftM = 0, lowM = 0): Outline[] {
  const moved = (outline: Outline): Outline => outline.map(([right, up]) => [right + leftM, up + lowM] as const);
  if (shape.kind === 'polygon') return [shape.outlineM, ...(shape.holesM ?? [])].map(moved);
  const { widthM, heightM } = shape;
  return [
    moved([
      [0, 0],
      [widthM, 0],
      [widthM, heightM],
      [0, heightM],
    ]),
  ];
}

/** Columns and rows: as asked, the one that is missing so that cells come out square. */
function gridSize(given: Words, widthM: number, heightM: number, cellM: number): { columns: number; rows: number } {
  const columns = wholeNumber(given, 'columns', MOST_CELLS);
  const rows = wholeNumber(given, 'rows', MOST_CELLS);
  const held = (cells: number, least: number, most: number): number =>
    Math.min(most, Math.max(least, Math.round(cells)));
  if (columns !== undefined) return { columns, rows: rows ?? held((columns * heightM) / widthM, 1, MOST_CELLS) };
  if (rows !== undefined) return { columns: held((rows * widthM) / heightM, 1, MOST_CELLS), rows };
  const cells = (lengthM: number): number => held(lengthM / cellM, LEAST_DEFAULT_CELLS, MOST_DEFAULT_CELLS);
  return { columns: cells(widthM), rows: cells(heightM) };
}

/** Lux, one row of the grid a line, lowest row first; six figures; nothing between the commas off the surface. */
export function fieldCsv(grid: GridResult): string {
  const lines = Array.from({ length: grid.rows }, (_, row) =>
    Array.from({ length: grid.columns }, (_unused, column) => {
      const index = row * grid.columns + column;
      return grid.mask[index] === 1 ? String(Number((grid.illuminanceLx[index] ?? 0).toPrecision(6))) : '';
    }).join(','),
  );
  return `${lines.join('\n')}\n`;
}

function captionsOf(grid: GridResult, document: SceneDocument, setupId: string): string[] {
  const levels = Array.from(grid.illuminanceLx).filter((_, index) => grid.mask[index] === 1);
  const figures = surfaceFigures(levels);
  const setup = document.setups.find((candidate) => candidate.id === setupId);
  const band = setup ? levelBand(setup) : null;
  const level = (illuminanceLx: number): string => formatIlluminance(illuminanceLx, 'lux');
  const evenness =
    figures.rangeStops === null
      ? figures.rangeStopsReason
      : `range ${decimalText(figures.rangeStops, 1)} stops, min/mean ${decimalText(figures.uniformityMinOverMean ?? 0, 2)}`;
  return [
    `Min ${level(figures.minLx)}, max ${level(figures.maxLx)}, mean ${level(figures.meanLx)}; ${evenness}.` +
      `${band ? ` Levels ${band}.` : ''}`,
    `${grid.columns} x ${grid.rows} cells. Contours a third of a stop apart, left out across shadow edges.`,
  ];
}

async function writePicture(file: string, grid: GridResult, document: SceneDocument, setupId: string): Promise<void> {
  const surface = document.surfaces[grid.surfaceId];
  if (!surface) throw callFault(`no surface "${onOneLine(grid.surfaceId)}" in this scene`);
  const setup = document.setups.find((candidate) => candidate.id === setupId);
  const openings = Object.values(surface.openings ?? {}).flatMap(({ shape, leftM, sillM }) =>
    outlinesOf(shape, leftM, sillM),
  );
  const { svg, width } = fieldPictureSvg({
    grid,
    title: `${surface.name}, ${setup?.name ?? setupId}`,
    subtitle: `${document.production === undefined ? '' : `${document.production}: `}${document.name}. Illuminance, seen from the lit side.`,
    captions: captionsOf(grid, document, setupId),
    outlines: [...outlinesOf(surface.shape), ...openings],
    keyLx: keyIlluminanceLx(document.camera),
    standing: !['floor', 'ceiling', 'top'].includes(surface.kind),
  });
  const bytes = await rasteriseSvg(svg, width * PICTURE_ZOOM);
  try {
    writeFileSync(file, bytes);
  } catch (error) {
    throw callFault(`${onOneLine(file, 200)} cannot be written, ${fileTrouble(error)}`);
  }
}

export const fieldCommand: Command = {
  name: 'field',
  usage: 'field <scene.json> --surface <id> [--setup <id>] [--columns N] [--rows N] (--csv | --png <file>)',
  help: `Reads a surface at the middles of even cells over the bounding box of its outline; the first setup if none is named.
--csv prints lux, one row of the grid a line, no header: the first line is the lowest row, the first number the left
end, both seen from the lit side. Cells off the surface (openings, corners) are empty.
--png draws the same as a heat map with contours, metres and legend.
Without --columns and --rows cells are 0.05 m (numbers) or 0.0125 m (picture), 16 to 720 each way; with one of the two the
other makes cells square.`,
  async run(words, output): Promise<ExitCode> {
    const given = readWords(words, {
      surface: 'text',
      setup: 'text',
      columns: 'text',
      rows: 'text',
      csv: 'flag',
      png: 'text',
    });
    const pictureFile = given.text('png');
    if (given.flag('csv') === (pictureFile !== undefined)) throw callFault('ask for --csv or for --png <file>');
    const document = readScene(given.sceneFile);
    const setupId = setupIdOf(document, given.text('setup'));
    const surfaceId = surfaceIdOf(document, given.text('surface'));
    const scene = compileScene(document, setupId);
    const bounds = scene.surfaces.get(surfaceId)?.bounds;
    if (!bounds) throw callFault(`surface "${surfaceId}" has no size`);
    const cellM = pictureFile === undefined ? CSV_CELL_M : PICTURE_CELL_M;
    const grid = solveGrid(scene, { surfaceId, ...gridSize(given, bounds.widthM, bounds.heightM, cellM) });
    if (pictureFile === undefined) output.out(fieldCsv(grid));
    else await writePicture(pictureFile, grid, document, setupId);
    return GOOD;
  },
};
