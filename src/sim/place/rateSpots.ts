/** How a lamp of the kit on a spot would do: settled within the bounds, simulated on the quick grid, scored. */
import type { ScoredFigure } from '../results';
import { withSetup } from '../../scene/withSetup';
import { highestOf, situationOf, sumOf, type Situation } from '../mends/situation';
import { evaluateSetup, type Evaluation } from '../mends/evaluateSetup';
import { Pace, lastGood, type Rank } from '../mends/search';
import { limitsOf, scoreAgainst, type Scores, type SunLimits } from '../judgement/limits';
import type { PlaceTask } from './placeRequest';
import { isAllowed, lampOn, NEAREST_M, setupWith, spotTrouble, type SpotNumbers } from './placeSpots';

export interface SpotRank extends Rank {
  readonly scores: Scores;
  readonly meanLx: number;
  /** Stops that the level falls short of what is asked; 0 where it is reached. */
  readonly shortStops: number;
  readonly evaluation: Evaluation;
}

/** A spot short of the level is worse than any that reaches it, and the worse the shorter it falls. */
const SHORT = 1000;
/** A spot for nets has this much light to spare, stops: the lightest net over all of the patch. */
const SPARE_STOPS = 0.5;
const SETTLE_HALVINGS = 20;

const clamp = (value: number, most: number): number => Math.max(-most, Math.min(most, value));

/**
 * Scores with how far the light comes off the sun's azimuth, taken as height is: the worse of the two stands.
 * @source judgement definition 2.9; whoever asks for a sun by altitude and azimuth has settled where north is
 */
export function withAzimuth(scores: Scores, turnDeg: number, limits: SunLimits): Scores {
  const azimuth = scoreAgainst(Math.abs(turnDeg), limits.height);
  return { ...scores, height: Math.max(scores.height ?? 0, azimuth) };
}

export class SpotRater {
  private readonly situations = new Map<number, Situation>();
  private readonly pace = new Pace({}, 1);
  readonly task: PlaceTask;
  private readonly mostOffDeg: number;
  /** Spots that were simulated. */
  tried = 0;

  constructor(task: PlaceTask, mostOffDeg: number) {
    this.task = task;
    this.mostOffDeg = mostOffDeg;
  }

  /**
   * The spot brought within the bounds: distance and angles clamped, then as high, or as low, as a lens may stand there.
   * @returns null where no height does
   */
  settle([distanceM, turnDeg, riseDeg, aside, above]: SpotNumbers): SpotNumbers | null {
    const { task, mostOffDeg } = this;
    const r = Math.max(NEAREST_M, Math.min(task.request.farthestM, distanceM));
    const turn = clamp(turnDeg, mostOffDeg);
    const at = (rise: number): SpotNumbers => [r, turn, rise, aside, above];
    const rise = clamp(riseDeg, mostOffDeg);
    const trouble = spotTrouble(task, at(rise));
    let settled = at(rise);
    if (trouble === 'high' || trouble === 'low') {
      const end = trouble === 'high' ? -mostOffDeg : mostOffDeg;
      const holds = (x: number): boolean => spotTrouble(task, at(x)) !== trouble;
      if (!holds(end)) return null;
      settled = at(lastGood(holds, end, rise, SETTLE_HALVINGS));
    }
    return isAllowed(task, settled, mostOffDeg) ? settled : null;
  }

  /** What the search minimises: the highest score of all; null where the spot is not allowed or gives no patch. */
  rate(lampIndex: number, wanted: SpotNumbers): SpotRank | null {
    const spot = this.settle(wanted);
    return spot === null ? null : this.simulate(lampIndex, spot);
  }

  /** The same for a rig that nets will even out: fall-off left out, with light to spare for them. */
  rateForNets(lampIndex: number, wanted: SpotNumbers): SpotRank | null {
    const rank = this.rate(lampIndex, wanted);
    return rank === null ? null : this.forNets(rank);
  }
  forNets(rank: SpotRank): SpotRank | null {
    if (rank.meanLx < this.task.neededLx * 2 ** SPARE_STOPS) return null;
    const others = Object.keys(rank.scores).filter((figure) => figure !== 'fallOff') as ScoredFigure[];
    return { ...rank, score: highestOf(rank.scores, others) };
  }

  /** The spot as it is, bounds or not. */
  simulate(lampIndex: number, spot: SpotNumbers): SpotRank | null {
    const { task } = this;
    this.tried++;
    const setup = setupWith(task, lampOn(task, task.lamps[lampIndex]!, spot));
    let situation = this.situations.get(lampIndex);
    if (situation === undefined) {
      const options = { effort: 'quick' as const, leastMeanLx: 0 };
      const found = situationOf(withSetup(task.document, setup), setup, task.lampId, options, this.pace);
      if (typeof found === 'string') return null;
      situation = found;
      this.situations.set(lampIndex, found);
    }
    const evaluation = evaluateSetup(situation, setup);
    if (evaluation === null) return null;
    const { meanLx } = evaluation;
    const scores = withAzimuth(evaluation.scores, spot[1], limitsOf(task.document));
    const shortStops = meanLx > 0 ? Math.max(0, Math.log2(task.neededLx / meanLx)) : Infinity;
    const score = shortStops > 0 ? SHORT + shortStops : highestOf(scores);
    return { score, sum: sumOf(scores), costStops: 0, pieces: 0, scores, meanLx, shortStops, evaluation };
  }
}
