/** 10 to 90 % widths of shadow edges: what a meter or an eye takes as the edge. */
import { discVisibleFraction, tenToNinetyShare } from '../photometry/penumbra';
import { smoothstep } from '../solve/profile';

/** Share of a uniform disc's full penumbra that lies between 10 and 90 %: 0.68705. */
export const discEdgeShare = tenToNinetyShare(discVisibleFraction);

/** 10 to 90 % width of a smoothstep, as a share of its full width: 0.60840. */
const SMOOTHSTEP_TENTH = 0.5 - Math.sin(Math.asin(0.8) / 3);
export const smoothstepEdgeShare = 1 - 2 * SMOOTHSTEP_TENTH;

/**
 * 10 to 90 % width of the shadow profile of two boxes of widths a and b convolved (a rectangle turned against the edge).
 * Aligned (one of them 0) it is 0.8 of the other.
 */
export function trapezoidEdgeWidth(a: number, b: number): number {
  const [wide, narrow] = a >= b ? [a, b] : [b, a];
  if (wide === 0) return 0;
  const cut = narrow / (2 * wide) >= 0.1 ? Math.sqrt(0.2 * wide * narrow) : 0.1 * wide + narrow / 2;
  return wide + narrow - 2 * cut;
}

const STEPS = 2000;
/** The lens by the disc's angle a: chords at sin a, with weight cos² a. */
const ANGLES = Float64Array.from({ length: STEPS }, (_, i) => ((i + 0.5) / STEPS - 0.5) * Math.PI);
const CHORDS = ANGLES.map(Math.sin);
const WEIGHTS = ANGLES.map((angle) => Math.cos(angle) ** 2);
const HALVINGS = 50;

/**
 * 10 to 90 % width at distance r of an edge made in the gate of a projection spot: the lens blur 2R|1 - r/f|, a
 * semicircle, convolved with the cut's own smoothstep of full width r tan(edge width); m, square to the axis.
 * @param perFocusM 1 / focus distance; 0 for focus at infinity
 * @remarks Root-sum-square of the two would be up to 3.2 % high.
 */
export function gateEdgeWidthM(
  lensRadiusM: number,
  distanceM: number,
  perFocusM: number,
  edgeWidthRad: number,
): number {
  const blur = lensRadiusM * Math.abs(1 - distanceM * perFocusM);
  const soft = distanceM * Math.tan(edgeWidthRad);
  if (blur === 0) return smoothstepEdgeShare * soft;
  const levelAt = (x: number) => {
    let sum = 0;
    for (let i = 0; i < STEPS; i++) {
      const shifted = x - blur * CHORDS[i]!;
      sum += (soft === 0 ? (shifted > 0 ? 1 : 0) : smoothstep(shifted / soft + 0.5)) * WEIGHTS[i]!;
    }
    return (2 * sum) / STEPS;
  };
  let [near, far] = [0, blur + soft];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (near + far) / 2;
    if (levelAt(middle) < 0.9) near = middle;
    else far = middle;
  }
  return near + far; // the profile is symmetric about the edge
}
