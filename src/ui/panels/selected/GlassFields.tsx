import { paneOf, TYPICAL_PANE, type Glass } from '../../../scene/glass';
import type { Opening } from '../../../scene/schema';
import { paneTransmittance } from '../../../sim/photometry/pane';
import { numberKind, PERCENT, type QuantityKind } from '../../fields/kinds';
import { PickField } from '../../fields/PickField';
import { QuantityField } from '../../fields/QuantityField';
import type { Edits } from './useEdits';

type PanedWindow = NonNullable<Opening['window']>;
type GlassKind = 'none' | 'share' | 'pane';

const CHOICES: readonly { readonly value: GlassKind; readonly name: string }[] = [
  { value: 'none', name: 'none' },
  { value: 'share', name: 'one share at any angle' },
  { value: 'pane', name: 'by its refraction' },
];
/** A single pane of clear glass square on, rounded. */
const FIRST_SHARE = 0.9;
const SQUARE_ON = [0, 0, 1] as const;

function kindOf(glass: Glass | undefined): GlassKind {
  if (!glass) return 'none';
  if (paneOf(glass)) return 'pane';
  return glass.transmittance === undefined ? 'none' : 'share';
}

function withoutGlass({ glass: _glass, ...rest }: PanedWindow): PanedWindow {
  return rest;
}

interface Props {
  readonly window: PanedWindow;
  readonly fine: QuantityKind;
  readonly edits: Pick<Edits, 'patch' | 'patchLoud'>;
}
/** Glass of a window: none, a share that passes at any angle, or a pane by what it is made of. */
export function GlassFields({ window, fine, edits }: Props) {
  const { glass = {} } = window;
  const kind = kindOf(window.glass);
  const pane = paneOf(glass) ?? TYPICAL_PANE;
  const put = (change: Glass): string | null => edits.patch({ window: { ...window, glass: { ...pane, ...change } } });
  const pick = (picked: GlassKind): void => {
    const bare = withoutGlass(window);
    if (picked === 'none') edits.patchLoud({ window: bare });
    else
      edits.patchLoud({
        window: { ...bare, glass: picked === 'pane' ? TYPICAL_PANE : { transmittance: FIRST_SHARE } },
      });
  };
  return (
    <>
      <PickField label="Glass" value={kind} choices={CHOICES} onPick={pick} />
      {kind === 'share' && (
        <QuantityField
          label="Glass passes"
          value={glass.transmittance ?? null}
          kind={PERCENT}
          onCommit={(transmittance) => edits.patch({ window: { ...window, glass: { transmittance } } })}
        />
      )}
      {kind === 'pane' && (
        <>
          <QuantityField
            label="Refractive index"
            value={pane.refractiveIndex}
            kind={numberKind('', 2)}
            hint={`passes ${PERCENT.print(paneTransmittance(pane, SQUARE_ON, SQUARE_ON))} % square on`}
            onCommit={(refractiveIndex) => put({ refractiveIndex })}
          />
          <QuantityField
            label="Glass thickness"
            value={pane.thicknessM}
            kind={fine}
            onCommit={(thicknessM) => put({ thicknessM })}
          />
          <QuantityField
            label="Absorption"
            value={pane.absorptionPerM}
            kind={numberKind('1/m', 0)}
            hint="0 clear"
            onCommit={(absorptionPerM) => put({ absorptionPerM })}
          />
        </>
      )}
    </>
  );
}
