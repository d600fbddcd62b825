/** A blind in the drawings: lines of slats in the section, the strip on the plan, bands face on, one outline round a patch. */
import { describe, expect, it } from 'vitest';
import { seenBands, slatsOf } from '../../src/render/blindMarks';
import { litOutlines } from '../../src/render/patchOutline';
import { sectionProjection } from '../../src/render/projections';
import { planWalls, sectionWalls } from '../../src/render/wallGeometry';
import type { SunCheckDrawing } from '../../src/sim/results';
import type { Blind } from '../../src/scene/geometry/blindSlats';
import type { SceneDocument } from '../../src/scene/schema';
import { sharpColumns } from '../../src/ui/stores/gridColumns';
import { room, thingsOfRoom } from './scene';

/** The window of the west wall: sill 1 m, head 2.5 m, from y = 2 to 3.2, its lit face x = 0, its depth towards -x. */
function withBlind(blind: Blind): SceneDocument {
  const west = room.surfaces['west']!;
  const opening = west.openings!['window']!;
  const window = { ...opening.window!, blind };
  return { ...room, surfaces: { ...room.surfaces, west: { ...west, openings: { window: { ...opening, window } } } } };
}
const blind: Blind = { pitchM: 0.1, slatWidthM: 0.08, tiltDeg: 30 };
const things = thingsOfRoom(withBlind(blind)).surfaces;
const westOf = <T extends { surfaceId: string }>(walls: readonly T[]): T =>
  walls.find((wall) => wall.surfaceId === 'west')!;

describe('the section', () => {
  it('shows each slat in its place, its outer edge up', () => {
    const square = sectionProjection({ positionM: [-4, 2.2, 1.75], aim: { panDeg: 90, tiltDeg: 0 } });
    const { slats } = westOf(sectionWalls(things, square)).windows[0]!;
    expect(slats).toHaveLength(15);
    // u is the distance from the lamp: the slat's middle, 40 mm behind the lit face, lies at 3.96 m.
    const [u0, v0, u1, v1] = slats[0]!;
    expect((u0! + u1!) / 2).toBeCloseTo(3.96, 9);
    expect((v0! + v1!) / 2).toBeCloseTo(2.45, 9);
    expect(u1!).toBeLessThan(u0!);
    expect(v1! - v0!).toBeCloseTo(0.04, 9);
  });
  it('shows none where it runs along the wall, or beside the window', () => {
    const beside = sectionProjection({ positionM: [-4, 4, 1.75], aim: { panDeg: 90, tiltDeg: 0 } });
    expect(westOf(sectionWalls(things, beside)).windows).toEqual([]);
    const [west] = things.filter(({ id }) => id === 'west');
    const along = sectionProjection({ positionM: [-0.04, 0, 1.75], aim: { panDeg: 0, tiltDeg: 0 } });
    const windows = sectionWalls([west!], along).flatMap((wall) => wall.windows);
    expect(windows.flatMap(({ slats }) => slats)).toEqual([]);
  });
});

it('the plan shows the strip that the slats take up, jamb to jamb', () => {
  const { slats } = westOf(planWalls(things)).windows[0]!;
  expect(slats).toHaveLength(1);
  const xs = slats[0]!.filter((_, i) => i % 2 === 0);
  const ys = slats[0]!.filter((_, i) => i % 2 === 1);
  const half = 0.04 * Math.cos(Math.PI / 6);
  expect([Math.max(...xs), Math.min(...xs)]).toEqual([
    expect.closeTo(-0.04 + half, 9),
    expect.closeTo(-0.04 - half, 9),
  ]);
  expect([Math.min(...ys), Math.max(...ys)]).toEqual([2, 3.2]);
});

it('face on, open slats leave gaps and shut ones are one band', () => {
  const bandsOf = (tiltDeg: number, slatWidthM: number) => {
    const { surfaces } = thingsOfRoom(withBlind({ ...blind, tiltDeg, slatWidthM }));
    return seenBands(slatsOf(surfaces.find(({ id }) => id === 'west')!.openings[0]!));
  };
  expect(bandsOf(30, 0.08)).toHaveLength(15);
  expect(bandsOf(-30, 0.08)).toHaveLength(15);
  expect(bandsOf(90, 0.12)).toEqual([[expect.closeTo(0.99, 9), expect.closeTo(2.51, 9)]]);
});

it('a striped patch gets one outline, a patch of panes one for each', () => {
  const outlinesOf = (isLit: (column: number, row: number) => boolean): number[][] => {
    const [columns, rows] = [200, 300];
    const lit = Uint8Array.from({ length: columns * rows }, (_, i) =>
      isLit(i % columns, Math.floor(i / columns)) ? 1 : 0,
    );
    const grid = { columns, rows, leftM: 0, bottomM: 0, widthM: 2, heightM: 3, lit };
    return litOutlines({ grid } as unknown as SunCheckDrawing);
  };
  const inside = (at: number, size: number): boolean => at >= 10 && at < size - 10;
  const striped = outlinesOf((column, row) => inside(column, 200) && inside(row, 300) && row % 8 < 5);
  expect(striped).toHaveLength(1);
  const ups = striped[0]!.filter((_, i) => i % 2 === 1);
  expect([Math.min(...ups), Math.max(...ups)]).toEqual([expect.closeTo(0.1, 1), expect.closeTo(2.9, 1)]);
  expect(outlinesOf((column, row) => column % 50 < 45 && row % 75 < 70)).toHaveLength(16);
});

it('maps are so fine that stripes are seen as they are, as far as that can be had', () => {
  expect(sharpColumns(room, 9, 256)).toBe(256);
  expect(sharpColumns(withBlind(blind), 9, 256)).toBe(270);
  expect(sharpColumns(withBlind({ ...blind, pitchM: 0.02 }), 9, 256)).toBe(640);
  expect(sharpColumns(withBlind(blind), 2, 256)).toBe(256);
});
