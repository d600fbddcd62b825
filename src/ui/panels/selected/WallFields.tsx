import type { SceneDocument } from '../../../scene/schema';
import { useApp, useSession } from '../../app';
import { carryOutWall } from '../../drafting/wallActs';
import { ANGLE, lengthKind } from '../../fields/kinds';
import { PickField } from '../../fields/PickField';
import { QuantityField } from '../../fields/QuantityField';
import { SwitchField } from '../../fields/SwitchField';
import { wallPartOf } from '../../stores/session';
import { stretchOf } from '../../tools/draw/drawing';
import { cornerTo, wallTo } from '../../tools/wallMoves';
import { endsOf, SIDES, type WallPart } from '../../tools/walls';
import { lowerFirst, type Units } from '../../words/format';
import { axisWords } from './PlaceFields';

interface Props {
  readonly id: string;
  readonly document: SceneDocument;
  readonly units: Units;
}
const PARTS: readonly { readonly value: WallPart; readonly name: string }[] = [
  { value: 'whole', name: 'the wall' },
  { value: 'left', name: 'its left corner' },
  { value: 'right', name: 'its right corner' },
];

/** Corners of a wall on the plan by figures, and which of them arrow keys move. Left and right as seen from the lit side. */
export function WallFields({ id, document, units }: Props) {
  const app = useApp();
  const { session } = app;
  const part = useSession((state) => wallPartOf(state, id));
  const isJoined = useSession((state) => state.areWallsJoined);
  const surface = document.surfaces[id];
  const ends = surface && endsOf(surface);
  if (!ends) return null;
  const axes = axisWords(document);
  const length = lengthKind(units);
  const { lengthM, directionDeg } = stretchOf(ends.left, ends.right);
  const scene = (): SceneDocument => app.document.getState().history.present;
  // The corner that arrow keys move is the one that gives way.
  const fixed = part === 'left' ? 'right' : 'left';
  const set = (change: { lengthM?: number; bearingDeg?: number }): string | null => {
    if (change.lengthM !== undefined && change.lengthM <= 0) return 'A length above 0 is needed.';
    const wanted = { lengthM, bearingDeg: directionDeg, ...change };
    return carryOutWall(app, wallTo(scene(), id, fixed, wanted, isJoined));
  };
  return (
    <>
      <h3>Corners on the plan</h3>
      <PickField
        label="Arrow keys move"
        value={part}
        choices={PARTS}
        onPick={(next) => session.setState({ wallPart: { surfaceId: id, part: next } })}
      />
      <QuantityField label="Length" value={lengthM} kind={length} onCommit={(value) => set({ lengthM: value })} />
      <QuantityField
        label="Bearing"
        value={directionDeg}
        kind={ANGLE}
        hint={`the ${fixed} corner stays`}
        onCommit={(bearingDeg) => set({ bearingDeg })}
      />
      {SIDES.flatMap((side) =>
        ([0, 1] as const).map((axis) => (
          <QuantityField
            key={`${side} ${axis}`}
            label={`${side === 'left' ? 'Left' : 'Right'} corner, ${lowerFirst(axes[axis])}`}
            value={ends[side][axis]}
            kind={length}
            onCommit={(value) => {
              const to = axis === 0 ? ([value, ends[side][1]] as const) : ([ends[side][0], value] as const);
              return carryOutWall(app, cornerTo(scene(), id, side, to, isJoined));
            }}
          />
        )),
      )}
      <SwitchField isOn={isJoined} onChange={(isOn) => session.setState({ areWallsJoined: isOn })}>
        Joined walls go along
      </SwitchField>
    </>
  );
}
