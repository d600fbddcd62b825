/** The light kernel against published values: scene documents solved and read, 0.5 % at meters and on shadow edges. */
import { expect, test } from 'vitest';
import { shareOfTolerance } from '../../validation/row';
import { kernelRows } from '../../validation/rows';

const rows = kernelRows();

test('emitters, shadow edges, nets and the dome are all covered', () => {
  const ids = new Set(rows.map((row) => row.id));
  for (const id of [
    '1.1a',
    '1.2b',
    '1.4c',
    '2.1e',
    '2.2d',
    '2.3e',
    '2.4a',
    '2.5d',
    '2.6f',
    '2.7b',
    '2.8c',
    '2.9-square-1',
  ])
    expect(ids).toContain(id);
  for (const id of ['3.2a', '3.2b', '3.3e', '3.4c', '3.4g', '3.5e', '5.5e', '8.3b', '8.4b']) expect(ids).toContain(id);
});

test.each(rows)('$id: $measured against $expected $unit', (row) => {
  expect(shareOfTolerance(row)).toBeLessThanOrEqual(1);
  expect(row.pass).toBe(true);
});
