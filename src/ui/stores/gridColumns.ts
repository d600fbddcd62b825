/** How many columns a sharp map takes: more than usual where a blind's slats throw narrow stripes. */
import type { SceneDocument } from '../../scene/schema';

/** Cells to a slat's pitch: fewer, and stripes are drawn that are not there. Shadows on a wall are no narrower than this. */
const CELLS_A_PITCH = 3;
/** Even so: a map of 640 x 240 cells. */
const MOST_COLUMNS = 640;

/** @param columns what a map of this surface takes where no window of the scene has a blind */
export function sharpColumns(document: SceneDocument, widthM: number, columns: number): number {
  const pitches = Object.values(document.surfaces)
    .flatMap(({ openings = {} }) => Object.values(openings))
    .flatMap(({ window }) => window?.blind?.pitchM ?? []);
  if (pitches.length === 0) return columns;
  const wanted = Math.ceil((CELLS_A_PITCH * widthM) / Math.min(...pitches));
  return Math.max(columns, Math.min(MOST_COLUMNS, wanted));
}
