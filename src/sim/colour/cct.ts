/** Correlated colour temperature and Duv by the nearest point of the Planckian locus, and back. */
import { miredFromKelvin } from '../../scene/units/convert';
import type { Colour } from '../../scene/schema';
import { chromaticityFromUv1960, uv1960FromChromaticity, type Chromaticity, type Uv1960 } from './chromaticity';
import { CIE_1931_OBSERVER, OBSERVER_FIRST_NM, OBSERVER_STEP_NM } from './observer';

/** Second radiation constant, metre kelvin: the value that the CIE fixes with ITS-90 (CIE 15); air index n = 1. */
const C2_M_K = 1.4388e-2;
/** The locus is searched from 1000 K up to 100 000 K; beyond it there is no nearest point to speak of. */
const HOTTEST_MIRED = 10;
const COLDEST_MIRED = 1000;
const SEARCH_STEP_MIRED = 15;
/** CIE 15: a correlated colour temperature means little farther than this from the locus. */
export const MAX_DUV_FOR_CCT = 0.05;

export interface CctDuv {
  /** Correlated colour temperature, K. */
  readonly cctK: number;
  /** Distance from the Planckian locus in CIE 1960 u, v; positive above it (green), negative below (magenta). */
  readonly duv: number;
}

/** Mired of a temperature in kelvin, and kelvin of a mired: both are 1e6 / value. */
export const kelvinFromMired = (mired: number): number => 1e6 / mired;
/** Temperature after a filter's mired shift (positive warms); shifts of a stack add. */
export const shiftCctK = (cctK: number, shiftMired: number): number => kelvinFromMired(1e6 / cctK + shiftMired);

interface LocusPoint extends Uv1960 {
  /** Derivatives by mired. */
  readonly duDm: number;
  readonly dvDm: number;
}

/** Per wavelength: exponent per mired, and the observer weighted by the inverse fifth power of micrometres. */
const PLANCK_TERMS = CIE_1931_OBSERVER.map(([xBar, yBar, zBar], index) => {
  const micrometres = (OBSERVER_FIRST_NM + index * OBSERVER_STEP_NM) / 1000;
  const weight = micrometres ** -5;
  return { perMired: C2_M_K / micrometres, x: xBar * weight, y: yBar * weight, z: zBar * weight };
});

/** Point of the Planckian locus in CIE 1960 u, v and its slope by mired, summed at 5 nm. */
function locusAtMired(mired: number): LocusPoint {
  let [X, Y, Z, dX, dY, dZ] = [0, 0, 0, 0, 0, 0];
  for (const { perMired, x, y, z } of PLANCK_TERMS) {
    const growth = Math.exp(perMired * mired);
    const power = 1 / (growth - 1);
    const slope = -power * power * perMired * growth;
    X += power * x;
    Y += power * y;
    Z += power * z;
    dX += slope * x;
    dY += slope * y;
    dZ += slope * z;
  }
  const d = X + 15 * Y + 3 * Z;
  const dd = dX + 15 * dY + 3 * dZ;
  const u = (4 * X) / d;
  const v = (6 * Y) / d;
  return { u, v, duDm: (4 * dX - u * dd) / d, dvDm: (6 * dY - v * dd) / d };
}

/**
 * Chromaticity of a full radiator, CIE 1931.
 * @param temperatureK 1000 to 100 000
 * @throws {RangeError} outside that range
 * @source Planck's law with c2 = 1.4388e-2 m K, CIE 15:2004 Table T.4, summation at 5 nm
 */
export function planckianChromaticity(temperatureK: number): Chromaticity {
  return chromaticityFromUv1960(locusAtMired(checkedMired(temperatureK)));
}

/**
 * Chromaticity of a phase of daylight.
 * @param temperatureK correlated colour temperature, 4000 to 25 000; the locus is not defined below 4000 K
 * @throws {RangeError} outside that range
 * @source CIE 15:2004 section 3.1; Judd, MacAdam & Wyszecki, J. Opt. Soc. Am. 54, 1031 (1964)
 */
export function daylightChromaticity(temperatureK: number): Chromaticity {
  if (!(temperatureK >= 4000 && temperatureK <= 25000)) {
    throw new RangeError(`The daylight locus runs from 4000 to 25000 K, not ${temperatureK} K.`);
  }
  const t = 1000 / temperatureK;
  const x =
    temperatureK <= 7000
      ? ((-4.607 * t + 2.9678) * t + 0.09911) * t + 0.244063
      : ((-2.0064 * t + 1.9018) * t + 0.24748) * t + 0.23704;
  return { x, y: (-3 * x + 2.87) * x - 0.275 };
}

function checkedMired(temperatureK: number): number {
  const mired = miredFromKelvin(temperatureK);
  if (!(mired >= HOTTEST_MIRED && mired <= COLDEST_MIRED)) {
    throw new RangeError(`The Planckian locus is held from 1000 to 100000 K, not ${temperatureK} K.`);
  }
  return mired;
}

let coarseLocus: readonly (LocusPoint & { readonly mired: number })[] | undefined;
function coarsePoints(): readonly (LocusPoint & { readonly mired: number })[] {
  coarseLocus ??= Array.from({ length: (COLDEST_MIRED - HOTTEST_MIRED) / SEARCH_STEP_MIRED + 1 }, (_, index) => {
    const mired = HOTTEST_MIRED + index * SEARCH_STEP_MIRED;
    return { mired, ...locusAtMired(mired) };
  });
  return coarseLocus;
}

/** Mired where the line from `point` meets the locus square on, between two mireds that bracket it. */
function squareOnMired(point: Uv1960, lowMired: number, highMired: number): number {
  const along = (mired: number): number => {
    const locus = locusAtMired(mired);
    return (point.u - locus.u) * locus.duDm + (point.v - locus.v) * locus.dvDm;
  };
  let low = lowMired;
  let high = highMired;
  let atLow = along(low);
  let atHigh = along(high);
  let last = low;
  // False position, halving the end that stays (Illinois); a bracket of 30 mired needs some five steps.
  for (let step = 0; step < 60; step += 1) {
    const middle = atLow === atHigh ? (low + high) / 2 : (low * atHigh - high * atLow) / (atHigh - atLow);
    if (Math.abs(middle - last) < 1e-8) return middle;
    last = middle;
    const atMiddle = along(middle);
    if (atMiddle > 0 === atLow > 0) {
      low = middle;
      atLow = atMiddle;
      atHigh /= 2;
    } else {
      high = middle;
      atHigh = atMiddle;
      atLow /= 2;
    }
  }
  return last;
}

/**
 * Correlated colour temperature and Duv of a chromaticity: the nearest point of the Planckian locus in CIE 1960 u, v.
 * @returns null where the nearest point is not between 1000 and 100 000 K, or the chromaticity is not finite
 * @remarks Step, c2 and the air's index move a 6500 K reading by 0.5, 0.1 and 1.9 K, so a CCT is only defined to a
 *   kelvin or two. Above |Duv| = 0.05 (`MAX_DUV_FOR_CCT`) the temperature means little; the distance still holds.
 * @source CIE 15:2018 section 9.5 (definition); Ohno, LEUKOS 10, 47 (2014) (sign and name of Duv)
 */
export function cctAndDuv(chromaticity: Chromaticity): CctDuv | null {
  const point = uv1960FromChromaticity(chromaticity);
  if (!Number.isFinite(point.u) || !Number.isFinite(point.v)) return null;
  const coarse = coarsePoints();
  let nearest = 0;
  let least = Infinity;
  coarse.forEach((candidate, index) => {
    const gap = (candidate.u - point.u) ** 2 + (candidate.v - point.v) ** 2;
    if (gap < least) [least, nearest] = [gap, index];
  });
  const before = coarse[nearest - 1];
  const after = coarse[nearest + 1];
  if (!before || !after) return null;
  const mired = squareOnMired(point, before.mired, after.mired);
  const locus = locusAtMired(mired);
  const size = Math.hypot(point.u - locus.u, point.v - locus.v);
  return { cctK: kelvinFromMired(mired), duv: point.v >= locus.v ? size : -size };
}

/**
 * Chromaticity at a correlated colour temperature and a Duv: from the Planckian point along the normal in CIE 1960 u, v.
 * @param cctK 1000 to 100 000
 * @throws {RangeError} outside that range
 * @source CIE 15:2018 (definition); Ohno, LEUKOS 10, 47 (2014)
 */
export function chromaticityFromCct(cctK: number, duv = 0): Chromaticity {
  const { u, v, duDm, dvDm } = locusAtMired(checkedMired(cctK));
  const slope = Math.hypot(duDm, dvDm);
  // u grows with mired all along the locus, so this normal points up, to the green side.
  return chromaticityFromUv1960({ u: u - (duv * dvDm) / slope, v: v + (duv * duDm) / slope });
}

/** CIE 1931 chromaticity of a colour of the document: CCT with Duv, or x and y as typed. */
export function chromaticityOf(colour: Colour): Chromaticity {
  return 'cctK' in colour ? chromaticityFromCct(colour.cctK, colour.duv) : { x: colour.x, y: colour.y };
}
