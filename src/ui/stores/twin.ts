/** The real sun in the lamp's place: same openings, no grip but what throws wanted shadows, same level on the patch. */
import type { SceneDocument, Sun } from '../../scene/schema';
import { frameFromPose, panTiltFromDirection } from '../../scene/geometry/frames';
import { dot, normalise, type Vec3 } from '../../scene/geometry/vector';
import { directionToSun } from '../../scene/geometry/frames';
import type { GridResult, SunCheck } from '../../sim/results';
import { roleOf } from '../../sim/solve/compileScene';
import { setupOf } from '../tools/things';

export const TWIN_ID = 'sun-twin';
const LEAST_COSINE = 0.02;

/**
 * The scene with one real sun and nothing else lit. Its direction is the story's typed sun, else the direction that
 * the lamp's light has in the middle of the patch; its level is the lamp's there, so that the two can be compared.
 * @returns null while the lamp has no patch that a sun could be set against
 */
export function twinDocument(document: SceneDocument, setupId: string, check: SunCheck): SceneDocument | null {
  const surface = document.surfaces[check.surfaceId];
  const setup = setupOf(document, setupId);
  if (!surface || !setup || !check.drawing) return null;
  const { altitudeDeg, azimuthDeg, towards } = sunDirection(document, check.drawing.arrival);
  const cosine = dot(frameFromPose(surface.pose).forward, towards);
  if (cosine < LEAST_COSINE) return null;
  const middleLx = Math.sqrt(check.drawing.hot.illuminanceLx * check.drawing.cold.illuminanceLx);
  if (!(middleLx > 0)) return null;
  const sun: Sun = { type: 'sun', name: 'Sun twin', altitudeDeg, azimuthDeg, normalIlluminanceLx: middleLx / cosine };
  const kept = Object.entries(setup.modifiers).filter(([, modifier]) => roleOf(modifier) === 'set');
  const twinSetup = { ...setup, sources: { [TWIN_ID]: sun }, modifiers: Object.fromEntries(kept) };
  return {
    ...document,
    story: { ...document.story, playsSun: [{ sourceId: TWIN_ID, surfaceId: check.surfaceId }] },
    setups: [twinSetup],
  };
}

function sunDirection(
  document: SceneDocument,
  arrival: Vec3,
): { altitudeDeg: number; azimuthDeg: number; towards: Vec3 } {
  const northDeg = document.northDeg ?? 0;
  const typed = document.story?.sun;
  if (typed) return { ...typed, towards: directionToSun(typed.altitudeDeg, typed.azimuthDeg, northDeg) };
  const towards = normalise(arrival);
  const { panDeg, tiltDeg } = panTiltFromDirection(towards);
  return { altitudeDeg: tiltDeg, azimuthDeg: (((panDeg - northDeg) % 360) + 360) % 360, towards };
}

/** Levels of a grid on another number of columns and rows of the same area: the nearest cell's. */
export function resampled(grid: GridResult, columns: number, rows: number): Float32Array {
  if (grid.columns === columns && grid.rows === rows) return grid.illuminanceLx;
  const levels = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row += 1) {
    const fromRow = Math.min(grid.rows - 1, Math.floor(((row + 0.5) * grid.rows) / rows));
    for (let column = 0; column < columns; column += 1) {
      const fromColumn = Math.min(grid.columns - 1, Math.floor(((column + 0.5) * grid.columns) / columns));
      levels[row * columns + column] = grid.illuminanceLx[fromRow * grid.columns + fromColumn] ?? 0;
    }
  }
  return levels;
}
