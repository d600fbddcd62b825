/** What a grip helper is asked for: plain figures that a form holds, the same for the worker and for tests. */

export const GRIP_HELPERS = ['nets', 'flag', 'mirror', 'halfScrim'] as const;
export type GripHelper = (typeof GRIP_HELPERS)[number];

/** One net of a stagger: what it takes, and how much of the light it covers from the near side. */
export interface NetWish {
  readonly stops: number;
  /** 0 none of the patch's light, 1 all of it. */
  readonly coverShare: number;
}
export interface NetsRequest {
  readonly helper: 'nets';
  readonly lampId: string;
  readonly surfaceId: string;
  /** From the lens, or from the mirror that the light comes off, to the first net, m. */
  readonly distanceM: number;
  /** Free edges turned out of the upright, degrees clockwise seen from behind the nets. */
  readonly turnDeg: number;
  readonly nets: readonly NetWish[];
}

export const DARK_SIDES = ['all', 'right', 'left', 'above', 'below'] as const;
export type DarkSide = (typeof DARK_SIDES)[number];
/** What must stay dark: a whole surface, or the part of it beyond a line. */
export interface DarkPart {
  readonly surfaceId: string;
  readonly side: DarkSide;
  /** The line's distance from the left end (right, left) or from the foot (above, below) of the surface, m. */
  readonly lineM: number;
}
export interface FlagRequest {
  readonly helper: 'flag';
  readonly lampId: string;
  readonly dark: DarkPart;
  /** Surface whose light is wanted; on the dark surface itself it is the part on this side of the line. */
  readonly wantedSurfaceId: string;
  /** From the lens to the flag, m. */
  readonly distanceM: number;
  /** Dark at the line itself, or half the light left there: the edge's shadow starts or lies evenly about it. */
  readonly edge: 'dark' | 'half';
}

export interface MirrorRequest {
  readonly helper: 'mirror';
  readonly lampId: string;
  readonly surfaceId: string;
  /** Lamp to mirror to patch, m. */
  readonly pathM: number;
  /** Which of the folds that the space and the kit allow for this length, best first. */
  readonly way: number;
}

export interface HalfScrimRequest {
  readonly helper: 'halfScrim';
  readonly lampId: string;
  readonly surfaceId: string;
  /** One or two half scrims, stops. */
  readonly grades: readonly number[];
  /** The covered side: 0 right, 90 top, seen from behind the lamp. */
  readonly clockDeg: number;
}
export type GripRequest = NetsRequest | FlagRequest | MirrorRequest | HalfScrimRequest;

/** Surface that a request's fall-off is read on. */
export const judgedSurfaceOf = (request: GripRequest): string =>
  request.helper === 'flag' ? request.wantedSurfaceId : request.surfaceId;
