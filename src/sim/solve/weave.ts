/** Transmittance of a woven net, or of a pane of glass, over an emitter's face, along the rays to one receiver. */
import type { Vec3 } from '../../scene/geometry/vector';
import { wovenTransmittance } from '../photometry/filters';
import { paneTransmittance } from '../photometry/pane';
import type { BlockerLayer, SlantLoss } from './compiled';
import type { EmitterFace } from './emitterFace';
import type { OnFace } from './kernel';

/** What a weave or a pane lets through along a ray of any length but zero, 0..1. */
export const slantTransmittance = (loss: SlantLoss, direction: Vec3): number =>
  'pane' in loss
    ? paneTransmittance(loss.pane, direction, loss.frame.forward)
    : wovenTransmittance(loss.stops, direction, loss.frame);

export class Weave implements OnFace {
  readonly uv = new Float64Array(2);
  /** The net or pane; it must have a weave. */
  layer!: BlockerLayer;
  private readonly face: EmitterFace;

  constructor(face: EmitterFace) {
    this.face = face;
  }

  value(): number {
    const { towards: w, halfU: U, halfV: V } = this.face;
    const u = this.uv[0]!;
    const v = this.uv[1]!;
    const direction: Vec3 = [
      w[0]! + u * U[0]! + v * V[0]!,
      w[1]! + u * U[1]! + v * V[1]!,
      w[2]! + u * U[2]! + v * V[2]!,
    ];
    return slantTransmittance(this.layer.weave!, direction);
  }
}
