import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { flagWords, JUDGEMENT_FLAGS } from '../../../src/sim/judgement/flagWords';

const FOLDER = fileURLToPath(new URL('../../../src/sim/judgement/', import.meta.url));

test('every flag that the judgement can put up is known, and none is left over', () => {
  const text = readdirSync(FOLDER)
    .filter((name) => name !== 'flagWords.ts')
    .map((name) => readFileSync(`${FOLDER}${name}`, 'utf8'))
    .join('\n');
  for (const flag of JUDGEMENT_FLAGS) expect(text, flag).toContain(flag);
});

test('flags become sentences in their order; those that the verdict tells already stay silent', () => {
  expect(flagWords({ flags: ['cutBySurface', 'hidden', 'off'] })).toEqual([
    'The patch runs off this surface; the figures are of the part that lies on it.',
    'The lamp is off; judged as if at full.',
  ]);
});
