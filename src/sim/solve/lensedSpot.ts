/**
 * A focusing lantern with a simple lens: seen from before the lens, its small source stands magnified behind the lens.
 * Thin lens: 1/v = 1/u - 1/F for a source at u inside the focal length F, size grown by v/u.
 */
import type { Distribution } from '../../scene/schema';

export type Lensed = Extract<Distribution, { kind: 'lensed' }>;

/** The source as the lens shows it: a disc about the axis, `behindM` behind the lens. */
export interface VirtualDisc {
  readonly behindM: number;
  readonly radiusM: number;
  readonly lensRadiusM: number;
}

/**
 * @throws {RangeError} for a source at the focal length or beyond it: the lens then throws a picture of it before itself
 * @remarks A thin lens without faults: no spherical aberration, no colour fringe, no light lost in the glass (the output
 *   is what leaves the lens). @source Gauss's thin-lens equation
 */
export function virtualDisc({ lampToLensM, focalLengthM, sourceDiameterM, lensDiameterM }: Lensed): VirtualDisc {
  if (lampToLensM >= focalLengthM) throw new RangeError('the source stands at or beyond the focal length of its lens');
  const grown = focalLengthM / (focalLengthM - lampToLensM);
  return {
    behindM: lampToLensM * grown,
    radiusM: (grown * sourceDiameterM) / 2,
    lensRadiusM: lensDiameterM / 2,
  };
}

/** Share of the disc's area that the lens's rim leaves to a point on the axis; `distanceM` from the lens, or Infinity. */
export function shareOnAxis({ behindM, radiusM, lensRadiusM }: VirtualDisc, distanceM: number): number {
  const seen = lensRadiusM * (distanceM === Infinity ? 1 : (behindM + distanceM) / distanceM);
  return Math.min(1, (seen / radiusM) ** 2);
}

/**
 * Share of the disc's area that the lens's rim leaves towards a direction, far away; `tangent` of the angle off the axis. The
 * rim, seen along that direction, is a circle of the lens's size moved by `behindM * tangent` over the disc.
 * @source area that two circles share (closed form)
 */
export function shareTowards({ behindM, radiusM: r, lensRadiusM: R }: VirtualDisc, tangent: number): number {
  const d = behindM * tangent;
  if (d >= R + r) return 0;
  if (d <= Math.abs(R - r)) return Math.min(1, (R / r) ** 2);
  const atDisc = Math.acos((d * d + r * r - R * R) / (2 * d * r));
  const atRim = Math.acos((d * d + R * R - r * r) / (2 * d * R));
  const kite = Math.sqrt((-d + r + R) * (d + r - R) * (d - r + R) * (d + r + R)) / 2;
  return (r * r * atDisc + R * R * atRim - kite) / (Math.PI * r * r);
}
