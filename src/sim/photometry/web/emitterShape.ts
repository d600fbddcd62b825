/** The luminous opening of a photometric file as an emitter that the light kernel knows. */
import type { Emitter } from '../../../scene/schema';
import type { LuminousOpening } from '../../../scene/webs/photometricFile';

/** An ellipse up to this many times as long as wide stands as a disc of its area, a longer one as a rectangle. */
const ROUND_ASPECT = 1.1;
/** Widest body that is a point: 1 mm. */
const POINT_M = 0.001;

/**
 * Ball of the same mean silhouette as a convex body: a quarter of its surface.
 * @source Cauchy's surface formula (1832)
 */
const ballOf = (surfaceM2: number): Emitter => ({ shape: 'sphere', diameterM: Math.sqrt(surfaceM2 / Math.PI) });

function boxSurfaceM2({ acrossM: a, upM: b, deepM: c }: LuminousOpening): number {
  return 2 * (a * b + b * c + a * c);
}
/** Ends and side of a cylinder; the side of an elliptic one by its mean diameter. */
function cylinderSurfaceM2(oneM: number, otherM: number, lengthM: number): number {
  return (Math.PI / 2) * oneM * otherM + Math.PI * ((oneM + otherM) / 2) * lengthM;
}

/** A round face; no side of it is 0. */
function faceOf(acrossM: number, upM: number): Emitter {
  const aspect = Math.max(acrossM, upM) / Math.min(acrossM, upM);
  if (aspect <= ROUND_ASPECT) return { shape: 'disc', diameterM: Math.sqrt(acrossM * upM) };
  const side = Math.sqrt(Math.PI) / 2; // of a square as large as a circle of diameter 1
  return { shape: 'rectangle', widthM: acrossM * side, heightM: upM * side };
}
/** A rectangle; a side of 0 is as thin as a line may be. */
const rectangleOf = (acrossM: number, upM: number): Emitter => ({
  shape: 'rectangle',
  widthM: Math.max(acrossM, POINT_M),
  heightM: Math.max(upM, POINT_M),
});

/**
 * The emitter that an opening stands for: flat faces as they are; a body with sides is its face towards the axis, or, if
 * it shines backwards too, the ball of the same mean silhouette.
 * @param faces which sizes a flat opening has across and up: along C0 and C90 for system C; A and B keep the upright one
 *   along the axis's height where they have no length
 * @remarks Left out: the sides of a box or cylinder seen at a slant while it sends no light backwards.
 */
export function emitterOfOpening(opening: LuminousOpening, shinesBack: boolean, system: 'A' | 'B' | 'C'): Emitter {
  const { shape, acrossM, upM, deepM } = opening;
  if (Math.max(acrossM, upM, deepM) < POINT_M) return { shape: 'point' };
  switch (shape) {
    case 'point':
      return { shape: 'point' };
    case 'rectangle':
      // A floodlight's opening stands upright: its width is across and its height up.
      if (system !== 'C' && acrossM === 0) return rectangleOf(upM, deepM);
      return deepM > 0 && shinesBack ? ballOf(boxSurfaceM2(opening)) : rectangleOf(acrossM, upM);
    case 'disc':
      return faceOf(acrossM, upM);
    case 'uprightCylinder':
      return shinesBack ? ballOf(cylinderSurfaceM2(acrossM, upM, deepM)) : faceOf(acrossM, upM);
    case 'spheroid':
      return { shape: 'sphere', diameterM: Math.cbrt(acrossM * upM * (deepM || acrossM)) };
    case 'cylinderAlongC0':
      return { shape: 'tube', lengthM: acrossM, diameterM: (upM + deepM) / 2 };
    case 'cylinderAlongC90':
      return shinesBack ? ballOf(cylinderSurfaceM2(acrossM, deepM, upM)) : rectangleOf(acrossM, upM);
    case 'discFacingC0':
      return system === 'C' ? ballOf((Math.PI / 2) * upM * deepM) : faceOf(upM, deepM);
    case 'discFacingC90':
      return system === 'C' ? ballOf((Math.PI / 2) * acrossM * deepM) : faceOf(acrossM, deepM);
  }
}
