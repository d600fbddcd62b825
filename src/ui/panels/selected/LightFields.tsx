import type { Colour, Distribution, Lamp, Output } from '../../../scene/schema';
import { ANGLE, fineLengthKind, illuminanceKind, lengthKind, numberKind } from '../../fields/kinds';
import { PickField } from '../../fields/PickField';
import { QuantityField } from '../../fields/QuantityField';
import { BASIS_CHOICES } from '../../words/basis';
import type { Units } from '../../words/format';
import { FocusField } from './FocusField';
import { GateFields } from './GateFields';
import { ReadingFields } from './ReadingFields';
import type { Edits } from './useEdits';

interface Props {
  readonly lamp: Lamp;
  readonly units: Units;
  readonly edits: Edits;
}

type PlainDistribution = Exclude<Distribution, { kind: 'web' }>;
const DISTRIBUTIONS: Readonly<Record<PlainDistribution['kind'], Distribution>> = {
  uniform: { kind: 'uniform' },
  lambertian: { kind: 'lambertian' },
  cosinePower: { kind: 'cosinePower', exponent: 4 },
  beam: { kind: 'beam', beamAngleDeg: 26, fieldAngleDeg: 42 },
  projection: { kind: 'projection', fieldAngleDeg: 36, edgeWidthDeg: 1.5 },
  lensed: {
    kind: 'lensed',
    lensDiameterM: 0.25,
    focalLengthM: 0.3,
    sourceDiameterM: 0.02,
    lampToLensM: 0.2,
    beamAngleDeg: 50,
  },
};
const DISTRIBUTION_CHOICES = [
  { value: 'uniform', name: 'the same all round' },
  { value: 'lambertian', name: 'matt face (cosine)' },
  { value: 'cosinePower', name: 'power of cosine' },
  { value: 'beam', name: 'beam and field angle' },
  { value: 'projection', name: 'projection spot' },
  { value: 'lensed', name: 'lensed spot' },
  { value: 'web', name: 'photometric file' },
] as const;

interface Figure {
  readonly key: string;
  readonly label: string;
  readonly kind: 'angle' | 'length' | 'fine' | 'number';
  /** Said where the document leaves the figure out. */
  readonly absent?: string;
  readonly hint?: string;
}
const FIGURES: Readonly<Record<Distribution['kind'], readonly Figure[]>> = {
  uniform: [],
  lambertian: [],
  cosinePower: [{ key: 'exponent', label: 'Power', kind: 'number' }],
  beam: [
    { key: 'beamAngleDeg', label: 'Beam angle', kind: 'angle', hint: 'full angle at 50 % of peak' },
    {
      key: 'fieldAngleDeg',
      label: 'Field angle',
      kind: 'angle',
      hint: 'full angle at 10 % of peak',
      absent: 'not known',
    },
    { key: 'virtualOriginM', label: 'Origin behind lens', kind: 'fine', absent: 'at the lens' },
  ],
  projection: [
    { key: 'fieldAngleDeg', label: 'Field angle', kind: 'angle', hint: 'full angle at the edge' },
    { key: 'edgeWidthDeg', label: 'Edge width', kind: 'angle' },
    { key: 'peaking', label: 'Peaking', kind: 'number', absent: 'flat' },
    { key: 'focusM', label: 'Focus at', kind: 'length', absent: 'very far' },
  ],
  lensed: [
    { key: 'beamAngleDeg', label: 'Beam angle', kind: 'angle', hint: 'full angle at 50 % of peak' },
    {
      key: 'fieldAngleDeg',
      label: 'Field angle',
      kind: 'angle',
      hint: 'full angle at 10 % of peak',
      absent: 'not known',
    },
    { key: 'lensDiameterM', label: 'Lens diameter', kind: 'fine' },
    { key: 'focalLengthM', label: 'Focal length', kind: 'fine' },
    { key: 'sourceDiameterM', label: 'Source diameter', kind: 'fine' },
    {
      key: 'lampToLensM',
      label: 'Source to lens',
      kind: 'fine',
      hint: 'near the focal length: spot; nearer the lens: flood',
    },
  ],
  web: [],
};
/** How the light is spread over directions. */
export function DistributionFields({ lamp, units, edits, onFile }: Props & { readonly onFile: () => void }) {
  const { distribution } = lamp;
  // The output of a file goes with its file.
  const fromFile = lamp.output.kind === 'file';
  const kinds = { angle: ANGLE, length: lengthKind(units), fine: fineLengthKind(units), number: numberKind('', 1) };
  const values = distribution as unknown as Readonly<Record<string, number | undefined>>;
  const commit = ({ key }: Figure, value: number | null): string | null => {
    const rest = Object.entries(distribution).filter(([name]) => name !== key);
    const next = Object.fromEntries(value === null ? rest : [...rest, [key, value]]) as Distribution;
    return edits.patch({ distribution: next });
  };
  return (
    <>
      <PickField
        label="Light leaves as"
        value={distribution.kind}
        choices={DISTRIBUTION_CHOICES}
        onPick={(kind) => {
          if (kind === 'web') onFile();
          else edits.patchLoud({ distribution: DISTRIBUTIONS[kind], ...(fromFile && { output: OUTPUTS.candela }) });
        }}
      />
      {FIGURES[distribution.kind].map((figure) => (
        <QuantityField
          key={figure.key}
          label={figure.label}
          value={values[figure.key] ?? null}
          kind={kinds[figure.kind]}
          onCommit={(value) => commit(figure, value)}
          {...(figure.hint !== undefined && { hint: figure.hint })}
          {...(figure.absent !== undefined && {
            optional: { word: figure.absent, onClear: () => commit(figure, null) },
          })}
        />
      ))}
      {distribution.kind === 'lensed' && <FocusField distribution={distribution} edits={edits} />}
      {distribution.kind === 'projection' && <GateFields distribution={distribution} edits={edits} />}
    </>
  );
}

const OUTPUTS = {
  candela: { kind: 'candela', candela: 30_000 },
  lumens: { kind: 'lumens', lumens: 5000 },
  luxAt: { kind: 'luxAt', illuminanceLx: 1000, distanceM: 5 },
  luminance: { kind: 'luminance', luminanceCdM2: 20_000 },
  file: { kind: 'file' },
} as const satisfies Readonly<Record<Exclude<Output['kind'], 'readings'>, Output>>;
const OUTPUT_CHOICES = [
  { value: 'file', name: 'as the file says' },
  { value: 'candela', name: 'centre-beam candela' },
  { value: 'lumens', name: 'lumens' },
  { value: 'luxAt', name: 'level at a distance' },
  { value: 'luminance', name: 'luminance of the face' },
  { value: 'readings', name: 'own meter readings' },
] as const;
/** Readings begin with the level that is known, if one is; a metered lamp is good to 15 %. */
function firstReading(output: Output): Partial<Lamp> {
  const { illuminanceLx, distanceM } = output.kind === 'luxAt' ? output : OUTPUTS.luxAt;
  return { output: { kind: 'readings', readings: [{ distanceM, illuminanceLx }] }, basis: 'metered' };
}

/** How much light, and how well it is known. */
export function OutputFields({ lamp, units, edits }: Props) {
  const { output } = lamp;
  const change = (next: Output): string | null => edits.patch({ output: next });
  const choices = OUTPUT_CHOICES.filter(({ value }) => value !== 'file' || lamp.distribution.kind === 'web');
  return (
    <>
      <PickField
        label="Output as"
        value={output.kind}
        choices={choices}
        onPick={(kind) => {
          edits.patchLoud(kind === 'readings' ? firstReading(output) : { output: OUTPUTS[kind] });
        }}
      />
      {output.kind === 'file' && (
        <QuantityField
          label="Times the file"
          value={output.factor ?? 1}
          kind={numberKind('', 2)}
          hint="1 is as the file says"
          onCommit={(factor) =>
            factor > 0 ? change(factor === 1 ? { kind: 'file' } : { kind: 'file', factor }) : 'A factor is above 0.'
          }
        />
      )}
      {output.kind === 'candela' && (
        <QuantityField
          label="Centre beam"
          value={output.candela}
          kind={numberKind('cd', 0, 100)}
          onCommit={(candela) => change({ ...output, candela })}
        />
      )}
      {output.kind === 'lumens' && (
        <QuantityField
          label="Flux"
          value={output.lumens}
          kind={numberKind('lm', 0, 10)}
          onCommit={(lumens) => change({ ...output, lumens })}
        />
      )}
      {output.kind === 'luminance' && (
        <QuantityField
          label="Luminance"
          value={output.luminanceCdM2}
          kind={numberKind('cd/m²', 0, 100)}
          onCommit={(luminanceCdM2) => change({ ...output, luminanceCdM2 })}
        />
      )}
      {output.kind === 'luxAt' && (
        <>
          <QuantityField
            label="Level"
            value={output.illuminanceLx}
            kind={illuminanceKind(units)}
            onCommit={(illuminanceLx) => change({ ...output, illuminanceLx })}
          />
          <QuantityField
            label="At a distance of"
            value={output.distanceM}
            kind={lengthKind(units)}
            onCommit={(distanceM) => change({ ...output, distanceM })}
          />
        </>
      )}
      {output.kind === 'readings' && <ReadingFields lamp={lamp} output={output} units={units} edits={edits} />}
      <PickField
        label="Rests on"
        value={lamp.basis ?? 'typical'}
        choices={BASIS_CHOICES}
        onPick={(basis) => edits.patchLoud({ basis })}
      />
    </>
  );
}

/** Colour of the light: CCT and Duv, or x and y where the scene gives those. */
export function ColourFields({ colour, edits }: { readonly colour: Colour | undefined; readonly edits: Edits }) {
  const change = (next: Colour): string | null => edits.patch({ colour: next });
  if (colour && 'x' in colour) {
    return (
      <>
        <QuantityField
          label="Chromaticity x"
          value={colour.x}
          kind={numberKind('', 4)}
          onCommit={(x) => change({ ...colour, x })}
        />
        <QuantityField
          label="Chromaticity y"
          value={colour.y}
          kind={numberKind('', 4)}
          onCommit={(y) => change({ ...colour, y })}
        />
      </>
    );
  }
  if (!colour) {
    return (
      <PickField
        label="Colour"
        value="none"
        choices={[
          { value: 'none', name: 'not known' },
          { value: 'cct', name: 'by CCT and Duv' },
        ]}
        onPick={(choice) => {
          if (choice === 'cct') edits.patchLoud({ colour: { cctK: 5600 } });
        }}
      />
    );
  }
  return (
    <>
      <QuantityField
        label="CCT"
        value={colour.cctK}
        kind={numberKind('K', 0, 10)}
        onCommit={(cctK) => change({ ...colour, cctK })}
      />
      <QuantityField
        label="Duv"
        value={colour.duv ?? 0}
        kind={numberKind('', 3)}
        onCommit={(duv) => change({ ...colour, duv })}
      />
    </>
  );
}
