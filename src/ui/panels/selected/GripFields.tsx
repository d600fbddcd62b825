import { memo } from 'react';
import { CheckboxGroup, Checkbox, Label } from 'react-aria-components';
import type { ObjectRef } from '../../../render/contract';
import type { Material, Modifier, ModifierShape, Role, SceneDocument } from '../../../scene/schema';
import { roleOf } from '../../../sim/solve/compileScene';
import { fineLengthKind, lengthKind, numberKind, PERCENT } from '../../fields/kinds';
import { PickField } from '../../fields/PickField';
import { QuantityField } from '../../fields/QuantityField';
import { GelFields } from './GelFields';
import { SizeFields } from './SizeFields';
import { SwitchField } from '../../fields/SwitchField';
import { WordsField } from '../../fields/WordsField';
import type { Units } from '../../words/format';
import { PlaceFields } from './PlaceFields';
import { isSameButPlace } from './sameButPlace';
import { useEdits, type Edits } from './useEdits';

const MATERIALS: Readonly<Record<Material['kind'], Material>> = {
  opaque: { kind: 'opaque' },
  net: { kind: 'net', stops: 0.5 },
  wireScrim: { kind: 'wireScrim', stops: 0.5 },
  diffusion: { kind: 'diffusion', directTransmittance: 0.1, diffuseTransmittance: 0.5 },
  gel: { kind: 'gel', transmittance: 0.7 },
  bounce: { kind: 'bounce', reflectance: 0.8 },
  mirror: { kind: 'mirror', reflectance: 0.9 },
};
const MATERIAL_CHOICES = [
  { value: 'opaque', name: 'opaque (flag)' },
  { value: 'net', name: 'net' },
  { value: 'wireScrim', name: 'wire scrim' },
  { value: 'diffusion', name: 'diffusion' },
  { value: 'gel', name: 'gel' },
  { value: 'bounce', name: 'bounce' },
  { value: 'mirror', name: 'mirror' },
] as const;
const ROLE_CHOICES = [
  { value: 'set', name: 'set: throws wanted shadows' },
  { value: 'cut', name: 'cut: bounds the patch' },
  { value: 'shade', name: 'shade: dims inside it' },
  { value: 'spread', name: 'spread: another source' },
] as const;
const SHARE_WORDS: Readonly<Record<string, string>> = {
  directTransmittance: 'Passes straight',
  diffuseTransmittance: 'Passes spread',
  reflectance: 'Reflects',
};

function MaterialFields({ material, edits }: { readonly material: Material; readonly edits: Edits }) {
  const change = (next: Material): string | null => edits.patch({ material: next });
  return (
    <>
      <PickField
        label="Material"
        value={material.kind}
        choices={MATERIAL_CHOICES}
        onPick={(kind) => edits.patchLoud({ material: MATERIALS[kind] })}
      />
      {(material.kind === 'net' || material.kind === 'wireScrim') && (
        <>
          <QuantityField
            label="Takes"
            value={material.stops}
            kind={numberKind('stops', 2, 0.1)}
            onCommit={(stops) => change({ ...material, stops })}
          />
          <PickField
            label="Weave"
            value={material.weave ?? (material.kind === 'net' ? 'woven' : 'plain')}
            choices={[
              { value: 'woven', name: 'woven: denser at a slant' },
              { value: 'plain', name: 'plain: same at any angle' },
            ]}
            onPick={(weave) => edits.patchLoud({ material: { ...material, weave } })}
          />
        </>
      )}
      {Object.entries(SHARE_WORDS).map(([key, label]) => {
        const value = (material as unknown as Readonly<Record<string, unknown>>)[key];
        if (typeof value !== 'number') return null;
        return (
          <QuantityField
            key={key}
            label={label}
            value={value}
            kind={PERCENT}
            onCommit={(share) => change({ ...material, [key]: share } as Material)}
          />
        );
      })}
      {material.kind === 'gel' && <GelFields gel={material} onChange={(gel) => change(gel)} />}
    </>
  );
}

function ShapeFields({
  shape,
  units,
  edits,
}: {
  readonly shape: ModifierShape;
  readonly units: Units;
  readonly edits: Edits;
}) {
  const length = lengthKind(units);
  if (shape.kind === 'polygon') return <p className="wide quiet">Shape: {shape.outlineM.length} corners</p>;
  if (shape.kind === 'disc') {
    return (
      <QuantityField
        label="Diameter"
        value={shape.diameterM}
        kind={length}
        onCommit={(diameterM) => edits.patch({ shape: { ...shape, diameterM } })}
      />
    );
  }
  return <SizeFields shape={shape} of="cloth" units={units} onChange={(next) => edits.patch({ shape: next })} />;
}

type Side = NonNullable<NonNullable<Modifier['frame']>['openSides']>[number];
const SIDES: readonly Side[] = ['left', 'right', 'top', 'bottom'];
function FrameFields({
  modifier,
  units,
  edits,
}: {
  readonly modifier: Modifier;
  readonly units: Units;
  readonly edits: Edits;
}) {
  const { frame } = modifier;
  return (
    <>
      <SwitchField
        isOn={frame !== undefined}
        onChange={(isOn) => (isOn ? edits.patchLoud({ frame: { rodWidthM: 0.01 } }) : edits.patchLoud({}, ['frame']))}
      >
        Framed with rods
      </SwitchField>
      {frame && (
        <>
          <QuantityField
            label="Rod width"
            value={frame.rodWidthM}
            kind={fineLengthKind(units)}
            onCommit={(rodWidthM) => edits.patch({ frame: { ...frame, rodWidthM } })}
          />
          <CheckboxGroup
            className="field"
            value={frame.openSides ?? []}
            onChange={(openSides) => edits.patchLoud({ frame: { ...frame, openSides: openSides as Side[] } })}
          >
            <Label className="field-label">Open sides, seen from its face</Label>
            <span className="sides">
              {SIDES.map((side) => (
                <Checkbox key={side} value={side} className="side">
                  {side}
                </Checkbox>
              ))}
            </span>
          </CheckboxGroup>
        </>
      )}
    </>
  );
}

interface StuffProps {
  readonly thing: ObjectRef;
  readonly units: Units;
  readonly modifier: Modifier;
}
/** The fields that do not tell where the piece stands: they stand still while it is carried. */
const StuffFields = memo(function StuffFields({ thing, units, modifier }: StuffProps) {
  const edits = useEdits(thing);
  return (
    <>
      <h3>Stuff</h3>
      <MaterialFields material={modifier.material} edits={edits} />
      <ShapeFields shape={modifier.shape} units={units} edits={edits} />
      <PickField
        label="Role in the verdict"
        value={roleOf(modifier)}
        choices={ROLE_CHOICES}
        onPick={(role: Role) => edits.patchLoud({ role })}
        wide
      />
      <FrameFields modifier={modifier} units={units} edits={edits} />
      <WordsField label="Name" value={modifier.name} onCommit={(name) => edits.patchLoud({ name })} />
      <WordsField label="Notes" value={modifier.notes ?? ''} onCommit={(notes) => edits.patchLoud({ notes })} />
      <SwitchField isOn={modifier.locked === true} onChange={(locked) => edits.patchLoud({ locked })}>
        Locked in place
      </SwitchField>
    </>
  );
}, isSameButPlace);

export function GripFields({ document, ...rest }: StuffProps & { readonly document: SceneDocument }) {
  const { thing, units, modifier } = rest;
  return (
    <>
      <PlaceFields document={document} pose={modifier.pose} units={units} edits={useEdits(thing)} />
      <StuffFields {...rest} />
    </>
  );
}
