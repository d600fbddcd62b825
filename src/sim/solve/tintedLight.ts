/**
 * Colour of one source's light where gels hang free in it: the parts that came through different gels differ in colour, and
 * are told apart by closing one gel after the other. Levels are those of the kernel; colour only weighs them.
 */
import { chromaticityOf } from '../colour/cct';
import { chromaticityFromXyz, mixXyz, xyzFromChromaticity, type Chromaticity, type Xyz } from '../colour/chromaticity';
import { shiftColour } from '../colour/gels';
import type { Colour } from '../../scene/schema';
import { addScaled, type Vec3 } from '../../scene/geometry/vector';
import type { BlockerLayer } from './compiled';
import { axesAcross } from './emitterFace';

/** Light that came through one list of gels, and its colour; null where that is not known. */
export interface TintedShare {
  readonly colour: Colour | null;
  readonly illuminanceLx: number;
}

/** A part below this share of the whole is none: what the integration leaves over when a gel covers all or nothing. */
const TRACE = 1e-6;
/** Half the size of the dark plane round a gel: beyond any scene's coordinates that light could cross it at, m. */
const ALL_ROUND_M = 20_000;

/** The gel as a flag: what comes past it is left. */
const closed = (gel: BlockerLayer): BlockerLayer => ({ ...gel, opacity: 1, weave: null });

/** The gel in an endless flag: what comes through it is left. */
function framed(gel: BlockerLayer): readonly BlockerLayer[] {
  const [right, up] = axesAcross(gel.normal);
  const corner = (x: number, y: number): Vec3 =>
    addScaled(addScaled(gel.origin, right, x * ALL_ROUND_M), up, y * ALL_ROUND_M);
  const all = { corners: [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)], hole: false };
  const round = gel.pieces.map((piece) => ({ ...piece, hole: !piece.hole }));
  return [gel, { ...closed(gel), id: `round ${gel.id}`, pieces: [all, ...round] }];
}

/**
 * @param layers what stands in the source's light
 * @param litLx  illuminance of the source behind them, lx
 * @param lit    illuminance of the source behind any list of layers, lx
 * @returns the parts by the gels that they came through, at least a millionth of the whole each; together the whole
 * @remarks Where several gels each cover only a part of the emitter as the receiver sees it, every one of them doubles the
 *   work. A gel whose plane cuts through the emitter counts for the part of the light that starts beyond it alone.
 */
export function tintedShares(
  colour: Colour | null,
  layers: readonly BlockerLayer[],
  litLx: number,
  lit: (layers: readonly BlockerLayer[]) => number,
): TintedShare[] {
  const gels = layers.filter(({ tint }) => tint);
  const apart = (present: readonly BlockerLayer[], next: number, partLx: number, own: Colour | null): TintedShare[] => {
    const gel = gels[next];
    if (!gel || partLx <= 0) return partLx > 0 ? [{ colour: own, illuminanceLx: partLx }] : [];
    const swap = (instead: readonly BlockerLayer[]): BlockerLayer[] =>
      present.flatMap((layer) => (layer === gel ? instead : [layer]));
    const without = swap([closed(gel)]);
    const pastLx = Math.max(0, Math.min(partLx, lit(without)));
    const tinted = own && shiftColour(own, gel.tint!.miredShift, gel.tint!.greenShift);
    if (pastLx <= TRACE * partLx) return apart(present, next + 1, partLx, tinted);
    if (partLx - pastLx <= TRACE * partLx) return apart(present, next + 1, partLx, own);
    return [...apart(without, next + 1, pastLx, own), ...apart(swap(framed(gel)), next + 1, partLx - pastLx, tinted)];
  };
  return apart(layers, 0, litLx, colour);
}

/** Colour of the sum, mixed as light mixes (XYZ); null without light, and where any light that counts has no stated colour. */
export function mixedChromaticity(shares: readonly TintedShare[]): Chromaticity | null {
  const lights: Xyz[] = [];
  for (const { colour, illuminanceLx } of shares) {
    if (illuminanceLx === 0) continue;
    if (colour === null) return null;
    lights.push(xyzFromChromaticity(chromaticityOf(colour), illuminanceLx));
  }
  return lights.length > 0 ? chromaticityFromXyz(mixXyz(lights)) : null;
}
