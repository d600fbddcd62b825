/**
 * The peer of the bench: the plain sampled integrator. Every receiver takes the same N points of each face (a low
 * discrepancy sequence) and tests each ray against every piece of every layer; nothing is culled, clipped or interpolated.
 */
import { addScaled, subtract } from '../../src/scene/geometry/vector';
import type { BlockerLayer, CompiledSource } from '../../src/sim/solve/compiled';
import type { ReceiverPlane } from '../../src/sim/solve/edgeTable';
import { makeFace, turnFace } from '../../src/sim/solve/emitterFace';
import { Kernel } from '../../src/sim/solve/kernel';
import { METER_QUALITY } from '../../src/sim/solve/quality';
import { FlatLayers } from './flatLayers';

/** Step ratios of the R2 sequence, from the plastic number (Roberts 2018, from memory). */
const R2 = [0.7548776662466927, 0.5698402909980532] as const;

/** Sampled illuminance of one source at places (x, y) of the plane, lx at level 1. */
export function sampledLx(
  source: CompiledSource,
  layers: readonly BlockerLayer[],
  plane: ReceiverPlane,
  places: readonly (readonly [x: number, y: number])[],
  samples: number,
): Float64Array {
  const face = makeFace(source, METER_QUALITY);
  const kernel = new Kernel(source, face, plane.normal, false);
  kernel.gateParts = -1;
  const sheets = new FlatLayers(layers);
  const { towards: w, halfU: U, halfV: V } = face;
  const count = source.shape.kind === 'point' ? 1 : samples;
  const area = source.shape.kind === 'point' ? 1 : face.round ? Math.PI : 4;
  return Float64Array.from(places, ([x, y]) => {
    const point = addScaled(addScaled(plane.origin, plane.axisX, x), plane.axisY, y);
    face.towards.set(subtract(source.frame.origin, point));
    if (!turnFace(face, source)) return 0;
    kernel.turn();
    let sum = 0;
    for (let k = 0; k < count; k++) {
      const a = (0.5 + k * R2[0]) % 1;
      const b = (0.5 + k * R2[1]) % 1;
      const radius = Math.sqrt(a);
      kernel.uv[0] = count === 1 ? 0 : face.round ? radius * Math.cos(2 * Math.PI * b) : 2 * a - 1;
      kernel.uv[1] = count === 1 ? 0 : face.round ? radius * Math.sin(2 * Math.PI * b) : 2 * b - 1;
      if (source.shape.kind !== 'point' && kernel.height() <= 0) continue;
      const value = kernel.value();
      if (!(value > 0)) continue;
      const u = kernel.uv[0]!;
      const v = kernel.uv[1]!;
      const [rx, ry, rz] = [
        w[0]! + u * U[0]! + v * V[0]!,
        w[1]! + u * U[1]! + v * V[1]!,
        w[2]! + u * U[2]! + v * V[2]!,
      ];
      sum += value * sheets.transmittance(point[0], point[1], point[2], rx, ry, rz);
    }
    return (sum / count) * area;
  });
}
