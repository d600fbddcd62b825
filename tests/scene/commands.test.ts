import { describe, expect, test } from 'vitest';
import { applyCommand, labelOf, type Command } from '../../src/scene/commands';
import { diffRecords } from '../../src/scene/diffRecords';
import { emptyScene } from '../../src/scene/emptyScene';
import { commit, redo, redoLabel, startHistory, undo, undoLabel } from '../../src/scene/history';
import type { Lamp, SceneDocument } from '../../src/scene/schema';
import { sampleScene } from './sample';

function done(document: SceneDocument, command: Command): SceneDocument {
  const result = applyCommand(document, command);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
}
function refusal(document: SceneDocument, command: Command): string | null {
  const result = applyCommand(document, command);
  return result.ok ? null : result.fault;
}
const LAMP = { kind: 'source', setupId: 'a', id: 'key-lamp' } as const;
const SUN = { kind: 'source', setupId: 'a', id: 'sun' } as const;
const NET = { kind: 'modifier', setupId: 'a', id: 'side-net' } as const;
const WEST = { kind: 'surface', id: 'west' } as const;
const QUAY = { kind: 'opening', surfaceId: 'west', id: 'quay' } as const;
const lampIn = (document: SceneDocument): Lamp => document.setups[0]?.sources['key-lamp'] as Lamp;

describe('what a command touches, and what it leaves', () => {
  const scene = sampleScene();
  test('moving a lamp keeps its aim and every other reference', () => {
    const moved = done(scene, { type: 'move', at: LAMP, positionM: [-7, 0, 3] });
    expect(lampIn(moved).pose).toEqual({ positionM: [-7, 0, 3], aim: lampIn(scene).pose.aim });
    expect(lampIn(moved).emitter).toBe(lampIn(scene).emitter);
    expect(moved.surfaces).toBe(scene.surfaces);
    expect(moved.setups[1]).toBe(scene.setups[1]);
    expect(moved.setups[0]?.modifiers).toBe(scene.setups[0]?.modifiers);
    expect(moved.setups[0]?.sources['sun']).toBe(scene.setups[0]?.sources['sun']);
    expect(lampIn(scene).pose.positionM).toEqual([-6, 0.2, 3.35]);
  });
  test('the caller’s value does not become part of the document', () => {
    const positionM: [number, number, number] = [1, 1, 1];
    const mark = { name: 'T', positionM };
    const added = done(scene, { type: 'add', at: { kind: 'mark', id: 'tape' }, value: mark });
    positionM[0] = 9;
    expect(added.marks?.['tape']?.positionM).toEqual([1, 1, 1]);
  });
  test('moves and aims reach surfaces, modifiers, meters and marks', () => {
    const face = { kind: 'meter', id: 'face' } as const;
    let next = done(scene, { type: 'move', at: face, positionM: [2, 4, 1] });
    next = done(next, { type: 'aim', at: face, aim: { panDeg: -0, tiltDeg: 10 } });
    expect(next.meters['face']).toStrictEqual({
      ...scene.meters['face'],
      positionM: [2, 4, 1],
      aim: { panDeg: 0, tiltDeg: 10 },
    });
    next = done(next, { type: 'aim', at: NET, aim: { atM: [0, 0, 0] } });
    next = done(next, { type: 'move', at: { kind: 'mark', id: 'clerk' }, positionM: [1, 2, 0] });
    next = done(next, { type: 'move', at: WEST, positionM: [-1, 0, 0] });
    expect(next.surfaces['west']?.openings).toBe(scene.surfaces['west']?.openings);
    expect(next.marks?.['clerk']?.positionM).toEqual([1, 2, 0]);
  });
  test('a patch sets fields, and empties others', () => {
    const next = done(scene, { type: 'patch', at: LAMP, fields: { level: 0.25 }, clear: ['basis', 'power'] });
    const { basis: _basis, power: _power, ...rest } = lampIn(scene);
    expect(lampIn(next)).toStrictEqual({ ...rest, level: 0.25 });
    const sun = done(scene, { type: 'patch', at: SUN, fields: { altitudeDeg: 20, azimuthDeg: 200 } });
    expect(sun.setups[0]?.sources['sun']).toMatchObject({ altitudeDeg: 20, azimuthDeg: 200 });
  });
  test('openings are put in, changed and taken out within their wall', () => {
    const door = { leftM: 0.5, sillM: 0, shape: { kind: 'rectangle', widthM: 1, heightM: 2 } } as const;
    const at = { kind: 'opening', surfaceId: 'west', id: 'door' } as const;
    let next = done(scene, { type: 'add', at, value: door });
    expect(Object.keys(next.surfaces['west']?.openings ?? {})).toEqual(['quay', 'door']);
    next = done(next, { type: 'patch', at, fields: { leftM: 0.6 } });
    next = done(next, { type: 'remove', at });
    expect(next).toStrictEqual(scene);
  });
  test('parts of the scene', () => {
    let next = done(scene, { type: 'patchScene', part: 'camera', fields: { tStop: 4 }, clear: ['whiteBalanceK'] });
    next = done(next, { type: 'patchScene', part: 'scene', fields: { northDeg: 12 }, clear: ['production'] });
    next = done(next, { type: 'patchScene', part: 'display', fields: { length: 'metres' } });
    expect(next.camera).toStrictEqual({ iso: 800, framesPerSecond: 24, shutterAngleDeg: 180, tStop: 4 });
    expect([next.northDeg, next.production, next.display?.length]).toEqual([12, undefined, 'metres']);
    const fresh = done(emptyScene(), { type: 'patchScene', part: 'story', fields: { haze: true } });
    expect(fresh.story).toEqual({ haze: true });
  });
});

describe('setups', () => {
  const scene = sampleScene();
  const order = (document: SceneDocument): string[] => document.setups.map((setup) => setup.id);
  test('add, copy, reorder, rename, remove', () => {
    let next = done(scene, { type: 'copySetup', setupId: 'a', id: 'c', name: 'C' });
    expect(order(next)).toEqual(['a', 'c', 'b']);
    expect(next.setups[1]?.sources).toBe(scene.setups[0]?.sources);
    next = done(next, { type: 'moveSetup', setupId: 'b', index: 0 });
    next = done(next, { type: 'addSetup', setup: { id: 'd', name: 'D', sources: {}, modifiers: {} }, index: 1 });
    expect(order(next)).toEqual(['b', 'd', 'a', 'c']);
    next = done(next, { type: 'patchSetup', setupId: 'c', fields: { name: 'Mended' } });
    expect(next.setups[3]?.name).toBe('Mended');
    next = done(next, { type: 'removeSetup', setupId: 'a' });
    expect(next.story?.playsSun).toBe(scene.story?.playsSun);
    next = done(next, { type: 'removeSetup', setupId: 'c' });
    expect(next.story?.playsSun).toEqual([]);
    expect(next.groups?.['shaft']?.memberIds).toEqual(['clerk']);
  });
  test.each<[Command, string]>([
    [{ type: 'copySetup', setupId: 'x', id: 'c', name: 'C' }, 'There is no setup x.'],
    [{ type: 'copySetup', setupId: 'a', id: 'b', name: 'C' }, 'There is a setup b already.'],
    [{ type: 'addSetup', setup: { id: 'a', name: '', sources: {}, modifiers: {} } }, 'There is a setup a already.'],
    [{ type: 'moveSetup', setupId: 'a', index: -1 }, 'index: found -1, expected a number of at least 0.'],
  ])('%#', (command, fault) => expect(refusal(scene, command)).toBe(fault));
  test('the last setup stays, and there is room for a hundred', () => {
    const one = done(scene, { type: 'removeSetup', setupId: 'b' });
    expect(refusal(one, { type: 'removeSetup', setupId: 'a' })).toBe('A scene keeps at least one setup.');
    let full = one;
    for (let index = 1; index < 100; index++)
      full = done(full, { type: 'copySetup', setupId: 'a', id: `s${index}`, name: '' });
    expect(refusal(full, { type: 'copySetup', setupId: 'a', id: 'z', name: '' })).toBe(
      'A scene holds at most 100 setups.',
    );
  });
});

describe('taking things out takes what pointed at them', () => {
  const scene = sampleScene();
  test.each<[Command, (next: SceneDocument) => unknown, unknown]>([
    [
      { type: 'remove', at: LAMP },
      (next) => [next.story?.playsSun, next.groups?.['shaft']?.memberIds],
      [[], ['side-net', 'clerk']],
    ],
    [{ type: 'remove', at: { kind: 'surface', id: 'plaster' } }, (next) => next.story?.playsSun, []],
    [{ type: 'remove', at: { kind: 'meter', id: 'face' } }, (next) => next.story && 'keyMeterId' in next.story, false],
    [{ type: 'remove', at: { kind: 'kitEntry', id: 'spot' } }, (next) => 'kitId' in lampIn(next), false],
    [
      { type: 'remove', at: { kind: 'kitEntry', id: 'net' } },
      (next) => 'kitId' in (next.setups[0]?.modifiers['side-net'] ?? {}),
      false,
    ],
    [{ type: 'remove', at: { kind: 'circuit', id: 'k1' } }, (next) => lampIn(next).power, { mainsW: 600 }],
    [{ type: 'remove', at: { kind: 'web', id: 'old' } }, (next) => next.webs, {}],
  ])('%#', (command, look, expected) => expect(look(done(scene, command))).toEqual(expected));
  test('a photometric file in use stays', () => {
    const used = done(scene, { type: 'patch', at: LAMP, fields: { distribution: { kind: 'web', webId: 'old' } } });
    expect(refusal(used, { type: 'remove', at: { kind: 'web', id: 'old' } })).toBe(
      'Quay spot gives L1 its light. Give that lamp another distribution first.',
    );
  });
});

describe('refusals, each one sentence, nothing changed', () => {
  const scene = sampleScene();
  const lamp = lampIn(scene);
  const before = JSON.stringify(scene);
  test.each<[Command, string]>([
    [{ type: 'move', at: LAMP, positionM: [Number.NaN, 0, 0] }, 'positionM[0]: found NaN, expected a finite number.'],
    [
      { type: 'move', at: LAMP, positionM: [0, 0, 20_000] },
      'positionM[2]: found 20000, expected a number of at most 10000.',
    ],
    [
      { type: 'aim', at: LAMP, aim: { atM: [-6, 0.2, 3.35] } },
      'setups[0].sources.key-lamp.pose.aim.atM: found its own position, expected a point away from it to look at.',
    ],
    [
      { type: 'aim', at: LAMP, aim: { panDeg: Infinity, tiltDeg: 0 } },
      'aim.panDeg: found Infinity, expected a finite number.',
    ],
    [{ type: 'move', at: SUN, positionM: [0, 0, 1] }, 'Sun has no position of its own.'],
    [
      { type: 'aim', at: { kind: 'mark', id: 'clerk' }, aim: { panDeg: 0, tiltDeg: 0 } },
      'Clerk has no aim of its own.',
    ],
    [
      { type: 'patch', at: LAMP, fields: { level: Number.NaN } },
      'setups[0].sources.key-lamp.level: found NaN, expected a finite number.',
    ],
    [
      { type: 'patch', at: LAMP, fields: { level: 1.5 } },
      'setups[0].sources.key-lamp.level: found 1.5, expected a number of at most 1.',
    ],
    [
      { type: 'patch', at: LAMP, fields: { altitudeDeg: 3 } },
      'setups[0].sources.key-lamp.altitudeDeg: there is no field of this name.',
    ],
    [
      { type: 'patch', at: LAMP, fields: {}, clear: ['pose'] },
      'setups[0].sources.key-lamp.pose: found nothing, expected an object.',
    ],
    [
      { type: 'patch', at: LAMP, fields: {}, clear: ['constructor'] },
      'setups[0].sources.key-lamp.constructor: there is no field of this name.',
    ],
    [
      { type: 'patch', at: LAMP, fields: { kitId: 'x' } },
      'setups[0].sources.key-lamp.kitId: found "x", expected the id of a kit entry.',
    ],
    [
      { type: 'patch', at: WEST, fields: { thicknessM: -0.2 } },
      'surfaces.west.thicknessM: found -0.2, expected a number of at least 0.',
    ],
    [
      { type: 'patch', at: WEST, fields: { shape: { kind: 'rectangle', widthM: 1, heightM: 1 } } },
      'surfaces.west.openings.quay: found an opening that reaches outside its surface, expected an opening inside the outline of the surface.',
    ],
    [
      { type: 'patch', at: QUAY, fields: { sillM: 3 } },
      'surfaces.west.openings.quay: found an opening that reaches outside its surface, expected an opening inside the outline of the surface.',
    ],
    [
      { type: 'patch', at: NET, fields: { material: { kind: 'net', stops: 0 } } },
      'setups[0].modifiers.side-net.material.stops: found 0, expected a number above 0.',
    ],
    [{ type: 'add', at: LAMP, value: lamp }, 'There is a source key-lamp already.'],
    [{ type: 'add', at: { ...LAMP, setupId: 'x' }, value: lamp }, 'There is no setup x.'],
    [
      { type: 'add', at: { kind: 'opening', surfaceId: 'constructor', id: 'o' }, value: lamp },
      'There is no surface constructor.',
    ],
    [{ type: 'replace', at: { kind: 'meter', id: 'constructor' }, value: lamp }, 'There is no meter constructor.'],
    [{ type: 'remove', at: { kind: 'circuit', id: 'k9' } }, 'There is no circuit k9.'],
    [
      { type: 'add', at: { kind: 'meter', id: 'M 1' }, value: lamp },
      'at.id: found "M 1", expected an id of small letters, digits and hyphens, a letter first, at most 64 long.',
    ],
    [
      { type: 'patchScene', part: 'camera', fields: { tStop: 0 } },
      'camera.tStop: found 0, expected a number of at least 0.1.',
    ],
    [
      { type: 'patchScene', part: 'story', fields: { keyMeterId: 'none' } },
      'story.keyMeterId: found "none", expected the id of a meter.',
    ],
    [
      { type: 'patchScene', part: 'story', fields: { date: '2025-13-01' } },
      'story.date: found "2025-13-01", expected a day of the calendar.',
    ],
    [{ type: 'patchScene', part: 'scene', fields: {}, clear: ['name'] }, 'name: found nothing, expected text.'],
    [
      { type: 'spin' } as unknown as Command,
      'type: found "spin", expected one of "add", "replace", "patch", "remove", "move", "aim", "patchScene", "addSetup", "copySetup", "removeSetup", "patchSetup", "moveSetup", "sequence".',
    ],
  ])('%#', (command, fault) => {
    expect(applyCommand(scene, command)).toEqual({ ok: false, fault });
    expect(JSON.stringify(scene)).toBe(before);
  });
  test('a locked thing stays where it is until it is unlocked', () => {
    const locked = done(scene, { type: 'patch', at: LAMP, fields: { locked: true } });
    const commands: Command[] = [
      { type: 'move', at: LAMP, positionM: [0, 0, 1] },
      { type: 'aim', at: LAMP, aim: { panDeg: 0, tiltDeg: 0 } },
      { type: 'remove', at: LAMP },
    ];
    for (const command of commands) expect(refusal(locked, command)).toBe('L1 is locked. Unlock it first.');
    const unlocked = done(locked, { type: 'patch', at: LAMP, fields: { locked: false } });
    expect(refusal(unlocked, { type: 'remove', at: LAMP })).toBeNull();
  });
  test('a sequence is done whole or not at all', () => {
    const net = scene.setups[0]?.modifiers['side-net'];
    if (net === undefined) throw new Error('the sample has a net');
    const second = { ...NET, id: 'second-net' };
    const good: Command = {
      type: 'sequence',
      label: 'Stagger nets',
      commands: [
        { type: 'add', at: second, value: net },
        { type: 'move', at: second, positionM: [-3, 1, 2.5] },
      ],
    };
    expect(done(scene, good).setups[0]?.modifiers['second-net']?.pose.positionM).toEqual([-3, 1, 2.5]);
    expect(labelOf(good)).toBe('Stagger nets');
    const bad: Command = { ...good, commands: [...good.commands, { type: 'remove', at: { ...NET, id: 'third' } }] };
    expect(refusal(scene, bad)).toBe('There is no modifier third.');
  });
});

test.each<[Command, string]>([
  [{ type: 'move', at: LAMP, positionM: [0, 0, 0] }, 'Move L1'],
  [{ type: 'aim', at: LAMP, aim: { panDeg: 0, tiltDeg: 0 } }, 'Aim L1'],
  [{ type: 'remove', at: WEST }, 'Remove West wall'],
  [{ type: 'add', at: { kind: 'mark', id: 'm2' }, value: { name: 'M2', positionM: [0, 0, 0] } }, 'Add M2'],
  [{ type: 'patch', at: LAMP, fields: { level: 1 } }, 'Set level of L1'],
  [{ type: 'patch', at: LAMP, fields: { off: true } }, 'Turn off L1'],
  [{ type: 'patch', at: LAMP, fields: {}, clear: ['off'] }, 'Turn on L1'],
  [{ type: 'patch', at: LAMP, fields: { name: 'L9' } }, 'Rename L1'],
  [{ type: 'patch', at: LAMP, fields: { name: 'L9', level: 1 } }, 'Change L1'],
  [{ type: 'patch', at: SUN, fields: { altitudeDeg: 1, azimuthDeg: 2 } }, 'Turn Sun'],
  [{ type: 'patch', at: QUAY, fields: { leftM: 1 } }, 'Move quay'],
  [{ type: 'patchScene', part: 'scene', fields: { northDeg: 2 } }, 'Turn north'],
  [{ type: 'patchScene', part: 'display', fields: {} }, 'Change units'],
  [{ type: 'copySetup', setupId: 'a', id: 'c', name: 'C' }, 'Copy setup A'],
])('label %#', (command, label) => expect(labelOf(command, sampleScene())).toBe(label));

test('undo, redo and their labels; a new step drops what could be redone; old steps fall off', () => {
  const first = sampleScene();
  const second = done(first, { type: 'patch', at: LAMP, fields: { level: 0.1 } });
  const third = done(second, { type: 'patch', at: LAMP, fields: { level: 0.2 } });
  let history = commit(commit(startHistory(first), second, 'one'), third, 'two');
  expect(commit(history, third, 'nothing')).toBe(history);
  history = undo(history);
  expect([history.present === second, undoLabel(history), redoLabel(history)]).toEqual([true, 'one', 'two']);
  history = undo(undo(history));
  expect(history.present).toBe(first);
  history = redo(redo(redo(history)));
  expect(history.present).toBe(third);
  history = commit(undo(history), first, 'back');
  expect([history.future.length, redoLabel(history)]).toEqual([0, null]);
  const short = commit(commit(startHistory(first), second, 'one', 1), third, 'two', 1);
  expect(short.past).toEqual([{ document: second, label: 'two' }]);
});

test('differences between documents, by kind and by setup', () => {
  const before = sampleScene();
  expect(diffRecords(before, before)).toMatchObject({ parts: [], setupsReordered: false, withinSetups: new Map() });
  let after = done(before, { type: 'move', at: LAMP, positionM: [0, 0, 3] });
  after = done(after, { type: 'remove', at: NET });
  after = done(after, { type: 'add', at: { kind: 'mark', id: 'tape' }, value: { name: 'T', positionM: [0, 0, 0] } });
  after = done(after, { type: 'patch', at: WEST, fields: { reflectance: 0.1 } });
  after = done(after, { type: 'patchScene', part: 'camera', fields: { tStop: 8 } });
  after = done(after, { type: 'moveSetup', setupId: 'b', index: 0 });
  const diff = diffRecords(before, after);
  const none = { added: [], removed: [], changed: [] };
  expect(diff).toEqual({
    surfaces: { ...none, changed: ['west'] },
    meters: none,
    marks: { ...none, added: ['tape'] },
    groups: { ...none, changed: ['shaft'] },
    kit: none,
    circuits: none,
    webs: none,
    pictures: none,
    dimensions: none,
    setups: { ...none, changed: ['a'] },
    setupsReordered: true,
    withinSetups: new Map([
      ['a', { sources: { ...none, changed: ['key-lamp'] }, modifiers: { ...none, removed: ['side-net'] } }],
    ]),
    parts: ['camera'],
  });
});
