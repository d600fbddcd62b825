/** A straight line through points of unequal weight, with the spread of its two figures. */

export interface WeightedPoint {
  readonly x: number;
  readonly y: number;
  /** In proportion to 1 / variance of y. */
  readonly weight: number;
}
export interface WeightedLine {
  readonly intercept: number;
  readonly slope: number;
  /** Weighted sum of squared residuals. */
  readonly chiSquared: number;
  /** Variances and covariance for points of variance 1 / weight; times chiSquared / (n - 2) where only its ratio is known. */
  readonly interceptVariance: number;
  readonly slopeVariance: number;
  readonly covariance: number;
}

/**
 * Least-squares line y = intercept + slope x.
 * @throws {RangeError} for fewer than two points, or points all at one x
 * @source weighted linear regression in closed form, e.g. Bevington, Data Reduction and Error Analysis, ch. 6, and
 *   Numerical Recipes section 15.2 (both from memory); about the weighted mean of x, so that nothing cancels
 */
export function weightedLine(points: readonly WeightedPoint[]): WeightedLine {
  let [sum, sumX, sumY] = [0, 0, 0];
  for (const { x, y, weight } of points) {
    sum += weight;
    sumX += weight * x;
    sumY += weight * y;
  }
  const [meanX, meanY] = [sumX / sum, sumY / sum];
  let [sxx, sxy] = [0, 0];
  for (const { x, y, weight } of points) {
    sxx += weight * (x - meanX) ** 2;
    sxy += weight * (x - meanX) * (y - meanY);
  }
  if (points.length < 2 || !(sxx > 0)) throw new RangeError('a line needs two points apart');
  const slope = sxy / sxx;
  const intercept = meanY - slope * meanX;
  const chiSquared = points.reduce((total, { x, y, weight }) => total + weight * (y - intercept - slope * x) ** 2, 0);
  return {
    intercept,
    slope,
    chiSquared,
    interceptVariance: 1 / sum + (meanX * meanX) / sxx,
    slopeVariance: 1 / sxx,
    covariance: -meanX / sxx,
  };
}

/** Two-sided 95 % points of Student's t for 1, 2, ... degrees of freedom. */
const T_95 = [
  12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.16, 2.145, 2.131, 2.12, 2.11,
  2.101, 2.093, 2.086,
];
export const NORMAL_95 = 1.959964;

/**
 * Two-sided 95 % point of Student's t.
 * @source printed tables up to 20 degrees of freedom; beyond, the first three terms of its expansion about the normal
 *   distribution (Abramowitz & Stegun 26.7.5, from memory), right to 0.001 there
 */
export function studentT95(degreesOfFreedom: number): number {
  const known = T_95[degreesOfFreedom - 1];
  if (known !== undefined) return known;
  const [z, n] = [NORMAL_95, degreesOfFreedom];
  const third = (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / (384 * n ** 3);
  return z + (z ** 3 + z) / (4 * n) + (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * n * n) + third;
}
