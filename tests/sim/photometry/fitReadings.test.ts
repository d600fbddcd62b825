/**
 * The fit of meter readings: its line against certified values, the whole against a search of its own for the least
 * squares of ln E and independent figures, its bands against how often they hold the truth.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fitReadings, type Reading, type ReadingFit } from '../../../src/sim/photometry/fitReadings';
import { fitLog, outliersAmong } from '../../../src/sim/photometry/readingOutliers';
import { studentT95, weightedLine } from '../../../src/sim/photometry/weightedLine';
import { seeded } from '../../brute/vectors';
import hall from '../../reference/drill-hall-falloff.json';

/**
 * NIST Statistical Reference Datasets, linear regression, "Norris": an ozone monitor's calibration, 36 points. Data
 * (x, y) and certified values from memory; that the data reproduce ten figures of four certified values confirms them.
 */
const NORRIS_X = [
  0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6,
  556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
];
const NORRIS_Y = [
  0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
  557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
];

describe('the line', () => {
  test('NIST Norris: intercept, slope and their standard deviations', () => {
    const line = weightedLine(NORRIS_X.map((x, i) => ({ x, y: NORRIS_Y[i]!, weight: 1 })));
    const scale = line.chiSquared / (NORRIS_X.length - 2);
    expect(line.intercept).toBeCloseTo(-0.262323073774029, 10);
    expect(line.slope).toBeCloseTo(1.00211681802045, 12);
    expect(Math.sqrt(scale * line.interceptVariance)).toBeCloseTo(0.232818234301152, 10);
    expect(Math.sqrt(scale * line.slopeVariance)).toBeCloseTo(0.429796848199937e-3, 12);
    expect(Math.sqrt(scale)).toBeCloseTo(0.884796396144373, 10);
  });

  test('a weight of 3 is the point three times', () => {
    const points = [
      { x: 1, y: 2.2, weight: 3 },
      { x: 2, y: 2.9, weight: 1 },
      { x: 4, y: 5.3, weight: 2 },
    ];
    const repeated = points.flatMap(({ weight, ...point }) =>
      Array.from({ length: weight }, () => ({ ...point, weight: 1 })),
    );
    const [one, other] = [weightedLine(points), weightedLine(repeated)];
    for (const key of Object.keys(one) as (keyof typeof one)[]) expect(one[key]).toBeCloseTo(other[key], 12);
    expect(() => weightedLine([points[0]!, { ...points[1]!, x: 1 }])).toThrow(RangeError);
  });

  // Printed tables of Student's t, two-sided 95 %.
  test.each([
    [1, 12.706],
    [5, 2.571],
    [20, 2.086],
    [21, 2.08],
    [30, 2.042],
    [60, 2],
    [1e6, 1.96],
  ])('t for %d degrees of freedom', (freedom, expected) => expect(studentT95(freedom)).toBeCloseTo(expected, 3));
});

const law = (candela: number, originM: number, distances: readonly number[]): Reading[] =>
  distances.map((distanceM) => ({ distanceM, illuminanceLx: candela / (distanceM + originM) ** 2 }));
function good(readings: readonly Reading[], options?: Parameters<typeof fitReadings>[1]): ReadingFit {
  const fit = fitReadings(readings, options);
  if (!fit.ok) throw new Error(fit.reason);
  return fit;
}

/** Least squares of ln E over both figures by a plain search: for each origin the best output is a mean. */
function searched(readings: readonly Reading[]): { candela: number; originM: number } {
  const outputAt = (v: number): number =>
    readings.reduce(
      (sum, { distanceM, illuminanceLx }) => sum + Math.log(illuminanceLx) + 2 * Math.log(distanceM + v),
      0,
    ) / readings.length;
  const cost = (v: number): number =>
    readings.reduce(
      (sum, { distanceM, illuminanceLx }) =>
        sum + (Math.log(illuminanceLx) + 2 * Math.log(distanceM + v) - outputAt(v)) ** 2,
      0,
    );
  let [low, high] = [0, 20];
  for (let step = 0; step < 200; step++) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
    if (cost(a) < cost(b)) high = b;
    else low = a;
  }
  return { candela: Math.exp(outputAt(low)), originM: low };
}

/** Two independent standard normal draws (Box and Muller 1958). */
function normals(next: () => number): [number, number] {
  const radius = Math.sqrt(-2 * Math.log(1 - next()));
  const turn = 2 * Math.PI * next();
  return [radius * Math.cos(turn), radius * Math.sin(turn)];
}
const within = (min: number, max: number) => fc.integer({ min: 0, max: 1e6 }).map((i) => min + ((max - min) * i) / 1e6);

describe('output and origin', () => {
  test('readings on the law give it back, whatever it is', () =>
    fc.assert(
      fc.property(within(100, 1e6), within(0, 3), fc.integer({ min: 2, max: 9 }), (candela, originM, count) => {
        const fit = good(
          law(
            candela,
            originM,
            Array.from({ length: count }, (_, i) => 1.5 + 1.3 * i),
          ),
        );
        // An origin at the front may come out before it by rounding: then it is taken there.
        expect(fit.candela.value / candela).toBeCloseTo(1, 8);
        expect(fit.originM.value).toBeCloseTo(originM, 7);
        expect(Math.max(...fit.residualStops.map(Math.abs))).toBeLessThan(1e-7);
      }),
    ));

  test('by hand: 1600 lx at 2 m and 400 lx at 5 m', () => {
    // sqrt(1600/400) = 2 = (5 + v)/(2 + v): v = 1, I = 1600 * 9 = 14400.
    const fit = good([
      { distanceM: 2, illuminanceLx: 1600 },
      { distanceM: 5, illuminanceLx: 400 },
    ]);
    expect(fit.candela.value).toBeCloseTo(14_400, 6);
    expect(fit.originM.value).toBeCloseTo(1, 10);
    expect([fit.isScatterAssumed, fit.scatter]).toEqual([true, 0.05]);
    // Both errors by hand: v = (k d1 - d2)/(1 - k)... with k = sqrt(E1/E2) = 2, dv/dk = -(d2 - d1)/(k - 1)² = -3, and k errs
    // by k * 0.05/2 * sqrt 2 = 0.0707: v by 0.2121. 95 %: 1.96 times.
    expect(fit.originM.high - 1).toBeCloseTo(1.959964 * 0.212132, 4);
    expect(fit.originM.low).toBeCloseTo(1 - 1.959964 * 0.212132, 4);
    // I = (d2 - d1)² / (1/sqrt E2 - 1/sqrt E1)²: each root errs by 0.025 of itself, 0.000625 and 0.00125 on 0.025.
    const share = (2 * Math.hypot(0.000625, 0.00125)) / 0.025;
    expect(Math.log(fit.candela.high / fit.candela.value)).toBeCloseTo(1.959964 * share, 6);
  });

  test('against a search for the least squares of ln E, readings off by 3 %', () => {
    const next = seeded(7);
    for (let round = 0; round < 40; round++) {
      const readings = law(20_000, 0.8, [2, 2.5, 3.5, 5, 7, 10]).map((reading) => ({
        ...reading,
        illuminanceLx: reading.illuminanceLx * Math.exp(0.03 * normals(next)[0]),
      }));
      const [fit, best] = [good(readings), searched(readings)];
      if (fit.limit !== null) continue;
      expect(fit.candela.value / best.candela).toBeCloseTo(1, 6);
      expect(fit.originM.value).toBeCloseTo(best.originM, 6);
    }
  });

  test.each([3, 6, 12])('%d readings off by 4 %%: the 95 %% bands hold the truth 95 times in 100', (count) => {
    const next = seeded(count);
    const rounds = 2000;
    let [outputs, origins] = [0, 0];
    for (let round = 0; round < rounds; round++) {
      const readings = law(
        50_000,
        2,
        Array.from({ length: count }, (_, i) => 2 + (10 * i) / (count - 1)),
      ).map((reading) => ({ ...reading, illuminanceLx: reading.illuminanceLx * Math.exp(0.04 * normals(next)[0]) }));
      const { candela, originM } = good(readings);
      if (candela.low <= 50_000 && 50_000 <= candela.high) outputs += 1;
      if (originM.low <= 2 && 2 <= originM.high) origins += 1;
    }
    // Spread of a count of 2000 at 95 % is 0.5 %; the bands are of first order.
    expect(outputs / rounds).toBeGreaterThan(0.935);
    expect(outputs / rounds).toBeLessThan(0.965);
    expect(origins / rounds).toBeGreaterThan(0.935);
    expect(origins / rounds).toBeLessThan(0.965);
  });

  test('a reading that errs counts by its share, near or far', () => {
    const readings = law(9000, 0.5, [2, 4, 8, 16]);
    const off = (index: number): number =>
      good(readings.map((one, i) => (i === index ? { ...one, illuminanceLx: one.illuminanceLx * 1.02 } : one))).scatter;
    // Unweighted roots would hear the far reading only: its root is eight times that of the near one.
    expect(off(0) / off(3)).toBeGreaterThan(0.5);
    expect(off(0) / off(3)).toBeLessThan(2);
  });
});

describe('the readings of the drill hall (tests/reference/drill-hall-falloff.json), least squares in log level', () => {
  const beam = hall.scene.setups['focused-beam'];
  const typed = hall.scene.distancesM.map((distanceM, i) => ({ distanceM, illuminanceLx: beam.readingsTyped[i]! }));
  test('exact levels: 90 000 cd and 0.350 m', () => {
    const fit = good(hall.scene.distancesM.map((distanceM, i) => ({ distanceM, illuminanceLx: beam.luxExpected[i]! })));
    expect(fit.candela.value / beam.fitExact.centreCandela).toBeCloseTo(1, 6);
    expect(fit.originM.value).toBeCloseTo(beam.fitExact.offsetM, 6);
  });
  test('typed readings: 89 809 ± 1177 cd, 0.3481 ± 0.0155 m', () => {
    const { candela, originM, residualStops } = good(typed);
    const expected = beam.fitLogLeastSquares;
    expect(Math.round(candela.value)).toBe(expected.centreCandela);
    expect(Math.round(candela.standardError)).toBe(expected.se);
    expect(originM.value).toBeCloseTo(expected.offsetM, 4);
    expect(originM.standardError).toBeCloseTo(expected.seOffset, 4);
    // The reference's rms is over n - 2, as a share of the level.
    const squares = residualStops.reduce((sum, stops) => sum + (stops * Math.LN2) ** 2, 0);
    expect(Math.sqrt(squares / 5)).toBeCloseTo(expected.rmsRelative, 4);
    expect(outliersAmong(typed)).toEqual([]);
  });
  test('the 4 m reading doubled is named, and the fit is told with it and without', () => {
    const slipped = typed.map((one, i) => (i === 4 ? { ...one, illuminanceLx: 2 * one.illuminanceLx } : one));
    const { all, outliers, kept, offStops } = fitLog(slipped);
    const { plainFit } = beam.withOutlier_4m_doubled;
    if (!all.ok || !kept.ok) throw new Error('no fit');
    expect(Math.round(all.candela.value)).toBe(plainFit.centreCandela);
    expect(all.originM.value).toBeCloseTo(plainFit.offsetM, 3);
    expect(all.residualStops[4]).toBeCloseTo(plainFit.residualStopsAt4m, 3);
    expect(outliers).toEqual([4]);
    // "Without it, give 89 447 cd and 0.345 m."
    expect(Math.round(kept.candela.value)).toBe(89_447);
    expect(kept.originM.value).toBeCloseTo(0.345, 3);
    expect(offStops[4]).toBeCloseTo(1, 1);
  });
});

describe('naming what is off', () => {
  test('two slips among nine readings are both named, and no others', () => {
    const next = seeded(3);
    for (let round = 0; round < 60; round++) {
      const readings = law(30_000, 0.5, [1.5, 2, 2.5, 3, 4, 5, 6, 8, 10]).map((one, i) => ({
        ...one,
        illuminanceLx: one.illuminanceLx * Math.exp(0.02 * normals(next)[0]) * (i === 2 ? 2 : i === 6 ? 0.5 : 1),
      }));
      expect(outliersAmong(readings)).toEqual([2, 6]);
    }
  });
  test('readings that only scatter by 4 % are seldom named, and four are never', () => {
    const next = seeded(11);
    let named = 0;
    for (let round = 0; round < 300; round++) {
      const readings = law(30_000, 0.5, [1.5, 2, 3, 4, 6, 8, 10]).map((one) => ({
        ...one,
        illuminanceLx: one.illuminanceLx * Math.exp(0.04 * normals(next)[0]),
      }));
      if (outliersAmong(readings).length > 0) named += 1;
    }
    expect(named / 300).toBeLessThan(0.02);
    const four = law(30_000, 0.5, [1.5, 2, 3, 4]).map((one, i) => (i === 1 ? { ...one, illuminanceLx: 9 } : one));
    expect(outliersAmong(four)).toEqual([]);
  });
  test('readings that rise have no law, and nothing is named', () => {
    const rising = [1, 2, 3, 4, 5].map((distanceM) => ({ distanceM, illuminanceLx: 100 * distanceM }));
    expect(outliersAmong(rising)).toEqual([]);
    expect(fitLog(rising)).toMatchObject({ outliers: [], kept: { ok: false } });
  });
});

describe('readings that cannot give both', () => {
  test.each<[string, Reading[], Parameters<typeof fitReadings>[1], Partial<ReadingFit>, number, number]>([
    ['one reading', law(900, 0, [3]), {}, { limit: 'oneReading', isScatterAssumed: true }, 900, 0],
    ['one distance', law(900, 0, [3, 3.02, 3.01]), {}, { limit: 'sameDistance' }, 900, 0],
    ['a given origin', law(900, 0.4, [3, 6]), { originM: 0.4 }, { limit: 'originGiven' }, 900, 0.4],
    [
      'dark readings are left out',
      [...law(900, 0, [3]), { distanceM: 5, illuminanceLx: 0 }],
      {},
      { limit: 'oneReading' },
      900,
      0,
    ],
  ])('%s', (_name, readings, options, expected, candela, originM) => {
    const fit = good(readings, options);
    expect(fit).toMatchObject(expected);
    expect(fit.candela.value).toBeCloseTo(candela, 6);
    expect([fit.originM.value, fit.originM.low, fit.originM.high]).toEqual([originM, originM, originM]);
    expect(fit.candela.low).toBeLessThanOrEqual(fit.candela.value);
  });

  test('an origin before the front: within the scatter it is taken at the front, beyond it the law is too slow', () => {
    const near = law(5000, -0.05, [2, 3, 4, 6]).map((one, i) => ({
      ...one,
      illuminanceLx: one.illuminanceLx * (1 + 0.03 * (-1) ** i),
    }));
    const atFront = good(near);
    expect(atFront.limit).toBe('originAtFront');
    expect(atFront.originM.value).toBe(0);
    expect(atFront.freeOriginM).toBeLessThan(0);
    const tooFast = good(law(5000, -0.5, [2, 3, 4, 6]));
    expect(tooFast.limit).toBe('fallsTooFast');
    expect(tooFast.freeOriginM).toBeCloseTo(-0.5, 6);
  });

  test('no light, and light that does not fall', () => {
    expect(fitReadings([])).toEqual({ ok: false, reason: 'noReadings' });
    expect(fitReadings([{ distanceM: 2, illuminanceLx: 0 }])).toEqual({ ok: false, reason: 'noReadings' });
    const rising = [2, 3, 4].map((distanceM) => ({ distanceM, illuminanceLx: 100 * distanceM }));
    expect(fitReadings(rising)).toEqual({ ok: false, reason: 'doesNotFall' });
  });
});
