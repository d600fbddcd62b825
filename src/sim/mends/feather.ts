/** Feather: the hot centre is aimed off, towards the far end, so that the beam's own fall-off evens out the distance's. */
import { worldFromLocal, localFromWorld } from '../../scene/geometry/frames';
import type { Vec3 } from '../../scene/geometry/vector';
import { intensityShare } from '../judgement/fill';
import { limitsOf, scoreAgainst, type Scores } from '../judgement/limits';
import { trimmedSpread, weightedQuantiles } from '../judgement/statistics';
import { compileScene } from '../solve/compileScene';
import type { CompiledSource } from '../solve/compiled';
import type { Mend } from './mend';
import { offer, refusal, type RankedMend } from './offer';
import { aimedAt, laidStraight } from './placing';
import { scanAndDescend, spaced, type Rank } from './search';
import { withSetup } from '../../scene/withSetup';
import { highestOf, sumOf, withLamp, worstOf, type Situation } from './situation';
import { metres } from './words';

/** The hot centre stays within so many patch lengths. */
const MOST_LENGTHS = 2;
const FIELD = 0.1;
const MOST_CELLS = 600;
/** A turn of the aim by less than this on the wall is none, m. */
const LEAST_AIM_M = 0.1;

export interface FeatherRank extends Rank {
  readonly falloffStops: number;
  readonly meanLx: number;
}

/**
 * Rates aims of the lamp where it stands: its light on every place of the patch changes as its intensity that way, seen
 * from the middle of its face. What hard things leave stays as it is.
 */
export function rateAim(situation: Situation, target: Vec3): FeatherRank | null {
  const { document, setup, lampId, lamp, judged, main, least } = situation;
  situation.pace.check();
  const changed = withLamp(setup, lampId, aimedAt(lamp, laidStraight(situation)(target)));
  const source = compileScene(withSetup(document, changed), setup.id).sources.find(
    ({ id, image }) => id === lampId && image?.mirrorId === situation.source.image?.mirrorId,
  );
  if (!source) return null;
  const limits = limitsOf(document);
  let [falloffStops, meanLx] = [0, 0];
  const all: Scores[] = [];
  for (const { patch, check } of judged) {
    const stride = Math.max(1, Math.floor(patch.cells.length / MOST_CELLS));
    const [logs, areas, shares]: number[][] = [[], [], []];
    let [light, area] = [0, 0];
    for (let i = 0; i < patch.cells.length; i += stride) {
      const share = intensityShare(source, patch.points[i]!);
      const factor = share / intensityShare(situation.source, patch.points[i]!);
      if (!(factor > 0)) return null;
      logs!.push(Math.log2(patch.openLx[i]! * factor));
      areas!.push(patch.areaM2[i]!);
      shares!.push(share);
      light += patch.areaM2[i]! * factor * patch.sums.allLx[patch.cells[i]!]!;
      area += patch.areaM2[i]!;
    }
    if (patch === main.patch) meanLx = light / area;
    const falloff = trimmedSpread(logs!, areas!);
    falloffStops = Math.max(falloffStops, falloff);
    const scores: Scores = { ...check.scores, fallOff: scoreAgainst(falloff, limits.fallOff) };
    if (check.fill !== null) {
      scores.fill = scoreAgainst(1 - filledShare(shares!, areas!, check.fill), limits.fill);
    }
    all.push(scores);
  }
  if (meanLx < least.meanLx) return null;
  const scores = worstOf(all);
  const score = highestOf(scores, ['fallOff', 'fill']);
  return {
    score,
    sum: sumOf(scores),
    costStops: Math.log2(situation.meanLx / meanLx),
    pieces: 0,
    falloffStops,
    meanLx,
  };
}

function filledShare(shares: readonly number[], areas: readonly number[], before: number): number {
  const largest = Math.max(...shares);
  const all = areas.reduce((sum, area) => sum + area, 0);
  const filled = areas.reduce((sum, area, i) => (shares[i]! >= FIELD * largest ? sum + area : sum), 0);
  return Math.min(before, filled / all);
}

/** Why this lamp has nothing to feather, or null. */
function flatWords({ profile, shape }: CompiledSource): string | null {
  if (shape.kind === 'sphere') return 'A sphere shines all round: it has no hot centre to aim off.';
  if (profile.kind === 'flat') return 'This lamp is as bright every way: it has no hot centre to aim off.';
  if (profile.kind === 'projection' && profile.peaking === 0) {
    return 'The spot’s field is flat: it has no hot centre to aim off.';
  }
  return null;
}

export function feather(situation: Situation): (Mend | RankedMend)[] {
  const { main, source, lamp, lampId, setup } = situation;
  const flat = flatWords(source);
  if (flat !== null) return [refusal(situation, 'feather', flat)];
  const { frame } = main.pair.surface;
  const places = main.patch.points.map((point) => localFromWorld(frame, point));
  const spread = (values: number[]): number => {
    const [low, high] = weightedQuantiles(values, main.patch.areaM2, [0.01, 0.99]);
    return Math.max(0.05, high! - low!);
  };
  const [width, height] = [spread(places.map(({ right }) => right)), spread(places.map(({ up }) => up))];
  const middle = localFromWorld(frame, main.patch.centroid);
  const targetAt = ([x, y]: readonly number[]): Vec3 =>
    worldFromLocal(frame, [middle.right + x! * width, middle.up + y! * height]);
  const objective = (at: readonly number[]): FeatherRank | null =>
    at.every((value) => Math.abs(value) <= MOST_LENGTHS) ? rateAim(situation, targetAt(at)) : null;
  const grid = spaced(-MOST_LENGTHS, MOST_LENGTHS, 17).flatMap((x) => spaced(-1, 1, 5).map((y) => [x, y]));
  const best = scanAndDescend(grid, [0.125, 0.25], objective, 4);
  if (best === null) return [refusal(situation, 'feather', `No other aim keeps ${situation.least.words}.`)];
  const [x, y] = [best.at[0]! * width, best.at[1]! * height];
  const target = targetAt(best.at);
  const words = [
    ...(Math.abs(x) >= LEAST_AIM_M ? [`${metres(Math.abs(x))} ${x > 0 ? 'right' : 'left'} of`] : []),
    ...(Math.abs(y) >= LEAST_AIM_M ? [`${metres(Math.abs(y))} ${y > 0 ? 'above' : 'below'}`] : []),
  ];
  const { costStops, falloffStops } = best.rank;
  const inMirror = situation.source.image === null ? '' : ', as the mirror shows it';
  const brief = `Feather: aim ${words.length > 0 ? words.join(' and ') : 'at'} the middle of the patch${inMirror}`;
  return [
    offer(situation, {
      kind: 'feather',
      setup: withLamp(setup, lampId, aimedAt(lamp, laidStraight(situation)(target)), costStops),
      brief,
      order: brief,
      why: 'Aimed farther off, the far end turns hot or the level goes.',
      pieces: 0,
      predictedFalloffStops: falloffStops,
      costStops,
    }),
  ];
}
