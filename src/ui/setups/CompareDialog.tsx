import { useMemo, useState } from 'react';
import { Button } from 'react-aria-components';
import type { SceneDocument, Setup } from '../../scene/schema';
import { setupDifferences, type SetupChange } from '../../scene/setupDiff';
import { useApp, useDocument, useSession } from '../app';
import { PickField } from '../fields/PickField';
import { setupLetter, unitsOf, type Units } from '../words/format';
import { thingLines } from '../words/setupDiff';
import { ClosableDialog } from '../parts/ClosableDialog';

const titleOf = (setups: readonly Setup[], setup: Setup): string =>
  `${setupLetter(setups.indexOf(setup))} ${setup.name}`;

/** From the setup that the shown one was made from, or the one before it; the first one leads to the second. */
function firstPair(
  setups: readonly Setup[],
  setupId: string,
  madeFrom: Readonly<Record<string, string>>,
): readonly [from: string, to: string] {
  const own = setups.findIndex(({ id }) => id === setupId);
  const before = setups.find(({ id }) => id === madeFrom[setupId]) ?? setups[own - 1];
  return before ? [before.id, setupId] : [setupId, setups[own + 1]?.id ?? setupId];
}

function ThingDiffers({
  change,
  units,
  onShow,
}: {
  readonly change: SetupChange;
  readonly units: Units;
  readonly onShow: () => void;
}) {
  const sign = change.idBefore === null ? '+' : change.idAfter === null ? '−' : '';
  return (
    <li>
      <Button className="button flat" onPress={onShow} aria-label={`Show ${change.name}`}>
        {sign && <b aria-hidden="true">{sign}</b>}
        {change.name}
      </Button>
      <ul>
        {thingLines(change, units).map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </li>
  );
}

interface PairProps {
  readonly scene: SceneDocument;
  readonly before: Setup;
  readonly after: Setup;
  readonly onShow: (change: SetupChange) => void;
}

function Differences({ scene, before, after, onShow }: PairProps) {
  const differences = useMemo(() => setupDifferences(before, after), [before, after]);
  if (before.id === after.id) return <p role="status">The two are one setup. Choose another.</p>;
  if (differences.length === 0) return <p role="status">Nothing differs: lamps and grip are the same in both.</p>;
  const count = differences.length === 1 ? 'One thing differs' : `${differences.length} things differ`;
  return (
    <>
      <p role="status">
        {count} from {before.name} to {after.name}.
      </p>
      <ul className="setup-differences" aria-label="What differs">
        {differences.map((change) => (
          <ThingDiffers
            key={`${change.kind} ${change.idBefore ?? ''} ${change.idAfter ?? ''}`}
            change={change}
            units={unitsOf(scene)}
            onShow={() => onShow(change)}
          />
        ))}
      </ul>
    </>
  );
}

function Comparison({ onClose }: { readonly onClose: () => void }) {
  const { actions } = useApp();
  const scene = useDocument((state) => state.history.present);
  const setupId = useSession((state) => state.setupId);
  const madeFrom = useSession((state) => state.madeFrom);
  const { setups } = scene;
  const [[beforeId, afterId], setPair] = useState(() => firstPair(setups, setupId, madeFrom));
  const choices = setups.map((setup) => ({ value: setup.id, name: titleOf(setups, setup) }));
  const [before, after] = [beforeId, afterId].map((id) => setups.find((setup) => setup.id === id));
  const show = ({ kind, idBefore, idAfter }: SetupChange): void => {
    actions.chooseSetup(idAfter === null ? beforeId : afterId);
    actions.select({ kind, id: idAfter ?? idBefore ?? '' });
    onClose();
  };
  return (
    <>
      <div className="fields">
        <PickField label="From" value={beforeId} choices={choices} onPick={(id) => setPair([id, afterId])} />
        <PickField label="To" value={afterId} choices={choices} onPick={(id) => setPair([beforeId, id])} />
      </div>
      {before && after && <Differences scene={scene} before={before} after={after} onShow={show} />}
    </>
  );
}

/** Two setups held against each other, thing by thing. */
export function CompareDialog({ isOpen, onClose }: { readonly isOpen: boolean; readonly onClose: () => void }) {
  return (
    <ClosableDialog title="What differs between two setups" isOpen={isOpen} onClose={onClose} isWide>
      <Comparison onClose={onClose} />
    </ClosableDialog>
  );
}
