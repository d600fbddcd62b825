/** What class of lamp holds a level: needed candela, rounded up to the kit by the pessimistic end of each figure. */
import type { Basis, KitEntry, Lamp, SceneDocument } from '../../scene/schema';
import { compileSource } from '../solve/compileSources';

/** Least share of its stated output that a lamp is sure to give: a class is good to a stop, a file to 10 %. */
export const PESSIMISTIC: Readonly<Record<Basis, number>> = { typical: 0.5, file: 0.9, metered: 0.85 };

export interface OutputNeed {
  /** Peak candela that each lamp of the rig needs at full, if all stay alike. */
  readonly neededCandela: number;
  /** Stops more (positive) or less than the lamp gives as it is set. */
  readonly stopsFromPresent: number;
  /** Smallest class of the kit that is sure to hold it; null where the kit has none. */
  readonly kitId: string | null;
  readonly kitName: string | null;
}

interface KitClass {
  readonly kitId: string;
  readonly name: string;
  readonly sureCandela: number;
}
/** Lamps of the kit with the candela that they are sure to give, weakest first. */
export function kitClasses(document: SceneDocument): KitClass[] {
  const classOf = ([kitId, entry]: [string, KitEntry]): KitClass[] => {
    if (!entry.lamp) return [];
    const pose = { positionM: [0, 0, 0], aim: { panDeg: 0, tiltDeg: 0 } } satisfies Lamp['pose'];
    const { peakCandela } = compileSource(kitId, { ...entry.lamp, type: 'lamp', name: entry.name, pose }, document);
    const sureCandela = peakCandela * PESSIMISTIC[entry.lamp.basis ?? 'typical'];
    return [{ kitId, name: entry.name, sureCandela }];
  };
  return Object.entries(document.kit ?? {})
    .flatMap(classOf)
    .sort((a, b) => a.sureCandela - b.sureCandela);
}

/**
 * Output that holds `targetLx` where `levelLx` is simulated now: present cd x target / level.
 * @param presentCandela of the lamp as it is set, its dimmer counted
 * @returns null where no light arrives or nothing is asked for
 * @source judgement definition 3, output class
 */
export function outputNeed(
  classes: readonly KitClass[],
  presentCandela: number,
  levelLx: number,
  targetLx: number,
): OutputNeed | null {
  if (!(levelLx > 0 && targetLx > 0 && presentCandela > 0)) return null;
  const neededCandela = (presentCandela * targetLx) / levelLx;
  const fit = classes.find(({ sureCandela }) => sureCandela >= neededCandela);
  return {
    neededCandela,
    stopsFromPresent: Math.log2(targetLx / levelLx),
    kitId: fit?.kitId ?? null,
    kitName: fit?.name ?? null,
  };
}
