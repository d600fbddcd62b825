import { Label, Slider, SliderThumb, SliderTrack } from 'react-aria-components';
import { PERCENT } from './kinds';
import { QuantityField } from './QuantityField';

interface Props {
  readonly value: number;
  /** While the handle is held. */
  readonly onDraft: (level: number) => void;
  readonly onCommit: (level: number) => string | null;
}

/** The dimmer: a slider and its field, always together. Linear in light, 0 to 100 %. */
export function LevelField({ value, onDraft, onCommit }: Props) {
  return (
    <div className="level wide">
      <Slider
        className="slider field"
        minValue={0}
        maxValue={1}
        step={0.01}
        value={value}
        formatOptions={{ style: 'percent' }}
        onChange={(level) => onDraft(level as number)}
        onChangeEnd={(level) => void onCommit(level as number)}
      >
        <Label className="field-label">Level, linear in light</Label>
        <SliderTrack className="track">
          <span className="filled" style={{ width: `${value * 100}%` }} />
          <SliderThumb className="handle" aria-label="Level" />
        </SliderTrack>
      </Slider>
      <QuantityField label="Level" value={value} kind={PERCENT} onCommit={onCommit} />
    </div>
  );
}
