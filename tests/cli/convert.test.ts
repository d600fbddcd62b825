/** `convert` and `check` on photometric files: exit codes, one line for each fault, files that read the same. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { runCommandLine } from '../../src/cli/run';
import { lm63, radians, steps } from '../files/photometry/compose';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'farsun-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string): string => join(folder, name);
function put(name: string, text: string): string {
  writeFileSync(at(name), text);
  return at(name);
}
async function farsun(...words: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const code = await runCommandLine(words, { out: (text) => (out += text), err: (text) => (err += text) });
  return { code, out, err };
}
const cosine = lm63({
  verticalDeg: steps(0, 90, 1),
  horizontalDeg: [0],
  intensity: (g) => 1000 * Math.cos(radians(g)),
  opening: [-0.25, -0.25, 0],
  keywords: '[TEST] SL-9\n[TESTLAB] quay\n[ISSUEDATE] 18-OCT-1911\n[MANUFAC] Salt Ledger stores\n[BALLAST] none',
});
const TOLD =
  'type C, 1 plane of 91 angles, 3142 lm, peak 1000 cd on the axis, beam 120.0° across, 120.0° upright, field 168.5°, 168.5°';

test('there and back: the same figures, and what the other format cannot keep', async () => {
  const source = put('cosine.ies', cosine);
  const there = await farsun('convert', source, at('cosine.ldt'));
  expect(there).toEqual({
    code: 0,
    err: '',
    out: `${at('cosine.ldt')}: written, EULUMDAT, ${TOLD}\n${at('cosine.ldt')}: not kept, words of TESTLAB, BALLAST\n`,
  });
  expect(readFileSync(at('cosine.ldt'), 'latin1').split('\r\n').slice(0, 4)).toEqual([
    'Salt Ledger stores',
    '1',
    '1',
    '1',
  ]);
  const back = await farsun('convert', at('cosine.ldt'), at('BACK.IES'));
  expect(back).toEqual({ code: 0, err: '', out: `${at('BACK.IES')}: written, LM-63 of 2002, ${TOLD}\n` });
  expect(readFileSync(at('BACK.IES'), 'latin1')).toContain('[MANUFAC] Salt Ledger stores');
});

test('check tells a good file in one line and a bad one by its line', async () => {
  const good = put('good.ies', cosine);
  expect(await farsun('check', good)).toEqual({ code: 0, err: '', out: `${good}: good, LM-63 of 2002, ${TOLD}\n` });
  const bad = put('bad.ies', cosine.replace('\n0 1 2 3', '\n0 1 3'));
  for (const words of [
    ['check', bad],
    ['convert', bad, at('never.ldt')],
  ]) {
    expect(await farsun(...words)).toEqual({
      code: 1,
      out: '',
      err: `${bad}, line 10: 91 vertical angles promised, 90 found\n`,
    });
  }
  expect((await farsun('check', at('none.ldt'))).err).toBe(
    `${at('none.ldt')}: cannot be read, no such file or folder\n`,
  );
});

test('what a format cannot hold is the input’s fault; a wrong call is the call’s', async () => {
  const flood = put(
    'flood.ies',
    lm63({ type: 2, verticalDeg: [-90, 0, 90], horizontalDeg: [-90, 0, 90], intensity: () => 5 }),
  );
  expect(await farsun('convert', flood, at('flood.ldt'))).toEqual({
    code: 1,
    out: '',
    err: `${flood}: EULUMDAT knows planes of system C only; this file is of type B\n`,
  });
  for (const [words, told] of [
    [['convert'], 'farsun: the file to read is missing\n'],
    [['convert', flood], 'farsun: the file to write is missing\n'],
    [['convert', flood, 'a.ies', 'b.ies'], 'farsun: 2 files; b.ies is one too many\n'],
    [
      ['convert', flood, at('flood.txt')],
      `farsun: ${at('flood.txt')} names no format; a file to write ends in .ies or .ldt\n`,
    ],
    [
      ['convert', flood, at('no/such/folder.ies')],
      `farsun: ${at('no/such/folder.ies')} cannot be written, no such file or folder\n`,
    ],
  ] as const) {
    expect(await farsun(...words)).toEqual({ code: 2, out: '', err: told });
  }
});
