/** What becomes of a wall's shape, and of all that lies in it, when the wall is made longer or shorter. Lengths in its own metres. */
import { openingRing, ringOf, shapeProblems } from '../../scene/invariants';
import { boundsOf, liesWithin } from '../../scene/outlines';
import type { Point2, Surface } from '../../scene/schema';

const plain = (value: number): number => Number(value.toFixed(9)) + 0;
const FITS_M = 1e-9;

/** Where a wall's own left end lies. */
export const leftOf = ({ shape }: Pick<Surface, 'shape'>): number => boundsOf(ringOf(shape)).leftM;

/**
 * A rectangle `widthM` wide; an outline drawn out evenly from its left end, so that a gable keeps its middle.
 * @param holesByM how far its holes go to the right: they keep their size
 */
export function widened(shape: Surface['shape'], widthM: number, holesByM: number): Surface['shape'] {
  if (shape.kind === 'rectangle') return { ...shape, widthM };
  const { leftM, rightM } = boundsOf(shape.outlineM);
  const share = widthM / (rightM - leftM);
  const outlineM = shape.outlineM.map(([right, up]): [number, number] => [plain(leftM + (right - leftM) * share), up]);
  const holesM = shape.holesM?.map((hole) => shiftedRing(hole, holesByM));
  return { kind: 'polygon', outlineM, ...(holesM && { holesM }) };
}
export const shiftedRing = (ring: readonly Point2[], byM: number): [number, number][] =>
  ring.map(([right, up]): [number, number] => [plain(right + byM), up]);

/** Why a cut wall cannot have its new outline with these openings, one sentence; null where it can, and for a rectangle. */
export function noRoom(
  name: string,
  shape: Surface['shape'],
  openings: NonNullable<Surface['openings']>,
): string | null {
  if (shape.kind === 'rectangle') return null;
  if (shapeProblems(shape, []).length > 0) return `${name} would cross itself or one of its holes.`;
  const lost = Object.entries(openings).find(([, opening]) => !liesWithin(openingRing(opening), shape.outlineM));
  return lost ? `${lost[1].name ?? lost[0]} would no longer lie in ${name}.` : null;
}

/** Length of the wall that its openings need when the other end stays, and the opening that needs it. */
export function neededM(
  surface: Surface,
  moved: 'left' | 'right',
  widthM: number,
): { readonly lengthM: number; readonly name: string } {
  const fromM = leftOf(surface);
  let needed = { lengthM: 0, name: '' };
  for (const [id, opening] of Object.entries(surface.openings ?? {})) {
    const { leftM, rightM } = boundsOf(openingRing(opening));
    const lengthM = moved === 'right' ? rightM - fromM : widthM - (leftM - fromM);
    if (lengthM > needed.lengthM + FITS_M) needed = { lengthM, name: opening.name ?? id };
  }
  return needed;
}
