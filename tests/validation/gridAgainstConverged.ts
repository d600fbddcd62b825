/**
 * The grids of a random scene's surfaces: the quick rule with its interpolation against the converged kernel, every
 * receiver by itself. The measure is that of the bench, P = max |E - reference| / max(1 % of the reference, 0.5 % of its
 * peak) over the receivers, E the sum of the sources.
 */
import { compileScene } from '../../src/sim/solve/compileScene';
import { solveGrid } from '../../src/sim/solve/solveGrid';
import { CONVERGED, errorP } from '../bench/errorP';
import { randomScene } from '../brute/randomScene';

/** P of one source's own light against its own peak on the surface. */
export interface SourceError {
  readonly sourceId: string;
  /** What shines: emitter and distribution, or the sun. */
  readonly what: string;
  readonly errorP: number;
  /** Its peak as a share of that of the sum: of a source that hardly reaches the surface a large P means little. */
  readonly shareOfPeak: number;
}
export interface GridAgreement {
  readonly seed: number;
  readonly surfaceId: string;
  readonly columns: number;
  readonly rows: number;
  /** P of the sum: NaN if any value is none. */
  readonly errorP: number;
  readonly bySource: readonly SourceError[];
}

const SURFACES = ['floor', 'back', 'desk', 'face'] as const;
/** Grids from coarse to fine, none a power of two, so that cells of the tree come in all sizes; three quarters as high as wide. */
const COLUMNS = [48, 85, 122, 159] as const;
/** One surface of a scene also square and a power of two, so that the smallest cells are as large as they come. */
const SQUARES = [64, 128] as const;

const peakOf = (levels: Float32Array): number => levels.reduce((most, value) => Math.max(most, value), 0);

/** The surfaces of random scene `seed` on its grid, and one of them on a square. */
export function gridAgreementsOf(seed: number): GridAgreement[] {
  const columns = COLUMNS[seed % COLUMNS.length]!;
  const square = SQUARES[(seed >> 2) % SQUARES.length]!;
  return [
    ...SURFACES.map((surfaceId) => gridAgreementOf(seed, surfaceId, columns, Math.round((3 * columns) / 4))),
    gridAgreementOf(seed, SURFACES[seed % SURFACES.length]!, square, square),
  ];
}

/** One surface of random scene `seed` on a grid of columns x rows. */
export function gridAgreementOf(seed: number, surfaceId: string, columns: number, rows: number): GridAgreement {
  const { document, setupId } = randomScene(seed);
  const scene = compileScene(document, setupId);
  const quick = solveGrid(scene, { surfaceId, columns, rows });
  const converged = solveGrid(scene, { surfaceId, columns, rows }, {}, CONVERGED);
  const peak = peakOf(converged.illuminanceLx);
  const bySource = quick.layers.map(({ sourceId, unitIlluminanceLx }, index): SourceError => {
    const source = document.setups[0]!.sources[sourceId];
    const reference = converged.layers[index]!.unitIlluminanceLx;
    return {
      sourceId,
      what: source?.type === 'lamp' ? `${source.emitter.shape} ${source.distribution.kind}` : 'sun',
      errorP: errorP(unitIlluminanceLx, reference),
      shareOfPeak: peak > 0 ? (scene.sources[index]!.level * peakOf(reference)) / peak : 0,
    };
  });
  return { seed, surfaceId, columns, rows, errorP: errorP(quick.illuminanceLx, converged.illuminanceLx), bySource };
}
