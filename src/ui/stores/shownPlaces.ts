/** Which surface and which lamp the drawings show when nobody has chosen. */
import type { ObjectRef } from '../../render/contract';
import type { SceneDocument } from '../../scene/schema';
import { setupOf, sourceOf } from '../tools/things';
import type { SessionState } from './session';

/** Surface of the elevation: the chosen one, else the first that a lamp plays the sun on, else the first wall. */
export function elevationSurfaceId(
  document: Pick<SceneDocument, 'story' | 'surfaces'>,
  session: Pick<SessionState, 'surfaceId'>,
): string | null {
  if (session.surfaceId !== null && document.surfaces[session.surfaceId]) return session.surfaceId;
  const played = document.story?.playsSun?.find((entry) => document.surfaces[entry.surfaceId]);
  if (played) return played.surfaceId;
  const entries = Object.entries(document.surfaces);
  const wall = entries.find(([, surface]) => surface.kind === 'wall' || surface.kind === 'backdrop') ?? entries[0];
  return wall?.[0] ?? null;
}

/** By the surfaces themselves: asked at every answer of the solver and every step of a drag, by every drawing. */
const floors = new WeakMap<SceneDocument['surfaces'], string | null>();

/** Surface whose levels lie on the plan: the first floor; none if the scene has no floor. */
export function planSurfaceId({ surfaces }: SceneDocument): string | null {
  const known = floors.get(surfaces);
  if (known !== undefined) return known;
  const found = Object.entries(surfaces).find(([, surface]) => surface.kind === 'floor')?.[0] ?? null;
  floors.set(surfaces, found);
  return found;
}

/** Lamp that the section is cut along: the selected one, else the one that plays the sun, else the first. */
export function sectionSourceId(document: SceneDocument, setupId: string, selection: ObjectRef | null): string | null {
  const isLamp = (id: string): boolean => sourceOf(document, setupId, id)?.type === 'lamp';
  if (selection?.kind === 'source' && isLamp(selection.id)) return selection.id;
  const played = document.story?.playsSun?.find((entry) => isLamp(entry.sourceId));
  if (played) return played.sourceId;
  return Object.keys(setupOf(document, setupId)?.sources ?? {}).find(isLamp) ?? null;
}
