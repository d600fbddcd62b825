/** Things as they first stand when somebody places them: plain, typical figures, in front of the wall that is shown. */
import type { Lamp, Meter, Modifier, SceneDocument, Surface } from '../scene/schema';
import { frameFromPose, worldFromLocal } from '../scene/geometry/frames';
import { addScaled, distance, type Vec3 } from '../scene/geometry/vector';
import { boundingBox } from '../sim/worker/bands';
import { aimPointOf, setupOf, tuple } from './tools/things';

interface Spot {
  readonly atM: Vec3;
  readonly target: Vec3;
  readonly name: string;
}
const FALLBACK = { middle: [0, 0, 1.4] as Vec3, forward: [0, -1, 0] as Vec3 };

/** Room that a new thing keeps to what stands behind it, m. */
const BEHIND_M = 0.6;

/** How far in front of a surface a thing is put that should stand `wantedM` off: nearer where another wall is in the way. */
function standOff(scene: SceneDocument, surface: Surface, middle: Vec3, wantedM: number): number {
  const freeM = distance(middle, aimPointOf(scene, { positionM: tuple(middle), aim: surface.pose.aim }));
  return Math.min(wantedM, Math.max(freeM / 2, freeM - BEHIND_M));
}

/** A place up to `distanceM` in front of the shown surface, at `heightM`, looking at its middle. */
function inFront(
  scene: SceneDocument,
  surfaceId: string | null,
  distanceM: number,
  heightM: number,
  name: string,
): Spot {
  const surface = surfaceId === null ? undefined : scene.surfaces[surfaceId];
  if (!surface) return { atM: addScaled(FALLBACK.middle, FALLBACK.forward, distanceM), target: FALLBACK.middle, name };
  const frame = frameFromPose(surface.pose);
  const box = boundingBox(surface.shape);
  const middle = worldFromLocal(frame, [box.leftM + box.widthM / 2, box.bottomM + box.heightM / 2]);
  const isLevel = Math.abs(frame.forward[2]) > 0.9;
  const out = addScaled(middle, frame.forward, standOff(scene, surface, middle, distanceM));
  return { atM: isLevel ? out : [out[0], out[1], heightM], target: middle, name };
}

const used = (scene: SceneDocument): Set<string> =>
  new Set([
    ...Object.keys(scene.surfaces),
    ...Object.keys(scene.meters),
    ...scene.setups.flatMap((setup) => [setup.id, ...Object.keys(setup.sources), ...Object.keys(setup.modifiers)]),
  ]);

/** An id that nothing in the scene has: "lamp-1", "lamp-2" ... */
export function freshId(scene: SceneDocument, kind: string): string {
  const taken = used(scene);
  let count = 1;
  while (taken.has(`${kind}-${count}`)) count += 1;
  return `${kind}-${count}`;
}

/** "L1", "L2" ...: the first such name that the setup does not have. */
function freshName(scene: SceneDocument, setupId: string, letter: string): string {
  const setup = setupOf(scene, setupId);
  const things = [
    ...Object.values(setup?.sources ?? {}),
    ...Object.values(setup?.modifiers ?? {}),
    ...Object.values(scene.meters),
  ];
  const names = new Set(things.map((thing) => thing.name));
  let count = 1;
  while (names.has(`${letter}${count}`)) count += 1;
  return `${letter}${count}`;
}

/** A lensed spot of invented, typical figures, 4 m in front of the wall. */
export function newLamp(scene: SceneDocument, setupId: string, surfaceId: string | null): Lamp {
  const { atM, target, name } = inFront(scene, surfaceId, 4, 2.4, freshName(scene, setupId, 'L'));
  return {
    type: 'lamp',
    name,
    unit: 'lensed spot, typical',
    symbol: 'lensedSpot',
    pose: { positionM: tuple(atM), aim: { atM: tuple(target) } },
    emitter: { shape: 'disc', diameterM: 0.15 },
    distribution: { kind: 'beam', beamAngleDeg: 26, fieldAngleDeg: 42 },
    output: { kind: 'candela', candela: 30_000 },
    colour: { cctK: 3200 },
    basis: 'typical',
  };
}

function newGrip(spot: Spot, widthM: number, heightM: number, material: Modifier['material']): Modifier {
  return {
    name: spot.name,
    pose: { positionM: tuple(spot.atM), aim: { atM: tuple(spot.target) } },
    shape: { kind: 'rectangle', widthM, heightM },
    material,
  };
}
/** An open-end single, 0.6 x 0.9 m, 2 m in front of the wall. */
export const newNet = (scene: SceneDocument, setupId: string, surfaceId: string | null): Modifier => ({
  ...newGrip(inFront(scene, surfaceId, 2, 2, freshName(scene, setupId, 'N')), 0.6, 0.9, { kind: 'net', stops: 0.5 }),
  frame: { rodWidthM: 0.01, openSides: ['left'] },
});
/** A flag, 0.6 x 0.9 m, 2 m in front of the wall. */
export const newFlag = (scene: SceneDocument, setupId: string, surfaceId: string | null): Modifier =>
  newGrip(inFront(scene, surfaceId, 2, 2, freshName(scene, setupId, 'F')), 0.6, 0.9, { kind: 'opaque' });

/** A flat receptor on the shown wall, facing the room. */
export function newMeter(scene: SceneDocument, setupId: string, surfaceId: string | null): Meter {
  const { atM, target, name } = inFront(scene, surfaceId, 1, 1.3, freshName(scene, setupId, 'M'));
  const surface = surfaceId === null ? undefined : scene.surfaces[surfaceId];
  const positionM: Vec3 = surface ? [target[0], target[1], target[2]] : atM;
  const aim = surface ? surface.pose.aim : { panDeg: 180, tiltDeg: 0 };
  return {
    name,
    positionM: tuple(positionM),
    receptor: 'flat',
    aim: 'panDeg' in aim ? aim : { panDeg: 180, tiltDeg: 0 },
  };
}
