/**
 * The brute-force integrator against published values (tests/reference/check-values.json) and cases worked by hand,
 * so that a fault in it is found here and not taken for one of the kernel.
 */
import { describe, expect, test } from 'vitest';
import {
  sceneSchema,
  type Distribution,
  type Emitter,
  type Lamp,
  type Material,
  type Modifier,
  type Pose,
  type SceneDocument,
  type Source,
  type Surface,
} from '../../src/scene/schema';
import checkValues from '../reference/check-values.json';
import { bruteIlluminance, type BruteReceiver } from './bruteIlluminance';
import { axesOf } from './poses';
import { randomScene } from './randomScene';
import { scrambledNet, type Triple } from './vectors';

const SAMPLES = 16384;
const expected = (id: string): number => checkValues.find((entry) => entry.id === id)!.expected;
const unitAt = (degrees: number): Triple => [
  Math.cos((degrees * Math.PI) / 180),
  0,
  Math.sin((degrees * Math.PI) / 180),
];
const pose = (positionM: [number, number, number], panDeg: number, tiltDeg: number, rollDeg = 0): Pose => ({
  positionM,
  aim: { panDeg, tiltDeg, rollDeg },
});

function scene(
  source: Source,
  modifiers: Record<string, Modifier> = {},
  surfaces: Record<string, Surface> = {},
): SceneDocument {
  return sceneSchema.parse({
    format: 'farsun-scene',
    formatVersion: 1,
    name: 'Brute',
    camera: { iso: 800, framesPerSecond: 24, shutterAngleDeg: 180, tStop: 2.8 },
    surfaces,
    meters: {},
    setups: [{ id: 'one', name: 'One', sources: { lamp: source }, modifiers }],
  });
}
const lux = (document: SceneDocument, receiver: BruteReceiver, samples = SAMPLES): number =>
  bruteIlluminance(document, 'one', receiver, samples, 7).get('lamp')!;

/** A lamp at `positionM` that looks along -x. */
const lampAt = (
  positionM: [number, number, number],
  emitter: Emitter,
  distribution: Distribution,
  output: Lamp['output'] = { kind: 'luminance', luminanceCdM2: 1000 },
): Lamp => ({ type: 'lamp', name: 'Lamp', pose: pose(positionM, 270, 0), emitter, distribution, output });
const lambertian: Distribution = { kind: 'lambertian' };
const candela = (value: number): Lamp['output'] => ({ kind: 'candela', candela: value });
const pointAt = (positionM: [number, number, number], value = 1000): Lamp =>
  lampAt(positionM, { shape: 'point' }, { kind: 'uniform' }, candela(value));
const origin: BruteReceiver = { pointM: [0, 0, 0], normal: [1, 0, 0] };
const sheet = (positionM: [number, number, number], widthM: number, heightM: number, material: Material): Modifier => ({
  name: 'Sheet',
  pose: pose(positionM, 90, 0),
  shape: { kind: 'rectangle', widthM, heightM },
  material,
});

describe('unobstructed emitters against published values', () => {
  const disc = (radiusM: number, at: [number, number, number]) =>
    lampAt(at, { shape: 'disc', diameterM: 2 * radiusM }, lambertian);
  const panel = (widthM: number, heightM: number, at: [number, number, number]) =>
    lampAt(at, { shape: 'rectangle', widthM, heightM }, lambertian);
  const globe = (radiusM: number, far: number) =>
    lampAt([far, 0, 0], { shape: 'sphere', diameterM: 2 * radiusM }, { kind: 'uniform' });
  const tube = (radiusM: number, lengthM: number, far: number) =>
    lampAt([far, lengthM / 2, 0], { shape: 'tube', lengthM, diameterM: 2 * radiusM }, lambertian);
  const cases: [id: string, source: Source, receiver: BruteReceiver, scale?: number][] = [
    ['1.1b', pointAt([4, 0, 0], 10000), { pointM: [0, 0, 0], normal: unitAt(30) }],
    ['2.1b', disc(0.5, [2, 0, 0]), origin],
    ['2.1d', disc(1, [0.5, 0, 0]), origin],
    ['2.1e', disc(0.5, [2, 0, 0]), { pointM: [0, 0, 0], normal: unitAt(40) }],
    ['2.2c', disc(1, [0.5, 0.5, 0]), origin],
    ['2.2d', disc(0.5, [1, 0, 0]), { pointM: [0, 0.75, 0], normal: [0, -1, 0] }],
    ['2.3a', panel(1, 1, [1, 0.5, 0.5]), origin, Math.PI * 1000],
    ['2.3e', panel(1.2, 0.6, [2, 1.5, 0]), origin],
    ['2.4c', panel(3, 2.4, [1, 1.5, 1.2]), { pointM: [0, 0, 0], normal: [0, 0, 1] }, Math.PI * 1000],
    ['2.5d', panel(2, 2, [1, 0, 0]), { pointM: [0, 0, 0], normal: [0, 0, 1] }],
    ['2.6b', globe(0.25, 1), { pointM: [0, 0, 0], normal: unitAt(50) }],
    ['2.6c', globe(0.4, 0.6), { pointM: [0, 0, 0], normal: unitAt(20) }],
    ['2.6d', globe(0.5, 1), { pointM: [0, 0, 0], normal: unitAt(75) }],
    ['2.6f', globe(0.5, 1), { pointM: [0, 0, 0], normal: unitAt(110) }],
    ['2.8a', tube(0.019, 1.2, 1), origin],
    ['2.8b', tube(0.1, 1, 0.5), origin],
  ];
  test.each(cases)('%s', (id, source, receiver, scale = 1) => {
    expect(Math.abs(lux(scene(source), receiver) / scale / expected(id) - 1)).toBeLessThan(1e-3);
  });

  test('lumens: a cos^n beam (1.3f) and a hard-edged cone (1.4a)', () => {
    const at = (distribution: Distribution) =>
      100 * lux(scene(lampAt([10, 0, 0], { shape: 'point' }, distribution, { kind: 'lumens', lumens: 10000 })), origin);
    const exponent = expected('1.3d');
    expect(at({ kind: 'cosinePower', exponent })).toBeCloseTo(expected('1.3f'), 0);
    const cone = at({ kind: 'projection', fieldAngleDeg: 20, edgeWidthDeg: 0.05 });
    expect(cone / expected('1.4a')).toBeCloseTo(1, 3);
  });

  test('a level halves the light and off ends it', () => {
    expect(lux(scene({ ...pointAt([2, 0, 0]), level: 0.5 }), origin)).toBeCloseTo(125, 9);
    expect(lux(scene({ ...pointAt([2, 0, 0]), off: true }), origin)).toBe(0);
  });
});

describe('shadows and losses against published values', () => {
  const flag = sheet([1, -20, 0], 40, 40, { kind: 'opaque' });
  const sun: Source = {
    type: 'sun',
    name: 'Sun',
    altitudeDeg: 0,
    azimuthDeg: 90,
    angularDiameterDeg: 1,
    normalIlluminanceLx: 1000,
  };
  test.each([
    ['3.4a', -0.5],
    ['3.4b', 0],
    ['3.4c', 0.25],
    ['3.4d', 0.5],
  ])('%s: visible share of the sun at an edge, t = %d', (id, t) => {
    const pointM: Triple = [0, t * Math.tan(Math.PI / 360), 0];
    expect(Math.abs(lux(scene(sun, { flag }), { ...origin, pointM }) / 1000 - expected(id))).toBeLessThan(1.5e-3);
  });

  const through = (stops: number, weave: 'plain' | 'woven', tiltDeg: number) =>
    lux(
      scene(pointAt([2, 0, 0]), {
        net: { ...sheet([1, 0, 0], 1, 1, { kind: 'net', stops, weave }), pose: pose([1, 0, 0], 90 + tiltDeg, 0) },
      }),
      origin,
    ) / 250;
  test('nets: half a stop (8.1a), a woven mesh square-on and raked (8.4a, 8.4b)', () => {
    const stops = -2 * Math.log2(0.84);
    expect(through(0.5, 'plain', 0)).toBeCloseTo(expected('8.1a'), 9);
    expect(through(0.5, 'plain', 45)).toBeCloseTo(expected('8.1a'), 9);
    expect(through(stops, 'woven', 0)).toBeCloseTo(expected('8.4a'), 9);
    expect(through(stops, 'woven', 45)).toBeCloseTo(expected('8.4b'), 9);
  });
});

describe('conventions, by hand', () => {
  test('axes: a wall that faces -y has right along +x; roll turns clockwise seen from behind', () => {
    const { right, up } = axesOf(pose([0, 0, 0], 180, 0));
    expect(right[0]).toBeCloseTo(1, 12);
    expect(up[2]).toBeCloseTo(1, 12);
    // Behind something that looks along +y stands somebody with +x on the right: up swings that way.
    expect(axesOf(pose([0, 0, 0], 0, 0, 90)).up[0]).toBeCloseTo(1, 12);
    const floor = axesOf(pose([0, 0, 0], 180, 90));
    expect(floor.right[0]).toBeCloseTo(1, 12);
    expect(floor.up[1]).toBeCloseTo(1, 12);
  });

  test('shutters: turn 0 cuts the right and 90 the top, seen from behind the lamp', () => {
    const gate = (turnDeg: number): Lamp => ({
      ...lampAt(
        [0, 0, 0],
        { shape: 'point' },
        {
          kind: 'projection',
          fieldAngleDeg: 60,
          edgeWidthDeg: 1,
          shutters: [{ offsetDeg: 0, turnDeg, edgeWidthDeg: 0.5 }],
        },
        candela(100),
      ),
      pose: pose([0, 0, 0], 0, 0),
    });
    const at = (turnDeg: number, x: number, z: number) =>
      lux(scene(gate(turnDeg)), { pointM: [x, 1, z], normal: [0, -1, 0] });
    expect(at(0, 0.2, 0)).toBe(0);
    expect(at(0, -0.2, 0)).toBeGreaterThan(80);
    expect(at(90, 0, 0.2)).toBe(0);
    expect(at(90, 0, -0.2)).toBeGreaterThan(80);
    expect(at(0, 0, 0)).toBeCloseTo(50, 9);
  });

  test('projection: sharp at its focus, blurred by the lens elsewhere', () => {
    const spot = lampAt(
      [4, 0, 0],
      { shape: 'disc', diameterM: 0.2 },
      {
        kind: 'projection',
        fieldAngleDeg: 30,
        edgeWidthDeg: 0.2,
        focusM: 4,
      },
      candela(1600),
    );
    const edgeM = 4 * Math.tan((15 * Math.PI) / 180);
    const level = (aside: number, x: number) => lux(scene(spot), { pointM: [x, aside, 0], normal: [1, 0, 0] });
    // At the focus the edge is as sharp as the gate; 5 cm beyond it nothing arrives.
    expect(level(edgeM + 0.05, 0)).toBe(0);
    expect(level(edgeM - 0.05, 0)).toBeGreaterThan(80);
    // At half the distance the lens's 20 cm blur to 10 cm.
    expect(level(edgeM / 2 + 0.03, 2)).toBeGreaterThan(10);
  });

  test('a beam falls to half and a tenth at its angles, from its virtual origin', () => {
    const beam: Distribution = { kind: 'beam', beamAngleDeg: 20, fieldAngleDeg: 36, virtualOriginM: 1 };
    const source = lampAt([4, 0, 0], { shape: 'point' }, beam, { kind: 'luxAt', illuminanceLx: 100, distanceM: 4 });
    expect(lux(scene(source), origin)).toBeCloseTo(100, 9);
    const intensityAt = (degrees: number) => {
      const aside = 5 * Math.tan((degrees * Math.PI) / 180);
      const far = Math.hypot(5, aside);
      return (lux(scene(source), { pointM: [0, aside, 0], normal: [1, 0, 0] }) * far ** 3) / 5;
    };
    expect(intensityAt(10) / intensityAt(0)).toBeCloseTo(0.5, 9);
    expect(intensityAt(18) / intensityAt(0)).toBeCloseTo(0.1, 9);
  });

  test('one-sided: nothing behind a panel, nor behind a cosine point; a uniform point shines all round', () => {
    const behind: BruteReceiver = { pointM: [3, 0, 0], normal: [-1, 0, 0] };
    expect(lux(scene(lampAt([2, 0, 0], { shape: 'rectangle', widthM: 1, heightM: 1 }, lambertian)), behind)).toBe(0);
    expect(lux(scene(lampAt([2, 0, 0], { shape: 'point' }, lambertian, candela(10))), behind)).toBe(0);
    expect(lux(scene(pointAt([2, 0, 0], 10)), behind)).toBeCloseTo(10, 9);
  });

  test('holes pass light; frames have rods round the cloth but on open sides', () => {
    const ring: Modifier = {
      ...sheet([1, 0, 0], 1, 1, { kind: 'opaque' }),
      shape: {
        kind: 'polygon',
        outlineM: [
          [-0.5, -0.5],
          [0.5, -0.5],
          [0.5, 0.5],
          [-0.5, 0.5],
        ],
        holesM: [
          [
            [-0.1, -0.1],
            [0.1, -0.1],
            [0.1, 0.1],
            [-0.1, 0.1],
          ],
        ],
      },
    };
    const across = (modifier: Modifier, y: number, z = 0) =>
      lux(scene(pointAt([2, 0, 0]), { it: modifier }), { ...origin, pointM: [0, y, z] });
    expect(across(ring, 0.1)).toBeGreaterThan(200);
    expect(across(ring, 0.3)).toBe(0);
    const net: Modifier = {
      ...sheet([1, 0, 0], 0.4, 0.4, { kind: 'net', stops: 1, weave: 'plain' }),
      frame: { rodWidthM: 0.02, openSides: ['left'] },
    };
    // Seen from its front (from +x) right is +y: the left rod, at negative y, is missing.
    const open = (y: number) => (1000 * 2) / (4 + y * y) ** 1.5;
    expect(across(net, 0.38)).toBeCloseTo(open(0.38) / 2, 9);
    expect(across(net, 0.42)).toBe(0);
    expect(across(net, -0.42)).toBeCloseTo(open(0.42), 9);
    expect(across(net, 0.46)).toBeCloseTo(open(0.46), 9);
  });

  test('a wall blocks outside its opening, on both faces; bars and glass stand in the opening', () => {
    // Facing -x a wall's right is -y: from its origin at y = 2 it runs to y = -2.
    const opened: Surface = {
      name: 'Wall',
      kind: 'wall',
      pose: pose([1, 2, -2], 270, 0),
      shape: { kind: 'rectangle', widthM: 4, heightM: 4 },
      thicknessM: 0.5,
      openings: {
        one: {
          leftM: 1.5,
          sillM: 1.5,
          shape: { kind: 'rectangle', widthM: 1, heightM: 1 },
          window: { columns: 2, rows: 1, barWidthM: 0.1, barDepthM: 0.25, glass: { transmittance: 0.8 } },
        },
      },
    };
    const through = (y: number, from: number) =>
      lux(scene(pointAt([4, from, 0]), {}, { opened }), { pointM: [0, y, 0], normal: [1, 0, 0] });
    expect(through(0, 0)).toBe(0); // the bar
    expect(through(0.3, 0)).toBeGreaterThan(0.79 * 60);
    expect(through(0.3, 0) / lux(scene(pointAt([4, 0, 0])), { pointM: [0, 0.3, 0], normal: [1, 0, 0] })).toBeCloseTo(
      0.8,
      9,
    );
    expect(through(1.2, 0)).toBe(0); // inner face
    // Enters the outer face (x = 1.5) at y = 0.55: cut by the reveal although the inner face is met at 0.45.
    expect(through(0.25, 1.05)).toBe(0);
    expect(through(0.1, 1.05)).toBeGreaterThan(0);
    // A receiver on the lit face is not hidden by that face.
    const onWall: BruteReceiver = { pointM: [1, 1.2, 0], normal: [-1, 0, 0], surfaceId: 'opened' };
    expect(lux(scene(pointAt([0, 0, 0]), {}, { opened }), onWall)).toBeGreaterThan(0);
    const plane: Surface = { ...opened, kind: 'readingPlane' };
    expect(lux(scene(pointAt([0, 0, 0]), {}, { plane }), { pointM: [2, 1.2, 0], normal: [-1, 0, 0] })).toBeGreaterThan(
      0,
    );
  });

  test('the sun stands where its azimuth says, north turned with the plan', () => {
    const sun: Source = { type: 'sun', name: 'Sun', altitudeDeg: 30, azimuthDeg: 90, normalIlluminanceLx: 800 };
    const document = { ...scene(sun), northDeg: 90 };
    // East of a north that lies along +x is -y.
    expect(lux(document, { pointM: [0, 0, 0], normal: [0, -1, 0] })).toBeCloseTo(800 * Math.cos(Math.PI / 6), 2);
    expect(lux(document, { pointM: [0, 0, 0], normal: [0, 0, 1] })).toBeCloseTo(400, 1);
    expect(lux(document, { pointM: [0, 0, 0], normal: [0, 1, 0] })).toBe(0);
  });

  test('what plain sampling does not cover is refused, never left out in silence', () => {
    const bounce: Modifier = sheet([1, 0, 0], 1, 1, { kind: 'bounce', reflectance: 0.8 });
    expect(() => lux(scene(pointAt([2, 0, 0]), { bounce }), origin)).toThrow(/bounce/);
    expect(() => bruteIlluminance(scene(pointAt([2, 0, 0])), 'two', origin, 16, 1)).toThrow(/two/);
  });
});

describe('the machinery', () => {
  test('every dyadic box of the point set holds its share', () => {
    const points = scrambledNet(1024, 5);
    for (const [columns, rows] of [
      [32, 32],
      [1024, 1],
      [1, 1024],
      [128, 8],
    ] as const) {
      const cells = new Set<number>();
      for (let i = 0; i < 1024; i++)
        cells.add(Math.floor(points[2 * i]! * columns) * rows + Math.floor(points[2 * i + 1]! * rows));
      expect(cells.size).toBe(1024);
    }
    expect(Array.from(scrambledNet(4, 5))).not.toEqual(Array.from(scrambledNet(4, 6)));
  });

  test('two seeds agree, and a random scene is the same every time', () => {
    const { document, setupId, receivers, inPenumbra } = randomScene(3);
    expect(randomScene(3).document).toEqual(document);
    expect(receivers).toHaveLength(64);
    expect(inPenumbra).toBeGreaterThanOrEqual(42);
    for (const receiver of receivers.slice(0, 8)) {
      const [one, two] = [1, 2].map((seed) => bruteIlluminance(document, setupId, receiver, SAMPLES, seed));
      for (const [id, level] of one!) expect(Math.abs(level - two!.get(id)!)).toBeLessThan(0.003 * (level + 50));
    }
  });
});
