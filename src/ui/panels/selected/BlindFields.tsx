import type { Blind } from '../../../scene/geometry/blindSlats';
import type { Opening } from '../../../scene/schema';
import { ANGLE, type QuantityKind } from '../../fields/kinds';
import { QuantityField } from '../../fields/QuantityField';
import { SwitchField } from '../../fields/SwitchField';
import type { Edits } from './useEdits';

type PanedWindow = NonNullable<Opening['window']>;

/** Slats as they are sold for rooms: common practice, no source. */
const FIRST_BLIND: Blind = { pitchM: 0.045, slatWidthM: 0.05, tiltDeg: 30 };

function withoutBlind({ blind: _blind, ...rest }: PanedWindow): PanedWindow {
  return rest;
}

function withoutDepth({ depthM: _depth, ...rest }: Blind): Blind {
  return rest;
}

interface Props {
  readonly window: PanedWindow;
  readonly fine: QuantityKind;
  readonly edits: Pick<Edits, 'patch' | 'patchLoud'>;
}
/** A slatted blind on a window: pitch, width, tilt and depth of its slats. */
export function BlindFields({ window, fine, edits }: Props) {
  const { blind } = window;
  const put = (change: Partial<Blind>): string | null =>
    edits.patch({ window: { ...window, blind: { ...FIRST_BLIND, ...blind, ...change } } });
  return (
    <>
      <SwitchField
        isOn={blind !== undefined}
        onChange={(isOn) =>
          edits.patchLoud({ window: isOn ? { ...window, blind: FIRST_BLIND } : withoutBlind(window) })
        }
      >
        Slatted blind
      </SwitchField>
      {blind && (
        <>
          <QuantityField label="Slat pitch" value={blind.pitchM} kind={fine} onCommit={(pitchM) => put({ pitchM })} />
          <QuantityField
            label="Slat width"
            value={blind.slatWidthM}
            kind={fine}
            onCommit={(slatWidthM) => put({ slatWidthM })}
          />
          <QuantityField
            label="Slat tilt"
            value={blind.tiltDeg}
            kind={ANGLE}
            hint="outer edges up; 0 level"
            onCommit={(tiltDeg) => put({ tiltDeg })}
          />
          <QuantityField
            label="Blind depth"
            value={blind.depthM ?? null}
            kind={fine}
            hint="behind the lit face; minus: in the room"
            optional={{
              word: 'half a slat',
              onClear: () => edits.patch({ window: { ...window, blind: withoutDepth(blind) } }),
            }}
            onCommit={(depthM) => put({ depthM })}
          />
        </>
      )}
    </>
  );
}
