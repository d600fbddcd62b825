/** Two to eight like lamps on a surface: throw, spacing, height and aim that light it most evenly. */
import { frameFromPose, worldFromLocal, type Frame } from '../../scene/geometry/frames';
import type { Vec3 } from '../../scene/geometry/vector';
import type { Lamp, SceneDocument, Setup } from '../../scene/schema';
import { descend, scan, type Rank, type Trial } from '../mends/search';
import { mayStand } from '../mends/space';
import { compileScene } from '../solve/compileScene';
import { METER_QUALITY, type Quality } from '../solve/quality';
import type { GridResult } from '../results';
import { solveGrid } from '../solve/solveGrid';
import { judgedLevels } from '../report';
import { coverageArea, evennessOf, type CoverageArea, type Evenness } from './evenness';
import { NEAREST_M, sceneWithOnly, type RigLamp } from './rig';

/** Places of the lamps, symmetric about the middle of the area; metres in the surface's own axes. */
export interface EvenLayout {
  readonly lamps: number;
  /** One row, or two of half as many with `rowGapM` between them. */
  readonly rows: 1 | 2;
  readonly throwM: number;
  /** Between the outermost lamps of a row. */
  readonly spacingM: number;
  /** Of the rows' middle above the middle of the area. */
  readonly heightM: number;
  readonly rowGapM: number;
  /** 0 aims square on, 1 at the middle, more aims across to the other side. */
  readonly across: number;
}
type Span = readonly [least: number, most: number];
export interface EvenBounds {
  readonly throwM: Span;
  readonly spacingM: Span;
  readonly heightM: Span;
  readonly rowGapM: Span;
  readonly across: Span;
}
export interface EvenTask {
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly surfaceId: string;
  /** Copied for each place; its level is kept unless `targetLx` sets it. */
  readonly lamp: Lamp;
  readonly lamps: number;
  readonly bounds: EvenBounds;
  /** Least mean that the lamps must reach at full; 0 for none. */
  readonly targetLx: number;
  /** What is enough where no level is to be held; without it the most even layout is looked for, however far and dim. */
  readonly enough?: Enough;
}
/** Evenness below `rangeStops` is worth nothing more, and a mean below `meanLx` costs as many stops as it falls short. */
export interface Enough {
  readonly rangeStops: number;
  readonly meanLx: number;
}
export interface EvenChoice {
  readonly layout: EvenLayout;
  readonly evenness: Evenness;
  /** Dimmer of each lamp, 0 to 1. */
  readonly level: number;
  readonly lampsAt: readonly RigLamp[];
}
export interface EvenResult {
  /** Null where no place within space and bounds lights the area throughout at the wanted level. */
  readonly best: EvenChoice | null;
  readonly tried: number;
  /** The best layout's light over the area, for a map; null where there is none. */
  readonly map: GridResult | null;
  /** Why there is none. */
  readonly reason: string | null;
}

/** Bounds for an area when nobody has set others: up to twice its width back, within the ceiling's business. */
export function defaultBounds(document: SceneDocument, surfaceId: string): EvenBounds {
  const { widthM, heightM } = coverageArea(document, surfaceId).request.region!;
  return {
    throwM: [Math.max(NEAREST_M, widthM / 6), Math.max(2, 1.25 * widthM)],
    spacingM: [widthM / 8, 1.5 * widthM],
    heightM: [-heightM / 2, heightM],
    rowGapM: [0, 1.25 * heightM],
    across: [0, 2],
  };
}

interface Situation {
  readonly task: EvenTask;
  readonly setup: Setup;
  readonly area: CoverageArea;
  readonly frame: Frame;
  readonly middle: readonly [number, number];
}
function situationOf(task: EvenTask): Situation {
  const setup = task.document.setups.find(({ id }) => id === task.setupId);
  if (!setup) throw new RangeError(`no setup "${task.setupId}" in this scene`);
  if (!(Number.isInteger(task.lamps) && task.lamps >= 1 && task.lamps <= 8)) {
    throw new RangeError(`${task.lamps} lamps; one to eight can be placed`);
  }
  const area = coverageArea(task.document, task.surfaceId);
  const { leftM, bottomM, widthM, heightM } = area.request.region!;
  const frame = frameFromPose(task.document.surfaces[task.surfaceId]!.pose);
  return { task, setup, area, frame, middle: [leftM + widthM / 2, bottomM + heightM / 2] };
}

/** The lamps of a layout; ids "even-1" on, upper row first, from the left seen from the lit side. */
function placed({ task, frame, middle }: Situation, layout: EvenLayout, level: number | undefined): RigLamp[] {
  const perRow = layout.lamps / layout.rows;
  const tuple = ([x, y, z]: Vec3): [number, number, number] => [x, y, z];
  return Array.from({ length: layout.lamps }, (_, i) => {
    const row = Math.floor(i / perRow);
    const share = perRow > 1 ? (i % perRow) / (perRow - 1) - 0.5 : 0;
    const side = share * layout.spacingM;
    const up = middle[1] + layout.heightM + (layout.rows === 2 ? (0.5 - row) * layout.rowGapM : 0);
    const place = worldFromLocal(frame, [middle[0] + side, up], -layout.throwM);
    // Aimed across also in height: by half as much, so that the rows do not change places.
    const aimUp = middle[1] + (up - middle[1]) * (1 - Math.min(1, layout.across / 2));
    const target = worldFromLocal(frame, [middle[0] + side * (1 - layout.across), aimUp]);
    const pose = { positionM: tuple(place), aim: { atM: tuple(target) } };
    const { off: _off, control: _control, ...lamp } = task.lamp;
    return {
      id: `even-${i + 1}`,
      lamp: { ...lamp, name: `${task.lamp.name} ${i + 1}`, pose, ...(level !== undefined && { level }) },
    };
  });
}

interface EvenRank extends Rank {
  readonly choice: EvenChoice;
}
const COARSE = 0.5;

/** Range in stops; without a level to hold, no less than what is enough, and a stop more for each that the mean is short. */
function scoreOf({ targetLx, enough }: EvenTask, rangeStops: number, fullLx: number): number {
  if (targetLx > 0 || !enough) return rangeStops;
  return Math.max(rangeStops, enough.rangeStops) + Math.max(0, Math.log2(enough.meanLx / fullLx));
}

/** Rank of a layout: its score, then stops of level lost; null outside space and bounds, part unlit or too dim. */
function rankOf(situation: Situation, layout: EvenLayout, cells: number, quality: Quality): EvenRank | null {
  const { task, setup, area } = situation;
  const lamps = placed(situation, layout, undefined);
  if (!lamps.every(({ lamp }) => mayStand(task.document, lamp.pose.positionM) && lamp.pose.positionM[2] >= 0))
    return null;
  const scene = compileScene(sceneWithOnly(task.document, setup, lamps), setup.id);
  const columns = Math.max(4, Math.round(area.request.columns * cells));
  const rows = Math.max(3, Math.round(area.request.rows * cells));
  const grid = solveGrid(scene, { ...area.request, columns, rows }, {}, quality);
  const found = evennessOf(judgedLevels(grid, task.document.surfaces[task.surfaceId]!));
  if (found.rangeStops === null) return null;
  const now = task.lamp.level ?? 1;
  const fullLx = now > 0 ? found.meanLx / now : 0;
  if (fullLx < task.targetLx) return null;
  const level = task.targetLx > 0 ? task.targetLx / fullLx : now;
  const ratio = now > 0 ? level / now : 1;
  const evenness = { ...found, minLx: found.minLx * ratio, maxLx: found.maxLx * ratio, meanLx: found.meanLx * ratio };
  const choice = { layout, evenness, level, lampsAt: placed(situation, layout, level) };
  return {
    score: scoreOf(task, found.rangeStops, fullLx),
    sum: 0,
    costStops: -Math.log2(fullLx),
    pieces: task.lamps,
    choice,
  };
}

/** The light of a layout on the report's grid, at the lamps' levels. */
function mapOf({ task, setup, area }: Situation, { lampsAt }: EvenChoice): GridResult {
  const scene = compileScene(sceneWithOnly(task.document, setup, lampsAt), setup.id);
  return solveGrid(scene, area.request, {}, METER_QUALITY);
}

const spread = ([least, most]: Span, count: number): number[] =>
  most - least < 1e-9 ? [least] : Array.from({ length: count }, (_, i) => least + ((most - least) * i) / (count - 1));
/** Places of the coarse scan. */
function coarsePlaces({ lamps, bounds }: EvenTask): number[][] {
  const rowsOf = lamps >= 4 && lamps % 2 === 0 ? [1, 2] : [1];
  const places: number[][] = [];
  for (const rows of rowsOf) {
    for (const throwM of spread(bounds.throwM, 5)) {
      for (const spacingM of lamps === 1 ? [0] : spread(bounds.spacingM, 5)) {
        for (const heightM of spread(bounds.heightM, 3)) {
          for (const gapM of rows === 2 ? spread(bounds.rowGapM, 3).slice(-2) : [0]) {
            for (const across of spread(bounds.across, 4)) places.push([rows, throwM, spacingM, heightM, gapM, across]);
          }
        }
      }
    }
  }
  return places;
}

/** One layout as it is: its light at the lamps' levels; null as in the search. @throws {RangeError} as `evenOut` */
export const rateLayout = (task: EvenTask, layout: EvenLayout): EvenChoice | null =>
  rankOf(situationOf(task), layout, 1, METER_QUALITY)?.choice ?? null;

const STARTS = 3;
const CHUNK = 24;
const HALVINGS = 5;

/**
 * The layout with the least range over the area: a coarse scan of places on half the cells, then a search from the three
 * best on all of them. Yields how far it is, 0 to 1.
 * @returns the best choice within bounds, space and level; ties go to the brighter, and so do all that are even enough
 * @throws {RangeError} if setup or surface does not exist or the number of lamps is not 1 to 8
 * @remarks Layouts are symmetric rows; an uneven surface or grip on one side may do better with another.
 */
export function* evenOut(task: EvenTask): Generator<number, EvenResult, void> {
  const situation = situationOf(task);
  const { bounds } = task;
  let tried = 0;
  const layoutOf = ([rows, throwM, spacingM, heightM, rowGapM, across]: readonly number[]): EvenLayout => ({
    lamps: task.lamps,
    rows: rows === 2 ? 2 : 1,
    throwM: throwM!,
    spacingM: spacingM!,
    heightM: heightM!,
    rowGapM: rowGapM!,
    across: across!,
  });
  const spans: readonly Span[] = [bounds.throwM, bounds.spacingM, bounds.heightM, bounds.rowGapM, bounds.across];
  const objective = (cells: number) => {
    // Held axes have no step: the search comes back to places that it knows.
    const known = new Map<string, EvenRank | null>();
    return (at: readonly number[]): EvenRank | null => {
      const key = at.join(' ');
      const before = known.get(key);
      if (before !== undefined) return before;
      const isFree = (i: number): boolean => !(i === 1 && task.lamps === 1) && !(i === 3 && at[0] === 1);
      const inside = spans.every(([least, most], i) => {
        const value = at[i + 1]!;
        return isFree(i) ? value >= least - 1e-9 && value <= most + 1e-9 : value === 0;
      });
      if (!inside) return null;
      tried++;
      const rank = rankOf(situation, layoutOf(at), cells, METER_QUALITY);
      known.set(key, rank);
      return rank;
    };
  };
  const coarse = objective(COARSE);
  const fine = objective(1);
  const places = coarsePlaces(task);
  let starts: Trial<EvenRank>[] = [];
  for (let first = 0; first < places.length; first += CHUNK) {
    const found = scan(places.slice(first, first + CHUNK), coarse, STARTS);
    starts = [...starts, ...found].sort((a, b) => a.rank.score - b.rank.score).slice(0, STARTS);
    yield (0.6 * Math.min(places.length, first + CHUNK)) / places.length;
  }
  const steps = [0, ...spans.map(([least, most], i) => (most - least) / [8, 8, 4, 4, 6][i]!)];
  let best: Trial<EvenRank> | null = null;
  for (const [i, start] of starts.entries()) {
    const rank = fine(start.at);
    if (rank === null) continue;
    const found = descend({ at: start.at, rank }, steps, fine, HALVINGS);
    if (best === null || found.rank.score < best.rank.score) best = found;
    yield 0.6 + (0.4 * (i + 1)) / starts.length;
  }
  if (best !== null) {
    const { choice } = best.rank;
    return { best: choice, tried, map: mapOf(situation, choice), reason: null };
  }
  const level = task.targetLx > 0 ? ' at the wanted level' : '';
  return { best: null, tried, map: null, reason: `no place within the space lights the whole area${level}` };
}
