/** Every published value in tests/reference/check-values.json against the formula that the app calls. */
import { expect, test } from 'vitest';
import { CHECK_VALUES, checkValue, input, shareOfTolerance } from '../../validation/row';
import { lawRows } from '../../validation/rows';

const rows = lawRows();

test('every check value in scope has a row', () => {
  expect(rows.map((row) => row.id)).toEqual(CHECK_VALUES.map((entry) => entry.id));
  expect(rows.length).toBeGreaterThanOrEqual(140);
});

test.each(rows)('$id: $measured against $expected $unit', (row) => {
  expect(shareOfTolerance(row)).toBeLessThanOrEqual(1);
  expect(row.pass).toBe(true);
});

test('a row fails outside its tolerance, and where nothing was measured', () => {
  const tolerance = { type: 'rel', value: 0.01 } as const;
  expect(shareOfTolerance({ expected: 100, measured: 101.1, tolerance })).toBeGreaterThan(1);
  expect(shareOfTolerance({ expected: 100, measured: 100.9, tolerance })).toBeLessThan(1);
  expect(shareOfTolerance({ expected: 100, measured: NaN, tolerance })).toBe(Infinity);
  expect(shareOfTolerance({ expected: 0, measured: 0.2, tolerance: { type: 'abs', value: 0.1 } })).toBeCloseTo(2, 12);
});

test('an unknown id or input is refused', () => {
  expect(() => checkValue('0.0z')).toThrow(RangeError);
  expect(() => input({ a: 'wide' }, 'a')).toThrow(TypeError);
});
