/** Patches of a face in (u, v), which the compiled kernel clips (kernel/patches.ts): how one starts, and its outline. */
import { arcs, corners } from './kernelModule';

/** Arcs that a whole circle is made of. None is half a turn, so its ends say which way round it goes. */
export const CIRCLE_ARCS = 3;

/** Longest chord that stands for an arc where a patch has to be a polygon. */
const CHORD_RAD = (2 * Math.PI) / 96;

/**
 * Puts a face's corners first; those of a round face are ends of arcs.
 * @returns how many there are
 */
export function startPatch(face: Float64Array, round: boolean): number {
  const count = face.length >> 1;
  for (let i = 0; i < face.length; i++) corners[i] = face[i]!;
  if (round) for (let i = 0; i < count; i++) arcs[i] = 1;
  return count;
}

/** The patch as a polygon, its arcs in chords between points moved out so far that the area stays. */
export function patchOutline(round: boolean, from: number, count: number): [u: number, v: number][] {
  const points: [number, number][] = [];
  for (let i = from; i < from + count; i++) {
    const next = i + 1 < from + count ? i + 1 : from;
    const u = corners[2 * i]!;
    const v = corners[2 * i + 1]!;
    points.push([u, v]);
    if (!round || arcs[i] === 0) continue;
    const half = Math.hypot(corners[2 * next]! - u, corners[2 * next + 1]! - v) / 2;
    const turn = 2 * Math.asin(Math.min(1, half));
    const steps = Math.ceil(turn / CHORD_RAD);
    const step = turn / steps;
    const out = steps > 1 ? Math.sqrt(step / Math.sin(step)) : 1;
    for (let k = 1; k < steps; k++) {
      const cosine = Math.cos(k * step) * out;
      const sine = Math.sin(k * step) * out;
      points.push([u * cosine - v * sine, u * sine + v * cosine]);
    }
  }
  return points;
}
