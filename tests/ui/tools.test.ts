import { describe, expect, test } from 'vitest';
import type { Hit, ObjectRef } from '../../src/render/contract';
import {
  elevationProjection,
  PLAN_PROJECTION,
  sectionProjection,
  sheetFromWorld,
  worldFromSheet,
  type Projection,
} from '../../src/render/projections';
import type { Lamp, SceneDocument } from '../../src/scene/schema';
import type { Edit } from '../../src/ui/tools/edits';
import { nudgeEdit, nudgeStepM } from '../../src/ui/tools/nudge';
import { reduce } from '../../src/ui/tools/select';
import { aimPointOf } from '../../src/ui/tools/things';
import { IDLE, type ToolContext, type ToolEvent, type ToolResult, type ToolState } from '../../src/ui/tools/tool';
import { tinyScene } from './tinyScene';

const PIXELS_PER_METRE = 100;
const LAMP: ObjectRef = { kind: 'source', id: 'l1' };
const NET: ObjectRef = { kind: 'modifier', id: 'n1' };
const WINDOW: ObjectRef = { kind: 'opening', id: 'window-1', surfaceId: 'north-wall' };
const WALL: ObjectRef = { kind: 'surface', id: 'north-wall' };

const lampOf = (document: SceneDocument): Lamp => document.setups[0]?.sources['l1'] as Lamp;

/** A drawing of 100 px a metre with its origin at (0, 0) of the page, which answers every hit test with `hit`. */
function context(kind: 'plan' | 'elevation' | 'section', hit: Hit | null, document = tinyScene()): ToolContext {
  const projections: Record<typeof kind, Projection> = {
    plan: PLAN_PROJECTION,
    elevation: elevationProjection(document.surfaces['north-wall']!.pose),
    section: sectionProjection(lampOf(document).pose),
  };
  const projection = projections[kind];
  return {
    tool: 'select',
    document,
    setupId: 'a',
    sheet: {
      kind,
      hitTest: () => hit,
      metresPerPixel: () => 1 / PIXELS_PER_METRE,
      worldFromScreen: ({ x, y }, through) =>
        worldFromSheet(projection, { u: x / PIXELS_PER_METRE, v: -y / PIXELS_PER_METRE }, through),
      screenFromWorld: (world) => {
        const { u, v } = sheetFromWorld(projection, world);
        return { x: u * PIXELS_PER_METRE, y: -v * PIXELS_PER_METRE };
      },
    },
  };
}
const body = (object: ObjectRef): Hit => ({ object, handle: 'body' });

function drive(events: readonly ToolEvent[], within: ToolContext): ToolResult[] {
  let state: ToolState = IDLE;
  return events.map((event) => {
    const result = reduce(state, event, within);
    state = result.state;
    return result;
  });
}
const down = (x: number, y: number, more: Partial<Extract<ToolEvent, { type: 'down' }>> = {}): ToolEvent => ({
  type: 'down',
  pointerId: 1,
  at: { x, y },
  button: 0,
  touch: false,
  ...more,
});
const move = (x: number, y: number, pointerId = 1): ToolEvent => ({
  type: 'move',
  pointerId,
  at: { x, y },
  touch: false,
});
const up = (x: number, y: number, pointerId = 1): ToolEvent => ({ type: 'up', pointerId, at: { x, y } });
const committed = (results: readonly ToolResult[]): Edit | undefined => results.at(-1)?.commit;
const positionOf = (edit: Edit | null | undefined) => (edit?.kind === 'pose' ? edit.pose.positionM : undefined);

describe('select', () => {
  test('a press that hardly travels is a click: it selects and changes nothing', () => {
    const results = drive([down(200, -100), move(202, -101), up(202, -101)], context('plan', body(LAMP)));
    expect(results.at(-1)).toMatchObject({ state: IDLE, select: LAMP });
    expect(results.some((result) => result.draft !== undefined || result.commit !== undefined)).toBe(false);
  });

  test('a click on nothing clears the selection', () => {
    expect(drive([down(5, 5), up(5, 5)], context('plan', null)).at(-1)?.select).toBeNull();
  });

  test('dragging a lamp on the plan moves it in x and y and keeps its height and its aim', () => {
    const results = drive(
      [down(200, -100), move(230, -100), move(250, -80), up(250, -80)],
      context('plan', body(LAMP)),
    );
    expect(results[1]?.state.name).toBe('moving');
    expect(positionOf(results[1]?.draft)).toEqual([2.3, 1, 2]);
    expect(committed(results)).toMatchObject({
      kind: 'pose',
      pose: { positionM: [2.5, 0.8, 2], aim: { panDeg: 0, tiltDeg: 0 } },
    });
    expect(results.at(-1)).toMatchObject({ draft: null, ghost: null, state: IDLE });
  });

  test('moves are computed from the press: a detour leaves no trace', () => {
    const within = context('plan', body(LAMP));
    const direct = drive([down(200, -100), move(260, -100), up(260, -100)], within);
    const detour = drive([down(200, -100), move(900, 300), move(-40, 2), move(260, -100), up(260, -100)], within);
    expect(committed(detour)).toEqual(committed(direct));
  });

  test('in elevation a drag moves along the wall and in height; the wall is seen from the room', () => {
    const results = drive([down(0, 0), move(40, -30), up(40, -30)], context('elevation', body(LAMP)));
    expect(positionOf(committed(results))).toEqual([2.4, 1, 2.3]);
  });

  test('in section a drag moves along the throw and in height', () => {
    const results = drive([down(0, 0), move(40, -30), up(40, -30)], context('section', body(NET)));
    expect(positionOf(committed(results))).toEqual([2, 2.4, 2.3]);
  });

  test('a window slides along its wall and stays inside it', () => {
    const slide = drive([down(0, 0), move(50, 0), up(50, 0)], context('plan', body(WINDOW)));
    expect(committed(slide)).toEqual({ kind: 'opening', ref: WINDOW, leftM: 2.5, sillM: 1 });
    const tooFar = drive([down(0, 0), move(2000, -2000), up(2000, -2000)], context('elevation', body(WINDOW)));
    expect(committed(tooFar)).toMatchObject({ leftM: 7 - 1.2, sillM: 1.5 });
  });

  test.each(['cancel', 'leave'] as const)('%s while a lamp is carried', (type) => {
    const results = drive([down(0, 0), move(40, 0), { type }], context('plan', body(LAMP)));
    if (type === 'cancel') expect(results.at(-1)).toMatchObject({ state: IDLE, draft: null, ghost: null });
    else expect(results.at(-1)?.state.name).toBe('moving');
    expect(committed(results)).toBeUndefined();
  });

  test('a locked lamp is selected and not carried', () => {
    const document = tinyScene();
    lampOf(document).locked = true;
    const results = drive([down(0, 0), move(40, 0), up(40, 0)], context('plan', body(LAMP), document));
    expect(results[1]).toMatchObject({ state: IDLE, select: LAMP, cursor: 'not-allowed' });
    expect(committed(results)).toBeUndefined();
  });

  test.each([
    ['nothing', null],
    ['a wall', body(WALL)],
  ])('dragging %s moves the view by the whole travel', (_what, hit) => {
    const results = drive([down(0, 0), move(10, 0), move(30, 5), up(30, 5)], context('elevation', hit));
    const pans = results.flatMap((result) => result.view ?? []);
    const total = pans.reduce((sum, pan) => sum + (pan.kind === 'pan' ? pan.deltaX : 0), 0);
    expect(total).toBe(30);
    expect(committed(results)).toBeUndefined();
  });
});

describe('aim and turn', () => {
  test('the axis of the lamp meets the wall beside the window', () => {
    const document = tinyScene();
    lampOf(document).pose.aim = { panDeg: -20, tiltDeg: 0 };
    const aim = aimPointOf(document, lampOf(document).pose);
    expect(aim[1]).toBeCloseTo(5, 9); // 4 m throw, tan 20° to the left
    expect(aim[0]).toBeCloseTo(2 - 4 * Math.tan(Math.PI / 9), 9);
  });

  test('an axis through a window meets nothing there and ends at 5 m', () => {
    expect(aimPointOf(tinyScene(), lampOf(tinyScene()).pose)).toEqual([2, 6, 2]);
  });

  test('dragging the aim handle keeps pan and tilt as angles, and a typed target as a target', () => {
    const angles = tinyScene();
    lampOf(angles).pose = { positionM: [1, 1, 2], aim: { panDeg: 0, tiltDeg: 0 } };
    const hit: Hit = { object: LAMP, handle: 'aim' };
    const swung = committed(drive([down(0, 0), move(400, 0), up(400, 0)], context('plan', hit, angles)));
    expect(swung).toMatchObject({ pose: { positionM: [1, 1, 2], aim: { panDeg: 45, tiltDeg: 0 } } });

    const target = tinyScene();
    lampOf(target).pose = { positionM: [1, 1, 2], aim: { atM: [1, 5, 1] } };
    const moved = committed(drive([down(0, 0), move(50, -20), up(50, -20)], context('elevation', hit, target)));
    expect(moved).toMatchObject({ pose: { aim: { atM: [1.5, 5, 1.2] } } });
  });

  /** The stalk lies behind the lamp; from there the pointer goes a quarter of a circle clockwise on the screen. */
  test.each([
    ['plan', [200, 0], [100, -100], { panDeg: 90, tiltDeg: 0 }],
    ['section', [-100, -200], [0, -300], { panDeg: 0, tiltDeg: -90 }],
    ['elevation', [200, -100], [300, -200], { panDeg: 0, tiltDeg: 0, rollDeg: -90 }],
  ] as const)('turning by a quarter in %s', (kind, from, to, aim) => {
    const hit: Hit = { object: LAMP, handle: 'turn' };
    const results = drive([down(from[0], from[1]), move(to[0], to[1]), up(to[0], to[1])], context(kind, hit));
    const edit = committed(results);
    expect(edit?.kind === 'pose' && edit.pose.aim).toEqual(
      kind === 'elevation' ? { ...aim, rollDeg: expect.closeTo(-90, 6) } : aim,
    );
  });
});

describe('fingers', () => {
  const finger = (pointerId: number, x: number, y: number): ToolEvent => down(x, y, { pointerId, touch: true });

  test('two fingers zoom about their middle and pan with it', () => {
    const results = drive([finger(1, 100, 100), finger(2, 200, 100), move(300, 100, 2)], context('plan', null));
    expect(results.at(-1)?.view).toEqual([
      { kind: 'pan', deltaX: 50, deltaY: 0 },
      { kind: 'zoom', at: { x: 200, y: 100 }, factor: 2 },
    ]);
  });

  test('a second finger drops the lamp where it was', () => {
    const results = drive(
      [finger(1, 0, 0), move(40, 0), finger(2, 200, 100), up(200, 100, 2), up(40, 0)],
      context('plan', body(LAMP)),
    );
    expect(results[2]).toMatchObject({ state: { name: 'pinching' }, draft: null, ghost: null });
    expect(results.every((result) => result.commit === undefined)).toBe(true);
    expect(results.at(-1)?.state).toEqual(IDLE);
  });

  test('the pan tool and the middle button move the view even over a lamp', () => {
    const within = { ...context('plan', body(LAMP)), tool: 'pan' as const };
    expect(drive([down(0, 0)], within)[0]?.state.name).toBe('panning');
    expect(drive([down(0, 0, { button: 1 })], context('plan', body(LAMP)))[0]?.state.name).toBe('panning');
  });
});

describe('nudge', () => {
  const view = { kind: 'plan', surfaceId: 'north-wall', sourceId: 'l1' } as const;

  test('one step is a centimetre, Shift ten, Alt a tenth', () => {
    expect(nudgeStepM({ shiftKey: false, altKey: false })).toBe(0.01);
    expect(nudgeStepM({ shiftKey: true, altKey: false })).toBe(0.1);
    expect(nudgeStepM({ shiftKey: false, altKey: true })).toBe(0.001);
  });

  test.each([
    ['plan', 'ArrowUp', [2, 1.01, 2]],
    ['elevation', 'ArrowUp', [2, 1, 2.01]],
    ['elevation', 'ArrowRight', [2.01, 1, 2]],
    ['section', 'ArrowRight', [2, 1.01, 2]],
  ] as const)('%s, %s', (kind, key, positionM) => {
    expect(nudgeEdit(tinyScene(), 'a', LAMP, key, 0.01, { ...view, kind })).toMatchObject({ pose: { positionM } });
  });

  test('a window slides along its wall; a wall does not move', () => {
    expect(nudgeEdit(tinyScene(), 'a', WINDOW, 'ArrowRight', 0.1, view)).toMatchObject({ leftM: 2.1, sillM: 1 });
    expect(nudgeEdit(tinyScene(), 'a', WALL, 'ArrowRight', 0.1, view)).toBeNull();
  });
});
