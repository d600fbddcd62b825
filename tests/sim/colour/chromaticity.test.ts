import { miredFromKelvin } from '../../../src/scene/units/convert';
import { describe, expect, test } from 'vitest';
import fc from 'fast-check';
import { CIE_1931_OBSERVER } from '../../../src/sim/colour/observer';
import {
  chromaticityFromUv1960,
  chromaticityFromXyz,
  mixXyz,
  uv1960FromChromaticity,
  uv1976FromChromaticity,
  xyzFromChromaticity,
  xyzFromSpectrum,
  type Chromaticity,
} from '../../../src/sim/colour/chromaticity';
import {
  cctAndDuv,
  chromaticityFromCct,
  chromaticityOf,
  daylightChromaticity,
  planckianChromaticity,
  shiftCctK,
} from '../../../src/sim/colour/cct';
import { allowedDifference, inputNumber, referenceRows, type ReferenceRow } from './referenceValues';

function expectRow(row: ReferenceRow, actual: number | undefined, difference = allowedDifference(row)): void {
  expect(actual, row.id).toBeDefined();
  expect(Math.abs((actual ?? NaN) - row.expected), `${row.id}: ${actual} against ${row.expected}`).toBeLessThanOrEqual(
    difference,
  );
}
const cctOf = (xy: Chromaticity): number | undefined => cctAndDuv(xy)?.cctK;
const duvOf = (xy: Chromaticity): number | undefined => cctAndDuv(xy)?.duv;
const fromUv = (row: ReferenceRow): Chromaticity =>
  chromaticityFromUv1960({ u: inputNumber(row, 'u'), v: inputNumber(row, 'v') });
const fromXy = (row: ReferenceRow): Chromaticity => ({ x: inputNumber(row, 'x'), y: inputNumber(row, 'y') });

/** x, y, u' or v' of a point, as the row asks. */
function coordinate(xy: Chromaticity, quantity: string): number {
  const { uPrime, vPrime } = uv1976FromChromaticity(xy);
  if (quantity.startsWith('u')) return uPrime;
  if (quantity.startsWith('v')) return vPrime;
  return quantity === 'x' ? xy.x : xy.y;
}

describe('observer', () => {
  // CIE 15:2004 Table T.4 prints the sums of its own 5 nm columns.
  test.each([
    ['7.0c', 0],
    ['7.0d', 1],
    ['7.0e', 2],
  ] as const)('column sum %s as printed', (id, column) => {
    const [row] = referenceRows(id);
    if (!row) throw new Error(id);
    expect(CIE_1931_OBSERVER).toHaveLength(81);
    expectRow(
      row,
      CIE_1931_OBSERVER.reduce((sum, values) => sum + values[column], 0),
      1e-9,
    );
  });
});

describe('loci', () => {
  test.each([...referenceRows('7.0a'), ...referenceRows('7.0b'), ...referenceRows('7.1')])(
    'Planckian point $id',
    (row) => {
      const xy = planckianChromaticity(inputNumber(row, 'T_K'));
      // Same step and constants as the reference: far inside its tolerance, which allows for another step.
      expectRow(row, coordinate(xy, String(row.inputs.quantity)), 2e-9);
    },
  );
  test.each(referenceRows('7.2'))('daylight point $id', (row) => {
    expectRow(row, coordinate(daylightChromaticity(inputNumber(row, 'T_K')), String(row.inputs.quantity)), 1e-9);
  });
  // CIE 15: D65 by the polynomial at 6504 K lies 9e-5 in y from the published 0.31272, 0.32903.
  test('daylight above 7000 K meets the part below it', () => {
    const below = daylightChromaticity(7000);
    const above = daylightChromaticity(7000.0001);
    expect(Math.abs(below.x - above.x)).toBeLessThan(2e-5);
  });
  // CIE 15:2004 Table T.3: illuminant D75 is 0.29903, 0.31488 at 7504 K (from memory).
  test('daylight at 7504 K', () => {
    const { x, y } = daylightChromaticity(7504);
    expect(Math.abs(x - 0.29903)).toBeLessThan(1e-4);
    expect(Math.abs(y - 0.31488)).toBeLessThan(2e-4);
  });
  test.each([3999, 25001, NaN])('no daylight at %d K', (temperatureK) =>
    expect(() => daylightChromaticity(temperatureK)).toThrow(RangeError),
  );
  test.each([999, 100_001, 0, NaN])('no Planckian point at %d K', (temperatureK) =>
    expect(() => planckianChromaticity(temperatureK)).toThrow(RangeError),
  );
});

describe('correlated colour temperature and Duv', () => {
  test.each([...referenceRows('7.5c'), ...referenceRows('7.6-ansi')])('nearest Planckian $id', (row) => {
    expectRow(row, cctOf('u' in row.inputs ? fromUv(row) : fromXy(row)), 1e-3);
  });
  // Other published methods, each within the largest error that it is known to make against the definition.
  test.each(referenceRows('7.3'))('McCamy 1992 agrees within 41 K: $id', (row) =>
    expectRow(row, cctOf(fromXy(row)), 41),
  );
  test.each(referenceRows('7.4').filter((row) => row.unit === 'K'))('Robertson 1968 agrees within 3.8 K: $id', (row) =>
    expectRow(row, cctOf(fromUv(row)), 3.8),
  );
  test.each(referenceRows('7.4b'))('Robertson 1968 agrees in Duv within 1.1e-4: $id', (row) =>
    expectRow(row, duvOf(fromUv(row)), 1.1e-4),
  );
  test.each(referenceRows('7.5a'))('Ohno 2014 agrees within 0.51 K: $id', (row) =>
    expectRow(row, cctOf(fromUv(row)), 0.51),
  );
  test.each(referenceRows('7.5b'))('Ohno 2014 agrees in Duv within 5e-6: $id', (row) =>
    expectRow(row, duvOf(fromUv(row)), 5e-6),
  );
  test.each(referenceRows('7.6e'))('the ANSI C78.377 polynomial agrees in Duv within 7.6e-5: $id', (row) =>
    expectRow(row, duvOf(fromUv(row)), 7.6e-5),
  );
  // Daylight loci against Planck, exact: 5600 K daylight is greener than a 5600 K Planckian by 0.0033.
  test.each([
    [4300, 4300.12, 0.00296],
    [5600, 5600.12, 0.0033],
    [6500, 6500.12, 0.00325],
    [6504, 6504.12, 0.00325],
  ])('daylight %d K reads %d K, Duv %d', (temperatureK, cctK, duv) => {
    const reading = cctAndDuv(daylightChromaticity(temperatureK));
    expect(reading?.cctK).toBeCloseTo(cctK, 2);
    expect(reading?.duv).toBeCloseTo(duv, 5);
  });
  test('nothing to say beyond the ends of the locus', () => {
    expect(cctAndDuv({ x: 0.7, y: 0.29 })).toBeNull();
    expect(cctAndDuv({ x: 0.2, y: 0.2 })).toBeNull();
    expect(cctAndDuv({ x: NaN, y: 0.3 })).toBeNull();
  });
});

describe('chromaticity from CCT and Duv', () => {
  test.each(referenceRows('7.6').filter((row) => 'CCT_K' in row.inputs))('$id', (row) => {
    const xy = chromaticityFromCct(inputNumber(row, 'CCT_K'), inputNumber(row, 'Duv'));
    expectRow(row, coordinate(xy, String(row.inputs.quantity)), 2e-9);
  });
  // Uniform grids: fc.double would draw almost only numbers near 0.
  test('property: there and back within 0.001 K and 1e-9 Duv', () =>
    fc.assert(
      fc.property(fc.integer({ min: 1500, max: 25000 }), fc.integer({ min: -20, max: 20 }), (cctK, duvThousandths) => {
        const duv = duvThousandths / 1000;
        const reading = cctAndDuv(chromaticityFromCct(cctK, duv));
        expect(Math.abs((reading?.cctK ?? NaN) / cctK - 1)).toBeLessThan(1e-7);
        expect(Math.abs((reading?.duv ?? NaN) - duv)).toBeLessThan(1e-9);
      }),
      { seed: 7, numRuns: 200 },
    ));
  test('a colour of the document: by CCT, with Duv, or by x and y as typed', () => {
    expect(chromaticityOf({ cctK: 3200 })).toEqual(planckianChromaticity(3200));
    expect(chromaticityOf({ cctK: 3200, duv: 0.006 })).toEqual(chromaticityFromCct(3200, 0.006));
    expect(chromaticityOf({ x: 0.4, y: 0.38 })).toEqual({ x: 0.4, y: 0.38 });
  });
});

describe('mired', () => {
  test.each(referenceRows('7.7'))('$id', (row) => {
    const shifts = row.inputs.shifts_mired;
    if (Array.isArray(shifts)) {
      expectRow(
        row,
        shiftCctK(
          inputNumber(row, 'T1_K'),
          shifts.reduce((sum: number, shift: number) => sum + shift, 0),
        ),
      );
    } else if ('shift_mired' in row.inputs) {
      expectRow(row, shiftCctK(inputNumber(row, 'T1_K'), inputNumber(row, 'shift_mired')));
    } else if ('T2_K' in row.inputs) {
      expectRow(row, miredFromKelvin(inputNumber(row, 'T2_K')) - miredFromKelvin(inputNumber(row, 'T1_K')));
    } else expectRow(row, miredFromKelvin(inputNumber(row, 'T_K')));
  });
});

describe('spectra and mixtures', () => {
  const planck = (temperatureK: number) => (wavelengthNm: number) =>
    (wavelengthNm / 1000) ** -5 / (Math.exp(1.4388e7 / (wavelengthNm * temperatureK)) - 1);
  // An ideal block filter, clear from 500 up to but not at 600 nm; densities of colour-correcting gels (derived, no published Duv).
  test.each(referenceRows('7.8'))('block filter over a 5600 K Planckian, Duv $id', (row) => {
    const passed = 10 ** -inputNumber(row, 'density');
    const xyz = xyzFromSpectrum((wavelengthNm) => {
      const clear = wavelengthNm >= 500 && wavelengthNm < 600;
      return planck(inputNumber(row, 'T_K'))(wavelengthNm) * (clear ? 1 : passed);
    });
    expectRow(row, duvOf(chromaticityFromXyz(xyz) ?? { x: NaN, y: NaN }));
  });

  function mixtureOf(row: ReferenceRow): Chromaticity {
    if ('T1_K' in row.inputs) {
      const lights = ['T1_K', 'T2_K'].map((key) =>
        xyzFromChromaticity(planckianChromaticity(inputNumber(row, key)), 500),
      );
      return chromaticityFromXyz(mixXyz(lights)) ?? { x: NaN, y: NaN };
    }
    const lights = ['source1_xyY', 'source2_xyY'].map((key) => {
      const [x, y, illuminanceLx] = row.inputs[key] as [number, number, number];
      return xyzFromChromaticity({ x, y }, illuminanceLx);
    });
    return chromaticityFromXyz(mixXyz(lights)) ?? { x: NaN, y: NaN };
  }
  test.each(referenceRows('7.9'))('mixture $id', (row) => {
    const xy = mixtureOf(row);
    const quantity = String(row.inputs.quantity);
    if (quantity === 'CCT') expectRow(row, cctOf(xy), 0.01);
    else if (quantity === 'Duv') expectRow(row, duvOf(xy), 1e-8);
    else expectRow(row, coordinate(xy, quantity));
  });
  test('a mixture keeps the sum of the levels, and no light has no colour', () => {
    const mixed = mixXyz([xyzFromChromaticity({ x: 0.4, y: 0.4 }, 300), xyzFromChromaticity({ x: 0.3, y: 0.3 }, 200)]);
    expect(mixed.Y).toBe(500);
    expect(chromaticityFromXyz(mixXyz([]))).toBeNull();
  });
  test('property: CIE 1960 u, v there and back', () =>
    fc.assert(
      fc.property(fc.integer({ min: 10, max: 700 }), fc.integer({ min: 10, max: 800 }), (xMils, yMils) => {
        const xy = { x: xMils / 1000, y: yMils / 1000 };
        const back = chromaticityFromUv1960(uv1960FromChromaticity(xy));
        expect(Math.abs(back.x - xy.x) + Math.abs(back.y - xy.y)).toBeLessThan(1e-12);
      }),
      { seed: 11, numRuns: 200 },
    ));
});
