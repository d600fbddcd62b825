/**
 * A ball and a tube turned once for a small cell of a map, against the same map with the face turned to every receiver.
 * The bound is derived in docs/physics.md: seen at δ aside, a silhouette is cos δ as wide, and a tube's ends move by a
 * share of δ that is held to δ²: less than δ² in all.
 */
import { describe, expect, test } from 'vitest';
import type { BlockerLayer, CompiledSource } from '../../../src/sim/solve/compiled';
import { GRID_QUALITY, type Quality } from '../../../src/sim/solve/quality';
import { rectangleOutline } from '../../../src/sim/solve/shapes';
import { solveGrid } from '../../../src/sim/solve/solveGrid';
import { anyLamp, sceneOn } from '../../bench/workload';

const FLOOR = { origin: [0, 0, 0], right: [1, 0, 0], up: [0, 1, 0], forward: [0, 0, 1] } as const;
const SIDE_M = 4;
/** The smallest cells of the coarser map, 4 x 4 receivers, are too large to hold the face; those of the finer one are not. */
const FINE = 96;
const COARSE = 64;
const HEIGHT_M = 2;

const lampOf = (shape: CompiledSource['shape']): CompiledSource => ({
  id: 'lamp',
  source: anyLamp,
  level: 1,
  frame: { origin: [2, 2, HEIGHT_M], forward: [0, 0, -1], right: [1, 0, 0], up: [0, -1, 0] },
  shape,
  profile: { kind: 'cosine', exponent: 1 },
  peakCandela: 1000,
  outletM: 0,
  colour: null,
  image: null,
});
const LAMPS = {
  'thick tube': lampOf({ kind: 'tube', halfLengthM: 0.6, radiusM: 0.4, lit: null }),
  ball: lampOf({ kind: 'sphere', radiusM: 0.2 }),
  tube: lampOf({ kind: 'tube', halfLengthM: 0.6, radiusM: 0.019, lit: null }),
  'tube lit over half its round': lampOf({
    kind: 'tube',
    halfLengthM: 0.6,
    radiusM: 0.019,
    lit: { middle: [0, 0, -1], halfRad: Math.PI / 2 },
  }),
};

/** Bars of 5 cm, aslant, one metre over the floor. */
const bars: BlockerLayer = {
  id: 'bars',
  ownSurfaceId: null,
  onlySourceId: null,
  role: 'cut',
  origin: [2, 2, 1],
  normal: [0, 0, 1],
  opacity: 1,
  weave: null,
  pieces: Array.from({ length: 6 }, (_, i) => ({
    corners: rectangleOutline(-1, -0.6 + 0.2 * i, 2, 0.05).map(
      ([x, y]) => [2 + 0.9 * x - 0.3 * y, 2 + 0.3 * x + 0.9 * y, 1] as const,
    ),
    hole: false,
  })),
};

function solved(lamp: CompiledSource, quality: Partial<Quality>, cells = FINE): Float32Array {
  const scene = sceneOn(FLOOR, SIDE_M, SIDE_M, [lamp], [bars]);
  const request = { surfaceId: 'receiver', columns: cells, rows: cells };
  // Every receiver by itself, so that the face alone makes the difference.
  return solveGrid(scene, request, {}, { ...GRID_QUALITY, interpolation: 0, ...quality }).illuminanceLx;
}
const BOUND = GRID_QUALITY.turnRad ** 2;
const farthest = (a: Float32Array, b: Float32Array): number => {
  const peak = Math.max(...b);
  return a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i]!) / peak), 0);
};

describe('a face held for a cell', () => {
  test.each(['ball', 'tube', 'thick tube'] as const)('of a %s is within δ² of the one that turns', (name) => {
    const far = farthest(solved(LAMPS[name], {}), solved(LAMPS[name], { turnRad: 0 }));
    if (name !== 'thick tube') expect(far).toBeGreaterThan(0); // it was held; a thick tube's ends move too much
    expect(far).toBeLessThanOrEqual(BOUND);
  });

  test.each(['ball', 'tube'] as const)('of a %s would err more in larger cells, which do not hold it', (name) => {
    const turned = solved(LAMPS[name], { turnRad: 0 }, COARSE);
    expect(farthest(solved(LAMPS[name], {}, COARSE), turned)).toBe(0);
    expect(farthest(solved(LAMPS[name], { turnRad: 1 }, COARSE), turned)).toBeGreaterThan(BOUND);
  });

  test('is never that of a tube lit over a sector', () => {
    const lamp = LAMPS['tube lit over half its round'];
    expect(farthest(solved(lamp, {}), solved(lamp, { turnRad: 0 }))).toBe(0);
  });
});
