/** The quick rule of grids (quadtree, interpolation) against the fine rule of meters, on random scenes. */
import { expect, test } from 'vitest';
import { worldFromLocal } from '../../src/sim/geometry/frames';
import { compileScene } from '../../src/sim/solve/compileScene';
import { solveGrid } from '../../src/sim/solve/solveGrid';
import { readPoint } from '../../src/sim/solve/solvePoint';
import { randomScene } from '../brute/randomScene';

const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8];
const COLUMNS = 48;
const ROWS = 36;
/** Every so many cells are read again by the fine rule. */
const STRIDE = 13;
/** Within 1 % of a source's peak everywhere on a grid, penumbra included (the required truth of the light). */
const OF_PEAK = 0.01;

test.each(SEEDS)('random scene %d: a grid holds to a hundredth of each source’s peak', (seed) => {
  const { document, setupId } = randomScene(seed);
  const scene = compileScene(document, setupId);
  const surface = [...scene.surfaces.values()].find((one) => one.outline.length > 0)!;
  const grid = solveGrid(scene, { surfaceId: surface.id, columns: COLUMNS, rows: ROWS });
  grid.layers.forEach(({ sourceId, unitIlluminanceLx }, index) => {
    const source = scene.sources[index]!;
    if (source.level === 0) return;
    const peak = unitIlluminanceLx.reduce((most, value) => Math.max(most, value), 0);
    for (let cell = seed; cell < unitIlluminanceLx.length; cell += STRIDE) {
      if (grid.mask[cell] === 0) continue;
      const right = grid.leftM + (((cell % COLUMNS) + 0.5) * grid.widthM) / COLUMNS;
      const up = grid.bottomM + ((Math.floor(cell / COLUMNS) + 0.5) * grid.heightM) / ROWS;
      const pointM = worldFromLocal(surface.frame, [right, up]);
      const one = { ...scene, sources: [source] };
      const exact =
        readPoint(one, { pointM, normal: surface.frame.forward, surfaceId: surface.id }).illuminanceLx / source.level;
      const off = Math.abs(unitIlluminanceLx[cell]! - exact);
      expect(off, `${sourceId}, cell ${cell}: ${unitIlluminanceLx[cell]} for ${exact}`).toBeLessThanOrEqual(
        OF_PEAK * Math.max(peak, exact),
      );
    }
  });
});
