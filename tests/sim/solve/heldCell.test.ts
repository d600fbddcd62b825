/**
 * What a map works out once for all receivers of a cell, against the same rule asked receiver by receiver: with every
 * receiver of the map taken by itself the two differ by no more than single precision keeps. Faces that turn with the
 * receiver are held too, which is an approximation with its own test (heldFace.test.ts).
 */
import { describe, expect, test } from 'vitest';
import type { Point2 } from '../../../src/scene/schema';
import type { BlockerLayer, CompiledSource } from '../../../src/sim/solve/compiled';
import { facesReceiver } from '../../../src/sim/solve/emitterFace';
import { GRID_QUALITY } from '../../../src/sim/solve/quality';
import { ALL_THINGS, ReceiverLight } from '../../../src/sim/solve/receiverLight';
import { rectangleOutline } from '../../../src/sim/solve/shapes';
import { layersInLight, ownLayersOf, planeOfSurface } from '../../../src/sim/solve/receivers';
import { cellCentres, solveGrid } from '../../../src/sim/solve/solveGrid';
import { ALL_ROLES, SourceIntegrator } from '../../../src/sim/solve/sourceIntegrator';
import { compileScene } from '../../../src/sim/solve/compileScene';
import { workloadOf } from '../../bench/tiltedRoom';
import { anyLamp, sceneOn } from '../../bench/workload';
import { randomScene } from '../../brute/randomScene';

const CELLS = 40;
const EVERY = { ...GRID_QUALITY, interpolation: 0 };

/** The sun of random scene 15, alone. */
function sunAlone(): ReturnType<typeof compileScene> {
  const { document, setupId } = randomScene(15);
  const scene = compileScene(document, setupId);
  return { ...scene, sources: scene.sources.filter(({ shape }) => shape.kind === 'sun') };
}
const FLOOR = { origin: [0, 0, 0], right: [1, 0, 0], up: [0, 1, 0], forward: [0, 0, 1] } as const;
const SIDE_M = 4;

/** A panel that shines down, so near the floor that it takes many parts there and fewer aside, or far. */
const panel = (id: string, heightM: number): CompiledSource => ({
  id,
  source: anyLamp,
  level: 1,
  frame: { origin: [1, 2, heightM], forward: [0, 0, -1], right: [1, 0, 0], up: [0, -1, 0] },
  shape: { kind: 'rectangle', halfWidthM: 0.15, halfHeightM: 0.1 },
  profile: { kind: 'cosine', exponent: 1 },
  peakCandela: 1000,
  outletM: 0,
  colour: null,
  image: null,
});
const level = (id: string, opacity: number, heightM: number, outline: readonly Point2[]): BlockerLayer => ({
  id,
  ownSurfaceId: null,
  onlySourceId: null,
  role: 'cut',
  origin: [0, 0, heightM],
  normal: [0, 0, 1],
  opacity,
  weave: null,
  pieces: [{ corners: outline.map(([x, y]) => [x, y, heightM] as const), hole: false }],
});
/** A scrim so wide that it covers whole cells, and a bar aslant under it. */
const things = [
  level('scrim', 0.3, 0.2, rectangleOutline(1.2, 0.5, 2, 3)),
  level('bar', 1, 0.1, [
    [0.2, 1],
    [0.3, 1],
    [2.8, 3],
    [2.7, 3],
  ]),
];
/** Half-shadows of so many scrims over one another that their products come to more polygons than a part may cost. */
const stacked = Array.from({ length: 12 }, (_, i) =>
  level(`scrim ${i}`, 0.2, 1 + i / 50, rectangleOutline(1 + i / 400, 0.5, 2, 3)),
);
const panels = sceneOn(FLOOR, SIDE_M, SIDE_M, [panel('near', 0.35), panel('far', 2.5)], things);

const SCENES = [
  { name: 'W1', ...workloadOf('W1') },
  { name: 'W4', ...workloadOf('W4') },
  { name: 'a random scene', scene: sunAlone(), surfaceId: 'face' },
  { name: 'panels over a scrim', scene: panels, surfaceId: 'receiver' },
  {
    name: 'a panel over a stack of scrims',
    scene: sceneOn(FLOOR, SIDE_M, SIDE_M, [panel('far', 2.5)], stacked),
    surfaceId: 'receiver',
  },
];

describe.each(SCENES)('$name', ({ scene, surfaceId }) => {
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

describe('a held cell', () => {
  const surface = panels.surfaces.get('receiver')!;
  const meter = (source: CompiledSource, within = panels): SourceIntegrator => {
    const single = new SourceIntegrator(source, layersInLight(within, source), EVERY);
    single.usePlane(planeOfSurface(surface), ownLayersOf('receiver'));
    return single;
  };

  test('is not taken for another lamp that is read in between', () => {
    const [near, far] = panels.sources as [CompiledSource, CompiledSource];
    const light = new ReceiverLight(far, layersInLight(panels, far), planeOfSurface(surface), GRID_QUALITY, 2);
    const other = meter({ ...near, peakCandela: 5 * near.peakCandela });
    const { occlusion } = light;
    const moveTo = (x: number, y: number): void => occlusion.at.set([x, y]);
    const readLx = (): number => {
      moveTo(1.02, 2.01);
      expect(light.place()).toBe(true);
      light.integrate(1, ALL_THINGS, 'full');
      return light.integral.total[0]!;
    };
    moveTo(1, 2);
    occlusion.half.fill(0.05);
    expect(occlusion.narrow(0, ALL_THINGS, false)).toBe(true);
    const singleLx = readLx();
    moveTo(1, 2);
    light.hold(1, ALL_THINGS, true);
    const heldLx = readLx();
    expect(other.moveTo(1, 2)).toBe(true);
    expect(other.illuminanceLx(ALL_ROLES)).toBeGreaterThan(2 * heldLx);
    expect(heldLx).toBeCloseTo(singleLx, 9);
    expect(readLx()).toBeCloseTo(singleLx, 9);
  });

  test('of one lamp and then of another gives each its own, receiver by receiver', () => {
    const meters = panels.sources.map((source) => meter(source));
    const at = [...cellCentres(0, SIDE_M, 12)];
    const places = at.flatMap((y) => at.map((x) => [x, y] as const));
    const read = (single: SourceIntegrator, [x, y]: readonly [number, number]): number =>
      single.moveTo(x, y) ? single.illuminanceLx(ALL_ROLES) : 0;
    const inTurn = places.map((place) => meters.map((single) => read(single, place)));
    const apart = panels.sources.map((source) => {
      const single = meter(source);
      return places.map((place) => read(single, place));
    });
    expect(inTurn).toEqual(places.map((_, i) => apart.map((lux) => lux[i]!)));
  });

  test('that cannot be laid out whole, of more pieces than there is room for, is read one by one', () => {
    // A sheet of small squares, so many of which stand between the lamp and some receiver of the one cell.
    const across = 150;
    const sheet: BlockerLayer = {
      ...level('sheet', 1, 0.5, []),
      pieces: Array.from({ length: across * across }, (_, i) => {
        const [x, y] = [0.5 + (3 * (i % across)) / across, 0.5 + (3 * Math.floor(i / across)) / across];
        return { corners: rectangleOutline(x, y, 0.012, 0.012).map(([u, v]) => [u, v, 0.5] as const), hole: false };
      }),
    };
    const one = sceneOn(FLOOR, SIDE_M, SIDE_M, [panel('far', 6)], [sheet]);
    const map = solveGrid(one, { surfaceId: 'receiver', columns: 4, rows: 4 }, {}, EVERY).illuminanceLx;
    const single = meter(one.sources[0]!, one);
    const at = cellCentres(0, SIDE_M, 4);
    const read = Array.from(at).flatMap((y) =>
      Array.from(at, (x) => (single.moveTo(x, y) ? single.illuminanceLx(ALL_ROLES) : 0)),
    );
    const peakLx = Math.max(...map);
    expect(peakLx).toBeGreaterThan(0);
    read.forEach((lux, i) => expect(Math.abs(map[i]! - lux)).toBeLessThan(1e-6 * peakLx));
  });
});
