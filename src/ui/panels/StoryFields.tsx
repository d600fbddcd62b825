import { Button } from 'react-aria-components';
import type { Story } from '../../scene/schema';
import { panTiltFromDirection } from '../../scene/geometry/frames';
import { keyIlluminanceLx } from '../../sim/exposure/exposure';
import { formatIlluminance } from '../../scene/units/format';
import type { SunCheck } from '../../sim/results';
import { useApp, useDocument, useResults } from '../app';
import { ANGLE, illuminanceKind, lengthKind, numberKind } from '../fields/kinds';
import { PickField } from '../fields/PickField';
import { QuantityField } from '../fields/QuantityField';
import { SwitchField } from '../fields/SwitchField';
import { unitsOf } from '../words/format';

type StoryChange = (fields: Partial<Story>, clear?: readonly (keyof Story)[]) => string | null;
const NO_METER = 'none';

/** A story sun to start from: where the judged lamp's light comes from, else a low one in the south-west. */
export function firstStorySun(check: SunCheck | undefined, northDeg: number): NonNullable<Story['sun']> {
  if (!check?.drawing) return { altitudeDeg: 20, azimuthDeg: 225 };
  const { panDeg, tiltDeg } = panTiltFromDirection(check.drawing.arrival);
  const azimuthDeg = (((panDeg - northDeg) % 360) + 360) % 360;
  return { altitudeDeg: Number(tiltDeg.toFixed(1)), azimuthDeg: Number(azimuthDeg.toFixed(1)) };
}

function StorySun({ story, change }: { readonly story: Story; readonly change: StoryChange }) {
  const { actions } = useApp();
  const check = useResults((state) => state.checks[0]);
  const northDeg = useDocument((state) => state.shown.northDeg ?? 0);
  const { sun } = story;
  const toggle = (isOn: boolean): void =>
    actions.runLoud(
      isOn
        ? { type: 'patchScene', part: 'story', fields: { sun: firstStorySun(check, northDeg) } }
        : { type: 'patchScene', part: 'story', fields: {}, clear: ['sun'] },
    );
  return (
    <>
      <SwitchField isOn={sun !== undefined} onChange={toggle}>
        The story says where its sun stands
      </SwitchField>
      {sun && (
        <>
          <QuantityField
            label="Sun’s altitude"
            value={sun.altitudeDeg}
            kind={ANGLE}
            hint="up from level"
            onCommit={(altitudeDeg) => change({ sun: { ...sun, altitudeDeg } })}
          />
          <QuantityField
            label="Sun’s azimuth"
            value={sun.azimuthDeg}
            kind={ANGLE}
            hint="clockwise from true north"
            onCommit={(azimuthDeg) => change({ sun: { ...sun, azimuthDeg } })}
          />
        </>
      )}
    </>
  );
}

function StoryLevels({ story, change }: { readonly story: Story; readonly change: StoryChange }) {
  const scene = useDocument((state) => state.shown);
  const units = unitsOf(scene);
  const asked = formatIlluminance(keyIlluminanceLx(scene.camera), units.illuminance);
  const meters = Object.entries(scene.meters).map(([value, meter]) => ({ value, name: meter.name }));
  const byMeter = story.keyMeterId !== undefined && scene.meters[story.keyMeterId] !== undefined;
  return (
    <>
      <QuantityField
        label="Room without the lamp"
        value={story.ambienceLx ?? null}
        kind={illuminanceKind(units)}
        hint="ambience on the wall"
        optional={{ word: 'not given', onClear: () => change({}, ['ambienceLx']) }}
        onCommit={(ambienceLx) => change({ ambienceLx })}
      />
      <QuantityField
        label="Key level"
        value={story.keyLx ?? null}
        kind={illuminanceKind(units)}
        hint={byMeter ? 'the key meter goes first' : `if not given, ${asked}: the camera’s`}
        optional={{ word: 'not given', onClear: () => change({}, ['keyLx']) }}
        onCommit={(keyLx) => change({ keyLx })}
      />
      <PickField
        label="Key is read at"
        value={story.keyMeterId ?? NO_METER}
        choices={[{ value: NO_METER, name: 'no meter' }, ...meters]}
        onPick={(id) => (id === NO_METER ? change({}, ['keyMeterId']) : change({ keyMeterId: id }))}
      />
      <QuantityField
        label="Wanted over key"
        value={story.targetOverKeyStops ?? null}
        kind={numberKind('stops', 1)}
        optional={{ word: 'not given', onClear: () => change({}, ['targetOverKeyStops']) }}
        onCommit={(targetOverKeyStops) => change({ targetOverKeyStops })}
      />
    </>
  );
}

/** What the picture pretends: the sun that is faked, and the levels that it is held against. Shown while nothing is selected. */
export function StoryFields() {
  const { actions, session } = useApp();
  const scene = useDocument((state) => state.shown);
  const story = scene.story ?? {};
  const change: StoryChange = (fields, clear = []) => actions.run({ type: 'patchScene', part: 'story', fields, clear });
  return (
    <section className="card story" aria-labelledby="story-title" data-testid="story">
      <header>
        <h2 id="story-title">Story</h2>
        <span>what the light pretends to be</span>
      </header>
      <div className="fields">
        <StorySun story={story} change={change} />
        <StoryLevels story={story} change={change} />
        <QuantityField
          label="Window to the wall"
          value={story.edgeDistanceM ?? null}
          kind={lengthKind(unitsOf(scene))}
          hint="for edges cut in the lamp"
          optional={{ word: 'as drawn', onClear: () => change({}, ['edgeDistanceM']) }}
          onCommit={(edgeDistanceM) => change({ edgeDistanceM })}
        />
        <SwitchField
          isOn={story.haze === true}
          onChange={(haze) => actions.runLoud({ type: 'patchScene', part: 'story', fields: { haze } })}
        >
          Haze in the room
        </SwitchField>
        <Button className="button" onPress={() => session.setState({ isMakingSun: true })}>
          Make a sun here
        </Button>
      </div>
    </section>
  );
}
