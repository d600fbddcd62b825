/** Small scene documents for the validation rows, and ways to read them. */
import type {
  Distribution,
  Emitter,
  Lamp,
  Material,
  Modifier,
  Output,
  Pose,
  SceneDocument,
  Source,
  Sun,
  Surface,
} from '../../src/scene/schema';
import { sceneSchema } from '../../src/scene/schema';
import { normalise, subtract, type Vec3 } from '../../src/scene/geometry/vector';
import { compileScene } from '../../src/sim/solve/compileScene';
import { readPoint } from '../../src/sim/solve/solvePoint';

export const SETUP = 'only';
type Point = [number, number, number];

export interface Parts {
  readonly sources: Readonly<Record<string, Source>>;
  readonly modifiers?: Readonly<Record<string, Modifier>>;
  readonly surfaces?: Readonly<Record<string, Surface>>;
  /** Texts of photometric files. */
  readonly webs?: Readonly<Record<string, string>>;
}

/** A scene of one setup that passes the schema. */
export function sceneOf({ sources, modifiers = {}, surfaces = {}, webs = {} }: Parts): SceneDocument {
  return sceneSchema.parse({
    format: 'farsun-scene',
    formatVersion: 1,
    name: 'Validation',
    camera: { iso: 800, framesPerSecond: 24, shutterAngleDeg: 180, tStop: 2.8 },
    surfaces,
    meters: {},
    webs: Object.fromEntries(Object.entries(webs).map(([id, text]) => [id, { name: id, text }])),
    setups: [{ id: SETUP, name: 'Only', sources, modifiers }],
  });
}

export const facing = (positionM: Point, panDeg: number, tiltDeg: number, rollDeg = 0): Pose => ({
  positionM,
  aim: { panDeg, tiltDeg, rollDeg },
});

export function lamp(pose: Pose, emitter: Emitter, distribution: Distribution, output: Output): Lamp {
  return { type: 'lamp', name: 'Lamp', pose, emitter, distribution, output };
}
export const pointLamp = (positionM: Point, candela: number): Lamp =>
  lamp(facing(positionM, 0, 0), { shape: 'point' }, { kind: 'uniform' }, { kind: 'candela', candela });
export const glowing = (pose: Pose, emitter: Emitter, luminanceCdM2: number): Lamp =>
  lamp(
    pose,
    emitter,
    { kind: emitter.shape === 'sphere' ? 'uniform' : 'lambertian' },
    { kind: 'luminance', luminanceCdM2 },
  );

/** A sun square-on to a wall that faces +x: it stands towards +x at the horizon. */
export const sunTowardsX = (angularDiameterDeg: number, normalIlluminanceLx = 100_000): Sun => ({
  type: 'sun',
  name: 'Sun',
  altitudeDeg: 0,
  azimuthDeg: 90,
  angularDiameterDeg,
  normalIlluminanceLx,
});

/** A flat thing square to the x axis, centred at `positionM`. */
export const sheetAcrossX = (positionM: Point, widthM: number, heightM: number, material: Material): Modifier => ({
  name: 'Sheet',
  pose: facing(positionM, 90, 0),
  shape: { kind: 'rectangle', widthM, heightM },
  material,
});

export interface Probe {
  readonly at: Vec3;
  readonly normal: Vec3;
  readonly receptor?: 'flat' | 'dome';
}
/** A function that gives the kernel's illuminance of a scene at points, lux. */
export function meterOf(parts: Parts): (probe: Probe) => number {
  const scene = compileScene(sceneOf(parts), SETUP);
  return ({ at, normal, receptor = 'flat' }) => readPoint(scene, { pointM: at, normal, receptor }).illuminanceLx;
}
/** The kernel's illuminance of one lamp at one probe, lux. */
export const reading = (source: Source, probe: Probe): number => meterOf({ sources: { lamp: source } })(probe);

export const unitTowards = (from: Vec3, to: Vec3): Vec3 => normalise(subtract(to, from));

/** Where a growing or falling function passes `level` between `low` and `high`, by bisection. */
export function crossing(of: (x: number) => number, level: number, low: number, high: number): number {
  const growing = of(high) > of(low);
  let [from, to] = [low, high];
  for (let step = 0; step < 40; step++) {
    const middle = (from + to) / 2;
    if (of(middle) < level === growing) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}
