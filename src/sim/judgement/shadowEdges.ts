/** Hard edges whose shadow lines bound or cross a lit patch, and how soft they are beside the sun's. */
import { localFromWorld, toRadians } from '../../scene/geometry/frames';
import { addScaled, cross, distance, dot, length, normalise, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { BlockerLayer, CompiledScene, CompiledSource, CompiledSurface, HardEdge } from '../solve/compiled';
import { DEFAULT_SUN_DIAMETER_DEG } from '../solve/compileSources';
import { beyondOutlet } from '../solve/outlet';
import { hardEdgesInLight, layersInLight } from '../solve/receivers';
import { onSurface } from '../solve/solveGrid';
import { discEdgeShare, trapezoidEdgeWidth } from './edgeWidths';
import { towardsSource, type Patch } from './patch';
import { covers, isBlocked } from './rays';

/** Width of the sun's penumbra for an edge one metre off, square on: 2 tan of its half-angle. */
export const SUN_WIDTH_PER_M = 2 * Math.tan(toRadians(DEFAULT_SUN_DIAMETER_DEG / 2));
const SAMPLES = 16;
/** An edge this near to the surface lies on it, m. */
const ON_SURFACE_M = 1e-6;
/** How far beside an edge its own layer is asked whether it covers, m. */
const BESIDE_M = 1e-4;
const FAR_SOURCE_M = 1e5;

export interface EdgeSample {
  readonly edge: HardEdge;
  readonly onEdge: Vec3;
  /** Where the edge's shadow from the emitter's centre falls, world and surface right/up metres. */
  readonly shadow: Vec3;
  readonly shadowM: readonly [right: number, up: number];
  /** From the lamp to the edge and from the edge to the surface, m. */
  readonly lampM: number;
  readonly edgeM: number;
  /** 10 to 90 % width of the shadow edge on the surface, m: the lamp's and the sun's for the same edge. */
  readonly widthM: number;
  readonly sunWidthM: number;
  readonly ratio: number;
  /** Length of shadow line that the sample stands for, m. */
  readonly weightM: number;
  /** Unit direction on the surface across the shadow line, right/up. */
  readonly acrossM: readonly [number, number];
}

/** Effective 10 to 90 % width of the emitter across an edge, m; the sun's per metre of distance. */
function emitterAcross(source: CompiledSource, towards: Vec3, edgeDirection: Vec3): number {
  const { shape, frame } = source;
  const across = normalise(cross(towards, edgeDirection));
  switch (shape.kind) {
    case 'point':
      return 0;
    case 'sun':
      return discEdgeShare * 2 * shape.tangentRadius;
    case 'sphere':
      return discEdgeShare * 2 * shape.radiusM;
    case 'disc':
      return discEdgeShare * 2 * shape.radiusM * Math.sqrt(Math.max(0, 1 - dot(frame.forward, across) ** 2));
    case 'rectangle':
    case 'tube': {
      const tube = shape.kind === 'tube';
      const upAxis = tube ? normalise(cross(frame.right, towards)) : frame.up;
      const a = 2 * (tube ? shape.halfLengthM : shape.halfWidthM) * Math.abs(dot(frame.right, across));
      const b = 2 * (tube ? shape.radiusM : shape.halfHeightM) * Math.abs(dot(upAxis, across));
      return trapezoidEdgeWidth(a, b);
    }
  }
}

/** A place that stands for the source's centre: the sun's is put far away. */
export function centreFor(source: CompiledSource, near: Vec3): Vec3 {
  return source.shape.kind === 'sun' ? addScaled(near, source.frame.origin, FAR_SOURCE_M) : source.frame.origin;
}

/** Where the ray from the source past `edgePoint` meets the surface's plane beyond it; null where it does not. */
export function shadowOf(source: CompiledSource, surface: CompiledSurface, edgePoint: Vec3): Vec3 | null {
  const { forward, origin } = surface.frame;
  const { direction } = towardsSource(source, edgePoint);
  const rate = dot(forward, direction);
  const height = dot(forward, subtract(edgePoint, origin));
  if (rate <= 1e-9 || height <= 1e-6) return null;
  return addScaled(edgePoint, direction, -height / rate);
}

/** Distance from a point of the surface (right/up) to the nearest lit cell's centre, searched out to `reachM`. */
export function nearLit(patch: Patch, [x, y]: readonly [number, number], reachM: number): boolean {
  const { sums } = patch;
  const columns = Math.ceil(reachM / sums.cellWidthM) + 1;
  const rows = Math.ceil(reachM / sums.cellHeightM) + 1;
  const column = Math.floor((x - sums.region.leftM) / sums.cellWidthM);
  const row = Math.floor((y - sums.region.bottomM) / sums.cellHeightM);
  const reach = reachM + Math.hypot(sums.cellWidthM, sums.cellHeightM);
  for (let r = Math.max(0, row - rows); r <= Math.min(sums.rows - 1, row + rows); r++) {
    for (let c = Math.max(0, column - columns); c <= Math.min(sums.columns - 1, column + columns); c++) {
      if (patch.lit[r * sums.columns + c] === 0) continue;
      if (Math.hypot(sums.xs[c]! - x, sums.ys[r]! - y) <= reach) return true;
    }
  }
  return false;
}

/**
 * The part of an edge, as shares of its length, whose shadow falls in the patch's grid (which takes in its
 * half-shadow); null for none. With L and P the lamp and a point of the edge, H and h their heights over the surface, the shadow lies at
 * (P H - L h) / (H - h): bounds on it are linear along the edge.
 */
function shadedPart(
  source: CompiledSource,
  surface: CompiledSurface,
  edge: HardEdge,
  patch: Patch,
): readonly [number, number] | null {
  const { frame } = surface;
  const sun = source.shape.kind === 'sun';
  // The sun's "place" is a direction: then the shadow is (P dn - d h) / dn.
  const lamp = sun
    ? {
        right: dot(frame.right, source.frame.origin),
        up: dot(frame.up, source.frame.origin),
        above: dot(frame.forward, source.frame.origin),
      }
    : localFromWorld(frame, source.frame.origin);
  const { leftM, bottomM, widthM, heightM } = patch.sums.region;
  const bounds = (point: Vec3): number[] => {
    const { right, up, above } = localFromWorld(frame, point);
    const scale = sun ? lamp.above : lamp.above - above;
    const x = right * lamp.above - lamp.right * above;
    const y = up * lamp.above - lamp.up * above;
    return [
      above - ON_SURFACE_M,
      scale,
      x - leftM * scale,
      (leftM + widthM) * scale - x,
      y - bottomM * scale,
      (bottomM + heightM) * scale - y,
    ];
  };
  const atEnd = bounds(edge.to);
  let [low, high] = [0, 1];
  bounds(edge.from).forEach((a, i) => {
    const b = atEnd[i]!;
    if (a < 0 && b < 0) high = -1;
    else if (a < 0) low = Math.max(low, a / (a - b));
    else if (b < 0) high = Math.min(high, a / (a - b));
  });
  return low < high ? [low, high] : null;
}

function sampleEdge(
  source: CompiledSource,
  surface: CompiledSurface,
  edge: HardEdge,
  from: number,
  to: number,
): EdgeSample | null {
  const along = subtract(edge.to, edge.from);
  const onEdge = addScaled(edge.from, along, (from + to) / 2);
  const shadow = shadowOf(source, surface, onEdge);
  if (shadow === null) return null;
  const local = localFromWorld(surface.frame, shadow);
  const shadowM = [local.right, local.up] as const;
  if (!onSurface(surface, shadowM)) return null;
  const { direction, distanceM: lampM } = towardsSource(source, onEdge);
  const edgeM = distance(onEdge, shadow);
  const ends = [from, to].map((t) => shadowOf(source, surface, addScaled(edge.from, along, t)));
  if (ends[0] === null || ends[1] === null) return null;
  const run = subtract(ends[1]!, ends[0]!);
  const weightM = length(run);
  if (weightM === 0) return null;
  const emitterWidth = emitterAcross(source, direction, normalise(along));
  const perMetre = source.shape.kind === 'sun' ? 1 : 1 / lampM;
  // A strip of width w square to the ray covers w / obliquity on the surface, across the shadow line.
  const line = normalise(run);
  const across = cross(surface.frame.forward, line);
  const obliquity = Math.max(1e-6, Math.abs(dot(across, normalise(cross(direction, line)))));
  const sunAcross = discEdgeShare * SUN_WIDTH_PER_M;
  return {
    edge,
    onEdge,
    shadow,
    shadowM,
    lampM,
    edgeM,
    widthM: (emitterWidth * perMetre * edgeM) / obliquity,
    sunWidthM: (sunAcross * edgeM) / obliquity,
    ratio: (emitterWidth * perMetre) / sunAcross,
    weightM,
    acrossM: [dot(across, surface.frame.right), dot(across, surface.frame.up)],
  };
}

/** Hard layers that can hide an edge from the surface. */
export const hardLayers = (
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
): readonly BlockerLayer[] =>
  beyondOutlet(
    source,
    layersInLight(scene, source).filter(
      (layer) =>
        (layer.role === 'set' || layer.role === 'cut') && layer.opacity === 1 && layer.ownSurfaceId !== surface.id,
    ),
  );

/**
 * Samples of every hard edge (16 an edge) whose shadow from the emitter's centre lies on the surface, within one
 * penumbra of the patch, and is hidden by nothing else.
 * @source judgement definition 2.6
 */
export function shadowEdges(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  patch: Patch,
): EdgeSample[] {
  const layers = hardLayers(scene, source, surface);
  const byId = new Map(layers.map((layer) => [layer.id, layer]));
  const samples: EdgeSample[] = [];
  for (const edge of hardEdgesInLight(scene, source)) {
    const own = byId.get(edge.layerId);
    if (!own) continue;
    const part = shadedPart(source, surface, edge, patch);
    if (part === null) continue;
    const step = (part[1] - part[0]) / SAMPLES;
    for (let index = 0; index < SAMPLES; index++) {
      const sample = sampleEdge(source, surface, edge, part[0] + index * step, part[0] + (index + 1) * step);
      if (sample === null || !nearLit(patch, sample.shadowM, sample.widthM / discEdgeShare)) continue;
      const open = addScaled(sample.onEdge, edge.open, BESIDE_M);
      const shut = addScaled(sample.onEdge, edge.open, -BESIDE_M);
      if (covers(own, open) || !covers(own, shut)) continue;
      const target = shadowOf(source, surface, open);
      if (target === null || isBlocked(layers, centreFor(source, open), target)) continue;
      samples.push(sample);
    }
  }
  return samples;
}
