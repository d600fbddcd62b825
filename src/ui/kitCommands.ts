/** Commands on the kit: a lamp of it placed in the scene, an own lamp kept in it. */
import type { Command } from '../scene/commands';
import { lightFromEntry } from '../scene/kit/own';
import type { Distribution, Emitter, KitEntry, Lamp, SceneDocument } from '../scene/schema';
import { freshId, newLamp } from './newThings';

export type LampEntry = KitEntry & { readonly lamp: NonNullable<KitEntry['lamp']> };

/** A plan symbol that fits the light of an own lamp. */
function symbolFor(emitter: Emitter, distribution: Distribution): NonNullable<Lamp['symbol']> {
  if (emitter.shape === 'tube') return 'tube';
  if (emitter.shape === 'sphere') return 'sphere';
  if (distribution.kind === 'projection') return 'projectionSpot';
  if (distribution.kind === 'beam' || distribution.kind === 'lensed') return 'lensedSpot';
  return emitter.shape === 'rectangle' ? 'panel' : 'point';
}

/**
 * A lamp of the kit in front of the shown surface.
 * @param kitId the entry's id where the scene's own kit has it; null for a typical class
 */
export function placeFromKit(
  scene: SceneDocument,
  place: { readonly setupId: string; readonly surfaceId: string | null },
  entry: LampEntry,
  kitId: string | null,
  symbol?: Lamp['symbol'],
): { readonly command: Command; readonly lampId: string; readonly name: string } {
  const { colour: _other, ...plain } = newLamp(scene, place.setupId, place.surfaceId);
  const light = lightFromEntry(entry);
  const lamp: Lamp = {
    ...plain,
    ...light,
    symbol: symbol ?? symbolFor(light.emitter, light.distribution),
    ...(kitId === null ? {} : { kitId }),
  };
  const id = freshId(scene, 'lamp');
  const command: Command = { type: 'add', at: { kind: 'source', setupId: place.setupId, id }, value: lamp };
  return { command, lampId: id, name: lamp.name };
}

/** An id that no entry of the scene's own kit has. */
export function freeKitId(scene: SceneDocument): string {
  let count = 1;
  while (scene.kit && Object.hasOwn(scene.kit, `own-${count}`)) count += 1;
  return `own-${count}`;
}

/** An entry put into the scene's own kit under a new id. */
export const keepInKit = (scene: SceneDocument, entry: KitEntry): Command => ({
  type: 'add',
  at: { kind: 'kitEntry', id: freeKitId(scene) },
  value: entry,
});

/** A lamp that is known by the crew's own meter alone: one reading to begin with, to be typed over. */
export const METERED_LAMP: KitEntry = {
  name: 'New metered lamp',
  kind: 'lamp',
  count: 1,
  lamp: {
    emitter: { shape: 'disc', diameterM: 0.15 },
    distribution: { kind: 'beam', beamAngleDeg: 26, fieldAngleDeg: 44 },
    output: { kind: 'readings', readings: [{ distanceM: 3, illuminanceLx: 1000 }] },
    basis: 'metered',
  },
};
