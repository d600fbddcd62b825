/** A room of one wall, one floor and one lamp for tests of the screens; no figure of it is a claim about light. */
import type { SceneDocument } from '../../src/scene/schema';

export function tinyScene(): SceneDocument {
  return {
    format: 'farsun-scene',
    formatVersion: 1,
    name: 'Test room',
    camera: { iso: 800, framesPerSecond: 24, shutterAngleDeg: 180, tStop: 4, whiteBalanceK: 5600 },
    surfaces: {
      'north-wall': {
        name: 'north wall',
        kind: 'wall',
        pose: { positionM: [0, 5, 0], aim: { panDeg: 180, tiltDeg: 0 } },
        shape: { kind: 'rectangle', widthM: 7, heightM: 3 },
        openings: {
          'window-1': { leftM: 2, sillM: 1, shape: { kind: 'rectangle', widthM: 1.2, heightM: 1.5 } },
        },
      },
      floor: {
        name: 'floor',
        kind: 'floor',
        pose: { positionM: [0, 0, 0], aim: { panDeg: 180, tiltDeg: 90 } },
        shape: { kind: 'rectangle', widthM: 7, heightM: 5 },
      },
    },
    meters: { m1: { name: 'M1', positionM: [3, 4, 1], receptor: 'flat', aim: { panDeg: 180, tiltDeg: 0 } } },
    setups: [
      {
        id: 'a',
        name: 'Bare lamp',
        sources: {
          l1: {
            type: 'lamp',
            name: 'L1',
            pose: { positionM: [2, 1, 2], aim: { panDeg: 0, tiltDeg: 0 } },
            emitter: { shape: 'disc', diameterM: 0.1 },
            distribution: { kind: 'beam', beamAngleDeg: 26 },
            output: { kind: 'candela', candela: 20_000 },
          },
        },
        modifiers: {
          n1: {
            name: 'N1',
            pose: { positionM: [2, 2, 2], aim: { panDeg: 180, tiltDeg: 0 } },
            shape: { kind: 'rectangle', widthM: 0.6, heightM: 0.9 },
            material: { kind: 'net', stops: 1 },
          },
        },
      },
      { id: 'b', name: 'Nothing lit', sources: {}, modifiers: {} },
    ],
  };
}
