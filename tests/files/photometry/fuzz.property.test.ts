/**
 * Broken files: truncated, with flipped bytes, with huge counts, with long lines. The readers must answer with a file or
 * a typed fault, never throw; how long they take is for `npm run bench`.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openPhotometricFile, type OpenedFile } from '../../../src/files/photometry/openPhotometricFile';
import { gridOf } from '../../../src/sim/photometry/web/grid';
import { webFlux } from '../../../src/sim/photometry/web/flux';
import { referenceText } from '../../validation/fileLaws';
import { eulumdat, lm63, radians, steps } from './compose';

const intensity = (v: number, h: number): number => 500 * Math.abs(Math.cos(radians(v))) * (2 + Math.cos(radians(h)));
const TEXTS = [
  referenceText('A'),
  referenceText('B'),
  referenceText('C'),
  referenceText('D'),
  lm63({ edition: 1995, verticalDeg: steps(0, 180, 5), horizontalDeg: steps(90, 270, 30), intensity }),
  lm63({ type: 2, verticalDeg: steps(-90, 90, 10), horizontalDeg: steps(0, 90, 10), intensity }),
  eulumdat({ symmetry: 0, planesDeg: steps(0, 330, 30), gammaDeg: steps(0, 180, 5), intensity }),
  eulumdat({ symmetry: 3, planesDeg: steps(0, 330, 30), gammaDeg: steps(0, 90, 5), intensity }),
];
const FILES = TEXTS.map((text) => new TextEncoder().encode(text));

/** A good answer holds only what a lamp can give; a bad one is a fault with words. */
function isSound(read: OpenedFile): void {
  if (!read.ok) {
    expect(read.fault.file).toBe('fuzz.ies');
    expect(read.fault.found.length).toBeGreaterThan(0);
    expect(read.fault.found.length).toBeLessThan(400);
    expect(read.fault.expected.length).toBeGreaterThan(0);
    expect(read.fault.line === null || read.fault.line >= 1).toBe(true);
    return;
  }
  const { candela, verticalDeg, horizontalDeg } = read.file;
  expect(candela).toHaveLength(verticalDeg.length * horizontalDeg.length);
  expect(candela.every((value) => value >= 0 && Number.isFinite(value))).toBe(true);
  expect(Number.isFinite(webFlux(gridOf(read.file)))).toBe(true);
}
const open = (bytes: Uint8Array): OpenedFile => openPhotometricFile(bytes, 'fuzz.ies');
const which = fc.integer({ min: 0, max: FILES.length - 1 });
const share = fc.integer({ min: 0, max: 1_000_000 }).map((i) => i / 1_000_000);

describe('broken files', () => {
  test('each is good before it is broken', () => FILES.forEach((bytes) => expect(open(bytes).ok).toBe(true)));

  test('truncated at any byte', () =>
    fc.assert(
      fc.property(which, share, (file, part) => {
        const bytes = FILES[file]!;
        isSound(open(bytes.subarray(0, Math.floor(part * bytes.length))));
      }),
      { numRuns: 1500 },
    ));

  test('bytes flipped', () =>
    fc.assert(
      fc.property(
        which,
        fc.array(fc.tuple(share, fc.integer({ min: 0, max: 255 })), { minLength: 1, maxLength: 12 }),
        (file, flips) => {
          const bytes = FILES[file]!.slice();
          for (const [at, value] of flips) bytes[Math.floor(at * (bytes.length - 1))] = value;
          isSound(open(bytes));
        },
      ),
      { numRuns: 3000 },
    ));

  test('any number in the place of any other', () =>
    fc.assert(
      fc.property(
        which,
        share,
        fc.constantFrom(
          '-1',
          '0',
          '1e6',
          '4000',
          '999999999',
          '1e308',
          '-1e308',
          '0.5',
          'NaN',
          'Infinity',
          '-0',
          '',
          '1e-320',
        ),
        (file, part, number) => {
          const words = TEXTS[file]!.split(/(\s+)/);
          words[Math.floor((part * (words.length - 1)) / 2) * 2] = number;
          isSound(open(new TextEncoder().encode(words.join(''))));
        },
      ),
      { numRuns: 3000 },
    ));

  test('bytes without any sense, after a head that has some', () =>
    fc.assert(
      fc.property(
        fc.constantFrom('', 'IESNA:LM-63-2002\nTILT=NONE\n', 'TILT=INCLUDE\n', 'x\n1\n0\n36\n10\n19\n5\n'),
        fc.uint8Array({ maxLength: 400 }),
        (head, bytes) => isSound(open(Uint8Array.from([...new TextEncoder().encode(head), ...bytes]))),
      ),
      { numRuns: 1500 },
    ));

  test.each<[string, string]>([
    ['blank lines', '\n'.repeat(1_900_000)],
    ['blanks', ' '.repeat(1_900_000)],
    ['one word', `TILT=NONE\n${'9'.repeat(1_900_000)}`],
    ['one keyword', `IESNA:LM-63-2002\n[TEST] ${'x '.repeat(900_000)}\nTILT=NONE\n`],
    ['brackets', `IESNA:LM-63-2002\n${'['.repeat(1_900_000)}`],
    ['keywords without end', `IESNA:LM-63-2002\n${'[A] b\n'.repeat(300_000)}`],
    ['a tilt of blanks', `TILT=${' '.repeat(1_900_000)}x`],
    ['numbers without end', `TILT=NONE\n1 -1 1 4000 400 1 2 0 0 0 1 1 1 ${'5 '.repeat(900_000)}`],
    ['rising angles without end', `TILT=NONE\n1 -1 1 3999 1 1 2 0 0 0 1 1 1 ${steps(0, 300_000, 1).join(' ')}`],
    ['lines of EULUMDAT without end', `a\n1\n0\n4000\n0\n4000\n0\n${'1\n'.repeat(900_000)}`],
  ])('two megabytes of %s', (_name, text) => isSound(open(new TextEncoder().encode(text))));

  test('as many values as a file of two megabytes can hold', () => {
    const text = lm63({ verticalDeg: steps(0, 180, 0.2), horizontalDeg: steps(0, 360, 0.5), intensity: () => 7 });
    const read = open(new TextEncoder().encode(text));
    expect(read.ok && read.file.candela.length).toBe(901 * 721);
    isSound(read);
  });
});
