/**
 * The free bench: a meter walked along a line of any scene, the pure law beside what it reads, and the gap between the two
 * taken apart. Each part is found by lighting the scene once more with one thing put back, so the parts add up exactly.
 */
import type { Distribution, Lamp, Point3, SceneDocument, Setup } from '../../scene/schema';
import { frameFromPose } from '../../scene/geometry/frames';
import { add, distance, dot, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledScene } from '../solve/compiled';
import { compileScene } from '../solve/compileScene';
import { virtualDisc } from '../solve/lensedSpot';
import { axisOutput, type AxisOutput } from './axisOutput';
import { lampOf, read, setupOf } from './bench';

/** Which way the meter's disc looks as it is walked. */
export const FACINGS = ['lamp', 'back', 'up'] as const;
export type Facing = (typeof FACINGS)[number];

export interface WalkRequest {
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly lampId: string;
  readonly fromM: Point3;
  readonly toM: Point3;
  readonly facing: Facing;
  readonly count: number;
}
export interface WalkTask extends WalkRequest {
  readonly kind: 'walk';
}

/** Parts of the gap in stops, each over (positive) or under the step before it. */
export interface Gap {
  /** The tape starts at the lamp's front, the light at its origin behind it. */
  readonly originStops: number;
  /** Off the axis the lamp sends less than its centre-beam candela. */
  readonly beamStops: number;
  /** The face is no point: its parts are farther off and slanted. */
  readonly faceStops: number;
  /** Walls, flags, nets, doors and scrims in the way. */
  readonly blockedStops: number;
  /** The other lamps and the sun. */
  readonly othersStops: number;
}
export interface WalkPoint {
  readonly atM: Vec3;
  /** Along the line from its start. */
  readonly alongM: number;
  /** From the lamp's front. */
  readonly distanceM: number;
  readonly illuminanceLx: number;
  /** By the lamp alone, as it stands in the scene. */
  readonly lampLx: number;
  /** Candela over the square of the distance from the front, times the cosine at the meter; lux. */
  readonly lawLx: number;
  /** Null where the law or the lamp says nothing: behind the meter, or no light of it. */
  readonly gap: Gap | null;
}
export interface Walk {
  readonly points: readonly WalkPoint[];
  readonly output: AxisOutput;
}

/** The setup with one lamp and nothing else, in an empty room. */
function alone(document: SceneDocument, setupId: string, lampId: string, lamp: Lamp): SceneDocument {
  const setup: Setup = { ...setupOf(document, setupId), sources: { [lampId]: lamp }, modifiers: {} };
  return { ...document, surfaces: {}, meters: {}, setups: [setup], ...emptied(document) };
}
/** What refers to things that are gone is left out too. */
const emptied = ({ story }: SceneDocument): Partial<SceneDocument> =>
  story ? { story: { ...story, playsSun: [] } } : {};

/** A lensed lantern without its lens rim is a beam from its virtual source. */
function pointDistribution(distribution: Distribution): Distribution {
  if (distribution.kind !== 'lensed') return distribution;
  const { beamAngleDeg, fieldAngleDeg } = distribution;
  return {
    kind: 'beam',
    beamAngleDeg,
    ...(fieldAngleDeg !== undefined && { fieldAngleDeg }),
    virtualOriginM: virtualDisc(distribution).behindM,
  };
}

/**
 * The lamp as a point of the same candela and beam, bare; null where a file tells its light, which has its face in it.
 * @remarks A sphere shines alike all round; a tube is taken as a cosine about its front.
 */
function asPoint(lamp: Lamp, candela: number, originM: number): Lamp | null {
  if (lamp.distribution.kind === 'web') return null;
  const { accessories: _bare, ...rest } = lamp;
  const { shape } = lamp.emitter;
  const plain: Distribution =
    shape === 'sphere'
      ? { kind: 'uniform' }
      : shape === 'tube'
        ? { kind: 'lambertian' }
        : pointDistribution(lamp.distribution);
  const distribution: Distribution = plain.kind === 'beam' ? { ...plain, virtualOriginM: originM } : plain;
  return {
    ...rest,
    emitter: { shape: 'point' },
    distribution,
    output: { kind: 'candela', candela },
    level: 1,
    off: false,
  };
}

interface Stages {
  readonly scene: CompiledScene;
  readonly point: CompiledScene | null;
  readonly bare: CompiledScene;
  readonly inPlace: CompiledScene;
}
function stagesOf({ document, setupId, lampId }: WalkRequest, bare: CompiledScene, output: AxisOutput): Stages {
  const lamp = lampOf(document, setupId, lampId);
  const point = asPoint(lamp, output.candela, output.originM);
  const setup = setupOf(document, setupId);
  const onlyLamp: SceneDocument = {
    ...document,
    ...emptied(document),
    setups: [{ ...setup, sources: { [lampId]: lamp } }],
  };
  return {
    scene: compileScene(document, setupId),
    point: point && compileScene(alone(document, setupId, lampId, point), setupId),
    bare,
    inPlace: compileScene(onlyLamp, setupId),
  };
}

const stops = (overLx: number, underLx: number): number => Math.log2(overLx / underLx);

function pointOfWalk(request: WalkRequest, stages: Stages, output: AxisOutput, atM: Vec3, alongM: number): WalkPoint {
  const front = lampOf(request.document, request.setupId, request.lampId).pose.positionM;
  const towardsLamp = normalise(subtract(front, atM));
  const back = normalise(subtract(request.fromM, request.toM));
  const normal: Vec3 = { lamp: towardsLamp, back, up: [0, 0, 1] as Vec3 }[request.facing];
  const held = { pointM: atM, normal };
  const distanceM = distance(front, atM);
  const cosine = Math.max(0, dot(towardsLamp, normal));
  const lawLx = distanceM > 0 ? (output.candela * cosine) / distanceM ** 2 : 0;
  const illuminanceLx = read(stages.scene, held);
  const lampLx = read(stages.inPlace, held);
  if (!(lawLx > 0 && lampLx > 0)) return { atM, alongM, distanceM, illuminanceLx, lampLx, lawLx, gap: null };
  const originLx = (output.candela * cosine) / (distanceM + output.originM) ** 2;
  const bareLx = read(stages.bare, held);
  const pointLx = stages.point ? read(stages.point, held) : bareLx;
  const gap: Gap = {
    originStops: stops(originLx, lawLx),
    beamStops: stops(pointLx, originLx),
    faceStops: stops(bareLx, pointLx),
    blockedStops: stops(lampLx, bareLx),
    othersStops: stops(illuminanceLx, lampLx),
  };
  // A meter far off the beam has no part in it: what the point and the bare face say there is nothing over nothing.
  const isTold = Object.values(gap).every(Number.isFinite);
  return { atM, alongM, distanceM, illuminanceLx, lampLx, lawLx, gap: isTold ? gap : null };
}

/** Walks the meter, point by point; yields the share done after each. */
export function* walking(request: WalkRequest): Generator<number, Walk> {
  const { document, setupId, lampId, fromM, toM, count } = request;
  const { accessories: _bare, ...bareLamp } = lampOf(document, setupId, lampId);
  const bare = compileScene(alone(document, setupId, lampId, bareLamp), setupId);
  const output = axisOutput(bare, lampId);
  const stages = stagesOf(request, bare, output);
  const lengthM = distance(fromM, toM);
  const points: WalkPoint[] = [];
  for (let i = 0; i < count; i++) {
    const share = i / (count - 1);
    const atM = add(fromM, scale(subtract(toM, fromM), share));
    points.push(pointOfWalk(request, stages, output, atM, share * lengthM));
    yield (i + 1) / count;
  }
  return { points, output };
}
/** The whole walk at once. */
export function walk(request: WalkRequest): Walk {
  const steps = walking(request);
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
  }
}

/** A line to start with: down the lamp's axis, from a metre before its front for `lengthM`, to a floor if one is nearer. */
export function axisLine(
  document: SceneDocument,
  setupId: string,
  lampId: string,
  lengthM = 7,
): readonly [Point3, Point3] {
  const { origin, forward } = frameFromPose(lampOf(document, setupId, lampId).pose);
  const floorM = forward[2] < 0 ? -origin[2] / forward[2] : Infinity;
  const farM = Math.min(1 + lengthM, Math.max(1.2, floorM));
  const at = (distanceM: number): Point3 => {
    const [x, y, z] = add(origin, scale(forward, distanceM));
    return [Number(x.toFixed(3)), Number(y.toFixed(3)), Number(z.toFixed(3))];
  };
  return [at(1), at(farM)];
}

const LEAST_TOLD_STOPS = 0.03;
const PARTS = [
  ['originStops', 'the light starts behind the front, not at it'],
  ['beamStops', 'off its axis the lamp sends less'],
  ['faceStops', 'the face is no point so near'],
  ['blockedStops', 'something stands in the way'],
  ['othersStops', 'other light is there too'],
] as const;
/** The gap in words, the largest part first: each part's stops and its cause; empty where the law holds. */
export function gapWords(gap: Gap): { readonly stops: number; readonly words: string }[] {
  return PARTS.map(([key, words]) => ({ stops: gap[key], words }))
    .filter((part) => Math.abs(part.stops) >= LEAST_TOLD_STOPS)
    .toSorted((a, b) => Math.abs(b.stops) - Math.abs(a.stops));
}
export const wholeGap = (gap: Gap): number => PARTS.reduce((sum, [key]) => sum + gap[key], 0);
