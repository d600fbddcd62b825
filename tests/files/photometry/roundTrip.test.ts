/** Written and read again, every composed file is the same web; from one format to the other and back too. */
import { describe, expect, test } from 'vitest';
import { latin1Bytes, numberLines } from '../../../src/files/photometry/numbersText';
import { openPhotometricFile } from '../../../src/files/photometry/openPhotometricFile';
import { writeEulumdat } from '../../../src/files/photometry/writeEulumdat';
import { writeLm63 } from '../../../src/files/photometry/writeLm63';
import type { PhotometricFile } from '../../../src/scene/webs/photometricFile';
import { readPhotometricText } from '../../../src/scene/webs/readPhotometricText';
import { webFlux } from '../../../src/sim/photometry/web/flux';
import { gridOf, valueAt } from '../../../src/sim/photometry/web/grid';
import { referenceText } from '../../validation/fileLaws';
import { eulumdat, FIRST_LINES, lm63, radians, steps } from './compose';

function read(text: string): PhotometricFile {
  const result = readPhotometricText(text, 'a.ies');
  if (!result.ok) throw new Error(JSON.stringify(result.fault));
  return result.file;
}
function ldt(file: PhotometricFile): string {
  const written = writeEulumdat(file);
  if (!written.ok) throw new Error(written.sentence);
  return written.text;
}

/** Nine figures are written: half of the last is at most 5e-9 of a value, and it is written up to three times. */
const TOLERANCE = 1.5e-8;
function isSameWeb(one: PhotometricFile, other: PhotometricFile): void {
  const [a, b] = [gridOf(one), gridOf(other)];
  expect(b.system).toBe(a.system);
  expect(b.rows.anglesRad).toHaveLength(a.rows.anglesRad.length);
  const peak = Math.max(...one.candela);
  for (const row of a.rows.anglesRad) {
    for (const column of a.columns.anglesRad) {
      expect(Math.abs(valueAt(a, row, column) - valueAt(b, row, column))).toBeLessThanOrEqual(TOLERANCE * peak);
    }
  }
  expect(webFlux(b) / webFlux(a)).toBeCloseTo(1, 8);
}

const lopsided = (v: number, h: number): number =>
  1234.5678 * Math.abs(Math.cos(radians(v / 2))) * (2 + Math.cos(radians(h)) + 0.3 * Math.sin(radians(h)));
const SETS = [
  [2, 'batten tube', 3000, '3200', '95', 60],
  [1, 'batten end', 1000, '5600', '90', 20],
] as const;
const V = steps(0, 90, 10);
const editions = Object.keys(FIRST_LINES).map(Number) as (keyof typeof FIRST_LINES)[];
const LM63: [string, string][] = [
  ['9.A', referenceText('A')],
  ['9.B', referenceText('B')],
  ['9.D', referenceText('D')],
  ...editions.map((edition): [string, string] => [
    `edition of ${edition}`,
    lm63({ edition, verticalDeg: V, horizontalDeg: [0, 30, 90], intensity: lopsided, ballast: [0.9, 0.95, 40] }),
  ]),
  ...(
    [[0], steps(0, 90, 15), steps(0, 180, 15), steps(90, 270, 15), steps(0, 360, 15), steps(0, 345, 15)] as const
  ).map((horizontalDeg): [string, string] => [
    `planes ${horizontalDeg[0]} to ${horizontalDeg.at(-1)}`,
    lm63({ verticalDeg: [0, 1, 2.5, 40, 90, 135, 180], horizontalDeg, intensity: lopsided, lumens: 9000, lamps: 3 }),
  ]),
  ['upward only', lm63({ verticalDeg: steps(90, 180, 5), horizontalDeg: [0], intensity: lopsided })],
  ...([2, 3] as const).flatMap((type) =>
    [steps(-90, 90, 15), steps(0, 90, 15)].map((horizontalDeg): [string, string] => [
      `type ${type} from ${horizontalDeg[0]}`,
      lm63({ type, verticalDeg: horizontalDeg, horizontalDeg, intensity: lopsided }),
    ]),
  ),
  ...(
    [
      [0.6, 1.2, 0],
      [0.6, 1.2, 0.1],
      [-0.25, -0.25, 0],
      [-0.25, -0.5, 0],
      [-0.25, -0.25, 0.4],
      [-0.3, -0.3, -0.3],
      [-0.04, 1.2, -0.04],
      [1.2, -0.04, -0.04],
      [-0.4, 0, -0.4],
      [0, -0.4, -0.4],
    ] as const
  ).map((opening): [string, string] => [
    `opening ${opening.join(' ')}`,
    lm63({ verticalDeg: V, horizontalDeg: [0], intensity: lopsided, opening }),
  ]),
];
const turn = steps(0, 345, 15);
const EULUMDAT: [string, string][] = [
  ['9.C', referenceText('C')],
  ...([0, 1, 2, 3, 4] as const).map((symmetry): [string, string] => [
    `symmetry ${symmetry}`,
    eulumdat({ symmetry, planesDeg: turn, gammaDeg: V, intensity: lopsided, sets: SETS, areaMm: [1200, 80, 0] }),
  ]),
  [
    'uneven planes, absolute',
    eulumdat({
      symmetry: 0,
      planesDeg: [0, 10, 50, 90, 180, 270, 300],
      gammaDeg: [0, 3, 4, 60, 180],
      intensity: lopsided,
      sets: [[-1, 'own', 4000, '', '', 60]],
      areaMm: [250, 0, 0],
    }),
  ],
];

const about = ({ opening, lampLumens, inputW, tilt }: PhotometricFile) => ({ opening, lampLumens, inputW, tilt });

describe.each(LM63)('LM-63, %s', (_name, text) => {
  const file = read(text);
  test('written and read again', () => {
    const again = read(writeLm63(file));
    isSameWeb(file, again);
    expect(about(again)).toEqual(about(file));
    for (const { key, text: words } of file.keywords) {
      expect(again.keywords).toContainEqual({ key: key === '' ? 'OTHER' : key, text: words });
    }
    // What was written once is written the same for ever.
    expect(writeLm63(again)).toBe(writeLm63(file));
  });
  test('to EULUMDAT and back', () => {
    const written = writeEulumdat(file);
    if (file.system !== 'C') {
      expect(written).toEqual({
        ok: false,
        sentence: `EULUMDAT knows planes of system C only; this file is of type ${file.system}`,
      });
      return;
    }
    const there = read(ldt(file));
    isSameWeb(file, there);
    isSameWeb(file, read(writeLm63(there)));
    expect(there.lampLumens).toBe(file.lampLumens);
  });
});

describe.each(EULUMDAT)('EULUMDAT, %s', (_name, text) => {
  const file = read(text);
  test('written and read again', () => {
    const again = read(ldt(file));
    isSameWeb(file, again);
    expect(about(again)).toEqual(about(file));
    expect(again.symmetry).toBe(file.symmetry);
    expect(ldt(again)).toBe(ldt(file));
  });
  test('to LM-63 and back', () => {
    const there = read(writeLm63(file));
    isSameWeb(file, there);
    expect(there.opening).toEqual(file.opening);
    isSameWeb(file, read(ldt(there)));
  });
});

test('lines keep their width, long keywords go on, letters stay in their sets', () => {
  expect(numberLines([1, 22, 333], 6)).toEqual(['1 22', '333']);
  const long = 'kaj å'.repeat(60);
  const file = read(
    lm63({ verticalDeg: V, horizontalDeg: [0], intensity: lopsided, keywords: `[LAMP] ${long}\n[NORTH] x` }),
  );
  const written = writeLm63(file);
  expect(Math.max(...written.split('\r\n').map((line) => line.length))).toBeLessThanOrEqual(132);
  expect(written).toContain('[LAMP] kaj a');
  expect(written).toContain('[MORE] ');
  expect(written).toContain('[_NORTH] x');
  expect(written).toContain('[TESTLAB] not given');
  expect([...latin1Bytes('å€')]).toEqual([0xe5, 63]);
  const bytes = latin1Bytes(ldt({ ...file, keywords: [{ key: 'LUMINAIRE', text: 'kaj å' }] }));
  const opened = openPhotometricFile(bytes, 'a.ldt');
  expect(opened.ok && opened.file.keywords).toContainEqual({ key: 'LUMINAIRE', text: 'kaj å' });
});
