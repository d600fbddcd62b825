import { useState } from 'react';
import { Button } from 'react-aria-components';
import { formatIlluminance, formatLength } from '../../scene/units/format';
import type { MeteringTask } from '../../sim/coverage/coverageTasks';
import { compareReadings, METERING_GRIDS, type MeteringComparison } from '../../sim/coverage/meteringGrid';
import { useApp } from '../app';
import { illuminanceKind } from '../fields/kinds';
import { PickField } from '../fields/PickField';
import { QuantityField } from '../fields/QuantityField';
import { fixed, levelBandOf, signedFixed, unitsOf } from '../words/format';
import { calibrationCommand } from './commands';
import { CoverPart, JobState, type Chosen } from './parts';
import { useJob, useWhenRested } from './useJob';

const SIZES = METERING_GRIDS.map(({ columns, rows }) => ({
  value: `${columns} x ${rows}`,
  name: `${columns} x ${rows}`,
}));

function Comparison({ found, chosen }: { readonly found: MeteringComparison; readonly chosen: Chosen }) {
  const { actions } = useApp();
  const setup = chosen.scene.setups.find(({ id }) => id === chosen.setupId);
  const command = setup && calibrationCommand(setup, found.outputFactor);
  const stops = (value: number | null): string => (value === null ? 'none' : `${fixed(value, 2)} stops`);
  return (
    <div className="comparison" data-testid="metering-comparison">
      <p>
        {found.count} readings: <b>{signedFixed(found.biasStops, 2)} stops</b> off the plan as a whole, spread{' '}
        {stops(found.spreadStops)}. Range read {stops(found.measuredRangeStops)}, planned{' '}
        {stops(found.expectedRangeStops)}.
      </p>
      <p>
        {found.worst.label} is farthest from the rest, {signedFixed(found.worst.offStops, 2)} stops. A level that is off
        everywhere is the lamps’ output; one that is off at places is where they stand or look.
      </p>
      {!command && <p className="hint">No lamp is on: there is nothing to calibrate.</p>}
      <Button className="button main" isDisabled={!command} onPress={() => command && actions.runLoud(command)}>
        Calibrate the lamps by {signedFixed(found.biasStops, 2)} stops
      </Button>
    </div>
  );
}

/** Places to hold a meter to, to print and take along, and what the readings say of the plan. */
export function MeteringPart({ chosen }: { readonly chosen: Chosen }) {
  const { scene, setupId, surfaceId } = chosen;
  const [size, setSize] = useState(SIZES[1]!.value);
  const [readings, setReadings] = useState<Readonly<Record<string, number>>>({});
  const { columns, rows } = METERING_GRIDS[SIZES.findIndex(({ value }) => value === size)]!;
  const job = useJob<MeteringTask>('metering');
  useWhenRested([scene, setupId, surfaceId, size], () =>
    job.start({ kind: 'metering', document: scene, setupId, surfaceId, columns, rows }),
  );
  const units = unitsOf(scene);
  const points = job.answer?.result ?? [];
  const found = compareReadings(points, readings);
  const surface = scene.surfaces[surfaceId];
  const setup = scene.setups.find(({ id }) => id === setupId);
  const read = (label: string, value: number | null): null => {
    const { [label]: _old, ...others } = readings;
    setReadings(value === null ? others : { ...others, [label]: value });
    return null;
  };
  return (
    <CoverPart
      id="metering"
      title="Metering grid"
      className="cover-part metering"
      buttons={
        <>
          <Button className="button" onPress={() => window.print()}>
            Print the grid
          </Button>
          <Button className="button" isDisabled={Object.keys(readings).length === 0} onPress={() => setReadings({})}>
            Empty the readings
          </Button>
        </>
      }
    >
      <p className="print-title">
        {scene.production === undefined ? '' : `${scene.production}: `}
        {scene.name}, {setup?.name}. {surface?.name}, seen from the lit side. Flat disc on the surface, facing out.
      </p>
      <PickField
        label="Columns x rows"
        value={size}
        choices={SIZES}
        onPick={(value) => {
          setSize(value);
          setReadings({});
        }}
      />
      <JobState job={job} scene={scene} what="Reading the grid" />
      <div
        className="meter-grid"
        data-columns={columns}
        data-old={job.answer && job.answer.document !== scene ? 'yes' : 'no'}
      >
        {points.map(({ label, atM, expectedLx }) => (
          <div key={label} className="meter-cell">
            <b>{label}</b>
            <span>
              {formatLength(atM[0], units.length)} in, {formatLength(atM[1], units.length)} up
            </span>
            <span>
              planned {formatIlluminance(expectedLx, units.illuminance)} {levelBandOf(scene, setupId)}
            </span>
            <QuantityField
              key={`${size} ${label} ${String(readings[label] === undefined)}`}
              label={`${label} reads`}
              value={readings[label] ?? null}
              kind={illuminanceKind(units)}
              optional={{ word: '', onClear: () => read(label, null) }}
              onCommit={(value) => (value > 0 ? read(label, value) : 'A reading is above 0.')}
            />
          </div>
        ))}
      </div>
      <p className="print-caution">
        Follow local code. A licensed electrician, a qualified rigger or a competent person decides.
      </p>
      {found ? (
        <Comparison found={found} chosen={chosen} />
      ) : (
        <p className="hint">Type what the meter read; left-out places don’t count.</p>
      )}
    </CoverPart>
  );
}
