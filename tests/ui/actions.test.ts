/** Opening files and placing things, through the actions that buttons, keys and drops share. */
import { createMendsStore } from '../../src/ui/stores/mends';
import { describe, expect, test } from 'vitest';
import { saveScene } from '../../src/scene/save';
import { createActions } from '../../src/ui/actions';
import { draw, startDraw } from '../../src/ui/drafting/drafting';
import { placeWall, pressOnWall, turnWall } from '../../src/ui/drafting/wallActs';
import { createDocumentStore } from '../../src/ui/stores/document';
import { createSessionStore } from '../../src/ui/stores/session';
import { asHalf, gradeOf } from '../../src/ui/panels/selected/ScrimFields';
import { tinyScene } from './tinyScene';

function page() {
  const document = createDocumentStore(tinyScene(), 'room.json');
  const session = createSessionStore({ setupId: 'a', theme: 'dark' });
  return { document, session, actions: createActions(document, session, createMendsStore()) };
}
const fileOf = (text: string, name: string): File => new File([text], name, { type: 'application/json' });

describe('a dropped file', () => {
  test('of a newer format is refused with what to do, and the open scene stays', async () => {
    const { document, session, actions } = page();
    const before = document.getState().history;
    const newer = saveScene(tinyScene()).replace('"formatVersion": 1', '"formatVersion": 4');
    await actions.openFile(fileOf(newer, 'quay.json'));
    const [notice] = session.getState().notices;
    expect(notice?.kind).toBe('fault');
    expect(notice?.lines.join(' ')).toMatch(/quay\.json, line \d+.*newer Farsun \(format 4; this one reads up to 1\)/);
    expect(notice?.lines.at(-1)).toContain('The open scene is as it was');
    expect(document.getState().history).toBe(before);
  });

  test('that is a scene opens, and the scene before is one press away, there and back', async () => {
    const { document, session, actions } = page();
    const other = { ...tinyScene(), name: 'Other room' };
    await actions.openFile(fileOf(saveScene(other), 'other.json'));
    expect(document.getState().shown.name).toBe('Other room');
    expect(session.getState().notices.at(-1)?.action?.label).toBe('Back to the scene before');
    actions.backToBefore();
    expect(document.getState()).toMatchObject({ fileName: 'room.json', shown: { name: 'Test room' } });
    actions.backToBefore();
    expect(document.getState().shown.name).toBe('Other room');
  });
});

describe('scrims in a lamp', () => {
  test('are single or double by what they take, whole or half with a clock angle', () => {
    expect([0.5, 1, 0.7].map((stops) => gradeOf({ stops }))).toEqual(['single', 'double', 'other']);
    const half = asHalf({ kind: 'wireScrim', stops: 1, slotM: 0.03 }, true);
    expect(half).toEqual({ kind: 'wireScrim', stops: 1, slotM: 0.03, half: { clockDeg: 0 } });
    expect(asHalf(half, false)).toEqual({ kind: 'wireScrim', stops: 1, slotM: 0.03 });
  });
});

describe('drawing', () => {
  const corners = [
    [10, 0],
    [14, 0],
    [14, 3],
  ] as const;
  const drawn = (end: 'close' | 'finish') => {
    const desk = page();
    startDraw(desk, 'walls');
    for (const at of corners) draw(desk, { type: 'corner', at });
    draw(desk, { type: end });
    return desk;
  };
  test('of an outline is done when it closes: Select is on again, and a word says so', () => {
    const { session } = drawn('close');
    expect(session.getState().tool).toBe('select');
    expect(session.getState().notices.at(-1)?.lines).toEqual(['Room drawn. Draw is done, Select is on']);
  });
  test('of a line goes on with the next one, and a word says so', () => {
    const { session } = drawn('finish');
    expect(session.getState().tool).toBe('draw');
    expect(session.getState().drawing).toEqual({ kind: 'walls', corners: [], at: null });
    expect(session.getState().notices.at(-1)?.lines).toEqual(['Walls drawn. Draw stays on for the next']);
  });
  test('that is refused keeps tool and corners', () => {
    const desk = page();
    startDraw(desk, 'floor');
    for (const at of [...corners.slice(0, 2), [12, 0]] as const) draw(desk, { type: 'corner', at });
    draw(desk, { type: 'close' });
    expect(desk.session.getState().tool).toBe('draw');
    expect(desk.session.getState().drawing.corners).toHaveLength(3);
    expect(desk.session.getState().notices.at(-1)?.kind).toBe('caution');
  });
  test('a typed place or pan of a wall takes the joined ones along; a typed height is its own', () => {
    const desk = drawn('finish');
    const wall = () => desk.document.getState().shown.surfaces['wall-2']!; // up from (14, 0), lit from the west
    const joined = () => desk.document.getState().shown.surfaces['wall-1']!.shape;
    const alone = () => 'alone';
    const [x, y] = wall().pose.positionM;
    expect(placeWall(desk, 'wall-2', [x, y, 1], alone)).toBe('alone');
    expect(placeWall(desk, 'wall-2', [x + 2, y, 0], alone)).toBeNull();
    expect(joined().kind === 'rectangle' && joined()).toMatchObject({ widthM: 6 });
    expect(turnWall(desk, 'wall-2', { panDeg: 270, tiltDeg: 5 }, alone)).toBe('alone');
    // Its left corner (16, 3) stays; the right one goes from (16, 0) to (13, 3) as it comes to look up the plan.
    expect(turnWall(desk, 'wall-2', { panDeg: 0, tiltDeg: 0 }, alone)).toBeNull();
    expect(wall().pose).toEqual({ positionM: [16, 3, 0], aim: { panDeg: 0, tiltDeg: 0 } });
    expect(joined().kind === 'rectangle' && joined()).toMatchObject({ widthM: expect.closeTo(Math.hypot(3, 3), 8) });
    desk.actions.undo();
    expect(joined()).toMatchObject({ widthM: 6 });
  });
  test('of a window by a press on the wall: in an opening is no room, though the drawing may not show it yet', () => {
    const desk = page();
    startDraw(desk, 'window');
    const count = () => Object.keys(desk.document.getState().shown.surfaces['north-wall']!.openings!).length;
    const press = (eastM: number) => pressOnWall(desk, { surfaceId: 'north-wall', atM: [eastM, 5, 1.75] });
    press(2.6);
    expect(count()).toBe(1);
    press(5);
    expect(count()).toBe(2);
    press(5);
    expect(count()).toBe(2);
    expect(desk.session.getState().notices.at(-1)?.lines).toEqual([
      'Press on the wall, beside the openings that are there.',
    ]);
  });
});
