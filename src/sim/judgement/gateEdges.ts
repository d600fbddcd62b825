/** Soft edges made in a projection spot's own gate (field edge, shutters, pattern) where they bound the patch. */
import { localFromWorld } from '../../scene/geometry/frames';
import { addScaled, cross, dot, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { gateShare } from '../solve/profile';
import { onSurface } from '../solve/solveGrid';
import { discEdgeShare, gateEdgeWidthM } from './edgeWidths';
import { towardsSource, type Patch } from './patch';
import { isBlocked } from './rays';
import { hardLayers, nearLit, SUN_WIDTH_PER_M } from './shadowEdges';

const ROUND = 96;
const ALONG_CUT = 32;
const ALONG_SIDE = 4;
/** Where neither the story nor a window says how far the edge is that the gate pretends to be, m. */
export const ASSUMED_EDGE_M = 3;

export interface GateSample {
  readonly shadowM: readonly [right: number, up: number];
  readonly acrossM: readonly [number, number];
  readonly widthM: number;
  readonly sunWidthM: number;
  readonly ratio: number;
  readonly weightM: number;
}

interface PicturePoint {
  readonly x: number;
  readonly y: number;
  readonly edgeWidthRad: number;
}

/** Points of the gate's edges in the picture, one list an edge, in order along it. */
function gateOutlines(source: CompiledSource): PicturePoint[][] {
  const { profile } = source;
  if (profile.kind !== 'projection') return [];
  const radius = Math.tan(profile.halfFieldRad);
  const circle = Array.from({ length: ROUND + 1 }, (_, i) => {
    const turn = (2 * Math.PI * i) / ROUND;
    return { x: radius * Math.cos(turn), y: radius * Math.sin(turn), edgeWidthRad: profile.edgeWidthRad };
  });
  const cuts = profile.cuts.map((cut) =>
    Array.from({ length: ALONG_CUT + 1 }, (_, i) => {
      const along = radius * ((2 * i) / ALONG_CUT - 1);
      const [x, y] = [cut.right * cut.offset - cut.up * along, cut.up * cut.offset + cut.right * along];
      return { x, y, edgeWidthRad: cut.edgeWidthRad };
    }),
  );
  const { holes, edgeWidthRad } = profile.pattern ?? { holes: [], edgeWidthRad: 0 };
  const sides = holes.flatMap(({ corners }) =>
    corners.map((from, i) => {
      const to = corners[(i + 1) % corners.length]!;
      return Array.from({ length: ALONG_SIDE + 1 }, (_, step) => {
        const part = step / ALONG_SIDE;
        return { x: from[0] + part * (to[0] - from[0]), y: from[1] + part * (to[1] - from[1]), edgeWidthRad };
      });
    }),
  );
  // An edge counts where nothing else in the gate hides it: there the gate lets half through.
  const half = ({ x, y }: PicturePoint) => gateShare(profile, x, y) > 0.25;
  return [circle, ...cuts, ...sides].map((outline) => outline.filter(half)).filter((outline) => outline.length > 1);
}

function landing(source: CompiledSource, surface: CompiledSurface, { x, y }: PicturePoint): Vec3 | null {
  const { origin, right, up, forward } = source.frame;
  const ray = addScaled(addScaled(forward, scale(right, -1), x), up, y);
  const rate = dot(surface.frame.forward, ray);
  const t = dot(surface.frame.forward, subtract(surface.frame.origin, origin)) / rate;
  return rate < -1e-9 && t > 0 ? addScaled(origin, ray, t) : null;
}

/**
 * Samples of the gate's edges that land on the surface by the patch with no set edge in the way.
 * @param storyEdgeM distance of the edge that the gate pretends to be; the sun's width is taken for it
 * @source judgement definition 2.6, gate edges
 */
export function gateEdges(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  patch: Patch,
  storyEdgeM: number,
): GateSample[] {
  const { profile, shape } = source;
  if (profile.kind !== 'projection') return [];
  const lensRadiusM = shape.kind === 'disc' ? shape.radiusM : 0;
  const layers = hardLayers(scene, source, surface);
  const samples: GateSample[] = [];
  for (const outline of gateOutlines(source)) {
    for (let i = 0; i + 1 < outline.length; i++) {
      const [from, to] = [landing(source, surface, outline[i]!), landing(source, surface, outline[i + 1]!)];
      if (from === null || to === null) continue;
      const middle = scale(addScaled(from, to, 1), 0.5);
      const local = localFromWorld(surface.frame, middle);
      const shadowM = [local.right, local.up] as const;
      if (!onSurface(surface, shadowM) || isBlocked(layers, source.frame.origin, middle)) continue;
      const { direction, distanceM } = towardsSource(source, middle);
      const square = gateEdgeWidthM(lensRadiusM, distanceM, profile.perFocusM, outline[i]!.edgeWidthRad);
      const run = subtract(to, from);
      const line = normalise(run);
      const across = cross(surface.frame.forward, line);
      const obliquity = Math.max(1e-6, Math.abs(dot(across, normalise(cross(direction, line)))));
      const widthM = square / obliquity;
      if (!nearLit(patch, shadowM, widthM / discEdgeShare)) continue;
      const sunSquare = discEdgeShare * SUN_WIDTH_PER_M * storyEdgeM;
      const acrossM = [dot(across, surface.frame.right), dot(across, surface.frame.up)] as const;
      const weightM = Math.hypot(...run);
      samples.push({ shadowM, acrossM, widthM, sunWidthM: sunSquare / obliquity, ratio: square / sunSquare, weightM });
    }
  }
  return samples;
}
