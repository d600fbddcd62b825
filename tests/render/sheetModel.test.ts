import { describe, expect, it } from 'vitest';
import type { SheetKind, SheetState } from '../../src/render/contract';
import { estimateTextWidth } from '../../src/render/labels';
import { createSheetModel, type SheetModel } from '../../src/render/sheetModel';
import type { SunCheck } from '../../src/sim/results';
import { room, sheetStateOf, withLamp } from './scene';

const base = sheetStateOf(room);
function sheet(
  kind: SheetKind,
  state: Partial<SheetState> = {},
  size: readonly [number, number] = [604, 352],
): SheetModel {
  const model = createSheetModel(kind, estimateTextWidth);
  model.resize(...size);
  model.setState({ ...base, ...state });
  return model;
}
const lettering = (model: SheetModel): string[] =>
  model
    .picture()!
    .layers.flatMap((layer) =>
      layer.texts.map((text) => text.lines.map((line) => line.map((run) => run.text).join('')).join(' / ')),
    );

const columns = 90;
const rows = 30;
const result = {
  surfaceId: 'north',
  columns,
  rows,
  leftM: 0,
  bottomM: 0,
  widthM: 9,
  heightM: 3,
  mask: new Uint8Array(columns * rows).fill(1),
  layers: [],
  illuminanceLx: Float32Array.from({ length: columns * rows }, (_, i) => 900 / (1 + 0.04 * (i % columns))),
};
const field = { result, outOfDate: false, rough: false, revision: 1 };

describe('finding things on a sheet', () => {
  it('hits the lamp where it is drawn, on plan and section', () => {
    for (const kind of ['plan', 'section'] as const) {
      const model = sheet(kind);
      const at = model.screenFromWorld([-4, 2.6, 1.75]);
      expect(model.hitTest(at, false)).toEqual({ object: { kind: 'source', id: 'l1' }, handle: 'body' });
    }
  });
  it('gives the lamp in hand its turn handle behind and its aim handle ahead', () => {
    const model = sheet('plan', { selection: { kind: 'source', id: 'l1' } });
    const at = model.screenFromWorld([-4, 2.6, 1.75]);
    expect(model.hitTest({ x: at.x - 36, y: at.y }, false)?.handle).toBe('turn');
    expect(model.hitTest(model.screenFromWorld([9, 2.6, 1.75]), false)?.handle).toBe('aim');
  });
  it('hits walls and windows on the plan, meters on the elevation', () => {
    const plan = sheet('plan');
    expect(plan.hitTest(plan.screenFromWorld([-0.15, 2.3, 0]), false)?.object).toEqual({
      kind: 'opening',
      id: 'window',
      surfaceId: 'west',
    });
    expect(plan.hitTest(plan.screenFromWorld([-0.15, 0.8, 0]), false)?.object).toEqual({ kind: 'surface', id: 'west' });
    const wall = sheet('elevation');
    expect(wall.hitTest(wall.screenFromWorld([4, 5, 1.3]), false)?.object.id).toBe('m1');
    expect(wall.hitTest(wall.screenFromWorld([6.5, 5, 1.3]), false)).toBeNull();
  });
  it('hits lamps and grip that stand before an elevation, and a lamp beside the view at its marker', () => {
    const inRoom = withLamp({ pose: { positionM: [3, 2, 2.2], aim: { panDeg: 0, tiltDeg: 0 } } });
    const flag = {
      name: 'Flag',
      pose: { positionM: [6, 3, 1.2] as [number, number, number], aim: { panDeg: 0, tiltDeg: 0 } },
      shape: { kind: 'rectangle' as const, widthM: 1, heightM: 0.6 },
      material: { kind: 'opaque' as const },
    };
    const document = { ...inRoom, setups: [{ ...inRoom.setups[0]!, modifiers: { flag } }] };
    const wall = sheet('elevation', { document });
    expect(wall.hitTest(wall.screenFromWorld([3, 2, 2.2]), false)?.object).toEqual({ kind: 'source', id: 'l1' });
    expect(wall.hitTest(wall.screenFromWorld([6.5, 3, 1.2]), false)?.object).toEqual({ kind: 'modifier', id: 'flag' });
    expect(wall.hitTest(wall.screenFromWorld([6, 3, 1.2]), false)).toBeNull(); // the middle is for reading levels
    const chosen = sheet('elevation', { document, selection: { kind: 'modifier', id: 'flag' } });
    const at = chosen.screenFromWorld([6, 3, 1.2]);
    expect(chosen.hitTest({ x: at.x, y: at.y + 36 }, false)?.handle).toBe('turn');
    // The lamp of the room itself stands 4 m left of the wall, out of the view.
    const outside = sheet('elevation');
    const { y } = outside.screenFromWorld([-4, 2.6, 1.75]);
    expect(outside.screenFromWorld([-4, 2.6, 1.75]).x).toBeLessThan(0);
    expect(outside.hitTest({ x: 16, y }, false)?.object).toEqual({ kind: 'source', id: 'l1' });
    // Behind the wall nothing is shown.
    const behind = withLamp({ pose: { positionM: [3, 7, 2.2], aim: { panDeg: 180, tiltDeg: 0 } } });
    const back = sheet('elevation', { document: behind });
    expect(back.hitTest(back.screenFromWorld([3, 7, 2.2]), false)).toBeNull();
  });
  it('reads the floor on the plan, the wall on the elevation, nothing on the section', () => {
    const plan = sheet('plan');
    const floor = plan.surfacePointAt(plan.screenFromWorld([3, 2, 0]))!;
    expect(floor.surfaceId).toBe('floor');
    floor.atM.forEach((value, i) => expect(value).toBeCloseTo([3, 2, 0][i]!, 9));
    expect(plan.surfacePointAt(plan.screenFromWorld([-2, 2, 0]))).toBeNull();
    const west = sheet('elevation', { surfaceId: 'west' });
    expect(west.surfacePointAt(west.screenFromWorld([0, 1, 1.5]))?.surfaceId).toBe('west');
    expect(west.surfacePointAt(west.screenFromWorld([0, 2.5, 1.5]))).toBeNull();
    const section = sheet('section');
    expect(section.surfacePointAt({ x: 300, y: 150 })).toBeNull();
  });
});

describe('what is drawn anew', () => {
  it('nothing, for a state that says the same', () => {
    const model = sheet('elevation', { field });
    const before = model.picture();
    model.setState({ ...base, field: { ...field }, units: { ...base.units }, twinChecks: [] });
    expect(model.picture()).toBe(before);
    model.setState({ ...base, field: { ...field, outOfDate: true } });
    expect(model.picture()).not.toBe(before);
  });
  it('the cross alone, when only the reading moved', () => {
    const model = sheet('elevation', { field });
    const before = model.picture()!;
    model.setState({ ...base, field, reading: { atM: [4, 5, 1.3], pinned: false } });
    const after = model.picture()!;
    const changed = after.layers.filter((layer, i) => layer !== before.layers[i]).map((layer) => layer.name);
    expect(changed).toEqual(['reading']);
    expect(after.layers.at(-1)!.shapes.length).toBeGreaterThan(0);
  });
});

describe('the view', () => {
  it('stays where the user put it while things change, and follows another subject', () => {
    const model = sheet('elevation');
    model.zoomAt({ x: 300, y: 150 }, 2);
    const scale = model.metresPerPixel();
    model.setState({ ...base, document: withLamp({ level: 0.5 }) });
    expect(model.metresPerPixel()).toBe(scale);
    model.setState({ ...base, surfaceId: 'west' });
    expect(model.metresPerPixel()).not.toBe(scale);
    model.zoomAt({ x: 300, y: 150 }, 2);
    model.fit();
    expect(model.screenFromWorld([0, 0, 0]).x).toBeGreaterThan(0);
  });
  it('keeps the cut of a section still while its lamp is dragged', () => {
    const model = sheet('section');
    const wall = model.screenFromWorld([9, 2.6, 0]);
    const dragged = withLamp({ pose: { positionM: [-5, 1, 2.5], aim: { panDeg: 70, tiltDeg: -5 } } });
    model.setState({ ...base, document: dragged, ghost: { object: { kind: 'source', id: 'l1' }, document: room } });
    expect(model.screenFromWorld([9, 2.6, 0])).toEqual(wall);
    model.setState({ ...base, document: dragged });
    expect(model.screenFromWorld([9, 2.6, 0])).not.toEqual(wall);
  });
});

describe('redrawing', () => {
  it('draws again only what a change touches', () => {
    const model = sheet('plan');
    const before = new Map(model.picture()!.layers.map((layer) => [layer.name, layer]));
    model.setState({
      ...base,
      document: withLamp({ pose: { positionM: [-3, 2.6, 1.75], aim: { panDeg: 90, tiltDeg: 0 } } }),
    });
    const after = new Map(model.picture()!.layers.map((layer) => [layer.name, layer]));
    for (const kept of ['grid', 'floors', 'walls']) expect(after.get(kept)).toBe(before.get(kept));
    expect(after.get('beams')).not.toBe(before.get('beams'));
  });
  it('keeps the map and its contours while a lamp moves under old results', () => {
    const model = sheet('elevation', { field });
    const names = (): Map<string, unknown> => new Map(model.picture()!.layers.map((layer) => [layer.name, layer]));
    const before = names();
    model.setState({ ...base, field, document: withLamp({ level: 0.4 }) });
    const after = names();
    for (const kept of ['map', 'contours', 'openings']) expect(after.get(kept)).toBe(before.get(kept));
  });
});

describe('what the sheets say', () => {
  it('letters the plan: lamp with height, pan and tilt, room size, wall', () => {
    const words = lettering(sheet('plan'));
    expect(words).toContain('L1 Lensed spot / h 1.75\u2009m  pan 90°  tilt 0°');
    expect(words).toContain('9.00\u2009m');
    expect(words).toContain('North wall');
    expect(words).toContain('N');
  });
  it('letters the section: trim, sill and window height, looking direction, lamp and sun', () => {
    const words = lettering(sheet('section'));
    expect(words).toContain('trim 1.75\u2009m');
    expect(words).toContain('1.00\u2009m');
    expect(words).toContain('1.50\u2009m');
    expect(words.some((text) => text.includes('story sun 20°'))).toBe(true);
  });
  it('letters the elevation: height, ruler, legend, contours', () => {
    const words = lettering(sheet('elevation', { field }));
    for (const text of ['3.00\u2009m', '9 m', 'lx', 'T2.8', '500']) expect(words).toContain(text);
  });
  it('says nothing but the unit on a strip', () => {
    expect(lettering(sheet('plan', {}, [260, 180]))).toEqual(['L1']);
    expect(lettering(sheet('elevation', { field }, [260, 180]))).toEqual([]);
  });
  it('marks hot and cold end, fan and shadow edge of a judged patch', () => {
    const lit = Uint8Array.from({ length: columns * rows }, (_, i) => (i % columns >= 20 && i % columns < 60 ? 1 : 0));
    const check: SunCheck = {
      ...EMPTY_CHECK,
      lineFanDeg: 14.2,
      drawing: {
        patchAreaM2: 12,
        fullRangeStops: 2,
        grid: {
          columns,
          rows,
          leftM: 0,
          bottomM: 0,
          widthM: 9,
          heightM: 3,
          lit,
          openLx: result.illuminanceLx.map((level, i) => (lit[i] === 1 ? level : NaN)),
          visibility: Float32Array.from(lit),
        },
        centroidM: [4, 1.5],
        hot: { atM: [2.2, 1.6], illuminanceLx: 500 },
        cold: { atM: [5.8, 0.6], illuminanceLx: 270 },
        shadowLines: [{ aM: [2, 1], bM: [6, 0.6] }],
        edges: [{ atM: [2, 2], acrossM: [1, 0], widthM: 0.072, sunWidthM: 0.028, ratio: 2.6, label: 'jamb' }],
        step: null,
        arrival: [-1, 0, 0.25],
      },
    };
    const words = lettering(sheet('elevation', { field, checks: [check] }, [1000, 500]));
    expect(words).toContain('Hot end 500\u2009lx, +2');
    expect(words).toContain('Cold end 270\u2009lx, +1 1/3');
    expect(words).toContain('Fan of shadow lines 14°');
    expect(words).toContain('Shadow edge 72\u2009mm / sun 28\u2009mm');
    expect(words).toContain('lamp patch 4.00\u2009m');
  });
  it('hatches what is older than the scene', () => {
    const shapes = (outOfDate: boolean): number =>
      sheet('elevation', { field: { ...field, outOfDate } })
        .picture()!
        .layers.find((layer) => layer.name === 'map')!.shapes.length;
    expect(shapes(false)).toBe(0);
    expect(shapes(true)).toBeGreaterThan(0);
  });
  it('never lets two labels overlap', () => {
    for (const kind of ['plan', 'elevation', 'section'] as const) {
      for (const size of [
        [604, 352],
        [420, 260],
        [1100, 600],
      ] as const) {
        const model = sheet(kind, { field, selection: { kind: 'source', id: 'l1' }, showTwin: true }, size);
        const boxes = model.picture()!.layers.flatMap((layer) =>
          layer.texts.map((text) => {
            const width = Math.max(
              ...text.lines.map((line) =>
                line.reduce((sum, run) => sum + estimateTextWidth(run.text, text.sizePx, run.weight), 0),
              ),
            );
            const height = text.lines.length * text.sizePx * 1.25;
            const [w, h] = text.turnDeg === 0 ? [width, height] : [height, width];
            return { left: text.x - w / 2, right: text.x + w / 2, top: text.y - h / 2, bottom: text.y + h / 2 };
          }),
        );
        boxes.forEach((a, i) => {
          for (const b of boxes.slice(i + 1)) {
            const overlap =
              a.left < b.right - 0.01 && b.left < a.right - 0.01 && a.top < b.bottom - 0.01 && b.top < a.bottom - 0.01;
            expect(overlap, `${kind} ${size.join('x')}`).toBe(false);
          }
        });
      }
    }
  });
});

const EMPTY_CHECK: SunCheck = {
  surfaceId: 'north',
  sourceId: 'l1',
  falloffStops: null,
  hotEnd: null,
  apparentDistanceM: null,
  reversed: null,
  fanDeg: null,
  lineFanDeg: null,
  growthNear: null,
  growthFar: null,
  edgeRatio: null,
  stepStopsPer10cm: null,
  fill: null,
  shadowCount: null,
  altitudeOffDeg: null,
  windowSpreadDeg: null,
  windowLevelStops: null,
  overAmbienceStops: null,
  overKeyStops: null,
  cctOffMired: null,
  duvOff: null,
  hazeDeg: null,
  scores: {},
  verdict: 'notEnough',
  worst: null,
  confidence: null,
  doubts: [],
  flags: [],
  sentence: '',
  reasons: {},
  drawing: null,
};

describe('another setup', () => {
  const [setup] = room.setups;
  const farM: [number, number, number] = [-40, 2.6, 1.75];
  const moved = withLamp({ pose: { positionM: farM, aim: { panDeg: 90, tiltDeg: 0 } } });
  const far = { ...moved.setups[0]!, id: 'b' };
  const document = { ...room, setups: [setup!, far] } as SheetState['document'];
  const isInView = (model: SheetModel): boolean => {
    const { x, y } = model.screenFromWorld(farM);
    return x >= 0 && x <= 604 && y >= 0 && y <= 352;
  };
  it('that puts the lamp beyond the plan’s view is fitted anew, and back is not', () => {
    const model = sheet('plan', { document });
    expect(isInView(model)).toBe(false);
    model.setState({ ...base, document, setupId: 'b' });
    expect(isInView(model)).toBe(true);
    model.setState({ ...base, document, setupId: 'a' });
    expect(isInView(model)).toBe(true);
  });
  it('leaves a view alone that was moved by hand', () => {
    const model = sheet('plan', { document });
    model.panBy(3, 0);
    model.setState({ ...base, document, setupId: 'b' });
    expect(isInView(model)).toBe(false);
  });
});
