import { isDeepStrictEqual as same } from 'node:util';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { applyCommand, labelOf, type Command, type Fields, type Thing, type ThingRef } from '../../src/scene/commands';
import { emptyScene } from '../../src/scene/emptyScene';
import { commit, startHistory, undo } from '../../src/scene/history';
import { loadScene } from '../../src/scene/load';
import { saveScene } from '../../src/scene/save';
import type { SceneDocument } from '../../src/scene/schema';
import { sampleScene } from './sample';

/** Drawn on a uniform grid: fc.double spreads over exponents, so most of its draws would be almost 0. */
const within = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1000 }).map((step) => min + ((max - min) * step) / 1000);
/** Mostly sound numbers, with those that must be refused, and the -0 that JSON cannot keep. */
const number = fc.oneof(
  { weight: 8, arbitrary: within(-20, 20) },
  { weight: 1, arbitrary: fc.constantFrom(Number.NaN, Infinity, -0, 1e300, 5e-324, 0.1 + 0.2) },
);
const share = fc.oneof(
  { weight: 8, arbitrary: within(0, 1) },
  { weight: 1, arbitrary: fc.constantFrom(-1, Number.NaN, -0) },
);
const point = fc.tuple(number, number, number);
const aim = fc.oneof(
  fc.record({ panDeg: number, tiltDeg: number }),
  fc.record({ atM: point, rollDeg: number }, { requiredKeys: ['atM'] }),
);
const id = fc.constantFrom(
  'key-lamp',
  'side-net',
  'face',
  'west',
  'quay',
  'far-wall',
  'sun',
  'n1',
  'constructor',
  'spot',
);
const setupId = fc.constantFrom('a', 'b', 'c');
const text = fc.oneof(fc.string({ maxLength: 6 }), fc.constantFrom('L1', '\ud800', '__proto__', 'a\nb'));

const at: fc.Arbitrary<ThingRef> = fc.oneof(
  fc.record({ kind: fc.constantFrom('source', 'modifier'), setupId, id }),
  fc.record({ kind: fc.constantFrom('surface', 'meter', 'mark', 'group', 'kitEntry', 'circuit'), id }),
  fc.record({ kind: fc.constant('opening' as const), surfaceId: fc.constantFrom('west', 'far-wall'), id }),
);
const rectangle = fc.record({ kind: fc.constant('rectangle' as const), widthM: number, heightM: number });
const pose = fc.record({ positionM: point, aim });
const lamp = fc.record({
  type: fc.constant('lamp' as const),
  name: text,
  level: share,
  pose,
  emitter: fc.constantFrom({ shape: 'point' as const }, { shape: 'disc' as const, diameterM: 0.2 }),
  distribution: fc.record({ kind: fc.constant('beam' as const), beamAngleDeg: number, fieldAngleDeg: number }),
  output: fc.record({ kind: fc.constant('candela' as const), candela: number }),
});
const modifier = fc.record({
  name: text,
  pose,
  shape: rectangle,
  material: fc.record({ kind: fc.constant('net' as const), stops: number }),
});
const meter = fc.record({ name: text, positionM: point, receptor: fc.constantFrom('flat', 'dome'), aim });
const surface = fc.record({
  name: text,
  kind: fc.constantFrom('wall', 'floor'),
  pose,
  shape: rectangle,
  reflectance: share,
});
const opening = fc.record({ leftM: within(0, 4), sillM: within(0, 2), shape: rectangle });
const mark = fc.record({ name: text, positionM: point });
const group = fc.record({ name: text, memberIds: fc.array(id, { maxLength: 2 }) });
const value = fc.oneof(lamp, modifier, meter, surface, opening, mark, group) as fc.Arbitrary<Thing>;
const fields = fc.record(
  {
    name: text,
    level: share,
    off: fc.boolean(),
    reflectance: share,
    pose,
    shape: rectangle,
    thicknessM: number,
    leftM: number,
  },
  { requiredKeys: [] },
);
/** One or two fields at a time, so that often enough all of them belong to the thing. */
const fewFields = fields.map((all) => Object.fromEntries(Object.entries(all).slice(0, 2)) as Fields);
const clear = fc.subarray(['level', 'reflectance', 'openings', 'name', 'locked']).map((keys) => keys.slice(0, 1));

const command = fc.oneof(
  fc.record({ type: fc.constantFrom('add' as const, 'replace' as const), at, value }),
  fc.record(
    { type: fc.constant('patch' as const), at, fields: fewFields, clear },
    { requiredKeys: ['type', 'at', 'fields'] },
  ),
  fc.record({ type: fc.constant('remove' as const), at }),
  fc.record({ type: fc.constant('move' as const), at, positionM: point }),
  fc.record({ type: fc.constant('aim' as const), at, aim }),
  fc.record({ type: fc.constant('copySetup' as const), setupId, id: setupId, name: text }),
  fc.record({ type: fc.constant('removeSetup' as const), setupId }),
  fc.record({ type: fc.constant('moveSetup' as const), setupId, index: fc.integer({ min: -1, max: 4 }) }),
  fc.record({
    type: fc.constant('patchScene' as const),
    part: fc.constant('camera' as const),
    fields: fc.record({ tStop: number }),
  }),
  fc.record({
    type: fc.constant('patchScene' as const),
    part: fc.constant('story' as const),
    fields: fc.record({ keyMeterId: id, ambienceLx: number }, { requiredKeys: [] }),
  }),
) as fc.Arbitrary<Command>;

// Compared by node:util: an id may be "constructor", which the test library takes for the type of the record.
test('property: every document that commands reach saves and loads again equal; undoing all gives the very first', () => {
  let accepted = 0;
  fc.assert(
    fc.property(fc.boolean(), fc.array(command, { minLength: 5, maxLength: 30 }), (full, commands) => {
      const first: SceneDocument = full ? sampleScene() : emptyScene();
      const untouched = JSON.stringify(first);
      let history = startHistory(first);
      for (const next of commands) {
        const before = JSON.stringify(history.present);
        const result = applyCommand(history.present, next);
        expect(JSON.stringify(history.present)).toBe(before);
        expect(labelOf(next, history.present)).not.toBe('');
        if (!result.ok) {
          expect(result.fault).toMatch(/^[^\n]+\.$/);
          continue;
        }
        accepted++;
        history = commit(history, result.document, labelOf(next));
        // Logged and done again, the command gives the same document.
        const again = applyCommand(JSON.parse(before) as SceneDocument, JSON.parse(JSON.stringify(next)) as Command);
        expect(same(again, { ok: true, document: result.document })).toBe(true);
      }
      const loaded = loadScene(saveScene(history.present), 'x.json');
      expect(same(loaded, { ok: true, document: history.present })).toBe(true);
      while (history.past.length > 0) history = undo(history);
      expect(history.present).toBe(first);
      expect(JSON.stringify(first)).toBe(untouched);
    }),
    { numRuns: 150 },
  );
  // Enough commands get through that the property says something.
  expect(accepted).toBeGreaterThan(150);
});

test('property: anything at all in place of a command is refused or done, never thrown', () => {
  const scene = sampleScene();
  fc.assert(
    fc.property(fc.anything(), (anything) => {
      const result = applyCommand(scene, anything as Command);
      expect(result.ok).toBe(false);
    }),
  );
  fc.assert(
    fc.property(
      command,
      fc.constantFrom('at', 'value', 'fields', 'positionM', 'setupId', 'clear'),
      fc.anything(),
      (one, key, odd) => {
        const result = applyCommand(scene, { ...one, [key]: odd } as Command);
        if (result.ok) expect(loadScene(saveScene(result.document), 'x').ok).toBe(true);
      },
    ),
  );
});
