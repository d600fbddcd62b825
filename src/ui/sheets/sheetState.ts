/** From the stores to what one drawing is told. Pure: same stores, same state. */
import type { DrawingPicture, FieldPicture, Quantity, SheetKind, SheetState } from '../../render/contract';
import { keyIlluminanceLx } from '../../sim/exposure/exposure';
import type { DocumentState } from '../stores/document';
import { isOutOfDate, type ResultsState } from '../stores/results';
import type { SessionState } from '../stores/session';
import { elevationSurfaceId, planSurfaceId, sectionSourceId } from '../stores/shownPlaces';
import { resampled } from '../stores/twin';
import { chosenRefs } from '../tools/chosen';
import { isAreaKind, isSpotKind, type Drawing } from '../tools/draw/drawing';
import { levelBandOf, unitsOf } from '../words/format';

/** Surface whose map a sheet shows; the section shows none. */
export function mapSurfaceId(
  kind: SheetKind,
  document: Pick<DocumentState, 'shown'>,
  session: Pick<SessionState, 'surfaceId'>,
): string | null {
  if (kind === 'section') return null;
  return kind === 'plan' ? planSurfaceId(document.shown) : elevationSurfaceId(document.shown, session);
}

/** A floor without a sun to set it against shows plain levels instead. */
export const quantityOn = (kind: SheetKind, session: SessionState, hasSun: boolean): Quantity =>
  kind === 'plan' && session.quantity === 'lampOverSun' && !hasSun ? 'illuminance' : session.quantity;

export function fieldPicture(surfaceId: string | null, results: ResultsState): FieldPicture | null {
  const field = surfaceId === null ? undefined : results.fields[surfaceId];
  if (!field) return null;
  const { result, rough, revision } = field;
  const twin = results.twin?.fields[field.result.surfaceId];
  const sun = twin && resampled(twin, result.columns, result.rows);
  return { result, rough, revision, outOfDate: isOutOfDate(results, field), ...(sun && { sunIlluminanceLx: sun }) };
}

let lastSwiped: { readonly of: readonly unknown[]; readonly picture: FieldPicture } | null = null;

/** The lamp's levels left of the divider and the sun's right of it, in one picture and so on one scale. */
function swiped(picture: FieldPicture, share: number): FieldPicture {
  const { result, sunIlluminanceLx: sun } = picture;
  if (!sun) return picture;
  const from = Math.round(share * result.columns);
  // The same picture for the same place, so that the drawing is not made anew while the divider rests.
  const of = [result, sun, from, picture.outOfDate, picture.rough];
  if (lastSwiped?.of.every((part, index) => part === of[index])) return lastSwiped.picture;
  const illuminanceLx = result.illuminanceLx.map((lux, cell) => (cell % result.columns >= from ? sun[cell]! : lux));
  lastSwiped = { of, picture: { ...picture, result: { ...result, illuminanceLx } } };
  return lastSwiped.picture;
}

/** Share of the surface's width that the swipe leaves to the lamp; null while nothing is swiped. */
export const swipeShare = ({ twin, swipe, quantity }: SessionState): number | null =>
  twin && quantity !== 'lampOverSun' ? swipe : null;

const drawingPicture = ({ kind, corners, at }: Drawing): DrawingPicture => ({
  corners,
  at: isSpotKind(kind) ? null : at,
  isArea: isAreaKind(kind),
});

export function sheetState(
  kind: SheetKind,
  document: DocumentState,
  session: SessionState,
  results: ResultsState,
  ghost: SheetState['ghost'],
): SheetState {
  const { shown } = document;
  const { setupId, selection } = session;
  const surfaceId = mapSurfaceId(kind, document, session) ?? elevationSurfaceId(shown, session) ?? '';
  const cross = session.pin ?? session.place;
  const field = fieldPicture(mapSurfaceId(kind, document, session), results);
  const share = kind === 'elevation' && field?.sunIlluminanceLx ? swipeShare(session) : null;
  return {
    document: shown,
    setupId,
    surfaceId,
    sourceId: sectionSourceId(shown, setupId, selection),
    selection,
    hover: session.hover,
    theme: session.theme,
    units: unitsOf(shown),
    field: field && share !== null ? swiped(field, share) : field,
    quantity: quantityOn(kind, session, field?.sunIlluminanceLx !== undefined),
    levelBand: levelBandOf(shown, setupId),
    referenceLx: keyIlluminanceLx(shown.camera),
    checks: results.checks,
    checksOutOfDate: results.checksRevision !== results.revision,
    figure: session.figure,
    showTwin: session.twin,
    isSwiped: share !== null,
    twinChecks: session.twin ? (results.twin?.checks ?? []) : [],
    reading: cross ? { atM: cross.atM, pinned: session.pin !== null } : null,
    ghost,
    snaps: [],
    also: chosenRefs(shown, setupId, session).slice(1),
    planPixels: session.planPixels,
    drawing: kind === 'plan' && session.tool === 'draw' ? drawingPicture(session.drawing) : null,
  };
}
