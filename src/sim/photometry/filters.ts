/** Loss in stops, transmittance and density of filters, nets and scrims. */
import { dot, type Vec3 } from '../../scene/geometry/vector';
import type { Frame } from '../../scene/geometry/frames';

/** Transmittance of a loss in stops, 2^-s. Stops of a stack add. */
export const transmittanceFromStops = (stops: number): number => 2 ** -stops;
/** Loss in stops of a transmittance, log2(1/tau). */
export const stopsFromTransmittance = (transmittance: number): number => -Math.log2(transmittance);
/** Loss in stops of an optical density, D / log10(2). @source ISO 5-1 */
export const stopsFromDensity = (density: number): number => density / Math.log10(2);

/** Share of a square mesh's pitch that its wire covers, d/p, so that (1 - d/p)² = 2^-stops seen square-on; 0..1. */
export const wireShareFromStops = (stops: number): number => 1 - 2 ** (-stops / 2);

/**
 * Transmittance of a square woven mesh of opaque round wires along a ray, 0..1.
 * tau = (1 - k/cos A)(1 - k/cos B), each factor at least 0; k = d/p from the loss seen square-on; A and B are the ray's
 * slants from the normal in the two planes that stand square to the wires (wires run along the frame's right and up).
 * Raked about one wire direction it is (1 - k)(1 - k/cos t).
 * @param stops      loss seen square-on
 * @param direction  of the ray, either way along it, any length but zero
 * @returns 0 for a ray along the mesh
 * @remarks Leaves out thread thickness across the weave, light scattered by the threads and pattern (moiré) between nets.
 * @source geometry of the mesh; checked against a traced grid of wires in the reference values 8.4
 */
export function wovenTransmittance(stops: number, direction: Vec3, netFrame: Frame): number {
  const through = Math.abs(dot(direction, netFrame.forward));
  if (through === 0) return 0;
  const wire = wireShareFromStops(stops);
  const acrossRightWires = Math.hypot(dot(direction, netFrame.up), through) / through;
  const acrossUpWires = Math.hypot(dot(direction, netFrame.right), through) / through;
  return Math.max(0, 1 - wire * acrossRightWires) * Math.max(0, 1 - wire * acrossUpWires);
}
