/** The quick rule of grids (quadtree, interpolation) against the fine rule of meters, on random scenes. */
import { expect, test } from 'vitest';
import { worldFromLocal } from '../../src/scene/geometry/frames';
import { compileScene } from '../../src/sim/solve/compileScene';
import { solveGrid } from '../../src/sim/solve/solveGrid';
import { readPoint } from '../../src/sim/solve/solvePoint';
import { randomScene, type RandomScene } from '../brute/randomScene';
import { shapedScene } from '../brute/shapedScene';

const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8];
const COLUMNS = 48;
const ROWS = 36;
/** Every so many cells are read again by the fine rule. */
const STRIDE = 13;
/** Within 1 % of a source's peak everywhere on a grid, penumbra included (the required truth of the light). */
const OF_PEAK = 0.01;
/** A scene proves nothing unless this many of its samples are lit, and this many stand in half-shadow. */
const LEAST_LIT = 60;
const LEAST_SHADED = 20;

const CASES: readonly (readonly [name: string, seed: number, make: (seed: number) => RandomScene])[] = [
  ...SEEDS.map((seed) => ['random scene', seed, randomScene] as const),
  ...SEEDS.slice(1, 4).map((seed) => ['patterned spots, strips, lit sectors', seed, shapedScene] as const),
];

test.each(CASES)('%s %d: a grid holds to a hundredth of each source’s peak', (_name, seed, make) => {
  const { document, setupId } = make(seed);
  const scene = compileScene(document, setupId);
  const surface = [...scene.surfaces.values()].find((one) => one.outline.length > 0)!;
  const grid = solveGrid(scene, { surfaceId: surface.id, columns: COLUMNS, rows: ROWS });
  let lit = 0;
  let shaded = 0;
  grid.layers.forEach(({ sourceId, unitIlluminanceLx }) => {
    const sources = scene.sources.filter(({ id }) => id === sourceId);
    const { level } = sources[0]!;
    if (level === 0) return;
    const peak = unitIlluminanceLx.reduce((most, value) => Math.max(most, value), 0);
    for (let cell = seed; cell < unitIlluminanceLx.length; cell += STRIDE) {
      if (grid.mask[cell] === 0) continue;
      const right = grid.leftM + (((cell % COLUMNS) + 0.5) * grid.widthM) / COLUMNS;
      const up = grid.bottomM + ((Math.floor(cell / COLUMNS) + 0.5) * grid.heightM) / ROWS;
      const pointM = worldFromLocal(surface.frame, [right, up]);
      const receiver = { pointM, normal: surface.frame.forward, surfaceId: surface.id };
      const one = { ...scene, sources };
      const exact = readPoint(one, receiver).illuminanceLx / level;
      const open = readPoint({ ...one, layers: [] }, receiver).illuminanceLx / level;
      if (exact > 0) lit++;
      if (exact > 0.02 * open && exact < 0.98 * open) shaded++;
      const off = Math.abs(unitIlluminanceLx[cell]! - exact);
      expect(off, `${sourceId}, cell ${cell}: ${unitIlluminanceLx[cell]} for ${exact}`).toBeLessThanOrEqual(
        OF_PEAK * Math.max(peak, exact),
      );
    }
  });
  expect(lit).toBeGreaterThan(LEAST_LIT);
  expect(shaded).toBeGreaterThan(LEAST_SHADED);
});
