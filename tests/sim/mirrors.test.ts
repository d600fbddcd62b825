/**
 * Light off mirrors: hand cases by the law of reflection (the image lies as far behind the mirror as the lamp before
 * it; Euclid, Catoptrics; any textbook of optics), random scenes against brute force that follows the bent rays, and the
 * mirror set-up of the demo (tests/demo/customsOffice.test.ts) against an independent program.
 */
import { describe, expect, test } from 'vitest';
import type { Modifier, Source } from '../../src/scene/schema';
import { compileScene } from '../../src/sim/solve/compileScene';
import { solveGrid } from '../../src/sim/solve/solveGrid';
import { readPoint, type Receiver } from '../../src/sim/solve/solvePoint';
import { LEAST_REACHED, mirrorScene } from '../brute/mirrorScene';
import { agreementOn } from '../validation/kernelAgainstBrute';
import { facing, lamp, pointLamp, sceneOf, SETUP, sheetAcrossX, sunTowardsX } from '../validation/scenes';

/** A mirror at the origin that faces between +x and +y: it turns light that comes along -x to +y. */
const corner = (reflectance = 0.85, widthM = 1, panDeg = 45): Modifier => ({
  name: 'Mirror',
  pose: facing([0, 0, 0], panDeg, 0),
  shape: { kind: 'rectangle', widthM, heightM: 1 },
  material: { kind: 'mirror', reflectance },
});
const facingDown = (y: number, x = 0, z = 0): Receiver => ({ pointM: [x, y, z], normal: [0, -1, 0] });
const lux = (sources: Record<string, Source>, modifiers: Record<string, Modifier>, receiver: Receiver): number =>
  readPoint(compileScene(sceneOf({ sources, modifiers }), SETUP), receiver).illuminanceLx;

describe('one point lamp, one mirror', () => {
  const lampAt3 = { lamp: pointLamp([3, 0, 0], 1000) };
  /** Behind a board, so that the mirror's light alone is left. */
  const board = sheetAcrossX([0.6, 2.2, 0], 2.4, 2.4, { kind: 'opaque' });

  test('gives I ρ / (whole path)²', () => {
    // 3 m to the mirror and 4 m on: 1000 x 0.85 / 49.
    expect(lux(lampAt3, { board, mirror: corner() }, facingDown(4))).toBeCloseTo((1000 * 0.85) / 49, 9);
  });
  test('and nothing where the ray would meet the plane beside the outline', () => {
    // The image stands at (0, -3). To a receiver at (x, 4) its ray meets the plane y = -x at x (3/7) / (1 + x/7 ...).
    const meets = (x: number): number => {
      const share = 3 / (7 + x); // of the way from (0, -3) towards (x, 4), where y = -x
      return Math.abs(share * x) * Math.SQRT2; // along the mirror from its middle
    };
    for (const x of [-2, -1.5, -1, -0.5]) {
      const level = lux(lampAt3, { board, mirror: corner() }, facingDown(4, x));
      if (meets(x) < 0.5) expect(level).toBeGreaterThan(5);
      else expect(level).toBe(0);
    }
    expect(meets(-1)).toBeLessThan(0.75);
    expect(meets(-2)).toBeGreaterThan(0.5);
  });
  test('nothing off the back, which stops light as a flag does', () => {
    expect(lux(lampAt3, { board, mirror: corner(0.85, 1, 225) }, facingDown(4))).toBe(0);
    const straight: Receiver = { pointM: [-2, 0, 0], normal: [1, 0, 0] };
    expect(lux(lampAt3, {}, straight)).toBeCloseTo(1000 / 25, 9);
    expect(lux(lampAt3, { mirror: corner() }, straight)).toBe(0);
  });
  test('a flag in either leg stops it, a net in either dims it once', () => {
    const first = (material: Modifier['material']) => sheetAcrossX([1.5, 0, 0], 0.4, 0.4, material);
    const second = (material: Modifier['material']): Modifier => ({
      ...first(material),
      pose: facing([0, 2, 0], 0, 0),
    });
    const bare = (1000 * 0.85) / 49;
    const net = { kind: 'net', stops: 1, weave: 'plain' } as const;
    for (const leg of [first, second]) {
      expect(lux(lampAt3, { board, mirror: corner(), leg: leg({ kind: 'opaque' }) }, facingDown(4))).toBe(0);
      expect(lux(lampAt3, { board, mirror: corner(), leg: leg(net) }, facingDown(4))).toBeCloseTo(bare / 2, 9);
    }
  });
  test('light straight and off the mirror is one reading of one source', () => {
    const receiver: Receiver = { pointM: [0.2, 2, 0], normal: [0, -1, 0] };
    const scene = compileScene(sceneOf({ sources: lampAt3, modifiers: { mirror: corner() } }), SETUP);
    const reading = readPoint(scene, receiver);
    // The lamp: 2.8 m across and 2 m up. The image at (0, -3): 0.2 m across and 5 m up.
    const straight = (1000 * 2) / (2.8 ** 2 + 2 ** 2) ** 1.5;
    expect(reading.bySource).toHaveLength(1);
    expect(reading.illuminanceLx).toBeCloseTo(straight + (850 * 5) / (0.2 ** 2 + 5 ** 2) ** 1.5, 9);
    expect(reading.bySource[0]!.illuminanceLx).toBe(reading.illuminanceLx);
    expect(reading.bySource[0]!.incidenceDeg).toBeCloseTo((Math.atan2(2.8, 2) * 180) / Math.PI, 6);
  });
});

test('a mirror shows right for left: a shutter from the right cuts the left of the picture', () => {
  const spot = (turnDeg: number): Source =>
    lamp(
      facing([3, 0, 0], 270, 0),
      { shape: 'disc', diameterM: 0.05 },
      {
        kind: 'projection',
        fieldAngleDeg: 30,
        edgeWidthDeg: 1,
        shutters: [{ offsetDeg: 2, turnDeg, edgeWidthDeg: 0.5 }],
      },
      { kind: 'candela', candela: 10_000 },
    );
  const at = (turnDeg: number, x: number): number =>
    lux({ spot: spot(turnDeg) }, { mirror: corner(0.85, 3) }, facingDown(4, x));
  // Looking along the beam, -x, the right hand is +y; after the mirror the beam runs along +y and what was on the side of
  // +y lies on the side of -x, which somebody who looks along +y has on the left.
  expect(at(0, -0.6)).toBeLessThan(1);
  expect(at(0, 0.6)).toBeGreaterThan(100);
  expect(at(180, 0.6)).toBeLessThan(1);
  expect(at(180, -0.6)).toBeGreaterThan(100);
});

test('the sun off a mirror comes as from a sun behind it, and is not weaker for the way', () => {
  const sun = { sun: sunTowardsX(0.533, 80_000) };
  for (const y of [2, 6]) {
    const straight = lux(sun, {}, { pointM: [0, y, 0], normal: [1, 0, 0] });
    const offMirror = (receiver: Receiver): number =>
      lux(sun, { mirror: corner() }, receiver) - lux(sun, { board: corner(0) }, receiver);
    expect(offMirror(facingDown(y)) / straight).toBeCloseTo(0.85, 6);
  }
});

test('a grid holds what the readings say', () => {
  const wall = {
    name: 'Wall',
    kind: 'wall',
    pose: { positionM: [-2, 4, -1], aim: { panDeg: 180, tiltDeg: 0 } },
    shape: { kind: 'rectangle', widthM: 4, heightM: 2 },
  } as const;
  const source = lamp(
    facing([3, 0, 0], 270, 0),
    { shape: 'disc', diameterM: 0.3 },
    { kind: 'lambertian' },
    { kind: 'candela', candela: 5000 },
  );
  const document = sceneOf({
    sources: { source },
    modifiers: { mirror: corner() },
    surfaces: { wall: { ...wall, pose: { ...wall.pose, positionM: [-2, 4, -1] } } },
  });
  const scene = compileScene(document, SETUP);
  const [columns, rows] = [64, 32];
  const grid = solveGrid(scene, { surfaceId: 'wall', columns, rows });
  expect(grid.layers).toHaveLength(1);
  const peak = grid.illuminanceLx.reduce((most, value) => Math.max(most, value), 0);
  expect(peak).toBeGreaterThan(50);
  for (let cell = 0; cell < columns * rows; cell += 37) {
    const x = -2 + (((cell % columns) + 0.5) * 4) / columns;
    const z = -1 + ((Math.floor(cell / columns) + 0.5) * 2) / rows;
    const reading = readPoint(scene, { pointM: [x, 4, z], normal: [0, -1, 0], surfaceId: 'wall' });
    expect(Math.abs(grid.illuminanceLx[cell]! - reading.illuminanceLx)).toBeLessThan(0.005 * peak);
  }
});

describe('random scenes with two mirrors against brute force that follows the rays', () => {
  test.each(Array.from({ length: 6 }, (_, i) => i + 1))(
    'seed %d: at most 0.3 % of peak, mean 0.03 %',
    (seed) => {
      const scene = mirrorScene(seed);
      expect(scene.inPenumbra).toBeGreaterThanOrEqual(LEAST_REACHED); // receivers that a mirror reaches
      const agreement = agreementOn(scene, seed, 16384);
      expect(agreement.bySource.filter((one) => !(one.largest <= 0.003))).toEqual([]);
      expect(agreement.mean).toBeLessThanOrEqual(0.0003);
    },
    120_000,
  );
});
