/**
 * Intensities of a photometric file, read and interpolated apart from the app's own reader on purpose: plain LM-63 text
 * with TILT=NONE and numbers parted by white space is all that it takes.
 */
import type { SceneDocument } from '../../src/scene/schema';
import { RADIAN } from './vectors';

export interface BruteWeb {
  readonly peak: number;
  /** Candela by the parts of a unit direction along the axis, right and up seen from behind. */
  readonly candela: (along: number, right: number, up: number) => number;
  /** Width and length of the opening, metres, as written. */
  readonly opening: readonly [number, number];
}

/** Place among rising angles: the one before, and how far on to the next; null outside. */
function placeIn(angles: readonly number[], angle: number): readonly [number, number] | null {
  for (let i = 0; i + 1 < angles.length; i++) {
    if (angle >= angles[i]! - 1e-7 && angle <= angles[i + 1]! + 1e-7) {
      return [i, (angle - angles[i]!) / (angles[i + 1]! - angles[i]!)];
    }
  }
  return null;
}

/** The stored horizontal angle that stands for another. */
function folded(type: number, last: number, first: number, angle: number): number {
  if (type !== 1) return first === 0 ? Math.abs(angle) : angle;
  if (last === 90) return angle > 270 ? 360 - angle : angle > 180 ? angle - 180 : angle > 90 ? 180 - angle : angle;
  return last === 180 && angle > 180 ? 360 - angle : angle;
}

export function bruteWeb(document: Pick<SceneDocument, 'webs'>, webId: string): BruteWeb {
  const text = document.webs?.[webId]?.text ?? '';
  const numbers = text
    .slice(text.indexOf('TILT=NONE') + 9)
    .trim()
    .split(/\s+/)
    .map(Number);
  const [, , multiplier, countV, countH, type, , width, length] = numbers as [...number[]] as number[];
  const v = numbers.slice(13, 13 + countV!);
  const h = numbers.slice(13 + countV!, 13 + countV! + countH!);
  const table = numbers.slice(13 + countV! + countH!).map((value) => value * multiplier! * numbers[10]! * numbers[11]!);
  const anglesOf = (along: number, right: number, up: number): readonly [number, number] => {
    if (type === 3) return [Math.asin(up) / RADIAN, Math.atan2(right, along) / RADIAN];
    if (type === 2) return [Math.atan2(up, along) / RADIAN, Math.asin(right) / RADIAN];
    return [Math.acos(Math.max(-1, Math.min(1, along))) / RADIAN, (Math.atan2(up, right) / RADIAN + 360) % 360];
  };
  const candela = (along: number, right: number, up: number): number => {
    const [vertical, horizontal] = anglesOf(along, right, up);
    const row = placeIn(v, vertical);
    if (!row) return 0;
    if (h.length === 1) return table[row[0]]! * (1 - row[1]) + table[row[0] + 1]! * row[1];
    const column = placeIn(h, folded(type!, h.at(-1)!, h[0]!, horizontal));
    if (!column) return 0;
    const corner = (i: number, j: number): number => table[(column[0] + j) * countV! + row[0] + i]!;
    const [s, t] = [row[1], column[1]];
    return (
      corner(0, 0) * (1 - s) * (1 - t) + corner(1, 0) * s * (1 - t) + corner(0, 1) * (1 - s) * t + corner(1, 1) * s * t
    );
  };
  return { peak: Math.max(...table), candela, opening: [width!, length!] };
}
