/** How shadow lines run apart on the surface, and how shadows grow. */
import { toDegrees } from '../../scene/geometry/frames';
import { addScaled, dot, length, normalise, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledOpening, CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import type { HardEdge } from '../solve/compiled';
import { towardsSource, type Patch } from './patch';
import type { EdgeSample } from './shadowEdges';

/** Edges whose directions differ by less than this are one family, sine. */
const PARALLEL = 1e-6;

export interface LineFan {
  readonly lineFanDeg: number;
  /** Points on the two shadow lines that run farthest apart. */
  readonly between: readonly [EdgeSample, EdgeSample] | null;
}

/**
 * Largest angle between shadow lines of parallel edges on the surface, degrees; null with fewer than two such edges.
 * The lines of a family along e all pass through Q = s + e ((q0 - s)·n)/(e·n), where the parallel to e through the lamp
 * meets the surface; edges parallel to the surface, and the sun, never fan.
 * @param samples places where the edges' shadows touch the patch
 * @source judgement definition 2.4
 */
export function lineFan(
  source: CompiledSource,
  surface: CompiledSurface,
  samples: readonly EdgeSample[],
): LineFan | null {
  const families = parallelFamilies(samples);
  if (families.length === 0) return null;
  let widest: LineFan = { lineFanDeg: 0, between: null };
  if (source.shape.kind === 'sun') return widest;
  const { origin, forward, right, up } = surface.frame;
  for (const { direction, members } of families) {
    const rate = dot(direction, forward);
    if (Math.abs(rate) < PARALLEL) continue;
    const lamp = source.frame.origin;
    const meeting = addScaled(lamp, direction, dot(subtract(origin, lamp), forward) / rate);
    const angles = members.map((sample) => {
      const out = subtract(sample.shadow, meeting);
      return Math.atan2(dot(out, up), dot(out, right));
    });
    angles.forEach((a, i) => {
      for (let j = i + 1; j < angles.length; j++) {
        if (members[i]!.edge === members[j]!.edge) continue;
        const apart = Math.abs(Math.atan2(Math.sin(a - angles[j]!), Math.cos(a - angles[j]!)));
        if (toDegrees(apart) > widest.lineFanDeg) {
          widest = { lineFanDeg: toDegrees(apart), between: [members[i]!, members[j]!] };
        }
      }
    });
  }
  return widest;
}

/** Families of two or more parallel edges, one sample an edge and end of it that touches. */
function parallelFamilies(samples: readonly EdgeSample[]): { direction: Vec3; members: EdgeSample[] }[] {
  const families: { direction: Vec3; members: EdgeSample[]; edges: Set<HardEdge> }[] = [];
  for (const sample of samples) {
    const direction = normalise(subtract(sample.edge.to, sample.edge.from));
    let family = families.find((f) => 1 - Math.abs(dot(f.direction, direction)) < PARALLEL);
    if (!family) {
      family = { direction, members: [], edges: new Set() };
      families.push(family);
    }
    // All samples of one edge lie on one shadow line: the first stands for it.
    if (!family.edges.has(sample.edge)) family.members.push(sample);
    family.edges.add(sample.edge);
  }
  return families.filter((family) => family.edges.size >= 2);
}

/** Distance from the lamp to the plane of the window (its bars, else its inner face) along the ray to `point`, m. */
function windowDistance(opening: CompiledOpening, lamp: Vec3, point: Vec3): number {
  const run = subtract(point, lamp);
  const rate = dot(opening.frame.forward, run);
  if (Math.abs(rate) < 1e-12) return NaN;
  return (dot(opening.frame.forward, subtract(opening.growthPlane, lamp)) / rate) * length(run);
}

/** Growth 1 + b/a of shadows at a patch point that light reaches through `opening`; the sun's is 1. */
export function growthAt(source: CompiledSource, opening: CompiledOpening, point: Vec3): number {
  if (source.shape.kind === 'sun') return 1;
  const lamp = source.frame.origin;
  const lampM = windowDistance(opening, lamp, point);
  return length(subtract(point, lamp)) / lampM;
}

/**
 * Growth at the patch cells nearest to and farthest from the lamp, light through windows only; null without windows.
 * @source judgement definition 2.5
 */
export function growthEnds(
  scene: CompiledScene,
  source: CompiledSource,
  patch: Patch,
): { near: number; far: number } | null {
  let near: { away: number; growth: number } | null = null;
  let far: { away: number; growth: number } | null = null;
  patch.points.forEach((point, i) => {
    const opening = scene.openings[patch.window[i]!];
    if (!opening) return;
    const away = Math.min(1e9, towardsSource(source, point).distanceM);
    const growth = growthAt(source, opening, point);
    if (near === null || away < near.away) near = { away, growth };
    if (far === null || away > far.away) far = { away, growth };
  });
  if (near === null || far === null) return null;
  return { near: (near as { growth: number }).growth, far: (far as { growth: number }).growth };
}
