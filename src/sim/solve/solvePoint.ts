/** One receiver, by the finer rule: meters, and the reading under the pointer. */
import type { Colour } from '../../scene/schema';
import { cctAndDuv } from '../colour/cct';
import { frameFromPose, toDegrees } from '../../scene/geometry/frames';
import { dot, type Vec3 } from '../../scene/geometry/vector';
import type { PointReading } from '../results';
import type { BlockerLayer, CompiledScene, CompiledSource } from './compiled';
import { CHECK_QUALITY, METER_QUALITY } from './quality';
import { layersInLight, layersUnder, ownLayersOf, planeOfPoint } from './receivers';
import { ALL_ROLES, SourceIntegrator } from './sourceIntegrator';
import { mixedChromaticity, tintedShares, type TintedShare } from './tintedLight';

export interface Receiver {
  readonly pointM: Vec3;
  /** Unit vector that the receptor faces. */
  readonly normal: Vec3;
  /** Surface that the receiver lies on; it is never blocked by it. */
  readonly surfaceId?: string;
  readonly receptor?: 'flat' | 'dome';
}

interface SourceReading {
  readonly source: CompiledSource;
  readonly illuminanceLx: number;
  readonly incidenceDeg: number | null;
  readonly errorLx: number;
  readonly shares: readonly TintedShare[];
}

function readSource(scene: CompiledScene, source: CompiledSource, receiver: Receiver): SourceReading {
  const { pointM, normal, surfaceId, receptor = 'flat' } = receiver;
  const plane = { ...planeOfPoint(pointM, normal), receptor };
  const under = layersUnder(pointM);
  const own = surfaceId === undefined ? () => false : ownLayersOf(surfaceId);
  const ignored = (layer: BlockerLayer) => own(layer) || under(layer);
  const layers = layersInLight(scene, source).filter((layer) => !ignored(layer));
  const lit = (present: readonly BlockerLayer[]): number => {
    const integrator = new SourceIntegrator(source, present, METER_QUALITY);
    integrator.usePlane(plane, () => false);
    return integrator.moveTo(0, 0) ? source.level * integrator.illuminanceLx(ALL_ROLES) : 0;
  };
  const [fine, finer] = [METER_QUALITY, CHECK_QUALITY].map((quality) => {
    const integrator = new SourceIntegrator(source, layers, quality);
    integrator.usePlane(plane, () => false);
    if (!integrator.moveTo(0, 0)) return { illuminanceLx: 0, arrival: null };
    const illuminanceLx = source.level * integrator.illuminanceLx(ALL_ROLES);
    return { illuminanceLx, arrival: illuminanceLx > 0 ? integrator.arrivalDirection(ALL_ROLES) : null };
  });
  const { illuminanceLx, arrival } = fine!;
  const incidenceDeg = arrival === null ? null : toDegrees(Math.acos(Math.max(-1, Math.min(1, dot(arrival, normal)))));
  const shares = tintedShares(source.colour, layers, illuminanceLx, lit);
  return { source, illuminanceLx, incidenceDeg, errorLx: Math.abs(finer!.illuminanceLx - illuminanceLx), shares };
}

/** One entry a source, its light off mirrors counted with it; the incidence is that of its strongest light. */
function bySource(readings: readonly SourceReading[]): PointReading['bySource'] {
  const strongest = new Map<string, SourceReading>();
  const sums = new Map<string, number>();
  for (const reading of readings) {
    const { id } = reading.source;
    sums.set(id, (sums.get(id) ?? 0) + reading.illuminanceLx);
    const before = strongest.get(id);
    if (before === undefined || reading.illuminanceLx > before.illuminanceLx) strongest.set(id, reading);
  }
  return [...strongest].map(([sourceId, { incidenceDeg }]) => ({
    sourceId,
    illuminanceLx: sums.get(sourceId)!,
    incidenceDeg,
  }));
}

/**
 * Illuminance of one receiver at the sources' levels: lux in all and by source, angles of incidence, colour of the mix.
 * The integration error is the change when every emitter's face is split in four, summed over the sources.
 * @remarks Direct light only, as `solveGrid`. A dome weighs light by (1 + cos)/2.
 */
export function readPoint(scene: CompiledScene, receiver: Receiver): PointReading {
  const readings = scene.sources.map((source) => readSource(scene, source, receiver));
  const mixed = mixedChromaticity(readings.flatMap(({ shares }) => shares));
  const colour = mixed && cctAndDuv(mixed);
  return {
    illuminanceLx: readings.reduce((sum, reading) => sum + reading.illuminanceLx, 0),
    bySource: bySource(readings),
    cctK: colour?.cctK ?? null,
    duv: colour?.duv ?? null,
    integrationErrorLx: readings.reduce((sum, reading) => sum + reading.errorLx, 0),
  };
}

/**
 * Reading of a meter of the scene.
 * @throws {RangeError} if the meter does not exist
 */
export function readMeter(scene: CompiledScene, meterId: string): PointReading {
  const meter = scene.document.meters[meterId];
  if (!meter) throw new RangeError(`no meter "${meterId}" in this scene`);
  const { forward } = frameFromPose({ positionM: meter.positionM, aim: meter.aim });
  return readPoint(scene, { pointM: meter.positionM, normal: forward, receptor: meter.receptor });
}

/**
 * Colour of one source's light at a place behind the gels that hang in it, hard things left out; null where it gives no light
 * there or states no colour.
 */
export function colourBehindGels(
  scene: CompiledScene,
  source: CompiledSource,
  pointM: Vec3,
  normal: Vec3,
): Colour | null {
  const layers = layersInLight(scene, source).filter(({ role, tint }) => tint || (role !== 'set' && role !== 'cut'));
  if (!layers.some(({ tint }) => tint)) return source.colour;
  const plane = planeOfPoint(pointM, normal);
  const lit = (present: readonly BlockerLayer[]): number => {
    const integrator = new SourceIntegrator(source, present, METER_QUALITY);
    integrator.usePlane(plane, () => false);
    return integrator.moveTo(0, 0) ? integrator.illuminanceLx(ALL_ROLES) : 0;
  };
  return mixedChromaticity(tintedShares(source.colour, layers, lit(layers), lit));
}
