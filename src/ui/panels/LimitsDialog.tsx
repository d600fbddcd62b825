import { useState } from 'react';
import { Button } from 'react-aria-components';
import type { Story } from '../../scene/schema';
import { limitText } from '../../sim/judgement/figureWords';
import { DEFAULT_SUN_LIMITS, LIMITS_BASIS, limitsOf, type Limits, type SunLimits } from '../../sim/judgement/limits';
import { useApp, useDocument } from '../app';
import { numberKind } from '../fields/kinds';
import { QuantityField } from '../fields/QuantityField';
import { ClosableDialog } from '../parts/ClosableDialog';

type LimitKey = Exclude<keyof SunLimits, 'shadows'>;
/** Every limit that can be set; how many shadows the sun throws is no matter of taste. */
const ROWS: readonly {
  readonly key: LimitKey;
  readonly name: string;
  readonly unit: string;
  readonly decimals: number;
}[] = [
  { key: 'fallOff', name: 'Fall-off', unit: 'stops', decimals: 2 },
  { key: 'lineFan', name: 'Line fan', unit: '°', decimals: 1 },
  { key: 'fan', name: 'Fan', unit: '°', decimals: 1 },
  { key: 'edge', name: 'Edge, softer than the sun’s', unit: 'times', decimals: 1 },
  { key: 'crispEdge', name: 'Edge, crisper than the sun’s', unit: 'stops', decimals: 1 },
  { key: 'step', name: 'Step in 10 cm', unit: 'stop', decimals: 2 },
  { key: 'fill', name: 'Opening left unfilled', unit: 'share', decimals: 3 },
  { key: 'height', name: 'Height off the story’s sun', unit: '°', decimals: 1 },
  { key: 'windowSpread', name: 'Several windows, direction', unit: '°', decimals: 1 },
  { key: 'windowLevel', name: 'Several windows, level', unit: 'stops', decimals: 2 },
  { key: 'colour', name: 'Colour off the sun’s', unit: 'mired', decimals: 0 },
  { key: 'duv', name: 'Colour off the sun’s, Duv', unit: '', decimals: 4 },
  { key: 'haze', name: 'Haze wedge', unit: '°', decimals: 1 },
];

function LimitFields({ row }: { readonly row: (typeof ROWS)[number] }) {
  const { actions } = useApp();
  const story = useDocument((state) => state.shown.story);
  const { key, name, unit, decimals } = row;
  const inForce = limitsOf({ story })[key];
  const usual = DEFAULT_SUN_LIMITS[key];
  const change = (fields: Partial<Limits>): string | null => {
    const next = { ...inForce, ...fields };
    if (next.good > next.passable)
      return 'A figure that reads as sun is passable too: the first limit is the lower one.';
    const limits: Story['limits'] = { ...story?.limits, [key]: next };
    return actions.run({ type: 'patchScene', part: 'story', fields: { limits } });
  };
  return (
    <fieldset className="work-row limit-row">
      <legend>
        {name}{' '}
        <span className="unit">
          usually {limitText(usual.good)} and {limitText(usual.passable)}
        </span>
      </legend>
      <QuantityField
        label="Reads as sun up to"
        value={inForce.good}
        kind={numberKind(unit, decimals)}
        onCommit={(good) => change({ good })}
      />
      <QuantityField
        label="Passable up to"
        value={inForce.passable}
        kind={numberKind(unit, decimals)}
        onCommit={(passable) => change({ passable })}
      />
    </fieldset>
  );
}

/** The limits that the figures are held against, under the table; opens the form that sets them. */
export function LimitsButton() {
  const { actions } = useApp();
  const [isOpen, setOpen] = useState(false);
  const isOwn = useDocument((state) => state.shown.story?.limits !== undefined);
  const reset = (): void => actions.runLoud({ type: 'patchScene', part: 'story', fields: {}, clear: ['limits'] });
  return (
    <>
      <p className="small">Limits: {isOwn ? 'set in this scene' : LIMITS_BASIS}.</p>
      <div className="buttons">
        <Button className="button" onPress={() => setOpen(true)}>
          Edit limits
        </Button>
      </div>
      <ClosableDialog
        title="Limits of the judgement"
        isOpen={isOpen}
        onClose={() => setOpen(false)}
        beside={
          <Button className="button" isDisabled={!isOwn} onPress={reset}>
            Back to the usual limits
          </Button>
        }
      >
        <p className="small">The usual ones are {LIMITS_BASIS}. Yours are kept with the scene.</p>
        {ROWS.map((row) => (
          <LimitFields key={row.key} row={row} />
        ))}
      </ClosableDialog>
    </>
  );
}
