import { Button } from 'react-aria-components';
import type { Lamp, Output } from '../../../scene/schema';
import { formatLength } from '../../../scene/units/format';
import { FIT_METHOD, type FitResult } from '../../../sim/photometry/fitReadings';
import { fitOfLamp } from '../../../sim/solve/readingsOutput';
import { illuminanceKind, lengthKind } from '../../fields/kinds';
import { QuantityField } from '../../fields/QuantityField';
import { LIMIT_WORDS, NO_FIT_WORDS } from '../../words/readings';
import { fixed, formatNumber, signedFixed, type Units } from '../../words/format';
import type { Edits } from './useEdits';

type Readings = Extract<Output, { kind: 'readings' }>;
interface Props {
  readonly lamp: Lamp;
  readonly output: Readings;
  readonly units: Units;
  readonly edits: Edits;
}

const MOST_READINGS = 100;
const STEP_BACK = 1.5;

function Fit({ fit, units }: { readonly fit: FitResult; readonly units: Units }) {
  if (!fit.ok) return <p className="fit quiet">{NO_FIT_WORDS[fit.reason]}</p>;
  const { candela, originM, limit, scatter, isScatterAssumed } = fit;
  const length = (metres: number): string => formatLength(metres, units.length);
  const share = `${fixed(100 * scatter, 0)} %`;
  return (
    <div className="fit" role="status" aria-label="Fit of the readings">
      <p>
        Centre beam {formatNumber(candela.value)} cd, 95 % between {formatNumber(candela.low)} and{' '}
        {formatNumber(candela.high)}.
      </p>
      {limit === null && (
        <p>
          Origin {length(originM.value)} behind the lens, 95 % between {length(originM.low)} and {length(originM.high)}.
        </p>
      )}
      {limit !== null && <p>{LIMIT_WORDS[limit]}</p>}
      <p className="quiet">
        {isScatterAssumed ? `A reading is taken as good to ${share}.` : `Readings scatter by ${share} about the law.`}{' '}
        Fitted by {FIT_METHOD}.
      </p>
    </div>
  );
}

/** The crew's own meter readings along the axis, and the law fitted to them. */
export function ReadingFields({ lamp, output, units, edits }: Props) {
  const { readings } = output;
  const fit = fitOfLamp(lamp);
  const commit = (next: Readings['readings']): string | null =>
    edits.patch({ output: { kind: 'readings', readings: next } });
  const changed = (index: number, fields: Partial<Readings['readings'][number]>): string | null =>
    commit(readings.map((reading, i) => (i === index ? { ...reading, ...fields } : reading)));
  const addOne = (): void => {
    const last = readings.at(-1) ?? { distanceM: 2, illuminanceLx: 1000 };
    const next = {
      distanceM: last.distanceM * STEP_BACK,
      illuminanceLx: Math.round(last.illuminanceLx / STEP_BACK ** 2),
    };
    edits.patchLoud({ output: { kind: 'readings', readings: [...readings, next] } });
  };
  // The fit leaves out dark readings and, for a bare face, near ones: stops are told where each reading has one.
  const residuals =
    fit?.ok && !fit.isScatterAssumed && fit.residualStops.length === readings.length ? fit.residualStops : null;
  return (
    <div className="readings" role="group" aria-label="Meter readings on the axis">
      {readings.map((reading, index) => (
        <div className="reading-row" key={index}>
          <QuantityField
            label={`Distance ${index + 1}`}
            value={reading.distanceM}
            kind={lengthKind(units)}
            onCommit={(distanceM) => changed(index, { distanceM })}
          />
          <QuantityField
            label={`Level ${index + 1}`}
            value={reading.illuminanceLx}
            kind={illuminanceKind(units)}
            onCommit={(illuminanceLx) => changed(index, { illuminanceLx })}
            {...(residuals && { hint: `${signedFixed(residuals[index]!, 1)} stops` })}
          />
          {readings.length > 1 && (
            <Button
              className="button"
              aria-label={`Remove reading ${index + 1}`}
              onPress={() =>
                edits.patchLoud({ output: { kind: 'readings', readings: readings.filter((_, i) => i !== index) } })
              }
            >
              Remove
            </Button>
          )}
        </div>
      ))}
      {readings.length < MOST_READINGS && (
        <Button className="button" onPress={addOne}>
          Add a reading
        </Button>
      )}
      {fit && <Fit fit={fit} units={units} />}
    </div>
  );
}
