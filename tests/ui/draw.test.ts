/** Drawing on the plan: corners to walls, snapping, openings; what comes out is always a valid document. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyCommand, type Command } from '../../src/scene/commands';
import { emptyScene } from '../../src/scene/emptyScene';
import { frameFromPose, worldFromLocal } from '../../src/scene/geometry/frames';
import { formatFault, loadScene } from '../../src/scene/load';
import { saveScene } from '../../src/scene/save';
import type { Point2, SceneDocument } from '../../src/scene/schema';
import {
  cornerAt,
  likelyStretch,
  reduceDrawing,
  startDrawing,
  stretchOf,
  type Drawing,
} from '../../src/ui/tools/draw/drawing';
import {
  drawnCommand,
  FIRST_SETTINGS,
  freeLeftM,
  markCommand,
  openingCommand,
  type Drawn,
} from '../../src/ui/tools/draw/drawnThings';
import { snapCorner } from '../../src/ui/tools/draw/drawSnap';
import { figuresFault, FIRST_FIGURES, startScene } from '../../src/ui/drafting/starts';
import { commit, startHistory, undo } from '../../src/scene/history';
import { GRIP_CLASSES } from '../../src/scene/kit/gripClasses';
import { gripCommand } from '../../src/ui/drafting/putting';
import { tinyScene } from './tinyScene';

const bare = (): SceneDocument => ({ ...emptyScene(), surfaces: {} });
const done = (scene: SceneDocument, command: Command): SceneDocument => {
  const result = applyCommand(scene, command);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
};
const commandOf = (drawn: Drawn): Command => {
  if (!drawn.ok) throw new Error(drawn.fault);
  return drawn.command;
};
const faultsOf = (scene: SceneDocument): string[] => {
  const loaded = loadScene(saveScene(scene), 'scene.json');
  return loaded.ok ? [] : loaded.faults.map(formatFault);
};
const SQUARE: readonly Point2[] = [
  [0, 0],
  [4, 0],
  [4, 3],
  [0, 3],
];
const through = (kind: Drawing['kind'], corners: readonly Point2[]) =>
  corners.reduce<ReturnType<typeof reduceDrawing>>(
    (result, at) => reduceDrawing(result.drawing, { type: 'corner', at }),
    { drawing: startDrawing(kind) },
  );

describe('corners', () => {
  test('the first corner again closes, the last one again ends, a second press on a lone one does nothing', () => {
    expect(through('walls', [...SQUARE, [0, 0]]).made).toEqual({ corners: SQUARE, isClosed: true });
    expect(through('walls', [SQUARE[0]!, SQUARE[1]!, SQUARE[1]!]).made).toEqual({
      corners: SQUARE.slice(0, 2),
      isClosed: false,
    });
    expect(through('walls', [SQUARE[0]!, SQUARE[0]!])).toEqual({
      drawing: { kind: 'walls', corners: [[0, 0]], at: [0, 0] },
    });
    expect(through('floor', SQUARE.slice(0, 2)).made).toBeUndefined();
    expect(reduceDrawing(through('floor', SQUARE.slice(0, 2)).drawing, { type: 'finish' }).made).toBeUndefined();
  });

  test('typed lengths and directions walk a square back to its first corner', () => {
    const typed = [0, 90, 180, 270].reduce<ReturnType<typeof reduceDrawing>>(
      (result, directionDeg) => reduceDrawing(result.drawing, { type: 'typed', lengthM: 2.5, directionDeg }),
      through('walls', [[1, 1]]),
    );
    expect(typed.made).toEqual({
      corners: [
        [1, 1],
        [1, 3.5],
        [3.5, 3.5],
        [3.5, 1],
      ],
      isClosed: true,
    });
  });

  test('back takes one corner, drop takes all, and a kind starts anew', () => {
    const drawn = through('walls', SQUARE).drawing;
    expect(reduceDrawing(drawn, { type: 'back' }).drawing.corners).toEqual(SQUARE.slice(0, 3));
    expect(reduceDrawing(drawn, { type: 'drop' }).drawing).toEqual(startDrawing('walls'));
    expect(reduceDrawing(drawn, { type: 'kind', kind: 'mark' }).drawing).toEqual(startDrawing('mark'));
  });

  test('the tape holds two corners; a third press measures anew', () => {
    expect(through('measure', SQUARE.slice(0, 3)).drawing.corners).toEqual([SQUARE[2]]);
  });

  // By hand: 3-4-5 triangle; north-east is 45 degrees clockwise from up.
  test('a stretch has the length and direction of a handmade triangle', () => {
    expect(stretchOf([1, 1], [4, 5]).lengthM).toBeCloseTo(5, 12);
    expect(stretchOf([0, 0], [1, 1]).directionDeg).toBeCloseTo(45, 12);
    expect(stretchOf([0, 0], [-1, 0]).directionDeg).toBeCloseTo(270, 12);
    expect(cornerAt([0, 0], Math.SQRT2, 135)).toEqual([1, -1]);
  });
});

describe('walls', () => {
  const inside: Point2 = [2, 1.5];
  const normals = (scene: SceneDocument) =>
    Object.values(scene.surfaces)
      .filter(({ kind }) => kind === 'wall')
      .map(({ pose, shape }) => {
        const frame = frameFromPose(pose);
        const widthM = shape.kind === 'rectangle' ? shape.widthM : NaN;
        const middle = worldFromLocal(frame, [widthM / 2, 0]);
        return (inside[0] - middle[0]) * frame.forward[0] + (inside[1] - middle[1]) * frame.forward[1];
      });

  test.each([
    ['anti-clockwise', SQUARE],
    ['clockwise', [...SQUARE].reverse()],
  ])('a room drawn %s is lit inside and gets a floor', (_, corners) => {
    const made = { corners, isClosed: true };
    const scene = done(bare(), commandOf(drawnCommand(bare(), 'walls', made, FIRST_SETTINGS)));
    expect(Object.values(scene.surfaces).map(({ name }) => name)).toEqual([
      'Wall 1',
      'Wall 2',
      'Wall 3',
      'Wall 4',
      'Floor',
    ]);
    expect(normals(scene).every((towards) => towards > 0)).toBe(true);
    const other = { ...FIRST_SETTINGS, isTurned: true };
    expect(normals(done(bare(), commandOf(drawnCommand(bare(), 'walls', made, other)))).every((it) => it < 0)).toBe(
      true,
    );
    expect(faultsOf(scene)).toEqual([]);
  });

  test('each wall stands from corner to corner', () => {
    const made = { corners: SQUARE, isClosed: true };
    const scene = done(bare(), commandOf(drawnCommand(bare(), 'walls', made, FIRST_SETTINGS)));
    SQUARE.forEach((corner, index) => {
      const { pose, shape } = scene.surfaces[`wall-${index + 1}`]!;
      const frame = frameFromPose(pose);
      const widthM = shape.kind === 'rectangle' ? shape.widthM : NaN;
      const ends = [worldFromLocal(frame, [0, 0]), worldFromLocal(frame, [widthM, 0])].map(([x, y]) => `${x} ${y}`);
      const next = SQUARE[(index + 1) % 4]!;
      expect(ends.sort()).toEqual([`${corner[0]} ${corner[1]}`, `${next[0]} ${next[1]}`].sort());
    });
  });

  test('a room is one step of the history: undo gives the very document back', () => {
    const start = startHistory(bare());
    const command = commandOf(
      drawnCommand(start.present, 'walls', { corners: SQUARE, isClosed: true }, FIRST_SETTINGS),
    );
    expect(undo(commit(start, done(start.present, command), 'Draw a room')).present).toBe(start.present);
  });

  test('a floor over corners covers them, a ceiling too, and looks down', () => {
    for (const kind of ['floor', 'ceiling', 'top', 'levelPlane'] as const) {
      const corners: readonly Point2[] = [...SQUARE, [-1, 1]];
      const drawn = drawnCommand(bare(), kind, { corners, isClosed: true }, { ...FIRST_SETTINGS, levelM: 2 });
      const [surface] = Object.values(done(bare(), commandOf(drawn)).surfaces);
      const frame = frameFromPose(surface!.pose);
      expect(frame.forward[2]).toBeCloseTo(kind === 'ceiling' ? -1 : 1, 12);
      const ring = surface!.shape.kind === 'polygon' ? surface!.shape.outlineM : [];
      ring.forEach((local, index) => {
        const [x, y, z] = worldFromLocal(frame, local);
        expect([x, y]).toEqual(corners[index]!.map((value) => expect.closeTo(value, 9)));
        expect(z).toBeCloseTo(kind === 'floor' ? 0 : 2, 9);
      });
    }
  });

  test('a floor that crosses itself is refused, and corners in one line have no floor', () => {
    const bowTie = { corners: [SQUARE[0]!, SQUARE[2]!, SQUARE[1]!, [0.5, 4] as Point2], isClosed: true };
    const drawn = drawnCommand(bare(), 'floor', bowTie, FIRST_SETTINGS);
    expect(drawn.ok && applyCommand(bare(), drawn.command).ok).toBe(false);
    const line = { corners: [SQUARE[0]!, [1, 0], [2, 0]] as Point2[], isClosed: true };
    expect(drawnCommand(bare(), 'floor', line, FIRST_SETTINGS).ok).toBe(false);
  });

  test('ground for lamps is kept in the story, and a second outline leaves the first', () => {
    const made = { corners: SQUARE, isClosed: true };
    const one = done(bare(), commandOf(drawnCommand(bare(), 'lampOutside', made, FIRST_SETTINGS)));
    const two = done(one, commandOf(drawnCommand(one, 'lampOutside', made, FIRST_SETTINGS)));
    expect(two.story?.lampSpace?.outsideM).toEqual([SQUARE, SQUARE]);
  });

  const cell = fc.integer({ min: -400, max: 400 }).map((centimetres) => centimetres / 100);
  test('property: whatever corners are drawn, the scene stays valid or the command is refused', () => {
    const corner = fc.tuple(cell, cell);
    const kinds = fc.constantFrom('walls', 'backdrop', 'uprightPlane', 'floor', 'ceiling', 'lampInside', 'top');
    fc.assert(
      fc.property(kinds, fc.array(corner, { minLength: 2, maxLength: 6 }), fc.boolean(), (kind, corners, isClosed) => {
        const { made } = reduceDrawing(through(kind, corners).drawing, { type: isClosed ? 'close' : 'finish' });
        if (!made) return;
        const drawn = drawnCommand(bare(), kind, made, FIRST_SETTINGS);
        const result = drawn.ok ? applyCommand(bare(), drawn.command) : null;
        if (result?.ok) expect(faultsOf(result.document)).toEqual([]);
      }),
      { numRuns: 200, seed: 7 },
    );
  });
});

describe('openings', () => {
  const room = (): SceneDocument => startScene('room', FIRST_FIGURES);

  test('a window goes where it was pressed, kept clear of the wall’s edges', () => {
    const wall = room().surfaces['wall-3']!; // 5 m wide, no opening yet
    expect(freeLeftM(wall, 1.2, 2.5)).toBe(1.9);
    expect(freeLeftM(wall, 1.2, 0)).toBe(0.05);
    expect(freeLeftM(wall, 1.2, 9)).toBe(3.75);
    expect(freeLeftM(wall, 5, 2)).toBeNull();
  });

  test('beside another window, and refused where none fits', () => {
    const scene = room();
    const wall = scene.surfaces['wall-1']!; // window 1.2 m wide in the middle of 5 m: from 1.9 to 3.1 m
    expect(freeLeftM(wall, 1.2, 2.4)).toBe(0.65); // the nearest: it ends 0.05 m before 1.9 m
    expect(freeLeftM(wall, 1.2, 2.6)).toBe(3.15);
    const wide = openingCommand(scene, 'wall-1', 'window', 2.5, { ...FIRST_SETTINGS, openingWidthM: 2 });
    expect(wide).toEqual({ ok: false, fault: 'There is no room on South wall for 2 m more.' });
  });

  test('a doorway stands on the floor, a high sill is refused, and a floor has no windows', () => {
    const scene = room();
    const door = done(scene, commandOf(openingCommand(scene, 'wall-2', 'door', 1, FIRST_SETTINGS)));
    expect(Object.values(door.surfaces['wall-2']!.openings!)[0]).toMatchObject({ sillM: 0, shape: { heightM: 2 } });
    expect(openingCommand(scene, 'wall-2', 'window', 1, { ...FIRST_SETTINGS, sillM: 3 }).ok).toBe(false);
    expect(openingCommand(scene, 'floor-1', 'window', 1, FIRST_SETTINGS).ok).toBe(false);
  });

  test('marks get names and ids of their own', () => {
    const one = done(bare(), markCommand(bare(), [1, 2]));
    const two = done(one, markCommand(one, [2, 2]));
    expect(two.marks).toEqual({
      'mark-1': { name: 'Mark 1', positionM: [1, 2, 0] },
      'mark-2': { name: 'Mark 2', positionM: [2, 2, 0] },
    });
  });
});

describe('snapping of corners', () => {
  const PX = 0.01; // metres per pixel
  const at = (corners: readonly Point2[], free: Point2, isFree = false, scene = bare()) =>
    snapCorner(scene, { kind: 'walls', corners, at: null }, free, PX, isFree);

  test('square to the plan within a few degrees, lengths to 5 cm', () => {
    expect(at([[0, 0]], [3.02, 0.05]).at).toEqual([3, 0]);
    expect(at([[0, 0]], [2, 1.1]).at[0]).toBeGreaterThan(1.7); // 61 degrees: to 60
    expect(stretchOf([0, 0], at([[0, 0]], [2, 1.1]).at).directionDeg).toBeCloseTo(60, 1);
  });
  test('level with the first corner, so that a room closes square', () => {
    const snapped = at(SQUARE.slice(0, 3), [0.06, 3.01]);
    expect(snapped.at).toEqual([0, 3]);
    expect(snapped.marks[0]?.word).toBe('level with the first corner');
  });
  test('onto the first corner, which closes, and onto corners of what stands', () => {
    expect(at(SQUARE, [0.05, 0.05])).toMatchObject({ at: [0, 0], marks: [{ word: 'on the first corner, closes' }] });
    expect(at([], [5.95, 5.06], false, emptyScene())).toMatchObject({ at: [6, 5], marks: [{ word: 'on Far wall' }] });
  });
  test('free: to the centimetre and nothing else', () => {
    expect(at([[0, 0]], [3.023, 0.048], true)).toEqual({ at: [3.02, 0.05], marks: [] });
  });
});

describe('starts', () => {
  test.each(['bare', 'wallAndFloor', 'room', 'windowAndWall'] as const)('%s is a valid scene', (kind) => {
    expect(faultsOf(startScene(kind, FIRST_FIGURES))).toEqual([]);
  });
  test.each(['beside', 'facing'] as const)('the lamp shines through the window onto the wall %s', (lit) => {
    const scene = startScene('windowAndWall', { ...FIRST_FIGURES, lit });
    const lamp = scene.setups[0]!.sources['lamp-1']!;
    if (lamp.type !== 'lamp' || !('atM' in lamp.pose.aim)) throw new Error('no aimed lamp');
    const [from, to] = [lamp.pose.positionM, lamp.pose.aim.atM];
    // Where the axis crosses the window wall, y = 0: within the window, from 1.9 to 3.1 m and 0.9 to 2.4 m.
    const share = -from[1] / (to[1] - from[1]);
    const x = from[0] + share * (to[0] - from[0]);
    const z = from[2] + share * (to[2] - from[2]);
    expect(from[1]).toBeLessThan(0);
    expect(x).toBeGreaterThan(1.9);
    expect(x).toBeLessThan(3.1);
    expect(z).toBeGreaterThan(0.9);
    expect(z).toBeLessThan(2.4);
    expect(scene.story?.playsSun).toEqual([{ sourceId: 'lamp-1', surfaceId: lit === 'facing' ? 'wall-3' : 'wall-2' }]);
  });
  test('figures that contradict each other are said before they are used', () => {
    expect(figuresFault(FIRST_FIGURES)).toBeNull();
    expect(figuresFault({ ...FIRST_FIGURES, windowWidthM: 5 })).toMatch(/wider than its wall/);
    expect(figuresFault({ ...FIRST_FIGURES, sillM: 2 })).toMatch(/higher than the room/);
  });
});

describe('grip of the kit', () => {
  test('every piece is a valid thing, put down anywhere', () => {
    const room = startScene('windowAndWall', FIRST_FIGURES);
    const scene = GRIP_CLASSES.reduce(
      (so, piece) => done(so, gripCommand(so, 'a', 'wall-2', piece, [1, 1]).command),
      room,
    );
    expect(faultsOf(scene)).toEqual([]);
    expect(new Set(Object.values(scene.setups[0]!.modifiers).map(({ name }) => name)).size).toBe(GRIP_CLASSES.length);
  });
  test('in a beam it faces the lamp, at the height of the axis there; elsewhere it stands before the wall', () => {
    const scene = tinyScene(); // lamp at 2, 1, 2, looking level to the north
    const piece = GRIP_CLASSES[0]!;
    const poseAt = (at: Point2) => {
      const { command, id } = gripCommand(scene, 'a', 'north-wall', piece, at);
      return done(scene, command).setups[0]!.modifiers[id]!.pose;
    };
    expect(poseAt([2.2, 3])).toEqual({ positionM: [2.2, 3, 2], aim: { atM: [2, 1, 2] } });
    expect(poseAt([2.2, 0.5]).aim).not.toEqual({ atM: [2, 1, 2] }); // behind the lamp
    expect(poseAt([5, 1.5]).aim).not.toEqual({ atM: [2, 1, 2] }); // far beside it
  });
});

describe('the next stretch', () => {
  /** Corners after so many likely stretches, each from the one before, with the lengths that are typed. */
  const walked = (lengths: readonly (number | undefined)[]): Point2[] =>
    lengths.reduce<Point2[]>(
      (corners, typedM) => {
        const { lengthM, directionDeg } = likelyStretch(corners);
        return [...corners, cornerAt(corners.at(-1)!, typedM ?? lengthM, directionDeg)];
      },
      [[0, 0]],
    );
  test('of a rectangle takes two typed lengths, and the fourth corner leads back to the first', () => {
    expect(walked([4.5, 3.2, undefined, undefined])).toEqual([
      [0, 0],
      [4.5, 0],
      [4.5, 3.2],
      [0, 3.2],
      [0, 0],
    ]);
  });
  test('turns on as the last corner did, also clockwise and by other angles', () => {
    const right: Point2[] = [
      [0, 0],
      [4, 0],
      [4, -3],
    ];
    expect(likelyStretch(right)).toEqual({ lengthM: 4, directionDeg: 270 });
    const slant: Point2[] = [[0, 0], [0, 2], cornerAt([0, 2], 1, 60)];
    expect(likelyStretch(slant)).toEqual({ lengthM: 2, directionDeg: 120 });
    expect(likelyStretch([[1, 1]])).toEqual({ lengthM: 4, directionDeg: 90 });
  });
});
