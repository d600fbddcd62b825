/**
 * The view of one sheet: which part of the drawing's own plane (metres, u right, v up) fills the host (CSS pixels from
 * the top left, y down). Pure values; every change gives a new camera.
 */
export interface ScreenPoint {
  readonly x: number;
  readonly y: number;
}
export interface SheetPoint {
  readonly u: number;
  readonly v: number;
}
export interface Camera {
  /** Sheet point in the middle of the host, metres. */
  readonly centre: SheetPoint;
  readonly pixelsPerMetre: number;
  readonly widthPx: number;
  readonly heightPx: number;
}
export interface SheetBounds {
  readonly minU: number;
  readonly minV: number;
  readonly maxU: number;
  readonly maxV: number;
}
export interface Margins {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export const MIN_PIXELS_PER_METRE = 2;
export const MAX_PIXELS_PER_METRE = 4000;
const clampScale = (scale: number): number => Math.min(MAX_PIXELS_PER_METRE, Math.max(MIN_PIXELS_PER_METRE, scale));

export const screenFromSheet = (camera: Camera, point: SheetPoint): ScreenPoint => ({
  x: camera.widthPx / 2 + (point.u - camera.centre.u) * camera.pixelsPerMetre,
  y: camera.heightPx / 2 - (point.v - camera.centre.v) * camera.pixelsPerMetre,
});

export const sheetFromScreen = (camera: Camera, point: ScreenPoint): SheetPoint => ({
  u: camera.centre.u + (point.x - camera.widthPx / 2) / camera.pixelsPerMetre,
  v: camera.centre.v - (point.y - camera.heightPx / 2) / camera.pixelsPerMetre,
});

/** Moves the drawing with the pointer: positive deltas push it right and down. */
export function panCamera(camera: Camera, deltaXPx: number, deltaYPx: number): Camera {
  const { centre, pixelsPerMetre } = camera;
  return {
    ...camera,
    centre: { u: centre.u - deltaXPx / pixelsPerMetre, v: centre.v + deltaYPx / pixelsPerMetre },
  };
}

/** Zooms by `factor` so that what lies under `at` stays there; the scale is held within its limits. */
export function zoomCamera(camera: Camera, at: ScreenPoint, factor: number): Camera {
  const fixed = sheetFromScreen(camera, at);
  const pixelsPerMetre = clampScale(camera.pixelsPerMetre * factor);
  return {
    ...camera,
    pixelsPerMetre,
    centre: {
      u: fixed.u - (at.x - camera.widthPx / 2) / pixelsPerMetre,
      v: fixed.v + (at.y - camera.heightPx / 2) / pixelsPerMetre,
    },
  };
}

/** The largest view that shows all of `bounds` inside the margins, centred in what they leave. */
export function fitCamera(bounds: SheetBounds, widthPx: number, heightPx: number, margins: Margins): Camera {
  const freeWidth = Math.max(20, widthPx - margins.left - margins.right);
  const freeHeight = Math.max(20, heightPx - margins.top - margins.bottom);
  const spanU = Math.max(0.2, bounds.maxU - bounds.minU);
  const spanV = Math.max(0.2, bounds.maxV - bounds.minV);
  const pixelsPerMetre = clampScale(Math.min(freeWidth / spanU, freeHeight / spanV, 600));
  const offsetX = (margins.left - margins.right) / 2;
  const offsetY = (margins.top - margins.bottom) / 2;
  return {
    widthPx,
    heightPx,
    pixelsPerMetre,
    centre: {
      u: (bounds.minU + bounds.maxU) / 2 - offsetX / pixelsPerMetre,
      v: (bounds.minV + bounds.maxV) / 2 + offsetY / pixelsPerMetre,
    },
  };
}

/** Same middle and scale in a host of another size. */
export const resizeCamera = (camera: Camera, widthPx: number, heightPx: number): Camera => ({
  ...camera,
  widthPx,
  heightPx,
});

/** Smallest box round the points, or null for none. */
export function boundsOf(points: readonly SheetPoint[]): SheetBounds | null {
  if (points.length === 0) return null;
  let [minU, minV, maxU, maxV] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { u, v } of points) {
    minU = Math.min(minU, u);
    minV = Math.min(minV, v);
    maxU = Math.max(maxU, u);
    maxV = Math.max(maxV, v);
  }
  return { minU, minV, maxU, maxV };
}
