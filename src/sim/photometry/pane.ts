/** A plane pane of clear or tinted glass: what it lets through at a slant. */
import type { Pane } from '../../scene/glass';
import { dot, type Vec3 } from '../../scene/geometry/vector';

/** What two surfaces and the glass between them let through of one polarisation, by the share that a surface reflects. */
function passedTwice(reflected: number, inside: number): number {
  const back = reflected * inside;
  if (back === 1) return 0; // so nearly along the pane that all of it is reflected
  return ((1 - reflected) * (1 - reflected) * inside) / (1 - back * back);
}

/**
 * Transmittance of a pane in air for unpolarised light along a ray, 0..1. Fresnel's reflectances ρ of a surface for the two
 * polarisations, the internal transmittance τ = exp(-α d / cos θt) along the refracted way, and the sum of all passes to
 * and fro, which do not interfere: T = (1 - ρ)² τ / (1 - ρ² τ²), the mean of both polarisations.
 * @param direction of the ray outside the glass, either way along it, any length but zero
 * @param normal    unit normal of the pane
 * @returns 0 for a ray along the pane
 * @remarks Leaves out coatings and dirt, the beam's shift aside (d sin θ (1 - cos θ/(n cos θt)), a millimetre or so),
 *   colour, and what is reflected.
 * @source Fresnel's formulas (any textbook of optics); the sum over passes as in Duffie & Beckman, Solar Engineering of
 *   Thermal Processes, chapter 5 (from memory)
 */
export function paneTransmittance(pane: Pane, direction: Vec3, normal: Vec3): number {
  const { refractiveIndex: n, absorptionPerM, thicknessM } = pane;
  const cosine = Math.min(1, Math.abs(dot(direction, normal)) / Math.sqrt(dot(direction, direction)));
  if (cosine === 0) return 0;
  const refracted = Math.sqrt(1 - (1 - cosine * cosine) / (n * n));
  const across = ((cosine - n * refracted) / (cosine + n * refracted)) ** 2;
  const within = ((n * cosine - refracted) / (n * cosine + refracted)) ** 2;
  const inside = Math.exp((-absorptionPerM * thicknessM) / refracted);
  return (passedTwice(across, inside) + passedTwice(within, inside)) / 2;
}
