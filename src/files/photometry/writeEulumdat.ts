/**
 * A photometric file as EULUMDAT text: one set of lamps, all factors in the intensities.
 * @remarks Left out: direct ratios (left at 0), and openings that the format has no words for (balls, lying cylinders,
 *   ellipses become boxes or discs of their outer size).
 */
import { keywordText, type LuminousOpening, type PhotometricFile } from '../../scene/webs/photometricFile';
import { gridOf, unfoldPlanes } from '../../sim/photometry/web/grid';
import { downwardShare, webFlux } from '../../sim/photometry/web/flux';
import { evenStep, numberText } from './numbersText';

const LINE_END = '\r\n';
const LONGEST_TEXT = 78;
const DIRECT_RATIOS = 10;
const SYMMETRY_CODES = { none: 0, round: 1, about0: 2, about90: 3, quadrants: 4 } as const;

interface Table {
  readonly code: number;
  /** All planes of the turn, without the last that is the first again. */
  readonly allDeg: readonly number[];
  /** Stored planes in the order of the format. */
  readonly planes: readonly number[];
}

function tableOf(file: PhotometricFile): Table {
  const { symmetry, horizontalDeg } = file;
  const stored = horizontalDeg.map((_, plane) => plane);
  if (symmetry === 'round') return { code: 1, allDeg: [0], planes: [0] };
  const turn = unfoldPlanes(file).slice(0, -1);
  const allDeg = turn.map(({ angleDeg }) => angleDeg);
  // Symmetry 3 counts a quarter of the planes on either side of C0, and so needs as many there.
  const isEven = symmetry !== 'about90' || horizontalDeg[(horizontalDeg.length - 1) / 2] === 0;
  if (symmetry !== 'none' && symmetry !== 'sides' && isEven) {
    return { code: SYMMETRY_CODES[symmetry], allDeg, planes: stored };
  }
  return { code: 0, allDeg, planes: turn.map((plane) => plane.stored) };
}

/** Length (along C90), width (along C0; 0 if round) and height, mm. */
function sizesMm({ shape, acrossM, upM, deepM }: LuminousOpening): [number, number, number] {
  const mm = (metres: number): number => Number((metres * 1000).toPrecision(9));
  const isRound = (shape === 'disc' || shape === 'uprightCylinder' || shape === 'spheroid') && acrossM === upM;
  return [mm(upM), isRound ? 0 : mm(acrossM), mm(deepM)];
}

/**
 * EULUMDAT text of a file.
 * @returns the text, or why the format cannot hold the file
 */
export function writeEulumdat(
  file: PhotometricFile,
): { readonly ok: true; readonly text: string } | { readonly ok: false; readonly sentence: string } {
  if (file.system !== 'C') {
    return { ok: false, sentence: `EULUMDAT knows planes of system C only; this file is of type ${file.system}` };
  }
  const { code, allDeg, planes } = tableOf(file);
  if (allDeg[0] !== 0) return { ok: false, sentence: 'EULUMDAT needs a plane at C0, and this file has none' };
  const grid = gridOf(file);
  const fluxLm = webFlux(grid);
  // An absolute table is in shares of its own flux; six figures of it, so that writing once more changes nothing.
  const lampLm = file.lampLumens === null ? Number(fluxLm.toPrecision(6)) : Number(file.lampLumens.toPrecision(9));
  const { verticalDeg, candela } = file;
  const perPlane = verticalDeg.length;
  const words = (...keys: string[]): string => (keywordText(file, ...keys) ?? '').slice(0, LONGEST_TEXT);
  const [length, width, height] = sizesMm(file.opening);
  const lampCount = Math.max(1, Math.round(file.lampCount));
  const type = code === 1 ? 1 : file.opening.shape === 'rectangle' && Math.abs(Math.log(width / length)) > 1 ? 2 : 3;
  const lines: (string | number)[] = [
    words('MANUFAC'),
    type,
    code,
    allDeg.length,
    evenStep([...allDeg, 360]),
    perPlane,
    evenStep(verticalDeg),
    words('TEST'),
    words('LUMINAIRE'),
    words('LUMCAT'),
    words('FILE', '_FILE'),
    words('ISSUEDATE'),
    ...[length, width, height],
    ...[length, width, height, height, height, height],
    100 * downwardShare(grid),
    file.lampLumens === null ? 100 : (100 * fluxLm) / lampLm,
    1,
    0,
    1,
    file.lampLumens === null ? -lampCount : lampCount,
    words('LAMP'),
    lampLm,
    '',
    '',
    file.inputW,
    ...new Array<number>(DIRECT_RATIOS).fill(0),
    ...allDeg,
    ...verticalDeg,
    ...planes.flatMap((plane) =>
      Array.from(candela.subarray(plane * perPlane, (plane + 1) * perPlane), (value) => (value * 1000) / lampLm),
    ),
  ];
  const text = lines.map((line) => (typeof line === 'number' ? numberText(line) : line)).join(LINE_END);
  return { ok: true, text: text + LINE_END };
}
