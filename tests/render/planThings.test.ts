/** What lies on the plan beside the set: pictures lowest and in place, dimensions with their figures, corners of the chosen wall. */
import { describe, expect, test } from 'vitest';
import type { ObjectRef, SheetKind, SheetState } from '../../src/render/contract';
import { estimateTextWidth } from '../../src/render/labels';
import { createSheetModel, type SheetModel } from '../../src/render/sheetModel';
import type { SceneDocument } from '../../src/scene/schema';
import type { PlanPicture } from '../../src/scene/schemaPlan';
import { room, sheetStateOf } from './scene';

const IMAGE = 'data:image/png;base64,AAAA';
/** 2 x 1 px of 3 m about (1, 2): from (-2, 3.5) to (4, 0.5). */
const picture: PlanPicture = {
  name: 'Survey',
  image: IMAGE,
  widthPx: 2,
  heightPx: 1,
  metresPerPixel: 3,
  positionM: [1, 2, 0],
  opacity: 0.4,
};
/** White, then a dark red. */
const bytes = Uint8Array.from([255, 255, 255, 255, 128, 0, 0, 255]);
const planPixels = { survey: { image: IMAGE, bytes, columns: 2, rows: 1 } };
const withPicture = (change: Partial<PlanPicture> = {}): SceneDocument => ({
  ...room,
  pictures: { survey: { ...picture, ...change } },
});
function sheet(kind: SheetKind, state: Partial<SheetState>): SheetModel {
  const model = createSheetModel(kind, estimateTextWidth);
  model.resize(900, 600);
  model.setState(sheetStateOf(room, { theme: 'light', ...state }));
  return model;
}
const layer = (model: SheetModel) => model.picture()!.layers.find(({ name }) => name === 'pictures');

describe('a picture', () => {
  test('is the lowest layer of the plan, and on no other sheet', () => {
    const state = { document: withPicture(), planPixels };
    expect(sheet('plan', state).picture()!.layers[0]?.name).toBe('pictures');
    for (const kind of ['elevation', 'section'] as const) expect(layer(sheet(kind, state))).toBeUndefined();
  });

  test('lies where the scene says: its dots go where the same places of the plan go', () => {
    const model = sheet('plan', { document: withPicture(), planPixels });
    const [raster] = layer(model)!.rasters;
    const [a, b, c, d, x, y] = raster!.matrix;
    const onScreen = (column: number, row: number) => ({ x: a * column + c * row + x, y: b * column + d * row + y });
    // Upper left corner, lower right corner, and the middle of the right dot's upper edge.
    for (const [column, row, atM] of [
      [0, 0, [-2, 3.5, 0]],
      [2, 1, [4, 0.5, 0]],
      [1.5, 0, [2.5, 3.5, 0]],
    ] as const) {
      const there = model.screenFromWorld([...atM]);
      expect(onScreen(column, row).x).toBeCloseTo(there.x, 6);
      expect(onScreen(column, row).y).toBeCloseTo(there.y, 6);
    }
    expect(raster!.alpha).toBe(0.4);
  });

  test('hidden, or not unpacked yet, it is not drawn', () => {
    expect(layer(sheet('plan', { document: withPicture({ hidden: true }), planPixels }))!.rasters).toEqual([]);
    expect(layer(sheet('plan', { document: withPicture() }))!.rasters).toEqual([]);
    const stale = { survey: { ...planPixels.survey, image: `${IMAGE}BBBB` } };
    expect(layer(sheet('plan', { document: withPicture(), planPixels: stale }))!.rasters).toEqual([]);
  });

  test('on a dark sheet its lightness is turned over and hues stay, unless it keeps its colours', () => {
    const shown = (theme: SheetState['theme'], change: Partial<PlanPicture> = {}): number[] => [
      ...layer(sheet('plan', { document: withPicture(change), planPixels, theme }))!.rasters[0]!.bytes,
    ];
    expect(shown('light')).toEqual([...bytes]);
    // White to black; dark red (128, 0, 0), whose max and min add to 128, by 255 - 128 to (255, 127, 127).
    expect(shown('dark')).toEqual([0, 0, 0, 255, 255, 127, 127, 255]);
    expect(shown('dim')).toEqual(shown('dark'));
    expect(shown('dark', { keepsColours: true })).toEqual([...bytes]);
  });

  test('can be grabbed only while it is chosen and not locked', () => {
    const at = (model: SheetModel) => model.hitTest(model.screenFromWorld([1, 0.8, 0]), false)?.object;
    const selection = { kind: 'picture', id: 'survey' } as const;
    expect(at(sheet('plan', { document: withPicture(), planPixels }))).toBeUndefined();
    expect(at(sheet('plan', { document: withPicture(), planPixels, selection }))).toEqual(selection);
    expect(at(sheet('plan', { document: withPicture({ locked: true }), planPixels, selection }))).toBeUndefined();
  });
});

const lettering = (model: SheetModel): string[] =>
  model.picture()!.layers.flatMap(({ texts }) =>
    texts.map(({ lines }) =>
      lines
        .flat()
        .map((run) => run.text)
        .join(''),
    ),
  );

describe('a kept dimension', () => {
  const document: SceneDocument = {
    ...room,
    dimensions: {
      d: { name: 'D', from: { atM: [2, 1, 0] }, to: { atM: [5.21, 1, 0] }, offsetM: 0.6 },
      lost: { name: 'L', from: { kind: 'modifier', id: 'net' }, to: { atM: [1, 1, 0] } },
      hidden: { name: 'H', from: { atM: [2, 2, 0] }, to: { atM: [4.44, 2, 0] }, hidden: true },
    },
  };
  test('tells its length in the units shown, and is grabbed by its line', () => {
    const model = sheet('plan', { document });
    expect(lettering(model)).toContain('3.21\u2009m');
    expect(lettering(model).filter((text) => text.startsWith('2.44'))).toEqual([]);
    const on = model.hitTest(model.screenFromWorld([3.5, 1.6, 0]), false)?.object;
    expect(on).toEqual({ kind: 'dimension', id: 'd' });
    // 3.21 m are 10 ft 6.38 in.
    expect(lettering(sheet('plan', { document, units: { length: 'feet', illuminance: 'lux' } })).join()).toMatch(
      /10′ 6/,
    );
  });
});

describe('corners of a wall', () => {
  const selection = { kind: 'surface', id: 'north' } as const;
  const at = (model: SheetModel, x: number) => model.hitTest(model.screenFromWorld([x, 5, 0]), false);
  test('can be grabbed while the wall is chosen and free; left and right are those of its lit side', () => {
    const model = sheet('plan', { selection });
    expect(at(model, 0)).toMatchObject({ object: selection, handle: 'corner', corner: 'left' });
    expect(at(model, 9)).toMatchObject({ object: selection, handle: 'corner', corner: 'right' });
    expect(at(sheet('plan', {}), 0)?.handle).toBe('body');
    const north = { ...room.surfaces['north']!, locked: true };
    const locked = { ...room, surfaces: { ...room.surfaces, north } };
    expect(at(sheet('plan', { selection, document: locked }), 0)?.handle).toBe('body');
  });
});

describe('while it is dragged', () => {
  const before: SceneDocument = {
    ...withPicture(),
    marks: { k: { name: 'Mark', positionM: [6, 2, 0] } },
    dimensions: { d: { name: 'D', from: { atM: [2, 1, 0] }, to: { atM: [5.21, 1, 0] }, offsetM: 0.6 } },
  };
  const north = before.surfaces['north']!;
  const carried = { ...north, pose: { ...north.pose, positionM: [0, 5.5, 0] as [number, number, number] } };
  const after: SceneDocument = {
    ...withPicture({ positionM: [1.5, 2.5, 0] }),
    surfaces: { ...before.surfaces, north: carried },
    marks: { k: { name: 'Mark', positionM: [7, 2, 0] } },
    dimensions: { d: { ...before.dimensions!['d']!, offsetM: 1.1 } },
  };
  const drag = (object: ObjectRef, ghost = true): SheetModel =>
    sheet('plan', { document: after, planPixels, ...(ghost && { ghost: { object, document: before } }) });
  /** Whether a faint line has a corner, or the end of a dash, within two pixels of a place. */
  const isFaintAt = (model: SheetModel, atM: readonly [number, number, number]): boolean => {
    const { x, y } = model.screenFromWorld([...atM]);
    const lines = model.picture()!.layers.flatMap(({ shapes }) => shapes.filter((shape) => shape.kind === 'line'));
    return lines
      .filter(({ alpha }) => Math.abs(alpha - 0.4) < 1e-9)
      .some(({ paths }) =>
        paths.some((path) => path.some((u, i) => i % 2 === 0 && Math.hypot(u - x, path[i + 1]! - y) < 2)),
      );
  };
  test.each([
    ['dimension', { kind: 'dimension', id: 'd' }, [5.21, 1.6, 0], [5.21, 2.1, 0]],
    ['picture', { kind: 'picture', id: 'survey' }, [4, 0.5, 0], [4.5, 1, 0]],
    ['wall', { kind: 'surface', id: 'north' }, [4.5, 5, 0], [4.5, 5.5, 0]],
  ] as const)('the old place of a %s stays visible, faintly, and only while the drag lasts', (_, object, was, is) => {
    expect(isFaintAt(drag(object), was)).toBe(true);
    expect(isFaintAt(drag(object), is)).toBe(false);
    expect(isFaintAt(drag(object, false), was)).toBe(false);
  });
  test('a mark too, and a dimension tells how far its line has come', () => {
    const faint = (model: SheetModel): number =>
      model
        .picture()!
        .layers.flatMap(({ shapes }) => shapes)
        .filter(({ alpha }) => Math.abs(alpha - 0.4) < 1e-9).length;
    const mark = { kind: 'mark', id: 'k' } as const;
    expect(faint(drag(mark))).toBeGreaterThan(faint(drag(mark, false)));
    expect(lettering(drag({ kind: 'dimension', id: 'd' })).join(' ')).toContain('0.50\u2009m');
    expect(lettering(drag(mark, false)).join(' ')).not.toContain('0.50\u2009m');
  });
});
