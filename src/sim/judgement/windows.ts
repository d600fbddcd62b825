/** Several windows lit together: do they agree on where the light comes from, and how strong it is? */
import { localFromWorld, toDegrees, worldFromLocal } from '../../scene/geometry/frames';
import { add, dot, length, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledOpening, CompiledSource, CompiledSurface } from '../solve/compiled';
import { insideOutline } from '../solve/solveGrid';
import { towardsSource, type Patch } from './patch';
import { shadowOf } from './shadowEdges';

/** A window counts with at least this share of all the lit area. */
const LEAST_SHARE = 0.05;

export interface JudgedPatch {
  readonly source: CompiledSource;
  readonly surface: CompiledSurface;
  readonly patch: Patch;
}
interface WindowLight {
  readonly direction: Vec3;
  /** Area mean of log2 of open light at the lamp's level. */
  readonly logOpen: number;
  readonly areaM2: number;
}

/** Places a side that an opening is sampled at. */
const SAMPLES = 24;

/** Places evenly over an opening's outline, world. */
function placesIn({ corners, frame }: CompiledOpening): Vec3[] {
  const local = corners.map((corner) => localFromWorld(frame, corner));
  const outline = local.map(({ right, up }) => [right, up] as const);
  const [rights, ups] = [local.map((c) => c.right), local.map((c) => c.up)];
  const [left, bottom] = [Math.min(...rights), Math.min(...ups)];
  const [width, height] = [Math.max(...rights) - left, Math.max(...ups) - bottom];
  const depthM = -local[0]!.above;
  const places: Vec3[] = [];
  for (let row = 0; row < SAMPLES; row++) {
    for (let column = 0; column < SAMPLES; column++) {
      const at = [left + ((column + 0.5) * width) / SAMPLES, bottom + ((row + 0.5) * height) / SAMPLES] as const;
      if (insideOutline(outline, at)) places.push(worldFromLocal(frame, at, depthM));
    }
  }
  return places;
}

/**
 * The light of one window on one surface. Places over the opening are thrown on the surface from the emitter's centre,
 * each weighing as the area of surface that it stands for; those that land off the lit cells are left out. Means over
 * the lit cells themselves would jump by half a cell.
 */
function windowLight(
  { source, surface, patch }: JudgedPatch,
  opening: CompiledOpening,
  index: number,
): WindowLight | null {
  const { sums } = patch;
  const level = source.level > 0 ? source.level : 1;
  let direction: Vec3 = [0, 0, 0];
  let [logOpen, weights] = [0, 0];
  for (const place of placesIn(opening)) {
    const shadow = shadowOf(source, surface, place);
    if (shadow === null) continue;
    const { right, up } = localFromWorld(surface.frame, shadow);
    const column = Math.floor((right - sums.region.leftM) / sums.cellWidthM);
    const row = Math.floor((up - sums.region.bottomM) / sums.cellHeightM);
    if (column < 0 || row < 0 || column >= sums.columns || row >= sums.rows) continue;
    const cell = row * sums.columns + column;
    if (patch.lit[cell] === 0) continue;
    const [fromPlace, fromShadow] = [towardsSource(source, place), towardsSource(source, shadow)];
    const grown = Number.isFinite(fromShadow.distanceM) ? (fromShadow.distanceM / fromPlace.distanceM) ** 2 : 1;
    const cosine = dot(fromShadow.direction, surface.frame.forward);
    const weight = (grown * Math.abs(dot(fromPlace.direction, opening.frame.forward))) / cosine;
    direction = add(direction, scale(fromShadow.direction, weight));
    logOpen += weight * Math.log2(level * patch.openOfAllLx[cell]!);
    weights += weight;
  }
  if (weights === 0) return null;
  const areaM2 = patch.areaM2.reduce((sum, area, i) => (patch.window[i] === index ? sum + area : sum), 0);
  return { direction: normalise(direction), logOpen: logOpen / weights, areaM2 };
}

/** The windows of one lamp on one surface, with the level of each square to the light that the surface gets. */
function windowsOf(openings: readonly CompiledOpening[], judged: JudgedPatch) {
  const windows = openings.flatMap((opening, index) => windowLight(judged, opening, index) ?? []);
  const mean = normalise(
    windows.reduce((sum, window) => add(sum, scale(window.direction, window.areaM2)), [0, 0, 0] as Vec3),
  );
  // One direction a surface: as on the sun's, the cosine then tells surfaces apart and not the windows on one of them.
  const cosine = dot(mean, judged.surface.frame.forward);
  return windows.map((window) => ({ ...window, levelStops: window.logOpen - Math.log2(cosine) }));
}

/**
 * Largest angle between the mean directions of two window patches, degrees, and largest difference of their mean level,
 * stops, over all lamps that play the sun and all surfaces; null with fewer than two windows.
 * @source judgement definition 2.10
 */
export function windowFigures(
  openings: readonly CompiledOpening[],
  patches: readonly JudgedPatch[],
): { spreadDeg: number; levelStops: number } | null {
  const all = patches.flatMap((judged) => windowsOf(openings, judged));
  const total = all.reduce((sum, window) => sum + window.areaM2, 0);
  const counted = all.filter((window) => window.areaM2 >= LEAST_SHARE * total);
  if (counted.length < 2) return null;
  let [spread, level] = [0, 0];
  counted.forEach((a, i) => {
    for (const b of counted.slice(i + 1)) {
      spread = Math.max(spread, 2 * Math.asin(Math.min(1, length(subtract(a.direction, b.direction)) / 2)));
      level = Math.max(level, Math.abs(a.levelStops - b.levelStops));
    }
  });
  return { spreadDeg: toDegrees(spread), levelStops: level };
}
