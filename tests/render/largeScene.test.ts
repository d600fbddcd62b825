/** A large scene: what is kept from one drawing to the next is what would be drawn anew, and a move costs what moved. */
import { describe, expect, it, test } from 'vitest';
import type { SheetKind, SheetState } from '../../src/render/contract';
import { beamFigure } from '../../src/render/beamGeometry';
import { KeptBeams } from '../../src/render/keptBeams';
import { KeptDrawings } from '../../src/render/keptDrawings';
import { BoxGrid, overlaps, SegmentGrid, segmentMeetsBox, type Box } from '../../src/render/labelGrid';
import { planWalls } from '../../src/render/wallGeometry';
import { estimateTextWidth } from '../../src/render/labels';
import type { Layer } from '../../src/render/picture';
import { castRay, nearestFirst } from '../../src/render/raycast';
import { changedLots } from '../../src/render/sameShapes';
import { createThingsCache, type SceneThings } from '../../src/render/sceneThings';
import { createSheetModel, type SheetModel } from '../../src/render/sheetModel';
import type { TextOp } from '../../src/render/sketch';
import { applyCommand, type Command } from '../../src/scene/commands';
import { normalise, type Vec3 } from '../../src/scene/geometry/vector';
import type { SceneDocument } from '../../src/scene/schema';
import { listedGroups } from '../../src/ui/panels/ObjectList';
import { largeScene } from '../large/largeScene';
import { sheetStateOf } from './scene';

const LIMIT_M = 12;
const thingsOf = (document: SceneDocument): SceneThings => createThingsCache()(document, 'a');

function after(document: SceneDocument, command: Command): SceneDocument {
  const result = applyCommand(document, command);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
}
function moved(document: SceneDocument, kind: 'source' | 'modifier', id: string, by: Vec3): SceneDocument {
  const setup = document.setups[0]!;
  const source = setup.sources[id];
  const pose = source?.type === 'lamp' ? source.pose : setup.modifiers[id]!.pose;
  const [x, y, z] = pose.positionM;
  return after(document, {
    type: 'move',
    at: { kind, setupId: 'a', id },
    positionM: [x + by[0], y + by[1], z + by[2]],
  });
}
const idsOf = (document: SceneDocument, isWanted: (material: string) => boolean): string[] =>
  Object.entries(document.setups[0]!.modifiers).flatMap(([id, one]) => (isWanted(one.material.kind) ? [id] : []));

/** Numbers from -1 to 1, the same in every run. */
function numbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return (2 * state) / 2_147_483_647 - 1;
  };
}

describe('beams that are kept', () => {
  const start = largeScene();
  const fresh = (things: SceneThings): Map<string, unknown> =>
    new Map(things.lamps.map((lamp) => [lamp.id, beamFigure(things, lamp, lamp.frame.right, LIMIT_M)]));

  it('are those worked out anew, whatever moves, comes or goes', () => {
    const beams = new KeptBeams(LIMIT_M);
    const next = numbers(77);
    const flags = idsOf(start, (material) => material === 'opaque');
    let document = start;
    for (let step = 0; step < 24; step += 1) {
      const id = flags[Math.floor(((next() + 1) / 2) * flags.length)]!;
      if (step % 5 === 4) document = moved(document, 'source', `lamp-${1 + (step % 60)}`, [0.3 * next(), 0.2, 0]);
      else if (step % 7 === 3 && document.setups[0]!.modifiers[id])
        document = after(document, { type: 'remove', at: { kind: 'modifier', setupId: 'a', id } });
      else if (document.setups[0]!.modifiers[id])
        document = moved(document, 'modifier', id, [1.5 * next(), 1.5 * next(), 0.5 * next()]);
      const things = thingsOf(document);
      expect(beams.of(things)).toEqual(fresh(things));
    }
    // Far fewer than 24 times 60 were worked out.
    expect(beams.worked).toBeLessThan(60 + 24 * 6);
    expect(beams.worked).toBeGreaterThan(60 + 5);
  });

  it('follow a wall that is moved', () => {
    const beams = new KeptBeams(LIMIT_M);
    const before = beams.of(thingsOf(start));
    const at = { kind: 'surface', id: 'store-3-north' } as const;
    const things = thingsOf(after(start, { type: 'move', at, positionM: [12, 4.2, 0] }));
    expect(beams.of(things)).toEqual(fresh(things));
    expect(beams.of(things)).not.toEqual(before);
  });

  it('cost one beam for a lamp that moves, and none for a net or a meter', () => {
    const beams = new KeptBeams(LIMIT_M);
    const first = beams.of(thingsOf(start));
    expect(beams.worked).toBe(60);
    const [net] = idsOf(start, (material) => material === 'net');
    const netMoved = moved(start, 'modifier', net!, [0.2, 0, 0]);
    expect(beams.of(thingsOf(netMoved))).toBe(first);
    const at = { kind: 'meter', id: 'meter-1' } as const;
    expect(beams.of(thingsOf(after(netMoved, { type: 'move', at, positionM: [1, 1, 1] })))).toBe(first);
    expect(beams.worked).toBe(60);
    beams.of(thingsOf(moved(start, 'source', 'lamp-7', [0.1, 0, 0])));
    expect(beams.worked).toBe(61);
  });
});

test('a ray meets the same with things passed over by the balls round them as with none passed over', () => {
  const things = thingsOf(largeScene());
  const unbounded = <T extends { readonly ball: { readonly middle: Vec3 } }>(list: readonly T[]): T[] =>
    list.map((thing) => ({ ...thing, ball: { ...thing.ball, radiusM: Infinity } }));
  const all = { ...things, surfaces: unbounded(things.surfaces), modifiers: unbounded(things.modifiers) };
  const next = numbers(5);
  let metGrip = 0;
  let passed = 0;
  for (let i = 0; i < 3000; i += 1) {
    const from: Vec3 = [30 + 32 * next(), 12 + 14 * next(), 1.5 + 1.4 * next()];
    const direction = normalise([next(), next(), 0.3 * next()]);
    const hit = castRay(things, from, direction, 60);
    expect(hit).toEqual(castRay(all, from, direction, 60));
    metGrip += hit.modifierId === null ? 0 : 1;
    passed += hit.passed.length;
  }
  expect(metGrip).toBeGreaterThan(20);
  expect(passed).toBeGreaterThan(50);
});

test('a ray that asks the nearest first meets what one that asks in any order meets', () => {
  const things = thingsOf(largeScene());
  const next = numbers(21);
  const meets = (from: Vec3, direction: Vec3, list: SceneThings): unknown => {
    const { passed, ...hit } = castRay(list, from, direction, 60);
    return { ...hit, passed: [...passed].sort() };
  };
  for (let i = 0; i < 40; i += 1) {
    const from: Vec3 = [30 + 32 * next(), 12 + 14 * next(), 1.5 + 1.4 * next()];
    const near = nearestFirst(things, from);
    expect(near.surfaces).toHaveLength(things.surfaces.length);
    for (let ray = 0; ray < 20; ray += 1) {
      const direction = normalise([next(), next(), 0.3 * next()]);
      expect(meets(from, direction, near)).toEqual(meets(from, direction, things));
    }
  }
});

test('a drawing is made again for another thing alone, and for all where what they are drawn with is another', () => {
  const kept = new KeptDrawings<{ readonly n: number }, string>();
  const [a, b, camera] = [{ n: 1 }, { n: 2 }, {}];
  const draw = ({ n }: { readonly n: number }): string => `thing ${n}`;
  expect(kept.of([a, b], [camera], draw)).toEqual(['thing 1', 'thing 2']);
  expect(kept.of([b, a], [camera], draw)).toEqual(['thing 2', 'thing 1']);
  expect(kept.made).toBe(2);
  expect(kept.of([{ n: 3 }, b], [camera], draw)).toEqual(['thing 3', 'thing 2']);
  expect(kept.made).toBe(3);
  kept.of([a, b], [{}], draw);
  expect(kept.made).toBe(5);
});

describe('a view that is shifted', () => {
  const [rightPx, downPx] = [37, -21];
  const modelOf = (): SheetModel => {
    const model = createSheetModel('plan', estimateTextWidth);
    model.resize(1000, 640);
    model.setState(sheetStateOf(largeScene(), { surfaceId: 'store-1-east', sourceId: 'lamp-1' }));
    return model;
  };
  const kept = modelOf();
  const before = kept.picture()!;
  kept.panBy(rightPx, downPx);
  const after = kept.picture()!;
  // What was never drawn has nothing to keep.
  const fresh = modelOf();
  fresh.panBy(rightPx, downPx);
  const anew = fresh.picture()!;

  it('draws none of the walls, beams, lamps and pieces anew', () => {
    for (const name of ['cones', 'floors', 'walls', 'beams', 'things']) {
      const [one, other] = [before, after].map(({ layers }) => layers.find((layer) => layer.name === name)!);
      expect(other!.shapes.length).toBeGreaterThan(0);
      expect(changedLots(one!.shapes, other!.shapes)).toEqual([]);
      expect(other!.shapes.filter((shape, i) => shape !== one!.shapes[i])).toEqual([]);
      expect(other!.shift).toEqual([expect.closeTo(rightPx, 6), expect.closeTo(downPx, 6)]);
    }
  });

  it('shows what one drawn anew shows, and hits the same', () => {
    expect(after.layers.map(({ name }) => name)).toEqual(anew.layers.map(({ name }) => name));
    after.layers.forEach((layer, order) => {
      const [x, y] = layer.shift ?? [0, 0];
      const points = ({ shapes }: Layer, dx: number, dy: number): number[] =>
        shapes
          .flatMap((shape) => (shape.kind === 'line' ? shape.paths : shape.rings).flat())
          .map((value, i) => value + (i % 2 === 0 ? dx : dy));
      const [shown, wanted] = [points(layer, x, y), points(anew.layers[order]!, 0, 0)];
      // Threads and hatches run where the sheet's own raster puts them.
      if (layer.name !== 'walls' && layer.name !== 'things') {
        expect(shown).toHaveLength(wanted.length);
        const worst = Math.max(0, ...shown.map((value, i) => Math.abs(value - wanted[i]!)));
        expect(worst).toBeLessThan(1e-6);
      }
      expect(layer.texts.map(({ lines }) => lines)).toEqual(anew.layers[order]!.texts.map(({ lines }) => lines));
    });
    const next = numbers(31);
    const hits = Array.from({ length: 300 }, () => ({ x: 500 + 480 * next(), y: 320 + 220 * next() })).map((at) => [
      kept.hitTest(at, false),
      fresh.hitTest(at, false),
    ]);
    expect(hits.filter(([one]) => one !== null).length).toBeGreaterThan(100);
    for (const [one, other] of hits) expect(one).toEqual(other);
  });

  it('draws what lies within a sheet beside it and no more, and anew beyond that', () => {
    const model = modelOf();
    const countOf = (name: string): number =>
      model.picture()!.layers.find((layer) => layer.name === name)!.shapes.length;
    const whole = countOf('walls');
    model.zoomAt({ x: 500, y: 320 }, 8);
    expect(countOf('walls')).toBeLessThan(0.5 * whole);
    const shown = model.picture()!.layers.find(({ name }) => name === 'walls')!;
    model.panBy(900, 0);
    expect(model.picture()!.layers.find(({ name }) => name === 'walls')!.shapes).toBe(shown.shapes);
    model.panBy(300, 0);
    const anewWalls = model.picture()!.layers.find(({ name }) => name === 'walls')!;
    expect(anewWalls.shapes).not.toBe(shown.shapes);
    expect(anewWalls.shift).toEqual([0, 0]);
    // Every edge of a wall that begins on the sheet is there.
    const drawn = new Set(
      anewWalls.shapes
        .flatMap((shape) => (shape.kind === 'line' ? shape.paths : []))
        .map(([x, y]) => `${x!.toFixed(3)} ${y!.toFixed(3)}`),
    );
    const onSheet = planWalls(thingsOf(largeScene()).surfaces)
      .flatMap((wall) => wall.edges)
      .map(([u, v]) => model.screenFromWorld([u!, v!, 0]))
      .filter(({ x, y }) => x > 0 && x < 1000 && y > 0 && y < 640);
    expect(onSheet.length).toBeGreaterThan(10);
    expect(onSheet.filter(({ x, y }) => !drawn.has(`${x.toFixed(3)} ${y.toFixed(3)}`))).toEqual([]);
  });
});

describe('names in a crowd', () => {
  const labelled = (document: SceneDocument, zoom: number): { texts: string[]; leaders: number } => {
    const model = createSheetModel('plan', estimateTextWidth);
    model.resize(1000, 640);
    model.setState(sheetStateOf(document, { surfaceId: 'store-1-east', sourceId: 'lamp-1' }));
    model.zoomAt({ x: 500, y: 320 }, zoom);
    const texts = model.picture()!.layers.flatMap((layer) => layer.texts);
    return {
      texts: texts.flatMap(({ lines }) => lines.map((line) => line.map(({ text }) => text).join(''))),
      leaders: farFromThings(model, texts),
    };
  };
  /** Names of lamps and pieces that stand more than a label's own reach from what they name. */
  function farFromThings(model: SheetModel, texts: readonly TextOp[]): number {
    const targets = new Map(
      [...Object.values(largeScene().setups[0]!.sources), ...Object.values(largeScene().setups[0]!.modifiers)].flatMap(
        (one) => (one && 'pose' in one ? [[one.name, model.screenFromWorld(one.pose.positionM)] as const] : []),
      ),
    );
    return texts.filter(({ lines, x, y }) => {
      const at = targets.get(lines[0]![0]!.text);
      return at !== undefined && Math.hypot(x - at.x, y - at.y) > 75;
    }).length;
  }

  it('keep beside their things, and are there once there is room', () => {
    const far = labelled(largeScene(), 1);
    expect(far.leaders).toBe(0);
    const near = labelled(largeScene(), 6);
    expect(near.leaders).toBe(0);
    // Zoomed in, what is on the sheet is named, and what is off it is not.
    expect(near.texts.filter((text) => /^[LNFS]\d+/.test(text)).length).toBeGreaterThan(6);
    expect(near.texts.filter((text) => /^[LNFS]\d+/.test(text)).length).toBeLessThan(40);
  });
});

describe('the grid behind the lettering', () => {
  const next = numbers(9);
  const [widthPx, heightPx] = [410, 290];
  const x = (): number => widthPx / 2 + next() * widthPx * 0.7;
  const y = (): number => heightPx / 2 + next() * heightPx * 0.7;
  /** Boxes on the sheet, as those of labels are. */
  const labels = Array.from({ length: 400 }, (): Box => {
    const [left, top] = [Math.min(widthPx - 60, Math.max(1, x())), Math.min(heightPx - 20, Math.max(1, y()))];
    return { left, top, right: left + 55, bottom: top + 15 };
  });

  it('sums what every segment tried alone sums', () => {
    const segments = Array.from({ length: 300 }, (_, i) => {
      const [ax, ay] = [x(), y()];
      if (i % 10 === 0) return [ax, ay, ax, y(), 1] as const;
      if (i % 10 === 1) return [ax, ay, x(), ay, 2] as const;
      return [ax, ay, x(), y(), 1 + (i % 2)] as const;
    });
    const grid = new SegmentGrid(widthPx, heightPx);
    for (const segment of segments) grid.add(...segment);
    for (const box of labels) {
      const sum = segments.reduce(
        (total, [ax, ay, bx, by, weight]) => total + (segmentMeetsBox(ax, ay, bx, by, box) ? weight : 0),
        0,
      );
      expect(grid.weightIn(box)).toBe(sum);
    }
  });

  it('finds a place free where no box taken overlaps it', () => {
    const taken = Array.from({ length: 60 }, (): Box => {
      const [left, top] = [x(), y()];
      return { left, top, right: left + 30 * (1 + next()), bottom: top + 20 * (1 + next()) };
    });
    const grid = new BoxGrid(widthPx, heightPx);
    for (const box of taken) grid.add(box);
    const isFree = labels.map((box) => !taken.some((other) => overlaps(box, other)));
    expect(labels.map((box) => grid.isFree(box))).toEqual(isFree);
    expect(new Set(isFree).size).toBe(2);
  });
});

describe('a lamp dragged', () => {
  const LAMP = { kind: 'source', id: 'lamp-7' } as const;
  const stateOf = (document: SceneDocument, ghost: SheetState['ghost']): SheetState =>
    sheetStateOf(document, { surfaceId: 'store-1-east', sourceId: 'lamp-1', selection: LAMP, ghost });
  /** Lots of shapes that are drawn anew for one move in the midst of a drag. */
  function lotsOf(kind: SheetKind, roomCount: number): number {
    const document = largeScene(roomCount);
    const ghost = { object: LAMP, document };
    const model = createSheetModel(kind, estimateTextWidth);
    model.resize(1000, 640);
    model.setState(stateOf(moved(document, 'source', LAMP.id, [0.1, 0, 0]), ghost));
    const before = new Map(model.picture()!.layers.map((layer): [string, Layer] => [layer.name, layer]));
    model.setState(stateOf(moved(document, 'source', LAMP.id, [0.12, 0, 0]), ghost));
    return model
      .picture()!
      .layers.reduce((sum, layer) => sum + changedLots(before.get(layer.name)?.shapes ?? [], layer.shapes).length, 0);
  }
  it.each(['plan', 'elevation', 'section'] as const)(
    'redraws on the %s no more among 50 rooms than among 10',
    (kind) => {
      expect(lotsOf(kind, 50)).toBeLessThanOrEqual(lotsOf(kind, 10) + 1);
    },
  );

  it.each(['plan', 'section'] as const)('makes anew on the %s the shapes of what moved alone', (kind) => {
    // By identity: a shape that is made again counts, however alike it is.
    const madeFor = (roomCount: number): { made: number; all: number } => {
      const document = largeScene(roomCount);
      const ghost = { object: LAMP, document };
      const model = createSheetModel(kind, estimateTextWidth);
      model.resize(1000, 640);
      const shapesAt = (byM: number): object[] => {
        model.setState(stateOf(moved(document, 'source', LAMP.id, [byM, 0, 0]), ghost));
        // The topmost layer holds handles, dimensions and leaders, which are few and hang on everything.
        const layers = model.picture()!.layers.filter(({ name }) => name !== 'top' && name !== 'reading');
        return layers.flatMap((layer): readonly object[] => layer.shapes);
      };
      const before = new Set(shapesAt(0.1));
      const now = shapesAt(0.12);
      return { made: now.filter((shape) => !before.has(shape)).length, all: now.length };
    };
    const [few, many] = [madeFor(10), madeFor(50)];
    expect(few.made).toBeGreaterThan(0);
    if (kind === 'plan') {
      expect(many.all).toBeGreaterThan(1500);
      // What moved, and the marks and meters, which are few. The place before the drag is not among them.
      expect(many.made).toBeLessThanOrEqual(90);
    }
    expect(many.made).toBeLessThanOrEqual(few.made + 4);
  });

  it('leaves the lines of all other things in the list as they stand', () => {
    const units = { length: 'metres', illuminance: 'lux' } as const;
    const document = largeScene();
    const lines = listedGroups(document, 'a', units).flatMap(({ things }) => things);
    const next = listedGroups(moved(document, 'source', LAMP.id, [0, 0, 0.5]), 'a', units).flatMap(
      ({ things }) => things,
    );
    expect(next).toHaveLength(lines.length);
    expect(next.filter((line, i) => line !== lines[i]).map(({ name }) => name)).toEqual(['L7']);
    // A wall that is raised takes its window's height with it, and other units are other words.
    const at = { kind: 'surface', id: 'store-2-west' } as const;
    const raised = after(document, { type: 'move', at, positionM: [6, 0, 0.4] });
    const windows = listedGroups(raised, 'a', units).find(({ name }) => name === 'Windows')!.things;
    expect(windows.find(({ ref }) => ref.surfaceId === at.id)!.place).toMatch(/^h 2\.10\sm$/);
    const inFeet = listedGroups(raised, 'a', { ...units, length: 'feet' }).flatMap(({ things }) => things);
    expect(inFeet.filter(({ place }) => /\sm$/.test(place))).toEqual([]);
  });
});
