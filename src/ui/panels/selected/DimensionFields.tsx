import type { ObjectRef } from '../../../render/contract';
import { isTied, measured } from '../../../scene/dimensions';
import type { SceneDocument } from '../../../scene/schema';
import { DIMENSION_OFFSET_M, type Dimension, type DimensionEnd } from '../../../scene/schemaPlan';
import { formatLength } from '../../../scene/units/format';
import { useSession } from '../../app';
import { lengthKind } from '../../fields/kinds';
import { QuantityField } from '../../fields/QuantityField';
import { SwitchField } from '../../fields/SwitchField';
import { WordsField } from '../../fields/WordsField';
import { nameOf } from '../../tools/things';
import type { Units } from '../../words/format';
import { useEdits } from './useEdits';

interface Props {
  readonly thing: ObjectRef;
  readonly document: SceneDocument;
  readonly units: Units;
  readonly dimension: Dimension;
}

function endWords(document: SceneDocument, setupId: string, end: DimensionEnd, units: Units): string {
  if (!isTied(end)) {
    const [x, y] = end.atM;
    return `the point at ${formatLength(x, units.length)}, ${formatLength(y, units.length)}`;
  }
  const { kind, id, surfaceId, side } = end;
  const name = nameOf(document, setupId, { kind, id, ...(surfaceId !== undefined && { surfaceId }) });
  return side === undefined ? name : `${name}, ${side} ${kind === 'opening' ? 'jamb' : 'corner'}`;
}

/** A dimension that stays: what it measures, and how far its line stands off. */
export function DimensionFields({ thing, document, units, dimension }: Props) {
  const edits = useEdits(thing);
  const setupId = useSession((state) => state.setupId);
  const found = measured(document, setupId, dimension);
  return (
    <>
      <p className="wide">
        {found ? <b>{formatLength(found.lengthM, units.length)}</b> : 'Not in this setup'}
        {' on the plan'}
      </p>
      <p className="wide quiet">
        From {endWords(document, setupId, dimension.from, units)} to {endWords(document, setupId, dimension.to, units)}
      </p>
      <QuantityField
        label="Line stands off"
        value={dimension.offsetM ?? DIMENSION_OFFSET_M}
        kind={lengthKind(units)}
        hint="minus: other side"
        onCommit={(offsetM) => edits.patch({ offsetM })}
      />
      <WordsField label="Name" value={dimension.name} onCommit={(name) => edits.patchLoud({ name })} />
      <SwitchField
        isOn={dimension.hidden !== true}
        onChange={(isShown) => (isShown ? edits.patchLoud({}, ['hidden']) : edits.patchLoud({ hidden: true }))}
      >
        Shown on the plan
      </SwitchField>
    </>
  );
}
