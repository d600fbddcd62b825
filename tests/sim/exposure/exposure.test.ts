/** Exposure from a camera basis: worked by hand from ISO 2720, and what must hold for any camera. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Camera } from '../../../src/scene/schema';
import {
  keyIlluminanceLx,
  receptorResponse,
  reflectedStopsFromMidGrey,
  stopsFromCamera,
  tStopForIlluminance,
} from '../../../src/sim/exposure/exposure';

const camera: Camera = { iso: 100, framesPerSecond: 24, shutterAngleDeg: 180, tStop: 2 * Math.SQRT2 };

test('key level: check values 5.1b and 5.1c, flat and dome constants by default', () => {
  expect(keyIlluminanceLx(camera)).toBeCloseTo(960, 9);
  expect(keyIlluminanceLx(camera, 'dome')).toBeCloseTo(1305.6, 9);
});

test('key level: the constants of the camera basis are used where given', () => {
  // E = C 8 48 / 100: 320 gives 1228.8, 400 gives 1536.
  expect(keyIlluminanceLx({ ...camera, incidentConstantFlat: 320 })).toBeCloseTo(1228.8, 9);
  expect(keyIlluminanceLx({ ...camera, incidentConstantDome: 400 }, 'dome')).toBeCloseTo(1536, 9);
  expect(keyIlluminanceLx({ ...camera, incidentConstantDome: 400 })).toBeCloseTo(960, 9);
});

test('a positive offset asks for more light: one stop doubles the key', () => {
  expect(keyIlluminanceLx({ ...camera, offsetStops: 1 })).toBeCloseTo(1920, 9);
  expect(keyIlluminanceLx({ ...camera, offsetStops: -0.5 })).toBeCloseTo(960 / Math.SQRT2, 9);
});

test('stops from the camera: twice the key is +1, a quarter is -2, none is null', () => {
  expect(stopsFromCamera(1920, camera)).toBeCloseTo(1, 12);
  expect(stopsFromCamera(240, camera)).toBeCloseTo(-2, 12);
  expect(stopsFromCamera(0, camera)).toBeNull();
  expect(stopsFromCamera(1305.6, camera, 'dome')).toBeCloseTo(0, 12);
});

test('T-stop: four times the key closes two stops', () => {
  expect(tStopForIlluminance(3840, camera)).toBeCloseTo(4 * Math.SQRT2, 12);
  expect(tStopForIlluminance(0, camera)).toBe(0);
});

test('reflected level: 18 % at key is mid-grey, 72 % two stops over, black sends nothing', () => {
  expect(reflectedStopsFromMidGrey(960, 0.18, camera)).toBeCloseTo(0, 12);
  expect(reflectedStopsFromMidGrey(960, 0.72, camera)).toBeCloseTo(2, 12);
  expect(reflectedStopsFromMidGrey(960, 0, camera)).toBeNull();
});

test('receptors: flat reads the cosine and nothing from behind, the dome half from the side', () => {
  expect(receptorResponse('flat', 0.5)).toBe(0.5);
  expect(receptorResponse('flat', -0.5)).toBe(0);
  expect(receptorResponse('dome', 1)).toBe(1);
  expect(receptorResponse('dome', 0)).toBe(0.5);
  expect(receptorResponse('dome', -1)).toBe(0);
});

test('property: the T-stop for a level makes that level the key, whatever the camera', () => {
  const within = (low: number, high: number) =>
    fc.integer({ min: 0, max: 1e6 }).map((i) => low + ((high - low) * i) / 1e6);
  fc.assert(
    fc.property(
      within(100, 6400),
      within(12, 120),
      within(10, 360),
      within(1.3, 22),
      within(-3, 3),
      within(1, 100_000),
      (iso, framesPerSecond, shutterAngleDeg, tStop, offsetStops, level) => {
        const any: Camera = { iso, framesPerSecond, shutterAngleDeg, tStop, offsetStops };
        const opened = { ...any, tStop: tStopForIlluminance(level, any) };
        expect(keyIlluminanceLx(opened) / level).toBeCloseTo(1, 10);
        // A stop of aperture is a stop of light.
        const stops = stopsFromCamera(level, any);
        expect(2 * Math.log2(opened.tStop / tStop)).toBeCloseTo(stops!, 9);
      },
    ),
    { seed: 5, numRuns: 200 },
  );
});
