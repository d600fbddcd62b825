/** Where a lamp's intensity has fallen to a share of its peak: half for the beam, a tenth for the field. */
import type { CompiledSource } from '../solve/compiled';
import { openGate, profileShare } from '../solve/profile';

export const BEAM_SHARE = 0.5;
export const FIELD_SHARE = 0.1;
const STEP_DEG = 0.25;
const HALVINGS = 30;

/**
 * Half-angle off the axis at which the intensity first falls to `share` of that on the axis, degrees.
 * A projection spot's gate is taken as open: no shutter in, no pattern.
 * @returns null for lamps as bright all round, and for measured webs, whose contour need not be round
 */
export function halfAngleDeg({ profile: asSet, shape }: CompiledSource, share: number): number | null {
  const profile = openGate(asSet);
  if (shape.kind === 'sphere' || shape.kind === 'tube' || profile.kind === 'web' || profile.kind === 'flat')
    return null;
  const at = (angleDeg: number): number => {
    const angle = (angleDeg * Math.PI) / 180;
    return profileShare(profile, Math.cos(angle), 0, Math.tan(angle));
  };
  let low = 0;
  while (low < 90 && at(low + STEP_DEG) > share) low += STEP_DEG;
  if (low >= 90) return null;
  let high = low + STEP_DEG;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (at(middle) > share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
