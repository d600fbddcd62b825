/**
 * Photometric files in the kernel against brute force, which reads and interpolates them by code of its own: every type
 * of goniometer, every emitter that a file's opening or the lamp itself may have, near and far, behind a flag.
 */
import { describe, expect, test } from 'vitest';
import type { Emitter, Output } from '../../src/scene/schema';
import { lm63, radians, steps, type Lm63Parts } from '../files/photometry/compose';
import { agreementOn } from '../validation/kernelAgainstBrute';
import { facing, lamp, sceneOf, SETUP, sheetAcrossX } from '../validation/scenes';
import { RECEIVERS } from '../brute/randomScene';

const SAMPLES = 16384;
const LARGEST = 0.003;
const MEAN = 0.0002;

const bell = (angleDeg: number, halfDeg: number): number => Math.pow(0.5, (angleDeg / halfDeg) ** 2);
const round: Lm63Parts = {
  verticalDeg: steps(0, 90, 2.5),
  horizontalDeg: [0],
  intensity: (g) => 20_000 * bell(g, 14),
};
const lopsided: Lm63Parts = {
  verticalDeg: steps(0, 90, 5),
  horizontalDeg: steps(0, 360, 22.5),
  intensity: (g, c) =>
    9000 * Math.cos(radians(g)) * (1 + 0.6 * Math.sin(radians(g)) * Math.cos(radians(c - 40))) + (400 * (90 - g)) / 90,
};
const quarter: Lm63Parts = { ...lopsided, horizontalDeg: steps(0, 90, 15) };
const half: Lm63Parts = { ...lopsided, horizontalDeg: steps(0, 180, 20) };
/** Far narrower than the opening looks from the wall. */
const needle: Lm63Parts = { ...round, verticalDeg: steps(0, 30, 0.5), intensity: (g) => 20_000 * bell(g, 2) };
/** 15 degrees of even light, over one degree to nothing. */
const disc15: Lm63Parts = {
  ...round,
  verticalDeg: steps(0, 90, 0.5),
  intensity: (g) => 20_000 * Math.max(0, Math.min(1, 15.5 - g)),
};
const bothWays: Lm63Parts = {
  verticalDeg: [0, 10, 20, 40, 60, 90, 120, 150, 180],
  horizontalDeg: [0],
  intensity: (g) => 6000 * (0.4 + 0.6 * Math.cos(radians(g)) ** 2),
};
const flood: Lm63Parts = {
  verticalDeg: steps(-90, 90, 5),
  horizontalDeg: steps(-90, 90, 6),
  intensity: (v, h) => 15_000 * bell(Math.abs(v - 4), 18) * bell(Math.abs(h + 7), 30),
};

/** The lamp 3 m before the wall x = 0, rolled; a flag's edge half way; 8 x 8 receivers over wall and rim of the beam. */
function onWall(parts: Lm63Parts, emitter: Emitter, output: Output, awayM = 3) {
  const source = lamp(facing([awayM, 0, 0], 270, 0, 20), emitter, { kind: 'web', webId: 'quay' }, output);
  const flag = sheetAcrossX([awayM / 2, awayM * 0.22, -awayM * 0.1], awayM * 0.2, awayM * 0.25, { kind: 'opaque' });
  const step = awayM / 11;
  const receivers = Array.from({ length: RECEIVERS }, (_, i) => ({
    pointM: [0, (-3.6 + (i % 8)) * step, (-3.6 + Math.floor(i / 8)) * step] as const,
    normal: [1, 0, 0] as const,
  }));
  const document = sceneOf({ sources: { source }, modifiers: { flag }, webs: { quay: lm63(parts) } });
  return { document, setupId: SETUP, receivers, inPenumbra: 0 };
}
const POINT: Emitter = { shape: 'point' };
const FILE: Output = { kind: 'file' };

describe('webs in the kernel', () => {
  test.each<[string, Lm63Parts, Emitter, Output, number?]>([
    ['round beam, no opening', round, POINT, FILE],
    ['round beam, disc of the file', { ...round, opening: [-0.3, -0.3, 0] }, POINT, FILE],
    ['round beam, disc of the lamp', { ...round, opening: [-0.3, -0.3, 0] }, { shape: 'disc', diameterM: 0.1 }, FILE],
    ['factors of the file', { ...round, multiplier: 2, ballast: [0.9, 0.8, 40] }, POINT, FILE],
    ['own candela', round, POINT, { kind: 'candela', candela: 3000 }],
    ['own level at a distance', round, POINT, { kind: 'luxAt', illuminanceLx: 700, distanceM: 4 }],
    ['lopsided, rectangle of the file', { ...lopsided, opening: [0.4, 1.1, 0] }, POINT, FILE],
    ['lopsided, near a large rectangle', { ...lopsided, opening: [0.6, 1.2, 0] }, POINT, FILE, 1.2],
    ['four alike quarters, large disc, near', { ...quarter, opening: [-0.8, -0.8, 0] }, POINT, FILE, 1.2],
    ['two alike halves, rectangle', { ...half, opening: [0.3, 0.6, 0] }, POINT, FILE],
    ['narrow beam near a large disc', { ...round, opening: [-0.9, -0.9, 0] }, POINT, FILE, 1.5],
    ['fine narrow beam near a large disc', { ...needle, opening: [-0.6, -0.6, 0] }, POINT, FILE, 2],
    ['hard edge', { ...disc15, opening: [-0.3, -0.3, 0] }, POINT, FILE],
    ['both ways, ball of the lamp', bothWays, { shape: 'sphere', diameterM: 0.4 }, FILE],
    ['type A, rectangle', { ...flood, type: 3, opening: [0.4, 0.8, 0] }, POINT, FILE],
    ['type B, rectangle', { ...flood, type: 2, opening: [0.4, 0.8, 0] }, POINT, FILE],
    ['own candela, with the peak off the axis', { ...flood, type: 2 }, POINT, { kind: 'candela', candela: 9000 }],
    ['type B, mirrored', { ...flood, type: 2, horizontalDeg: steps(0, 90, 6) }, POINT, FILE],
  ])(
    '%s',
    (_name, parts, emitter, output, awayM) => {
      const agreement = agreementOn(onWall(parts, emitter, output, awayM), 1, SAMPLES);
      expect(agreement.bySource[0]!.peakLx).toBeGreaterThan(100);
      expect(agreement.largest).toBeLessThanOrEqual(LARGEST);
      expect(agreement.mean).toBeLessThanOrEqual(MEAN);
    },
    60_000,
  );

  test.each([90, 180])('a flat face sends light to both its sides: turned by %d degrees', (turnDeg) => {
    const parts: Lm63Parts = {
      verticalDeg: steps(0, 180, 10),
      horizontalDeg: steps(0, 360, 30),
      intensity: (g, c) => 2000 * (1.2 + Math.sin(radians(g)) * Math.cos(radians(c - 30))),
      opening: [0.6, 1.2, 0],
    };
    const scene = onWall(parts, POINT, FILE);
    const { source } = scene.document.setups[0]!.sources;
    if (source?.type !== 'lamp') throw new Error('no lamp');
    source.pose = facing([3, 0, 0], 270 + turnDeg, 0, 20);
    const agreement = agreementOn(scene, 1, SAMPLES);
    expect(agreement.bySource[0]!.peakLx).toBeGreaterThan(50);
    expect(agreement.largest).toBeLessThanOrEqual(LARGEST);
    expect(agreement.mean).toBeLessThanOrEqual(MEAN);
  });
});
