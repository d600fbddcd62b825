import type { LampTilt } from '../../../scene/webs/photometricFile';

/** Output of a tilted luminaire as a share of that hanging straight: linear between the table's angles, held at its ends. */
export function tiltFactor({ anglesDeg, factors }: LampTilt, tiltDeg: number): number {
  const after = anglesDeg.findIndex((angle) => angle >= tiltDeg);
  if (after === 0) return factors[0]!;
  if (after < 0) return factors.at(-1)!;
  const [from, to] = [anglesDeg[after - 1]!, anglesDeg[after]!];
  const share = (tiltDeg - from) / (to - from);
  return factors[after - 1]! + share * (factors[after]! - factors[after - 1]!);
}
