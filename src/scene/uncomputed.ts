/**
 * What a document can hold whose effect on the light is not computed yet. The solver shares these answers, so that
 * what is cautioned and what is left out are the same.
 */
import type { Lamp, Modifier, Opening } from './schema';

/** A part by the words for it; `many` where the words are a plural. */
export interface UncomputedPart {
  readonly words: string;
  readonly many: boolean;
}
const one = (words: string): UncomputedPart => ({ words, many: false });
const many = (words: string): UncomputedPart => ({ words, many: true });

const ACCESSORY_WORDS = {
  barnDoors: many('barn doors'),
  snoot: one('a snoot'),
  eggCrate: one('an egg crate'),
  gel: one('a gel'),
} as const;
const MATERIAL_WORDS = {
  diffusion: one('diffusion'),
  bounce: one('a bounce'),
} as const;

/** Parts of a lamp that are not computed: accessories other than wire scrims, lensed beams, gate patterns. */
export function uncomputedInLamp(lamp: Pick<Lamp, 'distribution' | 'accessories'>): UncomputedPart[] {
  const parts: UncomputedPart[] = [];
  if (lamp.distribution.kind === 'lensed') parts.push(one('a focusing lens'));
  if (lamp.distribution.kind === 'projection' && lamp.distribution.pattern !== undefined) {
    parts.push(one('a pattern at the gate'));
  }
  const kinds = new Set((lamp.accessories ?? []).map((accessory) => accessory.kind));
  for (const kind of kinds) if (kind !== 'wireScrim') parts.push(ACCESSORY_WORDS[kind]);
  return parts;
}

/** Parts of a modifier that are not computed: materials that scatter, colour shifts, cut patterns. */
export function uncomputedInModifier({ material, shape }: Pick<Modifier, 'material' | 'shape'>): UncomputedPart[] {
  const parts: UncomputedPart[] = [];
  if (material.kind === 'diffusion' || material.kind === 'bounce') {
    parts.push(MATERIAL_WORDS[material.kind]);
  }
  if (material.kind === 'gel' && ((material.miredShift ?? 0) !== 0 || (material.greenShift ?? 0) !== 0)) {
    parts.push(one('a colour shift'));
  }
  if (shape.kind === 'pattern') parts.push(one('a cut pattern'));
  return parts;
}

/** Parts of an opening that are not computed: blinds, and glass by refraction and absorption. */
export function uncomputedInOpening({ window }: Pick<Opening, 'window'>): UncomputedPart[] {
  const parts: UncomputedPart[] = [];
  if (window?.blind !== undefined) parts.push(one('a blind'));
  const glass = window?.glass;
  if (glass?.refractiveIndex !== undefined || glass?.absorptionPerM !== undefined || glass?.thicknessM !== undefined) {
    parts.push(one('glass by its refraction and absorption'));
  }
  return parts;
}
