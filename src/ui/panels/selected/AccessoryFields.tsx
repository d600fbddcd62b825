import { Button } from 'react-aria-components';
import type { Lamp } from '../../../scene/schema';
import { ANGLE, fineLengthKind, numberKind } from '../../fields/kinds';
import { QuantityField } from '../../fields/QuantityField';
import type { Units } from '../../words/format';

type Accessory = NonNullable<Lamp['accessories']>[number];
export type FrontAccessory = Exclude<Accessory, { kind: 'wireScrim' | 'blackEdges' }>;
type Doors = Extract<Accessory, { kind: 'barnDoors' }>;

interface Props<T extends Accessory> {
  readonly accessory: T;
  readonly units: Units;
  readonly onChange: (next: Accessory | null) => string | null;
}

/** Four leaves straight ahead, as long as most are against the lamp's front (common practice, no source). */
const LEAF = { openDeg: 90, lengthM: 0.2 } as const;
export const PUT_ON: readonly { readonly label: string; readonly accessory: FrontAccessory }[] = [
  {
    label: 'Barn doors',
    accessory: { kind: 'barnDoors', leaves: [0, 90, 180, 270].map((turnDeg) => ({ turnDeg, ...LEAF })) },
  },
  { label: 'Snoot', accessory: { kind: 'snoot', lengthM: 0.25, diameterM: 0.15 } },
  { label: 'Egg crate', accessory: { kind: 'eggCrate', cellM: 0.05, depthM: 0.05 } },
  { label: 'Gel', accessory: { kind: 'gel', transmittance: 0.6, miredShift: 0 } },
];
const MOST_LEAVES = 8;

function DoorFields({ accessory, units, onChange }: Props<Doors>) {
  const { leaves } = accessory;
  const change = (index: number, next: Partial<Doors['leaves'][number]> | null): string | null =>
    onChange({
      ...accessory,
      leaves: leaves.flatMap((leaf, i) => (i === index ? (next ? [{ ...leaf, ...next }] : []) : [leaf])),
    });
  return (
    <>
      {leaves.map((leaf, index) => (
        <div key={index} className="wide fields in-slot" role="group" aria-label={`Leaf ${index + 1}`}>
          <QuantityField
            label={`Leaf ${index + 1} on side`}
            value={leaf.turnDeg}
            kind={ANGLE}
            {...(index === 0 && { hint: '0 right, 90 top, from behind' })}
            onCommit={(turnDeg) => change(index, { turnDeg })}
          />
          <QuantityField
            label="Open"
            value={leaf.openDeg}
            kind={ANGLE}
            {...(index === 0 && { hint: '0 shut, 90 ahead, 180 flat out' })}
            onCommit={(openDeg) => change(index, { openDeg })}
          />
          <QuantityField
            label="Length"
            value={leaf.lengthM}
            kind={fineLengthKind(units)}
            onCommit={(lengthM) => change(index, { lengthM })}
          />
          <div className="buttons">
            <Button className="button" onPress={() => change(index, null)} aria-label={`Take off leaf ${index + 1}`}>
              Take off leaf
            </Button>
          </div>
        </div>
      ))}
      {leaves.length < MOST_LEAVES && (
        <div className="buttons">
          <Button
            className="button"
            onPress={() => onChange({ ...accessory, leaves: [...leaves, { turnDeg: 0, ...LEAF }] })}
          >
            Add a leaf
          </Button>
        </div>
      )}
    </>
  );
}

interface Figure {
  readonly key: string;
  readonly label: string;
  readonly kind: 'fine' | 'share' | 'mired' | 'duv';
  readonly hint?: string;
  /** Taken where the document leaves the figure out. */
  readonly absent?: number;
}
const FIGURES: Readonly<Record<Exclude<FrontAccessory['kind'], 'barnDoors'>, readonly Figure[]>> = {
  snoot: [
    { key: 'lengthM', label: 'Length', kind: 'fine' },
    { key: 'diameterM', label: 'Diameter', kind: 'fine' },
  ],
  eggCrate: [
    { key: 'cellM', label: 'Cell', kind: 'fine', hint: 'clear width of one cell' },
    { key: 'depthM', label: 'Depth', kind: 'fine' },
    { key: 'wallM', label: 'Walls', kind: 'fine', absent: 0 },
  ],
  gel: [
    { key: 'transmittance', label: 'Lets through', kind: 'share', hint: '0 to 1, as the eye sees it' },
    { key: 'miredShift', label: 'Mired shift', kind: 'mired', hint: 'positive warms', absent: 0 },
    { key: 'greenShift', label: 'Green shift', kind: 'duv', hint: 'Duv; positive is green', absent: 0 },
  ],
};
const WORDS = { barnDoors: 'Barn doors', snoot: 'Snoot', eggCrate: 'Egg crate', gel: 'Gel' } as const;

/** One accessory at the lamp's front, its figures edited in place. */
export function AccessoryFields({ accessory, units, onChange }: Props<FrontAccessory>) {
  const kinds = {
    fine: fineLengthKind(units),
    share: numberKind('', 2),
    mired: numberKind('mired', 0, 10),
    duv: numberKind('', 3),
  };
  const values = accessory as unknown as Readonly<Record<string, number | undefined>>;
  const word = WORDS[accessory.kind];
  return (
    <div className="wide fields in-slot" role="group" aria-label={word}>
      <strong className="wide">{word}</strong>
      {accessory.kind === 'barnDoors' ? (
        <DoorFields accessory={accessory} units={units} onChange={onChange} />
      ) : (
        FIGURES[accessory.kind].map(({ key, label, kind, hint, absent }) => (
          <QuantityField
            key={key}
            label={label}
            value={values[key] ?? absent ?? 0}
            kind={kinds[kind]}
            onCommit={(value) => onChange({ ...accessory, [key]: value } as FrontAccessory)}
            {...(hint !== undefined && { hint })}
          />
        ))
      )}
      <div className="buttons">
        <Button className="button" onPress={() => onChange(null)} aria-label={`Take off: ${word.toLowerCase()}`}>
          Take off
        </Button>
      </div>
    </div>
  );
}
