/** Wire scrims in a lamp's own slots: layers that act on that lamp's light alone. */
import type { Lamp } from '../../scene/schema';
import { cosDeg, frameFromPose, sinDeg, worldFromLocal } from '../../scene/geometry/frames';
import { addScaled } from '../../scene/geometry/vector';
import type { BlockerLayer } from './compiled';
import { virtualOriginOf } from './readingsOutput';
import { rectangleOutline } from './shapes';

/** Distance of the first slot in front of the lens where the document names none, m; the next ones follow. */
const FIRST_SLOT_M = 0.03;
const SLOT_PITCH_M = 0.015;
/**
 * A whole scrim dims all of its lamp's light alike, so its place does not matter but for this: it stands just before the
 * emitting face, or light that runs nearly square to the axis would slip out between the lens and the slot, m.
 */
export const BEFORE_FACE_M = 1e-5;
/** A scrim fills its ring, and the ring takes in the whole beam: so wide that no ray of the scene passes beside it, m. */
const RING_REACH_M = 20_000;
const RING = rectangleOutline(-RING_REACH_M, -RING_REACH_M, 2 * RING_REACH_M, 2 * RING_REACH_M);

type Scrim = Extract<NonNullable<Lamp['accessories']>[number], { kind: 'wireScrim' }>;

/** The lamp's scrims with their slots' distances before the lens, m. */
export function slotsOf({ accessories = [] }: Pick<Lamp, 'accessories'>): { scrim: Scrim; slotM: number }[] {
  return accessories
    .filter((accessory) => accessory.kind === 'wireScrim')
    .map((scrim, index) => ({ scrim, slotM: scrim.slotM ?? FIRST_SLOT_M + SLOT_PITCH_M * index }));
}

/**
 * @returns one layer for each wire scrim in the lamp's slots; a half scrim covers the side at its clock angle
 *   (0 right, 90 top, seen from behind the lamp)
 * @remarks A ring narrower than the beam is left out. The whole scrims of a lamp that shines all round are not here: they
 *   dim its light every way (`wholeScrimShare`); a half one in it covers one side of what goes forward.
 */
export function lampScrimLayers(sourceId: string, lamp: Lamp): BlockerLayer[] {
  const frame = frameFromPose(lamp.pose);
  const layers: BlockerLayer[] = [];
  for (const { scrim, slotM } of slotsOf(lamp)) {
    if (!scrim.half && shinesAllRound(lamp)) continue;
    const aheadM = scrim.half ? slotM : BEFORE_FACE_M - virtualOriginOf(lamp);
    const plane = { ...frame, origin: addScaled(frame.origin, frame.forward, aheadM) };
    // Seen from behind, right is the other way round than seen from the front.
    const side = scrim.half ? [-cosDeg(scrim.half.clockDeg), sinDeg(scrim.half.clockDeg)] : null;
    const kept = side ? halfPlane(RING, side[0]!, side[1]!) : RING;
    layers.push({
      id: `${sourceId} scrim ${layers.length + 1}`,
      ownSurfaceId: null,
      onlySourceId: sourceId,
      role: 'shade',
      origin: plane.origin,
      normal: plane.forward,
      opacity: 1 - 2 ** -scrim.stops,
      weave: null,
      pieces: [{ corners: kept.map((corner) => worldFromLocal(plane, corner)), hole: false }],
    });
  }
  return layers;
}

/** Lamps that light what is behind them as well: a scrim on them is a cage all round, not a ring in a slot. */
function shinesAllRound({ emitter, distribution }: Lamp): boolean {
  if (distribution.kind === 'lensed') return false;
  if (emitter.shape === 'sphere' || emitter.shape === 'tube') return true;
  return emitter.shape === 'point' && (distribution.kind === 'uniform' || distribution.kind === 'web');
}

/** What the whole scrims of a lamp that shines all round let through, 0..1; 1 for others, whose scrims are layers. */
export function wholeScrimShare(lamp: Lamp): number {
  if (!shinesAllRound(lamp)) return 1;
  const stops = slotsOf(lamp).reduce((sum, { scrim }) => sum + (scrim.half ? 0 : scrim.stops), 0);
  return 2 ** -stops;
}

/** The part of a convex polygon where x·a + y·b >= 0. */
function halfPlane(polygon: readonly (readonly [number, number])[], a: number, b: number): [number, number][] {
  const kept: [number, number][] = [];
  polygon.forEach((from, i) => {
    const to = polygon[(i + 1) % polygon.length]!;
    const before = from[0] * a + from[1] * b;
    const after = to[0] * a + to[1] * b;
    if (before >= 0) kept.push([from[0], from[1]]);
    if (before >= 0 !== after >= 0) {
      const t = before / (before - after);
      kept.push([from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]);
    }
  });
  return kept;
}
