/**
 * What the screens do with a scene of 200 walls, 60 lamps and 200 pieces, as pieces of work that can be timed without a
 * browser. Each gives a number made from its result, so that no work can be dropped as unused.
 */
import { applyCommand, type Command } from '../../src/scene/commands';
import { findCautions } from '../../src/scene/cautions';
import { commit, startHistory, undo } from '../../src/scene/history';
import { loadScene } from '../../src/scene/load';
import { saveScene } from '../../src/scene/save';
import type { SceneDocument } from '../../src/scene/schema';
import type { ObjectRef, SheetKind, SheetState } from '../../src/render/contract';
import { estimateTextWidth } from '../../src/render/labels';
import { createSheetModel, type SheetModel } from '../../src/render/sheetModel';
import { compileScene } from '../../src/sim/solve/compileScene';
import { listedGroups } from '../../src/ui/panels/ObjectList';
import { refsInFrame } from '../../src/ui/tools/chosen';
import { snapPlace } from '../../src/ui/tools/snap';
import { largeScene } from '../large/largeScene';
import { sheetStateOf } from '../render/scene';

export interface Work {
  readonly name: string;
  /** @param round another number each time, so that nothing is the same as the time before */
  readonly run: (round: number) => number;
}

const [WIDTH_PX, HEIGHT_PX] = [1000, 640];
const LAMP: ObjectRef = { kind: 'source', id: 'lamp-7' };

const stateOf = (document: SceneDocument, more: Partial<SheetState> = {}): SheetState =>
  sheetStateOf(document, { surfaceId: 'store-1-east', sourceId: 'lamp-1', ...more });
function sheetOf(kind: SheetKind, state: SheetState): SheetModel {
  const model = createSheetModel(kind, estimateTextWidth);
  model.resize(WIDTH_PX, HEIGHT_PX);
  model.setState(state);
  return model;
}
/** Number of shapes, letterings and targets of what a sheet shows. */
function drawn(model: SheetModel): number {
  const { layers, targets } = model.picture()!;
  return layers.reduce((sum, layer) => sum + layer.shapes.length + layer.texts.length, targets.length);
}

const moveCommand = (round: number): Command => ({
  type: 'move',
  at: { kind: 'source', setupId: 'a', id: LAMP.id },
  positionM: [36 + 0.01 * (round % 50), 2, 2.4],
});
function moved(document: SceneDocument, round: number): SceneDocument {
  const result = applyCommand(document, moveCommand(round));
  if (!result.ok) throw new Error(result.fault);
  return result.document;
}

/** A drag on one sheet: the scene changes with every round, the place before is drawn as well. */
function dragOn(kind: SheetKind, document: SceneDocument): Work {
  const model = sheetOf(kind, stateOf(document, { selection: LAMP }));
  drawn(model);
  const ghost = { object: LAMP, document };
  const run = (round: number): number => {
    model.setState(stateOf(moved(document, round), { selection: LAMP, ghost }));
    return drawn(model);
  };
  return { name: `${kind}: a lamp dragged`, run };
}

export function largeWork(): Work[] {
  const document = largeScene();
  const text = saveScene(document);
  const plan = sheetOf('plan', stateOf(document));
  drawn(plan);
  const planTool = { ...plan, kind: 'plan' } as const;
  const frame = [
    { x: 0, y: 0 },
    { x: WIDTH_PX, y: HEIGHT_PX },
  ] as const;
  const ids = Object.keys(document.setups[0]!.sources);
  return [
    { name: 'file: opened', run: () => Object.keys(loaded(text).surfaces).length },
    { name: 'file: written', run: () => saveScene(document).length },
    { name: 'plan: first drawing', run: () => drawn(sheetOf('plan', stateOf(largeScene()))) },
    {
      name: 'plan: shifted',
      run: (round) => {
        plan.panBy(round % 2 === 0 ? 3 : -3, 1);
        return drawn(plan);
      },
    },
    {
      name: 'plan: zoomed',
      run: (round) => {
        plan.zoomAt({ x: 400, y: 300 }, round % 2 === 0 ? 1.1 : 1 / 1.1);
        return drawn(plan);
      },
    },
    {
      name: 'plan: another chosen',
      run: (round) => {
        plan.setState(stateOf(document, { selection: { kind: 'source', id: ids[round % ids.length]! } }));
        return drawn(plan);
      },
    },
    dragOn('plan', document),
    dragOn('elevation', document),
    dragOn('section', document),
    {
      name: 'plan: what lies under a point',
      run: (round) => (plan.hitTest({ x: round % 900, y: 300 }, false) ? 1 : 0),
    },
    {
      name: 'plan: where a drag rests',
      run: (round) => snapPlace(document, 'a', LAMP, [20 + 0.1 * (round % 90), 8, 2], planTool).marks.length,
    },
    { name: 'plan: all in a frame', run: () => refsInFrame(document, 'a', plan, frame).length },
    { name: 'list of things', run: () => listedGroups(document, 'a', { length: 'metres', illuminance: 'lux' }).length },
    {
      name: 'a step and back',
      run: (round) => {
        const history = commit(startHistory(document), moved(document, round), 'Move');
        return undo(history).present === document ? 1 : 0;
      },
    },
    { name: 'cautions', run: () => findCautions(document, 'a').length },
    { name: 'compiled for the solver', run: () => compileScene(document, 'a').layers.length },
  ];
}

function loaded(text: string): SceneDocument {
  const result = loadScene(text, 'large.json');
  if (!result.ok) throw new Error('the large scene is not sound');
  return result.document;
}
