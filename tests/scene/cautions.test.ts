import { describe, expect, test } from 'vitest';
import { findCautions } from '../../src/scene/cautions';
import type { Lamp, Modifier, Pose, SceneDocument, Surface } from '../../src/scene/schema';
import { sampleScene } from './sample';

/** The sample with one thing of setup A changed. */
function withLamp(change: Partial<Lamp>): SceneDocument {
  const scene = sampleScene();
  const lamp = { ...(scene.setups[0]?.sources['key-lamp'] as Lamp), ...change };
  return withSetup(scene, { sources: { 'key-lamp': lamp } });
}
function withNet(change: Partial<Modifier>): SceneDocument {
  const scene = sampleScene();
  const net = { ...(scene.setups[0]?.modifiers['side-net'] as Modifier), ...change };
  return withSetup(scene, { modifiers: { 'side-net': net } });
}
const withSetup = (scene: SceneDocument, change: object): SceneDocument => ({
  ...scene,
  setups: scene.setups.map((setup, index) => (index === 0 ? { ...setup, ...change } : setup)),
});
const withWest = (change: Partial<Surface>): SceneDocument => {
  const scene = sampleScene();
  return { ...scene, surfaces: { ...scene.surfaces, west: { ...(scene.surfaces['west'] as Surface), ...change } } };
};
const sentences = (scene: SceneDocument): string[] => findCautions(scene, 'a').map((caution) => caution.sentence);
const lampAt = (x: number, y: number, z: number): SceneDocument =>
  withLamp({ pose: { positionM: [x, y, z], aim: { panDeg: 90, tiltDeg: 0 } } });

test('a sound scene has no cautions, nor has a setup that is not there', () => {
  expect(findCautions(sampleScene(), 'a')).toEqual([]);
  expect(findCautions(sampleScene(), 'none')).toEqual([]);
});

describe('places that cannot be meant', () => {
  // The west wall's lit face is x = 0, its right is +y, and its thickness 0.3 m lies behind it, at x from -0.3 to 0.
  test.each<[string, SceneDocument, string[]]>([
    ['in the wall', lampAt(-0.15, 4.5, 1), ['L1 stands inside the thickness of West wall. Move it out.']],
    ['in its window', lampAt(-0.15, 3.2, 1.5), []],
    ['in its hole', lampAt(-0.15, 0.3, 2.1), []],
    ['before it', lampAt(0.02, 4.5, 1), []],
    ['behind it', lampAt(-0.32, 4.5, 1), []],
    ['beside it', lampAt(-0.15, 5.2, 1), []],
    ['under the floor', lampAt(4, 2, -0.5), ['L1 is under Floor. Raise it.']],
    ['low, but beside the floor', lampAt(-2, 2, -0.5), []],
  ])('%s', (_name, scene, expected) => expect(sentences(scene)).toEqual(expected));

  test.each<[string, Pose, boolean]>([
    ['on the lit face', { positionM: [0.0005, 4, 1], aim: { panDeg: 90, tiltDeg: 0 } }, true],
    ['on the lit face, back to front', { positionM: [0, 4, 1], aim: { panDeg: -90, tiltDeg: 0 } }, true],
    ['on the outer face', { positionM: [-0.3, 4, 1], aim: { panDeg: 90, tiltDeg: 0 } }, true],
    ['1 cm off', { positionM: [0.01, 4, 1], aim: { panDeg: 90, tiltDeg: 0 } }, false],
    ['turned', { positionM: [0, 4, 1], aim: { panDeg: 91, tiltDeg: 0 } }, false],
    ['in the plane, beyond the wall', { positionM: [0, 6, 1], aim: { panDeg: 90, tiltDeg: 0 } }, false],
    ['in the plane, over its edge', { positionM: [0, 5.2, 1], aim: { panDeg: 90, tiltDeg: 0 } }, true],
  ])('net %s', (_name, pose, expected) => {
    const sentence = 'N1 lies in the plane of West wall, so neither is in front. Move it 1 cm off.';
    const wanted = expected ? [{ kind: 'inPlaneOfSurface', objectIds: ['side-net', 'west'], sentence }] : [];
    expect(findCautions(withNet({ pose }), 'a')).toEqual(wanted);
  });

  test('suns', () => {
    const sun = { type: 'sun', name: 'Sun', altitudeDeg: -2, azimuthDeg: 0, normalIlluminanceLx: 1 } as const;
    expect(sentences(withSetup(sampleScene(), { sources: { sun } }))).toEqual([
      'Sun is below the horizon and gives no light.',
    ]);
    expect(sentences(withLamp({ off: true }))).toEqual(['L1 plays the sun and is off. Turn it on.']);
    expect(sentences(withLamp({ level: 0 }))).toEqual(['L1 plays the sun and is off. Turn it on.']);
  });
});

describe('what is not computed yet', () => {
  const shape = { kind: 'pattern', widthM: 1, heightM: 1, seed: 1, holes: 9 } as const;
  const quay = sampleScene().surfaces['west']?.openings?.['quay'];
  if (quay === undefined) throw new Error('the sample has a window');
  const withWindow = (change: object): SceneDocument =>
    withWest({ openings: { quay: { ...quay, window: { columns: 1, rows: 1, barWidthM: 0, ...change } } } });
  test.each<[SceneDocument, string[]]>([
    [withLamp({ accessories: [{ kind: 'wireScrim', stops: 1 }] }), []],
    [
      withLamp({
        accessories: [
          { kind: 'barnDoors', leaves: [] },
          { kind: 'snoot', lengthM: 1, diameterM: 1 },
          { kind: 'eggCrate', cellM: 1, depthM: 1 },
          { kind: 'gel', transmittance: 1 },
          { kind: 'gel', transmittance: 0.5 },
        ],
      }),
      // L1 is a projection spot, which no crate goes on.
      ['L1 carries an egg crate, which is not computed yet.'],
    ],
    [
      withLamp({
        emitter: { shape: 'tube', lengthM: 1, diameterM: 0.03 },
        accessories: [
          { kind: 'barnDoors', leaves: [] },
          { kind: 'snoot', lengthM: 1, diameterM: 1 },
          { kind: 'eggCrate', cellM: 1, depthM: 1 },
          { kind: 'gel', transmittance: 1 },
        ],
      }),
      [
        'L1 carries barn doors, which are not computed yet.',
        'L1 carries a snoot, which is not computed yet.',
        'L1 carries an egg crate, which is not computed yet.',
      ],
    ],
    [
      withLamp({
        distribution: {
          kind: 'lensed',
          lensDiameterM: 0.2,
          focalLengthM: 0.3,
          sourceDiameterM: 0.02,
          lampToLensM: 0.1,
          beamAngleDeg: 20,
        },
      }),
      [],
    ],
    [withLamp({ distribution: { kind: 'web', webId: 'old' } }), []],
    [
      withLamp({
        distribution: { kind: 'projection', fieldAngleDeg: 20, edgeWidthDeg: 1, pattern: { seed: 1, holes: 5 } },
      }),
      [],
    ],
    [
      withLamp({
        distribution: { kind: 'web', webId: 'old' },
        emitter: { shape: 'tube', lengthM: 1, diameterM: 0.04, litSectorDeg: 120 },
      }),
      ['L1 carries a lit sector beside a photometric file, which is not computed yet.'],
    ],
    [
      withNet({ material: { kind: 'diffusion', directTransmittance: 0.1, diffuseTransmittance: 0.5 } }),
      ['N1 carries diffusion, which is not computed yet.'],
    ],
    [withNet({ material: { kind: 'bounce', reflectance: 0.8 } }), ['N1 carries a bounce, which is not computed yet.']],
    [withNet({ material: { kind: 'mirror', reflectance: 0.8 } }), []],
    [withNet({ material: { kind: 'gel', transmittance: 0.8, miredShift: 0 } }), []],
    [withNet({ material: { kind: 'gel', transmittance: 0.8, miredShift: 109 } }), []],
    [withNet({ shape }), []],
    [withWindow({ glass: { transmittance: 0.9 } }), []],
    [
      withWindow({ glass: { refractiveIndex: 1.5 }, blind: { pitchM: 0.05, slatWidthM: 0.05, tiltDeg: 30 } }),
      ['West wall, quay, carries a blind, whose slats reflect light that is not computed yet.'],
    ],
  ])('%#', (scene, expected) => expect(sentences(scene)).toEqual(expected));
});
