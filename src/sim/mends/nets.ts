/** Nets staggered in from the hot side: how many, which grades, how far from the lens, where each free edge stands. */
import { distance } from '../../scene/geometry/vector';
import type { Mend } from './mend';
import { fittingEntry, hangNets, NET_PITCH_M, netField, netSheet, type NetField, type NetPlace } from './netRig';
import { gradeChoices, netStock, type NetGrade } from './netStock';
import { offer, refusal, type RankedMend } from './offer';
import { meanRay, type MeanRay } from './placing';
import { compareRanks, descend, scan, spaced, type Trial } from './search';
import { blendOverPatch, SheetRater, type SheetColumns, type SheetsRank } from './sheets';
import { LEAST_USE, MOST_PATCHES } from './halfScrim';
import type { Situation } from './situation';
import { centimetres, counted, metres } from './words';

const NEAREST_M = 0.3;
export const MOST_NETS = 3;
const DISTANCES_M = [0.3, 0.5, 0.8, 1.2, 1.8, 2.6, 3.5];
/** Places of the free edges in the coarse scan, by number of nets. */
const EDGES = [0, 9, 9, 7];
/** Room to leave in front of the window, m. */
const CLEAR_OF_WINDOW_M = 0.2;
/** A turned set of nets is tried where it follows the light so much better. */
const BETTER_FIT = 0.02;
/** One net more must bring so much, in score. */
const WORTH_A_NET = 0.05;
/** Coarse finds whose step is looked at too. */
const LOOKED_AT_IN_FULL = 12;

/** A place of the search: distance of the first net, then the tangents of the free edges. */
interface NetChoice {
  readonly field: NetField;
  readonly grades: readonly NetGrade[];
  readonly at: readonly number[];
}
interface Found {
  readonly choice: NetChoice;
  readonly rank: SheetsRank;
}
const placesOf = ({ grades, at }: NetChoice): NetPlace[] =>
  grades.map((grade, i) => ({ distanceM: at[0]! + i * NET_PITCH_M, edge: at[i + 1]!, grade }));

/** Nets with the light that they stand in. */
export interface NetPlaces {
  readonly field: NetField;
  readonly places: readonly NetPlace[];
}

/** Where the first of the nets may stand, m down the ray from the lens: behind the mirror, before the window. */
export function netReach(
  situation: Situation,
  { window, throwM, mirrorLegM }: MeanRay,
): { nearestM: number; farthestM: number } {
  const lensToWindow = window ? distance(situation.source.frame.origin, window) : throwM;
  return {
    nearestM: mirrorLegM + NEAREST_M,
    farthestM: lensToWindow - CLEAR_OF_WINDOW_M - (MOST_NETS - 1) * NET_PITCH_M,
  };
}

function fields(situation: Situation): NetField[] {
  const ray = meanRay(situation);
  const upright = netField(situation, ray, 0);
  const turned = spaced(-75, 90, 12)
    .map((rollDeg) => netField(situation, ray, rollDeg))
    .reduce((a, b) => (b.fit > a.fit ? b : a));
  return turned.rollDeg !== 0 && turned.fit > upright.fit + BETTER_FIT ? [upright, turned] : [upright];
}

/** Rising lists of `count` values of `values`. */
function risingLists(values: readonly number[], count: number): number[][] {
  if (count === 0) return [[]];
  return values.flatMap((value, i) => risingLists(values.slice(i), count - 1).map((rest) => [value, ...rest]));
}

export class NetSearch {
  private readonly situation: Situation;
  private readonly coarse: SheetRater;
  private readonly rater: SheetRater;
  /** Nearest and farthest of the first net down the ray from the lens: behind the mirror, before the window. */
  private readonly nearestM: number;
  private readonly farthestM: number;
  private readonly fields: readonly NetField[];

  constructor(situation: Situation) {
    this.situation = situation;
    this.coarse = new SheetRater(situation, true);
    this.rater = new SheetRater(situation, false);
    this.fields = fields(situation);
    const { nearestM, farthestM } = netReach(situation, meanRay(situation));
    this.nearestM = nearestM;
    this.farthestM = farthestM;
  }

  /** Best place of nets of these grades, whatever others the stock has; null where none is large enough. */
  bestOf(grades: readonly NetGrade[]): NetPlaces | null {
    const found = this.best(grades.length, grades, [grades.map((_, index) => index)]);
    return found && { field: found.choice.field, places: placesOf(found.choice) };
  }

  private rate(choice: NetChoice, beat: number): SheetsRank | null {
    const [first] = choice.at;
    if (first! < this.nearestM || first! > this.farthestM) return null;
    const places = placesOf(choice);
    if (places.some((place) => fittingEntry(choice.field, place) === null)) return null;
    return this.rater.rate(
      places.map((place) => netSheet(choice.field, place)),
      beat,
    );
  }

  /** Coarse look at all staggers of some grades at one distance; each net at each edge is worked out once. */
  private bestStagger(field: NetField, grades: readonly NetGrade[], first: number): Found | null {
    const tangents = spaced(field.low, field.high, EDGES[grades.length]!);
    const columns = grades.map((grade, i) =>
      tangents.map((edge): SheetColumns | null => {
        const place = { distanceM: first + i * NET_PITCH_M, edge, grade };
        return fittingEntry(field, place) === null ? null : this.coarse.columns(netSheet(field, place));
      }),
    );
    const indices = risingLists(
      tangents.map((_, index) => index),
      grades.length,
    );
    const [found] = scan(
      indices,
      (edges) => {
        const sheets = edges.map((edge, i) => columns[i]![edge]!);
        return sheets.includes(null as never) ? null : this.coarse.rateColumns(sheets);
      },
      1,
    );
    if (!found) return null;
    return { choice: { field, grades, at: [first, ...found.at.map((edge) => tangents[edge]!)] }, rank: found.rank };
  }

  /** Best coarse stagger of each distance and grades; the three best of those in full, and searched from. */
  best(count: number, stock: readonly NetGrade[], choices = gradeChoices(stock, count)): Found | null {
    const starts: Found[] = [];
    for (const field of this.fields) {
      for (const grades of choices) {
        for (const first of DISTANCES_M.map((distanceM) => this.nearestM - NEAREST_M + distanceM)) {
          if (first > this.farthestM) continue;
          this.situation.pace.check();
          const found = this.bestStagger(
            field,
            grades.map((index) => stock[index]!),
            first,
          );
          if (found !== null) starts.push(found);
        }
      }
    }
    const best = (all: Found[], kept: number): Found[] =>
      all.sort((a, b) => compareRanks(a.rank, b.rank)).slice(0, kept);
    const full = best(starts, LOOKED_AT_IN_FULL).flatMap(({ choice }): Found[] => {
      const rank = this.rate(choice, Infinity);
      return rank === null ? [] : [{ choice, rank }];
    });
    return (
      best(
        best(full, 3).map((start) => this.refine(start)),
        1,
      )[0] ?? null
    );
  }

  private refine({ choice, rank }: Found): Found {
    const { field } = choice;
    const step = (field.high - field.low) / 16;
    let beat = rank.score;
    const objective = (at: readonly number[]): SheetsRank | null => {
      this.situation.pace.check();
      const found = this.rate({ ...choice, at }, beat);
      if (found !== null) beat = Math.min(beat, found.score);
      return found;
    };
    const start: Trial<SheetsRank> = { at: choice.at, rank };
    const end = descend(
      start,
      [(choice.at[0]! - this.nearestM + NEAREST_M) / 4, ...choice.grades.map(() => step)],
      objective,
      3,
    );
    return { choice: { ...choice, at: end.at }, rank: end.rank };
  }
}

const gradeName = (stops: number): string => (stops === 1 ? 'double' : stops === 0.5 ? 'single' : `${stops}-stop net`);

/** "Two doubles", "A double and two singles". */
function whatWords(grades: readonly NetGrade[]): string {
  const groups = new Map<string, number>();
  for (const { stops } of grades) groups.set(gradeName(stops), (groups.get(gradeName(stops)) ?? 0) + 1);
  const words = [...groups].map(([name, count]) =>
    count === 1 ? `one ${name}` : `${counted(count).toLowerCase()} ${name}s`,
  );
  const text = words.join(' and ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function orderWords(situation: Situation, choice: NetChoice): { order: string; brief: string } {
  const places = placesOf(choice);
  const from = situation.main.check.hotEnd;
  const onWall = places.map(({ edge, distanceM }) => edge * distanceM);
  const apart = onWall.slice(1).map((x, i) => centimetres(Math.abs(x - onWall[i]!)));
  // The nets face the lamp: their right is that of somebody who looks from behind it.
  const beside = onWall[0]!;
  const first = `${centimetres(Math.abs(beside))} ${beside > 0 ? 'right' : 'left'} of the light's middle seen from behind the ${situation.source.image === null ? 'lamp' : 'mirror'}`;
  const edges =
    apart.length === 0 ? `free edge ${first}` : `free edges ${apart.join(' and ')} apart, the first ${first}`;
  const roll = choice.field.rollDeg === 0 ? '' : `, turned ${Math.round(Math.abs(choice.field.rollDeg))}°`;
  const { mirrorLegM } = meanRay(situation);
  const near = metres(places[0]!.distanceM - mirrorLegM);
  const place = mirrorLegM > 0 ? `${near} from the mirror towards the set` : `${near} in front of the lens`;
  const what = whatWords(choice.grades);
  const brief = `${what}, ${place}${apart.length === 0 ? '' : `, free edges ${apart.join(' and ')} apart`}`;
  return { order: `${what} in from the ${from ?? 'hot end'}, ${place}${roll}, ${edges}`, brief };
}

export function staggeredNets(situation: Situation): (Mend | RankedMend)[] {
  const stock = netStock(situation.document, situation.setup);
  const free = stock.reduce((sum, grade) => sum + grade.free, 0);
  if (free === 0) return [refusal(situation, 'staggeredNets', 'The kit has no free net.')];
  const search = new NetSearch(situation);
  const found: RankedMend[] = [];
  let best = Infinity;
  let refused: string | null = null;
  // Once fall-off and step read as sun, another net would only cost light and hands.
  for (let count = 1; count <= Math.min(MOST_NETS, free) && best > 1; count++) {
    const result = search.best(count, stock);
    if (result === null || result.rank.score > best - WORTH_A_NET) continue;
    const { choice, rank } = result;
    const grade = choice.grades.reduce((sum, { stops }) => sum + stops, 0);
    const gain = (situation.main.check.falloffStops ?? 0) - rank.falloffStops;
    const patches = blendOverPatch(situation, choice.field.frame.right, choice.at[0]!);
    if (patches > MOST_PATCHES && gain < LEAST_USE * grade) {
      refused = `The emitter is so wide that a net blends over ${patches.toFixed(0)} patch lengths: it would only dim.`;
      continue;
    }
    const setup = hangNets(situation.setup, choice.field, placesOf(choice));
    if (setup === null) continue;
    best = rank.score;
    found.push(
      offer(situation, {
        kind: 'staggeredNets',
        setup,
        ...orderWords(situation, choice),
        why: 'Nets take nothing off the fan; a set of them takes off its grades at most.',
        pieces: count,
        predictedFalloffStops: rank.falloffStops,
        costStops: rank.costStops,
        suffix: `-${count}`,
      }),
    );
  }
  if (found.length > 0) return found;
  const none = `No net of the kit is large enough, or any of them takes the patch under ${situation.least.words}.`;
  return [refusal(situation, 'staggeredNets', refused ?? none)];
}
