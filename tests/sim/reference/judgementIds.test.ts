/** No worked value of the judgement goes untested: each id is a row of the table, or named in a test that reads it. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import values from '../../reference/judgement-values.json';
import { judgementRows } from '../../validation/judgementRows';

const READING = ['tests/sim/mends', 'tests/sim/coverage', 'tests/sim/judgement'];
const OWN = 'judgementIds.test.ts';

const sources = READING.flatMap((folder) =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.test.ts') && name !== OWN)
    .map((name) => readFileSync(join(folder, name), 'utf8')),
);
const inRows = new Set(judgementRows().map(({ id }) => id));
/** Read by its id as a string: in a comment or a title alone it would check nothing. */
const isRead = (id: string): boolean => sources.some((text) => text.includes(`'${id}'`));

test.each(values.map(({ id }) => id))('%s is measured', (id) => {
  expect(inRows.has(id) || isRead(id)).toBe(true);
});
test('ids are unique', () => {
  expect(new Set(values.map(({ id }) => id)).size).toBe(values.length);
});
