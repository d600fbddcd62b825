/**
 * LM-63 text to candela by direction, editions of 1986 to 2019.
 * @source ANSI/IESNA LM-63-02 sections 1 to 3 for order and meaning; differences of the editions of 1986, 1991, 1995 and
 *   2019 from memory
 * @remarks Left out: a TILT table in a file of its own (the text alone does not hold it).
 */
import { readAngles, readCandela, readCount, type AngleList } from './angles';
import { FileFault, quoted } from './fileFault';
import { NumberStream } from './numberStream';
import { FOOT_M, openingOf } from './opening';
import type {
  Keyword,
  LampTilt,
  Lm63Edition,
  LuminousOpening,
  PhotometricFile,
  PhotometricSymmetry,
  PhotometricSystem,
} from './photometricFile';

/** "IESNA91", "IESNA:LM-63-1995", "IES:LM-63-2019"; files of 1986 say nothing. */
const FIRST_LINE = /^\s*(?:IESNA\s?(91)|IES(?:NA)?\s?:?\s?LM-63-(\d{4}))/i;
const TILT_LINE = /^\s*TILT\s*=\s*(.*?)\s*$/i;
const KEYWORD = /^\s*\[([^\]]{1,80})\]\s?(.*?)\s*$/;
/** A head longer than this is no head. */
const MOST_HEAD_LINES = 2000;
/** More of a keyword's line is not kept. */
const LONGEST_LINE = 2000;

interface Head {
  readonly edition: Lm63Edition;
  readonly keywords: Keyword[];
  readonly tilt: string;
  /** Line of TILT=, from 1, and where the text goes on after it. */
  readonly line: number;
  readonly next: number;
}

/** True where the text's first line or a TILT line says LM-63. */
export function looksLikeLm63(text: string): boolean {
  return (
    FIRST_LINE.test(text.slice(0, 200).replace(/^\ufeff/, '')) || /^[ \t]*TILT[ \t]*=/im.test(text.slice(0, 200_000))
  );
}

function editionOf(firstLine: RegExpExecArray): Lm63Edition {
  const year = Number(firstLine[2] ?? 1991);
  if (year < 1991) return '1986';
  if (year < 1995) return '1991';
  if (year < 2002) return '1995';
  return year < 2019 ? '2002' : '2019';
}

function readHead(text: string): Head {
  let edition: Lm63Edition = '1986';
  const keywords: Keyword[] = [];
  let [at, line] = [0, 0];
  while (at < text.length && line < MOST_HEAD_LINES) {
    const end = /\r\n|\r|\n/g;
    end.lastIndex = at;
    const found = end.exec(text);
    const words = text.slice(at, Math.min(found?.index ?? text.length, at + LONGEST_LINE)).replace(/^\ufeff/, '');
    line += 1;
    at = found ? found.index + found[0].length : text.length;
    const tilt = TILT_LINE.exec(words)?.[1];
    if (tilt !== undefined) return { edition, keywords, tilt, line, next: at };
    const first = keywords.length === 0 ? FIRST_LINE.exec(words) : null;
    const keyword = KEYWORD.exec(words);
    if (first) edition = editionOf(first);
    else if (keyword) keywords.push({ key: keyword[1]!.trim().toUpperCase(), text: keyword[2]! });
    else if (words.trim() !== '') keywords.push({ key: '', text: words.trim() });
  }
  throw new FileFault(line, 'no line that begins with TILT=', 'TILT=NONE or TILT=INCLUDE after the keywords');
}

function readTilt(head: Head, stream: NumberStream): LampTilt | null {
  const what = head.tilt.toUpperCase();
  if (what === 'NONE') return null;
  if (what !== 'INCLUDE') {
    const found = head.tilt === '' ? 'TILT= with nothing after it' : `TILT=${quoted(head.tilt)}`;
    throw new FileFault(head.line, found, 'TILT=NONE or TILT=INCLUDE; a table in another file cannot be read');
  }
  const geometry = stream.whole({ what: 'lamp-to-luminaire geometry', min: 1, max: 3 }) as 1 | 2 | 3;
  const count = readCount(stream, 'tilt angles', 1);
  const anglesDeg = readAngles(stream, { count, what: 'tilt angle', min: -180, max: 360 });
  const factors = anglesDeg.map(() => stream.next({ what: 'a tilt factor', min: 0, max: 100 }));
  return { geometry, anglesDeg, factors };
}

const SYSTEMS: Readonly<Record<number, PhotometricSystem>> = { 1: 'C', 2: 'B', 3: 'A' };

interface Planes {
  readonly horizontalDeg: number[];
  readonly symmetry: PhotometricSymmetry;
  /** Where each plane of the file goes in the order of `horizontalDeg`. */
  readonly order: readonly number[];
}

const inOrder = (angles: readonly number[]): number[] => angles.map((_, index) => index);

/** Which planes of system C stand for the rest, by the first and the last angle. */
function planesOfC(angles: number[], line: number): Planes {
  const [first, last] = [angles[0]!, angles.at(-1)!];
  const asStored = (symmetry: PhotometricSymmetry): Planes => ({
    horizontalDeg: angles,
    symmetry,
    order: inOrder(angles),
  });
  if (angles.length === 1) return { horizontalDeg: [0], symmetry: 'round', order: [0] };
  if (first === 90 && last === 270) {
    // Mirrored in C90-C270: C and 180 - C are alike, and -90..90 rises.
    const turned = angles.map((angle) => 180 - angle).reverse();
    return { horizontalDeg: turned, symmetry: 'about90', order: inOrder(angles).reverse() };
  }
  if (first === 0 && last === 90) return asStored('quadrants');
  if (first === 0 && last === 180) return asStored('about0');
  const gap = 360 - last;
  const step = last - (angles.at(-2) ?? 0);
  // A full turn may leave out its last plane, which is its first again.
  if (first === 0 && (gap === 0 || Math.abs(gap - step) < 1e-6)) return asStored('none');
  throw new FileFault(
    line,
    `C planes from ${first} to ${last}`,
    'C planes from 0 to 0, 90, 180 or 360, or from 90 to 270',
  );
}

function planesOfAB(angles: number[], verticals: readonly number[], line: number): Planes {
  if (angles.length < 2) throw new FileFault(line, '1 horizontal angle', 'at least 2 for types A and B');
  const mirrors = angles[0] === 0;
  const symmetry = mirrors ? (verticals[0] === 0 ? 'quadrants' : 'sides') : 'none';
  return { horizontalDeg: angles, symmetry, order: inOrder(angles) };
}

/** Candela with its planes put where `order` says. */
function reordered(candela: Float64Array, perPlane: number, order: readonly number[]): Float64Array {
  if (order.every((place, index) => place === index)) return candela;
  const result = new Float64Array(candela.length);
  order.forEach((plane, place) =>
    result.set(candela.subarray(plane * perPlane, (plane + 1) * perPlane), place * perPlane),
  );
  return result;
}

/** The ten numbers and the three after them. */
interface Figures {
  readonly lampCount: number;
  readonly lampLumens: number | null;
  /** What the table's values are multiplied with. */
  readonly factor: number;
  readonly verticals: number;
  readonly planes: number;
  readonly system: PhotometricSystem;
  readonly opening: LuminousOpening;
  readonly inputW: number;
}

function readFigures(stream: NumberStream, edition: Lm63Edition): Figures {
  const lampCount = stream.next({ what: 'number of lamps', min: 0, max: 1e6 });
  const perLampLm = stream.next({ what: 'lumens per lamp', min: -1, max: 1e9 });
  const multiplier = stream.next({ what: 'candela multiplier', min: 1e-12, max: 1e9 });
  const verticals = readCount(stream, 'vertical angles', 2);
  const planes = readCount(stream, 'horizontal angles', 1);
  const system = SYSTEMS[stream.whole({ what: 'photometric type', min: 1, max: 3 })]!;
  const unitM = stream.whole({ what: 'units', min: 1, max: 2 }) === 1 ? FOOT_M : 1;
  const size = (what: string): number => stream.next({ what, min: -1e5, max: 1e5 });
  const sizes = [size('width of the opening'), size('length of the opening'), size('height of the opening')] as const;
  const opening = openingOf(sizes, unitM, edition, stream.line);
  const ballastFactor = stream.next({ what: 'ballast factor', min: 1e-6, max: 1000 });
  // In 2019 the second number tells how the file was made; before, it is a factor (1 in 2002).
  const second = stream.next({
    what: 'ballast-lamp factor or file type',
    min: edition === '2019' ? 0 : 1e-6,
    max: 1000,
  });
  const inputW = stream.next({ what: 'input watts', min: 0, max: 1e9 });
  return {
    lampCount,
    lampLumens: perLampLm < 0 ? null : perLampLm * lampCount,
    factor: multiplier * ballastFactor * (edition === '2019' ? 1 : second),
    verticals,
    planes,
    system,
    opening,
    inputW,
  };
}

function moreVerticals(line: number, promised: number): FileFault {
  const sentence = `${promised} vertical angles promised, more found`;
  return new FileFault(line, 'more vertical angles', String(promised), sentence);
}

/**
 * Horizontal angles. Where they make no sense, and the first stands above the vertical angles on their own line, it is
 * one of those: more than promised.
 */
function readHorizontals(
  stream: NumberStream,
  list: Omit<AngleList, 'what'>,
  verticalDeg: readonly number[],
): number[] {
  const endsAt = stream.line;
  const { word, line } = stream.peek();
  const isVertical = line === endsAt && Number(word) > verticalDeg.at(-1)!;
  try {
    return readAngles(stream, { ...list, what: 'horizontal angle' });
  } catch (error) {
    if (!(error instanceof FileFault && isVertical)) throw error;
    throw moreVerticals(endsAt, verticalDeg.length);
  }
}

/** What a photometric file in LM-63 says. @throws {FileFault} for the first thing that is wrong */
export function readLm63(text: string): PhotometricFile {
  const head = readHead(text);
  const { edition, keywords } = head;
  const stream = new NumberStream(text, head.next, head.line + 1, true);
  const tilt = readTilt(head, stream);
  const { factor, verticals, planes, ...figures } = readFigures(stream, edition);
  const isC = figures.system === 'C';
  const [min, max] = isC ? [0, 180] : [-90, 90];
  const verticalDeg = readAngles(stream, { count: verticals, what: 'vertical angle', min, max });
  const angles = readHorizontals(stream, { count: planes, min, max: isC ? 360 : max }, verticalDeg);
  const { order, ...stored } = isC ? planesOfC(angles, stream.line) : planesOfAB(angles, verticalDeg, stream.line);
  const candela = readCandela(stream, verticals * planes, factor, 'candela');
  return {
    format: 'lm63',
    edition,
    keywords,
    ...figures,
    ...stored,
    verticalDeg,
    candela: reordered(candela, verticals, order),
    tilt,
  };
}
