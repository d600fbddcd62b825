import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fitCamera,
  MAX_PIXELS_PER_METRE,
  panCamera,
  screenFromSheet,
  sheetFromScreen,
  zoomCamera,
  type Camera,
} from '../../src/render/camera';

const cameras = fc.record({
  centre: fc.record({
    u: fc.double({ min: -50, max: 50, noNaN: true }),
    v: fc.double({ min: -50, max: 50, noNaN: true }),
  }),
  pixelsPerMetre: fc.double({ min: 2, max: 4000, noNaN: true }),
  widthPx: fc.integer({ min: 50, max: 4000 }),
  heightPx: fc.integer({ min: 50, max: 3000 }),
});
const points = fc.record({ x: fc.integer({ min: 0, max: 4000 }), y: fc.integer({ min: 0, max: 3000 }) });

describe('camera', () => {
  it('goes from the screen to the sheet and back', () => {
    fc.assert(
      fc.property(cameras, points, (camera, at) => {
        const back = screenFromSheet(camera, sheetFromScreen(camera, at));
        expect(back.x).toBeCloseTo(at.x, 6);
        expect(back.y).toBeCloseTo(at.y, 6);
      }),
    );
  });
  it('keeps the point under the pointer when it zooms, also at the end of the range', () => {
    fc.assert(
      fc.property(cameras, points, fc.double({ min: 0.01, max: 100, noNaN: true }), (camera, at, factor) => {
        const before = sheetFromScreen(camera, at);
        const after = sheetFromScreen(zoomCamera(camera, at, factor), at);
        expect(after.u).toBeCloseTo(before.u, 6);
        expect(after.v).toBeCloseTo(before.v, 6);
      }),
    );
  });
  it('holds the scale within its limits', () => {
    const camera: Camera = { centre: { u: 0, v: 0 }, pixelsPerMetre: 100, widthPx: 600, heightPx: 400 };
    expect(zoomCamera(camera, { x: 0, y: 0 }, 1e6).pixelsPerMetre).toBe(MAX_PIXELS_PER_METRE);
  });
  it('moves the drawing with the pointer: right and down', () => {
    const camera: Camera = { centre: { u: 0, v: 0 }, pixelsPerMetre: 100, widthPx: 600, heightPx: 400 };
    const before = screenFromSheet(camera, { u: 1, v: 1 });
    const after = screenFromSheet(panCamera(camera, 30, 20), { u: 1, v: 1 });
    expect(after.x - before.x).toBeCloseTo(30, 9);
    expect(after.y - before.y).toBeCloseTo(20, 9);
  });
  it('fits bounds inside the margins and touches the tighter pair', () => {
    const margins = { left: 50, top: 20, right: 90, bottom: 40 };
    const bounds = { minU: -1, minV: 0, maxU: 8, maxV: 3 };
    const camera = fitCamera(bounds, 600, 350, margins);
    const lowerLeft = screenFromSheet(camera, { u: bounds.minU, v: bounds.minV });
    const upperRight = screenFromSheet(camera, { u: bounds.maxU, v: bounds.maxV });
    expect(lowerLeft.x).toBeCloseTo(50, 6);
    expect(upperRight.x).toBeCloseTo(510, 6);
    expect(upperRight.y).toBeGreaterThanOrEqual(20);
    expect(lowerLeft.y).toBeLessThanOrEqual(310);
  });
});
