import { useState } from 'react';
import { Label, Slider, SliderThumb, SliderTrack } from 'react-aria-components';
import type { Distribution } from '../../../scene/schema';
import { virtualDisc } from '../../../sim/solve/lensedSpot';
import { fixed } from '../../words/format';
import type { Edits } from './useEdits';

type Lensed = Extract<Distribution, { kind: 'lensed' }>;

/** Places of the source between lens and focus, as shares of the focal length: full flood and full spot. */
const FLOOD = 0.3;
const SPOT = 0.98;

/** Spot and flood: where the source stands behind the lens. Its typed twin is the field "Source to lens". */
export function FocusField({ distribution, edits }: { readonly distribution: Lensed; readonly edits: Edits }) {
  const { focalLengthM, lampToLensM, lensDiameterM } = distribution;
  const [held, setHeld] = useState<number | null>(null);
  const share = Math.max(0, Math.min(1, (lampToLensM / focalLengthM - FLOOD) / (SPOT - FLOOD)));
  const moved = (to: number): Lensed => ({
    ...distribution,
    lampToLensM: Number((focalLengthM * (FLOOD + to * (SPOT - FLOOD))).toFixed(4)),
  });
  const coneDeg = (360 / Math.PI) * Math.atan(lensDiameterM / 2 / virtualDisc(distribution).behindM);
  return (
    <div className="wide focus">
      <Slider
        className="slider field"
        minValue={0}
        maxValue={1}
        step={0.01}
        value={held ?? share}
        formatOptions={{ style: 'percent' }}
        onChange={(to) => {
          setHeld(to as number);
          edits.draftPatch({ distribution: moved(to as number) });
        }}
        onChangeEnd={(to) => {
          setHeld(null);
          edits.patchLoud({ distribution: moved(to as number) });
        }}
      >
        <Label className="field-label">Flood to spot</Label>
        <SliderTrack className="track">
          <span className="filled" style={{ width: `${(held ?? share) * 100}%` }} />
          <SliderThumb className="handle" aria-label="Flood to spot" />
        </SliderTrack>
      </Slider>
      <p className="quiet">
        The lens lets out a cone of {fixed(coneDeg, 1)}°, full angle. The stated output is held: meter again after a
        change.
      </p>
    </div>
  );
}
