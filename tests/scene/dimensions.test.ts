/** Dimensions follow what they are tied to, go with it, and open with the scene. Lengths by hand. */
import { describe, expect, test } from 'vitest';
import { applyCommand, type Command } from '../../src/scene/commands';
import { dimensionLine, measured } from '../../src/scene/dimensions';
import { formatFault, loadScene } from '../../src/scene/load';
import { saveScene } from '../../src/scene/save';
import type { SceneDocument } from '../../src/scene/schema';
import type { Dimension, DimensionEnd } from '../../src/scene/schemaPlan';
import { tinyScene } from '../ui/tinyScene';

const LAMP: DimensionEnd = { kind: 'source', id: 'l1' };
const LEFT: DimensionEnd = { kind: 'surface', id: 'north-wall', side: 'left' };
const RIGHT: DimensionEnd = { kind: 'surface', id: 'north-wall', side: 'right' };
const JAMB: DimensionEnd = { kind: 'opening', surfaceId: 'north-wall', id: 'window-1', side: 'right' };
const METER: DimensionEnd = { kind: 'meter', id: 'm1' };
const between = (from: DimensionEnd, to: DimensionEnd, offsetM?: number): Dimension => ({
  name: 'D',
  from,
  to,
  ...(offsetM !== undefined && { offsetM }),
});
const withOne = (dimension: Dimension): SceneDocument => ({ ...tinyScene(), dimensions: { d: dimension } });
const done = (scene: SceneDocument, command: Command): SceneDocument => {
  const result = applyCommand(scene, command);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
};
const lengthOf = (scene: SceneDocument, setupId = 'a'): number | undefined =>
  measured(scene, setupId, scene.dimensions!['d']!)?.lengthM;

describe('lengths on the plan', () => {
  test.each([
    // The lit face looks down the plan (pan 180): its left end is at x = 0, y = 5, its right end at x = 7.
    ['along the wall', between(LEFT, RIGHT), 7],
    // Left edge of the window 2 m from the left, 1.2 m wide.
    ['wall corner to the far jamb', between(LEFT, JAMB), 3.2],
    // Lamp at (2, 1, 2), meter at (3, 4, 1): heights do not count, so the root of 1 + 9.
    ['lamp to meter', between(LAMP, METER), Math.sqrt(10)],
    ['a free point', between(METER, { atM: [3, 0, 9] }), 4],
    ['the middle of a wall', between({ kind: 'surface', id: 'north-wall' }, { atM: [3.5, 1, 0] }), 4],
  ])('%s', (_what, dimension, lengthM) => expect(lengthOf(withOne(dimension))).toBeCloseTo(lengthM, 12));

  test('the line stands off to the left of its way', () => {
    const scene = withOne(between({ atM: [1, 1, 0] }, { atM: [5, 1, 0] }, 0.3));
    expect(dimensionLine(scene, 'a', scene.dimensions!['d']!)).toEqual({ from: [1, 1.3], to: [5, 1.3], lengthM: 4 });
    const spot = withOne(between({ atM: [1, 1, 0] }, { atM: [1, 1, 5] }));
    expect(dimensionLine(spot, 'a', spot.dimensions!['d']!)).toBeNull();
  });
});

describe('tied ends', () => {
  const scene = withOne(between(LAMP, LEFT));
  test('follow the lamp that is moved, setup by setup', () => {
    expect(lengthOf(scene)).toBeCloseTo(Math.hypot(2, 4), 12);
    const at = { kind: 'source', setupId: 'a', id: 'l1' } as const;
    expect(lengthOf(done(scene, { type: 'move', at, positionM: [0, 2, 2] }))).toBeCloseTo(3, 12);
    // In setup B there is no such lamp: nothing is measured there, and the dimension stays.
    expect(lengthOf(scene, 'b')).toBeUndefined();
  });
  test('go with their thing, and come back with it', () => {
    const gone = done(scene, { type: 'remove', at: { kind: 'source', setupId: 'a', id: 'l1' } });
    expect(gone.dimensions).toEqual({});
    const copied = done(scene, { type: 'copySetup', setupId: 'a', id: 'c', name: 'C' });
    const one = done(copied, { type: 'remove', at: { kind: 'source', setupId: 'a', id: 'l1' } });
    expect(Object.keys(one.dimensions ?? {})).toEqual(['d']);
    const windowed = withOne(between(JAMB, LEFT));
    const at = { kind: 'opening', surfaceId: 'north-wall', id: 'window-1' } as const;
    expect(done(windowed, { type: 'remove', at }).dimensions).toEqual({});
    const walled = done(windowed, { type: 'remove', at: { kind: 'surface', id: 'north-wall' } });
    expect(walled.dimensions).toEqual({});
  });
  test('are kept in the file, and one that leads nowhere is told in one line', () => {
    expect(loadScene(saveScene(scene), 'x.json')).toStrictEqual({ ok: true, document: scene });
    const lost = withOne(between({ kind: 'mark', id: 'tape' }, LEFT));
    const loaded = loadScene(JSON.stringify(lost, null, 1), 'x.json');
    expect(loaded.ok ? [] : loaded.faults.map(formatFault)).toEqual([
      expect.stringMatching(/^x\.json, line \d+, dimensions\.d\.from\.id: found "tape", expected the id of a mark/),
    ]);
    const added = applyCommand(tinyScene(), {
      type: 'add',
      at: { kind: 'dimension', id: 'd' },
      value: between(LAMP, { kind: 'meter', id: 'm9' }),
    });
    expect(added.ok ? '' : added.fault).toMatch(/found "m9", expected the id of a meter in the scene/);
  });
});
