/** Which grip helper stands open, and what helpers have placed in this browser: kept so that it can be adjusted again. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Lamp, Modifier, SceneDocument, Setup } from '../../scene/schema';
import type { GripHelper, GripRequest } from '../../sim/grip/gripRequest';
import { isSame } from './setupChange';

/** What one helper placed, with the lamp as it was before. */
export interface GripMade {
  readonly id: string;
  readonly helper: GripHelper;
  readonly setupId: string;
  readonly lampId: string;
  /** What it was asked for; null for pieces whose figures are still to be read off their places. */
  readonly request: GripRequest | null;
  readonly pieces: Readonly<Record<string, Modifier>>;
  readonly lampBefore: Lamp;
  readonly lampAfter: Lamp;
}
export interface GripOpen {
  readonly helper: GripHelper;
  readonly setupId: string;
  readonly lampId: string;
  readonly surfaceId: string;
  /** What is adjusted; null for a new rig. */
  readonly made: GripMade | null;
}
export interface GripState {
  readonly open: GripOpen | null;
  readonly made: readonly GripMade[];
}
export type GripStore = StoreApi<GripState>;

/** @param made what was placed before the page was loaded */
export const createGripStore = (made: readonly GripMade[] = []): GripStore =>
  createStore<GripState>()(() => ({ open: null, made }));

const lampOf = (setup: Setup | undefined, lampId: string): Lamp | undefined => {
  const source = setup?.sources[lampId];
  return source?.type === 'lamp' ? source : undefined;
};

/** Whether what was made still stands in the scene: any of its pieces, or the lamp as the helper left it. */
export function stands(document: SceneDocument, { helper, setupId, lampId, pieces, lampAfter }: GripMade): boolean {
  const setup = document.setups.find(({ id }) => id === setupId);
  const lamp = lampOf(setup, lampId);
  if (!setup || !lamp) return false;
  if (helper === 'halfScrim') return isSame(lamp.accessories, lampAfter.accessories);
  return Object.keys(pieces).some((id) => Object.hasOwn(setup.modifiers, id));
}

/** Whether every piece stands as the helper left it. */
export function standsAsLeft(document: SceneDocument, { setupId, pieces }: GripMade): boolean {
  const modifiers = document.setups.find(({ id }) => id === setupId)?.modifiers ?? {};
  return Object.entries(pieces).every(([id, piece]) => isSame(modifiers[id], piece));
}

/** The scene without what was made: its pieces gone, the lamp where it stood and fitted as it was. */
export function without(
  document: SceneDocument,
  { helper, setupId, lampId, pieces, lampBefore }: GripMade,
): SceneDocument {
  return {
    ...document,
    setups: document.setups.map((setup): Setup => {
      const lamp = lampOf(setup, lampId);
      if (setup.id !== setupId || !lamp) return setup;
      const modifiers = Object.fromEntries(
        Object.entries(setup.modifiers).filter(([id]) => !Object.hasOwn(pieces, id)),
      );
      if (helper === 'nets' || helper === 'flag') return { ...setup, modifiers };
      const { accessories: _fitted, ...bare } = lamp;
      const { accessories } = lampBefore;
      const before: Lamp =
        helper === 'mirror'
          ? { ...lamp, pose: lampBefore.pose }
          : { ...bare, ...(accessories === undefined ? {} : { accessories }) };
      return { ...setup, modifiers, sources: { ...setup.sources, [lampId]: before } };
    }),
  };
}
