/** Black foil on a lamp's face, on the sheets: which strips are drawn, and where. */
import { expect, test } from 'vitest';
import type { SheetKind } from '../../src/render/contract';
import { estimateTextWidth } from '../../src/render/labels';
import { createSheetModel } from '../../src/render/sheetModel';
import type { Lamp } from '../../src/scene/schema';
import { sheetStateOf, withLamp } from './scene';

const FOIL_BLACK = 0x0b0d0f;
type Edges = Extract<NonNullable<Lamp['accessories']>[number], { kind: 'blackEdges' }>;

/** Extents of the foil on a sheet, px: left, top, right, bottom of every strip. */
function foilOn(kind: SheetKind, emitter: Lamp['emitter'], edges: Omit<Edges, 'kind'>): number[][] {
  const document = withLamp({
    pose: { positionM: [4.5, 2.5, 1.5], aim: { panDeg: 0, tiltDeg: 0 } },
    emitter,
    distribution: { kind: 'lambertian' },
    accessories: [{ kind: 'blackEdges', ...edges }],
  });
  const model = createSheetModel(kind, estimateTextWidth);
  model.resize(1200, 900);
  model.setState(sheetStateOf(document));
  const shapes = model.picture()!.layers.flatMap((layer) => layer.shapes);
  return shapes.flatMap((shape) => {
    if (shape.kind !== 'fill' || shape.colour !== FOIL_BLACK) return [];
    const xs = shape.rings[0]!.filter((_, i) => i % 2 === 0);
    const ys = shape.rings[0]!.filter((_, i) => i % 2 === 1);
    return [[Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]];
  });
}
const PANEL: Lamp['emitter'] = { shape: 'rectangle', widthM: 2, heightM: 1 };

test('on plan a panel shows the foil at its left and right, at their true widths', () => {
  const strips = foilOn('plan', PANEL, { leftM: 0.2, rightM: 0.6, topM: 0.3 });
  expect(strips).toHaveLength(2);
  const widths = strips.map(([left, , right]) => right! - left!);
  expect(widths[1]! / widths[0]!).toBeCloseTo(3, 6);
  // The lamp looks up the sheet: its left, seen from behind, is the sheet's left.
  expect(strips[0]![0]!).toBeLessThan(strips[1]![0]!);
});

test('on an elevation it shows all four sides; a ring by its two ends; a globe none', () => {
  expect(foilOn('elevation', PANEL, { leftM: 0.2, rightM: 0.2, topM: 0.1, bottomM: 0.1 })).toHaveLength(4);
  expect(foilOn('plan', { shape: 'disc', diameterM: 2 }, { ringM: 0.2 })).toHaveLength(2);
  expect(foilOn('plan', { shape: 'tube', lengthM: 2, diameterM: 0.04 }, { rightM: 0.2 })).toHaveLength(1);
  expect(foilOn('plan', { shape: 'sphere', diameterM: 2 }, { ringM: 0.2 })).toHaveLength(0);
});

test('a lamp drawn larger than it is has no foil at a true place', () => {
  expect(foilOn('plan', { shape: 'rectangle', widthM: 0.1, heightM: 0.1 }, { leftM: 0.02 })).toHaveLength(0);
});
