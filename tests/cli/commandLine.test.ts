import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runCommandLine } from '../../src/cli/run';
import { SAFETY_LINE } from '../../src/cli/reportText';
import reference from '../reference/demo-scenes.json';
import { decodePng } from '../files/decodePng';

const SCENE = 'scenes-demo/customs-office-shaft.json';
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'farsun-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function farsun(...words: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const code = await runCommandLine(words, { out: (text) => (out += text), err: (text) => (err += text) });
  return { code, out, err };
}
interface Changeable {
  camera: { iso: number };
  story: { playsSun: { surfaceId: string }[] };
  setups: { sources: { l1: { pose: { positionM: number[] } } } }[];
}
/** A file with the demo scene after a change to its plain data. */
function changedScene(name: string, change: (scene: Changeable) => void): string {
  const scene = JSON.parse(readFileSync(SCENE, 'utf8')) as Changeable;
  change(scene);
  const file = join(folder, name);
  writeFileSync(file, JSON.stringify(scene, null, 2));
  return file;
}
const oneLineEach = (text: string): string[] => text.trimEnd().split('\n');

describe('the call', () => {
  test('help is good; nothing, a wrong command and a wrong option are the call’s fault', async () => {
    const help = await farsun('--help');
    expect([help.code, help.err]).toEqual([0, '']);
    for (const name of ['report', 'field']) expect(help.out).toContain(`farsun ${name} <scene.json>`);
    expect(help.out).toContain('farsun check <scene.json | file.ies | file.ldt>');
    expect((await farsun('field', '--help')).out).toContain('the first line is the lowest row');
    expect((await farsun()).code).toBe(2);
    for (const words of [
      ['plot', SCENE],
      ['report'],
      ['report', SCENE, 'another.json'],
      ['report', SCENE, '--fast'],
      ['report', SCENE, '--setup'],
      ['report', SCENE, '--setup', 'no-such-setup'],
      ['field', SCENE, '--csv'],
      ['field', SCENE, '--surface', 'roof', '--csv'],
      ['field', SCENE, '--surface', 'floor'],
      ['field', SCENE, '--surface', 'floor', '--csv', '--png', join(folder, 'both.png')],
      ['field', SCENE, '--surface', 'floor', '--csv', '--columns', '0'],
      ['field', SCENE, '--surface', 'floor', '--csv', '--rows', '2.5'],
      ['field', SCENE, '--surface', 'floor', '--columns', '4', '--png', join(folder, 'no', 'such', 'folder.png')],
    ]) {
      const answer = await farsun(...words);
      expect(answer.code, words.join(' ')).toBe(2);
      expect(answer.out).toBe('');
      expect(oneLineEach(answer.err)).toHaveLength(1);
      expect(answer.err).toMatch(/^farsun: /);
    }
    expect((await farsun('report', SCENE, '--setup', 'nope')).err).toContain('bare, netted, real-sun');
  });

  test('a real process: exit codes, errors on stderr, no stack', () => {
    const run = (...words: string[]) =>
      spawnSync(process.execPath, ['node_modules/tsx/dist/cli.mjs', 'src/cli/main.ts', ...words], { encoding: 'utf8' });
    const good = run('check', SCENE);
    expect([good.status, good.stderr]).toEqual([0, '']);
    const bad = run('report', join(folder, 'missing.json'));
    expect([bad.status, bad.stdout]).toEqual([1, '']);
    expect(oneLineEach(bad.stderr)).toEqual([
      `${join(folder, 'missing.json')}: cannot be read, no such file or folder`,
    ]);
    expect(run('mend-it-all').status).toBe(2);
  });
});

describe('check', () => {
  test('a good scene', async () => {
    const { code, out, err } = await farsun('check', SCENE);
    expect([code, err]).toEqual([0, '']);
    expect(oneLineEach(out)[0]).toBe(`${SCENE}: good, 6 setups, 7 surfaces, 5 meters`);
  });
  test('one line a fault, with file, line and path', async () => {
    const file = changedScene('bad.json', (scene) => {
      scene.camera.iso = -5;
      scene.story.playsSun[0]!.surfaceId = 'no-wall';
    });
    const lines = readFileSync(file, 'utf8').split('\n');
    const isoLine = lines.findIndex((line) => line.includes('"iso"')) + 1;
    const { code, out, err } = await farsun('check', file);
    expect([code, out]).toEqual([1, '']);
    expect(err).toContain(`${file}, line ${isoLine}, camera.iso: found -5`);
    const other = changedScene('bad-id.json', (scene) => {
      scene.story.playsSun[0]!.surfaceId = 'no-wall';
    });
    expect((await farsun('check', other)).err).toContain('story.playsSun[0].surfaceId');
  });
  test('text that is no JSON, and a folder', async () => {
    const file = join(folder, 'cut.json');
    writeFileSync(file, '{\n  "format": "farsun-scene",\n  "name": \n');
    const { code, err } = await farsun('check', file);
    expect(code).toBe(1);
    expect(err).toMatch(/cut\.json, line \d/);
    expect(err).not.toMatch(/\bat .*\.ts/);
    expect((await farsun('check', folder)).code).toBe(1);
  });
  test('cautions are told, and are no fault', async () => {
    const file = changedScene('low.json', (scene) => {
      scene.setups[0]!.sources.l1.pose.positionM[2] = -1;
    });
    const { code, out } = await farsun('check', file);
    expect(code).toBe(0);
    expect(out).toMatch(/\ncaution, setup bare: /);
    expect(oneLineEach(out).at(-1)).toBe(SAFETY_LINE);
  });
});

const METER_KEYS = [
  'id',
  'name',
  'illuminanceLx',
  'footcandles',
  'stopsFromCamera',
  'cctK',
  'duv',
  'bySource',
  'integrationError',
];
const SURFACE_KEYS = [
  'id',
  'name',
  'columns',
  'rows',
  'minLx',
  'maxLx',
  'meanLx',
  'uniformityMinOverMean',
  'rangeStops',
];
// prettier-ignore
const CHECK_KEYS = [
  'surfaceId', 'sourceId', 'falloffStops', 'hotEnd', 'apparentDistanceM', 'reversed', 'fanDeg', 'lineFanDeg', 'growthNear',
  'growthFar', 'edgeRatio', 'stepStopsPer10cm', 'fill', 'shadowCount', 'altitudeOffDeg', 'windowSpreadDeg',
  'windowLevelStops', 'overAmbienceStops', 'overKeyStops', 'cctOffMired', 'duvOff', 'hazeDeg', 'scores', 'verdict', 'worst',
  'confidence', 'flags', 'sentence',
];

/** Keys as the contract orders them: each null has its reason beside it, and nothing else has one. */
function expectContract(record: Record<string, unknown>, keys: readonly string[]): void {
  const expected = keys.flatMap((key) => (record[key] === null ? [key, `${key}Reason`] : [key]));
  expect(Object.keys(record).sort()).toEqual([...expected].sort());
  for (const key of expected.filter((name) => name.endsWith('Reason'))) expect(record[key]).toMatch(/\w/);
}

describe('report', () => {
  test('--json is farsun-report/1, key by key', async () => {
    const { code, out } = await farsun('report', SCENE, '--json');
    expect(code).toBe(0);
    const report = JSON.parse(out) as { setups: Record<string, never[]>[] };
    expect(Object.keys(report)).toEqual(['format', 'scene', 'setups']);
    expect(report).toMatchObject({ format: 'farsun-report/1', scene: 'Customs office, window shaft' });
    expect(report.setups.map((setup) => setup['id'])).toEqual([
      'bare',
      'netted',
      'real-sun',
      'nets-too-far',
      'backed-off',
      'mirror',
    ]);
    for (const setup of report.setups) {
      expect(Object.keys(setup)).toEqual(['id', 'name', 'meters', 'surfaces', 'sunChecks']);
      for (const meter of setup['meters'] ?? []) expectContract(meter, METER_KEYS);
      for (const surface of setup['surfaces'] ?? []) expectContract(surface, SURFACE_KEYS);
      expect(setup['sunChecks']).toHaveLength(1);
      for (const check of setup['sunChecks'] ?? []) expectContract(check, CHECK_KEYS);
    }
  });
  test('--setup picks one, and its meters read what the independent program says', async () => {
    const { out } = await farsun('report', SCENE, '--setup', 'netted', '--json');
    type Meter = { id: string; illuminanceLx: number; footcandles: number; stopsFromCamera: number; cctK: number };
    const report = JSON.parse(out) as { setups: { id: string; meters: Meter[] }[] };
    expect(report.setups.map((setup) => setup.id)).toEqual(['netted']);
    const [w1] = report.setups[0]?.meters ?? [];
    const expected = reference.scenes[0]!.expected.netted.meters.W1;
    expect(w1?.id).toBe('w1');
    expect(Math.abs((w1?.illuminanceLx ?? NaN) / expected.lux - 1)).toBeLessThan(0.003);
    expect(w1?.stopsFromCamera).toBeCloseTo(expected.stopsFromCamera, 2);
    // 1 fc is 10.7639 lx (lumen per square foot).
    expect((w1?.illuminanceLx ?? NaN) / (w1?.footcandles ?? NaN)).toBeCloseTo(10.7639, 3);
    expect(w1?.cctK).toBeCloseTo(3600, 0);
  });
  test('a dark meter and a dark surface say why', async () => {
    const { out } = await farsun('report', SCENE, '--setup', 'real-sun', '--json');
    const [setup] = (JSON.parse(out) as { setups: { meters: { id: string }[]; surfaces: { id: string }[] }[] }).setups;
    expect(setup?.meters.find(({ id }) => id === 'w3')).toMatchObject({
      illuminanceLx: 0,
      stopsFromCamera: null,
      stopsFromCameraReason: 'no light',
      cctKReason: 'no light',
    });
    expect(setup?.surfaces.find(({ id }) => id === 'ceiling')).toMatchObject({
      maxLx: 0,
      rangeStops: null,
      rangeStopsReason: 'no light reaches the surface',
    });
  });
  test('as text: meters, surfaces, the verdict with limits, the closing line', async () => {
    const { code, out } = await farsun('report', SCENE, '--setup', 'bare');
    expect(code).toBe(0);
    expect(out).toMatch(/Meters, levels ± 1 stop/);
    expect(out).toMatch(/W1 +722\u2009lx +67\u2009fc +\+2 2\/3 +3600\u2009K +\+0\.001 +L1 100\u2009%/);
    expect(out).toMatch(/L1 on Plaster wall: Gives it away/);
    expect(out).toMatch(/Fall-off, stops +1\.7\d +0 +to 1\/3 +to 2\/3 +gives it away/);
    expect(oneLineEach(out).at(-1)).toBe(SAFETY_LINE);
    for (const line of oneLineEach(out)) expect(line).not.toMatch(/undefined|NaN|\[object| $/);
  });
});

describe('field', () => {
  const numbers = (out: string): (number | null)[][] =>
    oneLineEach(out).map((line) => line.split(',').map((cell) => (cell === '' ? null : Number(cell))));

  test('--csv: lowest row first, left end first, seen from the lit side', async () => {
    const { code, out } = await farsun(
      'field',
      SCENE,
      '--surface',
      'plaster-wall',
      '--columns',
      '90',
      '--rows',
      '33',
      '--csv',
    );
    expect(code).toBe(0);
    const grid = numbers(out);
    expect([grid.length, grid[0]?.length]).toEqual([33, 90]);
    // Independent row along z 1.3 (bare): 722.33 lx at x 2.0, 372.17 at 4.0; the cells about it are within 3 %.
    const about = (column: number): number =>
      [grid[12]?.[column], grid[12]?.[column + 1], grid[13]?.[column], grid[13]?.[column + 1]].reduce<number>(
        (sum, level) => sum + (level ?? NaN) / 4,
        0,
      );
    expect(Math.abs(about(19) / 722.33 - 1)).toBeLessThan(0.03);
    expect(Math.abs(about(39) / 372.17 - 1)).toBeLessThan(0.03);
    // The shaft reaches the floor seam but not the ceiling.
    expect(grid[0]?.some((level) => (level ?? 0) > 100)).toBe(true);
    expect(Math.max(...(grid[32] ?? []).map((level) => level ?? NaN))).toBe(0);
  });
  test('--csv leaves the cells of an opening empty, and makes cells square', async () => {
    const { out } = await farsun('field', SCENE, '--surface', 'west-wall', '--columns', '50', '--csv');
    const grid = numbers(out);
    expect(grid).toHaveLength(33);
    // Opening y 2.55 to 3.85, z 0.95 to 2.75 in cells of 0.1 m.
    expect(grid[20]?.[30]).toBeNull();
    expect(grid[20]?.[20]).toBe(0);
    expect(grid[20]?.filter((level) => level === null)).toHaveLength(13);
  });
  test('--png draws it', async () => {
    const file = join(folder, 'wall.png');
    const { code, out } = await farsun('field', SCENE, '--surface', 'plaster-wall', '--columns', '60', '--png', file);
    expect([code, out]).toEqual([0, '']);
    const { width, height, rgba } = decodePng(readFileSync(file));
    expect(width).toBe(2 * (74 + 1000 + 150));
    expect(height).toBeGreaterThan(800);
    const colours = new Set<number>();
    for (let index = 0; index < rgba.length; index += 4) {
      colours.add(((rgba[index] ?? 0) << 16) | ((rgba[index + 1] ?? 0) << 8) | (rgba[index + 2] ?? 0));
    }
    expect(colours.size).toBeGreaterThan(200);
  });
});
