/** Relative intensity of a source against direction. */
import { cellShare, cutOffRad } from '../photometry/eggCrate';
import { bendRad } from '../photometry/web/bend';
import { valueTowards } from '../photometry/web/grid';
import type { GatePattern } from '../photometry/gatePattern';
import type { Profile } from './compiled';

/** 0 below 0, 1 above 1, 3t² - 2t³ between. */
export function smoothstep(t: number): number {
  if (t <= 0) return 0;
  if (t >= 1) return 1;
  return t * t * (3 - 2 * t);
}

type Beam = Extract<Profile, { kind: 'beam' }>;
type Projection = Extract<Profile, { kind: 'projection' }>;

/**
 * Field edge, shutters and pattern of a projection spot, 0..1; `x`, `y` are tangents in the picture (right, up).
 * @param parts which of them count, as bits: the field edge 1, the cuts 2, 4, ... in their order, then the pattern
 */
export function gateShare(profile: Projection, x: number, y: number, parts = -1): number {
  let share = 1;
  if ((parts & 1) !== 0) {
    const angle = Math.atan(Math.sqrt(x * x + y * y));
    share = smoothstep((profile.halfFieldRad - angle) / profile.edgeWidthRad + 0.5);
  }
  for (let i = 0; i < profile.cuts.length; i++) {
    if ((parts & (2 << i)) === 0) continue;
    const cut = profile.cuts[i]!;
    const beyond = Math.atan(x * cut.right + y * cut.up - cut.offset);
    share *= smoothstep(0.5 - beyond / cut.edgeWidthRad);
  }
  if (profile.pattern === null || share === 0 || (parts & (2 << profile.cuts.length)) === 0) return share;
  return share * patternShare(profile.pattern, x, y);
}

/** Of the hole whose soft edge the place lies in, by the most that it lies beyond a side; holes' soft edges are apart. */
function patternShare({ holes, edgeWidthRad }: GatePattern, x: number, y: number): number {
  for (let i = 0; i < holes.length; i++) {
    const hole = holes[i]!;
    if ((x - hole.x) ** 2 + (y - hole.y) ** 2 > hole.reach * hole.reach) continue;
    let beyond = -Infinity;
    for (const { right, up, offset } of hole.sides) beyond = Math.max(beyond, x * right + y * up - offset);
    const share = smoothstep(0.5 - Math.atan(beyond) / edgeWidthRad);
    if (share > 0) return share;
  }
  return 0;
}

/** The profile with shutters drawn out and no pattern: what the lamp's stated figures are for. */
export const openGate = (profile: Profile): Profile =>
  profile.kind === 'projection' ? { ...profile, cuts: [], pattern: null } : profile;

/**
 * How much smaller than for a cosine the parts of a face must be for a second-order series to err as little, 0..1. The
 * first term left out of (1 + q)^-m, m = (n + 3)/2 for cos^n, is C(m + 2, 3) q³, and 4 q³ for a cosine. Of a beam, half a
 * beam angle is 1, and a steep one bends within a smaller part of it: exp(-ln 2 x²) has a third derivative of 2.3 at most.
 */
export function splitScale(profile: Profile): number {
  if (profile.kind === 'cosine') {
    const m = (profile.exponent + 3) / 2;
    return Math.min(1, Math.cbrt(24 / ((m + 2) * (m + 1) * m)));
  }
  if (profile.kind === 'beam') return Math.min(1, (3 * profile.halfBeamRad) / Math.max(2, profile.steepness));
  // Its kernel is that of an even face, but fitted, and its picture moves over the lens as well.
  return profile.kind === 'projection' ? 0.75 : 1;
}

/**
 * Angle over which what a lamp sends to a plane changes by most of itself, rad: what is looked at no closer may be missed
 * altogether. An even lamp's light falls to an eighth at 60°, about a radian, by slant and distance alone.
 */
export function featureRad(profile: Profile): number {
  switch (profile.kind) {
    case 'flat':
      return 1;
    case 'cosine':
      return 1 / Math.sqrt(Math.max(1, profile.exponent));
    case 'beam':
      return Math.min(1, profile.halfBeamRad);
    case 'web':
      return Math.min(1, bendRad(profile.grid));
    case 'crated':
      return Math.min(cutOffRad(profile.slope), featureRad(profile.inner));
    case 'projection':
      return profile.peaking > 0 ? fallToHalfRad(profile) : profile.halfFieldRad;
  }
}

/** Powers of two that a beam's tail is followed down. */
const FAINTEST = 16;

/** Share by which a beam changes within a radian at an angle off its axis, 1/rad; 0 where next to nothing is left. */
export function beamSlope({ halfBeamRad, steepness }: Beam, angleRad: number): number {
  const powers = (angleRad / halfBeamRad) ** steepness;
  // On the axis itself a beam is level, and the quotient is none.
  return angleRad === 0 || powers > FAINTEST ? 0 : (Math.LN2 * steepness * powers) / angleRad;
}

/** Angle within which a peaked field falls to half. */
export const fallToHalfRad = ({ halfFieldRad, peaking }: Projection): number =>
  halfFieldRad * Math.sqrt(Math.LN2 / peaking);

/** Falling off of the field from its middle, before its edge: exp(-q (θ/θfield)²). */
export function fieldShare(profile: Projection, x: number, y: number): number {
  if (profile.peaking === 0) return 1;
  const relative = Math.atan(Math.sqrt(x * x + y * y)) / profile.halfFieldRad;
  return Math.exp(-profile.peaking * relative * relative);
}

/**
 * Share of peak intensity towards a direction.
 * @param cosine  cosine of the angle off the axis; nothing is sent backwards, except by a flat point source
 * @param x, y    the direction to the right and up, seen from behind: tangents for a projection spot and an egg
 *   crate, on any one scale for a web; other profiles are the same all round
 */
export function profileShare(profile: Profile, cosine: number, x: number, y: number): number {
  switch (profile.kind) {
    case 'flat':
      return 1;
    case 'cosine':
      return cosine <= 0 ? 0 : profile.exponent === 1 ? cosine : cosine ** profile.exponent;
    case 'beam': {
      if (cosine <= 0) return 0;
      const angle = Math.acos(Math.min(1, cosine));
      return Math.exp(-Math.LN2 * (angle / profile.halfBeamRad) ** profile.steepness);
    }
    case 'web': {
      const across = Math.sqrt(Math.max(0, 1 - cosine * cosine)) / (Math.hypot(x, y) || 1);
      return valueTowards(profile.grid, cosine, x * across, y * across);
    }
    case 'crated':
      return cosine <= 0 ? 0 : cellShare(profile.slope, x, y) * profileShare(profile.inner, cosine, x, y);
    case 'projection':
      return cosine <= 0 ? 0 : fieldShare(profile, x, y) * gateShare(profile, x, y);
  }
}
