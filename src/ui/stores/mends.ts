/** What the search for mends has answered, for which rig, and how it stands. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { SceneDocument, Setup } from '../../scene/schema';
import type { Mend } from '../../sim/mends/mend';
import type { Fault } from '../../sim/worker/protocol';
import { setupOf } from '../tools/things';

/** The rig that mends are looked for in. */
export interface MendSubject {
  readonly document: SceneDocument;
  readonly setup: Setup;
}
export interface FoundMends {
  readonly subject: MendSubject;
  /** Best first; those that cannot be had last. */
  readonly mends: readonly Mend[];
}
export type MendStatus =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'searching'; readonly fraction: number }
  | { readonly kind: 'found' }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'failed'; readonly fault: Fault };

export interface MendsState {
  readonly found: FoundMends | null;
  /** False: `found` belongs to an older rig, or to another setup. */
  readonly isCurrent: boolean;
  readonly status: MendStatus;
  /** Mends that were tried, by the setup that was made from each. */
  readonly tried: Readonly<Record<string, Mend>>;
}
export type MendsStore = StoreApi<MendsState>;
export const createMendsStore = (): MendsStore =>
  createStore<MendsState>()(() => ({ found: null, isCurrent: false, status: { kind: 'waiting' }, tried: {} }));

/** Null where the setup does not exist. */
export function subjectOf(document: SceneDocument, setupId: string): MendSubject | null {
  const setup = setupOf(document, setupId);
  return setup ? { document, setup } : null;
}

/** Parts of a scene that no mend depends on: other setups, words, units, and the crew's working times. */
const IDLE_PARTS: readonly string[] = [
  'setups',
  'name',
  'production',
  'notes',
  'pictures',
  'dimensions',
  'display',
  'titleBlock',
  'mendWork',
  'marks',
  'groups',
];

/** True where both are the same rig in the same scene: an edit keeps the reference of every part that it leaves alone. */
export function isSameSubject(a: MendSubject, b: MendSubject): boolean {
  if (a.setup !== b.setup) return false;
  if (a.document === b.document) return true;
  const [one, other] = [a.document, b.document] as unknown as readonly Record<string, unknown>[];
  const keys = new Set([...Object.keys(one!), ...Object.keys(other!)]);
  return [...keys].every((key) => IDLE_PARTS.includes(key) || one![key] === other![key]);
}
