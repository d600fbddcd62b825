/**
 * Shadow edges and the other tells of a near lamp, from similar triangles: what part of a source an edge leaves, how wide
 * the half-shadow is, how shadows grow, how the light falls along the shaft. Metres and radians.
 */

/** Share of a source left visible as a straight edge crosses it; `t` is the edge's offset over the half-width, -1..1. */
export type VisibleFraction = (t: number) => number;
const clampOffset = (t: number): number => Math.max(-1, Math.min(1, t));

/** Visible share of a uniform disc, 1/2 + (t sqrt(1 - t²) + asin t)/pi: area of a circular segment. */
export const discVisibleFraction: VisibleFraction = (offset) => {
  const t = clampOffset(offset);
  return 0.5 + (t * Math.sqrt(1 - t * t) + Math.asin(t)) / Math.PI;
};

/** Visible share of a uniform rectangle, the edge parallel to a side: (1 + t)/2. */
export const rectangleVisibleFraction: VisibleFraction = (offset) => (1 + clampOffset(offset)) / 2;

/** Visible share of a uniform square, the edge parallel to a diagonal. */
export const diamondVisibleFraction: VisibleFraction = (offset) => {
  const t = clampOffset(offset);
  return t <= 0 ? (1 + t) ** 2 / 2 : 1 - (1 - t) ** 2 / 2;
};

/**
 * Visible share of a disc darkened towards its limb, I = 1 - u (1 - mu).
 * f = [(1-u)(t sqrt(1-t²) + asin t + pi/2) + u (pi/2)(t - t³/3 + 2/3)] / (pi (1 - u/3)).
 * @param darkening  u, 0 uniform; about 0.6 for the sun in visible light (from memory)
 */
export function limbDarkenedVisibleFraction(offset: number, darkening: number): number {
  const t = clampOffset(offset);
  const uniform = t * Math.sqrt(1 - t * t) + Math.asin(t) + Math.PI / 2;
  const limb = (Math.PI / 2) * (t - t ** 3 / 3 + 2 / 3);
  return ((1 - darkening) * uniform + darkening * limb) / (Math.PI * (1 - darkening / 3));
}

/** Share of the full half-shadow's width between 10 and 90 % of the light; the fraction must grow with t. By bisection. */
export function tenToNinetyShare(fraction: VisibleFraction): number {
  return (offsetAtLevel(fraction, 0.9) - offsetAtLevel(fraction, 0.1)) / 2;
}
function offsetAtLevel(fraction: VisibleFraction, level: number): number {
  let [low, high] = [-1, 1];
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (fraction(middle) < level) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Full width of a straight edge's half-shadow from a source of width D across the edge: D b / a. */
export const penumbraWidth = (sourceWidthM: number, sourceToEdgeM: number, edgeToWallM: number): number =>
  (sourceWidthM * edgeToWallM) / sourceToEdgeM;

/** Full width of a straight edge's half-shadow in sunlight: 2 b tan(alpha/2), 9.305 mm per metre for the mean sun. */
export const sunPenumbraWidth = (angularDiameterRad: number, edgeToWallM: number): number =>
  2 * edgeToWallM * Math.tan(angularDiameterRad / 2);

/** Width of a half-shadow on a wall tilted by `tiltRad` across the edge. */
export const tiltedPenumbraWidth = (squareOnWidthM: number, tiltRad: number): number =>
  squareOnWidthM / Math.cos(tiltRad);

/** Distance at which a source of width D looks as wide as the sun: D / (2 tan(alpha/2)), 107.5 D for the mean sun. */
export const sunLikeDistance = (sourceWidthM: number, angularDiameterRad: number): number =>
  sourceWidthM / (2 * Math.tan(angularDiameterRad / 2));

/** Half-shadow of a lamp against the sun's for the same edge: (D/a) / (2 tan(alpha/2)); 1 is the sun. */
export const penumbraRatio = (sourceWidthM: number, sourceToEdgeM: number, angularDiameterRad: number): number =>
  sunLikeDistance(sourceWidthM, angularDiameterRad) / sourceToEdgeM;

/** Width of full shadow behind an opaque strip, W (1 + b/a) - D b/a; negative once the strip's umbra has ended. */
export const umbraWidth = (
  stripWidthM: number,
  sourceWidthM: number,
  sourceToStripM: number,
  stripToWallM: number,
): number =>
  stripWidthM * patternGrowth(sourceToStripM, stripToWallM) - penumbraWidth(sourceWidthM, sourceToStripM, stripToWallM);

/** Width of a strip's shadow with its half-shadows, W (1 + b/a) + D b/a. */
export const outerShadowWidth = (
  stripWidthM: number,
  sourceWidthM: number,
  sourceToStripM: number,
  stripToWallM: number,
): number =>
  stripWidthM * patternGrowth(sourceToStripM, stripToWallM) + penumbraWidth(sourceWidthM, sourceToStripM, stripToWallM);

/** How far behind a strip its full shadow ends, a W / (D - W); Infinity where the source is no wider than the strip. */
export const umbraLength = (stripWidthM: number, sourceWidthM: number, sourceToStripM: number): number =>
  sourceWidthM > stripWidthM ? (sourceToStripM * stripWidthM) / (sourceWidthM - stripWidthM) : Infinity;

/** How far behind a strip its full shadow ends in sunlight, W / (2 tan(alpha/2)). */
export const sunUmbraLength = (stripWidthM: number, angularDiameterRad: number): number =>
  sunLikeDistance(stripWidthM, angularDiameterRad);

/** Shadow size against the thing that throws it, 1 + b/a; 1 for the sun. */
export const patternGrowth = (sourceToEdgeM: number, edgeToWallM: number): number => 1 + edgeToWallM / sourceToEdgeM;

/** Fall-off along a shaft, 2 log2((a + depth)/a) stops; 0 for the sun. */
export const shaftFallOffStops = (sourceDistanceM: number, depthM: number): number =>
  2 * Math.log2((sourceDistanceM + depthM) / sourceDistanceM);

/** Distance from which a shaft of this depth falls off by no more than `stops`; m. */
export const distanceForShaftFallOff = (depthM: number, stops: number): number => depthM / (2 ** (stops / 2) - 1);

/** Angle between the two sides of the light through an opening, 2 atan(W/2a); radians, 0 for the sun. */
export const openingDivergence = (openingWidthM: number, sourceDistanceM: number): number =>
  2 * Math.atan(openingWidthM / (2 * sourceDistanceM));
