import { useState } from 'react';
import { Button, Tab, TabList, TabPanel, Tabs } from 'react-aria-components';
import { keyIlluminanceLx } from '../../sim/exposure/exposure';
import { rigIds } from '../../sim/coverage/rig';
import { useApp, useDocument, useSession } from '../app';
import { illuminanceKind } from '../fields/kinds';
import { PickField } from '../fields/PickField';
import { QuantityField } from '../fields/QuantityField';
import { elevationSurfaceId } from '../stores/shownPlaces';
import { unitsOf } from '../words/format';
import { EvenPart } from './EvenPart';
import { MeteringPart } from './MeteringPart';
import type { Chosen } from './parts';
import { SetupsPart } from './SetupsPart';
import { ThrowPart } from './ThrowPart';

const PARTS = [
  { id: 'throw', name: 'Throw', Part: ThrowPart },
  { id: 'even', name: 'Light it evenly', Part: EvenPart },
  { id: 'setups', name: 'Setups side by side', Part: SetupsPart },
  { id: 'metering', name: 'Metering grid', Part: MeteringPart },
] as const;

/** Lamp or group to start with: the selected one, else the first group, else the first lamp. */
function firstRig(ids: readonly string[], selected: string | null, groups: readonly string[]): string {
  if (selected !== null && ids.includes(selected)) return selected;
  return ids.find((id) => groups.includes(id)) ?? ids[0] ?? '';
}

/** The page of the planner: what to light, with what, how far, how evenly, and how it was in the end. */
export function CoveragePage() {
  const { session } = useApp();
  const scene = useDocument((state) => state.shown);
  const setupId = useSession((state) => state.setupId);
  const surfaceChoice = useSession((state) => state.surfaceId);
  const selected = useSession((state) => (state.selection?.kind === 'source' ? state.selection.id : null));
  const [rigChoice, setRigChoice] = useState<string | null>(null);
  const [targetLx, setTargetLx] = useState<number | null>(null);
  const setup = scene.setups.find(({ id }) => id === setupId);
  const ids = setup ? rigIds(scene, setup) : [];
  const plane = Object.keys(scene.surfaces).find((id) => scene.surfaces[id]?.kind === 'readingPlane');
  const surfaceId = surfaceChoice ?? plane ?? elevationSurfaceId(scene, session.getState()) ?? '';
  const sourceId =
    rigChoice !== null && ids.includes(rigChoice)
      ? rigChoice
      : firstRig(ids, selected, Object.keys(scene.groups ?? {}));
  const nameOf = (id: string): string => setup?.sources[id]?.name ?? `${scene.groups?.[id]?.name ?? id} (group)`;
  const units = unitsOf(scene);
  const chosen: Chosen = { scene, setupId, sourceId, surfaceId, targetLx: targetLx ?? 0 };
  return (
    <div className="coverage" role="region" aria-labelledby="coverage-title">
      <header className="coverage-head">
        <h2 id="coverage-title">Coverage</h2>
        <PickField
          label="Surface"
          value={surfaceId}
          choices={Object.entries(scene.surfaces).map(([value, { name }]) => ({ value, name }))}
          onPick={(id) => session.setState({ surfaceId: id })}
        />
        <PickField
          label="Lamp or group"
          value={sourceId}
          choices={ids.map((value) => ({ value, name: nameOf(value) }))}
          onPick={setRigChoice}
        />
        <QuantityField
          label="Level to hold"
          value={targetLx}
          kind={illuminanceKind(units)}
          optional={{
            word: 'none',
            onClear: () => {
              setTargetLx(null);
              return null;
            },
          }}
          onCommit={(value) => {
            if (!(value > 0)) return 'A level is above 0.';
            setTargetLx(value);
            return null;
          }}
        />
        <Button className="button" onPress={() => setTargetLx(Math.round(keyIlluminanceLx(scene.camera) ?? 0) || null)}>
          Take the camera’s key
        </Button>
        <Button className="button" onPress={() => session.setState({ page: 'sheets' })}>
          Back to the sheets
        </Button>
      </header>
      {ids.length === 0 || surfaceId === '' ? (
        <p className="cover-part">Place a lamp and a wall or backdrop first.</p>
      ) : (
        <Tabs className="cover-tabs">
          <TabList aria-label="Parts of coverage" className="cover-tablist">
            {PARTS.map(({ id, name }) => (
              <Tab key={id} id={id} className="cover-tab">
                {name}
              </Tab>
            ))}
          </TabList>
          {PARTS.map(({ id, Part }) => (
            <TabPanel key={id} id={id}>
              <Part chosen={chosen} />
            </TabPanel>
          ))}
        </Tabs>
      )}
    </div>
  );
}
