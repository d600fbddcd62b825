/** From the stores to what one drawing is told. Pure: same stores, same state. */
import type { FieldPicture, Quantity, SheetKind, SheetState } from '../../render/contract';
import { keyIlluminanceLx } from '../../sim/exposure/exposure';
import type { DocumentState } from '../stores/document';
import { isOutOfDate, type ResultsState } from '../stores/results';
import type { SessionState } from '../stores/session';
import { elevationSurfaceId, planSurfaceId, sectionSourceId } from '../stores/shownPlaces';
import { resampled } from '../stores/twin';
import { unitsOf } from '../words/format';

/** Surface whose map a sheet shows; the section shows none. */
export function mapSurfaceId(
  kind: SheetKind,
  document: Pick<DocumentState, 'shown'>,
  session: Pick<SessionState, 'surfaceId'>,
): string | null {
  if (kind === 'section') return null;
  return kind === 'plan' ? planSurfaceId(document.shown) : elevationSurfaceId(document.shown, session);
}

/** The plan has no sun to set its floor against: it shows plain levels instead. */
export const quantityOn = (kind: SheetKind, session: SessionState): Quantity =>
  kind === 'plan' && session.quantity === 'lampOverSun' ? 'illuminance' : session.quantity;

export function fieldPicture(surfaceId: string | null, results: ResultsState): FieldPicture | null {
  const field = surfaceId === null ? undefined : results.fields[surfaceId];
  if (!field) return null;
  const { result, rough, revision } = field;
  const twin = results.twin?.field;
  const sun = twin?.surfaceId === surfaceId ? resampled(twin, result.columns, result.rows) : undefined;
  return { result, rough, revision, outOfDate: isOutOfDate(results, field), ...(sun && { sunIlluminanceLx: sun }) };
}

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
  return {
    document: shown,
    setupId,
    surfaceId,
    sourceId: sectionSourceId(shown, setupId, selection),
    selection,
    hover: session.hover,
    theme: session.theme,
    units: unitsOf(shown),
    field: fieldPicture(mapSurfaceId(kind, document, session), results),
    quantity: quantityOn(kind, session),
    referenceLx: keyIlluminanceLx(shown.camera),
    checks: results.checks,
    checksOutOfDate: results.checksRevision !== results.revision,
    showTwin: session.twin,
    twinChecks: session.twin ? (results.twin?.checks ?? []) : [],
    reading: cross ? { atM: cross.atM, pinned: session.pin !== null } : null,
    ghost,
    snaps: [],
  };
}
