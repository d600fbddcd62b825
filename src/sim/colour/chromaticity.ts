/** Tristimulus values and chromaticities, CIE 1931 2-degree observer; Y is lux throughout. */
import { CIE_1931_OBSERVER, OBSERVER_FIRST_NM, OBSERVER_STEP_NM } from './observer';

/** CIE 1931 tristimulus values; Y in lux (or relative where said). */
export interface Xyz {
  readonly X: number;
  readonly Y: number;
  readonly Z: number;
}
/** CIE 1931 chromaticity. */
export interface Chromaticity {
  readonly x: number;
  readonly y: number;
}
/** CIE 1960 chromaticity, the plane in which correlated colour temperature is defined. */
export interface Uv1960 {
  readonly u: number;
  readonly v: number;
}

export const NO_LIGHT: Xyz = { X: 0, Y: 0, Z: 0 };

/**
 * Tristimulus values of a spectrum by plain summation at 5 nm, in the units of the spectrum times nanometres.
 * @param spectrum power per nanometre at a wavelength in nm, called for 380, 385 ... 780
 * @source CIE 15:2004 section 7.1 (summation at 5 nm, Table T.4)
 */
export function xyzFromSpectrum(spectrum: (wavelengthNm: number) => number): Xyz {
  let X = 0;
  let Y = 0;
  let Z = 0;
  CIE_1931_OBSERVER.forEach(([xBar, yBar, zBar], index) => {
    const power = spectrum(OBSERVER_FIRST_NM + index * OBSERVER_STEP_NM) * OBSERVER_STEP_NM;
    X += power * xBar;
    Y += power * yBar;
    Z += power * zBar;
  });
  return { X, Y, Z };
}

/** Tristimulus values of a chromaticity at a level in lux: X = Y x / y, Z = Y (1 - x - y) / y. */
export function xyzFromChromaticity({ x, y }: Chromaticity, illuminanceLx: number): Xyz {
  return { X: (illuminanceLx * x) / y, Y: illuminanceLx, Z: (illuminanceLx * (1 - x - y)) / y };
}

/** Chromaticity of tristimulus values; null where there is no light. */
export function chromaticityFromXyz({ X, Y, Z }: Xyz): Chromaticity | null {
  const sum = X + Y + Z;
  return sum > 0 ? { x: X / sum, y: Y / sum } : null;
}

/** Sum of lights, as light adds: component by component (Grassmann; CIE 15). */
export function mixXyz(lights: readonly Xyz[]): Xyz {
  return lights.reduce((sum, light) => ({ X: sum.X + light.X, Y: sum.Y + light.Y, Z: sum.Z + light.Z }), NO_LIGHT);
}

/** CIE 1960 u, v of a chromaticity: u = 4x / d, v = 6y / d, d = -2x + 12y + 3. */
export function uv1960FromChromaticity({ x, y }: Chromaticity): Uv1960 {
  const d = -2 * x + 12 * y + 3;
  return { u: (4 * x) / d, v: (6 * y) / d };
}

/** CIE 1976 u', v': u' = u, v' = 1.5 v. */
export function uv1976FromChromaticity(chromaticity: Chromaticity): {
  readonly uPrime: number;
  readonly vPrime: number;
} {
  const { u, v } = uv1960FromChromaticity(chromaticity);
  return { uPrime: u, vPrime: 1.5 * v };
}

/** Chromaticity of CIE 1960 u, v: x = 3u / e, y = 2v / e, e = 2u - 8v + 4. */
export function chromaticityFromUv1960({ u, v }: Uv1960): Chromaticity {
  const e = 2 * u - 8 * v + 4;
  return { x: (3 * u) / e, y: (2 * v) / e };
}
