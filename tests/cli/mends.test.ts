/** `farsun mends` by the contract of the command line. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runCommandLine } from '../../src/cli/run';
import { SAFETY_LINE } from '../../src/cli/reportText';

const SCENE = 'scenes-demo/customs-office-shaft.json';
const KEYS = [
  'id',
  'kind',
  'sentence',
  'falloffStops',
  'stepStopsPer10cm',
  'lineFanDeg',
  'edgeRatio',
  'costStops',
  'scoreBefore',
  'scoreAfter',
  'possible',
  'why',
  'minutes',
  'hands',
];
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'farsun-mends-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function farsun(...words: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const code = await runCommandLine(words, { out: (text) => (out += text), err: (text) => (err += text) });
  return { code, out, err };
}

describe('mends', () => {
  test('--json is the list of the contract, best first, those that cannot be had last', async () => {
    const { code, out, err } = await farsun('mends', SCENE, '--setup', 'bare', '--json');
    expect([code, err]).toEqual([0, '']);
    const mends = JSON.parse(out) as Record<string, unknown>[];
    expect(mends.length).toBeGreaterThan(4);
    for (const mend of mends) {
      expect(Object.keys(mend).filter((key) => !key.endsWith('Reason'))).toEqual(KEYS);
      expect(mend['sentence']).toMatch(/\.$/);
    }
    const possible = mends.map((mend) => mend['possible'] as boolean);
    expect(possible).toEqual([...possible].sort((a, b) => Number(b) - Number(a)));
    // The quay is only eight metres deep: the space binds before 2/3 stop is reached (the scene's own notes).
    const back = mends.find((mend) => mend['kind'] === 'backOff')!;
    expect(back['why']).toMatch(/^The quay ends 13\.\d m from the patch: 2\/3 stop needs 15\.\d m\.$/);
    const spot = mends.find((mend) => mend['kind'] === 'halfScrim')!;
    expect(spot).toMatchObject({ possible: false, falloffStops: null });
    expect(spot['falloffStopsReason']).toContain('only dims');
  });

  test('without --json a list to read; a scene where no lamp plays the sun says so', async () => {
    const { code, out } = await farsun('mends', SCENE, '--setup', 'real-sun');
    expect(code).toBe(0);
    expect(out).toContain('No lamp of this setup plays the sun');
    const bare = await farsun('mends', SCENE, '--setup', 'bare');
    // The verdict's own sentence, then the cheapest mend with what it leaves and costs.
    expect(bare.out).toMatch(
      /\nL1: Gives it away\. .* source \d\.\d m away\. .*: leaves \d\.\d stops?, costs \d\.\d stops?\.\n/,
    );
    expect(out.trimEnd().endsWith(SAFETY_LINE)).toBe(true);
  });

  test('errors as the other commands: the call’s fault 2, the input’s 1, one line each', async () => {
    for (const words of [[], [SCENE, '--fast'], [SCENE, '--setup', 'nope'], [SCENE, 'other.json']]) {
      const answer = await farsun('mends', ...words);
      expect([answer.code, answer.out]).toEqual([2, '']);
      expect(answer.err).toMatch(/^farsun: .*\n$/);
    }
    const missing = await farsun('mends', join(folder, 'none.json'));
    expect(missing.code).toBe(1);
    const bad = join(folder, 'bad.json');
    writeFileSync(bad, readFileSync(SCENE, 'utf8').replace('"iso": 800', '"iso": "fast"'));
    const answer = await farsun('mends', bad, '--json');
    expect([answer.code, answer.out]).toEqual([1, '']);
    expect(answer.err).toContain('iso');
    expect((await farsun('mends', '--help')).out).toContain('farsun mends <scene.json>');
  });
});
