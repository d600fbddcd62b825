/** Cuts a grid into bands of rows that can be solved one by one, and joins the answers. */
import type { SurfaceShape } from '../../scene/schema';
import type { GridRequest, GridResult } from '../results';

export interface Box {
  readonly leftM: number;
  readonly bottomM: number;
  readonly widthM: number;
  readonly heightM: number;
}

/** Bounding box of a surface's outline in its own right/up metres. */
export function boundingBox(shape: SurfaceShape): Box {
  if (shape.kind === 'rectangle') return { leftM: 0, bottomM: 0, widthM: shape.widthM, heightM: shape.heightM };
  const rights = shape.outlineM.map((point) => point[0]);
  const ups = shape.outlineM.map((point) => point[1]);
  const leftM = Math.min(...rights);
  const bottomM = Math.min(...ups);
  return { leftM, bottomM, widthM: Math.max(...rights) - leftM, heightM: Math.max(...ups) - bottomM };
}

/** Rows that make the cells of `box` as square as `columns` allow; at least 1. */
export const rowsForSquareCells = (box: Box, columns: number): number =>
  Math.max(1, Math.round((columns * box.heightM) / box.widthM));

/**
 * Requests of at most `cellsPerBand` cells each (at least one row), from the lowest row up. Their cell centres are
 * those of the whole grid.
 */
export function planBands(
  surfaceId: string,
  box: Box,
  columns: number,
  rows: number,
  cellsPerBand: number,
): GridRequest[] {
  const rowsPerBand = Math.max(1, Math.floor(cellsPerBand / columns));
  const rowHeightM = box.heightM / rows;
  const bands: GridRequest[] = [];
  for (let first = 0; first < rows; first += rowsPerBand) {
    const count = Math.min(rowsPerBand, rows - first);
    bands.push({
      surfaceId,
      columns,
      rows: count,
      region: {
        leftM: box.leftM,
        bottomM: box.bottomM + first * rowHeightM,
        widthM: box.widthM,
        heightM: count * rowHeightM,
      },
    });
  }
  return bands;
}

/**
 * One grid out of bands that lie on each other, lowest first.
 * @throws {RangeError} if there is no band, or their columns or layers differ
 */
export function joinBands(bands: readonly GridResult[]): GridResult {
  const [first] = bands;
  if (!first) throw new RangeError('no band to join');
  const { surfaceId, columns, leftM, bottomM, widthM } = first;
  const rows = bands.reduce((sum, band) => sum + band.rows, 0);
  const heightM = bands.reduce((sum, band) => sum + band.heightM, 0);
  const mask = new Uint8Array(columns * rows);
  const illuminanceLx = new Float32Array(columns * rows);
  const layers = first.layers.map(({ sourceId }) => ({
    sourceId,
    unitIlluminanceLx: new Float32Array(columns * rows),
  }));
  let offset = 0;
  for (const band of bands) {
    if (band.columns !== columns || band.layers.length !== layers.length) throw new RangeError('bands do not match');
    mask.set(band.mask, offset);
    illuminanceLx.set(band.illuminanceLx, offset);
    layers.forEach((layer, index) => {
      const part = band.layers[index];
      if (part?.sourceId !== layer.sourceId) throw new RangeError('bands do not match');
      layer.unitIlluminanceLx.set(part.unitIlluminanceLx, offset);
    });
    offset += columns * band.rows;
  }
  return { surfaceId, columns, rows, leftM, bottomM, widthM, heightM, mask, layers, illuminanceLx };
}
