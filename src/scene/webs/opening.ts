/**
 * Luminous openings of LM-63: three numbers whose signs name the shape (negative: round that way).
 * @source ANSI/IESNA LM-63-02 table 1 and IESNA LM-63-1995, both from memory; the standard's length lies along C0
 *   (photometric horizontal), its width along C90, its height along the axis
 */
import { FileFault } from './fileFault';
import type { Lm63Edition, LuminousOpening, OpeningShape } from './photometricFile';

export const FOOT_M = 0.3048;
/** No opening on a lamp is wider. */
export const WIDEST_OPENING_M = 100;

type Signs = `${'-' | '0' | '+'}${'-' | '0' | '+'}${'-' | '0' | '+'}`;
const sign = (value: number): '-' | '0' | '+' => (value < 0 ? '-' : value > 0 ? '+' : '0');

/** Shapes by the signs of width, length, height. */
const SHAPES: Readonly<Partial<Record<Signs, OpeningShape>>> = {
  '000': 'point',
  '++0': 'rectangle',
  '+00': 'rectangle',
  '0+0': 'rectangle',
  '+++': 'rectangle',
  '00+': 'rectangle',
  '+0+': 'rectangle',
  '0++': 'rectangle',
  '--0': 'disc',
  '-00': 'disc',
  '-+0': 'disc',
  '+-0': 'disc',
  '--+': 'uprightCylinder',
  '-0+': 'uprightCylinder',
  '-++': 'uprightCylinder',
  '+-+': 'uprightCylinder',
  '---': 'spheroid',
  '-+-': 'cylinderAlongC0',
  '0+-': 'cylinderAlongC0',
  '+--': 'cylinderAlongC90',
  '+0-': 'cylinderAlongC90',
  '-0-': 'discFacingC0',
  '0--': 'discFacingC90',
};
/** Up to 1995 a ball was width and height negative, without a length. */
const EARLIER: Readonly<Partial<Record<Signs, OpeningShape>>> = { '-0-': 'spheroid' };

/**
 * The opening that three numbers of a file stand for.
 * @param unitM metres of one of the file's units
 * @throws {FileFault} for signs that no table has, and for a size of no lamp
 */
export function openingOf(
  [width, length, height]: readonly [number, number, number],
  unitM: number,
  edition: Lm63Edition,
  line: number,
): LuminousOpening {
  const signs: Signs = `${sign(width)}${sign(length)}${sign(height)}`;
  const is2002 = edition === '2002' || edition === '2019';
  const shape = (is2002 ? undefined : EARLIER[signs]) ?? SHAPES[signs];
  const written = `${width} ${length} ${height}`;
  if (!shape)
    throw new FileFault(line, `an opening of ${written}`, 'signs of width, length and height that name a shape');
  const [up, across, deep] = [width, length, height].map((size) => Math.abs(size) * unitM) as [number, number, number];
  if (Math.max(up, across, deep) > WIDEST_OPENING_M) {
    throw new FileFault(line, `an opening of ${written}`, `at most ${WIDEST_OPENING_M} m each way`);
  }
  return sized(shape, across, up, deep);
}

/** A size that a round shape leaves out is its diameter the other way. */
function sized(shape: OpeningShape, acrossM: number, upM: number, deepM: number): LuminousOpening {
  switch (shape) {
    case 'disc':
    case 'uprightCylinder':
      return { shape, acrossM: acrossM || upM, upM, deepM };
    case 'spheroid':
      return { shape, acrossM: acrossM || upM, upM, deepM };
    case 'cylinderAlongC0':
      return { shape, acrossM, upM: upM || deepM, deepM };
    case 'cylinderAlongC90':
      return { shape, acrossM: acrossM || deepM, upM, deepM };
    default:
      return { shape, acrossM, upM, deepM };
  }
}

/** Width, length and height as the edition of 2002 writes them, metres. */
export function openingNumbers({ shape, acrossM, upM, deepM }: LuminousOpening): [number, number, number] {
  switch (shape) {
    case 'point':
    case 'rectangle':
      return [upM, acrossM, deepM];
    case 'disc':
    case 'uprightCylinder':
      return [-upM, -acrossM, deepM];
    case 'spheroid':
      return [-upM, -acrossM, -deepM];
    case 'cylinderAlongC0':
      return [-upM, acrossM, -deepM];
    case 'cylinderAlongC90':
      return [upM, -acrossM, -deepM];
    case 'discFacingC0':
      return [-upM, 0, -deepM];
    case 'discFacingC90':
      return [0, -acrossM, -deepM];
  }
}
