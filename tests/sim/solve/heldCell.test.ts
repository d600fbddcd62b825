/**
 * What a map works out once for all receivers of a cell, against the same rule asked receiver by receiver: with every
 * receiver of the map taken by itself the two differ by no more than single precision keeps. Faces that turn with the
 * receiver are held too, which is an approximation with its own test (heldFace.test.ts).
 */
import { describe, expect, test } from 'vitest';
import { facesReceiver } from '../../../src/sim/solve/emitterFace';
import { GRID_QUALITY } from '../../../src/sim/solve/quality';
import { layersInLight, ownLayersOf, planeOfSurface } from '../../../src/sim/solve/receivers';
import { cellCentres, solveGrid } from '../../../src/sim/solve/solveGrid';
import { ALL_ROLES, SourceIntegrator } from '../../../src/sim/solve/sourceIntegrator';
import { workloadOf } from '../../bench/tiltedRoom';

const CELLS = 40;
const EVERY = { ...GRID_QUALITY, interpolation: 0 };

describe.each(['W1', 'W4'])('%s', (id) => {
  const { scene, surfaceId } = workloadOf(id);
  const surface = scene.surfaces.get(surfaceId)!;
  const { leftM, bottomM, widthM, heightM } = surface.bounds;
  const xs = cellCentres(leftM, widthM, CELLS);
  const ys = cellCentres(bottomM, heightM, CELLS);
  const still = scene.sources.filter((source) => !facesReceiver(source));

  test.each(still.map((source) => [source.id, source] as const))('%s', (_id, source) => {
    const one = { ...scene, sources: [source] };
    const map = solveGrid(one, { surfaceId, columns: CELLS, rows: CELLS }, {}, EVERY).layers[0]!.unitIlluminanceLx;
    const single = new SourceIntegrator(source, layersInLight(one, source), EVERY);
    single.usePlane(planeOfSurface(surface), ownLayersOf(surfaceId));
    const peakLx = Math.max(...map);
    expect(peakLx).toBeGreaterThan(0);
    ys.forEach((y, row) => {
      xs.forEach((x, column) => {
        const exactLx = single.moveTo(x, y) ? single.illuminanceLx(ALL_ROLES) : 0;
        expect(Math.abs(map[row * CELLS + column]! - exactLx)).toBeLessThan(1e-6 * peakLx);
      });
    });
  });
});
