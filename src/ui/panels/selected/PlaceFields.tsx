import type { Aim, Pose, SceneDocument } from '../../../scene/schema';
import { panTiltFromAim } from '../../../scene/geometry/frames';
import { ANGLE, lengthKind } from '../../fields/kinds';
import { PickField } from '../../fields/PickField';
import { QuantityField } from '../../fields/QuantityField';
import { aimPointOf, tuple } from '../../tools/things';
import { lowerFirst, type Units } from '../../words/format';
import type { Edits } from './useEdits';

/** Axes of the plan in words: east and north where north is up on the plan, else x and y. */
export const axisWords = (document: SceneDocument): readonly [string, string] =>
  (document.northDeg ?? 0) === 0 ? ['East', 'North'] : ['x, right on plan', 'y, up on plan'];

interface Props {
  readonly document: SceneDocument;
  readonly pose: Pose;
  readonly units: Units;
  readonly edits: Pick<Edits, 'move' | 'aim'>;
  /** Walls keep their aim as angles; lamps and grip may look at a point. */
  readonly canTarget?: boolean;
  readonly heightLabel?: string;
}

/** Where a thing stands and where it looks, to the digit. */
export function PlaceFields({ document, pose, units, edits, canTarget = true, heightLabel = 'Height' }: Props) {
  const length = lengthKind(units);
  const [east, north] = axisWords(document);
  const labels = [east, north, heightLabel];
  const replaced = (values: readonly [number, number, number], axis: number, value: number): [number, number, number] =>
    values.map((old, index) => (index === axis ? value : old)) as [number, number, number];
  const { aim } = pose;
  const angles = panTiltFromAim(aim, pose.positionM);
  const roll = aim.rollDeg === undefined ? {} : { rollDeg: aim.rollDeg };
  const withAngles = (change: Partial<{ panDeg: number; tiltDeg: number; rollDeg: number }>): string | null => {
    const next = { panDeg: angles.panDeg, tiltDeg: angles.tiltDeg, ...roll, ...change };
    return edits.aim(next);
  };
  const switchForm = (form: 'point' | 'angles'): void => {
    const target: Aim = { atM: tuple(aimPointOf(document, pose)), ...roll };
    const turned: Aim = {
      panDeg: Number(angles.panDeg.toFixed(3)),
      tiltDeg: Number(angles.tiltDeg.toFixed(3)),
      ...roll,
    };
    edits.aim(form === 'point' ? target : turned);
  };
  return (
    <>
      {labels.map((label, axis) => (
        <QuantityField
          key={label}
          label={label}
          value={pose.positionM[axis] ?? 0}
          kind={length}
          onCommit={(value) => edits.move(replaced(pose.positionM, axis, value))}
        />
      ))}
      {canTarget && (
        <PickField
          label="Aim by"
          value={'atM' in aim ? 'point' : 'angles'}
          choices={[
            { value: 'point', name: 'a point' },
            { value: 'angles', name: 'pan and tilt' },
          ]}
          onPick={switchForm}
        />
      )}
      {'atM' in aim ? (
        [`Aim ${lowerFirst(east)}`, `Aim ${lowerFirst(north)}`, 'Aim height'].map((label, axis) => (
          <QuantityField
            key={label}
            label={label}
            value={aim.atM[axis] ?? 0}
            kind={length}
            onCommit={(value) => edits.aim({ ...aim, atM: replaced(aim.atM, axis, value) })}
          />
        ))
      ) : (
        <>
          <QuantityField label="Pan" value={aim.panDeg} kind={ANGLE} onCommit={(panDeg) => withAngles({ panDeg })} />
          <QuantityField
            label="Tilt"
            value={aim.tiltDeg}
            kind={ANGLE}
            onCommit={(tiltDeg) => withAngles({ tiltDeg })}
          />
        </>
      )}
      <QuantityField
        label="Roll"
        value={aim.rollDeg ?? 0}
        kind={ANGLE}
        onCommit={(rollDeg) => edits.aim({ ...aim, rollDeg })}
      />
    </>
  );
}
