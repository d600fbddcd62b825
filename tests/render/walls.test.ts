import { describe, expect, it } from 'vitest';
import { sectionProjection } from '../../src/render/projections';
import { planWalls, sectionWalls } from '../../src/render/wallGeometry';
import { thingsOfRoom } from './scene';

const box = (path: readonly number[]): { minU: number; maxU: number; minV: number; maxV: number } => {
  const us = path.filter((_, i) => i % 2 === 0);
  const vs = path.filter((_, i) => i % 2 === 1);
  return { minU: Math.min(...us), maxU: Math.max(...us), minV: Math.min(...vs), maxV: Math.max(...vs) };
};

describe('walls as the plan cuts them', () => {
  const walls = planWalls(thingsOfRoom().surfaces);
  const west = walls.find((wall) => wall.surfaceId === 'west')!;
  const north = walls.find((wall) => wall.surfaceId === 'north')!;

  it('opens the wall where the window is', () => {
    expect(west.pieces).toHaveLength(2);
    const spans = west.pieces.map((piece) => [piece[1], piece[3]]);
    expect(spans).toEqual([
      [0, 2],
      [3.2, 5],
    ]);
  });
  it('lays the thickness behind the lit face and joins the corner', () => {
    // North wall: lit face y = 5, 0.2 m thick; its outer face runs on to the outer face of the west wall at x = -0.3.
    const all = north.pieces.flat();
    expect(box(all).minU).toBeCloseTo(-0.3, 9);
    expect(box(all).maxU).toBeCloseTo(9.2, 9);
    expect(box(all).minV).toBeCloseTo(5, 9);
    expect(box(all).maxV).toBeCloseTo(5.2, 9);
  });
  it('draws no line across a joint, but one at a free end', () => {
    // Two long lines of the north wall and no end; the west wall ends free at y = 0 and at both jambs.
    expect(north.edges).toHaveLength(2);
    expect(west.edges).toHaveLength(4 + 3);
  });
  it('draws the window with both faces, the glazing in mid-depth and its upright bar', () => {
    const [window] = west.windows;
    expect(window!.faces.map((face) => face[0])).toEqual([0, -0.3]);
    expect(window!.glazing).toEqual([-0.15, 2, -0.15, 3.2]);
    expect(window!.bars).toHaveLength(1);
    expect(box(window!.bars[0]!).minV).toBeCloseTo(2.585, 9);
    expect(box(window!.bars[0]!).maxV).toBeCloseTo(2.615, 9);
  });
});

describe('walls as a section cuts them', () => {
  const square = sectionProjection({ positionM: [-4, 2.2, 1.75], aim: { panDeg: 90, tiltDeg: 0 } });

  it('cuts the window wall below the sill and above the head', () => {
    const west = sectionWalls(thingsOfRoom().surfaces, square).find((wall) => wall.surfaceId === 'west')!;
    const boxes = west.pieces.map(box);
    expect(boxes.map(({ minV, maxV }) => [minV, maxV])).toEqual([
      [0, 1],
      [2.5, 3],
    ]);
    expect(boxes[0]!.minU).toBeCloseTo(3.7, 9);
    expect(boxes[0]!.maxU).toBeCloseTo(4, 9);
    expect(west.windows[0]!.bars).toHaveLength(1);
  });
  it('misses the window when the cut runs beside it', () => {
    const beside = sectionProjection({ positionM: [-4, 1, 1.75], aim: { panDeg: 90, tiltDeg: 0 } });
    const west = sectionWalls(thingsOfRoom().surfaces, beside).find((wall) => wall.surfaceId === 'west')!;
    expect(west.pieces).toHaveLength(1);
    expect(west.windows).toHaveLength(0);
  });
  it('leaves out a wall that runs along the cut', () => {
    expect(sectionWalls(thingsOfRoom().surfaces, square).map((wall) => wall.surfaceId)).toEqual([
      'west',
      'east',
      'floor',
    ]);
  });
  it('shows a wall cut at a slant thicker, by the cosine', () => {
    const slant = sectionProjection({ positionM: [-4, -1, 1.75], aim: { panDeg: 60, tiltDeg: 0 } });
    const west = sectionWalls(thingsOfRoom().surfaces, slant).find((wall) => wall.surfaceId === 'west')!;
    const { minU, maxU } = box(west.pieces[0]!);
    expect(maxU - minU).toBeCloseTo(0.3 / Math.cos((30 * Math.PI) / 180), 6);
  });
});
