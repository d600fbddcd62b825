/** A scene of the invented production "The Salt Ledger" that uses every part of the format once. */
import type { SceneDocument } from '../../src/scene/schema';

/** A round beam of 4000 cd that has fallen to nothing at 20 degrees. */
const QUAY_SPOT = `IESNA:LM-63-2002
[TEST] invented
[MANUFAC] Salt Ledger stores
TILT=NONE
1 -1 1 5 1 1 2 -0.15 -0.15 0
1 1 100
0 5 10 15 20
0
4000 3500 1800 300 0
`;

/** The smallest PNG there is: one dot. */
const ONE_DOT =
  'data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';

export function sampleScene(): SceneDocument {
  return {
    format: 'farsun-scene',
    formatVersion: 1,
    name: 'Customs office, shaft',
    production: 'The Salt Ledger',
    northDeg: 30,
    display: { length: 'feet', illuminance: 'footcandles' },
    camera: { iso: 800, framesPerSecond: 24, shutterAngleDeg: 180, tStop: 2.8, whiteBalanceK: 3600 },
    story: {
      place: { name: 'Harbour', latitudeDeg: 52, longitudeDeg: 1.5 },
      date: '2025-10-18',
      clock: '16:30',
      playsSun: [{ sourceId: 'key-lamp', surfaceId: 'plaster' }],
      keyMeterId: 'face',
      lampSpace: {
        outsideM: [
          [
            [-8, 0],
            [-0.5, 0],
            [-0.5, 5],
            [-8, 5],
          ],
        ],
        ceilingHeightM: 6,
      },
    },
    surfaces: {
      plaster: {
        name: 'Plaster wall',
        kind: 'wall',
        pose: { positionM: [0, 5, 0], aim: { panDeg: 180, tiltDeg: 0 } },
        shape: { kind: 'rectangle', widthM: 9, heightM: 3.3 },
        reflectance: 0.6,
      },
      west: {
        name: 'West wall',
        kind: 'wall',
        pose: { positionM: [0, 0, 0], aim: { panDeg: 90, tiltDeg: 0 } },
        shape: {
          kind: 'polygon',
          outlineM: [
            [0, 0],
            [5, 0],
            [5, 3.3],
            [0, 3.3],
          ],
          holesM: [
            [
              [0.2, 2],
              [0.4, 2],
              [0.3, 2.4],
            ],
          ],
        },
        thicknessM: 0.3,
        openings: {
          quay: {
            leftM: 2.55,
            sillM: 0.95,
            shape: { kind: 'rectangle', widthM: 1.3, heightM: 1.8 },
            window: { columns: 2, rows: 3, barWidthM: 0.03 },
          },
        },
      },
      floor: {
        name: 'Floor',
        kind: 'floor',
        pose: { positionM: [0, 0, 0], aim: { panDeg: 180, tiltDeg: 90 } },
        shape: { kind: 'rectangle', widthM: 9, heightM: 5 },
      },
    },
    meters: {
      face: { name: 'F1', positionM: [1.55, 4.62, 1.45], receptor: 'flat', aim: { panDeg: 238, tiltDeg: 0 } },
      wall: { name: 'W1', positionM: [2, 5, 1.3], receptor: 'dome', aim: { atM: [2, 0, 1.3] } },
    },
    marks: { clerk: { name: 'Clerk', positionM: [1.55, 4.62, 0] } },
    pictures: {
      survey: {
        name: 'Survey',
        image: ONE_DOT,
        widthPx: 1,
        heightPx: 1,
        metresPerPixel: 9,
        positionM: [4.5, 2.5, 0],
        turnDeg: 2,
        opacity: 0.4,
      },
    },
    dimensions: {
      throw: {
        name: 'Throw',
        from: { kind: 'source', id: 'key-lamp' },
        to: { kind: 'surface', id: 'plaster', side: 'left' },
        offsetM: 0.4,
      },
      jamb: {
        name: 'Jamb',
        from: { kind: 'opening', surfaceId: 'west', id: 'quay', side: 'right' },
        to: { atM: [0, 0, 0] },
      },
    },
    groups: { shaft: { name: 'Shaft', memberIds: ['key-lamp', 'side-net', 'clerk'] } },
    setups: [
      {
        id: 'a',
        name: 'A',
        sources: {
          'key-lamp': {
            type: 'lamp',
            name: 'L1',
            level: 0.8,
            pose: { positionM: [-6, 0.2, 3.35], aim: { atM: [3, 5, 1.3] } },
            emitter: { shape: 'disc', diameterM: 0.12 },
            distribution: { kind: 'projection', fieldAngleDeg: 36, edgeWidthDeg: 1.5 },
            output: { kind: 'candela', candela: 60000 },
            basis: 'typical',
            kitId: 'spot',
            power: { mainsW: 600, circuitId: 'k1' },
          },
          sun: { type: 'sun', name: 'Sun', off: true, altitudeDeg: 10.97, azimuthDeg: 238, normalIlluminanceLx: 40000 },
        },
        modifiers: {
          'side-net': {
            name: 'N1',
            pose: { positionM: [-4, 1, 2.5], aim: { panDeg: 60, tiltDeg: 0 } },
            shape: { kind: 'rectangle', widthM: 0.6, heightM: 0.9 },
            material: { kind: 'net', stops: 0.5 },
            frame: { rodWidthM: 0.01, openSides: ['left'] },
            kitId: 'net',
          },
        },
      },
      { id: 'b', name: 'B', sources: {}, modifiers: {} },
    ],
    kit: {
      spot: { name: 'Spot 600', kind: 'lamp', count: 2, typical: true },
      net: { name: 'Single net', kind: 'grip', count: 4 },
    },
    circuits: { k1: { name: 'K1', voltageV: 230, breakerA: 16 } },
    webs: { old: { name: 'Quay spot', text: QUAY_SPOT } },
    titleBlock: { title: 'Customs office', revisions: ['first'] },
  };
}

/** The sample with one change made by `edit`, as the text of its file. */
export function editedText(edit: (scene: Record<string, never>) => void): string {
  const scene = JSON.parse(JSON.stringify(sampleScene())) as Record<string, never>;
  edit(scene);
  return JSON.stringify(scene, null, 2);
}
