import { Checkbox, CheckboxGroup, Label } from 'react-aria-components';
import { useDocument } from '../app';
import { ANGLE, lengthKind, numberKind } from '../fields/kinds';
import { PickField } from '../fields/PickField';
import { QuantityField } from '../fields/QuantityField';
import { SwitchField } from '../fields/SwitchField';
import { WordsField } from '../fields/WordsField';
import { unitsOf } from '../words/format';
import { lampsOf, sunAtHour, windowsOf, type SunWanted } from './sunWanted';

interface Props {
  readonly wanted: SunWanted;
  readonly onChange: (change: Partial<SunWanted>) => void;
}

/** Which sun: an hour of the story's day where the story has one, and where that puts the sun. */
function WhichSun({ wanted, onChange }: Props) {
  const story = useDocument((state) => state.shown.story);
  const knowsHours = sunAtHour(story, '12:00') !== null;
  const setClock = (typed: string): void => {
    const [, hours, minutes] = /^(\d{1,2})[:.h](\d{2})$/.exec(typed) ?? [];
    if (hours === undefined || minutes === undefined || Number(hours) > 23 || Number(minutes) > 59) return;
    const clock = `${hours.padStart(2, '0')}:${minutes}`;
    const sun = sunAtHour(story, clock);
    if (sun) onChange({ clock, ...sun });
  };
  const altitude = (altitudeDeg: number): string | null => {
    if (!(altitudeDeg > 0 && altitudeDeg < 90)) return 'The sun stands above 0° and below 90°.';
    onChange({ altitudeDeg, clock: null });
    return null;
  };
  return (
    <fieldset className="sun-group">
      <legend>The sun that is wanted</legend>
      <div className="fields three">
        {knowsHours && (
          <WordsField label="Hour of the story’s day" value={wanted.clock ?? 'by its place'} onCommit={setClock} />
        )}
        <QuantityField
          label="Altitude"
          value={wanted.altitudeDeg}
          kind={ANGLE}
          hint="up from level"
          onCommit={altitude}
        />
        <QuantityField
          label="Azimuth"
          value={wanted.azimuthDeg}
          kind={ANGLE}
          hint="clockwise from north"
          onCommit={(azimuthDeg) => {
            onChange({ azimuthDeg: ((azimuthDeg % 360) + 360) % 360, clock: null });
            return null;
          }}
        />
      </div>
      {wanted.altitudeDeg <= 0 && <p className="small fault-words">At that hour the sun is below the horizon.</p>}
    </fieldset>
  );
}

/** Where it lands, and how far out a lamp may stand. */
function WhereFrom({ wanted, onChange }: Props) {
  const scene = useDocument((state) => state.shown);
  const length = lengthKind(unitsOf(scene));
  const surfaces = Object.entries(scene.surfaces).map(([value, { name }]) => ({ value, name }));
  return (
    <fieldset className="sun-group">
      <legend>Where it lands, and the room for it</legend>
      <div className="fields">
        <PickField
          label="On"
          value={wanted.surfaceId}
          choices={surfaces}
          onPick={(surfaceId) => onChange({ surfaceId })}
        />
        <PickField
          label="Through"
          value={wanted.openingId}
          choices={windowsOf(scene)}
          onPick={(openingId) => onChange({ openingId })}
        />
        <QuantityField
          label="Farthest from the window"
          value={wanted.farthestM}
          kind={length}
          onCommit={(farthestM) => {
            if (!(farthestM >= 1 && farthestM <= 100)) return 'A lens stands 1 to 100 m from the window.';
            onChange({ farthestM });
            return null;
          }}
        />
        <QuantityField
          label="Highest lens"
          value={wanted.highestLensM}
          kind={length}
          hint="over the ground there"
          optional={{
            word: 'no limit',
            onClear: () => {
              onChange({ highestLensM: null });
              return null;
            },
          }}
          onCommit={(highestLensM) => {
            if (!(highestLensM > 0.3)) return 'A lens stands at least 0.3 m up.';
            onChange({ highestLensM });
            return null;
          }}
        />
      </div>
    </fieldset>
  );
}

/** For which camera, and with which lamps. */
function WithWhat({ wanted, onChange }: Props) {
  const scene = useDocument((state) => state.shown);
  const above = (key: 'iso' | 'tStop') => (value: number) => {
    if (!(value > 0)) return 'A figure above 0 is needed.';
    onChange({ [key]: value });
    return null;
  };
  return (
    <fieldset className="sun-group">
      <legend>For the camera, with the lamps at hand</legend>
      <div className="fields three">
        <QuantityField label="T-stop" value={wanted.tStop} kind={numberKind('', 1)} onCommit={above('tStop')} />
        <QuantityField label="ISO" value={wanted.iso} kind={numberKind('', 0, 100)} onCommit={above('iso')} />
        <QuantityField
          label="Sun over key"
          value={wanted.overKeyStops}
          kind={numberKind('stops', 1)}
          onCommit={(overKeyStops) => {
            onChange({ overKeyStops });
            return null;
          }}
        />
      </div>
      <CheckboxGroup className="sun-lamps" value={[...wanted.kitIds]} onChange={(kitIds) => onChange({ kitIds })}>
        <Label className="field-label">Lamps at hand</Label>
        {lampsOf(scene).map(({ value, name }) => (
          <Checkbox key={value} value={value} className="switch wide">
            <span className="box" />
            <span>{name}</span>
          </Checkbox>
        ))}
      </CheckboxGroup>
      <SwitchField isOn={wanted.nets} onChange={(nets) => onChange({ nets })}>
        Nets of the kit may be put up
      </SwitchField>
    </fieldset>
  );
}

export function SunForm(props: Props) {
  return (
    <div className="sun-form">
      <WhichSun {...props} />
      <WhereFrom {...props} />
      <WithWhat {...props} />
    </div>
  );
}
