/** A mirror on the light's line, the lamp beside it: the path bent, so that a short space holds a long one. */
import { directionFromPanTilt, panTiltFromDirection } from '../../scene/geometry/frames';
import { addScaled, distance, dot, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import { evaluateSetup, type Evaluation } from './evaluateSetup';
import type { Mend } from './mend';
import {
  clearanceM,
  fittingMirror,
  lensAt,
  mirrorSetup,
  mirrorStock,
  neededGlass,
  rimOfLight,
  type Fold,
  type GlassSize,
  type MirrorEntry,
  type NeededGlass,
} from './mirrorRig';
import { offer, refusal, type RankedMend } from './offer';
import { meanRay, type MeanRay } from './placing';
import { scanAndDescend, spaced } from './search';
import type { Situation } from './situation';
import { FARTHEST_M, mayStand, reachOf } from './space';
import { metres } from './words';

const SHORTEST_LEG_M = 1.5;
/** A mirror farther off is hard to hit and to hold still, m (common practice, no source). */
const LONGEST_LEG_M = 15;
/** Places of the mirror down the light's line, and clear of the window or the patch, m. */
const PLACES = 5;
const CLEAR_OF_SET_M = 1;
/** From the light's line to the lamp, seen from the mirror, degrees: nearer it would stand in the light. */
const TURNS_DEG = [30, 45, 60, 75, 90, 105, 120];
/** The lamp level with the mirror, or under it. */
const PITCHES_DEG = [0, -15];
const LOWEST_LENS_M = 0.8;
/** Room for a lamp and its stand beside the light, m. */
const CLEAR_OF_LIGHT_M = 0.4;
/** A path longer by less than this is none, m. */
const LEAST_GAIN_M = 0.3;
/** Folds that are tried for a length of path before it is given up. */
const TRIES = 3;

/** A fold with the mirror for it. */
export interface Fitted {
  readonly fold: Fold;
  readonly needed: NeededGlass;
  readonly entry: MirrorEntry;
}

/** A way to bend the path, with the longest lamp leg that the space allows. */
interface Way {
  readonly patchLegM: number;
  readonly towardsLamp: Vec3;
  readonly longestLegM: number;
}

/** Every way that the space allows: the mirror on the light's line, the lamp to either side of it. */
function waysOf({ document }: Situation, ray: MeanRay): Way[] {
  const nearest = (ray.window ? distance(ray.middle, ray.window) : 1) + CLEAR_OF_SET_M;
  const placeAt = (r: number): Vec3 => addScaled(ray.middle, ray.towards, r);
  if (!mayStand(document, placeAt(ray.throwM))) return [];
  const from = reachOf(document, placeAt, ray.throwM, Math.min(nearest, ray.throwM));
  const to = reachOf(document, placeAt, ray.throwM, Math.max(ray.throwM, Math.min(FARTHEST_M, 2 * ray.throwM)));
  const { panDeg } = panTiltFromDirection(scale(ray.towards, -1));
  const legs = [...new Set([ray.throwM, ...spaced(from, to, PLACES)])];
  return legs.flatMap((patchLegM) =>
    TURNS_DEG.flatMap((turn) =>
      [turn, -turn].flatMap((side) =>
        PITCHES_DEG.flatMap((pitch): Way[] => {
          const towardsLamp = directionFromPanTilt(panDeg + side, pitch);
          const mirrorPlace = placeAt(patchLegM);
          const lowered = pitch === 0 ? Infinity : (mirrorPlace[2] - LOWEST_LENS_M) / -towardsLamp[2];
          const legAt = (leg: number): Vec3 => addScaled(mirrorPlace, towardsLamp, leg);
          const longestLegM = reachOf(document, legAt, 0, Math.min(LONGEST_LEG_M, lowered));
          return longestLegM >= SHORTEST_LEG_M ? [{ patchLegM, towardsLamp, longestLegM }] : [];
        }),
      ),
    ),
  );
}

/** How far the lamp, aimed at the mirror, looks away from the set: cosine, 0 where the set lies out of its light. */
function looksAtSet(ray: MeanRay, fold: Fold): number {
  const towardsSet = normalise(subtract(ray.window ?? ray.middle, lensAt(ray, fold)));
  return Math.max(0, -dot(fold.towardsLamp, towardsSet));
}

export class MirrorSearch {
  private readonly situation: Situation;
  private readonly stock: readonly MirrorEntry[];
  private readonly rim: readonly Vec3[];
  readonly ray: MeanRay;
  readonly ways: readonly Way[];

  constructor(situation: Situation, stock: readonly MirrorEntry[]) {
    this.situation = situation;
    this.stock = stock;
    this.ray = meanRay(situation);
    this.rim = rimOfLight(situation, this.ray);
    this.ways = waysOf(situation, this.ray);
  }

  /** Folds of a length, whatever their size: those whose lamp looks away from the set first, then the least slanted. */
  private folds(pathM: number): Fold[] {
    const { ray } = this;
    return this.ways
      .map(({ patchLegM, towardsLamp, longestLegM }) => ({
        fold: { patchLegM, towardsLamp, lampLegM: pathM - patchLegM },
        longestLegM,
      }))
      .filter(({ fold, longestLegM }) => fold.lampLegM >= SHORTEST_LEG_M && fold.lampLegM <= longestLegM + 1e-9)
      .map(({ fold }) => fold)
      .filter((fold) => clearanceM(ray, this.rim, fold) >= CLEAR_OF_LIGHT_M)
      .map((fold) => ({ fold, spill: looksAtSet(ray, fold), slant: dot(fold.towardsLamp, ray.towards) }))
      .sort((a, b) => Math.round((a.spill - b.spill) * 20) || a.slant - b.slant)
      .map(({ fold }) => fold);
  }

  /** Shortest path that is worth a mirror, and the longest that the space allows, m. */
  bounds(): { shortestM: number; longestM: number } {
    return {
      shortestM: this.ray.throwM + LEAST_GAIN_M,
      longestM: Math.max(0, ...this.ways.map(({ patchLegM, longestLegM }) => patchLegM + longestLegM)),
    };
  }

  /** The first folds of a length that a mirror of the stock is large enough for. */
  fitting(pathM: number): Fitted[] {
    const found: Fitted[] = [];
    for (const fold of this.folds(pathM)) {
      const needed = neededGlass(this.situation, this.ray, this.rim, fold);
      const entry = fittingMirror(this.stock, needed);
      if (entry !== null) found.push({ fold, needed, entry });
      if (found.length === TRIES) break;
    }
    return found;
  }

  /** Glass that the shortest fold would need at the least, m; null where there is no fold at all. */
  leastGlass(): GlassSize | null {
    const { ray, situation, rim } = this;
    const sizes = this.ways
      .map((way) => ({ ...way, lampLegM: Math.max(SHORTEST_LEG_M, ray.throwM + LEAST_GAIN_M - way.patchLegM) }))
      .filter(({ lampLegM, longestLegM }) => lampLegM <= longestLegM)
      .map((fold) => neededGlass(situation, ray, rim, fold));
    return sizes.reduce<GlassSize | null>(
      (least, one) => (least === null || one.widthM * one.heightM < least.widthM * least.heightM ? one : least),
      null,
    );
  }

  /** The best rated fold of a length; null where none stands, fits or keeps the level. */
  best(pathM: number): (Fitted & { readonly rank: Evaluation }) | null {
    const { situation, ray } = this;
    for (const { fold, needed, entry } of this.fitting(pathM)) {
      const found = evaluateSetup(situation, mirrorSetup(situation, ray, fold, needed, entry));
      // What the lamp itself throws on the wall past the mirror is no mend.
      if (found === null || !found.isOffMirror || found.meanLx < situation.least.meanLx) continue;
      return { rank: { ...found, pieces: 1 }, fold, needed, entry };
    }
    return null;
  }
}

export function noFoldWords(situation: Situation, search: MirrorSearch, stock: readonly MirrorEntry[]): string {
  if (search.ways.length === 0) return 'The space has no place for a mirror in the light and a lamp beside it.';
  const least = search.leastGlass();
  const largest = stock[stock.length - 1]!;
  const size = ({ widthM, heightM }: GlassSize): string => `${widthM.toFixed(1)} x ${heightM.toFixed(1)} m`;
  if (least !== null && fittingMirror(stock, least) === null) {
    return `The light takes a mirror of ${size(least)} at least; the largest free one is ${size(largest)}.`;
  }
  return `No path over a mirror that the space and the kit allow keeps ${situation.least.words}.`;
}

export function mirror(situation: Situation): (Mend | RankedMend)[] {
  if (situation.source.image !== null) {
    return [refusal(situation, 'mirror', 'The light comes off a mirror already; a second one is not worked out.')];
  }
  const stock = mirrorStock(situation.document, situation.setup);
  if (stock.length === 0) return [refusal(situation, 'mirror', 'The kit has no free mirror.')];
  const search = new MirrorSearch(situation, stock);
  const { shortestM, longestM } = search.bounds();
  const step = (longestM - shortestM) / 7;
  const objective = ([pathM]: readonly number[]): Evaluation | null =>
    pathM! < shortestM || pathM! > longestM ? null : (search.best(pathM!)?.rank ?? null);
  const places = step > 0 ? spaced(shortestM, longestM, 8).map((pathM) => [pathM]) : [];
  const best = scanAndDescend(places, [step / 2], objective, 2);
  const chosen = best && search.best(best.at[0]!);
  if (best === null || chosen === null) {
    return [refusal(situation, 'mirror', noFoldWords(situation, search, stock))];
  }
  const { fold, needed, entry, rank } = chosen;
  const atSpace = longestM - best.at[0]! < 0.1;
  const size = `${entry.widthM.toFixed(1)} x ${entry.heightM.toFixed(1)} m`;
  const lens = lensAt(search.ray, fold);
  const brief = `Over a mirror ${metres(fold.patchLegM)} from the patch, lamp ${metres(fold.lampLegM)} from it`;
  return [
    offer(situation, {
      kind: 'mirror',
      setup: mirrorSetup(situation, search.ray, fold, needed, entry, rank.costStops),
      brief,
      order: `${brief}, ${metres(best.at[0]!)} of light: mirror of ${size} at ${metres(needed.centre[2])}, lens at ${metres(lens[2])}`,
      why: atSpace
        ? `The space allows no longer path over a mirror than ${metres(longestM)}.`
        : 'A longer path loses the level, leaves the mirror too small or makes another figure worse.',
      pieces: 1,
      predictedFalloffStops: rank.falloffStops,
      costStops: rank.costStops,
      remark: 'Bag and guy the mirror; keep eyes, cloth and the sun off it.',
    }),
  ];
}
