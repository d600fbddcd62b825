/** `farsun distances` by the contract of the command line. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { SAFETY_LINE } from '../../src/cli/reportText';
import { runCommandLine } from '../../src/cli/run';
import reference from '../reference/harbour-backdrop.json';

const SCENE = 'scenes-demo/harbour-backdrop.json';
const KEYS = ['distanceM', 'meanLx', 'rangeStops', 'minOverMean', 'minOverMax', 'fanDeg', 'lampPosition'];
const SWEEP = ['--surface', 'picture', '--from', '1.2', '--to', '6', '--step', '0.4'];
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'farsun-distances-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function farsun(...words: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const code = await runCommandLine(words, { out: (text) => (out += text), err: (text) => (err += text) });
  return { code, out, err };
}

describe('distances', () => {
  test('--json: rows of the contract, with the reference’s levels', async () => {
    const { code, out, err } = await farsun('distances', SCENE, '--source', 'mats', ...SWEEP, '--json');
    expect([code, err]).toEqual([0, '']);
    const rows = JSON.parse(out) as { distanceM: number; meanLx: number; rangeStops: number }[];
    expect(rows).toHaveLength(13);
    for (const row of rows) expect(Object.keys(row).slice(0, KEYS.length)).toEqual(KEYS);
    for (const wanted of reference.scene.expected.sweep.twoStraight) {
      const [distanceM, , , meanLx, rangeStops] = wanted;
      const row = rows.find((candidate) => candidate.distanceM === distanceM);
      if (!row) continue;
      expect(Math.abs(row.meanLx / meanLx! - 1)).toBeLessThan(0.01);
      expect(Math.abs(row.rangeStops - rangeStops!)).toBeLessThan(0.03);
    }
    expect(rows.map(({ distanceM }) => distanceM)).toContain(3.6);
  });

  test('one lamp: exactly the keys of the contract, its place along its axis', async () => {
    const words = [
      '--source',
      'k1',
      '--setup',
      'good',
      '--surface',
      'picture',
      '--from',
      '9',
      '--to',
      '10',
      '--step',
      '1',
    ];
    const { out } = await farsun('distances', SCENE, ...words, '--json');
    const rows = JSON.parse(out) as { lampPosition: [number, number, number] }[];
    for (const row of rows) expect(Object.keys(row)).toEqual(KEYS);
    const [a, b] = rows.map(({ lampPosition }) => lampPosition);
    expect(Math.hypot(...a!.map((value, i) => value - b![i]!))).toBeCloseTo(1, 9);
    // By hand: the axis of K1 runs from (-4.2, 2.4, 3.6) to (2.5, 6, 2.4) on the cloth.
    const along = [-4.2 - 2.5, 2.4 - 6, 3.6 - 2.4];
    const size = Math.hypot(...along);
    b!.forEach((value, i) => expect(value).toBeCloseTo([2.5, 6, 2.4][i]! + (10 * along[i]!) / size, 9));
  });

  test('--csv has one header and a line for each distance; the table ends with the caution', async () => {
    const csv = (await farsun('distances', SCENE, '--source', 'mats', ...SWEEP, '--csv')).out.trimEnd().split('\n');
    expect(csv[0]).toBe('distanceM,meanLx,rangeStops,minOverMean,minOverMax,fanDeg,lampX,lampY,lampZ');
    expect(csv).toHaveLength(14);
    for (const line of csv) expect(line.split(',')).toHaveLength(9);
    const table = await farsun('distances', SCENE, '--source', 'mats', ...SWEEP);
    expect(table.out).toContain('Read at 512 cells');
    expect(table.out.trimEnd().endsWith(SAFETY_LINE)).toBe(true);
  });

  test('a flag in the way is simulated: part unlit is null with its reason', async () => {
    const scene = JSON.parse(readFileSync(SCENE, 'utf8')) as { setups: { modifiers: Record<string, unknown> }[] };
    scene.setups[0]!.modifiers['f1'] = {
      name: 'F1',
      pose: { positionM: [-2.2, 5.5, 2], aim: { panDeg: 180, tiltDeg: 0 } },
      shape: { kind: 'rectangle', widthM: 2, heightM: 2 },
      material: { kind: 'opaque' },
    };
    const file = join(folder, 'flagged.json');
    writeFileSync(file, JSON.stringify(scene));
    const words = ['--source', 'k1', '--surface', 'picture', '--from', '2', '--to', '2', '--step', '1'];
    const [row] = JSON.parse((await farsun('distances', file, ...words, '--json')).out) as Record<string, unknown>[];
    expect(row).toMatchObject({ rangeStops: null, rangeStopsReason: 'part of the area gets no light', minOverMean: 0 });
  });

  test('errors: the call’s fault 2, the input’s 1, one line each, no stack', async () => {
    const whole = ['--source', 'k1', ...SWEEP];
    const without = (name: string): string[] => {
      const at = whole.indexOf(name);
      return [...whole.slice(0, at), ...whole.slice(at + 2)];
    };
    for (const words of [
      [],
      [SCENE, ...without('--source')],
      [SCENE, ...without('--surface')],
      [SCENE, ...without('--from')],
      [SCENE, ...without('--step')],
      [SCENE, '--source', 'k9', ...SWEEP],
      [SCENE, ...whole, '--setup', 'nope'],
      [SCENE, ...whole, '--json', '--csv'],
      [SCENE, '--source', 'k1', '--surface', 'picture', '--from', '6', '--to', '1', '--step', '1'],
      [SCENE, '--source', 'k1', '--surface', 'picture', '--from', 'near', '--to', '6', '--step', '1'],
      [SCENE, '--source', 'k1', '--surface', 'picture', '--from', '1', '--to', '6', '--step', '0'],
      [SCENE, '--source', 'k1', '--surface', 'picture', '--from', '1', '--to', '6', '--step', '0.0001'],
      [SCENE, '--source', 'k1', '--surface', 'picture', '--from', '0.1', '--to', '6', '--step', '1'],
    ]) {
      const answer = await farsun('distances', ...words);
      expect([answer.code, answer.out], words.join(' ')).toEqual([2, '']);
      expect(answer.err).toMatch(/^farsun: .*\n$/);
    }
    const missing = await farsun('distances', join(folder, 'none.json'), ...whole);
    expect([missing.code, missing.out]).toEqual([1, '']);
    const away = join(folder, 'away.json');
    writeFileSync(away, readFileSync(SCENE, 'utf8').replaceAll(/\[\s*-2\.2,\s*4,\s*2\s*\]/g, '[-2.2, 8, 2]'));
    const behind = await farsun('distances', away, ...whole);
    expect(behind.err).toMatch(/K1 stands behind Picture area/);
    expect([behind.code, behind.out]).toEqual([1, '']);
  });
});
