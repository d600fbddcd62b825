/** Coverage's jobs as slices for the worker: a row, a setup or a stretch of the search at a time. */
import type { SceneDocument } from '../../scene/schema';
import { compileScene } from '../solve/compileScene';
import { comparedSetup, type ComparedSetup } from './compareSetups';
import { distanceRow, throwOf, type DistanceRow } from './distanceTable';
import { evenOut, type EvenResult, type EvenTask } from './evenOut';
import { meteringGrid, type MeteringPoint } from './meteringGrid';
import { kitClasses, outputNeed, type OutputNeed } from './outputClass';
import { distanceForRange, WANTED_STOPS, type RangeDistance } from './rangeDistances';
import { NEAREST_M } from './rig';

interface OfScene {
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly surfaceId: string;
}
/** A lamp or group from distance to distance. */
export interface ThrowTask extends OfScene {
  readonly kind: 'throw';
  readonly sourceId: string;
  readonly fromM: number;
  readonly toM: number;
  readonly count: number;
  /** Mean that has to be held; 0 for none. */
  readonly targetLx: number;
}
export interface ThrowRow extends DistanceRow {
  readonly need: OutputNeed | null;
}
export interface ThrowResult {
  readonly rows: readonly ThrowRow[];
  /** As the rig stands. */
  readonly present: ThrowRow;
  readonly marks: readonly RangeDistance[];
}
export interface MeteringTask extends OfScene {
  readonly kind: 'metering';
  readonly columns: number;
  readonly rows: number;
}
export interface CompareTask {
  readonly kind: 'compare';
  readonly document: SceneDocument;
  readonly setupIds: readonly string[];
  readonly surfaceId: string;
}
export interface EvenOutTask extends EvenTask {
  readonly kind: 'even';
}

interface Slice {
  readonly fraction: number;
  readonly surfaceId: string | null;
}
type Slices<R> = Generator<Slice, R, void>;

/** @throws {RangeError} if setup, surface or lamp does not exist, or the lamp cannot light the surface */
export function* throwRows(task: ThrowTask): Slices<ThrowResult> {
  const { document, setupId, sourceId, surfaceId, targetLx } = task;
  const given = throwOf(document, setupId, sourceId, surfaceId);
  const classes = kitClasses(document);
  const candela = presentCandela(document, setupId, given.rig.lamps[0]!.id);
  const rowAt = (distanceM: number): ThrowRow => {
    const row = distanceRow(given, distanceM);
    return { ...row, need: outputNeed(classes, candela, row.meanLx, targetLx) };
  };
  const fromM = Math.max(NEAREST_M, task.fromM);
  const rows: ThrowRow[] = [];
  for (let i = 0; i < task.count; i++) {
    const distanceM = fromM + ((task.toM - fromM) * i) / Math.max(1, task.count - 1);
    try {
      rows.push(rowAt(distanceM));
    } catch (error) {
      // The nearest rows may bring one lamp of a group into the surface; the others still stand.
      if (!(error instanceof RangeError)) throw error;
    }
    yield { fraction: (0.8 * (i + 1)) / task.count, surfaceId };
  }
  const marks: RangeDistance[] = [];
  for (const stops of WANTED_STOPS) {
    if (rows.length > 0) marks.push(distanceForRange(rows, (distanceM) => rowAt(distanceM).rangeStops, stops));
    yield { fraction: 0.8 + (0.2 * marks.length) / WANTED_STOPS.length, surfaceId };
  }
  return { rows, present: rowAt(given.rig.distanceM), marks };
}

function presentCandela(document: SceneDocument, setupId: string, lampId: string): number {
  const source = compileScene(document, setupId).sources.find(({ id }) => id === lampId);
  return source ? source.peakCandela * source.level : 0;
}

// eslint-disable-next-line require-yield -- one slice: at most fifteen points
export function* meteringPoints(task: MeteringTask): Slices<readonly MeteringPoint[]> {
  const { document, setupId, surfaceId, columns, rows } = task;
  return meteringGrid(compileScene(document, setupId), document, surfaceId, { columns, rows });
}

export function* compareSetups({ document, setupIds, surfaceId }: CompareTask): Slices<readonly ComparedSetup[]> {
  const compared: ComparedSetup[] = [];
  for (const setupId of setupIds) {
    compared.push(comparedSetup(document, setupId, surfaceId));
    yield { fraction: compared.length / setupIds.length, surfaceId };
  }
  return compared;
}

export function* evenOutSlices(task: EvenOutTask): Slices<EvenResult> {
  const search = evenOut(task);
  for (;;) {
    const step = search.next();
    if (step.done) return step.value;
    yield { fraction: step.value, surfaceId: task.surfaceId };
  }
}
