/**
 * Illuminance by plain sampling of E(p) = sum over sources of the integral of L V T cos(p) cos(x) / r² dA, and nothing
 * else: no clipping, no series, no interpolation. It shares no code with the app, so that agreement means something.
 */
import type { SceneDocument } from '../../src/scene/schema';
import { bruteSource, type BruteSource, type Samples } from './emitters';
import { covers, distanceBetween, passes, sheetsOf, type Sheet } from './sheets';
import { inner, plus, scrambledNet, size, type Triple } from './vectors';

export interface BruteReceiver {
  readonly pointM: Triple;
  /** Unit normal of the receiver. */
  readonly normal: Triple;
  /** The surface it lies on, whose own lit face never hides it. */
  readonly surfaceId?: string;
}
/** 'bare': nothing in the way; 'hard': opaque things alone; 'all': nets, scrims and gels as well. */
export type BruteMode = 'bare' | 'hard' | 'all';

export interface BruteScene {
  readonly sourceIds: readonly string[];
  /** Lux of each source at the receiver, in the order of `sourceIds`, at the sources' levels. */
  readonly illuminanceLx: (receiver: BruteReceiver, mode?: BruteMode) => Float64Array;
}

/** Sheets that a ray from the receiver to the emitter can meet at all. */
function sheetsBetween(sheets: readonly Sheet[], source: BruteSource, receiver: BruteReceiver): Sheet[] {
  const point = receiver.pointM;
  return sheets.filter((one) => {
    if (one.faceOf !== null && one.faceOf === receiver.surfaceId) return false;
    if (source.isSun) {
      const to = plus(one.centre, point, -1);
      const along = inner(to, source.centre);
      return along > -one.reachM && size(plus(to, source.centre, -along)) <= one.reachM + 0.1 * (along + one.reachM);
    }
    const here = inner(one.axes.out, point) - one.offset;
    const there = inner(one.axes.out, source.centre) - one.offset;
    if (here > 0 ? there > source.reachM : there < -source.reachM) return false;
    const way = plus(source.centre, point, -1);
    const share = inner(plus(one.centre, point, -1), way) / inner(way, way);
    const nearest = plus(point, way, Math.max(0, Math.min(1, share)));
    return distanceBetween(nearest, one.centre) <= one.reachM + source.reachM;
  });
}

function transmittanceTo(
  sheets: readonly Sheet[],
  heights: Float64Array,
  point: Triple,
  wx: number,
  wy: number,
  wz: number,
  farthest: number,
): number {
  let left = 1;
  for (let s = 0; s < sheets.length; s++) {
    const one = sheets[s]!;
    const { out, right, up, origin } = one.axes;
    const fall = out[0] * wx + out[1] * wy + out[2] * wz;
    const t = -heights[s]! / fall;
    if (!(t > 0 && t < farthest)) continue;
    const qx = point[0] + t * wx - origin[0];
    const qy = point[1] + t * wy - origin[1];
    const qz = point[2] + t * wz - origin[2];
    const x = qx * right[0] + qy * right[1] + qz * right[2];
    const y = qx * up[0] + qy * up[1] + qz * up[2];
    if (!covers(one, x, y)) continue;
    left *= passes(one, wx, wy, wz);
    if (left === 0) return 0;
  }
  return left;
}

function integrate(
  source: BruteSource,
  sheets: readonly Sheet[],
  receiver: BruteReceiver,
  square: Float64Array,
  samples: Samples,
): number {
  const { pointM, normal } = receiver;
  source.fill(pointM, square, samples);
  const heights = Float64Array.from(sheets, (one) => inner(one.axes.out, pointM) - one.offset);
  const count = samples.x.length;
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const candela = samples.candela[i]!;
    if (candela === 0) continue;
    const wx = samples.x[i]! - (source.isSun ? 0 : pointM[0]);
    const wy = samples.y[i]! - (source.isSun ? 0 : pointM[1]);
    const wz = samples.z[i]! - (source.isSun ? 0 : pointM[2]);
    const square2 = wx * wx + wy * wy + wz * wz;
    const cosine = (wx * normal[0] + wy * normal[1] + wz * normal[2]) / Math.sqrt(square2);
    if (cosine <= 0) continue;
    const left = transmittanceTo(sheets, heights, pointM, wx, wy, wz, source.isSun ? Infinity : samples.outside[i]!);
    if (left > 0) sum += (candela * left * cosine) / square2;
  }
  return (sum / count) * source.level;
}

/**
 * Light of one source off one mirror: every ray of an emitter's sample towards the receiver's place behind the glass is
 * followed to where it meets the mirror, and from there to the receiver.
 */
function integrateOff(
  mirror: Sheet,
  source: BruteSource,
  sheets: readonly Sheet[],
  receiver: BruteReceiver,
  square: Float64Array,
  samples: Samples,
): number {
  const { pointM, normal, surfaceId } = receiver;
  const { out, origin, right, up } = mirror.axes;
  const height = inner(out, pointM) - mirror.offset;
  if (height <= 0) return 0;
  const behind = plus(pointM, out, -2 * height);
  source.fill(behind, square, samples);
  const others = sheets.filter((one) => one !== mirror);
  const before = others.filter((one) => one.faceOf === null || one.faceOf !== surfaceId);
  const heights = Float64Array.from(before, (one) => inner(one.axes.out, pointM) - one.offset);
  const count = samples.x.length;
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const candela = samples.candela[i]!;
    const sample: Triple = [samples.x[i]!, samples.y[i]!, samples.z[i]!];
    const back = source.isSun ? sample : plus(sample, behind, -1);
    const rise = inner(out, back);
    if (candela === 0 || rise <= 0) continue;
    const share = height / rise; // of the way from behind the glass to the sample: here the ray meets the mirror
    if (!source.isSun && share >= 1) continue;
    const met = plus(behind, back, share);
    const onMirror = plus(met, origin, -1);
    if (!covers(mirror, inner(onMirror, right), inner(onMirror, up))) continue;
    const way = plus(back, out, -2 * rise); // from the receiver, reflected
    const square2 = inner(way, way);
    const cosine = inner(way, normal) / Math.sqrt(square2);
    if (cosine <= 0) continue;
    const toMirror = transmittanceTo(before, heights, pointM, ...way, share);
    if (toMirror === 0) continue;
    const metHeights = Float64Array.from(others, (one) => inner(one.axes.out, met) - one.offset);
    const farthest = source.isSun ? Infinity : samples.outside[i]! - share;
    sum += (candela * toMirror * transmittanceTo(others, metHeights, met, ...back, farthest) * cosine) / square2;
  }
  return (sum / count) * source.level * mirror.reflectance;
}

/**
 * A setup made ready for sampling. Mirrors send light on once; `bare` light goes straight only.
 * @param samples  points on each emitter (a power of two is best); a point source needs one
 * @param seed     of the scrambled point set; another seed gives an independent estimate
 * @throws {Error} where the scene holds something that plain sampling does not cover (diffusion...)
 */
export function prepareBrute(document: SceneDocument, setupId: string, samples: number, seed: number): BruteScene {
  const setup = document.setups.find((one) => one.id === setupId);
  if (!setup) throw new Error(`no setup ${setupId}`);
  const sheets = sheetsOf(document, setup);
  const opaque = sheets.filter((one) => one.transmittance === 0);
  const mirrors = sheets.filter((one) => one.reflectance > 0);
  const sources = Object.entries(setup.sources).map(([id, source]) =>
    bruteSource(id, source, document.northDeg ?? 0, document),
  );
  const squares = sources.map((source, index) =>
    scrambledNet(source.reachM === 0 && !source.isSun ? 1 : samples, seed * 1013 + index),
  );
  const buffers = squares.map((square): Samples => {
    const count = square.length / 2;
    return {
      x: new Float64Array(count),
      y: new Float64Array(count),
      z: new Float64Array(count),
      candela: new Float64Array(count),
      outside: new Float64Array(count).fill(1),
    };
  });
  return {
    sourceIds: sources.map((source) => source.id),
    illuminanceLx: (receiver, mode = 'all') =>
      Float64Array.from(sources, (source, index) => {
        const met = mode === 'bare' ? [] : sheetsBetween(mode === 'hard' ? opaque : sheets, source, receiver);
        const direct = integrate(source, met, receiver, squares[index]!, buffers[index]!);
        if (mode === 'bare') return direct;
        const things = mode === 'hard' ? opaque : sheets;
        return mirrors.reduce(
          (sum, mirror) => sum + integrateOff(mirror, source, things, receiver, squares[index]!, buffers[index]!),
          direct,
        );
      }),
  };
}

/** Lux of each source at one receiver. */
export function bruteIlluminance(
  document: SceneDocument,
  setupId: string,
  receiver: BruteReceiver,
  samples: number,
  seed: number,
): Map<string, number> {
  const scene = prepareBrute(document, setupId, samples, seed);
  const levels = scene.illuminanceLx(receiver);
  return new Map(scene.sourceIds.map((id, index) => [id, levels[index]!]));
}
