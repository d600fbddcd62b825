/** A strip of cells: one panel behind a mask of its own that darkens the gaps and dims the cells. */
import type { Lamp } from '../../scene/schema';
import { frameFromPose, worldFromLocal } from '../../scene/geometry/frames';
import { addScaled } from '../../scene/geometry/vector';
import type { BlockerLayer, ConvexPiece } from './compiled';
import { BEFORE_FACE_M } from './lampScrims';
import { virtualOriginOf } from './readingsOutput';
import { rectangleOutline } from './shapes';

/**
 * @returns the mask, as a layer on that lamp's light alone; none for a lamp without cells
 * @remarks Cells are as high as the panel and share one colour. The mask shades rather than cuts: what judges shadows
 *   takes the strip for one panel.
 */
export function cellLayers(sourceId: string, lamp: Lamp): BlockerLayer[] {
  const { emitter, distribution } = lamp;
  if (emitter.shape !== 'rectangle' || emitter.cells === undefined || distribution.kind === 'lensed') return [];
  const { widthM, heightM, cells } = emitter;
  const { count, glowShare = 1, levels = [] } = cells;
  const lens = frameFromPose(lamp.pose);
  const frame = { ...lens, origin: addScaled(lens.origin, lens.forward, BEFORE_FACE_M - virtualOriginOf(lamp)) };
  const pitchM = widthM / count;
  // A gap is two half gaps, the first and the last with an edge beyond the panel's rim.
  const gapM = (pitchM * (1 - glowShare)) / 2;
  const pieces: ConvexPiece[] = [];
  const add = (fromM: number, wideM: number, opacity: number): void => {
    if (opacity === 0 || wideM === 0) return;
    // Cells are counted from the left as seen from behind, which is the frame's right.
    const outline = rectangleOutline(widthM / 2 - fromM - wideM, -heightM, wideM, 2 * heightM);
    pieces.push({ corners: outline.map((corner) => worldFromLocal(frame, corner)), hole: false, opacity });
  };
  for (let cell = 0; cell < count; cell++) {
    const fromM = cell * pitchM;
    add(fromM, gapM, 1);
    add(fromM + gapM, pitchM - 2 * gapM, 1 - (levels[cell] ?? 1));
    add(fromM + pitchM - gapM, gapM, 1);
  }
  if (pieces.length === 0) return [];
  const { origin, forward: normal } = frame;
  const place = { ownSurfaceId: null, onlySourceId: sourceId, origin, normal, weave: null } as const;
  return [{ id: `${sourceId} cells`, ...place, role: 'shade', opacity: 1, pieces }];
}
