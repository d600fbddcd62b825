/**
 * A photometric file as LM-63 text, edition of 2002.
 * @source ANSI/IESNA LM-63-02; the order of its lines as `scene/webs/readLm63.ts` reads them
 */
import { openingNumbers } from '../../scene/webs/opening';
import type { Keyword, PhotometricFile, PhotometricSystem } from '../../scene/webs/photometricFile';
import { unfoldPlanes } from '../../sim/photometry/web/grid';
import { asciiText, numberLines, numberText } from './numbersText';

const LINE_END = '\r\n';
const WIDTH = 120;
const REQUIRED = ['TEST', 'TESTLAB', 'ISSUEDATE', 'MANUFAC'];
const KNOWN = new Set([
  ...REQUIRED,
  'LUMCAT',
  'LUMINAIRE',
  'LAMPCAT',
  'LAMP',
  'BALLASTCAT',
  'BALLAST',
  'MAINTCAT',
  'DISTRIBUTION',
  'FLASHAREA',
  'COLORCONSTANT',
  'LAMPPOSITION',
  'ISSUEDATE',
  'OTHER',
  'SEARCH',
  'NEARFIELD',
  'MORE',
]);
const SYSTEM_CODES: Readonly<Record<PhotometricSystem, number>> = { C: 1, B: 2, A: 3 };

/** A keyword's lines; what does not fit goes on under [MORE]. Keywords of no standard begin with a low line. */
function keywordLines({ key, text }: Keyword): string[] {
  const name = key === '' ? 'OTHER' : KNOWN.has(key) || key.startsWith('_') ? key : `_${key}`;
  const words = asciiText(text);
  const parts = words.match(new RegExp(`.{1,${WIDTH}}`, 'g')) ?? [''];
  return parts.map((part, index) => `[${index === 0 ? name : 'MORE'}] ${part}`.trimEnd());
}

interface Table {
  readonly horizontalDeg: readonly number[];
  /** Stored plane of each. */
  readonly planes: readonly number[];
}

/** Planes as LM-63 keeps them: stored ones, or all round where its edition of 2002 has no such symmetry. */
function tableOf(file: PhotometricFile): Table {
  const { symmetry, horizontalDeg, system } = file;
  if (system !== 'C' || (symmetry !== 'about90' && symmetry !== 'none')) {
    return { horizontalDeg, planes: horizontalDeg.map((_, plane) => plane) };
  }
  const all = unfoldPlanes(file);
  return { horizontalDeg: all.map(({ angleDeg }) => angleDeg), planes: all.map(({ stored }) => stored) };
}

/**
 * LM-63-2002 text of a file, metres, all factors in the candela: reading it gives the same web, opening and words.
 * @throws {RangeError} for a turn without a plane at C0, which LM-63 cannot say
 */
export function writeLm63(file: PhotometricFile): string {
  const { verticalDeg, candela, lampLumens, tilt } = file;
  const { horizontalDeg, planes } = tableOf(file);
  if (file.system === 'C' && horizontalDeg[0] !== 0) throw new RangeError('LM-63 needs a plane at C0');
  const missing = REQUIRED.filter((key) => !file.keywords.some((keyword) => keyword.key === key));
  const keywords = [...file.keywords, ...missing.map((key) => ({ key, text: 'not given' }))];
  const lampCount = Math.max(1, file.lampCount);
  const numbers = [
    lampCount,
    lampLumens === null ? -1 : lampLumens / lampCount,
    1,
    verticalDeg.length,
    horizontalDeg.length,
    SYSTEM_CODES[file.system],
    2,
    ...openingNumbers(file.opening),
  ];
  const perPlane = verticalDeg.length;
  const lines = [
    'IESNA:LM-63-2002',
    ...keywords.flatMap(keywordLines),
    `TILT=${tilt ? 'INCLUDE' : 'NONE'}`,
    ...(tilt
      ? [
          String(tilt.geometry),
          String(tilt.anglesDeg.length),
          ...numberLines(tilt.anglesDeg, WIDTH),
          ...numberLines(tilt.factors, WIDTH),
        ]
      : []),
    numbers.map(numberText).join(' '),
    `1 1 ${numberText(file.inputW)}`,
    ...numberLines(verticalDeg, WIDTH),
    ...numberLines(horizontalDeg, WIDTH),
    ...planes.flatMap((plane) => numberLines([...candela.subarray(plane * perPlane, (plane + 1) * perPlane)], WIDTH)),
  ];
  return lines.join(LINE_END) + LINE_END;
}
