/** Walls carried by their corners: what is joined goes along, windows stay where they are, refusals say why. Figures by hand. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyCommand, type Command } from '../../src/scene/commands';
import { emptyScene } from '../../src/scene/emptyScene';
import { frameFromPose, worldFromLocal } from '../../src/scene/geometry/frames';
import { commit, startHistory, undo } from '../../src/scene/history';
import { formatFault, loadScene } from '../../src/scene/load';
import { saveScene } from '../../src/scene/save';
import type { Opening, Point2, SceneDocument, Surface } from '../../src/scene/schema';
import { drawnCommand, FIRST_SETTINGS, sillForMiddle } from '../../src/ui/tools/draw/drawnThings';
import { cornerTo, dragCorner, dragWall, nudgeWall, wallFrom, wallTo } from '../../src/ui/tools/wallMoves';
import { endsOf, joinedTo, SIDES, type Side, type WallChange } from '../../src/ui/tools/walls';

const done = (scene: SceneDocument, command: Command): SceneDocument => {
  const result = applyCommand(scene, command);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
};
const after = (scene: SceneDocument, change: WallChange): SceneDocument => {
  if (!change.ok) throw new Error(change.why);
  return done(scene, change.command);
};
const why = (change: WallChange): string => (change.ok ? '' : change.why);

/** Four walls round 4 x 3 m with a floor; wall-2 runs up from (4, 0) to (4, 3). */
function room(): SceneDocument {
  const corners: Point2[] = [
    [0, 0],
    [4, 0],
    [4, 3],
    [0, 3],
  ];
  const drawn = drawnCommand({ ...emptyScene(), surfaces: {} }, 'walls', { corners, isClosed: true }, FIRST_SETTINGS);
  if (!drawn.ok) throw new Error(drawn.fault);
  return done({ ...emptyScene(), surfaces: {} }, drawn.command);
}
const wallOf = (scene: SceneDocument, id: string): Surface => scene.surfaces[id]!;
const ends = (scene: SceneDocument, id: string) => endsOf(wallOf(scene, id))!;
const near = (a: Point2, b: Point2, digits = 9): void => {
  expect(a[0]).toBeCloseTo(b[0], digits);
  expect(a[1]).toBeCloseTo(b[1], digits);
};
const sideAt = (scene: SceneDocument, id: string, [x, y]: Point2): Side => {
  const both = ends(scene, id);
  return SIDES.find((side) => Math.hypot(both[side][0] - x, both[side][1] - y) < 1e-6)!;
};
const floorCorners = (scene: SceneDocument): Point2[] => {
  const floor = wallOf(scene, 'floor-1');
  const ring = floor.shape.kind === 'polygon' ? floor.shape.outlineM : [];
  return ring.map((corner): Point2 => {
    const [x, y] = worldFromLocal(frameFromPose(floor.pose), corner);
    return [x, y];
  });
};
const withWindow = (scene: SceneDocument, id: string, leftM: number): SceneDocument => {
  const value: Opening = { name: 'Window 1', leftM, sillM: 1, shape: { kind: 'rectangle', widthM: 1, heightM: 1 } };
  return done(scene, { type: 'add', at: { kind: 'opening', surfaceId: id, id: 'window-1' }, value });
};
const windowAt = (scene: SceneDocument, id: string): Point2 => {
  const [x, y] = worldFromLocal(frameFromPose(wallOf(scene, id).pose), [
    wallOf(scene, id).openings!['window-1']!.leftM + 0.5,
    1,
  ]);
  return [x, y];
};

describe('ends', () => {
  test('of the walls of a drawn room are its corners, each shared by two', () => {
    const scene = room();
    near(ends(scene, 'wall-2')[sideAt(scene, 'wall-2', [4, 0])], [4, 0]);
    expect(joinedTo(scene, 'wall-2', [4, 3]).map(({ id }) => id)).toEqual(['wall-3']);
    expect(joinedTo(scene, 'wall-2', [4, 0]).map(({ id }) => id)).toEqual(['wall-1']);
  });
  test('a floor and a leaning wall have none', () => {
    const scene = room();
    expect(endsOf(wallOf(scene, 'floor-1'))).toBeNull();
    const wall = wallOf(scene, 'wall-1');
    expect(endsOf({ ...wall, pose: { ...wall.pose, aim: { panDeg: 0, tiltDeg: 10 } } })).toBeNull();
  });
});

/** Wall 3 of the room, 4 m long, as a gable: eaves at 2.5 m, ridge at 4 m over its middle. Its own metres start `fromM` early. */
const GABLE: [number, number][] = [
  [0, 0],
  [4, 0],
  [4, 2.5],
  [2, 4],
  [0, 2.5],
];
function gabled(scene: SceneDocument, fromM = 0): SceneDocument {
  const { pose } = wallOf(scene, 'wall-3');
  const [x, y, z] = worldFromLocal(frameFromPose(pose), [-fromM, 0]);
  const outlineM = GABLE.map(([right, up]): [number, number] => [right + fromM, up]);
  const fields = {
    shape: { kind: 'polygon' as const, outlineM },
    pose: { ...pose, positionM: [x, y, z] as [number, number, number] },
  };
  return done(scene, { type: 'patch', at: { kind: 'surface', id: 'wall-3' }, fields });
}
const outlineOf = (scene: SceneDocument, id: string): readonly Point2[] => {
  const { shape } = wallOf(scene, id);
  return shape.kind === 'polygon' ? shape.outlineM : [];
};
/** One more wall between two places on the plan. */
const withWall = (scene: SceneDocument, corners: readonly Point2[]): SceneDocument => {
  const drawn = drawnCommand(scene, 'walls', { corners, isClosed: false }, FIRST_SETTINGS);
  if (!drawn.ok) throw new Error(drawn.fault);
  return done(scene, drawn.command);
};

describe('a wall cut to a shape', () => {
  const grow = { isFree: true, isJoined: true, stepM: 0.01 };
  test.each([0, 0.7])('goes along: a gable is drawn out evenly, its own metres starting %f m early', (fromM) => {
    const scene = gabled(room(), fromM);
    const next = after(scene, dragWall(scene, 'wall-2', [1, 0], 0.001, grow).change);
    // 5 m for 4: the ridge comes over 2.5 m.
    const expected = [0, 5, 5, 2.5, 0].map((right, index) => [right + fromM, GABLE[index]![1]]);
    outlineOf(next, 'wall-3').forEach((corner, index) => near(corner, expected[index] as [number, number]));
    expect(joinedTo(next, 'wall-2', [5, 3]).map(({ id }) => id)).toEqual(['wall-3']);
    expect(joinedTo(next, 'wall-4', [0, 3]).map(({ id }) => id)).toEqual(['wall-3']);
    expect(loadScene(saveScene(next), 'x').ok).toBe(true);
  });
  test('is carried by its own corners, by figures and by keys, with what is joined to it', () => {
    const scene = gabled(room());
    const side = sideAt(scene, 'wall-3', [4, 3]);
    const typed = after(scene, cornerTo(scene, 'wall-3', side, [4, 4], true));
    near(ends(typed, 'wall-2')[sideAt(typed, 'wall-2', [4, 4])], [4, 4]);
    expect(floorCorners(typed)).toContainEqual([4, 4]);
    const nudged = after(scene, nudgeWall(scene, 'wall-3', 'whole', [0, 0.1], true));
    near(ends(nudged, 'wall-3').left, [ends(scene, 'wall-3').left[0], 3.1]);
    expect(outlineOf(nudged, 'wall-3')).toEqual(GABLE);
  });
  test('a window that would leave its outline holds it, and so does a hole', () => {
    const under: Opening = {
      name: 'Eye',
      leftM: 1.8,
      sillM: 3,
      shape: { kind: 'rectangle', widthM: 0.4, heightM: 0.6 },
    };
    const scene = done(gabled(room()), {
      type: 'add',
      at: { kind: 'opening', surfaceId: 'wall-3', id: 'eye' },
      value: under,
    });
    expect(why(dragWall(scene, 'wall-2', [2, 0], 0.001, grow).change)).toBe('Eye would no longer lie in Wall 3.');
    const holesM: [number, number][][] = [
      [
        [1.8, 3],
        [2.2, 3],
        [2, 3.7],
      ],
    ];
    const cut = done(gabled(room()), {
      type: 'patch',
      at: { kind: 'surface', id: 'wall-3' },
      fields: { shape: { kind: 'polygon', outlineM: GABLE, holesM } },
    });
    expect(why(dragWall(cut, 'wall-2', [2, 0], 0.001, grow).change)).toMatch(
      /^Wall 3 would cross itself or one of its/,
    );
  });
  test('one that leans cannot go along, and says so', () => {
    const scene = room();
    const { pose } = wallOf(scene, 'wall-3');
    const { panDeg } = pose.aim as { panDeg: number };
    const leaning = done(scene, {
      type: 'patch',
      at: { kind: 'surface', id: 'wall-3' },
      fields: { pose: { ...pose, aim: { panDeg, tiltDeg: 5 } } },
    });
    expect(why(dragWall(leaning, 'wall-2', [1, 0], 0.001, grow).change)).toMatch(/^Wall 3 is joined here and leans/);
  });
});

describe('what else goes along', () => {
  const how = { isFree: true, isJoined: true, stepM: 0.01 };
  test('a partition stays against the wall that moves, and against one that is turned by it', () => {
    const across = withWall(room(), [
      [1, 1.5],
      [4, 1.5],
    ]);
    const pulled = after(across, dragWall(across, 'wall-2', [1, 0], 0.001, how).change);
    near(ends(pulled, 'wall-5')[sideAt(pulled, 'wall-5', [5, 1.5])], [5, 1.5]);
    near(ends(pulled, 'wall-5')[sideAt(pulled, 'wall-5', [1, 1.5])], [1, 1.5]);
    const along = withWall(room(), [
      [2, 1],
      [2, 3],
    ]);
    const side = sideAt(along, 'wall-2', [4, 3]);
    const turned = after(along, cornerTo(along, 'wall-2', side, [4, 4], true));
    // Wall 3 now runs from (4, 4) to (0, 3): half way it lies at 3.5.
    near(ends(turned, 'wall-5')[sideAt(turned, 'wall-5', [2, 3.5])], [2, 3.5]);
    const alone = after(across, dragWall(across, 'wall-2', [1, 0], 0.001, { ...how, isJoined: false }).change);
    expect(alone.surfaces['wall-5']).toBe(across.surfaces['wall-5']);
  });
  test('a partition that would be turned about holds the wall', () => {
    const scene = withWall(room(), [
      [3, 1.5],
      [4, 1.5],
    ]);
    expect(why(dragWall(scene, 'wall-2', [-1.5, 0], 0.001, how).change)).toBe('Wall 5 would be turned about.');
  });
  test('the ground for lamps, where its corners lie under those of the room', () => {
    const corners: [number, number][] = [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ];
    const beside = corners.map(([x, y]): [number, number] => [x + 8, y]);
    const lampSpace = { insideM: [corners], outsideM: [beside] };
    const scene = done(room(), { type: 'patchScene', part: 'story', fields: { lampSpace } });
    const next = after(scene, wallFrom(scene, 'wall-2', [5, ends(scene, 'wall-2').left[1]], true));
    expect(next.story?.lampSpace?.insideM).toEqual([floorCorners(next)]);
    expect(next.story?.lampSpace?.outsideM).toEqual([beside]);
  });
  test('a typed place of the whole wall takes all of it along, in one step', () => {
    const scene = room();
    const next = after(scene, wallFrom(scene, 'wall-2', [5, ends(scene, 'wall-2').left[1]], true));
    expect(floorCorners(next)).toEqual([
      [0, 0],
      [5, 0],
      [5, 3],
      [0, 3],
    ]);
    near(ends(next, 'wall-1')[sideAt(next, 'wall-1', [5, 0])], [5, 0]);
    expect(undo(commit(startHistory(scene), next, 'x')).present).toBe(scene);
  });
});

describe('a corner', () => {
  test('takes the joined wall and the floor along, in one step that is taken back whole', () => {
    const scene = room();
    const side = sideAt(scene, 'wall-2', [4, 3]);
    const change = cornerTo(scene, 'wall-2', side, [5, 4], true);
    const next = after(scene, change);
    near(ends(next, 'wall-2')[side], [5, 4]);
    near(ends(next, 'wall-2')[side === 'left' ? 'right' : 'left'], [4, 0]);
    // wall-3 ran from (4, 3) to (0, 3): now from (5, 4), the root of 26 long.
    const shape = wallOf(next, 'wall-3').shape;
    expect(shape.kind === 'rectangle' && shape.widthM).toBeCloseTo(Math.sqrt(26), 8);
    expect(ends(next, 'wall-1')).toEqual(ends(scene, 'wall-1'));
    expect(floorCorners(next)).toContainEqual([5, 4]);
    expect(floorCorners(next)).toHaveLength(4);
    expect(change.ok && change.command.type).toBe('sequence');
    expect(undo(commit(startHistory(scene), next, 'x')).present).toBe(scene);
    expect(loadScene(saveScene(next), 'x').ok).toBe(true);
  });
  test('let go of, it moves alone', () => {
    const scene = room();
    const side = sideAt(scene, 'wall-2', [4, 3]);
    const next = after(scene, cornerTo(scene, 'wall-2', side, [5, 4], false));
    expect(next.surfaces['wall-3']).toBe(scene.surfaces['wall-3']);
    expect(next.surfaces['floor-1']).toBe(scene.surfaces['floor-1']);
  });
  test.each(['wall-3', 'floor-1'])('joined to a locked %s it stays, and says so', (id) => {
    const scene = done(room(), { type: 'patch', at: { kind: 'surface', id }, fields: { locked: true } });
    const side = sideAt(scene, 'wall-2', [4, 3]);
    expect(why(cornerTo(scene, 'wall-2', side, [5, 4], true))).toMatch(/is joined here and locked\. Let go of joined/);
    expect(cornerTo(scene, 'wall-2', side, [5, 4], false).ok).toBe(true);
  });
  test('a floor that would cross itself, a wall of no length, a locked wall: each says why', () => {
    const scene = room();
    const side = sideAt(scene, 'wall-2', [4, 3]);
    expect(why(cornerTo(scene, 'wall-2', side, [2, -1], true))).toBe('Floor would cross itself.');
    expect(why(cornerTo(scene, 'wall-2', side, [4, 0.01], true))).toBe('Wall 2 would be shorter than 5 cm.');
    const locked = done(scene, { type: 'patch', at: { kind: 'surface', id: 'wall-2' }, fields: { locked: true } });
    expect(why(cornerTo(locked, 'wall-2', side, [5, 4], true))).toBe('Wall 2 is locked. Unlock it first.');
  });

  const metres = fc.integer({ min: -3000, max: 9000 }).map((mm) => mm / 1000);
  test('property: whatever it comes to, joined ends still meet, far ends stay, and the file is sound', () =>
    fc.assert(
      fc.property(
        fc.constantFrom('wall-1', 'wall-2', 'wall-3', 'wall-4'),
        fc.constantFrom(...SIDES),
        metres,
        metres,
        fc.boolean(),
        (id, side, x, y, isGabled) => {
          const scene = isGabled ? gabled(room()) : room();
          const before = ends(scene, id);
          const joined = joinedTo(scene, id, before[side])[0]!;
          const change = cornerTo(scene, id, side, [x, y], true);
          if (!change.ok) {
            expect(change.why).toMatch(/^[^\n]{10,120}\.$/);
            return;
          }
          const next = after(scene, change);
          near(ends(next, id)[side], [x, y], 7);
          expect(joinedTo(next, id, [x, y]).map((one) => one.id)).toContain(joined.id);
          const was = ends(scene, joined.id);
          const itsFar = SIDES.find(
            (one) => Math.hypot(was[one][0] - joined.far[0], was[one][1] - joined.far[1]) < 1e-6,
          )!;
          near(ends(next, joined.id)[itsFar], joined.far, 7);
          const loaded = loadScene(saveScene(next), 'x.json');
          expect(loaded.ok ? [] : loaded.faults.map(formatFault)).toEqual([]);
        },
      ),
      { numRuns: 60 },
    ));
});

describe('windows', () => {
  test.each(SIDES)('stay where they are when the %s end moves along', (side) => {
    const scene = withWindow(room(), 'wall-1', 1.5);
    const { left, right } = ends(scene, 'wall-1');
    const way: Point2 = [(right[0] - left[0]) / 4, (right[1] - left[1]) / 4];
    const turn = side === 'right' ? 1 : -1;
    const from = side === 'right' ? right : left;
    const to: Point2 = [from[0] + turn * way[0], from[1] + turn * way[1]];
    const next = after(scene, cornerTo(scene, 'wall-1', side, to, true));
    near(windowAt(next, 'wall-1'), windowAt(scene, 'wall-1'));
  });
  test('keep the wall long enough: 1.5 m beside it and its own metre', () => {
    const scene = withWindow(room(), 'wall-1', 1.5);
    const { left, right } = ends(scene, 'wall-1');
    const at = (lengthM: number): Point2 => [
      left[0] + ((right[0] - left[0]) * lengthM) / 4,
      left[1] + ((right[1] - left[1]) * lengthM) / 4,
    ];
    expect(cornerTo(scene, 'wall-1', 'right', at(2.5), false).ok).toBe(true);
    expect(why(cornerTo(scene, 'wall-1', 'right', at(2.49), false))).toMatch(
      /^Window 1 keeps Wall 1 at 2\.50\sm or more\.$/,
    );
  });
  test('a press in the elevation gives the sill: half the height under it, inside the wall', () => {
    const wall = wallOf(room(), 'wall-1'); // 3 m high
    expect(sillForMiddle(wall, 1.8, FIRST_SETTINGS)).toBe(1.05); // 1.5 m high
    expect(sillForMiddle(wall, 0.2, FIRST_SETTINGS)).toBe(0);
    expect(sillForMiddle(wall, 2.9, FIRST_SETTINGS)).toBe(1.45); // 5 cm of wall stay above it
  });
});

describe('a whole wall', () => {
  const how = { isFree: false, isJoined: true, stepM: 0.01 };
  test('joined, it moves across only: the room grows and stays square', () => {
    const scene = room();
    const { change } = dragWall(scene, 'wall-2', [1.203, 0.7], 0.001, how);
    const next = after(scene, change);
    expect(floorCorners(next)).toEqual([
      [0, 0],
      [5.2, 0],
      [5.2, 3],
      [0, 3],
    ]);
    const shape = wallOf(next, 'wall-1').shape;
    expect(shape.kind === 'rectangle' && shape.widthM).toBeCloseTo(5.2, 9);
    expect(why(dragWall(scene, 'wall-2', [0, 0.7], 0.001, how).change)).toMatch(/^Wall 2 is joined: it moves across/);
  });
  test('past the wall opposite it is refused', () =>
    expect(why(dragWall(room(), 'wall-2', [-5, 0], 0.001, how).change)).toBe('Wall 1 would be turned about.'));
  test('let go of, it slides any way', () => {
    const scene = room();
    const next = after(scene, dragWall(scene, 'wall-2', [1, 0.5], 0.001, { ...how, isJoined: false }).change);
    near(ends(next, 'wall-2').left, [ends(scene, 'wall-2').left[0] + 1, ends(scene, 'wall-2').left[1] + 0.5]);
  });
  test('it comes level with a corner that stands elsewhere, says with which, and Alt lets go', () => {
    const drawn = drawnCommand(
      room(),
      'backdrop',
      {
        corners: [
          [6, 6],
          [8, 6],
        ],
        isClosed: false,
      },
      FIRST_SETTINGS,
    );
    const scene = done(room(), drawn.ok ? drawn.command : (undefined as never));
    const snapped = dragWall(scene, 'wall-2', [2.04, 0], 0.005, how);
    expect(snapped.marks.map(({ word }) => word)).toEqual(['level with Backdrop 1']);
    near(ends(after(scene, snapped.change), 'wall-2').left, [6, ends(scene, 'wall-2').left[1]]);
    const free = dragWall(scene, 'wall-2', [2.04, 0], 0.005, { ...how, isFree: true });
    expect(free.marks).toEqual([]);
    near(ends(after(scene, free.change), 'wall-2').left, [6.04, ends(scene, 'wall-2').left[1]]);
  });
  test('a rectangle of floor stays a rectangle', () => {
    // The empty scene: floor 6 x 5 m, far wall along its far edge. A metre farther makes it 6 x 6.
    const scene = emptyScene();
    const next = after(scene, dragWall(scene, 'far-wall', [0, 1], 0.001, how).change);
    expect(next.surfaces['floor']?.shape).toEqual({ kind: 'rectangle', widthM: 6, heightM: 6 });
    expect(next.surfaces['floor']?.pose.positionM).toEqual([0, 0, 0]);
  });
});

describe('dragged, nudged, typed', () => {
  const how = { isFree: false, isJoined: true };
  test('a dragged corner rests at whole angles and 5 cm, and level with the far end of its neighbour', () => {
    const scene = room();
    const side = sideAt(scene, 'wall-2', [4, 3]);
    // 1 cm a pixel: 4.02 m up and 3 cm aside is 90° off level, so straight up; 4.02 comes to 4.0 m.
    const up = dragCorner(scene, 'wall-2', side, [4.03, 4.02], 0.01, how);
    near(ends(after(scene, up.change), 'wall-2')[side], [4, 4]);
    expect(up.marks.map(({ word }) => word)).toEqual(['at 0°']);
    const level = dragCorner(scene, 'wall-2', side, [4.02, 3.06], 0.01, how);
    expect(level.marks.map(({ word }) => word)).toEqual(['level with Wall 3']);
    near(ends(after(scene, level.change), 'wall-2')[side], [4, 3]);
    // 20 px aside is too far to be drawn back to the upright, though the angle is only 2.9°.
    const aside = dragCorner(scene, 'wall-2', side, [4.2, 4.02], 0.01, how);
    near(ends(after(scene, aside.change), 'wall-2')[side], [4.2, 4.02]);
    expect(aside.marks).toEqual([]);
    const free = dragCorner(scene, 'wall-2', side, [4.033, 4.02], 0.01, { ...how, isFree: true });
    near(ends(after(scene, free.change), 'wall-2')[side], [4.03, 4.02]);
  });
  test('an arrow key moves the wall across by its step, or the chosen corner either way', () => {
    const scene = room();
    const moved = after(scene, nudgeWall(scene, 'wall-2', 'whole', [0.01, 0], true));
    near(ends(moved, 'wall-2').left, [4.01, ends(scene, 'wall-2').left[1]]);
    expect(why(nudgeWall(scene, 'wall-2', 'whole', [0, 0.01], true))).toMatch(/moves across only/);
    const side = sideAt(scene, 'wall-2', [4, 3]);
    near(ends(after(scene, nudgeWall(scene, 'wall-2', side, [0, 0.1], true)), 'wall-2')[side], [4, 3.1]);
  });
  test('typed: 5 m long at the bearing of a 3-4-5 triangle', () => {
    const scene = room();
    const { left } = ends(scene, 'wall-2');
    const bearingDeg = (Math.atan2(3, 4) * 180) / Math.PI;
    const next = after(scene, wallTo(scene, 'wall-2', 'left', { lengthM: 5, bearingDeg }, false));
    near(ends(next, 'wall-2').right, [left[0] + 3, left[1] + 4], 7);
    near(ends(next, 'wall-2').left, left);
    const other = after(scene, wallTo(scene, 'wall-2', 'right', { lengthM: 5, bearingDeg }, false));
    const { right } = ends(scene, 'wall-2');
    near(ends(other, 'wall-2').left, [right[0] - 3, right[1] - 4], 7);
  });
});
