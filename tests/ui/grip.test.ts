/**
 * Grip helpers in the scene: one step of the history each, exact undo, a preview that leaves the scene alone, and what was
 * placed taken out again to the last bit, whatever figures were asked for.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatFault, loadScene } from '../../src/scene/load';
import { saveScene } from '../../src/scene/save';
import type { Lamp, SceneDocument, Setup } from '../../src/scene/schema';
import type { GripRequest } from '../../src/sim/grip/gripRequest';
import { planGrip } from '../../src/sim/grip/planGrip';
import { rigsFromStore, rigsToStore } from '../../src/ui/storage/storedRigs';
import { changeTo, isSame } from '../../src/ui/grip/setupChange';
import { stands, without, type GripMade } from '../../src/ui/grip/gripStore';
import { madeOf } from '../../src/ui/grip/opening';
import { createDocumentStore, execute, redoStep, setDraft, undoStep } from '../../src/ui/stores/document';
import { disc, WALL_ID, wallX0 } from '../validation/judgementScenes';
import { SETUP } from '../validation/scenes';
import { LAMP_ID, netEntry, playing } from '../sim/mends/scenes';

const wide = { shape: { kind: 'rectangle' as const, widthM: 2.4, heightM: 2.4 } };
const scene = (): SceneDocument =>
  playing(
    { source: disc([3, -1.6, 2], [0, 0.2, 1.5], 0.03, 20_000), wall: wallX0(-1, 1.4, 1, 2) },
    {
      kit: {
        single: netEntry(0.5, 3, 2.4, 2.4),
        double: netEntry(1, 3, 2.4, 2.4),
        flag: { name: 'Flag', kind: 'grip', count: 2, grip: { ...wide, material: { kind: 'opaque' } } },
        mirror: {
          name: 'Mirror',
          kind: 'grip',
          count: 1,
          grip: { ...wide, material: { kind: 'mirror', reflectance: 0.88 } },
        },
      },
    },
  );

const common = { lampId: LAMP_ID, surfaceId: WALL_ID };
const share = fc.integer({ min: 0, max: 100 }).map((percent) => percent / 100);
const requests: fc.Arbitrary<GripRequest> = fc.oneof(
  fc.record({
    helper: fc.constant('nets' as const),
    lampId: fc.constant(LAMP_ID),
    surfaceId: fc.constant(WALL_ID),
    distanceM: fc.double({ min: 0.2, max: 1.5, noNaN: true }),
    turnDeg: fc.integer({ min: -30, max: 30 }),
    nets: fc.array(fc.record({ stops: fc.constantFrom(0.5, 1), coverShare: share }), { minLength: 1, maxLength: 3 }),
  }),
  fc.record({
    helper: fc.constant('flag' as const),
    lampId: fc.constant(LAMP_ID),
    wantedSurfaceId: fc.constant(WALL_ID),
    dark: fc.record({
      surfaceId: fc.constant(WALL_ID),
      side: fc.constantFrom('right' as const, 'left' as const, 'above' as const, 'below' as const),
      lineM: fc.double({ min: 0.2, max: 0.8, noNaN: true }),
    }),
    distanceM: fc.double({ min: 0.3, max: 1.5, noNaN: true }),
    edge: fc.constantFrom('dark' as const, 'half' as const),
  }),
  fc
    .record({ pathM: fc.double({ min: 4.5, max: 9, noNaN: true }), way: fc.integer({ min: 0, max: 2 }) })
    .map((figures) => ({ helper: 'mirror' as const, ...common, ...figures })),
  fc
    .record({
      grades: fc.constantFrom([0.5], [1], [1, 0.5], [1, 1]),
      clockDeg: fc.integer({ min: 0, max: 359 }),
    })
    .map((figures) => ({ helper: 'halfScrim' as const, ...common, ...figures })),
);

const setupOf = (document: SceneDocument): Setup => document.setups.find(({ id }) => id === SETUP)!;
function placedBy(
  document: SceneDocument,
  request: GripRequest,
  planned: Setup,
  pieceIds: readonly string[],
): GripMade {
  return {
    id: 'made-1',
    helper: request.helper,
    setupId: SETUP,
    lampId: LAMP_ID,
    request,
    pieces: Object.fromEntries(pieceIds.map((id) => [id, planned.modifiers[id]!])),
    lampBefore: setupOf(document).sources[LAMP_ID] as Lamp,
    lampAfter: planned.sources[LAMP_ID] as Lamp,
  };
}

test('any helper: previewed without a trace, done as one step, taken back and done again exactly', () => {
  let count = 0;
  fc.assert(
    fc.property(requests, (request) => {
      const store = createDocumentStore(scene(), 'scene.json');
      const before = store.getState().history.present;
      const text = saveScene(before);
      const plan = planGrip(before, SETUP, request);
      if (!plan.ok) return;
      count += 1;
      const command = changeTo(setupOf(before), plan.setup, 'Grip')!;
      setDraft(store, command);
      expect(store.getState().history.present).toBe(before);
      expect(setupOf(store.getState().shown)).toEqual(plan.setup);
      setDraft(store, null);
      expect(store.getState().shown).toBe(before);
      expect(saveScene(before)).toBe(text);

      expect(execute(store, command)).toBeNull();
      const after = store.getState().history.present;
      expect(store.getState().history.past).toHaveLength(1);
      const loaded = loadScene(saveScene(after), 'scene.json');
      expect(loaded.ok ? [] : loaded.faults.map(formatFault)).toEqual([]);
      const made = placedBy(before, request, plan.setup, plan.pieceIds);
      expect(stands(after, made)).toBe(true);
      expect(without(after, made)).toEqual(before);
      // As after a reload: through plain data, and what has gone since is left out.
      const kept: unknown = JSON.parse(JSON.stringify(rigsToStore([made], after)));
      expect(rigsFromStore(kept, after)).toEqual([made]);
      expect(rigsFromStore(kept, before)).toEqual([]);

      undoStep(store);
      expect(store.getState().history.present).toBe(before);
      expect(stands(before, made)).toBe(false);
      redoStep(store);
      expect(store.getState().history.present).toBe(after);
    }),
    { numRuns: 40 },
  );
  // Most of what is asked for can be had; else nothing was tested.
  expect(count).toBeGreaterThan(15);
});

describe('adjusting what was placed', () => {
  const request: GripRequest = {
    helper: 'nets',
    ...common,
    distanceM: 0.5,
    turnDeg: 0,
    nets: [
      { stops: 1, coverShare: 0.6 },
      { stops: 1, coverShare: 0.3 },
    ],
  };
  const placed = (of: GripRequest) => {
    const document = scene();
    const plan = planGrip(document, SETUP, of);
    if (!plan.ok) throw new Error(plan.sentence);
    return {
      document,
      after: { ...document, setups: [plan.setup] },
      made: placedBy(document, of, plan.setup, plan.pieceIds),
    };
  };

  test('fewer nets take the place of the old ones, in one step', () => {
    const { document, after, made } = placed(request);
    const fewer = planGrip(without(after, made), SETUP, { ...request, nets: [{ stops: 0.5, coverShare: 0.5 }] });
    if (!fewer.ok) throw new Error(fewer.sentence);
    const command = changeTo(setupOf(after), fewer.setup, 'Grip');
    expect(command?.type === 'sequence' && command.commands.map(({ type }) => type).sort()).toEqual([
      'remove',
      'replace',
    ]);
    expect(fewer.setup).toEqual(
      (planGrip(document, SETUP, { ...request, nets: [{ stops: 0.5, coverShare: 0.5 }] }) as typeof fewer).setup,
    );
  });

  test('a level that was set since then stays; only place and fittings go back', () => {
    const mirror: GripRequest = { helper: 'mirror', ...common, pathM: 6, way: 0 };
    const { document, after, made } = placed(mirror);
    const lamp = setupOf(after).sources[LAMP_ID] as Lamp;
    const dimmed = {
      ...after,
      setups: [{ ...setupOf(after), sources: { [LAMP_ID]: { ...lamp, level: 0.4 } } }],
    };
    const base = without(dimmed, made);
    const before = setupOf(document).sources[LAMP_ID] as Lamp;
    expect(setupOf(base).sources[LAMP_ID]).toEqual({ ...before, level: 0.4 });
    expect(setupOf(base).modifiers).toEqual({});
  });

  test('a flag and a mirror of before a reload are adjusted; data that is not sound is left out', () => {
    const flag: GripRequest = {
      helper: 'flag',
      lampId: LAMP_ID,
      wantedSurfaceId: WALL_ID,
      dark: { surfaceId: WALL_ID, side: 'right', lineM: 0.5 },
      distanceM: 1,
      edge: 'dark',
    };
    for (const asked of [flag, { helper: 'mirror', ...common, pathM: 6, way: 0 } as const]) {
      const { document, after, made } = placed(asked);
      const [stored] = rigsToStore([made], after);
      const rigs = rigsFromStore(
        [{ ...stored, pieces: 3 }, { ...stored, request: { ...asked, lampId: 'other' } }, null, stored],
        after,
      );
      const [id] = Object.keys(made.pieces);
      const [found] = madeOf({ open: null, made: rigs }, after, SETUP, { kind: 'modifier', id: id! });
      expect(found?.request).toEqual(asked);
      expect(without(after, found!)).toEqual(document);
      expect(rigs).toHaveLength(1);
    }
    expect(rigsFromStore('none', scene())).toEqual([]);
  });

  test('a half scrim that somebody has changed by hand is no longer the helper’s', () => {
    const { after, made } = placed({ helper: 'halfScrim', ...common, grades: [1], clockDeg: 90 });
    expect(stands(after, made)).toBe(true);
    const lamp = setupOf(after).sources[LAMP_ID] as Lamp;
    const { accessories: _gone, ...bare } = lamp;
    const changed = { ...after, setups: [{ ...setupOf(after), sources: { [LAMP_ID]: bare } }] };
    expect(stands(changed, made)).toBe(false);
  });

  test('nets of an earlier day are found by their letter and the lamp that they face; moved ones are read anew', () => {
    const { after, made } = placed(request);
    const [found, ...others] = madeOf({ open: null, made: [] }, after, SETUP, { kind: 'modifier', id: 'net-a2' });
    expect(others).toEqual([]);
    expect(found).toMatchObject({ helper: 'nets', lampId: LAMP_ID, request: null, pieces: made.pieces });
    const ofLamp = (document: SceneDocument): (GripRequest | null)[] =>
      madeOf({ open: null, made: [made] }, document, SETUP, { kind: 'source', id: LAMP_ID }).map((one) => one.request);
    expect(ofLamp(after)).toEqual([request]);
    const net = setupOf(after).modifiers['net-a1']!;
    const [x, y, z] = net.pose.positionM;
    const shifted = { ...net, pose: { ...net.pose, positionM: [x, y + 0.05, z] as [number, number, number] } };
    const modifiers = { ...setupOf(after).modifiers, 'net-a1': shifted };
    expect(ofLamp({ ...after, setups: [{ ...setupOf(after), modifiers }] })).toEqual([null]);
  });

  test('half scrims of an earlier day are read off the lantern', () => {
    const scrim: GripRequest = { helper: 'halfScrim', ...common, grades: [1, 0.5], clockDeg: 75 };
    const { document, after } = placed(scrim);
    const [found] = madeOf({ open: null, made: [] }, after, SETUP, { kind: 'source', id: LAMP_ID });
    expect(found?.request).toEqual(scrim);
    expect(without(after, found!)).toEqual(document);
  });

  test('an adjustment that was taken back leaves the first one to adjust, once', () => {
    const { document, after, made } = placed(request);
    const later = { ...request, distanceM: 0.8 } as GripRequest;
    const plan = planGrip(document, SETUP, later);
    if (!plan.ok) throw new Error(plan.sentence);
    const second = { ...placedBy(document, later, plan.setup, plan.pieceIds), id: 'made-2' };
    const ids = (scene: SceneDocument): string[] =>
      madeOf({ open: null, made: [made, second] }, scene, SETUP, { kind: 'source', id: LAMP_ID }).map(({ id }) => id);
    expect(ids({ ...document, setups: [plan.setup] })).toEqual(['made-2']);
    expect(ids(after)).toEqual(['made-1']);
    expect(ids(document)).toEqual([]);
  });

  test('nothing to change is no command', () => {
    const { document } = placed(request);
    expect(changeTo(setupOf(document), structuredClone(setupOf(document)), 'Grip')).toBeNull();
    expect(isSame({ a: 1, b: [1, { c: null }] }, { b: [1, { c: null }], a: 1 })).toBe(true);
    expect(isSame({ a: [1] }, { a: { 0: 1 } })).toBe(false);
  });
});
