import type { ObjectRef } from '../../../render/contract';
import type { SceneDocument } from '../../../scene/schema';
import { lengthKind } from '../../fields/kinds';
import { QuantityField } from '../../fields/QuantityField';
import { WordsField } from '../../fields/WordsField';
import type { Units } from '../../words/format';
import { axisWords } from './PlaceFields';
import { useEdits } from './useEdits';

interface Props {
  readonly thing: ObjectRef;
  readonly document: SceneDocument;
  readonly units: Units;
  readonly mark: NonNullable<SceneDocument['marks']>[string];
}
/** A mark on the ground: where it lies and what it is called. */
export function MarkFields({ thing, document, units, mark }: Props) {
  const edits = useEdits(thing);
  const [x, y, z] = mark.positionM;
  const [east, north] = axisWords(document);
  const kind = lengthKind(units);
  return (
    <>
      <QuantityField label={east} value={x} kind={kind} onCommit={(value) => edits.move([value, y, z])} />
      <QuantityField label={north} value={y} kind={kind} onCommit={(value) => edits.move([x, value, z])} />
      <QuantityField label="Height" value={z} kind={kind} onCommit={(value) => edits.move([x, y, value])} />
      <WordsField label="Name" value={mark.name} onCommit={(name) => edits.patchLoud({ name })} />
    </>
  );
}
