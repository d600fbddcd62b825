import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { footcandlesFromLux, luxFromFootcandles, miredFromKelvin } from '../../src/scene/units/convert';
import {
  formatAngle,
  formatCct,
  formatDuv,
  formatIlluminance,
  formatLength,
  formatMired,
  formatPercent,
  formatStops,
  formatTStop,
} from '../../src/scene/units/format';
import { parseAngle, parseIlluminance, parseLength, parsePercent, type Parsed } from '../../src/scene/units/parse';

const valueOf = (parsed: Parsed): number => (parsed.ok ? parsed.value : Number.NaN);
const faultOf = (parsed: Parsed): string | null => (parsed.ok ? null : parsed.fault);
const within = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1e6 }).map((step) => min + ((max - min) * step) / 1e6);

test('factors: NIST SP 811 (2008), appendix B.8: foot 0.3048 m exactly, footcandle 10.763 91 lx', () => {
  expect(luxFromFootcandles(1)).toBeCloseTo(10.76391, 5);
  expect(footcandlesFromLux(10.763910416709722)).toBe(1);
  expect(valueOf(parseLength('1 ft', 'metres'))).toBe(0.3048);
  expect(valueOf(parseLength('1 yd', 'metres'))).toBeCloseTo(0.9144, 15);
  expect(valueOf(parseLength('1 in', 'metres'))).toBeCloseTo(0.0254, 15);
  expect(miredFromKelvin(5000)).toBe(200);
});

describe('lengths as typed', () => {
  // By hand: 1 ft = 0.3048 m, 1 in = 0.0254 m.
  test.each<[string, 'metres' | 'feet', number]>([
    ['6.2', 'metres', 6.2],
    ['6,2', 'metres', 6.2],
    ['.5', 'metres', 0.5],
    ['6.2+0.3', 'metres', 6.5],
    ['6.2 - 30cm', 'metres', 5.9],
    ['-1.5', 'metres', -1.5],
    ['−1.5 m', 'metres', -1.5],
    ['1 m 20 cm', 'metres', 1.2],
    ['72mm', 'metres', 0.072],
    ['2 yd', 'metres', 1.8288],
    ['20ft 6', 'metres', 6.2484],
    ['20ft 6', 'feet', 6.2484],
    ['20 FT 6 IN', 'metres', 6.2484],
    ['20ft 6in + 1.5m', 'feet', 7.7484],
    ['20', 'feet', 6.096],
    ['20 1/2', 'feet', 6.2484],
    ['1/2', 'feet', 0.1524],
    ['5\'11 3/4"', 'metres', 1.82245],
    ['5′ 11 3/4″', 'feet', 1.82245],
    ["5'11''", 'feet', 1.8034],
    ['5½"', 'feet', 0.1397],
    ['-5\'6"', 'feet', -1.6764],
    ['2+-1', 'metres', 1],
    ['1\u2009000\u2009m', 'metres', 1000],
    ['-0', 'metres', 0],
  ])('%s in %s', (typed, unit, expected) => {
    expect(valueOf(parseLength(typed, unit))).toBeCloseTo(expected, 12);
    expect(Object.is(valueOf(parseLength(typed, unit)), -0)).toBe(false);
  });

  test.each<[string, string]>([
    ['', 'Write a length such as 6.2 or 20 ft 6.'],
    ['wall', 'Write a length such as 6.2 or 20 ft 6.'],
    ['6 lx', 'lx is no unit here. Write a length such as 6.2 or 20 ft 6.'],
    ['6 constructor', 'constructor is no unit here. Write a length such as 6.2 or 20 ft 6.'],
    ['1m 20', 'Say the unit of 20. Write a length such as 6.2 or 20 ft 6.'],
    ['6 2', 'Say the unit of 2. Write a length such as 6.2 or 20 ft 6.'],
    ['1,234.5', 'Say the unit of 0.5. Write a length such as 6.2 or 20 ft 6.'],
    ['1/0', 'Write a length such as 6.2 or 20 ft 6.'],
    ['6+', 'Write a length such as 6.2 or 20 ft 6.'],
    ['1 - - - 2', 'Write a length such as 6.2 or 20 ft 6.'],
    ['6*2', 'Write a length such as 6.2 or 20 ft 6.'],
    ['1e3', 'e is no unit here. Write a length such as 6.2 or 20 ft 6.'],
    ['9'.repeat(400), 'Write a length such as 6.2 or 20 ft 6.'],
  ])('refuses %s', (typed, fault) => expect(faultOf(parseLength(typed, 'metres'))).toBe(fault));
});

test('angles, levels and percentages as typed', () => {
  expect(['24', '24°', '-13.5 deg', '90+45', '−6,5°'].map((typed) => valueOf(parseAngle(typed)))).toEqual([
    24, 24, -13.5, 135, -6.5,
  ]);
  expect(valueOf(parseIlluminance('500', 'lux'))).toBe(500);
  expect(valueOf(parseIlluminance('2', 'footcandles'))).toBeCloseTo(21.527820833, 8);
  expect(valueOf(parseIlluminance('1.2 klx + 10 fc', 'lux'))).toBeCloseTo(1307.6391, 4);
  expect(faultOf(parseIlluminance('-1', 'lux'))).toBe('A level cannot be below 0.');
  expect(faultOf(parseIlluminance('5 m', 'lux'))).toBe('m is no unit here. Write a level such as 1060 or 99 fc.');
  expect(['50', '50 %', '12,5%', '0'].map((typed) => valueOf(parsePercent(typed)))).toEqual([0.5, 0.5, 0.125, 0]);
  expect(faultOf(parsePercent('101'))).toBe('A percentage goes from 0 to 100.');
});

describe('as printed; ~ stands for the thin space', () => {
  const thin = (text: string): string => text.replaceAll('~', '\u2009');
  test.each<[number, string, string]>([
    [1063, '1060~lx', '99~fc'],
    [99.4, '99~lx', '9.2~fc'],
    [99.7, '100~lx', '9.3~fc'],
    [9.97, '10~lx', '0.9~fc'],
    [9996, '10~000~lx', '929~fc'],
    [12345, '12~300~lx', '1147~fc'],
    [1234567, '1~230~000~lx', '114~695~fc'],
    [107.6, '108~lx', '10~fc'],
    [34.4, '34~lx', '3.2~fc'],
    [0.0521, '0.052~lx', 'under 0.1~fc'],
    [0.0001, 'under 0.001~lx', 'under 0.1~fc'],
    [0, '0~lx', '0~fc'],
    [Number.NaN, '-', '-'],
    [Infinity, '-', '-'],
    [-1, '-', '-'],
  ])('%d lx', (lx, lux, fc_) => {
    expect(formatIlluminance(lx, 'lux')).toBe(thin(lux));
    expect(formatIlluminance(lx, 'footcandles')).toBe(thin(fc_));
  });
  test.each([
    [2.66, '+2 2/3'],
    [-0.34, '−1/3'],
    [0.1, '0'],
    [-0.1, '0'],
    [1, '+1'],
    [-2.9, '−3'],
    [1.9, '+2'],
    [Number.NaN, '-'],
  ])('%d stops', (stops, text) => expect(formatStops(stops)).toBe(text));
  // Full stops: the series of ISO 517 as engraved on lenses.
  test.each([
    [1, 'T1'],
    [1.4, 'T1.4'],
    [2, 'T2'],
    [2.8, 'T2.8'],
    [4, 'T4'],
    [5.6, 'T5.6'],
    [8, 'T8'],
    [11, 'T11'],
    [16, 'T16'],
    [22, 'T22'],
    [32, 'T32'],
    [45, 'T45'],
    [64, 'T64'],
    [0.7, 'T0.7'],
    [0.5, 'T0.5'],
    [7.1, 'T5.6 2/3'],
    [6.3, 'T5.6 1/3'],
    [0.9, 'T0.7 2/3'],
    [2.5, 'T2 2/3'],
    [0.000_13, 'under T0.1'],
    [0, '-'],
    [Number.NaN, '-'],
  ])('T%d', (tStop, text) => expect(formatTStop(tStop)).toBe(text));
  test.each<[number, string, string, string]>([
    [6.24, '6.24~m', '6240~mm', '20′ 5 3/4″'],
    [0.072, '0.07~m', '72~mm', '2 3/4″'],
    [6.096, '6.10~m', '6096~mm', '20′'],
    [6.094, '6.09~m', '6094~mm', '20′'],
    [0, '0.00~m', '0~mm', '0″'],
    [-1.5, '−1.50~m', '−1500~mm', '−4′ 11″'],
    [-0.001, '0.00~m', '−1~mm', '0″'],
    [-0.0001, '0.00~m', '0~mm', '0″'],
    [12.3456, '12.35~m', '12~346~mm', '40′ 6″'],
    [Infinity, '-', '-', '-'],
  ])('%d m', (lengthM, metres, fine, feet) => {
    expect(formatLength(lengthM, 'metres')).toBe(thin(metres));
    expect(formatLength(lengthM, 'metres', true)).toBe(thin(fine));
    expect(formatLength(lengthM, 'feet')).toBe(feet);
  });
  test('angles and colour', () => {
    expect([26, -0.04, -13.25, 179.96].map((angle) => formatAngle(angle))).toEqual([
      '26.0°',
      '0.0°',
      '−13.3°',
      '180.0°',
    ]);
    expect([14.4, -0.4].map((angle) => formatAngle(angle, 'verdict'))).toEqual(['14°', '0°']);
    expect([4383, 12_345, Number.NaN].map(formatCct)).toEqual(['4380\u2009K', '12\u2009350\u2009K', '-']);
    expect([0.0021, -0.0066, -0.0001, Number.NaN].map(formatDuv)).toEqual(['+0.002', '−0.007', '0.000', '-']);
    expect([72.4, -72.4, 0.2].map(formatMired)).toEqual(['+72\u2009mired', '−72\u2009mired', '0\u2009mired']);
    expect([0.5, 0.004, -0.5].map(formatPercent)).toEqual(['50\u2009%', '0\u2009%', '−50\u2009%']);
  });
});

describe('property: what is printed reads back within half of its last step', () => {
  const near = (parsed: Parsed, expected: number, step: number): void => {
    expect(Math.abs(valueOf(parsed) - expected)).toBeLessThanOrEqual(step * 0.5 * (1 + 1e-9) + 1e-12);
  };
  test('lengths', () =>
    fc.assert(
      fc.property(within(-200, 200), fc.constantFrom('metres' as const, 'feet' as const), (lengthM, unit) => {
        near(parseLength(formatLength(lengthM, 'metres'), unit), lengthM, 0.01);
        near(parseLength(formatLength(lengthM, 'metres', true), unit), lengthM, 0.001);
        near(parseLength(formatLength(lengthM, 'feet'), unit), lengthM, 0.0254 / 4);
      }),
    ));
  test('levels, angles and shares', () =>
    fc.assert(
      fc.property(within(1, 2e5), within(-360, 360), within(0, 1), (lx, angle, part) => {
        const step = 10 ** (Math.floor(Math.log10(lx)) - (lx < 100 ? 1 : 2));
        near(parseIlluminance(formatIlluminance(lx, 'lux'), 'footcandles'), lx, Math.max(step, 0.001));
        near(parseIlluminance(formatIlluminance(lx, 'footcandles'), 'lux'), lx, luxFromFootcandles(1));
        near(parseAngle(formatAngle(angle)), angle, 0.1);
        near(parsePercent(formatPercent(part)), part, 0.01);
      }),
    ));
  test('any typed text is read or refused with one sentence', () =>
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.stringMatching(/^[0-9 .,'"/+-]{0,12}(ft|m|in)?$/)), (typed) => {
        const parsed = parseLength(typed, 'feet');
        if (parsed.ok) expect(Number.isFinite(parsed.value)).toBe(true);
        else expect(parsed.fault).toMatch(/^[^\n]+\.$/);
      }),
    ));
});
