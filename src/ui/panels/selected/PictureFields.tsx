import { Button } from 'react-aria-components';
import type { ObjectRef } from '../../../render/contract';
import type { SceneDocument } from '../../../scene/schema';
import { PICTURE_OPACITY, type PlanPicture } from '../../../scene/schemaPlan';
import { useApp } from '../../app';
import { startDraw } from '../../drafting/drafting';
import { ANGLE, lengthKind, numberKind, PERCENT } from '../../fields/kinds';
import { QuantityField } from '../../fields/QuantityField';
import { SwitchField } from '../../fields/SwitchField';
import { WordsField } from '../../fields/WordsField';
import type { Units } from '../../words/format';
import { axisWords } from './PlaceFields';
import { useEdits } from './useEdits';

interface Props {
  readonly thing: ObjectRef;
  readonly document: SceneDocument;
  readonly units: Units;
  readonly picture: PlanPicture;
}
/** A picture under the plan: place, turn and scale to the digit, how strongly it shows, whether it shows at all. */
export function PictureFields({ thing, document, units, picture }: Props) {
  const app = useApp();
  const edits = useEdits(thing);
  const [east, north] = axisWords(document);
  const length = lengthKind(units);
  const { metresPerPixel, widthPx, heightPx, positionM, turnDeg, opacity, locked, hidden } = picture;
  const [x, y, z] = positionM;
  const scaleTo = (next: number): string | null =>
    next > 0 ? edits.patch({ metresPerPixel: Number(next.toPrecision(9)) }) : 'A scale above 0 is needed.';
  return (
    <>
      <p className="wide quiet">
        {widthPx} x {heightPx} px; place of its middle
      </p>
      <QuantityField label={east} value={x} kind={length} onCommit={(value) => edits.move([value, y, z])} />
      <QuantityField label={north} value={y} kind={length} onCommit={(value) => edits.move([x, value, z])} />
      <QuantityField
        label="Turn"
        value={turnDeg ?? 0}
        kind={ANGLE}
        hint="clockwise"
        onCommit={(value) => edits.patch({ turnDeg: value })}
      />
      <QuantityField
        label="Metres per pixel"
        value={metresPerPixel}
        kind={numberKind('', 5, 0.0001)}
        onCommit={scaleTo}
      />
      <QuantityField
        label="Wide on the plan"
        value={widthPx * metresPerPixel}
        kind={length}
        onCommit={(metres) => scaleTo(metres / widthPx)}
      />
      <QuantityField
        label="Opacity"
        value={opacity ?? PICTURE_OPACITY}
        kind={PERCENT}
        onCommit={(value) => edits.patch({ opacity: value })}
      />
      <WordsField label="Name" value={picture.name} onCommit={(name) => edits.patchLoud({ name })} />
      <SwitchField
        isOn={hidden !== true}
        onChange={(isShown) => (isShown ? edits.patchLoud({}, ['hidden']) : edits.patchLoud({ hidden: true }))}
      >
        Shown on the plan
      </SwitchField>
      <SwitchField
        isOn={picture.keepsColours === true}
        onChange={(isOn) => (isOn ? edits.patchLoud({ keepsColours: true }) : edits.patchLoud({}, ['keepsColours']))}
      >
        Own colours on a dark screen
      </SwitchField>
      <SwitchField
        isOn={locked === true}
        onChange={(isOn) => (isOn ? edits.patchLoud({ locked: true }) : edits.patchLoud({}, ['locked']))}
      >
        Locked in place
      </SwitchField>
      <Button className="button wide" onPress={() => startDraw(app, 'scale')}>
        Scale by two points
      </Button>
    </>
  );
}
