/**
 * The tasks of the worker as slices: a grid goes band by band, mends go kind by kind, a search for a place
 * goes spot by spot; a judgement or a reading is one slice.
 */
import type { SceneDocument } from '../../scene/schema';
import { frameFromPose } from '../../scene/geometry/frames';
import { compareSetups, evenOutSlices, meteringPoints, throwRows } from '../coverage/coverageTasks';
import { sunThrowRows } from '../coverage/sunThrow';
import { runGripTask, type GripTask } from '../grip/gripTasks';
import { judgeSetup } from '../judgement/judgeSetup';
import { mendSteps } from '../mends/findMends';
import { placing } from '../place/findPlace';
import type { GridResult } from '../results';
import { compileScene } from '../solve/compileScene';
import { GRID_QUALITY } from '../solve/quality';
import { keeping, KeptLayers } from '../solve/keptLayers';
import { readPoint } from '../solve/solvePoint';
import { solveGrid } from '../solve/solveGrid';
import { walking, type WalkTask } from '../teach/walk';
import { boundingBox, joinBands, planBands } from './bands';
import type { TaskSlices } from './jobLoop';
import type { CheckTask, GridTask, PlaceJob, ReadTask, Task } from './protocol';

/** Small enough that a cancel is heard soon, large enough that setting up a band costs little. */
const CELLS_PER_BAND = 4096;

/** What the maps of this worker have solved: a drag moves one lamp, and all others' light stays. */
const kept = new KeptLayers();

/** @throws {RangeError} if the setup or a surface does not exist */
export function beginTask(task: Task): TaskSlices {
  switch (task.kind) {
    case 'grids':
      return solveGrids(task);
    case 'checks':
      return judge(task);
    case 'reading':
      return read(task);
    case 'mends':
      return mend(task.document, task.setupId);
    case 'place':
      return place(task);
    case 'throw':
      return throwRows(task);
    case 'sunThrow':
      return sunThrowRows(task);
    case 'metering':
      return meteringPoints(task);
    case 'compare':
      return compareSetups(task);
    case 'even':
      return evenOutSlices(task);
    case 'walk':
      return walked(task);
    case 'gripFirst':
    case 'gripPlan':
    case 'gripFigures':
    case 'gripBest':
      return grip(task);
  }
}

function* solveGrids({ document, setupId, surfaces }: GridTask): TaskSlices {
  const scene = compileScene(document, setupId);
  const before = keeping(kept, scene);
  const cells = surfaces.reduce((sum, surface) => sum + surface.columns * surface.rows, 0);
  const results: GridResult[] = [];
  let solved = 0;
  for (const { surfaceId, columns, rows } of surfaces) {
    const surface = document.surfaces[surfaceId];
    if (!surface) throw new RangeError(`no surface "${surfaceId}" in this scene`);
    const bands: GridResult[] = [];
    for (const band of planBands(surfaceId, boundingBox(surface.shape), columns, rows, CELLS_PER_BAND)) {
      bands.push(solveGrid(scene, band, {}, GRID_QUALITY, before));
      solved += band.columns * band.rows;
      yield { fraction: solved / cells, surfaceId };
    }
    results.push(joinBands(bands));
  }
  return results;
}

// eslint-disable-next-line require-yield -- one slice: a judgement looks at the whole patch at once
function* judge({ document, setupId }: CheckTask): TaskSlices {
  return judgeSetup(compileScene(document, setupId));
}

/** One kind of mend a slice: some tenths of a second to a few seconds each. */
function* mend(document: SceneDocument, setupId: string): TaskSlices {
  const steps = mendSteps(document, setupId);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    yield { fraction: step.value, surfaceId: null };
  }
}

// eslint-disable-next-line require-yield -- one slice: a single point
function* read({ document, setupId, surfaceId, atM }: ReadTask): TaskSlices {
  const surface = document.surfaces[surfaceId];
  if (!surface) throw new RangeError(`no surface "${surfaceId}" in this scene`);
  const { forward } = frameFromPose(surface.pose);
  return readPoint(compileScene(document, setupId), { pointM: atM, normal: forward, surfaceId });
}

function* place({ request }: PlaceJob): TaskSlices {
  const spots = placing(request);
  for (;;) {
    const { done, value } = spots.next();
    if (done === true) return value;
    yield { fraction: value, surfaceId: request.surfaceId };
  }
}

function* walked(task: WalkTask): TaskSlices {
  const steps = walking(task);
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
    yield { fraction: value, surfaceId: null };
  }
}

// eslint-disable-next-line require-yield -- one slice: a plan or its figures
function* grip(task: GripTask): TaskSlices {
  return runGripTask(task);
}
