import { describe, expect, it } from 'vitest';
import {
  depthOf,
  elevationProjection,
  lookingTowards,
  PLAN_PROJECTION,
  sectionProjection,
  sheetFromWorld,
  worldFromSheet,
} from '../../src/render/projections';
import { room } from './scene';

const north = elevationProjection(room.surfaces['north']!.pose);
const alongNorthEast = sectionProjection({ positionM: [1, 2, 3], aim: { panDeg: 58, tiltDeg: -10 } });

describe('projections', () => {
  it('shows a wall that faces south with east on its right', () => {
    expect(sheetFromWorld(north, [2, 5, 1.3])).toEqual({ u: 2, v: 1.3 });
    expect(depthOf(north, [2, 4, 1.3])).toBeCloseTo(1, 12);
  });
  it('keeps the depth of the thing that is dragged', () => {
    for (const projection of [PLAN_PROJECTION, north, alongNorthEast]) {
      const through = [1.5, 3.2, 2.1] as const;
      const back = worldFromSheet(projection, sheetFromWorld(projection, through), through);
      back.forEach((value, i) => expect(value).toBeCloseTo(through[i]!, 12));
      const moved = worldFromSheet(projection, { u: 7, v: 0.5 }, through);
      expect(depthOf(projection, moved)).toBeCloseTo(depthOf(projection, through), 12);
    }
  });
  it('cuts a section through the lamp, throwing to the right', () => {
    expect(sheetFromWorld(alongNorthEast, [1, 2, 3])).toEqual({ u: 0, v: 3 });
    const ahead = sheetFromWorld(alongNorthEast, [
      1 + Math.sin((58 * Math.PI) / 180),
      2 + Math.cos((58 * Math.PI) / 180),
      3,
    ]);
    expect(ahead.u).toBeCloseTo(1, 12);
  });
  it('names the wind the reader looks towards', () => {
    expect(lookingTowards(north, 0)).toBe('north');
    // Throwing to the north-east (pan 58°), the reader faces pan -32°.
    expect(lookingTowards(alongNorthEast, 0)).toBe('north-west');
    expect(lookingTowards(alongNorthEast, 90)).toBe('south-west');
    expect(lookingTowards(PLAN_PROJECTION, 0)).toBeNull();
  });
});
