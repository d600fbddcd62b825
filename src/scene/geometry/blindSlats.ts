/**
 * Slats of a window's blind. They lie level along the wall, hang from the head of the opening, and span its width. Tilt 0 is
 * level; a tilt is that of the light which slips through untouched: at 30, outer edges stand higher than the room's edges
 * and light that comes down into the room at 30 degrees meets them edge on.
 */
import type { Opening } from '../schema';
import { cosDeg, sinDeg } from './frames';

export type Blind = NonNullable<NonNullable<Opening['window']>['blind']>;

/** The box round an opening, in its wall's right/up metres. */
export interface OpeningBox {
  readonly leftM: number;
  readonly rightM: number;
  readonly sillM: number;
  readonly headM: number;
}

/** A place in a cut square to the slats: up in the wall, and behind its lit inner face (before it below 0), m. */
export interface CutPlace {
  readonly upM: number;
  readonly depthM: number;
}
/** One slat as that cut shows it: a line. */
export interface Slat {
  readonly roomEdge: CutPlace;
  readonly outerEdge: CutPlace;
}

/** More slats than this are a slip of the keyboard: a shop window of 5 m with slats 20 mm apart has 250. */
export const MOST_SLATS = 300;
/** A height that is a whole number of pitches asks for no slat more, whatever its last digit. */
const ROUNDING = 1e-9;

/** How many slats a blind of this pitch has in an opening this high: as many pitches as it takes to fill it. */
export const slatCount = (pitchM: number, heightM: number): number =>
  Math.max(1, Math.ceil(heightM / pitchM - ROUNDING));

/** Depth of the slats' middles behind the lit inner face: half a slat if absent, so that the blind just clears the room. */
export const blindDepthM = ({ depthM, slatWidthM }: Blind): number => depthM ?? slatWidthM / 2;

/**
 * The slats from the head down: the first half a pitch under it, the last on the sill where less than half a pitch is left.
 * @remarks Left out: their thickness, camber, cords, and the rails at head and foot.
 */
export function blindSlats({ sillM, headM }: Pick<OpeningBox, 'sillM' | 'headM'>, blind: Blind): Slat[] {
  const depthM = blindDepthM(blind);
  const runM = (blind.slatWidthM / 2) * cosDeg(blind.tiltDeg);
  const riseM = (blind.slatWidthM / 2) * sinDeg(blind.tiltDeg);
  return Array.from({ length: slatCount(blind.pitchM, headM - sillM) }, (_, i): Slat => {
    const upM = Math.max(sillM, headM - (i + 0.5) * blind.pitchM);
    return {
      roomEdge: { upM: upM - riseM, depthM: depthM - runM },
      outerEdge: { upM: upM + riseM, depthM: depthM + runM },
    };
  });
}
