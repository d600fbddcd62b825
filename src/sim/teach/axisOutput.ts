/** Candela on the axis and virtual origin of a lamp as the light has them: what the law in closed form starts from. */
import { distance } from '../../scene/geometry/vector';
import type { CompiledScene } from '../solve/compiled';

export interface AxisOutput {
  /** At the lamp's level, far away on its axis, all its whole accessories in. */
  readonly candela: number;
  /** Of the virtual origin behind the front, m. */
  readonly originM: number;
}

/**
 * @returns what `E = candela / (d + origin)²` needs of a lamp
 * @throws {RangeError} if the setup has no such lamp
 * @remarks Half scrims, doors and grip are not in it: the law knows one candela alone.
 */
export function axisOutput(scene: CompiledScene, lampId: string): AxisOutput {
  const compiled = scene.sources.find(({ id, image }) => id === lampId && image === null);
  if (compiled?.source.type !== 'lamp') throw new RangeError(`no lamp "${lampId}" in this setup`);
  return {
    candela: compiled.level * compiled.peakCandela,
    originM: distance(compiled.frame.origin, compiled.source.pose.positionM),
  };
}

/** Level by the law alone, candela / (d + origin)², for a meter square on to the axis; lux. */
export const lawOnAxis =
  ({ candela, originM }: AxisOutput) =>
  (distanceM: number): number =>
    candela / (distanceM + originM) ** 2;
