import { Button } from 'react-aria-components';
import type { Lamp, SceneDocument } from '../../../scene/schema';
import { ANGLE, numberKind } from '../../fields/kinds';
import { PickField } from '../../fields/PickField';
import { QuantityField } from '../../fields/QuantityField';
import { SwitchField } from '../../fields/SwitchField';
import type { Units } from '../../words/format';
import { AccessoryFields, PUT_ON } from './AccessoryFields';
import { BlackEdgeFields, firstBlackEdges, maskableSides } from './BlackEdgeFields';
import type { Edits } from './useEdits';

type Accessory = NonNullable<Lamp['accessories']>[number];
type Scrim = Extract<Accessory, { kind: 'wireScrim' }>;

/** Grades of wire scrim by what they take, stops (common practice, no source). */
const GRADES = { single: 0.5, double: 1 } as const;
type Grade = keyof typeof GRADES | 'other';
export const gradeOf = ({ stops }: Pick<Scrim, 'stops'>): Grade =>
  stops === GRADES.single ? 'single' : stops === GRADES.double ? 'double' : 'other';
const GRADE_CHOICES = [
  { value: 'single', name: 'single, 1/2 stop' },
  { value: 'double', name: 'double, 1 stop' },
] as const;
const OTHER_CHOICE = { value: 'other', name: 'other' } as const;

/** Whole scrims carry no `half`; a half one covers the side that its clock angle names. */
export function asHalf({ half, ...whole }: Scrim, isHalf: boolean): Scrim {
  return isHalf ? { ...whole, half: half ?? { clockDeg: 0 } } : whole;
}

function ScrimInSlot({
  scrim,
  onChange,
}: {
  readonly scrim: Scrim;
  readonly onChange: (next: Scrim | null) => string | null;
}) {
  const grade = gradeOf(scrim);
  return (
    <div className="wide fields in-slot">
      <PickField<Grade>
        label="Scrim"
        value={grade}
        choices={grade === 'other' ? [...GRADE_CHOICES, OTHER_CHOICE] : GRADE_CHOICES}
        onPick={(picked) => picked !== 'other' && onChange({ ...scrim, stops: GRADES[picked] })}
      />
      <QuantityField
        label="Takes"
        value={scrim.stops}
        kind={numberKind('stops', 2, 0.1)}
        onCommit={(stops) => onChange({ ...scrim, stops })}
      />
      <SwitchField isOn={scrim.half !== undefined} onChange={(isHalf) => onChange(asHalf(scrim, isHalf))}>
        Half scrim
      </SwitchField>
      {scrim.half && (
        <QuantityField
          label="Covers, by the clock"
          value={scrim.half.clockDeg}
          kind={ANGLE}
          hint="0 right, 90 top, from behind"
          onCommit={(clockDeg) => onChange({ ...scrim, half: { clockDeg } })}
        />
      )}
      <div className="buttons">
        <Button className="button" onPress={() => onChange(null)}>
          Take out
        </Button>
      </div>
    </div>
  );
}

const PUT_IN: readonly { readonly label: string; readonly scrim: Scrim }[] = [
  { label: 'Single', scrim: { kind: 'wireScrim', stops: GRADES.single } },
  { label: 'Double', scrim: { kind: 'wireScrim', stops: GRADES.double } },
  { label: 'Half single', scrim: { kind: 'wireScrim', stops: GRADES.single, half: { clockDeg: 0 } } },
  { label: 'Half double', scrim: { kind: 'wireScrim', stops: GRADES.double, half: { clockDeg: 0 } } },
];

interface Props {
  readonly lamp: Lamp;
  readonly webs: SceneDocument['webs'];
  readonly units: Units;
  readonly edits: Edits;
}

/** Wire scrims in the lamp's slots, and what sits on its front. */
export function ScrimFields({ lamp, webs, units, edits }: Props) {
  const accessories = lamp.accessories ?? [];
  const sides = maskableSides(lamp, webs);
  const blackEdges = firstBlackEdges(lamp, webs);
  const canPutOn = blackEdges ? [...PUT_ON, { label: 'Black edges', accessory: blackEdges }] : PUT_ON;
  const replace = (index: number, next: Accessory | null): string | null =>
    edits.patch({
      accessories: accessories.flatMap((accessory, position) =>
        position === index ? (next ? [next] : []) : [accessory],
      ),
    });
  return (
    <>
      <h3>Scrims and front of the lamp</h3>
      {accessories.map((accessory, index) =>
        accessory.kind === 'wireScrim' ? (
          <ScrimInSlot key={index} scrim={accessory} onChange={(next) => replace(index, next)} />
        ) : accessory.kind === 'blackEdges' ? (
          <BlackEdgeFields
            key={index}
            edges={accessory}
            sides={sides}
            units={units}
            onChange={(next) => replace(index, next)}
          />
        ) : (
          <AccessoryFields key={index} accessory={accessory} units={units} onChange={(next) => replace(index, next)} />
        ),
      )}
      <p className="wide quiet">Put a scrim in a slot</p>
      <div className="wide buttons" role="group" aria-label="Put a scrim in">
        {PUT_IN.map(({ label, scrim }) => (
          <Button
            key={label}
            className="button"
            aria-label={`Put in: ${label.toLowerCase()} scrim`}
            onPress={() => edits.patchLoud({ accessories: [...accessories, scrim] })}
          >
            {label}
          </Button>
        ))}
      </div>
      <p className="wide quiet">Put on the front</p>
      <div className="wide buttons" role="group" aria-label="Put on the front">
        {canPutOn.map(({ label, accessory }) => (
          <Button
            key={label}
            className="button"
            aria-label={`Put on: ${label.toLowerCase()}`}
            onPress={() => edits.patchLoud({ accessories: [...accessories, accessory] })}
          >
            {label}
          </Button>
        ))}
      </div>
    </>
  );
}
