import { Button } from 'react-aria-components';
import type { Distribution } from '../../../scene/schema';
import { ANGLE, numberKind, PERCENT } from '../../fields/kinds';
import { PickField } from '../../fields/PickField';
import { QuantityField } from '../../fields/QuantityField';
import type { Edits } from './useEdits';

type Projection = Extract<Distribution, { kind: 'projection' }>;
type Shutter = NonNullable<Projection['shutters']>[number];
type Pattern = NonNullable<Projection['pattern']>;
type PatternKind = 'none' | 'seeded' | 'panes' | 'slats' | 'shapes';

interface Props {
  readonly distribution: Projection;
  readonly edits: Edits;
}

const MOST_SHUTTERS = 4;
/** Where a shutter comes to stand when it is put in, as a share of the half field. */
const PUT_IN_AT = 0.5;
const SIDES: readonly { readonly label: string; readonly turnDeg: number }[] = [
  { label: 'Left', turnDeg: 180 },
  { label: 'Right', turnDeg: 0 },
  { label: 'Top', turnDeg: 90 },
  { label: 'Bottom', turnDeg: 270 },
];
const sideWord = ({ turnDeg }: Shutter): string => {
  const turn = ((turnDeg % 360) + 360) % 360;
  return ['right', 'top', 'left', 'bottom'][Math.round(turn / 90) % 4]!;
};

/** Four straight cuts at the gate, each with its side, its angle and its softness. */
function ShutterFields({ distribution, edits }: Props) {
  const { shutters = [], fieldAngleDeg, edgeWidthDeg } = distribution;
  const commit = (next: readonly Shutter[]): string | null => {
    const { shutters: _before, ...rest } = distribution;
    return edits.patch({ distribution: next.length === 0 ? rest : { ...rest, shutters: [...next] } });
  };
  const change = (index: number, next: Partial<Shutter> | null): string | null =>
    commit(shutters.flatMap((one, i) => (i === index ? (next ? [{ ...one, ...next }] : []) : [one])));
  const putIn = (turnDeg: number): void => {
    const offsetDeg = Math.round(PUT_IN_AT * 5 * fieldAngleDeg) / 10;
    commit([...shutters, { offsetDeg, turnDeg, edgeWidthDeg }]);
  };
  return (
    <>
      <h4 className="wide">Shutters</h4>
      {shutters.map((shutter, index) => (
        <div key={index} className="wide fields in-slot" role="group" aria-label={`Shutter ${index + 1}`}>
          <QuantityField
            label={`Shutter ${index + 1}, ${sideWord(shutter)}`}
            value={shutter.offsetDeg}
            kind={ANGLE}
            {...(index === 0 && { hint: 'from the axis; below 0 past it' })}
            onCommit={(offsetDeg) => change(index, { offsetDeg })}
          />
          <QuantityField
            label="Turned to"
            value={shutter.turnDeg}
            kind={ANGLE}
            {...(index === 0 && { hint: '0 right, 90 top, from behind' })}
            onCommit={(turnDeg) => change(index, { turnDeg })}
          />
          <QuantityField
            label="Edge width"
            value={shutter.edgeWidthDeg}
            kind={ANGLE}
            onCommit={(width) => change(index, { edgeWidthDeg: width })}
          />
          <div className="buttons">
            <Button
              className="button"
              aria-label={`Draw out shutter ${index + 1}`}
              onPress={() => void change(index, null)}
            >
              Draw out
            </Button>
          </div>
        </div>
      ))}
      {shutters.length > 0 && (
        <p className="quiet wide">On the elevation each cut can be dragged where its edge falls.</p>
      )}
      {shutters.length < MOST_SHUTTERS && (
        <div className="wide buttons" role="group" aria-label="Put a shutter in">
          {SIDES.map(({ label, turnDeg }) => (
            <Button
              key={label}
              className="button"
              aria-label={`Put in a shutter: ${label.toLowerCase()}`}
              onPress={() => putIn(turnDeg)}
            >
              {label}
            </Button>
          ))}
        </div>
      )}
    </>
  );
}

const PATTERNS: Readonly<Record<Exclude<PatternKind, 'none' | 'shapes'>, Pattern>> = {
  seeded: { seed: 1, holes: 30 },
  panes: { kind: 'panes', columns: 2, rows: 3, barShare: 0.15 },
  slats: { kind: 'slats', slats: 8, openShare: 0.5 },
};
const CHOICES = [
  { value: 'none', name: 'none' },
  { value: 'seeded', name: 'broken holes, from a seed' },
  { value: 'panes', name: 'window panes' },
  { value: 'slats', name: 'slats' },
] as const;
const OWN_CHOICE = { value: 'shapes', name: 'own shapes, from the scene file' } as const;

interface Figure {
  readonly key: string;
  readonly label: string;
  readonly kind: 'count' | 'share' | 'angle' | 'ratio';
  readonly hint?: string;
  readonly absent?: string;
}
const COMMON: readonly Figure[] = [
  { key: 'turnDeg', label: 'Turned by', kind: 'angle', absent: 'upright' },
  { key: 'edgeWidthDeg', label: 'Edge width', kind: 'angle', absent: '0.2°' },
];
const FIGURES: Readonly<Record<Exclude<PatternKind, 'none'>, readonly Figure[]>> = {
  seeded: [
    { key: 'seed', label: 'Seed', kind: 'count', hint: 'another number, another cut' },
    { key: 'holes', label: 'Holes', kind: 'count', hint: '1 to 200' },
    ...COMMON,
  ],
  panes: [
    { key: 'columns', label: 'Panes across', kind: 'count' },
    { key: 'rows', label: 'Panes up', kind: 'count' },
    { key: 'barShare', label: 'Bar, of a pane', kind: 'share' },
    { key: 'heightOverWidth', label: 'Height over width', kind: 'ratio', absent: 'square' },
    ...COMMON,
  ],
  slats: [
    { key: 'slats', label: 'Strips of light', kind: 'count' },
    { key: 'openShare', label: 'Open part', kind: 'share' },
    ...COMMON,
  ],
  shapes: COMMON,
};
const KINDS = { count: numberKind('', 0), share: PERCENT, angle: ANGLE, ratio: numberKind('', 2) } as const;

/** What is cut into the plate at the gate. */
function PatternFields({ distribution, edits }: Props) {
  const { pattern, ...plain } = distribution;
  const kind: PatternKind = pattern === undefined ? 'none' : (pattern.kind ?? 'seeded');
  const values = (pattern ?? {}) as unknown as Readonly<Record<string, number | undefined>>;
  const commit = ({ key, kind: figureKind }: Figure, value: number | null): string | null => {
    const rest = Object.entries(pattern ?? {}).filter(([name]) => name !== key);
    const figure = value === null ? [] : [[key, figureKind === 'count' ? Math.round(value) : value] as const];
    return edits.patch({ distribution: { ...plain, pattern: Object.fromEntries([...rest, ...figure]) as Pattern } });
  };
  return (
    <>
      <PickField<PatternKind>
        label="Pattern at the gate"
        value={kind}
        wide
        choices={kind === 'shapes' ? [...CHOICES, OWN_CHOICE] : CHOICES}
        onPick={(picked) => {
          if (picked === 'none') edits.patchLoud({ distribution: plain });
          else if (picked !== 'shapes') edits.patchLoud({ distribution: { ...plain, pattern: PATTERNS[picked] } });
        }}
      />
      {kind !== 'none' &&
        FIGURES[kind].map((figure) => (
          <QuantityField
            key={`${kind} ${figure.key}`}
            label={figure.label === 'Edge width' ? 'Pattern’s edge width' : figure.label}
            value={values[figure.key] ?? null}
            kind={KINDS[figure.kind]}
            onCommit={(value) => commit(figure, value)}
            {...(figure.hint !== undefined && { hint: figure.hint })}
            {...(figure.absent !== undefined && {
              optional: { word: figure.absent, onClear: () => commit(figure, null) },
            })}
          />
        ))}
    </>
  );
}

/** Everything at a projection spot's gate. */
export function GateFields(props: Props) {
  return (
    <>
      <ShutterFields {...props} />
      <PatternFields {...props} />
    </>
  );
}
