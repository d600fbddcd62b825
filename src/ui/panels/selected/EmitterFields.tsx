import type { Emitter, Lamp } from '../../../scene/schema';
import { ANGLE, fineLengthKind, numberKind, PERCENT } from '../../fields/kinds';
import { PickField } from '../../fields/PickField';
import { QuantityField } from '../../fields/QuantityField';
import { SwitchField } from '../../fields/SwitchField';
import type { Units } from '../../words/format';
import type { Edits } from './useEdits';

interface Props {
  readonly lamp: Lamp;
  readonly units: Units;
  readonly edits: Edits;
}

const EMITTERS: Readonly<Record<Emitter['shape'], Emitter>> = {
  point: { shape: 'point' },
  disc: { shape: 'disc', diameterM: 0.15 },
  rectangle: { shape: 'rectangle', widthM: 0.6, heightM: 0.3 },
  tube: { shape: 'tube', lengthM: 1.2, diameterM: 0.03 },
  sphere: { shape: 'sphere', diameterM: 0.4 },
};
const EMITTER_CHOICES = [
  { value: 'point', name: 'point' },
  { value: 'disc', name: 'disc' },
  { value: 'rectangle', name: 'rectangle' },
  { value: 'tube', name: 'tube' },
  { value: 'sphere', name: 'sphere' },
] as const;
/** With a photometric file a point stands for the opening that the file names. */
const WEB_EMITTER_CHOICES = EMITTER_CHOICES.map((choice) =>
  choice.value === 'point' ? { ...choice, name: 'opening in the file' } : choice,
);
const DIMENSION_WORDS = { diameterM: 'Diameter', widthM: 'Width', heightM: 'Height', lengthM: 'Length' } as const;
type Dimension = keyof typeof DIMENSION_WORDS;
const isDimension = (entry: readonly [string, unknown]): entry is readonly [Dimension, number] =>
  Object.hasOwn(DIMENSION_WORDS, entry[0]);

type Rectangle = Extract<Emitter, { shape: 'rectangle' }>;
type Cells = NonNullable<Rectangle['cells']>;
const FIRST_CELLS: Cells = { count: 8 };

/** A strip of cells along the panel's width, each with its own level. */
function CellFields({ emitter, edits }: { readonly emitter: Rectangle; readonly edits: Edits }) {
  const { cells, ...panel } = emitter;
  const commit = (next: Cells): string | null => edits.patch({ emitter: { ...panel, cells: next } });
  const recount = (count: number): string | null => {
    const whole = Math.round(count);
    const levels = cells?.levels && Array.from({ length: whole }, (_, i) => cells.levels![i] ?? 1);
    return commit({ ...cells, count: whole, ...(levels && { levels }) });
  };
  const relevel = (index: number, level: number): string | null => {
    const levels = Array.from({ length: cells?.count ?? 0 }, (_, i) =>
      i === index ? level : (cells?.levels?.[i] ?? 1),
    );
    return commit({ ...cells!, levels });
  };
  return (
    <>
      <SwitchField
        isOn={cells !== undefined}
        onChange={(isOn) => edits.patchLoud({ emitter: isOn ? { ...panel, cells: FIRST_CELLS } : panel })}
      >
        A strip of cells
      </SwitchField>
      {cells && (
        <>
          <QuantityField label="Cells" value={cells.count} kind={numberKind('', 0)} onCommit={recount} />
          <QuantityField
            label="Glowing part"
            value={cells.glowShare ?? 1}
            kind={PERCENT}
            hint="the rest is gaps between cells"
            onCommit={(glowShare) => commit({ ...cells, glowShare })}
          />
          <details className="wide cells">
            <summary>Level of each cell</summary>
            <div className="fields">
              {Array.from({ length: cells.count }, (_, index) => (
                <QuantityField
                  key={index}
                  label={`Cell ${index + 1}`}
                  value={cells.levels?.[index] ?? 1}
                  kind={PERCENT}
                  {...(index === 0 && { hint: 'leftmost, from behind' })}
                  onCommit={(level) => relevel(index, level)}
                />
              ))}
            </div>
          </details>
        </>
      )}
    </>
  );
}

type Tube = Extract<Emitter, { shape: 'tube' }>;
function SectorField({ emitter, edits }: { readonly emitter: Tube; readonly edits: Edits }) {
  const { litSectorDeg, ...round } = emitter;
  return (
    <QuantityField
      label="Lit sector"
      value={litSectorDeg ?? null}
      kind={ANGLE}
      hint="about its aim"
      optional={{ word: 'all round', onClear: () => edits.patch({ emitter: round }) }}
      onCommit={(next) => edits.patch({ emitter: { ...round, litSectorDeg: next } })}
    />
  );
}

/** The shape that sends the light. */
export function EmitterFields({ lamp, units, edits }: Props) {
  const { emitter } = lamp;
  const dimensions = (Object.entries(emitter) as (readonly [string, unknown])[]).filter(isDimension);
  return (
    <>
      <PickField
        label="Emitter"
        value={emitter.shape}
        choices={lamp.distribution.kind === 'web' ? WEB_EMITTER_CHOICES : EMITTER_CHOICES}
        onPick={(shape) => edits.patchLoud({ emitter: EMITTERS[shape] })}
      />
      {dimensions.map(([key, value]) => (
        <QuantityField
          key={key}
          label={DIMENSION_WORDS[key]}
          value={value}
          kind={fineLengthKind(units)}
          onCommit={(next) => edits.patch({ emitter: { ...emitter, [key]: next } as Emitter })}
        />
      ))}
      {emitter.shape === 'tube' && lamp.distribution.kind !== 'web' && <SectorField emitter={emitter} edits={edits} />}
      {emitter.shape === 'rectangle' && <CellFields emitter={emitter} edits={edits} />}
    </>
  );
}
