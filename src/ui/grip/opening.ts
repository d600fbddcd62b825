/** Opens a grip helper for a lamp, or again on what one has placed. */
import type { ObjectRef } from '../../render/contract';
import type { SceneDocument } from '../../scene/schema';
import type { GripHelper } from '../../sim/grip/gripRequest';
import { judgedSurfaceOf } from '../../sim/grip/gripRequest';
import type { App } from '../app';
import { elevationSurfaceId, sectionSourceId } from '../stores/shownPlaces';
import type { SessionState } from '../stores/session';
import { sourceOf } from '../tools/things';
import { stands, standsAsLeft, type GripMade, type GripState } from './gripStore';
import { standingRigs } from './standingRigs';

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

export function adjustGrip({ document, session, grip }: Desk, made: GripMade): void {
  const { helper, request, setupId, lampId } = made;
  const state = session.getState();
  const surfaceId = request ? judgedSurfaceOf(request) : surfaceFor(document.getState().history.present, lampId, state);
  if (surfaceId === null) return;
  session.setState({ page: 'sheets', ...(state.panelHeight === 'low' && { panelHeight: 'middle' }) });
  grip.setState({ open: { helper, setupId, lampId, surfaceId, made } });
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
  const isOf = (one: GripMade): boolean =>
    ref.kind === 'source' ? one.lampId === ref.id : ref.kind === 'modifier' && Object.hasOwn(one.pieces, ref.id);
  // The same pieces may have been adjusted and taken back: what matches them goes first, then the latest.
  const kept = made.filter((one) => one.setupId === setupId && stands(scene, one)).reverse();
  const asLeft = kept.filter((one) => standsAsLeft(scene, one));
  const moved = kept.filter((one) => one.helper !== 'nets' && !asLeft.includes(one));
  return [...asLeft, ...moved, ...standingRigs(scene, setupId)]
    .reduce<GripMade[]>((all, one) => (all.some((other) => isSameRig(other, one)) ? all : [...all, one]), [])
    .filter(isOf);
}

/** Whether two are about the same pieces, or the same slots of the same lamp. */
function isSameRig(a: GripMade, b: GripMade): boolean {
  if (a.helper !== b.helper) return false;
  if (a.helper === 'halfScrim') return a.lampId === b.lampId;
  return Object.keys(a.pieces).some((id) => Object.hasOwn(b.pieces, id));
}
