import { describe, expect, test } from 'vitest';
import {
  airMass,
  attenuatedBeamLx,
  directNormalIlluminanceLx,
  extraterrestrialIlluminanceLx,
  sunBeamXyz,
  sunColour,
} from '../../../src/sim/colour/sunlight';
import { allowedDifference, inputNumber, referenceRows, sunByAltitude } from './referenceValues';

const sine = (altitudeDeg: number): number => Math.sin((altitudeDeg * Math.PI) / 180);

describe('air mass', () => {
  test.each(referenceRows('6.3'))('Kasten & Young 1989 $id', (row) => {
    expect(Math.abs(airMass(inputNumber(row, 'altitude_deg')) - row.expected)).toBeLessThanOrEqual(
      allowedDifference(row),
    );
  });
  test.each([-0.1, 90.1, NaN])('not known at %d degrees', (altitudeDeg) =>
    expect(() => airMass(altitudeDeg)).toThrow(RangeError),
  );
});

describe('direct normal illuminance', () => {
  test.each(referenceRows('6.4').filter((row) => 'J' in row.inputs))('outside the atmosphere $id', (row) => {
    const lx = extraterrestrialIlluminanceLx(inputNumber(row, 'J'));
    expect(Math.abs(lx - row.expected)).toBeLessThanOrEqual(allowedDifference(row));
  });
  // The handbook's own air mass, 1 / sin h.
  test.each(referenceRows('6.4').filter((row) => 'c' in row.inputs))('IES 1984 with 1 / sin h $id', (row) => {
    const lx = attenuatedBeamLx(
      inputNumber(row, 'E_xt_lx'),
      inputNumber(row, 'c'),
      1 / sine(inputNumber(row, 'altitude_deg')),
    );
    expect(Math.abs(lx - row.expected)).toBeLessThanOrEqual(allowedDifference(row));
  });
  // Notes of rows 6.4a to 6.4g: the same with the Kasten & Young air mass, to six figures.
  test.each([
    [90, 103356],
    [60, 100061],
    [45, 94771.7],
    [30, 83873.9],
    [20, 69300.7],
    [10, 39450.6],
    [5, 14642.1],
  ])('clear sky at %d degrees is %d lx', (altitudeDeg, expectedLx) => {
    expect(Math.abs(directNormalIlluminanceLx(altitudeDeg) / expectedLx - 1)).toBeLessThan(1e-5);
  });
  test('nothing below the horizon, and nearer in January', () => {
    expect(directNormalIlluminanceLx(-1)).toBe(0);
    expect(directNormalIlluminanceLx(40, 2) / directNormalIlluminanceLx(40)).toBeCloseTo(1.034, 6);
  });
});

describe('colour of the beam', () => {
  test.each(referenceRows('6.9'))('by altitude $id', (row) => {
    const colour = sunColour(inputNumber(row, 'altitude_deg'), inputNumber(row, 'turbidity'));
    // Same tables and step as the reference, so far inside its 0.5 %.
    expect(Math.abs((colour?.cctK ?? NaN) - row.expected)).toBeLessThan(0.01);
  });
  test.each(referenceRows('6.8a'))('level outside the atmosphere $id', (row) => {
    expect(Math.abs(sunBeamXyz(0).Y - row.expected)).toBeLessThanOrEqual(allowedDifference(row) / 100);
  });
  test.each(sunByAltitude.rows as [number, number, number, number, number, number, number][])(
    'at %d degrees',
    (altitudeDeg, cctK2, duv2, cctK3, duv3, transmittance2, transmittance3) => {
      for (const [turbidity, cctK, duv, transmittance] of [
        [2, cctK2, duv2, transmittance2],
        [3, cctK3, duv3, transmittance3],
      ] as const) {
        const colour = sunColour(altitudeDeg, turbidity);
        expect(Math.abs((colour?.cctK ?? NaN) - cctK)).toBeLessThanOrEqual(0.51);
        expect(Math.abs((colour?.duv ?? NaN) - duv)).toBeLessThanOrEqual(0.000051);
        const passed = sunBeamXyz(airMass(altitudeDeg), turbidity).Y / sunBeamXyz(0).Y;
        expect(Math.abs(passed / transmittance - 1)).toBeLessThan(0.005);
      }
    },
  );
  test('no sun below the horizon', () => expect(sunColour(-0.01)).toBeNull());
});
