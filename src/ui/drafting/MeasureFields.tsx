import { useState } from 'react';
import type { SceneDocument } from '../../scene/schema';
import { formatAngle, formatLength } from '../../scene/units/format';
import { subtract, length, type Vec3 } from '../../scene/geometry/vector';
import { useDocument, useSession } from '../app';
import { PickField } from '../fields/PickField';
import { stretchOf } from '../tools/draw/drawing';
import { anchorOf, nameOf, refKey } from '../tools/things';
import type { Units } from '../words/format';
import { listedGroups } from '../panels/ObjectList';

interface Place {
  readonly value: string;
  readonly name: string;
  readonly atM: Vec3;
}
function placesOf(document: SceneDocument, setupId: string, units: Units): Place[] {
  const refs = listedGroups(document, setupId, units).flatMap((group) => group.things.map((thing) => thing.ref));
  return refs.flatMap((ref) => {
    const atM = anchorOf(document, setupId, ref);
    return atM ? [{ value: refKey(ref), name: nameOf(document, setupId, ref), atM }] : [];
  });
}

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

/** The tape: between two presses on the plan, or between two things that are chosen by name. */
export function MeasureFields({ units }: { readonly units: Units }) {
  const document = useDocument((state) => state.history.present);
  const setupId = useSession((state) => state.setupId);
  const { corners, at } = useSession((state) => state.drawing);
  const [names, setNames] = useState<{ readonly from: string; readonly to: string }>({ from: '', to: '' });
  const places = placesOf(document, setupId, units);
  const choices = [{ value: '', name: 'choose' }, ...places.map(({ value, name }) => ({ value, name }))];
  const [from, to] = [names.from, names.to].map((key) => places.find(({ value }) => value === key));
  const end = corners[1] ?? at;
  const drawn =
    corners[0] && end ? distanceWords([...corners[0], 0], [...end, 0], units) : 'Press two places on the plan.';
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
    </>
  );
}
