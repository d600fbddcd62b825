/**
 * Nets and half scrims as half planes with one straight free edge: how much of the emitter each covers, in closed form.
 * The quick model behind the search for their places; what is offered is solved by the kernel afterwards.
 */
import { limitsOf, scoreAgainst, type Scores, type SunLimits } from '../judgement/limits';
import type { Patch } from '../judgement/patch';
import { trimmedSpread, weightedQuantiles } from '../judgement/statistics';
import { largestStep } from '../judgement/step';
import { addScaled, cross, dot, length, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { Frame } from '../../scene/geometry/frames';
import { wovenTransmittance } from '../photometry/filters';
import { discVisibleFraction } from '../photometry/penumbra';
import type { CompiledSource } from '../solve/compiled';
import { highestOf, sumOf, worstOf, type Situation } from './situation';
import type { SunCheck } from '../results';
import type { Rank } from './search';

/** A half plane of net or mesh. */
export interface HalfPlane {
  /** A place on the free edge, and its direction. */
  readonly edge: Vec3;
  readonly along: Vec3;
  /** Direction in the plane from the edge into the cloth. */
  readonly cover: Vec3;
  readonly stops: number;
  /** Frame of a woven net, denser at a slant; null for a plain one. */
  readonly weave: Frame | null;
}

const squareOf = (x: number): number => (x > 0 ? x * x : 0);

/** Share of a rectangle (half axes reach a and b across the edge) on the covered side of an edge at offset `h`. */
function rectangleShare(h: number, a: number, b: number): number {
  const [wide, narrow] = a >= b ? [a, b] : [b, a];
  if (wide === 0) return h > 0 ? 1 : 0;
  if (narrow < 1e-9 * wide) return Math.max(0, Math.min(1, (h + wide) / (2 * wide)));
  const corners =
    squareOf(h + wide + narrow) -
    squareOf(h + wide - narrow) -
    squareOf(h - wide + narrow) +
    squareOf(h - wide - narrow);
  return Math.min(1, corners / (8 * wide * narrow));
}

/** How far a half axis reaches across, m times the length of `across`. */
const reach = (across: Vec3, axis: Vec3, halfM: number): number => Math.abs(dot(across, axis)) * halfM;

/** Share of the emitter, seen from `point`, that the half plane covers, 0..1; exact for even discs and rectangles. */
export function coveredShare({ shape, frame }: CompiledSource, point: Vec3, sheet: HalfPlane): number {
  // The plane through the receiver and the free edge parts the rays that pass the edge from those that meet the cloth.
  const normal = cross(sheet.along, subtract(sheet.edge, point));
  const across = dot(normal, sheet.cover) < 0 ? scale(normal, -1) : normal;
  const offset = dot(across, subtract(frame.origin, point));
  switch (shape.kind) {
    case 'point':
      return offset > 0 ? 1 : 0;
    case 'disc': {
      const a = dot(across, frame.right);
      const b = dot(across, frame.up);
      const extent = Math.sqrt(a * a + b * b) * shape.radiusM;
      return discVisibleFraction(extent === 0 ? Math.sign(offset) : offset / extent);
    }
    case 'sphere':
      return discVisibleFraction(offset / (length(across) * shape.radiusM));
    case 'rectangle':
      return rectangleShare(
        offset,
        reach(across, frame.right, shape.halfWidthM),
        reach(across, frame.up, shape.halfHeightM),
      );
    case 'tube': {
      const round = Math.hypot(reach(across, frame.up, shape.radiusM), reach(across, frame.forward, shape.radiusM));
      return rectangleShare(offset, reach(across, frame.right, shape.halfLengthM), round);
    }
    case 'sun':
      return 0;
  }
}

/** One half plane at many receivers: share of the emitter covered, and what its cloth passes. */
export interface SheetColumn {
  readonly covered: Float64Array;
  readonly passed: Float64Array;
}
export function sheetColumn(source: CompiledSource, points: readonly Vec3[], sheet: HalfPlane): SheetColumn {
  const covered = new Float64Array(points.length);
  const passed = new Float64Array(points.length).fill(2 ** -sheet.stops);
  for (let i = 0; i < points.length; i++) {
    const point = points[i]!;
    covered[i] = coveredShare(source, point, sheet);
    if (sheet.weave !== null) {
      passed[i] = wovenTransmittance(sheet.stops, subtract(source.frame.origin, point), sheet.weave);
    }
  }
  return { covered, passed };
}

/**
 * What sheets leave of a lamp's light at receiver `i`, 0..1. Their free edges are near to parallel and cover the same
 * side, so the covered parts of the emitter lie one inside the other: the part between the k-th and the next passes k.
 */
function factorAt(columns: readonly SheetColumn[], i: number, order: number[]): number {
  for (let k = 0; k < columns.length; k++) order[k] = k;
  for (let k = 1; k < columns.length; k++) {
    for (let j = k; j > 0 && columns[order[j]!]!.covered[i]! > columns[order[j - 1]!]!.covered[i]!; j--) {
      [order[j], order[j - 1]] = [order[j - 1]!, order[j]!];
    }
  }
  let [passes, factor] = [1, 1];
  for (let k = 0; k < columns.length; k++) {
    const column = columns[order[k]!]!;
    const next = k + 1 < columns.length ? columns[order[k + 1]!]!.covered[i]! : 0;
    if (k === 0) factor -= column.covered[i]!;
    passes *= column.passed[i]!;
    factor += (column.covered[i]! - next) * passes;
  }
  return factor;
}

export interface SheetsRank extends Rank {
  readonly scores: Scores;
  readonly falloffStops: number;
  /** Largest step, stops per 10 cm; 0 where it was not taken. */
  readonly stepStops: number;
  readonly meanLx: number;
}

/** Places of the patch that a coarse look takes. */
const COARSE_CELLS = 200;

/** Places of one surface's patch, with what does not change while sheets come and go. */
interface Places {
  readonly patch: Patch;
  readonly check: SunCheck;
  readonly points: readonly Vec3[];
  readonly logOpen: Float64Array;
  readonly areaM2: Float64Array;
  /** Light that arrives now, weighted by area, and the sum of areas. */
  readonly light: Float64Array;
  readonly totalAreaM2: number;
}

function placesOf({ patch, check }: Situation['judged'][number], stride: number): Places {
  const indices = Int32Array.from({ length: Math.ceil(patch.cells.length / stride) }, (_, i) => i * stride);
  const areaM2 = Float64Array.from(indices, (i) => patch.areaM2[i]!);
  return {
    patch,
    check,
    points: Array.from(indices, (i) => patch.points[i]!),
    logOpen: Float64Array.from(indices, (i) => Math.log2(patch.openLx[i]!)),
    areaM2,
    light: Float64Array.from(indices, (i) => patch.areaM2[i]! * patch.sums.allLx[patch.cells[i]!]!),
    totalAreaM2: areaM2.reduce((sum, area) => sum + area, 0),
  };
}

/** One half plane at the places of every patch. */
export type SheetColumns = readonly SheetColumn[];

/**
 * Rates sheets in front of the situation's lamp where it stands. A coarse rater reads some of the patch's places and
 * takes no step; a full one takes the step too, for sheets whose fall-off alone could be the best.
 */
export class SheetRater {
  private readonly all: readonly Places[];
  private readonly situation: Situation;
  private readonly coarse: boolean;
  private readonly limits: SunLimits;

  constructor(situation: Situation, coarse: boolean) {
    this.situation = situation;
    this.coarse = coarse;
    this.limits = limitsOf(situation.document);
    this.all = situation.judged.map((pair) =>
      placesOf(pair, coarse ? Math.max(1, Math.floor(pair.patch.cells.length / COARSE_CELLS)) : 1),
    );
  }

  /** What one sheet does at every place, to be combined with others. */
  columns(sheet: HalfPlane): SheetColumns {
    return this.all.map(({ points }) => sheetColumn(this.situation.source, points, sheet));
  }

  rate(sheets: readonly HalfPlane[], beat = Infinity): SheetsRank | null {
    return this.rateColumns(
      sheets.map((sheet) => this.columns(sheet)),
      beat,
    );
  }

  /**
   * @param beat a score; sheets that cannot come below it are answered null
   * @returns null where the patch would fall under the least level, or `beat` cannot be met
   */
  rateColumns(sheets: readonly SheetColumns[], beat = Infinity): SheetsRank | null {
    const { situation } = this;
    const all: Scores[] = [];
    let [falloffStops, stepStops, meanLx] = [0, 0, 0];
    for (const [index, places] of this.all.entries()) {
      const { patch, check, logOpen, areaM2, light } = places;
      const columns = sheets.map((sheet) => sheet[index]!);
      const order: number[] = [];
      const factors = logOpen.map((_, i) => factorAt(columns, i, order));
      if (patch === situation.main.patch) {
        meanLx = light.reduce((sum, own, i) => sum + own * factors[i]!, 0) / places.totalAreaM2;
        if (meanLx < situation.least.meanLx) return null;
      }
      const falloff = trimmedSpread(
        logOpen.map((own, i) => own + Math.log2(factors[i]!)),
        areaM2,
      );
      falloffStops = Math.max(falloffStops, falloff);
      const fallOff = scoreAgainst(falloff, this.limits.fallOff);
      if (fallOff > beat) return null;
      const scores: Scores = { ...check.scores, fallOff };
      if (!this.coarse && check.stepStopsPer10cm !== null) {
        const step = largestStep({ ...patch, factor: factors.map((own, i) => own * patch.factor[i]!) });
        stepStops = Math.max(stepStops, step?.stopsPer10cm ?? 0);
        scores.step = scoreAgainst(step?.stopsPer10cm ?? 0, this.limits.step);
      }
      all.push(scores);
    }
    const scores = worstOf(all);
    return {
      scores,
      falloffStops,
      stepStops,
      meanLx,
      score: highestOf(scores, ['fallOff', 'step']),
      sum: sumOf(scores),
      costStops: Math.log2(situation.meanLx / meanLx),
      pieces: sheets.length,
    };
  }
}

/** The emitter's width across a direction, m. */
export function emitterWidthM({ shape, frame }: CompiledSource, across: Vec3): number {
  const share = (axis: Vec3): number => Math.abs(dot(axis, across));
  switch (shape.kind) {
    case 'point':
    case 'sun':
      return 0;
    case 'disc':
      return 2 * shape.radiusM * Math.hypot(share(frame.right), share(frame.up));
    case 'sphere':
      return 2 * shape.radiusM;
    case 'rectangle':
      return 2 * (shape.halfWidthM * share(frame.right) + shape.halfHeightM * share(frame.up));
    case 'tube':
      return 2 * Math.max(shape.radiusM, shape.halfLengthM * share(frame.right));
  }
}

/**
 * Length of the blend that a sheet's edge leaves on the surface, over the length of the patch the same way:
 * W (sheet to wall)/(lamp to sheet)/cos i against the 1st to 99th percentile of the patch.
 * @param across unit direction across the beam in which the light changes
 * @source judgement definition 6, refusal
 */
export function blendOverPatch({ main, source }: Situation, across: Vec3, lampToSheetM: number): number {
  const { patch, pair } = main;
  const { forward } = pair.surface.frame;
  const ray = subtract(patch.centroid, source.frame.origin);
  const throwM = length(ray);
  // The plane of the ray and `across` meets the surface in a line: that way the blend runs.
  const edge = cross(ray, across);
  const way = cross(edge, forward);
  const onSurface = addScaled([0, 0, 0], way, 1 / Math.max(1e-12, length(way)));
  const stretch = Math.max(1e-6, Math.abs(dot(onSurface, across)));
  const blendM = (emitterWidthM(source, across) * (throwM - lampToSheetM)) / lampToSheetM / stretch;
  const [low, high] = weightedQuantiles(
    patch.points.map((point) => dot(subtract(point, patch.centroid), onSurface)),
    patch.areaM2,
    [0.01, 0.99],
  );
  return blendM / Math.max(1e-6, high! - low!);
}
