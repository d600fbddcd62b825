/**
 * The sun's place against the published worked example of the Solar Position Algorithm (NREL/TP-560-34302, table A5.1,
 * seen in many public test suites), and against the demo's sun, worked out by another program. 0.01 degree is what
 * the low-precision series promises.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { refractionDeg, sunPosition, type SunHour } from '../../../src/sim/photometry/sunPosition';

const GOLDEN: SunHour = {
  latitudeDeg: 39.742476,
  longitudeDeg: -105.1786,
  date: '2003-10-17',
  clock: '12:30:30',
  utcOffsetHours: -7,
  pressureHPa: 820,
  temperatureC: 11,
};

test('NREL table A5.1: apparent zenith 50.111622, azimuth 194.340241', () => {
  const { altitudeDeg, azimuthDeg } = sunPosition(GOLDEN);
  expect(Math.abs(altitudeDeg - (90 - 50.111622))).toBeLessThan(0.01);
  expect(Math.abs(azimuthDeg - 194.340241)).toBeLessThan(0.01);
});
test('refraction at 39.872046 degrees, 820 hPa, 11 °C: 0.016332', () => {
  expect(refractionDeg(39.872046, 820, 11)).toBeCloseTo(0.01633207, 6);
});
test('the demo’s story: its place, date and hour give its sun', () => {
  const { story } = JSON.parse(readFileSync('scenes-demo/customs-office-shaft.json', 'utf8')) as {
    story: {
      place: { latitudeDeg: number; longitudeDeg: number };
      sun: { altitudeDeg: number; azimuthDeg: number };
    } & Omit<SunHour, 'latitudeDeg' | 'longitudeDeg'>;
  };
  const { place, sun, ...hour } = story;
  const found = sunPosition({ ...hour, latitudeDeg: place.latitudeDeg, longitudeDeg: place.longitudeDeg });
  expect(Math.abs(found.altitudeDeg - sun.altitudeDeg)).toBeLessThan(0.01);
  expect(Math.abs(found.azimuthDeg - sun.azimuthDeg)).toBeLessThan(0.01);
});

describe('by hand', () => {
  test.each([
    [0, 66.56],
    [51.5, 61.94],
  ])('at noon of the June solstice in latitude %d the sun stands at most %d degrees up', (latitudeDeg, mostDeg) => {
    // 90 - |latitude - 23.44|, by the spherical triangle on the meridian.
    const altitudes = Array.from({ length: 121 }, (_, minute) => {
      const clock = `${String(11 + Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
      const at = { latitudeDeg, longitudeDeg: 0, date: '2024-06-20', clock, utcOffsetHours: 0 };
      return sunPosition(at).altitudeDeg;
    });
    expect(Math.abs(Math.max(...altitudes) - mostDeg)).toBeLessThan(0.02);
  });
  test('rises in the east and sets in the west at an equinox', () => {
    const at = (clock: string) =>
      sunPosition({ latitudeDeg: 45, longitudeDeg: 0, date: '2024-03-20', clock, utcOffsetHours: 0 });
    expect(at('06:08').azimuthDeg).toBeGreaterThan(88);
    expect(at('06:08').azimuthDeg).toBeLessThan(92);
    expect(Math.abs(at('06:08').altitudeDeg)).toBeLessThan(1);
    expect(Math.abs(at('18:08').azimuthDeg - 270)).toBeLessThan(2);
  });
  test('an hour that is none is refused', () => {
    expect(() => sunPosition({ ...GOLDEN, clock: '25:70' })).toThrow(RangeError);
  });
});
