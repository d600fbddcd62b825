/** Shutters on the elevation: where a cut falls, by hand, and how far a drag draws it. */
import { describe, expect, test } from 'vitest';
import { cutLines } from '../../src/render/shutterMarks';
import { thingsOf } from '../../src/render/sceneThings';
import { elevationProjection, sheetFromWorld, worldFromSheet } from '../../src/render/projections';
import { applyCommand } from '../../src/scene/commands';
import type { Lamp, SceneDocument } from '../../src/scene/schema';
import { commandFor } from '../../src/ui/tools/commandFor';
import { reduce } from '../../src/ui/tools/select';
import { IDLE, type ToolContext, type ToolEvent, type ToolResult, type ToolState } from '../../src/ui/tools/tool';
import { tinyScene } from './tinyScene';

/** The lamp stands at (2, 1, 2) and looks along +y at a wall 4 m off: from behind, right is +x and up is z. */
function scene(change: Partial<Lamp> = {}): SceneDocument {
  const room = tinyScene();
  const lamp = room.setups[0]!.sources['l1'] as Lamp;
  const spot: Lamp = {
    ...lamp,
    distribution: {
      kind: 'projection',
      fieldAngleDeg: 36,
      edgeWidthDeg: 1,
      shutters: [
        { offsetDeg: 10, turnDeg: 0, edgeWidthDeg: 1 },
        { offsetDeg: 5, turnDeg: 90, edgeWidthDeg: 1 },
      ],
    },
    ...change,
  };
  return { ...room, setups: [{ ...room.setups[0]!, sources: { l1: spot } }, ...room.setups.slice(1)] };
}
const offsets = (document: SceneDocument): number[] => {
  const { distribution } = document.setups[0]!.sources['l1'] as Lamp;
  return distribution.kind === 'projection' ? (distribution.shutters ?? []).map(({ offsetDeg }) => offsetDeg) : [];
};
const tan = (degrees: number): number => Math.tan((degrees * Math.PI) / 180);

function lines(document: SceneDocument) {
  const things = thingsOf(document, document.setups[0]!);
  return cutLines(
    things.lamps[0]!,
    things.surfaces.find(({ id }) => id === 'north-wall')!,
  );
}

const PER_METRE = 100;
function drag(document: SceneDocument, index: number, dx: number, dy: number): ToolResult[] {
  const atM = lines(document)[index]!.handle;
  const projection = elevationProjection(document.surfaces['north-wall']!.pose);
  const context: ToolContext = {
    tool: 'select',
    document,
    setupId: 'a',
    sheet: {
      kind: 'elevation',
      hitTest: () => ({ object: { kind: 'source', id: 'l1' }, handle: 'shutter', shutter: { index, atM } }),
      metresPerPixel: () => 1 / PER_METRE,
      worldFromScreen: ({ x, y }, through) =>
        worldFromSheet(projection, { u: x / PER_METRE, v: -y / PER_METRE }, through),
      screenFromWorld: (world) => {
        const { u, v } = sheetFromWorld(projection, world);
        return { x: u * PER_METRE, y: -v * PER_METRE };
      },
    },
  };
  const from = context.sheet.screenFromWorld(atM);
  const to = { x: from.x + dx, y: from.y + dy };
  const events: ToolEvent[] = [
    { type: 'down', pointerId: 1, at: from, button: 0, touch: false },
    { type: 'move', pointerId: 1, at: to, touch: false },
    { type: 'up', pointerId: 1, at: to },
  ];
  let state: ToolState = IDLE;
  return events.map((event) => {
    const result = reduce(state, event, context);
    ({ state } = result);
    return result;
  });
}

describe('where the cuts fall', () => {
  test('a cut to the right stands upright at 4 m times the tangent of its angle, one at the top lies level', () => {
    const [right, top] = lines(scene());
    expect(right!.handle[0]).toBeCloseTo(2 + 4 * tan(10), 9);
    expect(right!.handle[2]).toBeCloseTo(2, 9);
    const half = 4 * Math.sqrt(tan(18) ** 2 - tan(10) ** 2);
    expect(right!.ends.map((end) => Math.abs(end[2] - 2))).toEqual([
      expect.closeTo(half, 9) as number,
      expect.closeTo(half, 9) as number,
    ]);
    expect(top!.handle[2]).toBeCloseTo(2 + 4 * tan(5), 9);
  });

  test('none falls on a wall behind the lamp', () => {
    const turned = scene({ pose: { positionM: [2, 1, 2], aim: { panDeg: 180, tiltDeg: 0 } } });
    expect(lines(turned)).toEqual([]);
  });
});

describe('dragging', () => {
  test('the cut follows the pointer on the wall, in tenths of a degree', () => {
    const document = scene();
    // The wall is seen from the room, as the lamp sees it: +x runs to the right of the screen.
    const results = drag(document, 0, 40, 0);
    const edit = results.at(-1)?.commit;
    expect(edit).toMatchObject({ kind: 'shutter', index: 0 });
    const after = Number(((Math.atan(tan(10) + 0.1) * 180) / Math.PI).toFixed(1));
    expect(results[1]?.travel).toMatchObject({ kind: 'turned', deltaDeg: expect.closeTo(after - 10, 6) as number });
    const command = commandFor(document, 'a', edit!)!;
    const done = applyCommand(document, command);
    expect(done.ok && offsets(done.document)).toEqual([after, 5]);
  });

  test('along the cut nothing changes; over the axis the angle goes below 0', () => {
    const document = scene();
    const along = drag(document, 0, 0, 60).at(-1)?.commit;
    expect(along && commandFor(document, 'a', along)).toBeNull();
    expect(drag(document, 1, 0, 80).at(-1)?.commit).toMatchObject({
      index: 1,
      offsetDeg: expect.closeTo(-6.4, 5) as number,
    });
  });

  test('a locked lamp keeps its shutters', () => {
    expect(drag(scene({ locked: true }), 0, 40, 0).every(({ commit }) => commit === undefined)).toBe(true);
  });
});
