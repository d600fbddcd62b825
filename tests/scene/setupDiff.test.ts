import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyCommand, type Command } from '../../src/scene/commands';
import type { Lamp, Modifier, SceneDocument, Setup } from '../../src/scene/schema';
import { setupDifferences, type Change } from '../../src/scene/setupDiff';
import { largeScene } from '../large/largeScene';

const lamp: Lamp = {
  type: 'lamp',
  name: 'L1',
  pose: { positionM: [0, 0, 2], aim: { panDeg: 350, tiltDeg: -10 } },
  emitter: { shape: 'disc', diameterM: 0.15 },
  distribution: { kind: 'beam', beamAngleDeg: 26 },
  output: { kind: 'candela', candela: 30_000 },
  colour: { cctK: 3200 },
};
const net: Modifier = {
  name: 'N1',
  pose: { positionM: [1, 1, 1.5], aim: { panDeg: 0, tiltDeg: 0 } },
  shape: { kind: 'rectangle', widthM: 0.6, heightM: 0.9 },
  material: { kind: 'net', stops: 0.5 },
};
const setup = (sources: Setup['sources'], modifiers: Setup['modifiers'] = {}, id = 'a'): Setup => ({
  id,
  name: id.toUpperCase(),
  sources,
  modifiers,
});
const lampChanges = (after: Partial<Lamp>, before: Partial<Lamp> = {}): readonly Change[] =>
  setupDifferences(setup({ l1: { ...lamp, ...before } }), setup({ l1: { ...lamp, ...after } }))[0]?.changes ?? [];
const netChanges = (after: Partial<Modifier>): readonly Change[] =>
  setupDifferences(setup({}, { n1: net }), setup({}, { n1: { ...net, ...after } }))[0]?.changes ?? [];

describe('a lamp', () => {
  it('is moved by the difference of its places', () => {
    const pose = { ...lamp.pose, positionM: [0.4, -0.3, 2.25] as [number, number, number] };
    expect(lampChanges({ pose })).toEqual([{ what: 'moved', byM: [0.4, -0.3, 0.25] }]);
  });
  it('is turned the short way round, over north as well', () => {
    const pose = { ...lamp.pose, aim: { panDeg: 20, tiltDeg: -14, rollDeg: -5 } };
    expect(lampChanges({ pose })).toEqual([{ what: 'turned', panDeg: 30, tiltDeg: -4, rollDeg: -5 }]);
  });
  it('that is aimed at a point and moved past it is turned as well: 45 degrees from beside, 3 m off', () => {
    // At (0, 0, 2), a point at (0, 3, 2) lies at pan 0; from (3, 0, 2) it lies at pan -45.
    const aim = { atM: [0, 3, 2] as [number, number, number] };
    const before = { pose: { positionM: [0, 0, 2] as [number, number, number], aim } };
    const [moved, turned] = lampChanges({ pose: { positionM: [3, 0, 2], aim } }, before);
    expect(moved).toEqual({ what: 'moved', byM: [3, 0, 0] });
    expect(turned).toMatchObject({ what: 'turned', tiltDeg: 0, rollDeg: 0 });
    expect(turned?.what === 'turned' && turned.panDeg).toBeCloseTo(-45, 9);
  });
  it('aimed by angles where it was aimed at a point, the same way, is not turned', () => {
    const before = {
      pose: { positionM: [0, 0, 2] as [number, number, number], aim: { atM: [2, 0, 2] as [number, number, number] } },
    };
    expect(lampChanges({ pose: { positionM: [0, 0, 2], aim: { panDeg: 90, tiltDeg: 0 } } }, before)).toEqual([]);
  });
  it('is dimmed, switched and coloured; a level that is absent is full', () => {
    expect(lampChanges({ level: 0.5 })).toEqual([{ what: 'level', from: 1, to: 0.5 }]);
    expect(lampChanges({ level: 1 })).toEqual([]);
    expect(lampChanges({ off: true })).toEqual([{ what: 'switched', isOn: false }]);
    expect(lampChanges({ off: false })).toEqual([]);
    expect(lampChanges({ colour: { cctK: 5600 } })).toEqual([
      { what: 'colour', from: { cctK: 3200 }, to: { cctK: 5600 } },
    ]);
  });
  it('is dressed: alike accessories are set aside, one of the same kind is set otherwise, the rest come and go', () => {
    const half = { kind: 'wireScrim', stops: 1, half: { clockDeg: 90 } } as const;
    const whole = { kind: 'wireScrim', stops: 0.5 } as const;
    const snoot = { kind: 'snoot', lengthM: 0.25, diameterM: 0.15 } as const;
    const gel = { kind: 'gel', transmittance: 0.6 } as const;
    expect(lampChanges({ accessories: [gel, half] }, { accessories: [half, snoot] })).toEqual([
      { what: 'putOn', accessory: gel },
      { what: 'takenOff', accessory: snoot },
    ]);
    expect(lampChanges({ accessories: [whole] }, { accessories: [half] })).toEqual([
      { what: 'reset', from: half, to: whole },
    ]);
    expect(lampChanges({ accessories: [half, whole] }, { accessories: [whole, half] })).toEqual([]);
  });
  it('whose other parts differ names each of them', () => {
    expect(lampChanges({ distribution: { kind: 'lambertian' }, notes: 'mind the cable' })).toEqual([
      { what: 'other', parts: ['distribution', 'notes'] },
    ]);
  });
});

describe('grip', () => {
  it('changes its material, its size and its name', () => {
    expect(netChanges({ material: { kind: 'net', stops: 1 } })).toEqual([
      { what: 'material', from: net.material, to: { kind: 'net', stops: 1 } },
    ]);
    const shape = { kind: 'rectangle', widthM: 1.2, heightM: 0.9 } as const;
    expect(netChanges({ shape })).toEqual([{ what: 'shape', from: net.shape, to: shape }]);
    expect(netChanges({ name: 'N2' })).toEqual([{ what: 'renamed', from: 'N1', to: 'N2' }]);
  });
});

describe('which thing is which', () => {
  it('goes by id, then by a name that only one on each side has', () => {
    const after = setup({ fresh: { ...lamp, level: 0.5 } }, { n1: net, n2: { ...net, name: 'N2' } });
    expect(setupDifferences(setup({ l1: lamp }, { n1: net }), after)).toEqual([
      { kind: 'source', idBefore: 'l1', idAfter: 'fresh', name: 'L1', changes: [{ what: 'level', from: 1, to: 0.5 }] },
      { kind: 'modifier', idBefore: null, idAfter: 'n2', name: 'N2', changes: [] },
    ]);
  });
  it('leaves namesakes apart, and a sun is no lamp', () => {
    const two = setup({ x: lamp, y: lamp });
    expect(setupDifferences(setup({ l1: lamp }), two).map(({ idBefore, idAfter }) => [idBefore, idAfter])).toEqual([
      ['l1', null],
      [null, 'x'],
      [null, 'y'],
    ]);
    const sun = { type: 'sun', name: 'L1', altitudeDeg: 20, azimuthDeg: 350, normalIlluminanceLx: 60_000 } as const;
    expect(setupDifferences(setup({ l1: lamp }), setup({ l1: sun }))).toHaveLength(2);
    expect(
      setupDifferences(setup({ s: sun }), setup({ s: { ...sun, azimuthDeg: 10, altitudeDeg: 14 } }))[0]!.changes,
    ).toEqual([{ what: 'sunMoved', altitudeDeg: -6, azimuthDeg: 20 }]);
  });
});

describe('of any edits', () => {
  const start = largeScene(5);
  const lampIds = Object.keys(start.setups[0]!.sources);
  const pieceIds = Object.keys(start.setups[0]!.modifiers);
  const edit = fc.oneof(
    fc
      .record({ id: fc.constantFrom(...lampIds), level: fc.integer({ min: 1, max: 99 }) })
      .map(({ id, level }): Command => ({
        type: 'patch',
        at: { kind: 'source', setupId: 'a', id },
        fields: { level: level / 1000 },
      })),
    fc
      .record({ id: fc.constantFrom(...pieceIds), x: fc.integer({ min: 100, max: 200 }) })
      .map(({ id, x }): Command => ({
        type: 'move',
        at: { kind: 'modifier', setupId: 'a', id },
        positionM: [x, 1, 1],
      })),
    fc.constantFrom(...pieceIds).map((id): Command => ({ type: 'remove', at: { kind: 'modifier', setupId: 'a', id } })),
  );
  const done = (scene: SceneDocument, command: Command): SceneDocument => {
    const result = applyCommand(scene, command);
    return result.ok ? result.document : scene;
  };
  const touched = (commands: readonly Command[]): string[] =>
    [...new Set(commands.flatMap((one) => ('at' in one ? [one.at.id] : [])))].sort();

  it('only the things that were touched differ, all of them, and a copy of the setup differs in nothing', () => {
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 6 }), (commands) => {
        const after = commands.reduce(done, start).setups[0]!;
        const differences = setupDifferences(start.setups[0]!, after);
        expect(differences.map(({ idBefore }) => idBefore).sort()).toEqual(touched(commands));
        expect(setupDifferences(after, structuredClone(after))).toEqual([]);
      }),
      { seed: 11, numRuns: 60 },
    );
  });
  it('the way back has what was put in as taken out, and moves the other way', () => {
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 6 }), (commands) => {
        const after = commands.reduce(done, start).setups[0]!;
        const there = setupDifferences(start.setups[0]!, after);
        const back = setupDifferences(after, start.setups[0]!);
        const moves = (list: typeof there, sign: 1 | -1) =>
          list
            .flatMap(({ name, changes }) =>
              changes.flatMap((one) =>
                one.what === 'moved' ? [[name, ...one.byM.map((part) => sign * part + 0)]] : [],
              ),
            )
            .sort();
        expect(back.filter(({ idBefore }) => idBefore === null)).toHaveLength(
          there.filter(({ idAfter }) => idAfter === null).length,
        );
        expect(moves(back, -1)).toEqual(moves(there, 1));
      }),
      { seed: 12, numRuns: 60 },
    );
  });
});
