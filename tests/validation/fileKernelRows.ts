/**
 * Photometric files in scene documents, solved by the kernel: points by the file's own candela, and openings by the
 * closed forms of section 2, because a cosine spread over an opening is a Lambertian face.
 */
import type { Emitter, Output } from '../../src/scene/schema';
import { cosDeg } from '../../src/scene/geometry/frames';
import { lm63, steps } from '../files/photometry/compose';
import { referenceText } from './fileLaws';
import { checkValue, input, makeRow, rowOf, type Row, type Tolerance } from './row';
import { facing, lamp, meterOf, type Probe } from './scenes';

const CLOSED: Tolerance = { type: 'rel', value: 1e-6 };
/** Integrated emitters within 0.5 % at meters. */
const METER: Tolerance = { type: 'rel', value: 0.005 };
const SOURCE_A = 'LM-63-2002 file composed for the check (9.A), candela as it stands there over d²';

/** A lamp at the origin that looks along +x with a file; a probe reads it. */
function fileLux(
  text: string,
  probe: Probe,
  emitter: Emitter = { shape: 'point' },
  output: Output = { kind: 'file' },
): number {
  const source = lamp(facing([0, 0, 0], 90, 0), emitter, { kind: 'web', webId: 'file' }, output);
  return meterOf({ sources: { source }, webs: { file: text } })(probe);
}
/** A receiver `distanceM` off, `angleDeg` from the axis in the level plane, turned to the lamp. */
const turnedTo = (distanceM: number, angleDeg: number): Probe => ({
  at: [distanceM * cosDeg(angleDeg), distanceM * cosDeg(angleDeg + 90), 0],
  normal: [-cosDeg(angleDeg), -cosDeg(angleDeg + 90), 0],
});

/** I = 1000 cos gamma in steps of half a degree: its interpolant is within 1e-5 of it. */
const fineCosine = (opening: readonly [number, number, number]): string =>
  lm63({ verticalDeg: steps(0, 90, 0.5), horizontalDeg: [0], intensity: (g) => 1000 * cosDeg(g), opening });

function pointRows(): Row[] {
  const row = (id: string, of: string, expected: number, measured: number): Row =>
    makeRow({
      id,
      topic: `9 Photometric files, ${of}`,
      source: SOURCE_A,
      unit: 'lx',
      expected,
      measured,
      tolerance: CLOSED,
      tests: 'kernel',
    });
  const text = referenceText('A');
  return [
    row('9.A k1', 'on the axis, 4 m', 62.5, fileLux(text, turnedTo(4, 0))),
    row('9.A k2', '60° off, 2 m', 125, fileLux(text, turnedTo(2, 60))),
    row('9.A k3', 'between two angles, 12.5° off, 1 m', 975.367, fileLux(text, turnedTo(1, 12.5))),
    row('9.D k1', 'multiplier 2, straight down, 2 m', 500, straightDown(referenceText('D'))),
  ];
}

/** File 9.D is of lamps whose output changes with their tilt: hanging straight they give it all. */
function straightDown(text: string): number {
  const source = lamp(
    facing([0, 0, 2], 0, -90),
    { shape: 'disc', diameterM: 1e-6 },
    { kind: 'web', webId: 'file' },
    { kind: 'file' },
  );
  return meterOf({ sources: { source }, webs: { file: text } })({ at: [0, 0, 0], normal: [0, 0, 1] });
}

/** A Lambertian disc or rectangle of luminance L has I0 = L A on its axis. */
function openingRows(): Row[] {
  const discs = ['2.1a', '2.1b', '2.1c', '2.1d'].map((id) => {
    const { inputs } = checkValue(id);
    const radius = input(inputs, 'R_m');
    const candela = input(inputs, 'L_cd_m2') * Math.PI * radius ** 2;
    const probe = turnedTo(input(inputs, 'd_m'), 0);
    const lux = fileLux(
      fineCosine([-2 * radius, -2 * radius, 0]),
      probe,
      { shape: 'point' },
      { kind: 'candela', candela },
    );
    return named(rowOf(id, lux, 'kernel', METER));
  });
  const { inputs } = checkValue('2.3d');
  const [width, height] = [input(inputs, 'w_m'), input(inputs, 'h_m')];
  const candela = input(inputs, 'L_cd_m2') * width * height;
  // The file's length lies along C0, the lamp's right: its width is the lamp's height.
  const lux = fileLux(
    fineCosine([height, width, 0]),
    turnedTo(input(inputs, 'd_m'), 0),
    { shape: 'point' },
    { kind: 'candela', candela },
  );
  return [...discs, named(rowOf('2.3d', lux, 'kernel', METER))];
}
const named = (row: Row): Row => ({ ...row, id: `${row.id} by file`, topic: `${row.topic}, as a photometric file` });

export const fileKernelRows = (): Row[] => [...pointRows(), ...openingRows()];
