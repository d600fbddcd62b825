import { Button } from 'react-aria-components';
import { useApp, useDocument, useResults, useSession } from '../app';
import { darkReason } from '../words/dark';

/** What the map under it is worth right now: being solved, stopped, failed, rough, or dark. */
export function SheetStatus({ surfaceId }: { readonly surfaceId: string | null }) {
  const { solving, actions } = useApp();
  const status = useResults((state) => state.status);
  const field = useResults((state) => (surfaceId === null ? undefined : state.fields[surfaceId]));
  const setupId = useSession((state) => state.setupId);
  const document = useDocument((state) => state.shown);
  const canUndo = useDocument((state) => state.history.past.length > 0);

  if (status.kind === 'failed') {
    return (
      <div className="sheet-state" role="alert">
        <span>The solver stopped: {status.fault.message}. The last result is shown, out of date.</span>
        <Button className="button" onPress={() => solving.again()}>
          Solve again
        </Button>
        {canUndo && (
          <Button className="button" onPress={() => actions.undo()}>
            Undo
          </Button>
        )}
      </div>
    );
  }
  if (status.kind === 'stopped') {
    return (
      <div className="sheet-state">
        <span>Out of date.</span>
        <Button className="button" onPress={() => solving.again()}>
          Solve again
        </Button>
      </div>
    );
  }
  if (status.kind === 'solving' && status.late) {
    const name = document.surfaces[status.surfaceId ?? surfaceId ?? '']?.name ?? 'the scene';
    const percent = Math.round(status.fraction * 100);
    return (
      <div className="sheet-state">
        <span>
          Solving {name.charAt(0).toLowerCase()}
          {name.slice(1)}, {percent}&thinsp;%{field?.rough && ' (rough map shown)'}
        </span>
        <progress max={100} value={percent} aria-label="Solving" />
        <Button className="button" onPress={() => solving.stop()}>
          Stop
        </Button>
      </div>
    );
  }
  const isDark =
    field !== undefined && status.kind === 'current' && field.result.illuminanceLx.every((level) => level <= 0);
  if (!isDark) return null;
  return (
    <div className="sheet-state">
      <span>No light reaches this wall: {darkReason(document, setupId)}.</span>
    </div>
  );
}
