/**
 * A scene as large as the app is meant to carry without stumbling: every store room of the invented harbour of *The Salt
 * Ledger*, dressed and lit. Made by rule and a fixed sequence of numbers, so that it is the same every time; no figure of
 * it is a claim about light.
 */
import type { Lamp, Meter, Modifier, SceneDocument, Surface } from '../../src/scene/schema';

const COLUMNS = 10;
/** Rooms of the large scene: 200 walls, 60 lamps, 200 pieces. */
const ROOMS = 50;
const ROOM = { widthM: 5.6, depthM: 4.6, heightM: 3.2, wallM: 0.2 } as const;
const PITCH = { xM: ROOM.widthM + 2 * ROOM.wallM, yM: ROOM.depthM + 2 * ROOM.wallM } as const;

/** Numbers from 0 to 1 that are the same in every run (a Lehmer sequence with multiplier 48271, modulus 2^31 - 1). */
function sequence(seed: number): () => number {
  let state = seed;
  const next = (): number => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  // Sequences of neighbouring seeds are alike at first.
  for (let i = 0; i < 5; i += 1) next();
  return next;
}

interface Room {
  readonly name: string;
  readonly id: string;
  readonly xM: number;
  readonly yM: number;
}
const roomAt = (i: number): Room => ({
  id: `store-${i + 1}`,
  name: `Store ${i + 1}`,
  xM: (i % COLUMNS) * PITCH.xM,
  yM: Math.floor(i / COLUMNS) * PITCH.yM,
});

/** Four inner faces of a room; the one to the west has a barred window, the one to the south a door. */
function wallsOf({ id, name, xM, yM }: Room): Record<string, Surface> {
  const { widthM, depthM, heightM, wallM } = ROOM;
  const wall = (side: string, positionM: [number, number, number], panDeg: number, lengthM: number): Surface => ({
    name: `${name} ${side}`,
    kind: 'wall',
    pose: { positionM, aim: { panDeg, tiltDeg: 0 } },
    shape: { kind: 'rectangle', widthM: lengthM, heightM },
    thicknessM: wallM,
    reflectance: 0.5,
  });
  return {
    [`${id}-north`]: wall('north', [xM, yM + depthM, 0], 180, widthM),
    [`${id}-east`]: wall('east', [xM + widthM, yM + depthM, 0], 270, depthM),
    [`${id}-south`]: {
      ...wall('south', [xM + widthM, yM, 0], 0, widthM),
      openings: { door: { leftM: 0.6, sillM: 0, shape: { kind: 'rectangle', widthM: 0.9, heightM: 2.1 } } },
    },
    [`${id}-west`]: {
      ...wall('west', [xM, yM, 0], 90, depthM),
      openings: {
        window: {
          leftM: 1.6,
          sillM: 0.9,
          shape: { kind: 'rectangle', widthM: 1.4, heightM: 1.6 },
          window: { columns: 2, rows: 3, barWidthM: 0.04 },
        },
      },
    },
  };
}

const DISTRIBUTIONS: readonly Lamp['distribution'][] = [
  { kind: 'beam', beamAngleDeg: 26, fieldAngleDeg: 42 },
  { kind: 'projection', fieldAngleDeg: 19, edgeWidthDeg: 0.3 },
  { kind: 'lambertian' },
  { kind: 'beam', beamAngleDeg: 50 },
];

function lampAt(index: number, { xM, yM }: Room, next: () => number): Lamp {
  const distribution = DISTRIBUTIONS[index % DISTRIBUTIONS.length]!;
  const at = (room: number, share: number): number => room + (0.1 + 0.8 * share);
  // The first stands outside a window and plays the sun on the wall across the room.
  const isSun = index === 0;
  return {
    type: 'lamp',
    name: `L${index + 1}`,
    unit: 'typical, invented',
    pose: {
      positionM: isSun
        ? [xM - 5, yM + 2.3, 3.4]
        : [at(xM, next() * 0.85 * ROOM.widthM), at(yM, next() * 0.85 * ROOM.depthM), 1.8 + next()],
      aim: isSun
        ? { panDeg: 90, tiltDeg: -14 }
        : { panDeg: Math.round(360 * next()), tiltDeg: -Math.round(30 * next()) },
    },
    emitter:
      distribution.kind === 'lambertian'
        ? { shape: 'rectangle', widthM: 0.6, heightM: 0.3 }
        : { shape: 'disc', diameterM: 0.15 },
    distribution: isSun ? DISTRIBUTIONS[0]! : distribution,
    output: { kind: 'candela', candela: isSun ? 400_000 : 8_000 },
    colour: { cctK: index % 3 === 0 ? 5600 : 3200 },
    level: 0.4 + 0.6 * next(),
    basis: 'typical',
  };
}

const MATERIALS: readonly Modifier['material'][] = [
  { kind: 'net', stops: 0.5 },
  { kind: 'opaque' },
  { kind: 'net', stops: 1 },
  { kind: 'diffusion', directTransmittance: 0.2, diffuseTransmittance: 0.4 },
  { kind: 'opaque' },
  { kind: 'gel', transmittance: 0.7, miredShift: 60 },
];

function pieceAt(index: number, { xM, yM }: Room, next: () => number): Modifier {
  const material = MATERIALS[index % MATERIALS.length]!;
  return {
    name: `${material.kind === 'net' ? 'N' : material.kind === 'opaque' ? 'F' : 'S'}${index + 1}`,
    pose: {
      positionM: [xM + 0.4 + next() * (ROOM.widthM - 0.8), yM + 0.4 + next() * (ROOM.depthM - 0.8), 1.2 + next()],
      aim: { panDeg: Math.round(360 * next()), tiltDeg: Math.round(20 * next() - 10) },
    },
    shape: { kind: 'rectangle', widthM: 0.6, heightM: 0.9 },
    material,
    ...(material.kind === 'net' && { frame: { rodWidthM: 0.01, openSides: ['left' as const] } }),
  };
}

const numbered = <T>(count: number, prefix: string, make: (index: number) => T): Record<string, T> =>
  Object.fromEntries(Array.from({ length: count }, (_, i) => [`${prefix}-${i + 1}`, make(i)]));

/**
 * Four walls round each room on one floor, six lamps to five rooms, four pieces of grip to each, a dozen meters and marks,
 * two setups. Fewer rooms are the same rooms, lamps and pieces in the same places as far as they go.
 */
export function largeScene(roomCount = ROOMS): SceneDocument {
  const rooms = Array.from({ length: roomCount }, (_, i) => roomAt(i));
  const floor: Surface = {
    name: 'Floor',
    kind: 'floor',
    pose: { positionM: [0, 0, 0], aim: { panDeg: 180, tiltDeg: 90 } },
    shape: { kind: 'rectangle', widthM: COLUMNS * PITCH.xM, heightM: Math.ceil(roomCount / COLUMNS) * PITCH.yM },
    reflectance: 0.2,
  };
  const meter = (index: number): Meter => ({
    name: `M${index + 1}`,
    positionM: [rooms[index % roomCount]!.xM + 2, rooms[index % roomCount]!.yM + 2, 1.4],
    receptor: 'flat',
    aim: { panDeg: 270, tiltDeg: 0 },
  });
  const sources = numbered((roomCount * 6) / 5, 'lamp', (i) =>
    lampAt(i, rooms[i % roomCount]!, sequence(1 + 7919 * (i + 1))),
  );
  const modifiers = numbered(roomCount * 4, 'piece', (i) =>
    pieceAt(i, rooms[i % roomCount]!, sequence(2 + 104_729 * (i + 1))),
  );
  return {
    format: 'farsun-scene',
    formatVersion: 1,
    name: 'Harbour stores',
    production: 'The Salt Ledger',
    camera: { iso: 800, framesPerSecond: 24, shutterAngleDeg: 180, tStop: 4, whiteBalanceK: 5600 },
    story: { playsSun: [{ sourceId: 'lamp-1', surfaceId: 'store-1-east' }] },
    surfaces: Object.assign({ floor }, ...rooms.map(wallsOf)) as Record<string, Surface>,
    meters: numbered(12, 'meter', meter),
    marks: numbered(12, 'mark', (i) => ({
      name: `Mark ${i + 1}`,
      positionM: [rooms[i % roomCount]!.xM + 3, rooms[i % roomCount]!.yM + 1.5, 0],
    })),
    setups: [
      { id: 'a', name: 'All rooms', sources, modifiers },
      { id: 'b', name: 'Bare rooms', sources, modifiers: {} },
    ],
  };
}
