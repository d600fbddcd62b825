/** Grip that the helpers may take: the shop's own free pieces first, typical trade sizes where its kit lists none of the kind. */
import type { Modifier, SceneDocument, Setup } from '../../scene/schema';
import { GRIP_CLASSES } from '../../scene/kit/gripClasses';
import { mirrorStock, type MirrorEntry } from '../mends/mirrorRig';
import { netStock, type NetEntry, type NetGrade } from '../mends/netStock';

/** Pieces of one typical size that a shop is taken to have. */
const TYPICAL_COUNT = 3;

interface Typical {
  readonly widthM: number;
  readonly heightM: number;
  readonly material: Modifier['material'];
}
const TYPICAL: readonly Typical[] = GRIP_CLASSES.flatMap(({ piece: { shape, material } }) =>
  shape.kind === 'rectangle' ? [{ widthM: shape.widthM, heightM: shape.heightM, material }] : [],
);
const byArea = (a: { widthM: number; heightM: number }, b: { widthM: number; heightM: number }): number =>
  a.widthM * a.heightM - b.widthM * b.heightM;

/** Nets of a grade: of the shop's kit, else typical ones. */
export function netsOfGrade(document: SceneDocument, setup: Setup, stops: number): NetGrade {
  const own = netStock(document, setup).find((grade) => grade.stops === stops);
  if (own) return own;
  const entries = TYPICAL.flatMap(({ widthM, heightM, material }): NetEntry[] =>
    material.kind === 'net' && material.stops === stops ? [{ kitId: null, widthM, heightM, free: TYPICAL_COUNT }] : [],
  ).sort(byArea);
  return { stops, woven: true, entries, free: entries.length * TYPICAL_COUNT };
}

/** Solid rectangular flags and cutters, smallest first. */
export function flagsToHand(document: SceneDocument, setup: Setup): readonly Omit<NetEntry, 'free'>[] {
  const own = Object.entries(document.kit ?? {}).flatMap(([kitId, { grip, count }]) => {
    if (grip?.material.kind !== 'opaque' || grip.shape.kind !== 'rectangle') return [];
    const used = Object.values(setup.modifiers).filter((modifier) => modifier.kitId === kitId).length;
    const { widthM, heightM } = grip.shape;
    return count > used ? [{ kitId, widthM, heightM }] : [];
  });
  const typical = TYPICAL.flatMap(({ widthM, heightM, material }) =>
    material.kind === 'opaque' ? [{ kitId: null, widthM, heightM }] : [],
  );
  return [...(own.length > 0 ? own : typical)].sort(byArea);
}

/** Mirrors: of the shop's kit, else typical ones. */
export function mirrorsToHand(document: SceneDocument, setup: Setup): readonly MirrorEntry[] {
  const own = mirrorStock(document, setup);
  if (own.length > 0) return own;
  return TYPICAL.flatMap(({ widthM, heightM, material }): MirrorEntry[] =>
    material.kind === 'mirror' ? [{ kitId: null, widthM, heightM, reflectance: material.reflectance }] : [],
  ).sort(byArea);
}
