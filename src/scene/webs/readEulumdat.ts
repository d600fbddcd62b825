/**
 * EULUMDAT text to candela by direction: symmetries 0 to 4, one or several sets of lamps.
 * @source field list as several public descriptions give it; the plane order of symmetry 3 (from C270 through C0 to
 *   C90), and that lengths lie along C90, from memory
 */
import { readAngles, readCandela, MOST_ANGLES } from './angles';
import { FileFault, quoted } from './fileFault';
import { NumberStream } from './numberStream';
import { WIDEST_OPENING_M } from './opening';
import type { Keyword, LuminousOpening, PhotometricFile, PhotometricSymmetry } from './photometricFile';

const NUMBER = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?$/;
const MOST_LAMP_SETS = 50;
const SYMMETRIES: readonly PhotometricSymmetry[] = ['none', 'round', 'about0', 'about90', 'quadrants'];
/** Words that a file keeps for each of its text fields, by line. */
const TEXT_FIELDS: readonly (readonly [line: number, key: string])[] = [
  [1, 'MANUFAC'],
  [8, 'TEST'],
  [9, 'LUMINAIRE'],
  [10, 'LUMCAT'],
  [11, 'FILE'],
  [12, 'ISSUEDATE'],
];

/** The file's lines, each with where the next one begins. */
class Lines {
  readonly words: string[] = [];
  readonly ends: number[] = [];

  /** @param most lines that are wanted; the rest of the text is left */
  constructor(text: string, most: number) {
    const breaks = /\r\n|\r|\n/g;
    let at = 0;
    while (at < text.length && this.words.length < most) {
      breaks.lastIndex = at;
      const found = breaks.exec(text);
      this.words.push(
        text
          .slice(at, found?.index ?? text.length)
          .replace(/^\ufeff/, '')
          .trim(),
      );
      at = found ? found.index + found[0].length : text.length;
      this.ends.push(at);
    }
  }

  text(line: number, what: string): string {
    const words = this.words[line - 1];
    if (words === undefined) throw new FileFault(this.words.length, 'the end of the file', what);
    return words;
  }

  /** @param blank what an empty line stands for; without it a number must be there */
  number(line: number, what: string, min: number, max: number, blank?: number): number {
    const words = this.text(line, what);
    if (words === '' && blank !== undefined) return blank;
    const value = words.length <= 60 && NUMBER.test(words) ? Number(words.replace(',', '.')) : NaN;
    if (Number.isNaN(value))
      throw new FileFault(line, words === '' ? 'nothing' : quoted(words), `a number for ${what}`);
    if (value < min || value > max || !Number.isFinite(value)) {
      throw new FileFault(line, quoted(words), `${what} from ${min} to ${max}`);
    }
    return value + 0;
  }

  whole(line: number, what: string, min: number, max: number): number {
    const value = this.number(line, what, min, max);
    if (!Number.isInteger(value)) throw new FileFault(line, String(value), `a whole number for ${what}`);
    return value;
  }

  isNumber(line: number): boolean {
    return NUMBER.test(this.words[line - 1] ?? '');
  }
}

/** True where the lines that must be small whole numbers are. */
export function looksLikeEulumdat(text: string): boolean {
  const lines = new Lines(text, 8).words;
  return /^[0-3]$/.test(lines[1] ?? '') && /^[0-4]$/.test(lines[2] ?? '') && /^\d+$/.test(lines[3] ?? '');
}

interface Lamps {
  readonly count: number;
  readonly fluxLm: number;
  readonly inputW: number;
  readonly isAbsolute: boolean;
  readonly types: readonly string[];
}

const FIELDS_A_SET = 6;
const FIRST_SET_LINE = 27;

/**
 * Lamps of all sets. Files write six lines for one set after the other, or each line for all sets before the next; a
 * set's second line is text, so the lines tell which.
 */
function readLamps(lines: Lines, sets: number): Lamps {
  const at = (field: number, set: number): number => FIRST_SET_LINE + set * FIELDS_A_SET + field;
  const byField = (field: number, set: number): number => FIRST_SET_LINE + field * sets + set;
  const fits = (place: (field: number, set: number) => number): boolean =>
    Array.from({ length: sets }, (_, set) => [0, 2, 5].every((field) => lines.isNumber(place(field, set)))).every(
      Boolean,
    );
  const isByField = sets > 1 && !fits(at) && fits(byField);
  const place = isByField ? byField : at;
  let [count, fluxLm, inputW, isAbsolute] = [0, 0, 0, false];
  const types: string[] = [];
  for (let set = 0; set < sets; set++) {
    const lamps = lines.number(place(0, set), 'number of lamps', -1e6, 1e6);
    isAbsolute ||= lamps < 0;
    count += Math.abs(lamps);
    types.push(lines.text(place(1, set), 'type of lamps'));
    fluxLm += lines.number(place(2, set), 'luminous flux of the lamps', 0, 1e9);
    inputW += lines.number(place(5, set), 'watts', 0, 1e9, 0);
  }
  if (!(fluxLm > 0))
    throw new FileFault(place(2, 0), '0 lm', 'a luminous flux above 0, which the table is in shares of');
  return { count, fluxLm, inputW, isAbsolute, types };
}

function readOpening(lines: Lines): LuminousOpening {
  const mostMm = WIDEST_OPENING_M * 1000;
  const size = (line: number, what: string): number => lines.number(line, what, 0, mostMm, 0) / 1000;
  const lengthM = size(16, 'length of the luminous area, mm,');
  const widthM = size(17, 'width of the luminous area, mm,');
  const heights = [18, 19, 20, 21].map((line) => size(line, 'height of the luminous area, mm,'));
  const deepM = Math.max(...heights);
  if (lengthM === 0 && widthM === 0) return { shape: 'point', acrossM: 0, upM: 0, deepM: 0 };
  if (widthM === 0) return { shape: deepM > 0 ? 'uprightCylinder' : 'disc', acrossM: lengthM, upM: lengthM, deepM };
  return { shape: 'rectangle', acrossM: widthM, upM: lengthM, deepM };
}

/** Planes that are stored, of `all`, and their angles, rising. */
function storedPlanes(all: readonly number[], symmetry: PhotometricSymmetry, line: number): number[] {
  const count = all.length;
  const asked = (ok: boolean, found: string, expected: string): void => {
    if (!ok) throw new FileFault(line, found, expected);
  };
  switch (symmetry) {
    case 'round':
      return [0];
    case 'about0': {
      const half = all.slice(0, count / 2 + 1);
      asked(
        half[0] === 0 && half.at(-1) === 180,
        `C planes from ${half[0]} to ${half.at(-1)}`,
        'C planes from 0 to 180',
      );
      return half;
    }
    case 'about90': {
      const half = [...all.slice((3 * count) / 4).map((angle) => angle - 360), ...all.slice(0, count / 4 + 1)];
      const ends = half[0] === -90 && half.at(-1) === 90;
      asked(ends, `C planes from ${(half[0] ?? 0) + 360} to ${half.at(-1)}`, 'C planes from 270 through 0 to 90');
      return half;
    }
    case 'quadrants': {
      const quarter = all.slice(0, count / 4 + 1);
      const [first, last] = [quarter[0], quarter.at(-1)];
      asked(first === 0 && last === 90, `C planes from ${first} to ${last}`, 'C planes from 0 to 90');
      return quarter;
    }
    default: {
      const last = all.at(-1)!;
      asked(all[0] === 0, `a first C plane at ${all[0]}`, 'a first C plane at 0');
      asked(count > 1 && last > 180, `C planes from 0 to ${last}`, 'C planes all round, without symmetry');
      return [...all];
    }
  }
}

function keywordsOf(lines: Lines, types: readonly string[]): Keyword[] {
  const keywords = TEXT_FIELDS.map(([line, key]) => ({ key, text: lines.words[line - 1] ?? '' }));
  return [...keywords, ...types.map((text) => ({ key: 'LAMP', text }))].filter(({ text }) => text !== '');
}

const PLANES_IN_FULL: Readonly<Partial<Record<PhotometricSymmetry, number>>> = { about0: 2, about90: 4, quadrants: 4 };

/** What a photometric file in EULUMDAT says. @throws {FileFault} for the first thing that is wrong */
export function readEulumdat(text: string): PhotometricFile {
  const headLines = FIRST_SET_LINE + FIELDS_A_SET * MOST_LAMP_SETS + 10;
  const lines = new Lines(text, headLines);
  lines.whole(2, 'type of luminaire', 0, 3);
  const symmetry = SYMMETRIES[lines.whole(3, 'symmetry', 0, 4)]!;
  const planeCount = lines.whole(4, 'number of C planes', 1, MOST_ANGLES);
  const multiple = PLANES_IN_FULL[symmetry] ?? 1;
  if (planeCount % multiple !== 0) {
    throw new FileFault(
      4,
      `${planeCount} C planes`,
      `a number of C planes that ${multiple} divides, for this symmetry`,
    );
  }
  lines.number(5, 'distance of C planes', 0, 360, 0);
  const gammaCount = lines.whole(6, 'number of gamma angles', 2, MOST_ANGLES);
  lines.number(7, 'distance of gamma angles', 0, 180, 0);
  const opening = readOpening(lines);
  const conversion = lines.number(24, 'conversion factor for intensities', 0, 1e9, 1) || 1;
  const sets = lines.whole(26, 'number of lamp sets', 1, MOST_LAMP_SETS);
  const lamps = readLamps(lines, sets);
  const lastHead = FIRST_SET_LINE - 1 + FIELDS_A_SET * sets + 10;
  for (let i = 0; i < 10; i++) lines.number(lastHead - 9 + i, 'a direct ratio', -1e9, 1e9, 0);
  const stream = new NumberStream(text, lines.ends[lastHead - 1]!, lastHead + 1, false);
  const all = readAngles(stream, { count: planeCount, what: 'C plane', min: 0, max: 360 });
  const horizontalDeg = storedPlanes(all, symmetry, stream.line);
  const verticalDeg = readAngles(stream, { count: gammaCount, what: 'gamma angle', min: 0, max: 180 });
  const factor = (lamps.fluxLm / 1000) * conversion;
  const count = horizontalDeg.length * gammaCount;
  return {
    format: 'eulumdat',
    edition: null,
    keywords: keywordsOf(lines, lamps.types),
    system: 'C',
    symmetry,
    verticalDeg,
    horizontalDeg,
    candela: readCandela(stream, count, factor, 'intensity'),
    opening,
    lampCount: lamps.count,
    lampLumens: lamps.isAbsolute ? null : lamps.fluxLm,
    inputW: lamps.inputW,
    tilt: null,
  };
}
