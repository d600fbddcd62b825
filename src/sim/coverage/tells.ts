/** What spoils evenly lit cloth besides its range: double shadows, a hot end, light that spills where none is wanted. */
import { localFromWorld, worldFromLocal } from '../../scene/geometry/frames';
import { dot } from '../../scene/geometry/vector';
import { towardsSource } from '../judgement/patch';
import { angularWidthDeg } from '../judgement/shadowCount';
import type { CompiledScene } from '../solve/compiled';
import { solveGrid } from '../solve/solveGrid';
import type { CoverageArea, SolvedArea } from './evenness';

/** Limits of judgement definition 2.8. */
const LEAST_SHARE = 1 / 8;
const LEAST_AREA = 0.05;
const LARGEST_WIDTH_DEG = 10;
const LEAST_TURN_DEG = 1;

export interface DoubledShadow {
  readonly sourceId: string;
  /** Lamps that throw a second shadow of whatever stands in this one's light. */
  readonly otherIds: readonly string[];
}
export interface HotEnd {
  /** Where the brightest cell lies, words of the surface seen from its lit side. */
  readonly where: string;
  readonly overMeanStops: number;
}
export interface Spill {
  readonly surfaceId: string;
  readonly meanLx: number;
  /** Against the mean on the area, stops; 0 is as bright as the area. */
  readonly offStops: number;
}
export interface Tells {
  readonly shadows: readonly DoubledShadow[];
  readonly hotEnd: HotEnd | null;
  readonly spill: readonly Spill[];
}

/**
 * Pairs of hard lamps that double shadows on the area: the other gives at least an eighth, looks at most 10 degrees wide
 * and comes from more than 1 degree aside, over a twentieth of the area or more.
 * @source judgement definition 2.8, read on the cells of the area
 */
export function doubledShadows(scene: CompiledScene, area: CoverageArea, { grid }: SolvedArea): DoubledShadow[] {
  const { frame } = scene.surfaces.get(area.surfaceId)!;
  const points = Array.from(grid.mask, (_, cell) =>
    worldFromLocal(frame, [
      grid.leftM + (((cell % grid.columns) + 0.5) * grid.widthM) / grid.columns,
      grid.bottomM + ((Math.floor(cell / grid.columns) + 0.5) * grid.heightM) / grid.rows,
    ]),
  );
  const onArea = grid.mask.reduce((sum, on) => sum + on, 0);
  // What a mirror shows of a lamp goes by the lamp's id and is added to its layer; its shadows are not told apart here.
  const sources = scene.sources.filter(({ image }) => image === null);
  const layers = sources.map(({ id }) => grid.layers.find(({ sourceId }) => sourceId === id)!.unitIlluminanceLx);
  const levelAt = (source: number, cell: number): number => sources[source]!.level * layers[source]![cell]!;
  const isHard = (source: number, cell: number): boolean =>
    angularWidthDeg(sources[source]!, points[cell]!) <= LARGEST_WIDTH_DEG;
  const doubles = (main: number, other: number): boolean => {
    let cells = 0;
    grid.mask.forEach((on, cell) => {
      const mainLx = levelAt(main, cell);
      if (on === 0 || mainLx <= 0 || levelAt(other, cell) < mainLx * LEAST_SHARE) return;
      if (!isHard(main, cell) || !isHard(other, cell)) return;
      const [a, b] = [main, other].map((i) => towardsSource(sources[i]!, points[cell]!).direction);
      if (dot(a!, b!) < Math.cos((LEAST_TURN_DEG * Math.PI) / 180)) cells++;
    });
    return cells / onArea >= LEAST_AREA;
  };
  const all = sources.map((_, i) => i);
  return all.flatMap((main) => {
    const otherIds = all.filter((other) => other !== main && doubles(main, other)).map((i) => sources[i]!.id);
    return otherIds.length > 0 ? [{ sourceId: sources[main]!.id, otherIds }] : [];
  });
}

/** Words for a place of the grid: thirds each way. */
function whereOf(share: readonly [number, number]): string {
  const side = share[0] < 1 / 3 ? 'left' : share[0] > 2 / 3 ? 'right' : '';
  const height = share[1] < 1 / 3 ? 'foot' : share[1] > 2 / 3 ? 'top' : '';
  if (side === '' && height === '') return 'middle';
  return [height, side].filter((word) => word !== '').join(' ');
}

/** The brightest cell and how far it lies over the mean; null without light. */
export function hotEndOf({ grid, evenness }: SolvedArea): HotEnd | null {
  if (evenness.meanLx <= 0) return null;
  let hottest = -1;
  grid.illuminanceLx.forEach((level, cell) => {
    if (grid.mask[cell] === 1 && (hottest < 0 || level > grid.illuminanceLx[hottest]!)) hottest = cell;
  });
  const share = [
    ((hottest % grid.columns) + 0.5) / grid.columns,
    (Math.floor(hottest / grid.columns) + 0.5) / grid.rows,
  ] as const;
  return { where: whereOf(share), overMeanStops: Math.log2(evenness.maxLx / evenness.meanLx) };
}

const SPILL_CELLS = 16;
/** Spill dimmer than this against the area is not named, stops. */
const FAINTEST_SPILL_STOPS = -3;

/** Other surfaces, not in the area's own plane, whose mean is within three stops of the area's; brightest first. */
export function spillOf(scene: CompiledScene, area: CoverageArea, { evenness }: SolvedArea): Spill[] {
  const { frame } = scene.surfaces.get(area.surfaceId)!;
  const inPlane = (id: string): boolean => {
    const other = scene.surfaces.get(id)!.frame;
    return dot(other.forward, frame.forward) > 0.999 && Math.abs(localFromWorld(frame, other.origin).above) < 0.05;
  };
  const spill = [...scene.surfaces.keys()].flatMap((surfaceId) => {
    if (surfaceId === area.surfaceId || inPlane(surfaceId)) return [];
    const grid = solveGrid(scene, { surfaceId, columns: SPILL_CELLS, rows: SPILL_CELLS });
    const cells = grid.mask.reduce((sum, on) => sum + on, 0);
    const meanLx = cells > 0 ? grid.illuminanceLx.reduce((sum, level) => sum + level, 0) / cells : 0;
    const offStops = meanLx > 0 && evenness.meanLx > 0 ? Math.log2(meanLx / evenness.meanLx) : -Infinity;
    return offStops >= FAINTEST_SPILL_STOPS ? [{ surfaceId, meanLx, offStops }] : [];
  });
  return spill.sort((a, b) => b.offStops - a.offStops);
}

export const tellsOf = (scene: CompiledScene, area: CoverageArea, solved: SolvedArea): Tells => ({
  shadows: doubledShadows(scene, area, solved),
  hotEnd: hotEndOf(solved),
  spill: spillOf(scene, area, solved),
});
