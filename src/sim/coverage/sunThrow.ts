/** How a lamp that plays the sun would fall off from farther and nearer: the patch of each distance, simulated. */
import { distance, type Vec3 } from '../../scene/geometry/vector';
import type { SceneDocument } from '../../scene/schema';
import { limitsOf, type Limits } from '../judgement/limits';
import { distanceForFalloff, evaluateAlong, placesAlong } from '../mends/backOff';
import { meanRay } from '../mends/placing';
import { Pace } from '../mends/search';
import { situationOf } from '../mends/situation';
import { mayStand } from '../mends/space';

export interface SunThrowTask {
  readonly kind: 'sunThrow';
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly sourceId: string;
  readonly surfaceId: string;
  readonly count: number;
}
export interface SunThrowRow {
  /** From the lens to the window, or to the middle of the patch where there is none, m of light. */
  readonly distanceM: number;
  readonly falloffStops: number;
  readonly lineFanDeg: number | null;
  /** Mean of the lamp on the patch, full up, lx. */
  readonly meanLx: number;
  readonly inSpace: boolean;
}
export interface SunThrowResult {
  readonly from: 'window' | 'patch';
  readonly rows: readonly SunThrowRow[];
  readonly present: SunThrowRow;
  readonly limits: Limits;
  /** Distances from which on the fall-off is within the passable and within the good limit; null beyond 60 m. */
  readonly marks: readonly { readonly stops: number; readonly distanceM: number | null }[];
  /** Why nothing is drawn. */
  readonly reason: string | null;
}

/** Distances of the lens to the window or the patch that are looked at, m. */
const [NEAREST_M, FARTHEST_M] = [1, 30];

/** The lamp's scene with this one surface played on, so that no other patch enters the worst of them. */
const playingOn = (document: SceneDocument, sourceId: string, surfaceId: string): SceneDocument => ({
  ...document,
  story: { ...document.story, playsSun: [{ sourceId, surfaceId }] },
});

const nothing = (document: SceneDocument, reason: string): SunThrowResult => {
  const present = { distanceM: 0, falloffStops: 0, lineFanDeg: null, meanLx: 0, inSpace: true };
  return { from: 'patch', rows: [], present, limits: limitsOf(document).fallOff, marks: [], reason };
};

/**
 * Fall-off over the patch with the lens moved along the light's middle ray, rows evenly apart in the logarithm of distance.
 * @throws {RangeError} if the setup does not exist
 * @remarks Other distances on the judgement's quick grid: within some hundredths of a stop of the verdict's own figure.
 */
export function* sunThrowRows(
  task: SunThrowTask,
): Generator<{ readonly fraction: number; readonly surfaceId: string | null }, SunThrowResult, void> {
  const { sourceId, surfaceId, setupId, count } = task;
  const document = playingOn(task.document, sourceId, surfaceId);
  const setup = document.setups.find(({ id }) => id === setupId);
  if (!setup) throw new RangeError(`no setup "${setupId}" in this scene`);
  const situation = situationOf(document, setup, sourceId, { leastMeanLx: 0 }, new Pace({}, 1));
  if (typeof situation === 'string') return nothing(document, situation);
  const ray = meanRay(situation);
  const beyondM = ray.window ? distance(ray.middle, ray.window) : 0;
  const evaluate = evaluateAlong(situation, ray);
  const placeAt = placesAlong(situation, ray);
  const rowAt = (distanceM: number): SunThrowRow | null => {
    const found = evaluate(beyondM + distanceM);
    if (found === null) return null;
    const place: Vec3 = placeAt(beyondM + distanceM);
    const { falloffStops, lineFanDeg, meanLx } = found;
    return { distanceM, falloffStops, lineFanDeg, meanLx, inSpace: mayStand(document, place) };
  };
  // Off a mirror the path begins behind it.
  const nearest = Math.max(NEAREST_M, ray.mirrorLegM > 0 ? ray.throwM - ray.mirrorLegM - beyondM + NEAREST_M : 0);
  const rows: SunThrowRow[] = [];
  for (let i = 0; i < count; i++) {
    const row = rowAt(nearest * (FARTHEST_M / nearest) ** (i / (count - 1)));
    if (row) rows.push(row);
    yield { fraction: (0.7 * (i + 1)) / count, surfaceId };
  }
  const presentM = ray.throwM - beyondM;
  const here = rowAt(presentM);
  if (here === null || rows.length < 2) return nothing(document, 'The patch is lost as soon as the lamp moves.');
  // Where the lamp stands the verdict has the figure on its full grid.
  const present = { ...here, falloffStops: situation.main.check.falloffStops ?? here.falloffStops };
  const limits = limitsOf(document).fallOff;
  const marks: SunThrowResult['marks'][number][] = [];
  for (const stops of [limits.passable, limits.good]) {
    const found = distanceForFalloff(evaluate, stops, beyondM + nearest);
    marks.push({ stops, distanceM: found === null ? null : found - beyondM });
    yield { fraction: 0.7 + 0.15 * marks.length, surfaceId };
  }
  return { from: ray.window ? 'window' : 'patch', rows, present, limits, marks, reason: null };
}
