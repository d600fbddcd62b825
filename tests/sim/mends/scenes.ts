/** The worked scenes of the mends, with a story, a space and a kit as each test asks. */
import type { KitEntry, SceneDocument } from '../../../src/scene/schema';
import { sceneSchema } from '../../../src/scene/schema';
import type { MendOptions } from '../../../src/sim/mends/mend';
import { Pace } from '../../../src/sim/mends/search';
import { situationOf, type Situation } from '../../../src/sim/mends/situation';
import values from '../../reference/judgement-values.json';
import { judgedScene, WALL_ID, type JudgedParts } from '../../validation/judgementScenes';
import { SETUP } from '../../validation/scenes';

export const LAMP_ID = 'lamp';

interface Value {
  readonly id: string;
  readonly expected: number | readonly number[];
  readonly tolerance: { readonly value: number | readonly (number | null)[] };
}
/** A worked value of the reference page: figures and what each may be off. */
export function worked(id: string): { expected: readonly number[]; off: readonly (number | null)[] } {
  const value = (values as unknown as readonly Value[]).find((one) => one.id === id);
  if (!value) throw new RangeError(`no reference value ${id}`);
  const list = <T>(one: T | readonly T[]): readonly T[] => (Array.isArray(one) ? one : [one]) as readonly T[];
  return { expected: list(value.expected), off: list(value.tolerance.value) };
}

export interface Extras {
  readonly story?: SceneDocument['story'];
  readonly kit?: Record<string, KitEntry>;
}
/** The scene with its lamp playing the sun on the wall. */
export function playing(parts: JudgedParts, { story = {}, kit }: Extras = {}): SceneDocument {
  const playsSun = [{ sourceId: LAMP_ID, surfaceId: WALL_ID }];
  return sceneSchema.parse({
    ...judgedScene(parts),
    story: { ...story, playsSun },
    ...(kit === undefined ? {} : { kit }),
  });
}

/** The rig before any mend, ready for one search or another. */
export function situation(document: SceneDocument, options: MendOptions = {}): Situation {
  const setup = document.setups.find(({ id }) => id === SETUP)!;
  const found = situationOf(document, setup, LAMP_ID, options, new Pace({}, 1));
  if (typeof found === 'string') throw new Error(found);
  return found;
}

export const netEntry = (stops: number, count: number, widthM = 0.9, heightM = 1.2): KitEntry => ({
  name: `Open-end net of ${stops} stop`,
  kind: 'grip',
  count,
  grip: { shape: { kind: 'rectangle', widthM, heightM }, material: { kind: 'net', stops, weave: 'plain' } },
});
