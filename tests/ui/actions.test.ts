/** Opening files and placing things, through the actions that buttons, keys and drops share. */
import { createMendsStore } from '../../src/ui/stores/mends';
import { describe, expect, test } from 'vitest';
import { saveScene } from '../../src/scene/save';
import { createActions } from '../../src/ui/actions';
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
