/**
 * The peer of the bench: the plain sampled integrator. Every receiver takes the same N points of each face (a low
 * discrepancy sequence) and tests each ray against every piece of every layer; nothing is culled, clipped or interpolated.
 */
import { addScaled, dot, subtract, type Vec3 } from '../../src/sim/geometry/vector';
import { wovenTransmittance } from '../../src/sim/photometry/filters';
import type { BlockerLayer, CompiledSource } from '../../src/sim/solve/compiled';
import type { ReceiverPlane } from '../../src/sim/solve/edgeTable';
import { makeFace, turnFace } from '../../src/sim/solve/emitterFace';
import { Kernel } from '../../src/sim/solve/kernel';
import { METER_QUALITY } from '../../src/sim/solve/quality';

/** Step ratios of the R2 sequence, from the plastic number (Roberts 2018, from memory). */
const R2 = [0.7548776662466927, 0.5698402909980532] as const;

function transmittance(layers: readonly BlockerLayer[], from: Vec3, ray: Vec3): number {
  let left = 1;
  for (const { normal, origin, pieces, opacity, weave } of layers) {
    const t = dot(normal, subtract(origin, from)) / dot(normal, ray);
    if (!(t > 0 && t < 1)) continue;
    const hit = addScaled(from, ray, t);
    let cover = 0;
    for (const { corners, hole } of pieces) {
      const inside = corners.every((a, i) => {
        const b = corners[(i + 1) % corners.length]!;
        const [e, h] = [subtract(b, a), subtract(hit, a)];
        return dot(normal, [e[1] * h[2] - e[2] * h[1], e[2] * h[0] - e[0] * h[2], e[0] * h[1] - e[1] * h[0]]) >= 0;
      });
      if (inside) cover += hole ? -1 : 1;
    }
    if (cover <= 0) continue;
    left *= weave === null ? 1 - opacity : wovenTransmittance(weave.stops, ray, weave.frame);
    if (left === 0) return 0;
  }
  return left;
}

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
      const [u, v] = [kernel.uv[0]!, kernel.uv[1]!];
      const ray = [0, 1, 2].map((i) => face.towards[i]! + u * face.halfU[i]! + v * face.halfV[i]!) as unknown as Vec3;
      if (source.shape.kind !== 'point' && kernel.height() <= 0) continue;
      const value = kernel.value();
      if (value > 0) sum += value * transmittance(layers, point, ray);
    }
    return (sum / count) * area;
  });
}
