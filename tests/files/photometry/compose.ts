/** Photometric files composed for the tests: invented lamps of The Salt Ledger with intensities in closed form. */

/** Candela by the two angles of the file, degrees. */
export type Intensity = (verticalDeg: number, horizontalDeg: number) => number;
export const radians = (angleDeg: number): number => (angleDeg * Math.PI) / 180;
export const steps = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);

export const FIRST_LINES = {
  1986: '',
  1991: 'IESNA91\n',
  1995: 'IESNA:LM-63-1995\n',
  2002: 'IESNA:LM-63-2002\n',
  2019: 'IES:LM-63-2019\n',
} as const;

export interface Lm63Parts {
  readonly edition?: keyof typeof FIRST_LINES;
  readonly keywords?: string;
  readonly tilt?: string;
  readonly type?: 1 | 2 | 3;
  readonly verticalDeg: readonly number[];
  readonly horizontalDeg: readonly number[];
  readonly intensity: Intensity;
  readonly multiplier?: number;
  readonly units?: 1 | 2;
  /** Width, length, height. */
  readonly opening?: readonly [number, number, number];
  readonly lumens?: number;
  readonly lamps?: number;
  readonly ballast?: readonly [number, number, number];
}

export function lm63(parts: Lm63Parts): string {
  const { edition = 2002, verticalDeg, horizontalDeg, intensity, multiplier = 1 } = parts;
  const candela = horizontalDeg.map((h) => verticalDeg.map((v) => intensity(v, h) / multiplier).join(' '));
  return [
    `${FIRST_LINES[edition]}${parts.keywords ?? '[TEST] SL-1\n[MANUFAC] Salt Ledger stores\n[LUMINAIRE] quay spot, invented'}`,
    parts.tilt ?? 'TILT=NONE',
    [
      parts.lamps ?? 1,
      parts.lumens ?? -1,
      multiplier,
      verticalDeg.length,
      horizontalDeg.length,
      parts.type ?? 1,
      parts.units ?? 2,
      ...(parts.opening ?? [0, 0, 0]),
    ].join(' '),
    (parts.ballast ?? [1, 1, 100]).join(' '),
    verticalDeg.join(' '),
    horizontalDeg.join(' '),
    ...candela,
    '',
  ].join('\n');
}

export interface EulumdatParts {
  readonly symmetry: 0 | 1 | 2 | 3 | 4;
  readonly planesDeg: readonly number[];
  readonly gammaDeg: readonly number[];
  /** Candela, not per kilolumen. */
  readonly intensity: Intensity;
  /** Sets of lamps: how many, what, lumens, colour, rendering, watts. */
  readonly sets?: readonly (readonly [number, string, number, string, string, number])[];
  readonly byField?: boolean;
  /** Length, width, height of the luminous area, mm. */
  readonly areaMm?: readonly [number, number, number];
  readonly conversion?: number;
}

/** Planes that a symmetry stores, by their place among all. */
function stored(symmetry: number, count: number): number[] {
  const all = Array.from({ length: count }, (_, i) => i);
  if (symmetry === 1) return [0];
  if (symmetry === 2) return all.slice(0, count / 2 + 1);
  if (symmetry === 3) return [...all.slice((3 * count) / 4), ...all.slice(0, count / 4 + 1)];
  return symmetry === 4 ? all.slice(0, count / 4 + 1) : all;
}

export function eulumdat(parts: EulumdatParts): string {
  const { symmetry, planesDeg, gammaDeg, intensity, areaMm = [0, 0, 0], conversion = 1 } = parts;
  const sets = parts.sets ?? [[1, 'invented', 5000, '5600', '90', 100]];
  const flux = sets.reduce((sum, set) => sum + set[2], 0);
  const lamps = parts.byField
    ? [0, 1, 2, 3, 4, 5].flatMap((field) => sets.map((set) => set[field]))
    : sets.flatMap((set) => [...set]);
  const [length, width, height] = areaMm;
  return [
    'Salt Ledger stores',
    2,
    symmetry,
    planesDeg.length,
    0,
    gammaDeg.length,
    0,
    'SL-2',
    'customs batten, invented',
    'CB-2',
    'batten.ldt',
    '1911-10-18',
    ...[length, width, height, length, width, height, height, height, height],
    100,
    100,
    conversion,
    0,
    sets.length,
    ...lamps,
    ...new Array<number>(10).fill(0),
    ...planesDeg,
    ...gammaDeg,
    ...stored(symmetry, planesDeg.length).flatMap((plane) =>
      gammaDeg.map((gamma) => (intensity(gamma, planesDeg[plane]!) * 1000) / flux / conversion),
    ),
    '',
  ].join('\r\n');
}
