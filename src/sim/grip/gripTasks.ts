/** The grip helpers' jobs for the worker. */
import type { SceneDocument } from '../../scene/schema';
import { firstGrip } from './firstGrip';
import { gripFigures, type GripFigures } from './gripFigures';
import type { GripPlan } from './gripPlan';
import type { GripHelper, GripRequest } from './gripRequest';
import { bestGrip, planGrip } from './planGrip';

/** Where a form starts; a sentence where it cannot. */
export interface GripFirstTask {
  readonly kind: 'gripFirst';
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly helper: GripHelper;
  readonly lampId: string;
  readonly surfaceId: string;
}
interface OfRequest {
  /** The scene without the helper's pieces; for the figures, the scene that they are read in. */
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly request: GripRequest;
}
export interface GripPlanTask extends OfRequest {
  readonly kind: 'gripPlan';
}
export interface GripFiguresTask extends OfRequest {
  readonly kind: 'gripFigures';
}
export interface GripBestTask extends OfRequest {
  readonly kind: 'gripBest';
}
export type GripTask = GripFirstTask | GripPlanTask | GripFiguresTask | GripBestTask;

export interface GripResults {
  readonly gripFirst: GripRequest | string;
  readonly gripPlan: GripPlan;
  readonly gripFigures: GripFigures;
  readonly gripBest: GripRequest | null;
}

/** Each is one slice: some tenths of a second. */
export function runGripTask(task: GripTask): GripResults[GripTask['kind']] {
  const { document, setupId } = task;
  switch (task.kind) {
    case 'gripFirst':
      return firstGrip(document, setupId, task.helper, task.lampId, task.surfaceId);
    case 'gripPlan':
      return planGrip(document, setupId, task.request);
    case 'gripFigures':
      return gripFigures(document, setupId, task.request);
    case 'gripBest':
      return bestGrip(document, setupId, task.request);
  }
}
