/**
 * What a document can hold whose effect on the light is not computed yet. The solver shares these answers, so that
 * what is cautioned and what is left out are the same.
 */
import { isBesideFace } from './blackEdges';
import type { Lamp, Modifier, Opening } from './schema';

/** A part by the words for it; `many` where the words are a plural; `but` where it is computed but for something. */
export interface UncomputedPart {
  readonly words: string;
  readonly many: boolean;
  readonly but?: string;
}
const one = (words: string): UncomputedPart => ({ words, many: false });
const many = (words: string): UncomputedPart => ({ words, many: true });

const FRONT_WORDS = {
  barnDoors: many('barn doors'),
  snoot: one('a snoot'),
  eggCrate: one('an egg crate'),
} as const;
const MATERIAL_WORDS = {
  diffusion: one('diffusion'),
  bounce: one('a bounce'),
} as const;

/** Lamps that shine all round, so that doors, snoot and egg crate have no front to sit on. */
function isFrontless({ emitter, distribution }: Pick<Lamp, 'emitter' | 'distribution'>): boolean {
  if (distribution.kind === 'lensed') return false;
  if (emitter.shape === 'point') return distribution.kind === 'uniform';
  return emitter.shape === 'tube' || emitter.shape === 'sphere';
}

/** Parts of a lamp that are not computed: what has to sit on a front where there is none. */
export function uncomputedInLamp({
  emitter,
  distribution,
  accessories = [],
}: Pick<Lamp, 'emitter' | 'distribution' | 'accessories'>): UncomputedPart[] {
  const parts: UncomputedPart[] = [];
  if (distribution.kind === 'web' && emitter.shape === 'tube' && emitter.litSectorDeg !== undefined) {
    parts.push(one('a lit sector beside a photometric file'));
  }
  const frontless = isFrontless({ emitter, distribution });
  if (accessories.some((one) => one.kind === 'blackEdges' && isBesideFace(one, { emitter, distribution }))) {
    parts.push(many('black edges at sides that this face has not got'));
  }
  for (const kind of new Set(accessories.map((accessory) => accessory.kind))) {
    if (kind === 'wireScrim' || kind === 'gel' || kind === 'blackEdges') continue;
    const lost = frontless || (kind === 'eggCrate' && distribution.kind === 'projection');
    if (lost) parts.push(FRONT_WORDS[kind]);
  }
  return parts;
}

/** Parts of a modifier that are not computed: materials that scatter. */
export function uncomputedInModifier({ material }: Pick<Modifier, 'material'>): UncomputedPart[] {
  const parts: UncomputedPart[] = [];
  if (material.kind === 'diffusion' || material.kind === 'bounce') {
    parts.push(MATERIAL_WORDS[material.kind]);
  }
  return parts;
}

/** Parts of an opening that are not computed: light off a blind's slats. */
export function uncomputedInOpening({ window }: Pick<Opening, 'window'>): UncomputedPart[] {
  const parts: UncomputedPart[] = [];
  if (window?.blind !== undefined) {
    parts.push({ ...one('a blind'), but: 'whose slats reflect light that is not computed yet' });
  }
  return parts;
}
