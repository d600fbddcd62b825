/** Flux of a web. */
import { axisOf, intervalOf, valueAt, type WebGrid } from './grid';

/**
 * Integrals of 1 - t and t times a weight over one interval, t running from 0 to 1 along it: what the values at its two
 * ends count for in the integral of their linear interpolant.
 * @param sine true for the weight sin(angle) (gamma), false for cos(angle) (latitudes)
 */
function endWeights(from: number, to: number, sine: boolean): [first: number, last: number] {
  const step = to - from;
  // Antiderivatives: sin -> -cos, x sin -> sin - x cos; cos -> sin, x cos -> cos + x sin.
  const whole = sine ? Math.cos(from) - Math.cos(to) : Math.sin(to) - Math.sin(from);
  const moment = sine
    ? Math.sin(to) - Math.sin(from) - step * Math.cos(to)
    : Math.cos(to) - Math.cos(from) + step * Math.sin(to);
  const last = moment / step;
  return [whole - last, last];
}

/** Weights of an axis's values in the integral of their linear interpolant. */
function axisWeights(anglesRad: Float64Array, weight: 'sine' | 'cosine' | 'even'): Float64Array {
  const weights = new Float64Array(anglesRad.length);
  for (let i = 0; i + 1 < anglesRad.length; i++) {
    const [from, to] = [anglesRad[i]!, anglesRad[i + 1]!];
    const [first, last] =
      weight === 'even' ? [(to - from) / 2, (to - from) / 2] : endWeights(from, to, weight === 'sine');
    weights[i]! += first;
    weights[i + 1]! += last;
  }
  return weights;
}

/**
 * Flux of a web: the exact integral of its bilinear interpolant over all directions of the table; lm for candela.
 * Elements: C sin gamma d gamma dC, A cos V dV dH, B cos H dH dV.
 * @source elements of solid angle; LM-63 leaves the rule open. Zone constants times mean candela give up to 1 % more on
 *   coarse tables
 */
export function webFlux({ system, rows, columns, values }: WebGrid): number {
  const rowWeights = axisWeights(rows.anglesRad, system === 'C' ? 'sine' : system === 'A' ? 'cosine' : 'even');
  const columnWeights = axisWeights(columns.anglesRad, system === 'B' ? 'cosine' : 'even');
  const width = columnWeights.length;
  let flux = 0;
  for (let row = 0; row < rowWeights.length; row++) {
    let sum = 0;
    for (let column = 0; column < width; column++) sum += columnWeights[column]! * values[row * width + column]!;
    flux += rowWeights[row]! * sum;
  }
  return flux;
}

/** Flux of a web of system C below gamma 90 as a share of all of it. @throws {RangeError} for another system */
export function downwardShare(grid: WebGrid): number {
  if (grid.system !== 'C') throw new RangeError('gamma is a word of system C');
  const { rows, columns, values } = grid;
  const width = columns.anglesRad.length;
  const level = Math.PI / 2;
  const below = rows.anglesRad.filter((angle) => angle < level);
  // The part of an interval that reaches over level: a row of its own there, by the same interpolation.
  const cut = intervalOf(rows, level);
  const upper = Float64Array.from(columns.anglesRad, (angle) => valueAt(grid, level, angle));
  if (cut < 0) return rows.anglesRad[0]! > level ? 0 : 1;
  if (below.length === 0) return 0;
  const part = new Float64Array((below.length + 1) * width);
  part.set(values.subarray(0, below.length * width));
  part.set(upper, below.length * width);
  return webFlux({ ...grid, rows: axisOf(Float64Array.from([...below, level])), values: part }) / webFlux(grid);
}

/** Solid angle of the zone between two gammas, 2 pi (cos a - cos b); sr. */
export const zoneSolidAngle = (fromRad: number, toRad: number): number =>
  2 * Math.PI * (Math.cos(fromRad) - Math.cos(toRad));

/**
 * Flux by zones: the mean over the planes at a zone's two edges, times the zone's solid angle; lm. The rule of printed
 * zonal tables, for comparing with them.
 * @throws {RangeError} for a web that is no system C
 */
export function zonalFlux({ system, rows, columns, values }: WebGrid): number {
  if (system !== 'C') throw new RangeError('zones are those of gamma; this web has none');
  const width = columns.anglesRad.length;
  const even = axisWeights(columns.anglesRad, 'even');
  const means = Array.from(rows.anglesRad, (_, row) => {
    let sum = 0;
    for (let column = 0; column < width; column++) sum += even[column]! * values[row * width + column]!;
    return sum / (2 * Math.PI);
  });
  let flux = 0;
  for (let row = 0; row + 1 < means.length; row++) {
    const zone = zoneSolidAngle(rows.anglesRad[row]!, rows.anglesRad[row + 1]!);
    flux += zone * ((means[row]! + means[row + 1]!) / 2);
  }
  return flux;
}
