/**
 * W4, of our own making: a tilted receiver under a projection spot, a point web and a tube, behind a woven net, a
 * window of six panes with a reveal and a cucoloris of 40 holes. And rows of plain things for the growth series.
 */
import type { Point2 } from '../../src/scene/schema';
import { convexPieces } from '../../src/sim/geometry/convexPieces';
import { frameFromPose, worldFromLocal, type Frame } from '../../src/scene/geometry/frames';
import type { BlockerLayer, CompiledSource, ConvexPiece, Profile } from '../../src/sim/solve/compiled';
import { rectangleOutline } from '../../src/sim/solve/shapes';
import { anyLamp, evenAxis, publishedWorkload, sceneOn, type Workload } from './workload';

const GRID = 256;

/** A small generator with a seed (xorshift), 0..1. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}

const facing = (positionM: [number, number, number], panDeg: number, tiltDeg: number, rollDeg = 0): Frame =>
  frameFromPose({ positionM, aim: { panDeg, tiltDeg, rollDeg } });

function layer(
  id: string,
  frame: Frame,
  solids: readonly (readonly Point2[])[],
  holes: readonly (readonly Point2[])[],
  transmittance = 0,
  depthM = 0,
): BlockerLayer {
  const piecesOf = (outline: readonly Point2[], hole: boolean): ConvexPiece[] =>
    convexPieces(outline).map((piece) => ({
      corners: piece.map((corner) => worldFromLocal(frame, corner, depthM)),
      hole,
    }));
  return {
    id,
    ownSurfaceId: null,
    onlySourceId: null,
    role: 'set',
    origin: worldFromLocal(frame, [0, 0], depthM),
    normal: frame.forward,
    opacity: 1 - transmittance,
    weave: null,
    pieces: [...solids.flatMap((one) => piecesOf(one, false)), ...holes.flatMap((one) => piecesOf(one, true))],
  };
}

const box = (x: number, y: number, width: number, height: number): Point2[] => rectangleOutline(x, y, width, height);

/** Wall faces 0.2 m apart with one opening, and the bars of three panes by two half way between. */
function sixPaneWindow(frame: Frame): BlockerLayer[] {
  const opening = box(-0.6, -0.45, 1.2, 0.9);
  const wall = box(-3, -3, 6, 6);
  const uprights = [-0.22, 0.18].map((x) => box(x, -0.45, 0.04, 0.9));
  const rails = [-0.6, -0.18, 0.22].map((x, i) => box(x, -0.02, i === 1 ? 0.36 : 0.38, 0.04));
  return [
    layer('wall', frame, [wall], [opening]),
    layer('wall outer face', frame, [wall], [opening], 0, 0.2),
    layer('bars', frame, [...uprights, ...rails], [], 0, 0.1),
  ];
}

/** A sheet with 8 x 5 holes of seven corners, none the same. */
function cucoloris(frame: Frame): BlockerLayer {
  const draw = seeded(20_241);
  const holes = Array.from({ length: 40 }, (_, i): Point2[] => {
    const x = -0.5 + ((i % 8) + 0.5) * 0.125 + 0.02 * (draw() - 0.5);
    const y = -0.35 + (Math.floor(i / 8) + 0.5) * 0.14 + 0.02 * (draw() - 0.5);
    return Array.from({ length: 7 }, (_unused, k): Point2 => {
      const turn = (2 * Math.PI * k) / 7;
      const radius = 0.03 + 0.02 * draw();
      return [x + radius * Math.cos(turn), y + radius * Math.sin(turn)];
    });
  });
  return layer('cucoloris', frame, [box(-0.6, -0.45, 1.2, 0.9)], holes);
}

function sources(): CompiledSource[] {
  const common = { source: anyLamp, level: 1, outletM: 0, colour: null, image: null };
  const projection: Profile = {
    kind: 'projection',
    halfFieldRad: 0.24,
    edgeWidthRad: 0.02,
    peaking: 0.6,
    perFocusM: 1 / 6,
    pattern: null,
    cuts: [
      { right: 0.995, up: 0.0999, offset: 0.14, edgeWidthRad: 0.012 },
      { right: -0.05, up: 0.99875, offset: 0.11, edgeWidthRad: 0.005 },
    ],
  };
  const [gammaCount, cCount] = [37, 25];
  const shares = Float64Array.from({ length: gammaCount * cCount }, (_, i) => {
    const gamma = (Math.floor(i / cCount) * Math.PI) / (gammaCount - 1);
    const c = ((i % cCount) * 2 * Math.PI) / (cCount - 1);
    return Math.exp(-2 * gamma * gamma) * (1 - 0.15 * Math.sin(gamma) * Math.cos(2 * c));
  });
  const web: Profile = {
    kind: 'web',
    grid: {
      system: 'C',
      rows: evenAxis(gammaCount, Math.PI / (gammaCount - 1)),
      columns: evenAxis(cCount, (2 * Math.PI) / (cCount - 1)),
      values: shares,
    },
  };
  return [
    {
      ...common,
      id: 'spot',
      frame: facing([0.8, -5.2, 2.6], 352, -14),
      shape: { kind: 'disc', radiusM: 0.09 },
      profile: projection,
      peakCandela: 60_000,
    },
    {
      ...common,
      id: 'web',
      frame: facing([-1.1, -3.6, 2.2], 18, -16),
      shape: { kind: 'point' },
      profile: web,
      peakCandela: 9000,
    },
    {
      ...common,
      id: 'tube',
      frame: facing([0.3, -3.1, 1.9], 5, -10, 12),
      shape: { kind: 'tube', halfLengthM: 0.6, radiusM: 0.02, lit: null },
      profile: { kind: 'cosine', exponent: 1 },
      peakCandela: 2500,
    },
  ];
}

/** The receiver leans back by 20 degrees and is turned by 8. */
export function tiltedRoom(): Workload {
  const leaning = facing([-1.5, 1.2, 0], 188, 20);
  const netFrame = facing([-0.3, -2.2, 1.7], 190, 8);
  const net = layer('net', netFrame, [box(-0.45, -0.3, 0.9, 0.6)], [], 0.5);
  const layers = [
    ...sixPaneWindow(facing([0, -1, 1.4], 180, 0)),
    { ...net, weave: { stops: 1, frame: netFrame } },
    cucoloris(facing([0.1, -1.9, 1.6], 176, -4)),
  ];
  const scene = sceneOn(leaning, 3, 2.4, sources(), layers);
  return { id: 'W4', scene, surfaceId: 'receiver', columns: GRID, rows: GRID, expected: null };
}

export const workloadOf = (id: string): Workload => (id === 'W4' ? tiltedRoom() : publishedWorkload(id));

/** `count` disc lamps in a row over a floor of 6 x 3 m, behind `flags` small flags that do not overlap. */
export function rowOf(count: number, flags: number, cells: number): Workload {
  const floor: Frame = { origin: [0, 0, 0], right: [1, 0, 0], up: [0, 1, 0], forward: [0, 0, 1] };
  const lamps = Array.from({ length: count }, (_, i): CompiledSource => ({
    source: anyLamp,
    level: 1,
    outletM: 0,
    colour: null,
    image: null,
    id: `lamp-${i}`,
    frame: facing([(6 * (i + 0.5)) / count, 1.5, 4], 0, -90),
    shape: { kind: 'disc', radiusM: 0.1 },
    profile: { kind: 'cosine', exponent: 1 },
    peakCandela: 5000,
  }));
  const across = Math.max(1, Math.ceil(Math.sqrt(2 * flags)));
  const down = Math.max(1, Math.ceil(flags / across));
  const layers = Array.from({ length: flags }, (_, i) => {
    const at = [(6 * ((i % across) + 0.5)) / across, (3 * (Math.floor(i / across) + 0.5)) / down, 0.6] as [
      number,
      number,
      number,
    ];
    return layer(`flag-${i}`, facing(at, 0, 90), [box(-1.2 / across, -0.6 / down, 2.4 / across, 1.2 / down)], []);
  });
  const scene = sceneOn(floor, 6, 3, lamps, layers);
  return { id: 'row', scene, surfaceId: 'receiver', columns: cells, rows: cells, expected: null };
}
