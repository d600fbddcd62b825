import { Button } from 'react-aria-components';
import { frameFromPose, localFromWorld } from '../../scene/geometry/frames';
import type { SceneDocument } from '../../scene/schema';
import {
  DARK_SIDES,
  type DarkSide,
  type FlagRequest,
  type GripRequest,
  type HalfScrimRequest,
  type MirrorRequest,
  type NetsRequest,
} from '../../sim/grip/gripRequest';
import { boundingBox } from '../../sim/worker/bands';
import { useSession } from '../app';
import { ANGLE, lengthKind, PERCENT } from '../fields/kinds';
import { PickField } from '../fields/PickField';
import { QuantityField } from '../fields/QuantityField';
import type { ReadingPlace } from '../stores/session';
import { unitsOf } from '../words/format';

export interface FormProps<R extends GripRequest> {
  readonly document: SceneDocument;
  readonly request: R;
  readonly change: (request: R) => void;
}

const GRADE_CHOICES = [
  { value: '0.5', name: 'single, 1/2 stop' },
  { value: '1', name: 'double, 1 stop' },
] as const;
const surfaceChoices = (document: SceneDocument) =>
  Object.entries(document.surfaces).map(([value, { name }]) => ({ value, name }));

function OnSurface<R extends NetsRequest | MirrorRequest | HalfScrimRequest>({
  document,
  request,
  change,
}: FormProps<R>) {
  return (
    <PickField
      label="Levels the light on"
      value={request.surfaceId}
      choices={surfaceChoices(document)}
      onPick={(surfaceId) => change({ ...request, surfaceId })}
      wide
    />
  );
}

/** Covers that a further net starts from: evenly staggered in. */
const spread = (count: number): number[] =>
  Array.from({ length: count }, (_, i) => Number(((count - i) / (count + 1)).toFixed(2)));

export function NetsForm({ document, request, change }: FormProps<NetsRequest>) {
  const length = lengthKind(unitsOf(document));
  const setNet = (index: number, fields: Partial<NetsRequest['nets'][number]>): void =>
    change({ ...request, nets: request.nets.map((net, i) => (i === index ? { ...net, ...fields } : net)) });
  const setCount = (count: number): void => {
    const last = request.nets.at(-1) ?? { stops: 1, coverShare: 0 };
    change({
      ...request,
      nets: spread(count).map((coverShare, i) => ({ ...(request.nets[i] ?? last), coverShare })),
    });
  };
  return (
    <>
      <OnSurface document={document} request={request} change={change} />
      <PickField
        label="Nets on the stand"
        value={String(request.nets.length)}
        choices={[
          { value: '1', name: 'one' },
          { value: '2', name: 'two' },
          { value: '3', name: 'three' },
        ]}
        onPick={(count) => setCount(Number(count))}
      />
      <QuantityField
        label="First net from the lens"
        value={request.distanceM}
        kind={length}
        onCommit={(distanceM) => (change({ ...request, distanceM }), null)}
      />
      {request.nets.map((net, index) => (
        <div className="wide fields grip-net" key={index}>
          <PickField
            label={`Net ${index + 1}`}
            value={String(net.stops)}
            choices={
              GRADE_CHOICES.some(({ value }) => value === String(net.stops))
                ? GRADE_CHOICES
                : [...GRADE_CHOICES, { value: String(net.stops), name: `${net.stops} stops` }]
            }
            onPick={(stops) => setNet(index, { stops: Number(stops) })}
          />
          <QuantityField
            label={`Net ${index + 1} covers`}
            value={net.coverShare}
            kind={PERCENT}
            hint="of the light, from the near side"
            onCommit={(coverShare) => {
              if (coverShare < 0 || coverShare > 1) return 'A net covers 0 to 100 % of the light.';
              setNet(index, { coverShare });
              return null;
            }}
          />
        </div>
      ))}
      <QuantityField
        label="Free edges turned"
        value={request.turnDeg}
        kind={ANGLE}
        hint="0 is upright"
        onCommit={(turnDeg) => (change({ ...request, turnDeg }), null)}
      />
    </>
  );
}

const SIDE_WORDS: Readonly<Record<DarkSide, string>> = {
  all: 'all of it',
  right: 'right of a line',
  left: 'left of a line',
  above: 'above a line',
  below: 'below a line',
};

/** The line through a place that is read or pinned on the surface, by the side that is asked; null where there is none. */
function lineThrough(document: SceneDocument, { surfaceId, side }: FlagRequest['dark'], place: ReadingPlace | null) {
  const surface = document.surfaces[surfaceId];
  if (!surface || place?.surfaceId !== surfaceId || side === 'all') return null;
  const { right, up } = localFromWorld(frameFromPose(surface.pose), place.atM);
  const box = boundingBox(surface.shape);
  return Number((side === 'left' || side === 'right' ? right - box.leftM : up - box.bottomM).toFixed(2));
}

export function FlagForm({ document, request, change }: FormProps<FlagRequest>) {
  const length = lengthKind(unitsOf(document));
  const { dark } = request;
  const setDark = (fields: Partial<FlagRequest['dark']>): void => change({ ...request, dark: { ...dark, ...fields } });
  const pinned = useSession(({ pin, place }) => pin ?? place);
  const lineM = lineThrough(document, dark, pinned);
  const isAcross = dark.side === 'left' || dark.side === 'right';
  return (
    <>
      <PickField
        label="Keep dark"
        value={dark.surfaceId}
        choices={surfaceChoices(document)}
        onPick={(surfaceId) => setDark({ surfaceId })}
      />
      <PickField
        label="Part of it"
        value={dark.side}
        choices={DARK_SIDES.map((value) => ({ value, name: SIDE_WORDS[value] }))}
        onPick={(side) => setDark({ side })}
      />
      {dark.side !== 'all' && (
        <>
          <QuantityField
            label={isAcross ? 'Line from the left end' : 'Line from the foot'}
            value={dark.lineM}
            kind={length}
            hint="seen from its lit side"
            onCommit={(next) => (setDark({ lineM: next }), null)}
          />
          <PickField
            label="At the line"
            value={request.edge}
            choices={[
              { value: 'dark', name: 'all dark' },
              { value: 'half', name: 'half the light' },
            ]}
            onPick={(edge) => change({ ...request, edge })}
          />
          {lineM !== null && (
            <Button className="button wide" onPress={() => setDark({ lineM })}>
              Line through the place that is read
            </Button>
          )}
        </>
      )}
      <PickField
        label="Light wanted on"
        value={request.wantedSurfaceId}
        choices={surfaceChoices(document)}
        onPick={(wantedSurfaceId) => change({ ...request, wantedSurfaceId })}
      />
      <QuantityField
        label="Flag from the lens"
        value={request.distanceM}
        kind={length}
        onCommit={(distanceM) => (change({ ...request, distanceM }), null)}
      />
    </>
  );
}

export function MirrorForm({ document, request, change }: FormProps<MirrorRequest>) {
  return (
    <>
      <OnSurface document={document} request={request} change={change} />
      <QuantityField
        label="Path, lamp to mirror to patch"
        value={request.pathM}
        kind={lengthKind(unitsOf(document))}
        onCommit={(pathM) => (change({ ...request, pathM }), null)}
      />
      <PickField
        label="Where it stands"
        value={String(request.way)}
        choices={['0', '1', '2'].map((value) => ({ value, name: `way ${Number(value) + 1}` }))}
        onPick={(way) => change({ ...request, way: Number(way) })}
      />
    </>
  );
}

const SCRIM_CHOICES = [
  { value: '0.5', name: 'half single, 1/2 stop' },
  { value: '1', name: 'half double, 1 stop' },
  { value: '1,0.5', name: 'half double and half single' },
  { value: '1,1', name: 'two half doubles' },
] as const;

export function HalfScrimForm({ document, request, change }: FormProps<HalfScrimRequest>) {
  return (
    <>
      <OnSurface document={document} request={request} change={change} />
      <PickField<string>
        label="Scrim"
        value={request.grades.join(',')}
        choices={SCRIM_CHOICES}
        onPick={(grades) => change({ ...request, grades: grades.split(',').map(Number) })}
      />
      <QuantityField
        label="Covers, by the clock"
        value={request.clockDeg}
        kind={ANGLE}
        hint="0 right, 90 top, from behind"
        onCommit={(clockDeg) => (change({ ...request, clockDeg: ((clockDeg % 360) + 360) % 360 }), null)}
      />
    </>
  );
}
