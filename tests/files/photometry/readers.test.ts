/** The readers on composed files: every edition, type, symmetry and oddity that real files have. */
import { describe, expect, test } from 'vitest';
import { openPhotometricFile } from '../../../src/files/photometry/openPhotometricFile';
import type { LuminousOpening, PhotometricFile } from '../../../src/scene/webs/photometricFile';
import { readPhotometricText } from '../../../src/scene/webs/readPhotometricText';
import { directionOf } from '../../../src/sim/photometry/web/directions';
import { webFlux } from '../../../src/sim/photometry/web/flux';
import { gridOf, valueTowards } from '../../../src/sim/photometry/web/grid';
import { referenceText } from '../../validation/fileLaws';
import { eulumdat, lm63, radians, steps, type Lm63Parts } from './compose';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
function good(text: string): PhotometricFile {
  const read = readPhotometricText(text, 'quay.ies');
  if (!read.ok) throw new Error(JSON.stringify(read.fault));
  return read.file;
}
/** Candela of a file towards the direction of two angles, degrees. */
function candelaAt(file: PhotometricFile, verticalDeg: number, horizontalDeg: number): number {
  const { along, right, up } = directionOf(file.system, radians(verticalDeg), radians(horizontalDeg));
  return valueTowards(gridOf(file), along, right, up);
}

/** Lit from the right and a little from above: no two quarters alike. */
const lopsided = (gamma: number, c: number): number =>
  1000 * Math.cos(radians(gamma)) * (2 + Math.cos(radians(c)) + 0.5 * Math.sin(radians(c)));
const cosine = (gamma: number): number => 1000 * Math.cos(radians(gamma));
const GAMMAS = steps(0, 90, 2.5);
const round: Lm63Parts = { verticalDeg: GAMMAS, horizontalDeg: [0], intensity: cosine };

describe('LM-63', () => {
  test.each([1986, 1991, 1995, 2002, 2019] as const)('edition of %d', (edition) => {
    const file = good(lm63({ ...round, edition }));
    expect(file.edition).toBe(String(edition));
    // Lambert: pi I0; the interpolant of a 2.5 degree table is within 0.03 % of it.
    expect(webFlux(gridOf(file)) / (1000 * Math.PI)).toBeCloseTo(1, 3);
    expect(file.keywords).toContainEqual({ key: 'MANUFAC', text: 'Salt Ledger stores' });
  });

  test('free lines of 1986 are kept up to TILT', () => {
    const file = good(lm63({ ...round, edition: 1986, keywords: 'Quay spot, invented\n  hung at the crane  ' }));
    expect(file.keywords).toEqual([
      { key: '', text: 'Quay spot, invented' },
      { key: '', text: 'hung at the crane' },
    ]);
  });

  test('factors: multiplier, ballast and, before 2019, the second one; in 2019 that tells how the file was made', () => {
    const parts: Lm63Parts = { ...round, multiplier: 2.5, ballast: [0.9, 0.8, 400] };
    expect(candelaAt(good(lm63({ ...parts, edition: 1995 })), 0, 0)).toBeCloseTo(1000 * 0.9 * 0.8, 9);
    expect(candelaAt(good(lm63({ ...parts, edition: 2019, ballast: [0.9, 1.1, 400] })), 0, 0)).toBeCloseTo(900, 9);
    expect(good(lm63(parts)).inputW).toBe(400);
  });

  test.each<[string, number[], string, (c: number) => number]>([
    ['0..90 stands for four quarters', steps(0, 90, 15), 'quadrants', (c) => 90 - Math.abs((c % 180) - 90)],
    ['0..180 is mirrored in C0-C180', steps(0, 180, 15), 'about0', (c) => (c > 180 ? 360 - c : c)],
    [
      '90..270 is mirrored in C90-C270',
      steps(90, 270, 15),
      'about90',
      (c) => (c < 90 ? 180 - c : c > 270 ? 540 - c : c),
    ],
    ['0..360 stands for itself', steps(0, 360, 15), 'none', (c) => c],
    ['0..345 is closed with its first plane', steps(0, 345, 15), 'none', (c) => c],
  ])('%s', (_name, horizontalDeg, symmetry, storedAt) => {
    const file = good(lm63({ verticalDeg: GAMMAS, horizontalDeg, intensity: lopsided }));
    expect(file.symmetry).toBe(symmetry);
    for (const c of [0, 15, 75, 90, 105, 165, 180, 195, 255, 270, 285, 345]) {
      expect(candelaAt(file, 40, c), `C ${c}`).toBeCloseTo(lopsided(40, storedAt(c)), 6);
    }
  });

  test('uneven planes from 90 to 270 keep their sides', () => {
    const file = good(lm63({ verticalDeg: GAMMAS, horizontalDeg: [90, 120, 180, 270], intensity: lopsided }));
    for (const c of [60, 120]) expect(candelaAt(file, 40, c)).toBeCloseTo(lopsided(40, 120), 6);
    const between = lopsided(40, 180) + (60 / 90) * (lopsided(40, 270) - lopsided(40, 180));
    for (const c of [240, 300]) expect(candelaAt(file, 40, c)).toBeCloseTo(between, 6);
  });

  test('between the angles of an uneven table intensity is bilinear, to the last figure', () => {
    const file = good(
      lm63({
        verticalDeg: [0, 3, 4, 10, 45, 90],
        horizontalDeg: [0, 7, 90, 200, 360],
        intensity: (g, c) => g * g + g * c,
      }),
    );
    const [g, c] = [22.75, 150.2];
    const mix = (t: number, a: number, b: number): number => a + t * (b - a);
    const edge = (at: number, plane: number): number => at * at + at * plane;
    const tg = (g - 10) / 35;
    const tc = (c - 90) / 110;
    const byHand = mix(tc, mix(tg, edge(10, 90), edge(45, 90)), mix(tg, edge(10, 200), edge(45, 200)));
    expect(candelaAt(file, g, c)).toBeCloseTo(byHand, 8);
  });

  test('there is no light outside the table', () => {
    const file = good(lm63({ ...round, verticalDeg: steps(0, 60, 5), intensity: () => 100 }));
    expect(candelaAt(file, 60, 10)).toBeCloseTo(100, 9);
    expect(candelaAt(file, 60.1, 10)).toBe(0);
    // 100 cd over the cone of 60 degrees: 2 pi 100 (1 - cos 60)
    expect(webFlux(gridOf(file))).toBeCloseTo(100 * Math.PI, 6);
  });

  // cos V cos H is Lambert's law about the axis in types A and B alike: pi I0.
  test.each([2, 3] as const)('type %d: Lambert’s law, whole, with mirrored sides and in one quarter', (type) => {
    const intensity = (v: number, h: number): number => 1000 * Math.cos(radians(v)) * Math.cos(radians(h));
    const whole = steps(-90, 90, 2.5);
    const half = steps(0, 90, 2.5);
    for (const [verticalDeg, horizontalDeg] of [
      [whole, whole],
      [whole, half],
      [half, half],
    ] as const) {
      const file = good(lm63({ type, verticalDeg, horizontalDeg, intensity }));
      expect(webFlux(gridOf(file)) / (1000 * Math.PI)).toBeCloseTo(1, 3);
      expect(candelaAt(file, -20, -35)).toBeCloseTo(intensity(20, 35), 6);
      expect(valueTowards(gridOf(file), -1, 0, 0)).toBe(0);
    }
  });

  test('types A and B differ off both axes', () => {
    const parts = {
      verticalDeg: steps(-90, 90, 1),
      horizontalDeg: steps(-90, 90, 1),
      intensity: (v: number) => 100 + v,
    };
    const [a, b] = [good(lm63({ ...parts, type: 3 })), good(lm63({ ...parts, type: 2 }))];
    const direction = directionOf('A', radians(20), radians(50));
    // In B the same direction stands at V = atan(up / along).
    const v = (Math.atan2(direction.up, direction.along) * 180) / Math.PI;
    expect(valueTowards(gridOf(a), direction.along, direction.right, direction.up)).toBeCloseTo(120, 6);
    expect(valueTowards(gridOf(b), direction.along, direction.right, direction.up)).toBeCloseTo(100 + v, 6);
  });

  test.each<[string, [number, number, number], Partial<LuminousOpening>]>([
    ['nothing', [0, 0, 0], { shape: 'point' }],
    ['a rectangle', [0.6, 1.2, 0], { shape: 'rectangle', upM: 0.6, acrossM: 1.2, deepM: 0 }],
    ['a box with lit sides', [0.6, 1.2, 0.1], { shape: 'rectangle', deepM: 0.1 }],
    ['a circle', [-0.25, -0.25, 0], { shape: 'disc', acrossM: 0.25, upM: 0.25 }],
    ['a circle by its width alone', [-0.25, 0, 0], { shape: 'disc', acrossM: 0.25, upM: 0.25 }],
    ['an ellipse', [-0.25, -0.5, 0], { shape: 'disc', acrossM: 0.5, upM: 0.25 }],
    ['an upright cylinder', [-0.25, -0.25, 0.4], { shape: 'uprightCylinder', deepM: 0.4 }],
    ['a ball', [-0.3, -0.3, -0.3], { shape: 'spheroid', deepM: 0.3 }],
    ['a cylinder along C0', [-0.04, 1.2, -0.04], { shape: 'cylinderAlongC0', acrossM: 1.2, upM: 0.04 }],
    ['a cylinder along C90', [1.2, -0.04, -0.04], { shape: 'cylinderAlongC90', acrossM: 0.04, upM: 1.2 }],
    ['an upright disc', [-0.4, 0, -0.4], { shape: 'discFacingC0', upM: 0.4, deepM: 0.4 }],
  ])('opening of 2002: %s', (_name, opening, expected) => {
    expect(good(lm63({ ...round, opening })).opening).toMatchObject(expected);
  });
  test('up to 1995 width and height alone are a ball; feet are feet', () => {
    const { opening } = good(lm63({ ...round, edition: 1995, opening: [-1, 0, -1], units: 1 }));
    expect(opening).toEqual({ shape: 'spheroid', acrossM: 0.3048, upM: 0.3048, deepM: 0.3048 });
  });

  test('TILT: what follows is read; the table of lumens is not touched', () => {
    const file = good(referenceText('D'));
    expect(file.tilt).toEqual({ geometry: 1, anglesDeg: [0, 45, 90], factors: [1, 0.9, 0.8] });
    expect(file.lampLumens).toBeNull();
    expect(file.opening.acrossM).toBeCloseTo(0.1524, 12);
    expect(good(lm63({ ...round, lumens: 12_500, lamps: 2 })).lampLumens).toBe(25_000);
  });
});

describe('LM-63 as files really are', () => {
  const text = lm63({ verticalDeg: GAMMAS, horizontalDeg: steps(0, 90, 15), intensity: lopsided });
  const plain = good(text);
  const sameWeb = (other: string): void => expect(good(other).candela).toEqual(plain.candela);
  const [head, table] = text.split('TILT=NONE\n') as [string, string];

  test.each<[string, string]>([
    ['CRLF', text.replaceAll('\n', '\r\n')],
    ['CR alone', text.replaceAll('\n', '\r')],
    ['tabs', `${head}TILT=NONE\n${table.replaceAll(' ', '\t')}`],
    ['commas, with and without spaces', `${head}TILT=NONE\n${table.replaceAll(' ', ',').replace(',', ' , ')}`],
    ['one number a line', `${head}TILT=NONE\n${table.replaceAll(' ', '\n')}`],
    ['all numbers on one line', `${head}TILT=NONE\n${table.replaceAll('\n', ' ')}`],
    ['trailing blanks, lines and an end mark', `${text}  \n\n \t\n\u001a`],
    ['TILT with blanks, small letters', text.replace('TILT=NONE', ' tilt = none ')],
    ['numbers with exponents', `${head}TILT=NONE\n${table.replace('100\n', '1.0E+02\n')}`],
    ['whole numbers with a point', text.replace(/\n1 -1 1 37 7 1 2 /, '\n1.0 -1. 1 37.0 7. 1 2 ')],
  ])('%s', (_name, other) => {
    expect(other).not.toBe(text);
    sameWeb(other);
  });

  test('a byte order mark, odd keywords and letters of 8 bits', () => {
    const odd = text.replace(
      '[TEST] SL-1',
      '[TEST] SL-1\n[_STORE] shelf 4\n[more]and a line below\n[QUAY NORTH]\nno keyword',
    );
    const withMark = openPhotometricFile(Uint8Array.from([0xef, 0xbb, 0xbf, ...bytesOf(odd)]), 'a.ies');
    expect(withMark.ok && withMark.file.keywords.slice(0, 5)).toEqual([
      { key: 'TEST', text: 'SL-1' },
      { key: '_STORE', text: 'shelf 4' },
      { key: 'MORE', text: 'and a line below' },
      { key: 'QUAY NORTH', text: '' },
      { key: '', text: 'no keyword' },
    ]);
    expect(withMark.ok && withMark.file.edition).toBe('2002');
    const latin = bytesOf(text.replace('quay spot', 'kaj x spot')).map((byte) => (byte === 0x78 ? 0xe5 : byte));
    const read = openPhotometricFile(latin, 'b.ies');
    expect(read.ok && read.file.keywords.at(-1)).toEqual({ key: 'LUMINAIRE', text: 'kaj å spot, invented' });
    const wide = Uint8Array.from([0xff, 0xfe, ...[...text].flatMap((letter) => [letter.charCodeAt(0), 0])]);
    expect(openPhotometricFile(wide, 'c.ies').ok).toBe(true);
  });
});

describe('EULUMDAT', () => {
  const turn = steps(0, 345, 15);
  test('the composed cosine: 1000 cd on the axis, Lambert’s flux', () => {
    const file = good(referenceText('C'));
    expect(file).toMatchObject({ format: 'eulumdat', symmetry: 'round', lampLumens: 3141.593, inputW: 100 });
    expect(candelaAt(file, 60, 77)).toBeCloseTo(500, 3);
  });

  test.each<[0 | 1 | 2 | 3 | 4, (c: number) => number]>([
    [0, (c) => c],
    [1, () => 0],
    [2, (c) => (c > 180 ? 360 - c : c)],
    [3, (c) => (c > 90 && c < 270 ? (540 - c) % 360 : c)],
    [4, (c) => 90 - Math.abs((c % 180) - 90)],
  ])('symmetry %d', (symmetry, storedAt) => {
    const file = good(eulumdat({ symmetry, planesDeg: turn, gammaDeg: GAMMAS, intensity: lopsided }));
    for (const c of turn) expect(candelaAt(file, 40, c), `C ${c}`).toBeCloseTo(lopsided(40, storedAt(c)), 6);
  });

  const sets = [
    [2, 'batten tube', 3000, '3200', '95', 60],
    [1, 'batten end', 1000, '5600', '90', 20],
  ] as const;
  test('several sets of lamps, set by set or field by field', () => {
    const parts = { symmetry: 4, planesDeg: turn, gammaDeg: GAMMAS, intensity: lopsided, sets } as const;
    for (const byField of [false, true]) {
      const file = good(eulumdat({ ...parts, byField }));
      expect(file).toMatchObject({ lampCount: 3, lampLumens: 4000, inputW: 80 });
      expect(file.keywords.filter(({ key }) => key === 'LAMP').map((word) => word.text)).toEqual([
        'batten tube',
        'batten end',
      ]);
      expect(candelaAt(file, 0, 0)).toBeCloseTo(lopsided(0, 0), 6);
    }
  });

  test('a negative number of lamps is absolute photometry; the conversion factor counts', () => {
    const absolute = [[-1, 'own', 4000, '', '', 60]] as const;
    const parts = { symmetry: 1, planesDeg: [0], gammaDeg: GAMMAS, intensity: cosine } as const;
    expect(good(eulumdat({ ...parts, sets: absolute })).lampLumens).toBeNull();
    expect(candelaAt(good(eulumdat({ ...parts, conversion: 0.8 })), 0, 0)).toBeCloseTo(1000, 6);
  });

  test('decimal commas, blank fields, blanks around numbers, trailing lines', () => {
    const parts = {
      symmetry: 4,
      planesDeg: turn,
      gammaDeg: GAMMAS,
      intensity: lopsided,
      areaMm: [1200.5, 80, 0],
    } as const;
    const text = eulumdat(parts);
    const odd = `${text.replaceAll(/(\d)\.(\d)/g, '$1,$2').replaceAll('\r\n', ' \r\n ')}\r\n\r\n\u001a`;
    const file = good(odd.replace('batten,ldt', 'batten.ldt'));
    expect(file.candela).toEqual(good(text).candela);
    // Lengths lie along C90, the lamp's up; widths along C0.
    expect(file.opening).toEqual({ shape: 'rectangle', acrossM: 0.08, upM: 1.2005, deepM: 0 });
    const lines = text.split('\r\n');
    for (const blank of [4, 6, 14, 23, 24]) lines[blank] = '';
    expect(good(lines.join('\n')).candela).toEqual(good(text).candela);
  });

  test('a width of 0 is round', () => {
    const parts = { symmetry: 1, planesDeg: [0], gammaDeg: GAMMAS, intensity: cosine } as const;
    expect(good(eulumdat({ ...parts, areaMm: [250, 0, 0] })).opening).toMatchObject({ shape: 'disc', acrossM: 0.25 });
    expect(good(eulumdat({ ...parts, areaMm: [250, 0, 90] })).opening.shape).toBe('uprightCylinder');
    expect(good(eulumdat({ ...parts, areaMm: [0, 0, 0] })).opening.shape).toBe('point');
  });
});
