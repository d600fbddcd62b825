/** The scene one starts with: a floor and one wall to light, and a camera to light it for. */
import { SCENE_FORMAT, SCENE_FORMAT_VERSION, type SceneDocument } from './schema';

const WIDTH_M = 6;
const DEPTH_M = 5;
const HEIGHT_M = 3;

/** A new scene: floor 6 × 5 m, its far wall 3 m high with the lit face towards the floor; ISO 800, 24 fps, 180°, T4. */
export function emptyScene(name = 'New scene'): SceneDocument {
  return {
    format: SCENE_FORMAT,
    formatVersion: SCENE_FORMAT_VERSION,
    name,
    camera: { iso: 800, framesPerSecond: 24, shutterAngleDeg: 180, tStop: 4 },
    surfaces: {
      floor: {
        name: 'Floor',
        kind: 'floor',
        pose: { positionM: [0, 0, 0], aim: { panDeg: 180, tiltDeg: 90 } },
        shape: { kind: 'rectangle', widthM: WIDTH_M, heightM: DEPTH_M },
        reflectance: 0.2,
      },
      'far-wall': {
        name: 'Far wall',
        kind: 'wall',
        pose: { positionM: [0, DEPTH_M, 0], aim: { panDeg: 180, tiltDeg: 0 } },
        shape: { kind: 'rectangle', widthM: WIDTH_M, heightM: HEIGHT_M },
        reflectance: 0.6,
        thicknessM: 0.1,
      },
    },
    meters: {},
    setups: [{ id: 'a', name: 'A', sources: {}, modifiers: {} }],
  };
}
