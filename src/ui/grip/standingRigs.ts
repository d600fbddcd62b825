/** Staggers of nets and half scrims that stand in a scene, whoever put them there: a helper may be opened on them again. */
import type { Lamp, Modifier, SceneDocument, Setup } from '../../scene/schema';
import { frameFromPose } from '../../scene/geometry/frames';
import { dot, normalise, subtract } from '../../scene/geometry/vector';
import { freeEdgeOf, isOpenEndNet } from '../../sim/grip/netsAgain';
import type { GripMade } from './gripStore';

/** "Net A1", "Net A2": one stagger by its letter. */
const STAGGERED = /^Net ([A-Z])\d$/;
/** A net in a lamp's light faces it, seen from its free edge, within this cosine. */
const FACES = 0.8;

const lampsOf = ({ sources }: Setup): [string, Lamp][] =>
  Object.entries(sources).filter((entry): entry is [string, Lamp] => entry[1].type === 'lamp');

/** The lamp that a net looks at; null where it looks at none. */
function lampOfNet(setup: Setup, net: Modifier): [string, Lamp] | null {
  const { forward } = frameFromPose(net.pose);
  const edge = freeEdgeOf(net);
  const facing = lampsOf(setup)
    .map((entry) => ({ entry, cosine: dot(forward, normalise(subtract(entry[1].pose.positionM, edge))) }))
    .filter(({ cosine }) => cosine >= FACES)
    .sort((a, b) => b.cosine - a.cosine);
  return facing[0]?.entry ?? null;
}

function staggers(setup: Setup): GripMade[] {
  const byLetter = new Map<string, Record<string, Modifier>>();
  for (const [id, modifier] of Object.entries(setup.modifiers)) {
    const letter = STAGGERED.exec(modifier.name)?.[1];
    if (letter === undefined || !isOpenEndNet(modifier)) continue;
    byLetter.set(letter, { ...byLetter.get(letter), [id]: modifier });
  }
  return [...byLetter].flatMap(([letter, pieces]): GripMade[] => {
    const found = lampOfNet(setup, Object.values(pieces)[0]!);
    if (!found) return [];
    const [lampId, lamp] = found;
    const id = `nets-${letter}`;
    return [
      { id, helper: 'nets', setupId: setup.id, lampId, request: null, pieces, lampBefore: lamp, lampAfter: lamp },
    ];
  });
}

function halfScrims(setup: Setup, surfaceIdOf: (lampId: string) => string | null): GripMade[] {
  return lampsOf(setup).flatMap(([lampId, lamp]): GripMade[] => {
    const fitted = lamp.accessories ?? [];
    const halves = fitted.flatMap((one) => (one.kind === 'wireScrim' && one.half ? [{ ...one, half: one.half }] : []));
    const surfaceId = surfaceIdOf(lampId);
    const clocks = new Set(halves.map(({ half }) => half.clockDeg));
    if (clocks.size !== 1 || halves.length > 2 || surfaceId === null) return [];
    const rest = fitted.filter((one) => one.kind !== 'wireScrim' || !one.half);
    const { accessories: _fitted, ...bare } = lamp;
    return [
      {
        id: `scrim-${lampId}`,
        helper: 'halfScrim',
        setupId: setup.id,
        lampId,
        request: {
          helper: 'halfScrim',
          lampId,
          surfaceId,
          grades: halves.map(({ stops }) => stops).sort((a, b) => b - a),
          clockDeg: halves[0]!.half.clockDeg,
        },
        pieces: {},
        lampBefore: rest.length > 0 ? { ...bare, accessories: rest } : bare,
        lampAfter: lamp,
      },
    ];
  });
}

/** Everything of the setup that a helper can be opened on again by reading it. */
export function standingRigs(scene: SceneDocument, setupId: string): GripMade[] {
  const setup = scene.setups.find(({ id }) => id === setupId);
  if (!setup) return [];
  const [first] = Object.keys(scene.surfaces);
  const surfaceIdOf = (lampId: string): string | null =>
    scene.story?.playsSun?.find(({ sourceId, surfaceId }) => sourceId === lampId && scene.surfaces[surfaceId])
      ?.surfaceId ??
    first ??
    null;
  return [...staggers(setup), ...halfScrims(setup, surfaceIdOf)];
}
