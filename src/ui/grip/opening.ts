/** Opens a grip helper for a lamp, or again on what one has placed. */
import type { ObjectRef } from '../../render/contract';
import type { SceneDocument } from '../../scene/schema';
import type { GripHelper } from '../../sim/grip/gripRequest';
import { judgedSurfaceOf } from '../../sim/grip/gripRequest';
import type { App } from '../app';
import { elevationSurfaceId, sectionSourceId } from '../stores/shownPlaces';
import type { SessionState } from '../stores/session';
import { sourceOf } from '../tools/things';
import { stands, type GripMade, type GripState } from './gripStore';

type Desk = Pick<App, 'document' | 'session' | 'grip'>;

/** Surface whose light a helper is for: where the lamp plays the sun, else the one that the elevation shows. */
function surfaceFor(scene: SceneDocument, lampId: string, session: SessionState): string | null {
  const shown = elevationSurfaceId(scene, session);
  const played = (scene.story?.playsSun ?? []).filter(
    ({ sourceId, surfaceId }) => sourceId === lampId && scene.surfaces[surfaceId],
  );
  if (played.some(({ surfaceId }) => surfaceId === shown)) return shown;
  return played[0]?.surfaceId ?? shown;
}

export function openGrip({ document, session, grip }: Desk, helper: GripHelper, lampId: string): void {
  const scene = document.getState().history.present;
  const state = session.getState();
  const surfaceId = surfaceFor(scene, lampId, state);
  if (surfaceId === null) return;
  session.setState({ page: 'sheets', ...(state.panelHeight === 'low' && { panelHeight: 'middle' }) });
  grip.setState({ open: { helper, setupId: state.setupId, lampId, surfaceId, made: null } });
}

export function adjustGrip({ session, grip }: Desk, made: GripMade): void {
  const { request, setupId } = made;
  const open = { helper: request.helper, setupId, lampId: request.lampId, surfaceId: judgedSurfaceOf(request), made };
  session.setState(({ panelHeight }) => ({
    page: 'sheets',
    panelHeight: panelHeight === 'low' ? 'middle' : panelHeight,
  }));
  grip.setState({ open });
}

/** Lamp that a helper works on when only the kit is open: the chosen one, else the one that plays the sun. */
export function lampForHelper(
  scene: SceneDocument,
  { setupId, selection }: Pick<SessionState, 'setupId' | 'selection'>,
) {
  const id = sectionSourceId(scene, setupId, selection);
  const lamp = id === null ? undefined : sourceOf(scene, setupId, id);
  return id !== null && lamp?.type === 'lamp' ? { id, name: lamp.name } : null;
}

/** What helpers have placed that belongs to a chosen thing: the pieces themselves, or all of a lamp's. */
export function madeOf({ made }: GripState, scene: SceneDocument, setupId: string, ref: ObjectRef): GripMade[] {
  return made.filter((one) => {
    if (one.setupId !== setupId || !stands(scene, one)) return false;
    return ref.kind === 'source' ? one.request.lampId === ref.id : ref.kind === 'modifier' && ref.id in one.pieces;
  });
}
