/**
 * Random scenes that are hard on purpose: a room with a window wall, lamps of every shape inside and outside, grip of
 * every outline and material between them and the surfaces, things that touch and cross each other, and receivers of
 * which two thirds lie in a half-shadow.
 */
import {
  sceneSchema,
  type Modifier,
  type Opening,
  type Pose,
  type SceneDocument,
  type Source,
  type Surface,
} from '../../src/scene/schema';
import { prepareBrute, type BruteReceiver, type BruteScene } from './bruteIlluminance';
import { axesOf, looking, onFace } from './poses';
import { drawFrom, randomFrame, randomLamp, randomMaterial, randomShape, type Draw } from './randomThings';
import { covers, sheetsOf } from './sheets';
import { inner, plus, RADIAN, size, type Triple } from './vectors';

export interface RandomScene {
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly receivers: readonly BruteReceiver[];
  /** How many of the receivers lie in at least one half-shadow. */
  readonly inPenumbra: number;
}
export const RECEIVERS = 64;
const WANTED_IN_PENUMBRA = 43;
const SETUP = 'only';

type Place = (x: number, y: number, z: number) => [number, number, number];

/** The room is turned as a whole, so that nothing lies along the axes of the world. */
function turned(turnDeg: number): Place {
  const [c, s] = [Math.cos(turnDeg * RADIAN), Math.sin(turnDeg * RADIAN)];
  return (x, y, z) => [c * x + s * y, -s * x + c * y, z];
}

function randomWindow(draw: Draw, leftM: number, widthM: number, thicknessM: number): Opening {
  const heightM = draw.between(0.8, 1.5);
  return {
    leftM,
    sillM: draw.between(0.6, 1.2),
    shape: { kind: 'rectangle', widthM, heightM },
    ...(draw.chance(0.75)
      ? {
          window: {
            columns: draw.whole(1, 3),
            rows: draw.whole(1, 3),
            barWidthM: draw.between(0.02, 0.06),
            frameWidthM: draw.between(0, 0.05),
            barDepthM: draw.between(0, 1) * thicknessM,
            ...(draw.chance(0.4) ? { glass: { transmittance: draw.between(0.6, 0.95) } } : {}),
          },
        }
      : {}),
  };
}

function room(draw: Draw, place: Place, turnDeg: number): Record<string, Surface> {
  const thicknessM = draw.between(0.05, 0.35);
  const tabletop = { panDeg: turnDeg + draw.between(0, 360), tiltDeg: 90 };
  return {
    floor: {
      name: 'Floor',
      kind: 'floor',
      pose: { positionM: place(0, 0, 0), aim: { panDeg: turnDeg + 180, tiltDeg: 90 } },
      shape: { kind: 'rectangle', widthM: 6, heightM: 5 },
    },
    back: {
      name: 'Back wall',
      kind: 'wall',
      pose: { positionM: place(0, 5, 0), aim: { panDeg: turnDeg + 180, tiltDeg: 0 } },
      shape: { kind: 'rectangle', widthM: 6, heightM: 3 },
      thicknessM: 0.1,
    },
    side: {
      name: 'Window wall',
      kind: 'wall',
      pose: { positionM: place(0, 0, 0), aim: { panDeg: turnDeg + 90, tiltDeg: 0 } },
      shape: { kind: 'rectangle', widthM: 5, heightM: 3 },
      thicknessM,
      openings: {
        one: randomWindow(draw, draw.between(0.4, 0.8), draw.between(0.8, 1.5), thicknessM),
        two: randomWindow(draw, draw.between(2.6, 2.9), draw.between(0.8, 1.5), thicknessM),
      },
    },
    face: {
      name: 'Face height',
      kind: 'readingPlane',
      pose: {
        positionM: place(draw.between(1.5, 4), draw.between(1.5, 3), draw.between(1, 1.5)),
        aim: { panDeg: draw.between(0, 360), tiltDeg: draw.between(-40, 60), rollDeg: draw.between(-30, 30) },
      },
      shape: { kind: 'rectangle', widthM: 1, heightM: 1 },
    },
    desk: {
      name: 'Desk',
      kind: 'top',
      pose: { positionM: place(draw.between(2, 4), draw.between(2, 3.5), 0.75), aim: tabletop },
      shape: {
        kind: 'polygon',
        outlineM: [
          [0, 0],
          [1.1, 0],
          [1.1, 0.6],
          [0.5, 0.35],
          [0, 0.7],
        ],
      },
    },
  };
}

function randomSources(draw: Draw, place: Place, turnDeg: number): Record<string, Source> {
  const sources: Record<string, Source> = {};
  const count = draw.whole(3, 4);
  for (let i = 0; i < count; i++) {
    const outside = i === 0 || draw.chance(0.25);
    const positionM = outside
      ? place(draw.between(-6, -2), draw.between(-1, 6), draw.between(0.8, 4))
      : place(draw.between(0.5, 5.5), draw.between(-1, 1.5), draw.between(1.6, 3.2));
    const atM = place(draw.between(1, 5), draw.between(2, 4.8), draw.between(0, 1.5));
    const pose: Pose = { positionM, aim: { atM, rollDeg: draw.between(-90, 90) } };
    sources[`lamp${i + 1}`] = { name: `Lamp ${i + 1}`, pose, ...randomLamp(draw, i < 2) };
  }
  if (draw.chance(0.5))
    sources.sun = {
      type: 'sun',
      name: 'Sun',
      altitudeDeg: draw.between(10, 50),
      azimuthDeg: turnDeg + draw.between(235, 305),
      angularDiameterDeg: draw.one([0.533, 0.533, 2, 5]),
      normalIlluminanceLx: draw.between(20000, 90000),
    };
  return sources;
}

function surfacePoint(draw: Draw, surface: Surface): Triple {
  const axes = axesOf(surface.pose);
  const [width, height] =
    surface.shape.kind === 'rectangle' ? [surface.shape.widthM, surface.shape.heightM] : [1.1, 0.7];
  return onFace(axes, draw.between(0.01, 0.99) * width, draw.between(0.01, 0.99) * height);
}

/** Grip hung somewhere on the way from a surface to a source, more or less across the light. */
function hung(draw: Draw, surfaces: Record<string, Surface>, sources: Record<string, Source>): Modifier {
  const target = surfacePoint(draw, surfaces[draw.one(['floor', 'floor', 'back', 'back', 'face', 'desk'])]!);
  const source = sources[draw.one(Object.keys(sources))]!;
  const towards: Triple =
    source.type === 'sun'
      ? plus([0, 0, 0], looking(source.azimuthDeg, source.altitudeDeg), 5)
      : plus(source.pose.positionM, target, -1);
  const at = plus(target, towards, draw.between(0.06, 0.9));
  const jitter = 0.12;
  const positionM: [number, number, number] = [
    at[0] + draw.between(-jitter, jitter),
    at[1] + draw.between(-jitter, jitter),
    at[2] + draw.between(-jitter, jitter),
  ];
  const panDeg = Math.atan2(towards[0], towards[1]) / RADIAN + draw.between(-45, 45) + draw.one([0, 180]);
  const tiltDeg = (Math.asin(towards[2] / size(towards)) / RADIAN) * draw.one([1, -1]) + draw.between(-35, 35);
  const shape = randomShape(draw);
  const material = randomMaterial(draw);
  return {
    name: 'Grip',
    pose: { positionM, aim: { panDeg, tiltDeg, rollDeg: draw.between(-180, 180) } },
    shape,
    material,
    ...randomFrame(draw, shape, material),
  };
}

const place3 = (at: Triple): [number, number, number] => [at[0], at[1], at[2]];

/** Things that touch, cross, straddle: an edge neighbour, a crossed twin, a flag through a lamp, a flag through a surface. */
function awkward(
  draw: Draw,
  made: readonly Modifier[],
  surfaces: Record<string, Surface>,
  sources: Record<string, Source>,
): Modifier[] {
  const out: Modifier[] = [];
  const rectangle = made.find((one) => one.shape.kind === 'rectangle');
  if (rectangle && rectangle.shape.kind === 'rectangle') {
    const beside = onFace(axesOf(rectangle.pose), rectangle.shape.widthM, 0);
    const { frame: _frame, ...bare } = rectangle;
    out.push({ ...bare, pose: { ...rectangle.pose, positionM: place3(beside) }, material: randomMaterial(draw) });
  }
  const crossed = draw.one(made);
  const { aim } = crossed.pose;
  if ('panDeg' in aim && draw.chance(0.7))
    out.push({ ...crossed, pose: { ...crossed.pose, aim: { ...aim, panDeg: aim.panDeg + draw.between(40, 90) } } });
  const lamp = draw.one(Object.values(sources));
  if (lamp.type === 'lamp' && draw.chance(0.5)) {
    const axes = axesOf(lamp.pose);
    const across = looking(draw.between(0, 360), draw.between(-20, 20));
    const side = plus(across, axes.out, -inner(across, axes.out));
    const middle = plus(plus(lamp.pose.positionM, axes.out, 0.4), side, draw.between(-0.05, 0.05));
    out.push({
      name: 'Through the lamp',
      pose: { positionM: place3(middle), aim: { atM: place3(plus(middle, side)) } },
      shape: { kind: 'rectangle', widthM: draw.between(0.3, 1), heightM: draw.between(0.3, 1) },
      material: draw.chance(0.7) ? { kind: 'opaque' } : { kind: 'net', stops: 1, weave: 'plain' },
    });
  }
  if (draw.chance(0.6))
    out.push({
      name: 'Through a surface',
      pose: {
        positionM: place3(surfacePoint(draw, surfaces[draw.one(['floor', 'back'])]!)),
        aim: { panDeg: draw.between(0, 360), tiltDeg: draw.between(-30, 30), rollDeg: draw.between(0, 90) },
      },
      shape: { kind: 'rectangle', widthM: draw.between(0.1, 0.6), heightM: draw.between(0.2, 0.9) },
      material: { kind: 'opaque' },
    });
  return out;
}

/** True where a thing would stand inside the body of a globe or a tube, which nothing can. */
function insideLamp(modifier: Modifier, sources: Record<string, Source>): boolean {
  const axes = axesOf(modifier.pose);
  const { shape } = modifier;
  const reachM =
    shape.kind === 'rectangle'
      ? Math.hypot(shape.widthM, shape.heightM) / 2 + 2 * (modifier.frame?.rodWidthM ?? 0)
      : shape.kind === 'polygon'
        ? Math.max(...shape.outlineM.map(([x, y]) => Math.hypot(x, y)))
        : 1;
  return Object.values(sources).some((source) => {
    if (source.type === 'sun') return false;
    const { emitter } = source;
    if (emitter.shape !== 'sphere' && emitter.shape !== 'tube') return false;
    const radiusM = emitter.diameterM / 2;
    const halfM = emitter.shape === 'tube' ? emitter.lengthM / 2 : 0;
    const body = axesOf(source.pose);
    const steps = Math.ceil(halfM / radiusM);
    return Array.from({ length: 2 * steps + 1 }, (_, i) => (steps === 0 ? 0 : ((i - steps) / steps) * halfM)).some(
      (along) => {
        const offset = plus(plus(body.origin, body.right, along), axes.origin, -1);
        const above = inner(offset, axes.out);
        return Math.abs(above) < 1.5 * radiusM && size(plus(offset, axes.out, -above)) < reachM + 1.5 * radiusM;
      },
    );
  });
}

/** Points on the surfaces, kept until two thirds lie in a half-shadow of some source. */
export function chooseReceivers(
  draw: Draw,
  document: SceneDocument,
): { receivers: BruteReceiver[]; inPenumbra: number } {
  const coarse: BruteScene = prepareBrute(document, SETUP, 256, 99);
  const desk = sheetsOf(document, document.setups[0]!).find((one) => one.faceOf === 'desk')!;
  const lit: BruteReceiver[] = [];
  const half: BruteReceiver[] = [];
  for (let tries = 0; tries < 6000 && (half.length < WANTED_IN_PENUMBRA || lit.length < RECEIVERS); tries++) {
    const surfaceId = draw.one(['floor', 'floor', 'back', 'back', 'face', 'desk']);
    const surface = document.surfaces[surfaceId]!;
    const pointM = surfacePoint(draw, surface);
    const axes = axesOf(surface.pose);
    const offset = plus(pointM, axes.origin, -1);
    if (surfaceId === 'desk' && !covers(desk, inner(offset, desk.axes.right), inner(offset, desk.axes.up))) continue;
    const receiver: BruteReceiver = { pointM, normal: axes.out, surfaceId };
    const bare = coarse.illuminanceLx(receiver, 'bare');
    const hard = coarse.illuminanceLx(receiver, 'hard');
    const partial = bare.some((level, i) => level > 0 && hard[i]! > 0.02 * level && hard[i]! < 0.98 * level);
    if (partial && half.length < WANTED_IN_PENUMBRA) half.push(receiver);
    else if (!partial && lit.length < RECEIVERS) lit.push(receiver);
  }
  return { receivers: [...half, ...lit].slice(0, RECEIVERS), inPenumbra: half.length };
}

/** The scene of a seed: the same seed always gives the same scene. */
export function randomScene(seed: number): RandomScene {
  const draw = drawFrom(seed);
  const turnDeg = draw.between(0, 360);
  const place = turned(turnDeg);
  const surfaces = room(draw, place, turnDeg);
  const sources = randomSources(draw, place, turnDeg);
  const count = draw.whole(6, 13);
  const made: Modifier[] = [];
  while (made.length < count) {
    const one = hung(draw, surfaces, sources);
    if (!insideLamp(one, sources)) made.push(one);
  }
  const extra = awkward(draw, made, surfaces, sources).filter((one) => !insideLamp(one, sources));
  const grip = [...made, ...extra];
  const document = sceneSchema.parse({
    format: 'farsun-scene',
    formatVersion: 1,
    name: `Random scene ${seed}`,
    camera: { iso: 800, framesPerSecond: 24, shutterAngleDeg: 180, tStop: 2.8 },
    surfaces,
    meters: {},
    setups: [
      {
        id: SETUP,
        name: 'Only',
        sources,
        modifiers: Object.fromEntries(grip.map((modifier, i) => [`grip${i + 1}`, modifier])),
      },
    ],
  });
  return { document, setupId: SETUP, ...chooseReceivers(draw, document) };
}
