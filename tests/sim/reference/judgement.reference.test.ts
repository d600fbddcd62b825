import { expect, test } from 'vitest';
import { judgementRows } from '../../validation/judgementRows';

const rows = judgementRows();
test.each(rows.map((row) => [`${row.id} ${row.tests}`, row] as const))('%s: %j', (_, row) => {
  expect(row.pass, `${row.id}: expected ${row.expected}, measured ${row.measured}`).toBe(true);
});
