import { useState } from 'react';
import { Button } from 'react-aria-components';
import { formatAngle, formatLength } from '../../scene/units/format';
import { subtract, length, type Vec3 } from '../../scene/geometry/vector';
import { useApp, useDocument, useSession } from '../app';
import { PickField } from '../fields/PickField';
import { stretchOf } from '../tools/draw/drawing';
import { endAt, tiesOf } from '../tools/draw/ties';
import type { Units } from '../words/format';
import { keepDimension } from './keepDimension';

/** Straight distance, its shares along the plan and up, and its direction on the plan. */
export function distanceWords(from: Vec3, to: Vec3, units: Units): string {
  const [dx, dy, dz] = subtract(to, from);
  const { lengthM, directionDeg } = stretchOf([from[0], from[1]], [to[0], to[1]]);
  const say = (metres: number): string => formatLength(metres, units.length);
  const straight = length([dx, dy, dz]);
  const parts = [say(straight)];
  if (Math.abs(dz) > 5e-4) parts.push(`${say(lengthM)} on the plan`, `${say(Math.abs(dz))} ${dz > 0 ? 'up' : 'down'}`);
  parts.push(`towards ${formatAngle(directionDeg)}`);
  return parts.join(', ');
}

/** The tape: between two presses on the plan, or between two things that are chosen by name. What it reads can be kept. */
export function MeasureFields({ units }: { readonly units: Units }) {
  const app = useApp();
  const document = useDocument((state) => state.history.present);
  const setupId = useSession((state) => state.setupId);
  const { corners, at } = useSession((state) => state.drawing);
  const [names, setNames] = useState<{ readonly from: string; readonly to: string }>({ from: '', to: '' });
  const ties = tiesOf(document, setupId).map((tie) => ({ ...tie, value: JSON.stringify(tie.end) }));
  const choices = [{ value: '', name: 'choose' }, ...ties.map(({ value, name }) => ({ value, name }))];
  const [from, to] = [names.from, names.to].map((key) => ties.find(({ value }) => value === key));
  const end = corners[1] ?? at;
  const drawn =
    corners[0] && end ? distanceWords([...corners[0], 0], [...end, 0], units) : 'Press two places on the plan.';
  const keep = (): void => {
    const [first, second] = corners;
    if (from && to) keepDimension(app, from.end, to.end);
    else if (first && second) {
      keepDimension(app, endAt(document, setupId, first), endAt(document, setupId, second));
    }
    setNames({ from: '', to: '' });
  };
  const canKeep = (from !== undefined && to !== undefined && from !== to) || corners.length === 2;
  return (
    <>
      <PickField
        label="From"
        value={names.from}
        choices={choices}
        onPick={(key) => setNames({ ...names, from: key })}
      />
      <PickField label="To" value={names.to} choices={choices} onPick={(key) => setNames({ ...names, to: key })} />
      <p className="measured" role="status">
        {from && to ? distanceWords(from.atM, to.atM, units) : drawn}
      </p>
      <Button className="button main wide" isDisabled={!canKeep} onPress={keep}>
        Keep as a dimension
      </Button>
    </>
  );
}
