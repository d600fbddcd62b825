/**
 * Every message between the screens and the solver worker: one union each way.
 *
 * A job belongs to a channel. Within a channel the newest job wins: it cancels the one before. Every job ends with
 * exactly one of `done`, `cancelled` or `failed`, and carries the revision of the scene it was asked for, so that an
 * answer about an older scene can never pass for a current one.
 */
import type { SceneDocument } from '../../scene/schema';
import type { Vec3 } from '../../scene/geometry/vector';
import type { ComparedSetup } from '../coverage/compareSetups';
import type { CompareTask, EvenOutTask, MeteringTask, ThrowResult, ThrowTask } from '../coverage/coverageTasks';
import type { EvenResult } from '../coverage/evenOut';
import type { MeteringPoint } from '../coverage/meteringGrid';
import type { SunThrowResult, SunThrowTask } from '../coverage/sunThrow';
import type { GripResults, GripTask } from '../grip/gripTasks';
import type { Mend } from '../mends/mend';
import type { PlaceAnswer } from '../place/placeAnswer';
import type { PlaceRequest } from '../place/placeRequest';
import type { GridResult, PointReading, SunCheck } from '../results';
import type { Walk, WalkTask } from '../teach/walk';

/** One channel holds one job at a time; the order here is the order in which the worker serves them. */
export const CHANNELS = [
  'reading',
  'pin',
  'rough',
  'checks',
  'sharp',
  'twin',
  'twinChecks',
  'mends',
  'place',
  'gripFirst',
  'gripPlan',
  'gripAfter',
  'gripBefore',
  'gripBest',
  'throw',
  'sunThrow',
  'metering',
  'compare',
  'even',
  'walk',
] as const;
export type Channel = (typeof CHANNELS)[number];

/** What to solve: surfaces of one setup, each at its own number of columns (rows follow the surface's shape). */
export interface GridTask {
  readonly kind: 'grids';
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly surfaces: readonly { readonly surfaceId: string; readonly columns: number; readonly rows: number }[];
}
/** Judge every lamp that plays the sun in the setup. */
export interface CheckTask {
  readonly kind: 'checks';
  readonly document: SceneDocument;
  readonly setupId: string;
}
/** Read one point of a surface with a flat receptor that lies on it. */
export interface ReadTask {
  readonly kind: 'reading';
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly surfaceId: string;
  readonly atM: Vec3;
}
/** Look for what would make the lamps of the setup read more like the sun. */
export interface MendTask {
  readonly kind: 'mends';
  readonly document: SceneDocument;
  readonly setupId: string;
}
/** Find lamp, place and nets for a sun through a window. */
export interface PlaceJob {
  readonly kind: 'place';
  readonly request: PlaceRequest;
}
export type Task =
  | GridTask
  | CheckTask
  | ReadTask
  | MendTask
  | PlaceJob
  | ThrowTask
  | SunThrowTask
  | MeteringTask
  | CompareTask
  | EvenOutTask
  | WalkTask
  | GripTask;

export interface TaskResults extends GripResults {
  readonly grids: readonly GridResult[];
  readonly checks: readonly SunCheck[];
  readonly reading: PointReading;
  readonly mends: readonly Mend[];
  readonly place: PlaceAnswer;
  readonly throw: ThrowResult;
  readonly sunThrow: SunThrowResult;
  readonly metering: readonly MeteringPoint[];
  readonly compare: readonly ComparedSetup[];
  readonly even: EvenResult;
  readonly walk: Walk;
}
export type TaskResult<T extends Task> = TaskResults[T['kind']];

/** An error as plain data: errors themselves lose their fields on the way between threads. */
export interface Fault {
  readonly name: string;
  readonly message: string;
}

export type ToWorker =
  | {
      readonly type: 'start';
      readonly jobId: number;
      readonly revision: number;
      readonly channel: Channel;
      readonly task: Task;
    }
  | { readonly type: 'cancel'; readonly jobId: number };

export type FromWorker =
  | {
      readonly type: 'progress';
      readonly jobId: number;
      /** 0..1 of the whole job. */
      readonly fraction: number;
      /** Id of the surface that is being solved. */
      readonly surfaceId: string | null;
    }
  | {
      readonly type: 'done';
      readonly jobId: number;
      readonly revision: number;
      readonly result: TaskResults[Task['kind']];
    }
  | { readonly type: 'cancelled'; readonly jobId: number }
  /** Parts of the job's scene have not arrived: it has to be sent whole. */
  | { readonly type: 'missing'; readonly jobId: number }
  | { readonly type: 'failed'; readonly jobId: number; readonly fault: Fault };

/** Any thrown value as a fault; never a stack trace. */
export function faultFrom(thrown: unknown): Fault {
  if (thrown instanceof Error) return { name: thrown.name, message: thrown.message };
  return { name: 'Error', message: String(thrown) };
}

/** The buffers of a result, to hand over instead of copying. */
export function transferables(result: TaskResults[Task['kind']]): ArrayBuffer[] {
  if (!Array.isArray(result)) return [];
  const buffers = new Set<ArrayBuffer>();
  for (const item of result as readonly (GridResult | object)[]) {
    if (!('illuminanceLx' in item)) continue;
    buffers.add(item.illuminanceLx.buffer as ArrayBuffer);
    buffers.add(item.mask.buffer as ArrayBuffer);
    for (const layer of item.layers) buffers.add(layer.unitIlluminanceLx.buffer as ArrayBuffer);
  }
  return [...buffers];
}
