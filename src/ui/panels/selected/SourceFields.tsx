import { Button } from 'react-aria-components';
import type { ObjectRef } from '../../../render/contract';
import type { Lamp, SceneDocument, Source, Sun } from '../../../scene/schema';
import { useApp, useSession } from '../../app';
import { ANGLE, illuminanceKind, numberKind } from '../../fields/kinds';
import { LevelField } from '../../fields/LevelField';
import { QuantityField } from '../../fields/QuantityField';
import { SwitchField } from '../../fields/SwitchField';
import { WordsField } from '../../fields/WordsField';
import { elevationSurfaceId } from '../../stores/shownPlaces';
import type { Units } from '../../words/format';
import { ColourFields, DistributionFields, EmitterFields, OutputFields } from './LightFields';
import { PlaceFields } from './PlaceFields';
import { useEdits, type Edits } from './useEdits';

interface Props {
  readonly thing: ObjectRef;
  readonly document: SceneDocument;
  readonly units: Units;
  readonly source: Source;
}

/** Whether this source is the one that is judged as the sun on the wall that the elevation shows. */
function PlaysSun({ thing, document }: Pick<Props, 'thing' | 'document'>) {
  const { actions } = useApp();
  const surfaceId = elevationSurfaceId(document, { surfaceId: useSession((state) => state.surfaceId) });
  if (surfaceId === null) return null;
  const playsSun = document.story?.playsSun ?? [];
  const isThis = (entry: { sourceId: string; surfaceId: string }): boolean =>
    entry.sourceId === thing.id && entry.surfaceId === surfaceId;
  const change = (isOn: boolean): void => {
    const others = playsSun.filter((entry) => !isThis(entry));
    const next = isOn ? [...others, { sourceId: thing.id, surfaceId }] : others;
    actions.runLoud({ type: 'patchScene', part: 'story', fields: { playsSun: next } });
  };
  return (
    <SwitchField isOn={playsSun.some(isThis)} onChange={change}>
      Plays the sun on {document.surfaces[surfaceId]?.name ?? surfaceId}
    </SwitchField>
  );
}

function OnAndLevel({ source, edits }: { readonly source: Source; readonly edits: Edits }) {
  return (
    <>
      <LevelField
        value={source.level ?? 1}
        onDraft={(level) => edits.draftPatch({ level })}
        onCommit={(level) => edits.patch({ level })}
      />
      <SwitchField isOn={source.off !== true} onChange={(isOn) => edits.patchLoud({ off: !isOn })}>
        On
      </SwitchField>
    </>
  );
}

const SCRIM_STOPS = 0.5;
/** Wire scrims in the lamp's slot; other accessories are told in words. */
function AccessoryFields({ lamp, edits }: { readonly lamp: Lamp; readonly edits: Edits }) {
  const accessories = lamp.accessories ?? [];
  const replace = (index: number, next: (typeof accessories)[number] | null): string | null => {
    const changed = accessories.flatMap((accessory, position) =>
      position === index ? (next ? [next] : []) : [accessory],
    );
    return edits.patch({ accessories: changed });
  };
  const words = { barnDoors: 'Barn doors', snoot: 'Snoot', eggCrate: 'Egg crate', gel: 'Gel' } as const;
  return (
    <>
      <h3>In the lamp</h3>
      {accessories.map((accessory, index) =>
        accessory.kind === 'wireScrim' ? (
          <div key={index} className="wide fields">
            <QuantityField
              label={accessory.half ? 'Half scrim takes' : 'Scrim takes'}
              value={accessory.stops}
              kind={numberKind('stops', 2, 0.1)}
              onCommit={(stops) => replace(index, { ...accessory, stops })}
            />
            {accessory.half ? (
              <QuantityField
                label="Covered side, by the clock"
                value={accessory.half.clockDeg}
                kind={ANGLE}
                onCommit={(clockDeg) => replace(index, { ...accessory, half: { clockDeg } })}
              />
            ) : (
              <span />
            )}
            <Button className="button" onPress={() => replace(index, null)}>
              Take scrim out
            </Button>
          </div>
        ) : (
          <p key={index} className="wide">
            {words[accessory.kind]}
          </p>
        ),
      )}
      <div className="wide buttons">
        <Button
          className="button"
          onPress={() => edits.patchLoud({ accessories: [...accessories, { kind: 'wireScrim', stops: SCRIM_STOPS }] })}
        >
          Put scrim in
        </Button>
        <Button
          className="button"
          onPress={() =>
            edits.patchLoud({
              accessories: [...accessories, { kind: 'wireScrim', stops: SCRIM_STOPS, half: { clockDeg: 0 } }],
            })
          }
        >
          Put half scrim in
        </Button>
      </div>
    </>
  );
}

function LampFields({ thing, document, units, lamp }: Omit<Props, 'source'> & { readonly lamp: Lamp }) {
  const edits = useEdits(thing);
  return (
    <>
      <PlaceFields document={document} pose={lamp.pose} units={units} edits={edits} heightLabel="Trim height" />
      <OnAndLevel source={lamp} edits={edits} />
      <PlaysSun thing={thing} document={document} />
      <h3>Light</h3>
      <OutputFields lamp={lamp} units={units} edits={edits} />
      <DistributionFields lamp={lamp} units={units} edits={edits} />
      <EmitterFields lamp={lamp} units={units} edits={edits} />
      <ColourFields colour={lamp.colour} edits={edits} />
      <AccessoryFields lamp={lamp} edits={edits} />
      <h3>Name and notes</h3>
      <WordsField label="Name" value={lamp.name} onCommit={(name) => edits.patchLoud({ name })} />
      <WordsField label="Unit" value={lamp.unit ?? ''} onCommit={(unit) => edits.patchLoud({ unit })} />
      <WordsField label="Notes" value={lamp.notes ?? ''} onCommit={(notes) => edits.patchLoud({ notes })} />
      <SwitchField isOn={lamp.locked === true} onChange={(locked) => edits.patchLoud({ locked })}>
        Locked in place
      </SwitchField>
    </>
  );
}

const SUN_WIDTH_DEG = 0.533;
function SunFields({ thing, document, units, sun }: Omit<Props, 'source'> & { readonly sun: Sun }) {
  const edits = useEdits(thing);
  return (
    <>
      <QuantityField
        label="Altitude"
        value={sun.altitudeDeg}
        kind={ANGLE}
        onCommit={(altitudeDeg) => edits.patch({ altitudeDeg })}
      />
      <QuantityField
        label="Azimuth"
        value={sun.azimuthDeg}
        kind={ANGLE}
        hint="clockwise from true north"
        onCommit={(azimuthDeg) => edits.patch({ azimuthDeg })}
      />
      <QuantityField
        label="Level, square to it"
        value={sun.normalIlluminanceLx}
        kind={illuminanceKind(units)}
        onCommit={(normalIlluminanceLx) => edits.patch({ normalIlluminanceLx })}
      />
      <QuantityField
        label="Width of the disc"
        value={sun.angularDiameterDeg ?? SUN_WIDTH_DEG}
        kind={numberKind('°', 3)}
        onCommit={(angularDiameterDeg) => edits.patch({ angularDiameterDeg })}
      />
      <OnAndLevel source={sun} edits={edits} />
      <PlaysSun thing={thing} document={document} />
      <ColourFields colour={sun.colour} edits={edits} />
      <WordsField label="Name" value={sun.name} onCommit={(name) => edits.patchLoud({ name })} />
    </>
  );
}

export function SourceFields({ source, ...rest }: Props) {
  return source.type === 'lamp' ? <LampFields {...rest} lamp={source} /> : <SunFields {...rest} sun={source} />;
}
