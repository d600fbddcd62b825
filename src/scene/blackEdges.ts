/** Black foil or tape over the rim of a lamp's lit face: what of it acts on which face, and how much it leaves. */
import type { Path, Problem } from './faults';
import type { Emitter, Lamp } from './schema';

type BlackEdges = Extract<NonNullable<Lamp['accessories']>[number], { kind: 'blackEdges' }>;
export const EDGE_SIDES = ['leftM', 'rightM', 'topM', 'bottomM', 'ringM'] as const;
export type EdgeSide = (typeof EDGE_SIDES)[number];

/** Sides that a face of this shape can be masked at: a tube's left and right are its two ends. */
export function sidesOf(shape: Emitter['shape'] | 'lens' | 'sun'): readonly EdgeSide[] {
  switch (shape) {
    case 'rectangle':
      return ['leftM', 'rightM', 'topM', 'bottomM'];
    case 'tube':
      return ['leftM', 'rightM'];
    case 'disc':
    case 'lens':
      return ['ringM'];
    default:
      return [];
  }
}

/** The shape whose rim is masked; of a photometric file's own opening nothing is known here: `point`. */
export const maskedShape = ({
  emitter,
  distribution,
}: Pick<Lamp, 'emitter' | 'distribution'>): Emitter['shape'] | 'lens' =>
  distribution.kind === 'lensed' ? 'lens' : emitter.shape;

/** How far in the black reaches at each side, m; several sets of it lie one inside the other. */
export function blackenedM({ accessories = [] }: Pick<Lamp, 'accessories'>): Readonly<Record<EdgeSide, number>> {
  const sums = { leftM: 0, rightM: 0, topM: 0, bottomM: 0, ringM: 0 };
  for (const accessory of accessories) {
    if (accessory.kind !== 'blackEdges') continue;
    for (const side of EDGE_SIDES) sums[side] += accessory[side] ?? 0;
  }
  return sums;
}

/** True where some of the black lies at a side that the lamp's face has not got. */
export function isBesideFace(edges: BlackEdges, lamp: Pick<Lamp, 'emitter' | 'distribution'>): boolean {
  // The opening in a photometric file has a shape of its own.
  if (lamp.distribution.kind === 'web' && lamp.emitter.shape === 'point') return false;
  const sides = sidesOf(maskedShape(lamp));
  return EDGE_SIDES.some((side) => (edges[side] ?? 0) > 0 && !sides.includes(side));
}

/** Black edges that leave nothing of the face. */
export function blackEdgeProblems(lamp: Lamp, path: Path): Problem[] {
  const at = (lamp.accessories ?? []).findIndex(({ kind }) => kind === 'blackEdges');
  if (at < 0) return [];
  const { leftM, rightM, topM, bottomM, ringM } = blackenedM(lamp);
  const { emitter, distribution } = lamp;
  const covers = (hiddenM: number, sizeM: number, side: string): Problem[] =>
    hiddenM < sizeM
      ? []
      : [{ path: [...path, 'accessories', at], found: `${hiddenM} m black ${side}`, expected: `less than ${sizeM} m` }];
  if (distribution.kind === 'lensed') return covers(2 * ringM, distribution.lensDiameterM, 'across the lens');
  switch (emitter.shape) {
    case 'rectangle':
      return [...covers(leftM + rightM, emitter.widthM, 'across'), ...covers(topM + bottomM, emitter.heightM, 'up')];
    case 'tube':
      return covers(leftM + rightM, emitter.lengthM, 'along the tube');
    case 'disc':
      return covers(2 * ringM, emitter.diameterM, 'across');
    default:
      return [];
  }
}
