/** Nonsense is refused: one fault with its line, what was found and what was expected. */
import { describe, expect, test } from 'vitest';
import { openPhotometricFile } from '../../../src/files/photometry/openPhotometricFile';
import { formatFault } from '../../../src/scene/faults';
import { readPhotometricText } from '../../../src/scene/webs/readPhotometricText';
import { eulumdat, lm63, radians, steps } from './compose';

function faultOf(text: string): string {
  const read = readPhotometricText(text, 'quay-spot.ies');
  return read.ok ? 'none' : formatFault(read.fault);
}

const intensity = (v: number): number => Math.round(1000 * Math.cos(radians(v)));
const GOOD = lm63({ verticalDeg: steps(0, 90, 10), horizontalDeg: [0, 45, 90], intensity });
const swap = (from: string | RegExp, to: string): string => {
  const changed = GOOD.replace(from, to);
  if (changed === GOOD) throw new Error(`nothing to change: ${String(from)}`);
  return changed;
};

describe('LM-63', () => {
  test('the composed file itself is good', () => expect(faultOf(GOOD)).toBe('none'));
  test.each<[string, string, string]>([
    ['an empty file', ' \n ', 'quay-spot.ies: found an empty file, expected a photometric file'],
    [
      'some other text',
      'A letter to the harbour master\n',
      'quay-spot.ies, line 1: found neither a TILT= line nor the first lines of EULUMDAT, expected a file in LM-63 or EULUMDAT',
    ],
    [
      'no TILT line',
      swap('TILT=NONE\n', ''),
      'quay-spot.ies, line 11: found no line that begins with TILT=, expected TILT=NONE or TILT=INCLUDE after the keywords',
    ],
    [
      'a table of tilt elsewhere',
      swap('TILT=NONE', 'TILT=quay.tlt'),
      'quay-spot.ies, line 5: found TILT="quay.tlt", expected TILT=NONE or TILT=INCLUDE; a table in another file cannot be read',
    ],
    ['an angle too few', swap('0 10 20 30', '0 10 30'), 'quay-spot.ies, line 8: 10 vertical angles promised, 9 found'],
    ['an angle too many', swap('30 40', '30 35 40'), 'quay-spot.ies, line 8: 10 vertical angles promised, more found'],
    [
      'angles out of order',
      swap('30 40', '40 30'),
      'quay-spot.ies, line 8: found 30 after 40, expected vertical angles that rise',
    ],
    [
      'an angle twice',
      swap('30 40', '40 40'),
      'quay-spot.ies, line 8: found 40 after 40, expected vertical angles that rise',
    ],
    [
      'an angle beyond',
      swap('80 90\n', '80 190\n'),
      'quay-spot.ies, line 8: found 190, expected a vertical angle from 0 to 180',
    ],
    [
      'planes that end nowhere',
      swap('0 45 90', '0 45 100'),
      'quay-spot.ies, line 9: found C planes from 0 to 100, expected C planes from 0 to 0, 90, 180 or 360, or from 90 to 270',
    ],
    ['a value too few', swap(/ 0\n$/, '\n'), 'quay-spot.ies, line 13: 30 candela values promised, 29 found'],
    ['a value too many', swap(/ 0\n$/, ' 0 0\n'), 'quay-spot.ies, line 12: 30 candela values promised, 31 found'],
    [
      'text at the end',
      swap(/ 0\n$/, ' 0\nend of lamp\n'),
      'quay-spot.ies, line 13: found text after the last value (line 12), expected the end of the file',
    ],
    [
      'negative candela',
      swap('1000', '-1000'),
      'quay-spot.ies, line 10: found "-1000", expected candela from 0 to 1000000000000',
    ],
    [
      'candela of no lamp',
      swap('1000', '1e13'),
      'quay-spot.ies, line 10: found "1e13", expected candela from 0 to 1000000000000',
    ],
    ['no number', swap('985', 'NaN'), 'quay-spot.ies, line 10: found "NaN", expected a number for candela'],
    [
      'beyond all numbers',
      swap('985', '1e999'),
      'quay-spot.ies, line 10: found "1e999", expected candela from 0 to 1000000000000',
    ],
    [
      'a decimal comma',
      swap('985', '9,85.1.2'),
      'quay-spot.ies, line 10: found "85.1.2", expected a number for candela',
    ],
    [
      'no type',
      swap('10 3 1 2', '10 3 4 2'),
      'quay-spot.ies, line 6: found "4", expected photometric type from 1 to 3',
    ],
    ['no units', swap('10 3 1 2', '10 3 1 0'), 'quay-spot.ies, line 6: found "0", expected units from 1 to 2'],
    [
      'a broken count',
      swap('10 3 1 2', '10.5 3 1 2'),
      'quay-spot.ies, line 6: found 10.5, expected a whole number for number of vertical angles',
    ],
    [
      'a multiplier of 0',
      swap('1 -1 1 10', '1 -1 0 10'),
      'quay-spot.ies, line 6: found "0", expected candela multiplier from 1e-12 to 1000000000',
    ],
    [
      'a huge opening',
      swap('2 0 0 0', '2 400 1 0'),
      'quay-spot.ies, line 6: found an opening of 400 1 0, expected at most 100 m each way',
    ],
    [
      'signs of no shape',
      swap('2 0 0 0', '2 1 1 -1'),
      'quay-spot.ies, line 6: found an opening of 1 1 -1, expected signs of width, length and height that name a shape',
    ],
    [
      'dark all over',
      lm63({ verticalDeg: [0, 90], horizontalDeg: [0], intensity: () => 0 }),
      'quay-spot.ies: found candela of 0 everywhere, expected some light',
    ],
    [
      'cut in the middle',
      GOOD.slice(0, GOOD.indexOf('10 3 1 2') + 4),
      'quay-spot.ies, line 6: 10 vertical angles promised, and the file ends before',
    ],
    [
      'a count that the file cannot hold',
      swap('10 3 1 2', '3999 3 1 2'),
      'quay-spot.ies, line 6: 3999 vertical angles promised, and the file ends before',
    ],
    [
      'a plane alone, type B',
      lm63({ type: 2, verticalDeg: [-90, 0, 90], horizontalDeg: [0], intensity: () => 5 }),
      'quay-spot.ies, line 9: found 1 horizontal angle, expected at least 2 for types A and B',
    ],
  ])('%s', (_name, text, expected) => expect(faultOf(text)).toEqual(expected));

  test('a fault is data: file, line, found, expected', () => {
    const read = readPhotometricText(swap('0 10 20 30', '0 10 30'), 'a.ies');
    expect(read).toEqual({
      ok: false,
      fault: {
        file: 'a.ies',
        line: 8,
        path: '',
        found: '9 vertical angles',
        expected: '10',
        sentence: '10 vertical angles promised, 9 found',
      },
    });
  });
});

describe('EULUMDAT', () => {
  const parts = { symmetry: 4, planesDeg: steps(0, 345, 15), gammaDeg: steps(0, 90, 10), intensity } as const;
  const lines = eulumdat(parts).split('\r\n');
  const withLine = (line: number, words: string): string =>
    lines.map((old, index) => (index === line - 1 ? words : old)).join('\r\n');

  test.each<[string, string, string]>([
    ['no symmetry', withLine(3, '5'), 'found neither a TILT= line'],
    [
      'planes that four does not divide',
      withLine(4, '22'),
      'line 4: found 22 C planes, expected a number of C planes that 4 divides, for this symmetry',
    ],
    ['one plane too many promised', withLine(4, '28'), 'line 66: 28 C planes promised, 24 found'],
    ['no flux', withLine(29, '0'), 'line 29: found 0 lm, expected a luminous flux above 0'],
    ['no number', withLine(29, 'bright'), 'line 29: found "bright", expected a number for luminous flux of the lamps'],
    ['a gap', withLine(6, ''), 'line 6: found nothing, expected a number for number of gamma angles'],
    [
      'a huge area',
      withLine(16, '200000'),
      'line 16: found "200000", expected length of the luminous area, mm, from 0 to 100000',
    ],
    ['a value too few', lines.slice(0, -2).join('\r\n'), 'line 145: 70 intensity values promised, 69 found'],
    ['a value too many', `${lines.join('\r\n')}1\r\n`, 'line 147: 70 intensity values promised, 71 found'],
    ['negative', withLine(80, '-4'), 'line 80: found "-4", expected intensity from 0'],
    ['angles out of order', withLine(70, '5'), 'line 70: found 5 after 20, expected gamma angles that rise'],
    ['cut in its head', lines.slice(0, 20).join('\r\n'), 'found the end of the file'],
    ['too many sets', withLine(26, '1000'), 'line 26: found "1000", expected number of lamp sets from 1 to 50'],
    ['a quarter that stops short', withLine(49, '91'), 'expected C planes'],
  ])('%s', (_name, text, expected) => expect(faultOf(text)).toContain(expected));
});

test('a file longer than any photometric file is refused unread, whatever is in it', () => {
  for (const bytes of [new Uint8Array(50_000_000), new Uint8Array(50_000_000).fill(0x39)]) {
    const read = openPhotometricFile(bytes, 'big.ies');
    expect(read.ok ? '' : formatFault(read.fault)).toBe(
      'big.ies: found 50.0 MB, expected at most 2 MB; no photometric file is larger',
    );
  }
  const long = `${GOOD}${' '.repeat(2_000_000)}`;
  expect(faultOf(long)).toMatch(/^quay-spot.ies: found \d+ characters, expected at most 2000000/);
});
