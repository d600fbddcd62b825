/** Black foil or tape over the rim of a lit face: what is left of it is a smaller face, off the middle of the whole one. */
import { blackenedM } from '../../scene/blackEdges';
import type { Lamp } from '../../scene/schema';
import { addScaled } from '../../scene/geometry/vector';
import type { CompiledSource, EmitterShape } from './compiled';

interface Kept {
  readonly shape: EmitterShape;
  /** Share of the face's area that is left. */
  readonly share: number;
  /** From the middle of the whole face to the middle of what is left, along the frame's right and up, m. */
  readonly rightM: number;
  readonly upM: number;
}

/** What the black leaves; null where it has no side to lie on (points, globes, the sun). */
function keptOf(shape: EmitterShape, lamp: Lamp): Kept | null {
  const { leftM, rightM, topM, bottomM, ringM } = blackenedM(lamp);
  // Left and right are as seen from behind; the frame's right is as seen from the lit side.
  const aside = (rightM - leftM) / 2;
  switch (shape.kind) {
    case 'rectangle': {
      const halfWidthM = Math.max(0, shape.halfWidthM - (leftM + rightM) / 2);
      const halfHeightM = Math.max(0, shape.halfHeightM - (topM + bottomM) / 2);
      const share = (halfWidthM * halfHeightM) / (shape.halfWidthM * shape.halfHeightM);
      return { shape: { ...shape, halfWidthM, halfHeightM }, share, rightM: aside, upM: (bottomM - topM) / 2 };
    }
    case 'tube': {
      const halfLengthM = Math.max(0, shape.halfLengthM - (leftM + rightM) / 2);
      return { shape: { ...shape, halfLengthM }, share: halfLengthM / shape.halfLengthM, rightM: aside, upM: 0 };
    }
    case 'disc': {
      const radiusM = Math.max(0, shape.radiusM - ringM);
      return { shape: { ...shape, radiusM }, share: (radiusM / shape.radiusM) ** 2, rightM: 0, upM: 0 };
    }
    default:
      return null;
  }
}

/**
 * The lamp with its face's rim blackened: candela falls with the area hidden, and what is left shines as before.
 * @param source of the lamp without accessories
 * @returns the source itself where nothing is hidden; a dark one where the black covers the whole opening of a file
 * @remarks The face is taken as evenly bright, and the black as flat in it: it throws nothing back into the lamp, which a
 *   real box does with a part of what it stops. A lensed spot's ring lies on its lens (`lampFront`), not on the disc that
 *   the lens shows. Black on a lamp whose light starts behind its lens is taken to lie where the light starts.
 */
export function withBlackEdges(source: CompiledSource, lamp: Lamp): CompiledSource {
  if (lamp.distribution.kind === 'lensed') return source;
  const kept = keptOf(source.shape, lamp);
  if (kept === null || kept.share === 1) return source;
  if (kept.share === 0) return { ...source, peakCandela: 0 };
  const { frame } = source;
  const middle = addScaled(addScaled(frame.origin, frame.right, kept.rightM), frame.up, kept.upM);
  return {
    ...source,
    shape: kept.shape,
    frame: { ...frame, origin: middle },
    peakCandela: source.peakCandela * kept.share,
  };
}
