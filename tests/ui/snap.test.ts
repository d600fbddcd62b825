/** Where drags come to rest. Places are worked out by hand from the test room: L1 (2, 1, 2), N1 (2, 2, 2), M1 (3, 4, 1). */
import { describe, expect, test } from 'vitest';
import type { Hit, ObjectRef } from '../../src/render/contract';
import {
  elevationProjection,
  PLAN_PROJECTION,
  sectionProjection,
  sheetFromWorld,
  worldFromSheet,
} from '../../src/render/projections';
import type { Lamp, SceneDocument } from '../../src/scene/schema';
import { reduce } from '../../src/ui/tools/select';
import { IDLE, type ToolContext, type ToolResult, type ToolState } from '../../src/ui/tools/tool';
import { tinyScene } from './tinyScene';

const LAMP: ObjectRef = { kind: 'source', id: 'l1' };
const METER: ObjectRef = { kind: 'meter', id: 'm1' };
const PIXELS_PER_METRE = 100;

function context(kind: 'plan' | 'elevation' | 'section', hit: Hit, document: SceneDocument): ToolContext {
  const projection = {
    plan: PLAN_PROJECTION,
    elevation: elevationProjection(document.surfaces['north-wall']!.pose),
    section: sectionProjection((document.setups[0]!.sources['l1'] as Lamp).pose),
  }[kind];
  return {
    tool: 'select',
    document,
    setupId: 'a',
    sheet: {
      kind,
      hitTest: () => hit,
      metresPerPixel: () => 1 / PIXELS_PER_METRE,
      worldFromScreen: ({ x, y }, through) =>
        worldFromSheet(projection, { u: x / PIXELS_PER_METRE, v: -y / PIXELS_PER_METRE }, through),
      screenFromWorld: (world) => {
        const { u, v } = sheetFromWorld(projection, world);
        return { x: u * PIXELS_PER_METRE, y: -v * PIXELS_PER_METRE };
      },
    },
  };
}

/** A drag by so many pixels: what the last move says, and what letting go does. */
function dragged(within: ToolContext, x: number, y: number, alt = false): { move: ToolResult; up: ToolResult } {
  const steps = [
    { type: 'down', pointerId: 1, at: { x: 0, y: 0 }, button: 0, touch: false },
    { type: 'move', pointerId: 1, at: { x: x / 2, y: y / 2 }, touch: false, alt },
    { type: 'move', pointerId: 1, at: { x, y }, touch: false, alt },
    { type: 'up', pointerId: 1, at: { x, y }, alt },
  ] as const;
  let state: ToolState = IDLE;
  const results = steps.map((step) => {
    const result = reduce(state, step, within);
    state = result.state;
    return result;
  });
  return { move: results[2]!, up: results[3]! };
}
const words = (result: ToolResult): string[] => (result.snaps ?? []).map((mark) => mark.word);
const poseOf = (result: ToolResult) => (result.commit?.kind === 'pose' ? result.commit.pose : undefined);
const body = (object: ObjectRef): Hit => ({ object, handle: 'body' });
const aim: Hit = { object: LAMP, handle: 'aim' };

describe('carrying', () => {
  test('a meter comes level with the lamp, and keeps its other place', () => {
    // From x = 3 by -0.96 m to 2.04: 4 px beside the lamp's and the net's 2.
    const { move, up } = dragged(context('plan', body(METER), tinyScene()), -96, -50);
    expect(words(move)).toEqual(['level with L1']);
    expect(poseOf(up)?.positionM).toEqual([2, 4.5, 1]);
    expect(move.travel).toMatchObject({ kind: 'moved', deltaM: [-1, 0.5, 0] });
  });

  test('Alt lets go, and so does more than six pixels', () => {
    const free = dragged(context('plan', body(METER), tinyScene()), -96, -50, true);
    expect(words(free.move)).toEqual([]);
    expect(poseOf(free.up)?.positionM).toEqual([2.04, 4.5, 1]);
    const far = dragged(context('plan', body(METER), tinyScene()), -93, -50);
    expect(words(far.move)).toEqual([]);
    expect(poseOf(far.up)?.positionM).toEqual([2.07, 4.5, 1]);
  });

  test('a meter lands on the net, at its own height', () => {
    const { move, up } = dragged(context('plan', body(METER), tinyScene()), -97, 203);
    expect(move.snaps?.[0]).toMatchObject({ kind: 'on', word: 'on N1' });
    expect(poseOf(up)?.positionM).toEqual([2, 2, 1]);
  });

  test('a place with many digits is met to a tenth of a millimetre', () => {
    const document = tinyScene();
    (document.setups[0]!.sources['l1'] as Lamp).pose.positionM = [1.23456, 1, 2];
    document.setups[0]!.modifiers = {};
    const { up } = dragged(context('plan', body(METER), document), -178, -50);
    expect(poseOf(up)?.positionM).toEqual([1.2346, 4.5, 1]);
  });

  test('a drag rests on nothing that is the thing itself, and marks end with the drag', () => {
    const document = tinyScene();
    document.meters = {};
    document.setups[0]!.modifiers = {};
    document.surfaces['north-wall']!.openings = {};
    const { move, up } = dragged(context('plan', body(LAMP), document), 5, 3);
    expect(words(move)).toEqual([]);
    expect(up.snaps).toEqual([]);
  });
});

describe('carrying what lies on the plan', () => {
  const MARK: ObjectRef = { kind: 'mark', id: 'k1' };
  const PICTURE: ObjectRef = { kind: 'picture', id: 'survey' };
  const LINE: ObjectRef = { kind: 'dimension', id: 'second' };
  const free = (y: number, x: number): { atM: [number, number, number] } => ({ atM: [x, y, 0] });
  const document = (): SceneDocument => ({
    ...tinyScene(),
    marks: { k1: { name: 'Mark 1', positionM: [5, 3, 0] } },
    // 2 m by 1 m about its middle.
    pictures: {
      survey: {
        name: 'Survey',
        image: 'data:image/png;base64,AAAA',
        widthPx: 2,
        heightPx: 1,
        metresPerPixel: 1,
        positionM: [3, 1, 0],
      },
    },
    dimensions: {
      first: { name: 'Dimension 1', from: free(-3, 0), to: free(-3, 4), offsetM: 0.5 },
      second: { name: 'Dimension 2', from: free(-3, 4), to: free(-3, 6), offsetM: 1 },
    },
  });

  test('a mark comes level with the meter, and on the corner of a wall', () => {
    const level = dragged(context('plan', body(MARK), document()), -196, -30); // to (3.04, 3.3)
    expect(words(level.move)).toEqual(['level with M1']);
    expect(level.up.commit).toMatchObject({ kind: 'mark', positionM: [3, 3.3, 0] });
    const on = dragged(context('plan', body(MARK), document()), 196, -203); // to (6.96, 5.03)
    expect(words(on.move)).toEqual(['on the corner of north wall']);
    expect(on.up.commit).toMatchObject({ kind: 'mark', positionM: [7, 5, 0] });
    const alt = dragged(context('plan', body(MARK), document()), 196, -203, true);
    expect(words(alt.move)).toEqual([]);
    expect(alt.up.commit).toMatchObject({ positionM: [6.96, 5.03, 0] });
  });

  test('a picture is laid by its corner: its upper right one onto the corner of a wall', () => {
    const { move, up } = dragged(context('plan', body(PICTURE), document()), 303, -352); // its corner to (7.03, 5.02)
    expect(words(move)).toEqual(['on the corner of north wall']);
    expect(move.snaps?.[0]?.atM).toEqual([7, 5, 0]);
    expect(up.commit).toMatchObject({ kind: 'mark', positionM: [6, 4.5, 0] });
  });

  test('the line of a dimension comes level with another one, and tells how far it has gone across itself', () => {
    const { move, up } = dragged(context('plan', body(LINE), document()), 80, 47); // 1 - 0.47 m off; the way along counts for nothing
    expect(words(move)).toEqual(['level with Dimension 1']);
    expect(move.snaps?.[0]).toMatchObject({ atM: [4, -2.5, 0], otherM: [0, -2.5, 0] });
    expect(move.travel).toEqual({ kind: 'moved', deltaM: [0, -0.5, 0] });
    expect(up.commit).toMatchObject({ kind: 'figure', fields: { offsetM: 0.5 } });
    const alt = dragged(context('plan', body(LINE), document()), 80, 47, true);
    expect(words(alt.move)).toEqual([]);
    expect(alt.up.commit).toMatchObject({ fields: { offsetM: 0.53 } });
  });
});

describe('aiming', () => {
  test('comes square to the wall on the plan', () => {
    const document = tinyScene();
    (document.setups[0]!.sources['l1'] as Lamp).pose = { positionM: [1, 1, 2], aim: { atM: [2.5, 5, 1.2] } };
    // The target goes to x = 1.05: 5 px beside the line that meets the wall squarely at x = 1.
    const { move, up } = dragged(context('plan', aim, document), -145, 0);
    expect(words(move)).toEqual(['square to north wall']);
    expect(poseOf(up)?.aim).toEqual({ atM: [1, 5, 1.2] });
  });

  test('comes level in section, which is square to an upright wall', () => {
    const document = tinyScene();
    (document.setups[0]!.sources['l1'] as Lamp).pose = { positionM: [1, 1, 2], aim: { atM: [1, 5, 1.2] } };
    const { move, up } = dragged(context('section', aim, document), 0, -77);
    expect(words(move)).toEqual(['square to north wall']);
    expect(poseOf(up)?.aim).toEqual({ atM: [1, 5, 2] });
  });

  test('finds a meter, also by pan and tilt', () => {
    const document = tinyScene();
    (document.setups[0]!.sources['l1'] as Lamp).pose = { positionM: [1, 1, 1], aim: { panDeg: 0, tiltDeg: 0 } };
    document.meters['m1']!.positionM = [3, 5, 1];
    // The axis meets the wall at (1, 5, 1); 1.97 m to the right is 3 px beside the meter. Pan is atan(2 / 4).
    const { move, up } = dragged(context('plan', aim, document), 197, 0);
    expect(words(move)).toEqual(['on M1']);
    expect(poseOf(up)?.aim).toEqual({ panDeg: 26.565, tiltDeg: 0 });
  });
});
