import { Button } from 'react-aria-components';
import { baseWorkOf, MEND_KINDS, type MendKind, type MendWork } from '../../sim/mends/mend';
import { useApp, useDocument } from '../app';
import { numberKind } from '../fields/kinds';
import { QuantityField } from '../fields/QuantityField';
import { MEND_WORDS } from '../words/mends';
import { ClosableDialog } from '../parts/ClosableDialog';

const COLUMNS: readonly { readonly key: keyof MendWork; readonly name: string; readonly unit: string }[] = [
  { key: 'minutes', name: 'Minutes', unit: 'min' },
  { key: 'minutesEachPiece', name: 'More for each piece', unit: 'min' },
  { key: 'hands', name: 'Hands', unit: '' },
];

function WorkFields({ kind }: { readonly kind: MendKind }) {
  const { actions } = useApp();
  const mendWork = useDocument((state) => state.shown.mendWork);
  const work = baseWorkOf({ mendWork }, kind);
  const change = (fields: Partial<MendWork>): string | null =>
    actions.run({
      type: 'patchScene',
      part: 'scene',
      fields: { mendWork: { ...mendWork, [kind]: { ...mendWork?.[kind], ...fields } } },
    });
  return (
    <fieldset className="work-row">
      <legend>{MEND_WORDS[kind]}</legend>
      {COLUMNS.map(({ key, name, unit }) => (
        <QuantityField
          key={key}
          label={name}
          value={work[key]}
          kind={numberKind(unit, 0, 1)}
          onCommit={(value) => change({ [key]: value })}
        />
      ))}
    </fieldset>
  );
}

/** What each mend takes this crew. Kept with the scene. */
export function WorkDialog({ isOpen, onClose }: { readonly isOpen: boolean; readonly onClose: () => void }) {
  const { actions } = useApp();
  const isOwn = useDocument((state) => state.shown.mendWork !== undefined);
  const reset = (): void => actions.runLoud({ type: 'patchScene', part: 'scene', fields: {}, clear: ['mendWork'] });
  return (
    <ClosableDialog
      title="Minutes and hands"
      isOpen={isOpen}
      onClose={onClose}
      beside={
        <Button className="button" isDisabled={!isOwn} onPress={reset}>
          Back to typical
        </Button>
      }
    >
      <p className="small">
        Typical for a trained crew with the lamp already up: common practice, no published source. Write what yours
        takes; it is kept with the scene.
      </p>
      {MEND_KINDS.map((kind) => (
        <WorkFields key={kind} kind={kind} />
      ))}
    </ClosableDialog>
  );
}
