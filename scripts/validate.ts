/**
 * Compares the code with published values and writes docs/validation.md. Exit 1 if a row fails.
 * `--json` prints the rows as JSON and nothing else.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { judgementRows } from '../tests/validation/judgementRows';
import { validationPage } from '../tests/validation/report';
import { shareOfTolerance } from '../tests/validation/row';
import { kernelRows, lawRows } from '../tests/validation/rows';

const rows = [...lawRows(), ...kernelRows(), ...judgementRows()];
const failed = rows.filter((row) => !row.pass);
const page = new URL('../docs/validation.md', import.meta.url);
mkdirSync(fileURLToPath(new URL('.', page)), { recursive: true });
writeFileSync(page, validationPage(rows));

if (process.argv.includes('--json')) {
  process.stdout.write(`${JSON.stringify(rows, null, 2)}\n`);
} else {
  for (const row of failed)
    process.stdout.write(
      `FAIL ${row.tests} ${row.id}: ${row.measured} against ${row.expected} ${row.unit} ` +
        `(${shareOfTolerance(row).toPrecision(3)} times the tolerance)\n`,
    );
  process.stdout.write(`${rows.length - failed.length} of ${rows.length} rows pass; see docs/validation.md\n`);
}
process.exitCode = failed.length > 0 ? 1 : 0;
