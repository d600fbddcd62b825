/** What a web comes to in a few figures: flux, peak and where it lies, beam and field angles by plane. */
import { toDegrees } from '../../../scene/geometry/frames';
import type { LampDirection } from './directions';
import { directionOf } from './directions';
import { webFlux } from './flux';
import { valueTowards, type WebGrid } from './grid';

/** The two planes through the axis: the one that holds the lamp's right, and the one that holds its up. */
export type PlaneSide = 'across' | 'upright';

/** Intensity along one plane through the axis; linear between the angles, none outside them. */
export interface PlaneProfile {
  /** From the axis, towards right or up positive; degrees, rising, within -180..180. */
  readonly anglesDeg: readonly number[];
  readonly candela: readonly number[];
}

/** Where intensity has fallen to a share of the peak, on both sides; degrees from the axis. */
export interface Spread {
  readonly fromDeg: number;
  readonly toDeg: number;
}
export interface PlaneFigures {
  readonly side: PlaneSide;
  /** At 50 % of the peak; null where the plane never reaches it, or never falls to it. */
  readonly beam: Spread | null;
  /** At 10 %. */
  readonly field: Spread | null;
}
export interface WebFigures {
  readonly fluxLm: number;
  readonly peakCd: number;
  readonly peakAt: LampDirection;
  /** Angle between the axis and the peak, degrees. */
  readonly peakOffDeg: number;
  readonly axisCd: number;
  readonly planes: readonly PlaneFigures[];
}

export const BEAM_SHARE = 0.5;
export const FIELD_SHARE = 0.1;

/** Candela that differ by less than this share are alike: rounding of a sine. */
const SAME = 1e-9;

/** Angles of the plane at which its profile may bend: the table's own. */
function bendsOf({ system, rows, columns }: WebGrid, side: PlaneSide): number[] {
  if (system === 'C') {
    const gammas = [...rows.anglesRad];
    return [...gammas.map((gamma) => 0 - gamma).reverse(), ...gammas].filter(
      (angle, i, all) => i === 0 || angle > all[i - 1]!,
    );
  }
  return [...(side === 'across' ? columns.anglesRad : rows.anglesRad)];
}

/** Intensity along the plane of `side`, at every angle of the table, so that straight lines between them are exact. */
export function planeProfile(grid: WebGrid, side: PlaneSide): PlaneProfile {
  const angles = bendsOf(grid, side);
  const candela = angles.map((angle) => {
    const [along, out] = [Math.cos(angle), Math.sin(angle)];
    // At a half turn the sine is not quite 0: its sign keeps the plane.
    return side === 'across' ? valueTowards(grid, along, out, 0) : valueTowards(grid, along, 0, out);
  });
  return { anglesDeg: angles.map(toDegrees), candela };
}

/**
 * From the profile's largest value, the nearest to the axis of those alike, outwards to the first angle on either side where it falls below `levelCd`.
 * @returns null where the plane does not reach the level, or stays over it all round
 */
export function spreadAt({ anglesDeg, candela }: PlaneProfile, levelCd: number): Spread | null {
  const most = Math.max(...candela);
  // Light that goes both ways alike has its beam about the axis.
  const top = candela.reduce(
    (best, value, i) =>
      value >= (1 - SAME) * most && (best < 0 || Math.abs(anglesDeg[i]!) < Math.abs(anglesDeg[best]!)) ? i : best,
    -1,
  );
  if (!(candela[top]! >= levelCd)) return null;
  const edge = (step: 1 | -1): number | null => {
    for (let i = top; ; i += step) {
      const next = candela[i + step];
      if (next === undefined) return Math.abs(anglesDeg[i]!) >= 180 - 1e-6 ? null : anglesDeg[i]!; // dark beyond the table
      if (next >= levelCd) continue;
      const share = (candela[i]! - levelCd) / (candela[i]! - next);
      return anglesDeg[i]! + share * (anglesDeg[i + step]! - anglesDeg[i]!);
    }
  };
  const [fromDeg, toDeg] = [edge(-1), edge(1)];
  return fromDeg === null || toDeg === null ? null : { fromDeg, toDeg };
}

/**
 * Figures of a web of candela.
 * @source beam angle between the directions of half the peak, field angle of a tenth (common practice; IEC 61341 measures
 *   the first from the centre-beam intensity, from memory)
 */
export function webFigures(grid: WebGrid): WebFigures {
  const { system, rows, columns, values } = grid;
  let top = 0;
  for (let at = 1; at < values.length; at++) if (values[at]! > values[top]!) top = at;
  const width = columns.anglesRad.length;
  const peakAt = directionOf(system, rows.anglesRad[Math.floor(top / width)]!, columns.anglesRad[top % width]!);
  const peakCd = values[top]!;
  const planes = (['across', 'upright'] as const).map((side): PlaneFigures => {
    const profile = planeProfile(grid, side);
    return { side, beam: spreadAt(profile, BEAM_SHARE * peakCd), field: spreadAt(profile, FIELD_SHARE * peakCd) };
  });
  return {
    fluxLm: webFlux(grid),
    peakCd,
    peakAt,
    peakOffDeg: toDegrees(Math.atan2(Math.hypot(peakAt.right, peakAt.up), peakAt.along)),
    axisCd: valueTowards(grid, 1, 0, 0),
    planes,
  };
}
