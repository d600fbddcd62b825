/** Check values 9: photometric files, read and summed. */
import type { PhotometricFile, PhotometricSystem } from '../../src/scene/webs/photometricFile';
import { readPhotometricText } from '../../src/scene/webs/readPhotometricText';
import { toRadians } from '../../src/scene/geometry/frames';
import { cosinePowerFlux } from '../../src/sim/photometry/beams';
import { directionOf } from '../../src/sim/photometry/web/directions';
import { webFlux, zonalFlux, zoneSolidAngle } from '../../src/sim/photometry/web/flux';
import { axisOf, gridOf, valueAt, type WebGrid } from '../../src/sim/photometry/web/grid';
import { tiltFactor } from '../../src/sim/photometry/web/tilt';
import { bound } from './photometryLaws';
import { checkValue } from './row';

/** The composed files stand beside the first value that uses them. */
const FILE_HOMES = { A: '9.1a', B: '9.2a', C: '9.3a', D: '9.5a' } as const;

export function referenceText(letter: keyof typeof FILE_HOMES): string {
  return checkValue(FILE_HOMES[letter]).inputs['file_text'] as string;
}
export function referenceFile(letter: keyof typeof FILE_HOMES): PhotometricFile {
  const read = readPhotometricText(referenceText(letter), `9.${letter}`);
  if (!read.ok) throw new Error(`file 9.${letter}: ${read.fault.found}`);
  return read.file;
}
const grid = (letter: keyof typeof FILE_HOMES): WebGrid => gridOf(referenceFile(letter));
const at = (letter: keyof typeof FILE_HOMES, gammaDeg: number, cDeg = 0): number =>
  valueAt(grid(letter), toRadians(gammaDeg), toRadians(cDeg));

/** A cosine about the axis on a fine table of types A or B: its interpolant is within 6e-7 of it. */
function cosineTable(system: PhotometricSystem): WebGrid {
  const count = 1801;
  const axis = axisOf(Float64Array.from({ length: count }, (_, i) => toRadians(i / 10 - 90)));
  const values = new Float64Array(count * count);
  for (let row = 0; row < count; row++) {
    for (let column = 0; column < count; column++) {
      const { along } = directionOf(system, axis.anglesRad[row]!, axis.anglesRad[column]!);
      values[row * count + column] = 1000 * along;
    }
  }
  return { system, rows: axis, columns: axis, values };
}

const AT_30_20 = [toRadians(20), toRadians(30)] as const;

/** Mid-zone candela times zone constants over ten-degree zones. */
function midZoneFlux(): number {
  let flux = 0;
  for (let from = 0; from < 90; from += 10) {
    flux += at('A', from + 5) * zoneSolidAngle(toRadians(from), toRadians(from + 10));
  }
  return flux;
}
const zone = (from: number, to: number): number => zoneSolidAngle(toRadians(from), toRadians(to));

export const fileLaws = (): Record<string, () => number> =>
  bound({
    '9.1a': () => cosinePowerFlux(at('A', 0), 1),
    '9.1b': () => zonalFlux(grid('A')),
    '9.1c': () => webFlux(grid('A')),
    '9.1d': midZoneFlux,
    '9.1e': () => at('A', 12.5),
    // The mean of 800 + 400 cos² C is 1000.
    '9.2a': () => cosinePowerFlux((at('B', 0, 0) + at('B', 0, 90)) / 2, 1),
    '9.2b': () => zonalFlux(grid('B')),
    '9.2c': () => at('B', 30, 315),
    '9.2d': () => at('B', 60, 180),
    '9.3a': () => cosinePowerFlux(1000, 1),
    '9.3b': () => zonalFlux(grid('C')),
    '9.3c': () => at('C', 0),
    '9.4a': () => zone(0, 10),
    '9.4b': () => zone(40, 50),
    '9.4c': () => zone(80, 90),
    '9.5a': () => cosinePowerFlux(at('D', 0), 4),
    '9.5b': () => zonalFlux(grid('D')),
    '9.5c': () => webFlux(grid('D')),
    '9.5d': () => at('D', 0),
    '9.5e': () => tiltFactor(referenceFile('D').tilt!, 22.5),
    '9.6a': () => directionOf('A', ...AT_30_20).along,
    '9.6b': () => directionOf('A', ...AT_30_20).right,
    '9.6c': () => directionOf('B', ...AT_30_20).right,
    '9.6d': () => directionOf('B', ...AT_30_20).up,
    '9.6e': () => webFlux(cosineTable('B')),
    '9.6f': () => webFlux(cosineTable('A')),
    '9.6g': () => directionOf('C', toRadians(30), toRadians(90)).up,
  });
