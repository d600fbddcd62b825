/** What lamps carry, case by case: colour of gels, walls behind a lens, scrims all round, where each thing acts. */
import { describe, expect, test } from 'vitest';
import type { Distribution, Lamp, SceneDocument, Surface } from '../../src/scene/schema';
import { loadScene } from '../../src/scene/load';
import { compileScene } from '../../src/sim/solve/compileScene';
import { readPoint } from '../../src/sim/solve/solvePoint';
import { referenceRows } from './colour/referenceValues';
import { facing, lamp, meterOf, reading, sceneOf, SETUP } from '../validation/scenes';

const LENS: Distribution = {
  kind: 'lensed',
  lensDiameterM: 0.2,
  focalLengthM: 0.3,
  sourceDiameterM: 0.02,
  lampToLensM: 0.28,
  beamAngleDeg: 40,
};
/** A lamp at the origin that looks along +x. */
const lampWith = (distribution: Distribution, accessories: Lamp['accessories'] = []): Lamp => ({
  ...lamp(facing([0, 0, 0], 90, 0), { shape: 'disc', diameterM: 0.2 }, distribution, {
    kind: 'candela',
    candela: 10_000,
  }),
  accessories,
});
const AHEAD = { at: [5, 0, 0], normal: [-1, 0, 0] } as const;

const shifts = new Map(referenceRows('7.7').map((row) => [row.id, row]));

describe('gels', () => {
  const read = (colour: Lamp['colour'], accessories: Lamp['accessories']) => {
    const source = { ...lampWith({ kind: 'lambertian' }, accessories), ...(colour && { colour }) };
    const { at, normal } = AHEAD;
    return readPoint(compileScene(sceneOf({ sources: { source } }), SETUP), { pointM: at, normal });
  };
  test.each(['7.7c', '7.7d', '7.7e', '7.7f', '7.7g'])('mired shift, check value %s', (id) => {
    const { expected, inputs } = shifts.get(id)!;
    const { T1_K: cctK, shift_mired: miredShift } = inputs as unknown as { T1_K: number; shift_mired: number };
    const { cctK: shifted, duv } = read({ cctK }, [{ kind: 'gel', transmittance: 0.5, miredShift }]);
    expect(shifted! / expected).toBeCloseTo(1, 5);
    expect(duv).toBeCloseTo(0, 6);
  });
  test('two gels: their losses multiply, their shifts add; green raises Duv', () => {
    const open = read({ cctK: 3200 }, []);
    const gelled = read({ cctK: 3200, duv: 0.001 }, [
      { kind: 'gel', transmittance: 0.8, miredShift: -78 },
      { kind: 'gel', transmittance: 0.5, miredShift: -35, greenShift: 0.004 },
    ]);
    expect(gelled.illuminanceLx / open.illuminanceLx).toBeCloseTo(0.4, 12);
    expect(gelled.cctK! / shifts.get('7.7h')!.expected).toBeCloseTo(1, 5);
    expect(gelled.duv).toBeCloseTo(0.005, 6);
  });
  test('no colour stays no colour, and a shift past white leaves none', () => {
    expect(read(undefined, [{ kind: 'gel', transmittance: 0.5, miredShift: 50 }]).cctK).toBeNull();
    expect(read({ cctK: 5600 }, [{ kind: 'gel', transmittance: 0.5, miredShift: -300 }]).cctK).toBeNull();
  });
});

describe('the outlet', () => {
  /** A wall across the axis, facing +x; its origin is the lower left corner as seen from +x. */
  const wallAt = (x: number): Surface => ({
    name: 'Wall',
    kind: 'wall',
    pose: facing([x, -3, -3], 90, 0),
    shape: { kind: 'rectangle', widthM: 6, heightM: 6 },
  });
  const through = (source: Lamp, x: number): number =>
    meterOf({ sources: { source }, surfaces: { wall: wallAt(x) } })(AHEAD);

  // v = 0.28 x 0.3 / 0.02 = 4.2 m: the virtual source stands far behind a wall at the lamp's back.
  test.each<[string, Distribution]>([
    ['lensed spot', LENS],
    ['beam from a virtual origin', { kind: 'beam', beamAngleDeg: 40, virtualOriginM: 3 }],
  ])('%s: a wall behind it takes nothing, one before it all', (_, distribution) => {
    const source = lampWith(distribution);
    const open = reading(source, AHEAD);
    expect(open).toBeGreaterThan(50);
    expect(through(source, -1)).toBeCloseTo(open, 9);
    expect(through(source, 1)).toBe(0);
    expect(reading(source, { at: [-1, 0, 0], normal: [-1, 0, 0] })).toBe(0);
  });

  test('what holds a half scrim lets nothing out beside it', () => {
    const half = lampWith({ kind: 'lambertian' }, [
      { kind: 'wireScrim', stops: 1, slotM: 0.05, half: { clockDeg: 0 } },
    ]);
    expect(reading(half, { at: [0.04, -1, 0], normal: [0, 1, 0] })).toBe(0);
    // Right, seen from behind a lamp that looks along +x, is -y.
    // Beyond 63 degrees off the axis every ray from the disc's 10 cm passes the slot on one side.
    const [right, left] = [-3, 3].map((y) => {
      const probe = { at: [1, y, 0] as const, normal: [-1, 0, 0] as const };
      return reading(half, probe) / reading(lampWith({ kind: 'lambertian' }), probe);
    });
    expect(right).toBeCloseTo(0.5, 9);
    expect(left).toBeCloseTo(1, 9);
  });
});

test.each<[string, Lamp['emitter'], Distribution]>([
  ['point', { shape: 'point' }, { kind: 'uniform' }],
  ['globe', { shape: 'sphere', diameterM: 0.3 }, { kind: 'uniform' }],
  ['tube', { shape: 'tube', lengthM: 1, diameterM: 0.05 }, { kind: 'lambertian' }],
])('a whole double round an all-round %s halves its light every way', (_, emitter, distribution) => {
  const bare = lamp(facing([0, 0, 0], 90, 0), emitter, distribution, { kind: 'candela', candela: 1000 });
  const caged: Lamp = { ...bare, accessories: [{ kind: 'wireScrim', stops: 1 }] };
  for (const x of [2, -2]) {
    const probe = { at: [x, 0.3, 0.2] as const, normal: [-Math.sign(x), 0, 0] as const };
    expect(reading(bare, probe)).toBeGreaterThan(0);
    expect(reading(caged, probe) / reading(bare, probe)).toBeCloseTo(0.5, 12);
  }
});

describe('a lensed spot', () => {
  test('centre-beam candela and level at a distance come out, also where the rim vignettes', () => {
    // 24 cm of virtual source behind a lens of 15 cm.
    const narrow: Distribution = { ...LENS, lensDiameterM: 0.15, sourceDiameterM: 0.016 };
    const far = reading(lampWith(narrow), { at: [9000, 0, 0], normal: [-1, 0, 0] });
    expect((far * 9004.2 ** 2) / 10_000).toBeCloseTo(1, 2);
    const metered: Lamp = { ...lampWith(narrow), output: { kind: 'luxAt', illuminanceLx: 800, distanceM: 5 } };
    expect(reading(metered, AHEAD) / 800).toBeCloseTo(1, 2);
  });
  test.each([0.3, 0.2999, 0.5])('a source %d m from a lens of 0.3 m is refused in words', (lampToLensM) => {
    const document: SceneDocument = sceneOf({ sources: { source: lampWith(LENS) } });
    const asTyped = JSON.parse(JSON.stringify(document)) as SceneDocument;
    const source = asTyped.setups[0]!.sources.source as Lamp;
    Object.assign(source.distribution, { lampToLensM });
    const loaded = loadScene(JSON.stringify(asTyped), 'typed.json');
    expect(JSON.stringify(loaded)).toContain('a length below the focal length, 0.3');
  });
});
