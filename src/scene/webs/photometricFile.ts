/**
 * What a photometric file says, in one plain form whatever its format: candela by direction, the luminous opening, the
 * lamps, and the words beside them. All factors of the file are in the candela already.
 *
 * Directions, from the photometric axis (straight down for a hanging luminaire, the aim of a placed lamp):
 * - system C: `verticalDeg` is gamma, 0 along the axis to 180 backwards; `horizontalDeg` is C, from the lamp's right (C0)
 *   towards its up (C90), counter-clockwise seen from behind.
 * - systems A and B: V is up and H to the right, seen from behind; (0, 0) is the axis. A turns H about the upright axis
 *   first, B tilts V about the level one.
 * @source ANSI/IESNA LM-63-02 sections 1 to 3; CIE 121 for C and gamma (from memory)
 */

export type PhotometricSystem = 'A' | 'B' | 'C';

/**
 * Which planes stand for the others. System C: `round` one plane for all; `about0` mirrored in the plane C0-C180
 * (stored 0..180); `about90` in C90-C270 (stored -90..90); `quadrants` in both (stored 0..90). Systems A and B: `sides`
 * mirrors H, `quadrants` mirrors H and V; stored from 0.
 */
export type PhotometricSymmetry = 'none' | 'round' | 'about0' | 'about90' | 'quadrants' | 'sides';

/** `alongC0` and `alongC90` cylinders lie down; discs that face C0 or C90 stand upright and shine sideways. */
export type OpeningShape =
  | 'point'
  | 'rectangle'
  | 'disc'
  | 'uprightCylinder'
  | 'spheroid'
  | 'cylinderAlongC0'
  | 'cylinderAlongC90'
  | 'discFacingC0'
  | 'discFacingC90';

/** Outer size of the opening: `acrossM` along C0 (the lamp's right), `upM` along C90, `deepM` along the axis. */
export interface LuminousOpening {
  readonly shape: OpeningShape;
  readonly acrossM: number;
  readonly upM: number;
  readonly deepM: number;
}

/** Output of a tilted luminaire as a share of its output hanging straight: burning position changes some lamps. */
export interface LampTilt {
  /** 1 upright lamp, 2 level lamp that stays level, 3 level lamp that tilts with the luminaire. */
  readonly geometry: 1 | 2 | 3;
  readonly anglesDeg: readonly number[];
  readonly factors: readonly number[];
}

export interface Keyword {
  readonly key: string;
  readonly text: string;
}
export type Lm63Edition = '1986' | '1991' | '1995' | '2002' | '2019';
export type PhotometricFormat = 'lm63' | 'eulumdat';

export interface PhotometricFile {
  readonly format: PhotometricFormat;
  /** Edition of LM-63; null for EULUMDAT. */
  readonly edition: Lm63Edition | null;
  /** In the order of the file; free lines of old files have an empty key. */
  readonly keywords: readonly Keyword[];
  readonly system: PhotometricSystem;
  readonly symmetry: PhotometricSymmetry;
  /** Rising. */
  readonly verticalDeg: readonly number[];
  /** Planes that are stored, rising. */
  readonly horizontalDeg: readonly number[];
  /** Candela, plane after plane, each from the first vertical angle to the last. */
  readonly candela: Float64Array;
  readonly opening: LuminousOpening;
  readonly lampCount: number;
  /** Rated lumens of all lamps; null where the file is absolute. */
  readonly lampLumens: number | null;
  readonly inputW: number;
  readonly tilt: LampTilt | null;
}

/** Text of a keyword, the first that is there; null without one. */
export function keywordText(file: PhotometricFile, ...keys: readonly string[]): string | null {
  for (const key of keys) {
    const found = file.keywords.find((keyword) => keyword.key === key && keyword.text !== '');
    if (found) return found.text;
  }
  return null;
}
