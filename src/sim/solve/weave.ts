/** A woven net's transmittance over an emitter's face, along the rays to one receiver. */
import type { Vec3 } from '../../scene/geometry/vector';
import { wovenTransmittance } from '../photometry/filters';
import type { BlockerLayer } from './compiled';
import type { EmitterFace } from './emitterFace';
import type { OnFace } from './kernel';

export class Weave implements OnFace {
  readonly uv = new Float64Array(2);
  /** The net; it must have a weave. */
  layer!: BlockerLayer;
  private readonly face: EmitterFace;

  constructor(face: EmitterFace) {
    this.face = face;
  }

  value(): number {
    const { towards: w, halfU: U, halfV: V } = this.face;
    const u = this.uv[0]!;
    const v = this.uv[1]!;
    const { stops, frame } = this.layer.weave!;
    const direction: Vec3 = [
      w[0]! + u * U[0]! + v * V[0]!,
      w[1]! + u * U[1]! + v * V[1]!,
      w[2]! + u * U[2]! + v * V[2]!,
    ];
    return wovenTransmittance(stops, direction, frame);
  }
}
