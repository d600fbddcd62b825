/** A window's glass: one share at any angle, or a pane by its refraction and absorption. */
import type { Opening } from './schema';

export type Glass = NonNullable<NonNullable<Opening['window']>['glass']>;

/** A plane pane in air. */
export interface Pane {
  /** Of the glass against air, 1 or more. */
  readonly refractiveIndex: number;
  /** Loss inside the glass, per metre of way: exp(-absorption x way) is left. */
  readonly absorptionPerM: number;
  readonly thicknessM: number;
}

/** Window glass, where the scene does not say: soda-lime float, n 1.52; 4 mm thick. Common practice, no source. */
export const TYPICAL_PANE: Pane = { refractiveIndex: 1.52, absorptionPerM: 0, thicknessM: 0.004 };

/**
 * The pane of glass that is given by its refraction or absorption, what is not given being typical; null for glass of one
 * share. Where both are given the pane holds.
 */
export function paneOf({ refractiveIndex, absorptionPerM, thicknessM }: Glass): Pane | null {
  if (refractiveIndex === undefined && absorptionPerM === undefined && thicknessM === undefined) return null;
  return {
    refractiveIndex: refractiveIndex ?? TYPICAL_PANE.refractiveIndex,
    absorptionPerM: absorptionPerM ?? TYPICAL_PANE.absorptionPerM,
    thicknessM: thicknessM ?? TYPICAL_PANE.thicknessM,
  };
}
