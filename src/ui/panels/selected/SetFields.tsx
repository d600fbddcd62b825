import type { ObjectRef } from '../../../render/contract';
import type { Meter, Opening, SceneDocument, Surface } from '../../../scene/schema';
import { useApp } from '../../app';
import { placeWall, turnWall } from '../../drafting/wallActs';
import { fineLengthKind, illuminanceKind, lengthKind, numberKind, PERCENT } from '../../fields/kinds';
import { PickField } from '../../fields/PickField';
import { QuantityField } from '../../fields/QuantityField';
import { SizeFields } from './SizeFields';
import { SwitchField } from '../../fields/SwitchField';
import { WordsField } from '../../fields/WordsField';
import type { Units } from '../../words/format';
import { BlindFields } from './BlindFields';
import { GlassFields } from './GlassFields';
import { PlaceFields } from './PlaceFields';
import { useEdits } from './useEdits';
import { endsOf } from '../../tools/walls';
import { WallFields } from './WallFields';

interface Common {
  readonly thing: ObjectRef;
  readonly document: SceneDocument;
  readonly units: Units;
}

export function SurfaceFields({ thing, document, units, surface }: Common & { readonly surface: Surface }) {
  const app = useApp();
  const edits = useEdits(thing);
  const { shape } = surface;
  return (
    <>
      <p className="wide quiet">Place of its lower left corner, seen from the lit side</p>
      <PlaceFields
        document={document}
        pose={surface.pose}
        units={units}
        edits={{
          move: (positionM) => placeWall(app, thing.id, positionM, edits.move),
          aim: (aim) => turnWall(app, thing.id, aim, edits.aim),
        }}
        canTarget={false}
      />
      <WallFields id={thing.id} document={document} units={units} />
      <h3>Size and finish</h3>
      {shape.kind === 'rectangle' && (
        <SizeFields
          shape={shape}
          of="wall"
          units={units}
          hasWidth={endsOf(surface) === null}
          onChange={(next) => edits.patch({ shape: next })}
        />
      )}
      <QuantityField
        label="Thickness"
        value={surface.thicknessM ?? null}
        kind={fineLengthKind(units)}
        optional={{ word: 'none', onClear: () => edits.patch({}, ['thicknessM']) }}
        onCommit={(thicknessM) => edits.patch({ thicknessM })}
      />
      <QuantityField
        label="Reflectance"
        value={surface.reflectance ?? null}
        kind={PERCENT}
        optional={{ word: 'not given', onClear: () => edits.patch({}, ['reflectance']) }}
        onCommit={(reflectance) => edits.patch({ reflectance })}
      />
      <WordsField label="Name" value={surface.name} onCommit={(name) => edits.patchLoud({ name })} />
      <WordsField label="Finish" value={surface.finish ?? ''} onCommit={(finish) => edits.patchLoud({ finish })} />
      <SwitchField isOn={surface.locked === true} onChange={(locked) => edits.patchLoud({ locked })}>
        Locked, windows too
      </SwitchField>
    </>
  );
}

type PanedWindow = NonNullable<Opening['window']>;
function withoutFrame({ frameWidthM: _frame, ...rest }: PanedWindow): PanedWindow {
  return rest;
}
export function OpeningFields({ thing, units, opening }: Common & { readonly opening: Opening }) {
  const edits = useEdits(thing);
  const length = lengthKind(units);
  const fine = fineLengthKind(units);
  const { shape, window } = opening;
  return (
    <>
      <QuantityField
        label="Left edge"
        value={opening.leftM}
        kind={length}
        hint="seen from the lit side"
        onCommit={(leftM) => edits.patch({ leftM })}
      />
      <QuantityField label="Sill" value={opening.sillM} kind={length} onCommit={(sillM) => edits.patch({ sillM })} />
      {shape.kind === 'rectangle' && (
        <SizeFields shape={shape} of="opening" units={units} onChange={(next) => edits.patch({ shape: next })} />
      )}
      <SwitchField
        isOn={window !== undefined}
        onChange={(isOn) =>
          isOn ? edits.patchLoud({ window: { columns: 2, rows: 3, barWidthM: 0.03 } }) : edits.patchLoud({}, ['window'])
        }
      >
        Window with panes
      </SwitchField>
      {window && (
        <>
          <QuantityField
            label="Panes across"
            value={window.columns}
            kind={numberKind('', 0)}
            onCommit={(columns) => edits.patch({ window: { ...window, columns } })}
          />
          <QuantityField
            label="Panes up"
            value={window.rows}
            kind={numberKind('', 0)}
            onCommit={(rows) => edits.patch({ window: { ...window, rows } })}
          />
          <QuantityField
            label="Bar width"
            value={window.barWidthM}
            kind={fine}
            onCommit={(barWidthM) => edits.patch({ window: { ...window, barWidthM } })}
          />
          <QuantityField
            label="Frame width"
            value={window.frameWidthM ?? null}
            kind={fine}
            optional={{ word: 'no frame', onClear: () => edits.patch({ window: withoutFrame(window) }) }}
            onCommit={(frameWidthM) => edits.patch({ window: { ...window, frameWidthM } })}
          />
          <GlassFields window={window} fine={fine} edits={edits} />
          <BlindFields window={window} fine={fine} edits={edits} />
        </>
      )}
      <WordsField label="Name" value={opening.name ?? ''} onCommit={(name) => edits.patchLoud({ name })} />
    </>
  );
}

export function MeterFields({ thing, document, units, meter }: Common & { readonly meter: Meter }) {
  const edits = useEdits(thing);
  return (
    <>
      <PlaceFields
        document={document}
        pose={{ positionM: meter.positionM, aim: meter.aim }}
        units={units}
        edits={edits}
      />
      <PickField
        label="Receptor"
        value={meter.receptor}
        choices={[
          { value: 'flat', name: 'flat disc' },
          { value: 'dome', name: 'dome' },
        ]}
        onPick={(receptor) => edits.patchLoud({ receptor })}
      />
      <QuantityField
        label="The crew read"
        value={meter.reading?.illuminanceLx ?? null}
        kind={illuminanceKind(units)}
        hint="on the real set"
        optional={{ word: 'not yet', onClear: () => edits.patch({}, ['reading']) }}
        onCommit={(illuminanceLx) => edits.patch({ reading: { ...meter.reading, illuminanceLx } })}
      />
      <WordsField label="Name" value={meter.name} onCommit={(name) => edits.patchLoud({ name })} />
      <SwitchField isOn={meter.locked === true} onChange={(locked) => edits.patchLoud({ locked })}>
        Locked in place
      </SwitchField>
    </>
  );
}
