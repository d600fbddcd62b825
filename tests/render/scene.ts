/** A small room for the drawing tests: a west wall with a window, a north wall, a floor, and one lamp outside. */
import type { SheetState } from '../../src/render/contract';
import type { SceneDocument } from '../../src/scene/schema';
import { createThingsCache, type SceneThings } from '../../src/render/sceneThings';

export const room: SceneDocument = {
  format: 'farsun-scene',
  formatVersion: 1,
  name: 'Drawing test room',
  camera: { iso: 800, framesPerSecond: 24, shutterAngleDeg: 180, tStop: 2.8 },
  story: { sun: { altitudeDeg: 20, azimuthDeg: 270 } },
  surfaces: {
    north: {
      name: 'North wall',
      kind: 'wall',
      pose: { positionM: [0, 5, 0], aim: { panDeg: 180, tiltDeg: 0 } },
      shape: { kind: 'rectangle', widthM: 9, heightM: 3 },
      thicknessM: 0.2,
    },
    west: {
      name: 'West wall',
      kind: 'wall',
      pose: { positionM: [0, 0, 0], aim: { panDeg: 90, tiltDeg: 0 } },
      shape: { kind: 'rectangle', widthM: 5, heightM: 3 },
      thicknessM: 0.3,
      openings: {
        window: {
          leftM: 2,
          sillM: 1,
          shape: { kind: 'rectangle', widthM: 1.2, heightM: 1.5 },
          window: { columns: 2, rows: 2, barWidthM: 0.03 },
        },
      },
    },
    east: {
      name: 'East wall',
      kind: 'wall',
      pose: { positionM: [9, 5, 0], aim: { panDeg: 270, tiltDeg: 0 } },
      shape: { kind: 'rectangle', widthM: 5, heightM: 3 },
      thicknessM: 0.2,
    },
    floor: {
      name: 'Floor',
      kind: 'floor',
      pose: { positionM: [0, 0, 0], aim: { panDeg: 180, tiltDeg: 90 } },
      shape: { kind: 'rectangle', widthM: 9, heightM: 5 },
    },
  },
  meters: { m1: { name: 'M1', positionM: [4, 5, 1.3], receptor: 'flat', aim: { panDeg: 180, tiltDeg: 0 } } },
  setups: [
    {
      id: 'a',
      name: 'A',
      sources: {
        l1: {
          type: 'lamp',
          name: 'L1',
          pose: { positionM: [-4, 2.6, 1.75], aim: { panDeg: 90, tiltDeg: 0 } },
          emitter: { shape: 'disc', diameterM: 0.1 },
          distribution: { kind: 'beam', beamAngleDeg: 40, fieldAngleDeg: 60 },
          output: { kind: 'candela', candela: 10_000 },
          stand: { bags: 1 },
        },
      },
      modifiers: {},
    },
  ],
};

export const thingsOfRoom = (document: SceneDocument = room): SceneThings => createThingsCache()(document, 'a');

/** The room with its lamp changed. */
export function withLamp(change: Record<string, unknown>): SceneDocument {
  const setup = room.setups[0]!;
  const lamp = { ...setup.sources['l1']!, ...change } as (typeof setup.sources)[string];
  return { ...room, setups: [{ ...setup, sources: { l1: lamp } }] };
}

/** The room with a flag square across the beam, 1 m in front of the lens. */
export function withFlag(): SceneDocument {
  const setup = room.setups[0]!;
  return {
    ...room,
    setups: [
      {
        ...setup,
        modifiers: {
          flag: {
            name: 'Flag',
            pose: { positionM: [-3, 2.6, 1.75], aim: { panDeg: 270, tiltDeg: 0 } },
            shape: { kind: 'rectangle', widthM: 0.2, heightM: 0.2 },
            material: { kind: 'opaque' },
          },
        },
      },
    ],
  };
}

/** What a drawing shows of a scene where nothing is chosen, solved or read: of the small room, if nothing else is said. */
export const sheetStateOf = (document: SceneDocument, more: Partial<SheetState> = {}): SheetState => ({
  document,
  setupId: 'a',
  surfaceId: 'north',
  sourceId: 'l1',
  selection: null,
  hover: null,
  theme: 'dark',
  units: { length: 'metres', illuminance: 'lux' },
  field: null,
  quantity: 'illuminance',
  referenceLx: 117.6,
  checks: [],
  checksOutOfDate: false,
  figure: null,
  showTwin: false,
  isSwiped: false,
  twinChecks: [],
  reading: null,
  ghost: null,
  snaps: [],
  ...more,
});
