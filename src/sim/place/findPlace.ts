/** Place, height, aim, lamp and nets for a sun through a window: a coarse scan, bounded local searches, nets, words. */
import type { Setup } from '../../scene/schema';
import { limitsOf, scoreAgainst, type Scores } from '../judgement/limits';
import { findPatch } from '../judgement/patch';
import { playingLight } from '../judgement/sunPairs';
import { SolveCancelled, type SolveControl, type SunCheck } from '../results';
import { compileScene } from '../solve/compileScene';
import { staggeredNets } from '../mends/nets';
import { compareRanks, descending, Pace, spaced, type Trial } from '../mends/search';
import { withSetup } from '../../scene/withSetup';
import { highestOf, judgeLamp, patchMeanLx, situationOf, withLamp } from '../mends/situation';
import type { PlaceAnswer, Placement } from './placeAnswer';
import { cannotWords, placementWords } from './placeWords';
import { placeTask, type LampChoice, type PlaceRequest, type PlaceTask } from './placeRequest';
import { lampOn, lensAt, overGroundM, setupWith, NEAREST_M, type SpotNumbers } from './placeSpots';
import { SpotRater, withAzimuth, type SpotRank } from './rateSpots';

const COARSE_TURNS = [0, -0.8, 0.8];
const COARSE_RISES = [0, -0.6, 0.6];
const FINE_DISTANCES = 25;
/** Of the distances where a lens may stand, those at these shares are looked at. */
const COARSE_DISTANCES = [1, 0.6, 0.25];
const STARTS = 2;
const AIM_STEP = 0.04;
const HALVINGS = 2;
/** Nets are put up where they better the highest score by so much. */
const WORTH_NETS = 0.05;
/** Shares of the progress. */
const [SCANNED, DESCENDED, NETTED] = [0.5, 0.85, 0.95];

interface Found extends Trial<SpotRank> {
  readonly lampIndex: number;
}
const spotOf = (at: readonly number[]): SpotNumbers => at as unknown as SpotNumbers;

function coarseSpots(rater: SpotRater, mostOffDeg: number): SpotNumbers[] {
  const distances = spaced(NEAREST_M, Math.max(NEAREST_M, rater.task.request.farthestM), FINE_DISTANCES);
  const spots: SpotNumbers[] = [];
  for (const turn of COARSE_TURNS) {
    for (const rise of COARSE_RISES) {
      const allowed = distances
        .map((r) => rater.settle([r, turn * mostOffDeg, rise * mostOffDeg, 0, 0]))
        .filter((spot) => spot !== null);
      const picked = new Set(COARSE_DISTANCES.map((share) => Math.round(share * (allowed.length - 1))));
      for (const index of picked) if (allowed[index]) spots.push(allowed[index]);
    }
  }
  return spots;
}

/** The best spots, each lamp's own best first among them, so that no lamp is dropped for a rough scan. */
function startsOf(all: readonly Found[]): Found[] {
  const sorted = [...all].sort((a, b) => compareRanks(a.rank, b.rank));
  const firsts = sorted.filter((one, i) => sorted.findIndex(({ lampIndex }) => lampIndex === one.lampIndex) === i);
  const others = sorted.filter((one) => !firsts.includes(one));
  return [...firsts, ...others].slice(0, STARTS);
}

/** False for lamps whose light is even to the edge: another aim than the window's middle brings them nothing. */
const hasHotCentre = ({ lamp: { distribution } }: LampChoice): boolean =>
  distribution.kind !== 'uniform' && !(distribution.kind === 'projection' && (distribution.peaking ?? 0) === 0);

function* descendFrom(
  rater: SpotRater,
  { lampIndex, at, rank }: Found,
  objective: (spot: SpotNumbers) => SpotRank | null,
  mostOffDeg: number,
): Generator<void, Found, void> {
  const { farthestM } = rater.task.request;
  const aims = hasHotCentre(rater.task.lamps[lampIndex]!) ? [AIM_STEP, AIM_STEP] : [];
  const steps = [Math.max(0.2, (farthestM - NEAREST_M) / 6), mostOffDeg / 4, mostOffDeg / 5, ...aims];
  const end = yield* descending({ at, rank }, steps, (next) => objective(spotOf(next)), HALVINGS);
  return { ...end, lampIndex };
}

interface Rig {
  readonly found: Found;
  readonly setup: Setup;
  readonly check: SunCheck;
  readonly nets: readonly string[];
}

function judged(task: PlaceTask, setup: Setup): SunCheck {
  return judgeLamp(task.document, setup, task.lampId, 'full')[0]!;
}

/** The rig judged in full, bare and with the best nets of the kit that keep the level. */
function rigsOf(rater: SpotRater, found: Found): Rig[] {
  const { task } = rater;
  const spot = rater.settle(spotOf(found.at))!;
  const setup = setupWith(task, lampOn(task, task.lamps[found.lampIndex]!, spot));
  const bare: Rig = { found: { ...found, at: spot }, setup, check: judged(task, setup), nets: [] };
  if (task.request.nets === false || found.rank.shortStops > 0) return [bare];
  const options = { leastMeanLx: task.neededLx };
  const situation = situationOf(withSetup(task.document, setup), setup, task.lampId, options, new Pace({}, 1));
  if (typeof situation === 'string') return [bare];
  const hung = staggeredNets(situation).flatMap((one) => ('mend' in one && one.mend.setup ? [one.mend.setup] : []));
  const netted = hung.map((changed): Rig => {
    const added = Object.entries(changed.modifiers).filter(([id]) => !Object.hasOwn(setup.modifiers, id));
    return { ...bare, setup: changed, check: judged(task, changed), nets: added.map(([, { name }]) => name) };
  });
  return [bare, ...netted];
}

const scoresOf = (task: PlaceTask, { check, found }: Rig): Scores =>
  withAzimuth(check.scores, spotOf(found.at)[1], limitsOf(task.document));
const scoreOf = (task: PlaceTask, rig: Rig): number =>
  Object.keys(rig.check.scores).length === 0 ? Infinity : highestOf(scoresOf(task, rig));

/** The best rig; one with more nets has to be worth them. */
function bestRig(task: PlaceTask, rigs: readonly Rig[]): Rig {
  return [...rigs]
    .sort((a, b) => a.nets.length - b.nets.length)
    .reduce((best, rig) => {
      const extra = rig.nets.length > best.nets.length ? WORTH_NETS : 0;
      return scoreOf(task, rig) < scoreOf(task, best) - extra ? rig : best;
    });
}

/** The rig with its dimmer where the patch has the level asked for. */
function placementOf(task: PlaceTask, rig: Rig): Placement {
  const { found, setup, check, nets } = rig;
  const scene = compileScene(withSetup(task.document, setup), setup.id);
  const surface = scene.surfaces.get(task.surface.id)!;
  const patch = findPatch(scene, playingLight(scene, task.lampId, surface)!, surface, 'full');
  const fullMeanLx = typeof patch === 'string' ? 0 : patchMeanLx(patch);
  const { kitId, name } = task.lamps[found.lampIndex]!;
  const spot = spotOf(found.at);
  const lamp = lampOn(task, task.lamps[found.lampIndex]!, spot);
  const level = fullMeanLx > task.neededLx ? task.neededLx / fullMeanLx : 1;
  const dimmed = withLamp(setup, task.lampId, { ...lamp, level });
  const place = lensAt(task, spot);
  return {
    lampId: task.lampId,
    kitId,
    lampName: name,
    positionM: lamp.pose.positionM,
    aimM: 'atM' in lamp.pose.aim ? lamp.pose.aim.atM : lamp.pose.positionM,
    lensHeightM: overGroundM(task, place) ?? place[2],
    distanceM: spot[0],
    turnDeg: spot[1],
    riseDeg: spot[2],
    level,
    fullMeanLx,
    shortStops: fullMeanLx > 0 ? Math.max(0, Math.log2(task.neededLx / fullMeanLx)) : Infinity,
    nets,
    score: highestOf(scoresOf(task, rig)),
    azimuthScore: scoreAgainst(Math.abs(spot[1]), limitsOf(task.document).height),
    check: level === 1 ? check : judged(task, dimmed),
    setup: dimmed,
  };
}

const refusal = (sentence: string, tried = 0): PlaceAnswer => ({
  possible: false,
  placement: null,
  sentence,
  cannot: [sentence],
  tried,
});

/**
 * `findPlace` in slices: gives the share done after every simulated spot, and returns the answer.
 * @throws {RangeError} if setup, surface or opening do not exist
 */
export function* placing(request: PlaceRequest): Generator<number, PlaceAnswer, void> {
  const task = placeTask(request);
  if (typeof task === 'string') return refusal(task);
  const mostOffDeg = limitsOf(task.document).height.passable;
  const rater = new SpotRater(task, mostOffDeg);
  const spots = coarseSpots(rater, mostOffDeg);
  const [all, forNets]: [Found[], Found[]] = [[], []];
  const count = Math.max(1, spots.length * task.lamps.length);
  for (const lampIndex of task.lamps.keys()) {
    for (const at of spots) {
      const rank = rater.rate(lampIndex, at);
      yield (SCANNED * Math.min(count, rater.tried)) / count;
      if (rank === null) continue;
      all.push({ lampIndex, at, rank });
      const netted = rater.forNets(rank);
      if (netted !== null) forNets.push({ lampIndex, at, rank: netted });
    }
  }
  if (all.length === 0) return refusal(cannotWords(rater, null, mostOffDeg)[0]!, rater.tried);
  const starts = [
    ...startsOf(all).map((start) => ({ start, nets: false })),
    ...(request.nets === false ? [] : startsOf(forNets).slice(0, 1)).map((start) => ({ start, nets: true })),
  ];
  const ends: Found[] = [];
  let best: Found | null = null;
  for (const [i, { start, nets }] of starts.entries()) {
    const rate = (spot: SpotNumbers): SpotRank | null =>
      nets ? rater.rateForNets(start.lampIndex, spot) : rater.rate(start.lampIndex, spot);
    const trials = descendFrom(rater, start, rate, mostOffDeg);
    let step = trials.next();
    for (; step.done !== true; step = trials.next()) yield SCANNED + ((DESCENDED - SCANNED) * i) / starts.length;
    if (nets) ends.push(step.value);
    else if (best === null || compareRanks(step.value.rank, best.rank) < 0) best = step.value;
  }
  yield DESCENDED;
  const rigs: Rig[] = [];
  for (const end of [best!, ...ends]) {
    rigs.push(...rigsOf(rater, end));
    yield NETTED;
  }
  const rig = bestRig(task, rigs);
  if (scoreOf(task, rig) === Infinity) return refusal(cannotWords(rater, null, mostOffDeg)[0]!, rater.tried);
  const placement = placementOf(task, rig);
  yield NETTED;
  const cannot = cannotWords(rater, { placement, lampIndex: rig.found.lampIndex }, mostOffDeg);
  return {
    possible: placement.shortStops < 0.01,
    placement,
    sentence: placementWords(task, placement),
    cannot,
    tried: rater.tried,
  };
}

/**
 * The other way round: which lamp of the kit, where, how high, aimed where, with which nets, makes the story's sun
 * through a window on a surface at the level that the camera asks for; and what of it cannot be had.
 * @throws {RangeError} if setup, surface or opening do not exist
 * @throws {SolveCancelled} if the control says so
 * @source judgement definitions 4 and 6: minimises the highest score within level, space, kit and story
 * @remarks One lamp through one opening. Left out: other lamps' light on the patch in the level; accessories; whether
 *   the lamp comes into the camera's view. A local search may miss a better spot that a finer scan would find.
 */
export function findPlace(request: PlaceRequest, control: SolveControl = {}): PlaceAnswer {
  const slices = placing(request);
  for (;;) {
    if (control.isCancelled?.()) throw new SolveCancelled();
    const { done, value } = slices.next();
    if (done === true) {
      control.onProgress?.(1);
      return value;
    }
    control.onProgress?.(value);
  }
}
