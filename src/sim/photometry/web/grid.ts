/**
 * A photometric file's table as one grid over all its directions: symmetries unfolded, angles in radians, rows by the
 * vertical angle and columns by the horizontal one. Between directions intensity is bilinear in the two angles; outside
 * the table there is no light.
 */
import { toRadians } from '../../../scene/geometry/frames';
import type { PhotometricFile, PhotometricSymmetry, PhotometricSystem } from '../../../scene/webs/photometricFile';

/** Rising angles, with a table that finds the interval of an angle at once where their steps are alike. */
export interface Axis {
  readonly anglesRad: Float64Array;
  /** First interval that can hold an angle of each bucket. */
  readonly starts: Uint16Array;
  readonly bucketsPerRad: number;
}

export interface WebGrid {
  readonly system: PhotometricSystem;
  /** gamma, or V. */
  readonly rows: Axis;
  /** C over one full turn, or H. */
  readonly columns: Axis;
  /** Row after row. */
  readonly values: Float64Array;
}

/** Buckets for angles much unlike each other; a few comparisons more do no harm. */
const MOST_BUCKETS = 4096;
/** Angles at the ends of a table are met in spite of rounding. */
const END_SLACK_RAD = 1e-9;

export function axisOf(anglesRad: Float64Array): Axis {
  const last = anglesRad.length - 1;
  const range = anglesRad[last]! - anglesRad[0]!;
  let finest = Infinity;
  for (let i = 0; i < last; i++) finest = Math.min(finest, anglesRad[i + 1]! - anglesRad[i]!);
  const buckets = Math.max(1, Math.min(MOST_BUCKETS, Math.round(range / finest)));
  const bucketsPerRad = buckets / range;
  const starts = new Uint16Array(buckets);
  for (let bucket = 0, interval = 0; bucket < buckets; bucket++) {
    const from = anglesRad[0]! + bucket / bucketsPerRad - END_SLACK_RAD;
    while (interval < last - 1 && anglesRad[interval + 1]! <= from) interval += 1;
    starts[bucket] = interval;
  }
  return { anglesRad, starts, bucketsPerRad };
}

/** Index of the interval that holds an angle; -1 outside the axis. */
export function intervalOf({ anglesRad, starts, bucketsPerRad }: Axis, angleRad: number): number {
  const last = anglesRad.length - 1;
  const along = angleRad - anglesRad[0]!;
  if (along < -END_SLACK_RAD || angleRad > anglesRad[last]! + END_SLACK_RAD) return -1;
  const bucket = Math.max(0, Math.min(starts.length - 1, Math.floor(along * bucketsPerRad)));
  let interval = starts[bucket]!;
  while (interval < last - 1 && angleRad > anglesRad[interval + 1]!) interval += 1;
  return interval;
}

/** Value at two angles; 0 outside the table. */
export function valueAt(grid: WebGrid, rowRad: number, columnRad: number): number {
  const row = intervalOf(grid.rows, rowRad);
  const column = intervalOf(grid.columns, columnRad);
  if (row < 0 || column < 0) return 0;
  const rows = grid.rows.anglesRad;
  const columns = grid.columns.anglesRad;
  const down = (rowRad - rows[row]!) / (rows[row + 1]! - rows[row]!);
  const across = (columnRad - columns[column]!) / (columns[column + 1]! - columns[column]!);
  const width = columns.length;
  const at = row * width + column;
  const { values } = grid;
  const near = values[at]! + across * (values[at + 1]! - values[at]!);
  const far = values[at + width]! + across * (values[at + width + 1]! - values[at + width]!);
  return near + down * (far - near);
}

const FULL_TURN = 2 * Math.PI;

/**
 * Value towards a direction of any length, by its parts along the axis, to the lamp's right and up, seen from behind.
 * @source ANSI/IESNA LM-63-02: A is f cosV cosH + r cosV sinH + u sinV, B is f cosH cosV + u cosH sinV + r sinH
 */
export function valueTowards(grid: WebGrid, along: number, right: number, up: number): number {
  switch (grid.system) {
    case 'C': {
      const turn = Math.atan2(up, right);
      const first = grid.columns.anglesRad[0]!;
      const gamma = Math.atan2(Math.sqrt(right * right + up * up), along);
      return valueAt(grid, gamma, turn < first ? turn + FULL_TURN : turn);
    }
    case 'A':
      return valueAt(grid, Math.atan2(up, Math.sqrt(along * along + right * right)), Math.atan2(right, along));
    case 'B':
      return valueAt(grid, Math.atan2(up, along), Math.atan2(right, Math.sqrt(along * along + up * up)));
  }
}

/** A plane of the unfolded table: its angle, and the stored plane that it copies. */
interface UnfoldedPlane {
  readonly angleDeg: number;
  readonly stored: number;
}
type Place = (angleDeg: number) => number;

const same: Place = (angle) => angle;
const mirroredAt0: Place = (angle) => -angle;
const mirroredAt90: Place = (angle) => 180 - angle;
const turnedHalf: Place = (angle) => 180 + angle;

/** Copies of stored angles at other places, rising; an angle that is there twice counts once. */
function withCopies(angles: readonly number[], places: readonly Place[]): UnfoldedPlane[] {
  const all = places.flatMap((place) => angles.map((angle, stored) => ({ angleDeg: place(angle), stored })));
  all.sort((a, b) => a.angleDeg - b.angleDeg);
  return all.filter(({ angleDeg }, index) => index === 0 || angleDeg - all[index - 1]!.angleDeg > 1e-9);
}

const TURNS: Readonly<Record<PhotometricSymmetry, readonly Place[]>> = {
  none: [same],
  round: [same],
  about0: [same, mirroredAt0],
  about90: [same, mirroredAt90],
  quadrants: [same, mirroredAt0, mirroredAt90, turnedHalf],
  sides: [same, mirroredAt0],
};
const withinTurn = (angle: number): number => ((angle % 360) + 360) % 360;

/** Every plane of the range (A, B), or of one turn (C): the last is the first again, 360 degrees on. */
export function unfoldPlanes(
  file: Pick<PhotometricFile, 'system' | 'symmetry' | 'horizontalDeg'>,
): readonly UnfoldedPlane[] {
  const { symmetry, horizontalDeg, system } = file;
  if (system !== 'C') return withCopies(horizontalDeg, symmetry === 'none' ? [same] : [same, mirroredAt0]);
  const turn = withCopies(
    horizontalDeg,
    TURNS[symmetry].map((place) => (angle: number) => withinTurn(place(angle))),
  );
  const [first] = turn as [UnfoldedPlane];
  return [...turn, { angleDeg: first.angleDeg + 360, stored: first.stored }];
}

/** The grid of a file: candela, by direction. */
export function gridOf(file: PhotometricFile): WebGrid {
  const { system, symmetry, verticalDeg, candela } = file;
  const planes = unfoldPlanes(file);
  const mirrorsRows = system !== 'C' && symmetry === 'quadrants';
  const rows = withCopies(verticalDeg, mirrorsRows ? [same, mirroredAt0] : [same]);
  const values = new Float64Array(rows.length * planes.length);
  rows.forEach((row, r) => {
    planes.forEach((plane, c) => {
      values[r * planes.length + c] = candela[plane.stored * verticalDeg.length + row.stored]!;
    });
  });
  const axis = (of: readonly UnfoldedPlane[]): Axis =>
    axisOf(Float64Array.from(of, ({ angleDeg }) => toRadians(angleDeg)));
  return { system, rows: axis(rows), columns: axis(planes), values };
}
