import { memo } from 'react';
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
import { isSameButPlace } from './sameButPlace';
import { EmitterFields } from './EmitterFields';
import { ColourFields, DistributionFields, OutputFields } from './LightFields';
import { PlaceFields } from './PlaceFields';
import { ScrimFields } from './ScrimFields';
import { SpreadFields } from './SpreadFields';
import { useEdits } from './useEdits';
import { WebFields } from './WebFields';

interface Props {
  readonly thing: ObjectRef;
  readonly document: SceneDocument;
  readonly units: Units;
  readonly source: Source;
}

/** Whether this source is the one that is judged as the sun on the wall that the elevation shows. */
const PlaysSun = memo(function PlaysSun({
  thing,
  story,
  surfaces,
}: Pick<Props, 'thing'> & Pick<SceneDocument, 'story' | 'surfaces'>) {
  const { actions } = useApp();
  const surfaceId = elevationSurfaceId({ story, surfaces }, { surfaceId: useSession((state) => state.surfaceId) });
  if (surfaceId === null) return null;
  const playsSun = story?.playsSun ?? [];
  const isThis = (entry: { sourceId: string; surfaceId: string }): boolean =>
    entry.sourceId === thing.id && entry.surfaceId === surfaceId;
  const change = (isOn: boolean): void => {
    const others = playsSun.filter((entry) => !isThis(entry));
    const next = isOn ? [...others, { sourceId: thing.id, surfaceId }] : others;
    actions.runLoud({ type: 'patchScene', part: 'story', fields: { playsSun: next } });
  };
  return (
    <SwitchField isOn={playsSun.some(isThis)} onChange={change}>
      Plays the sun on {surfaces[surfaceId]?.name ?? surfaceId}
    </SwitchField>
  );
});

interface LevelProps {
  readonly thing: ObjectRef;
  readonly level: number;
  readonly isOn: boolean;
}
const OnAndLevel = memo(function OnAndLevel({ thing, level, isOn }: LevelProps) {
  const edits = useEdits(thing);
  return (
    <>
      <LevelField
        value={level}
        onDraft={(next) => edits.draftPatch({ level: next })}
        onCommit={(next) => edits.patch({ level: next })}
      />
      <SwitchField isOn={isOn} onChange={(next) => edits.patchLoud({ off: !next })}>
        On
      </SwitchField>
    </>
  );
});

/** Level and sun of a lamp or a sun: fields that do not tell of its place either. */
function CommonFields({ thing, document, source }: Pick<Props, 'thing' | 'document' | 'source'>) {
  return (
    <>
      <OnAndLevel thing={thing} level={source.level ?? 1} isOn={source.off !== true} />
      <PlaysSun thing={thing} story={document.story} surfaces={document.surfaces} />
    </>
  );
}

interface LightProps {
  readonly thing: ObjectRef;
  readonly lamp: Lamp;
  readonly webs: SceneDocument['webs'];
  readonly units: Units;
}
/** The many fields that do not tell where the lamp stands: they stand still while it is carried. */
const LightFields = memo(function LightFields({ thing, lamp, webs, units }: LightProps) {
  const edits = useEdits(thing);
  const { actions } = useApp();
  const pickFile = (): void => actions.pickPhotometricFile(thing);
  return (
    <>
      <h3>Light</h3>
      <OutputFields lamp={lamp} units={units} edits={edits} />
      <DistributionFields lamp={lamp} units={units} edits={edits} onFile={pickFile} />
      <WebFields lamp={lamp} webs={webs} onFile={pickFile} />
      {lamp.distribution.kind !== 'web' && <SpreadFields lamp={lamp} webs={webs} />}
      <EmitterFields lamp={lamp} units={units} edits={edits} />
      <ColourFields colour={lamp.colour} edits={edits} />
      <ScrimFields lamp={lamp} webs={webs} units={units} edits={edits} />
      <h3>Number and notes</h3>
      <WordsField label="Unit number" value={lamp.name} onCommit={(name) => edits.patchLoud({ name })} />
      <WordsField label="Kind of lamp" value={lamp.unit ?? ''} onCommit={(unit) => edits.patchLoud({ unit })} />
      <WordsField label="Notes" value={lamp.notes ?? ''} onCommit={(notes) => edits.patchLoud({ notes })} />
      <SwitchField isOn={lamp.locked === true} onChange={(locked) => edits.patchLoud({ locked })}>
        Locked in place
      </SwitchField>
    </>
  );
}, isSameButPlace);

function LampFields({ thing, document, units, lamp }: Omit<Props, 'source'> & { readonly lamp: Lamp }) {
  const edits = useEdits(thing);
  return (
    <>
      <PlaceFields document={document} pose={lamp.pose} units={units} edits={edits} heightLabel="Trim height" />
      <CommonFields thing={thing} document={document} source={lamp} />
      <LightFields thing={thing} lamp={lamp} webs={document.webs} units={units} />
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
      <CommonFields thing={thing} document={document} source={sun} />
      <ColourFields colour={sun.colour} edits={edits} />
      <WordsField label="Name" value={sun.name} onCommit={(name) => edits.patchLoud({ name })} />
    </>
  );
}

export function SourceFields({ source, ...rest }: Props) {
  return source.type === 'lamp' ? <LampFields {...rest} lamp={source} /> : <SunFields {...rest} sun={source} />;
}
