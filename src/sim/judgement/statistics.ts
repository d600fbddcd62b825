/** Area-weighted percentiles, as the judgement defines them. */

/**
 * Quantile of weighted values: sorted, cumulative c_i = (weight up to i - half of i's own) / sum, interpolated linearly.
 * @param quantile 0..1; beyond the first and last middle the end values hold
 * @returns NaN for no values
 */
export function weightedQuantiles(
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  quantiles: readonly number[],
): number[] {
  const first = weights[0];
  let even = values.length > 0;
  for (let i = 0; even && i < values.length; i++) even = weights[i] === first;
  if (even) return evenQuantiles(Float64Array.from(values).sort(), quantiles);
  const order = Array.from({ length: values.length }, (_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const total = order.reduce((sum, i) => sum + weights[i]!, 0);
  if (order.length === 0 || total === 0) return quantiles.map(() => NaN);
  return quantiles.map((quantile) => {
    let upTo = 0;
    let beforeShare = NaN;
    let beforeValue = NaN;
    for (const i of order) {
      const share = (upTo + weights[i]! / 2) / total;
      upTo += weights[i]!;
      const value = values[i]!;
      if (share >= quantile) {
        if (Number.isNaN(beforeShare)) return value;
        return beforeValue + ((value - beforeValue) * (quantile - beforeShare)) / (share - beforeShare);
      }
      beforeShare = share;
      beforeValue = value;
    }
    return beforeValue;
  });
}

/** The same for equal weights, where c_i = (i + 1/2) / n and sorting numbers alone is enough. */
function evenQuantiles(sorted: Float64Array, quantiles: readonly number[]): number[] {
  const last = sorted.length - 1;
  return quantiles.map((quantile) => {
    const place = Math.max(0, Math.min(last, quantile * sorted.length - 0.5));
    const below = Math.floor(place);
    const above = Math.min(last, below + 1);
    return sorted[below]! + (place - below) * (sorted[above]! - sorted[below]!);
  });
}

/** Spread from the 1st to the 99th percentile: slivers and a corner that nobody meters are left out. */
export function trimmedSpread(values: ArrayLike<number>, weights: ArrayLike<number>): number {
  const [low, high] = weightedQuantiles(values, weights, [0.01, 0.99]);
  return high! - low!;
}

/** From the least to the greatest of logarithms that are finite; 0 for fewer than two. */
export function rangeStops(logs: readonly number[]): number {
  const finite = logs.filter(Number.isFinite);
  return (
    finite.reduce((a, b) => Math.max(a, b), finite[0] ?? 0) - finite.reduce((a, b) => Math.min(a, b), finite[0] ?? 0)
  );
}

/** Linear correlation of two weighted lists, -1..1; 0 where one of them does not vary. */
export function correlation(a: ArrayLike<number>, b: ArrayLike<number>, weights: ArrayLike<number>): number {
  let total = 0;
  let meanA = 0;
  let meanB = 0;
  for (let i = 0; i < a.length; i++) {
    total += weights[i]!;
    meanA += weights[i]! * a[i]!;
    meanB += weights[i]! * b[i]!;
  }
  meanA /= total;
  meanB /= total;
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < a.length; i++) {
    ab += weights[i]! * (a[i]! - meanA) * (b[i]! - meanB);
    aa += weights[i]! * (a[i]! - meanA) ** 2;
    bb += weights[i]! * (b[i]! - meanB) ** 2;
  }
  return aa === 0 || bb === 0 ? 0 : ab / Math.sqrt(aa * bb);
}
