/** From the angles of a photometric file to directions of a lamp. */
import type { PhotometricSystem } from '../../../scene/webs/photometricFile';

/** Parts of a unit direction along the photometric axis, to the lamp's right and to its up, seen from behind. */
export interface LampDirection {
  readonly along: number;
  readonly right: number;
  readonly up: number;
}

/**
 * The direction of two angles: gamma and C, or V and H; radians.
 * @source ANSI/IESNA LM-63-02 types A, B and C; C with gamma from the axis is (sin g cos C, sin g sin C, cos g)
 */
export function directionOf(system: PhotometricSystem, verticalRad: number, horizontalRad: number): LampDirection {
  const [cosV, sinV] = [Math.cos(verticalRad), Math.sin(verticalRad)];
  const [cosH, sinH] = [Math.cos(horizontalRad), Math.sin(horizontalRad)];
  switch (system) {
    case 'C':
      return { along: cosV, right: sinV * cosH, up: sinV * sinH };
    case 'A':
      return { along: cosV * cosH, right: cosV * sinH, up: sinV };
    case 'B':
      return { along: cosH * cosV, right: sinH, up: cosH * sinV };
  }
}
