/** The speed workloads of tests/reference/workloads.json as compiled scenes, and W4, which is our own. */
import { readFileSync } from 'node:fs';
import type { Point2, Source } from '../../src/scene/schema';
import { convexPieces, counterClockwise } from '../../src/sim/geometry/convexPieces';
import type { Frame } from '../../src/scene/geometry/frames';
import { addScaled, normalise, scale, type Vec3 } from '../../src/scene/geometry/vector';
import { axisOf, type Axis } from '../../src/sim/photometry/web/grid';
import type { BlockerLayer, CompiledScene, CompiledSource, ConvexPiece, Profile } from '../../src/sim/solve/compiled';
import { sceneOf, SETUP } from '../validation/scenes';

interface SourceData {
  readonly id: string;
  readonly kind: 'point' | 'disc' | 'rect' | 'tube';
  readonly c: Vec3;
  readonly n: Vec3;
  readonly U: Vec3;
  readonly V: Vec3;
  readonly radius?: number;
  readonly exponent?: number;
  readonly length?: number;
  readonly diameter?: number;
  readonly I0?: number;
  readonly gammaStepDeg?: number;
  readonly cStepDeg?: number;
  readonly nGamma?: number;
  readonly nC?: number;
  readonly candela?: readonly number[];
}
interface ModifierData {
  readonly id: string;
  readonly T: number;
  readonly o: Vec3;
  readonly a: Vec3;
  readonly b: Vec3;
  readonly n: Vec3;
  readonly outer: readonly Point2[];
  readonly holes: readonly (readonly Point2[])[];
}
interface Expected {
  readonly mean: readonly number[];
  readonly peakTotal: number;
  /** Column, row, then lux of each source. */
  readonly probes: readonly (readonly number[])[];
}
interface WorkloadFile {
  readonly receiver: { readonly width: number; readonly height: number };
  readonly sources: readonly SourceData[];
  readonly modifiers: readonly ModifierData[];
  readonly workloads: Readonly<
    Record<
      string,
      {
        readonly nx: number;
        readonly ny: number;
        readonly sources: readonly string[];
        readonly modifiers: readonly string[];
      }
    >
  >;
  readonly expected: Readonly<Record<string, Expected | string>>;
}

export interface Workload {
  readonly id: string;
  readonly scene: CompiledScene;
  readonly surfaceId: string;
  readonly columns: number;
  readonly rows: number;
  /** Values from outside the project; null for W4. */
  readonly expected: Expected | null;
}

const file = JSON.parse(readFileSync(new URL('../reference/workloads.json', import.meta.url), 'utf8')) as WorkloadFile;

const SURFACE = 'receiver';

/** The document behind a compiled source is not read by the kernel; a plain lamp stands in for it. */
export const anyLamp: Source = {
  type: 'lamp',
  name: 'Lamp',
  pose: { positionM: [0, 0, 0], aim: { panDeg: 0, tiltDeg: 0 } },
  emitter: { shape: 'point' },
  distribution: { kind: 'uniform' },
  output: { kind: 'candela', candela: 1 },
} as Source;

const HALF_TURN_DEG = 180;
const toRadians = (angleDeg: number): number => (angleDeg * Math.PI) / HALF_TURN_DEG;

/** Even angles from 0. */
export const evenAxis = (count: number, stepRad: number): Axis =>
  axisOf(Float64Array.from({ length: count }, (_, i) => i * stepRad));

function profileOf(data: SourceData): { profile: Profile; peakCandela: number } {
  if (data.candela === undefined) {
    return { profile: { kind: 'cosine', exponent: data.exponent ?? 1 }, peakCandela: data.I0! };
  }
  const peakCandela = Math.max(...data.candela);
  const profile: Profile = {
    kind: 'web',
    grid: {
      system: 'C',
      rows: evenAxis(data.nGamma!, toRadians(data.gammaStepDeg!)),
      columns: evenAxis(data.nC!, toRadians(data.cStepDeg!)),
      values: Float64Array.from(data.candela, (candela) => candela / peakCandela),
    },
  };
  return { profile, peakCandela };
}

function sourceOf(id: string): CompiledSource {
  const data = file.sources.find((one) => one.id === id)!;
  const { profile, peakCandela } = profileOf(data);
  // U points to the right as seen from behind; a frame's right is as seen by somebody who looks at its face.
  const frame: Frame = {
    origin: data.c,
    forward: data.n,
    right: data.kind === 'tube' ? normalise(data.U) : scale(normalise(data.U), -1),
    up: normalise(data.V),
  };
  const half = (axis: Vec3): number => Math.hypot(...axis);
  const shape = {
    point: { kind: 'point' },
    disc: { kind: 'disc', radiusM: data.radius ?? 0 },
    rect: { kind: 'rectangle', halfWidthM: half(data.U), halfHeightM: half(data.V) },
    tube: { kind: 'tube', halfLengthM: (data.length ?? 0) / 2, radiusM: (data.diameter ?? 0) / 2, lit: null },
  } as const;
  const common = { source: anyLamp, level: 1, outletM: 0, colour: null, image: null };
  return { id, ...common, frame, shape: shape[data.kind], profile, peakCandela };
}

const samePlane = (a: ModifierData, b: ModifierData): boolean =>
  a.T === b.T && [a.o, a.a, a.b].every((vector, i) => vector.every((value, k) => value === [b.o, b.a, b.b][i]![k]));

/** One layer of the modifiers that lie in one plane and dim alike; they do not overlap. */
function layerOf(members: readonly ModifierData[]): BlockerLayer {
  const { id, T, o, a, b, n } = members[0]!;
  const placed = (outline: readonly Point2[]): Vec3[] => outline.map(([x, y]) => addScaled(addScaled(o, a, x), b, y));
  const piecesOf = (outline: readonly Point2[], hole: boolean): ConvexPiece[] =>
    convexPieces(counterClockwise(outline)).map((piece) => ({ corners: placed(piece), hole }));
  const pieces = members.flatMap((one) => [
    ...piecesOf(one.outer, false),
    ...one.holes.flatMap((hole) => piecesOf(hole, true)),
  ]);
  const role = T === 0 ? ('cut' as const) : ('shade' as const);
  return {
    id,
    ownSurfaceId: null,
    onlySourceId: null,
    role,
    origin: o,
    normal: n,
    opacity: 1 - T,
    weave: null,
    pieces,
  };
}

function layersOf(ids: readonly string[]): BlockerLayer[] {
  const chosen = ids.map((id) => file.modifiers.find((one) => one.id === id)!);
  const groups: ModifierData[][] = [];
  for (const one of chosen) {
    const group = groups.find((members) => samePlane(members[0]!, one));
    if (group) group.push(one);
    else groups.push([one]);
  }
  return groups.map(layerOf);
}

/** A scene over a plane rectangle whose lower left corner is the frame's origin. */
export function sceneOn(
  frame: Frame,
  widthM: number,
  heightM: number,
  sources: readonly CompiledSource[],
  layers: readonly BlockerLayer[],
): CompiledScene {
  const document = sceneOf({ sources: {} });
  const outline: Point2[] = [
    [0, 0],
    [widthM, 0],
    [widthM, heightM],
    [0, heightM],
  ];
  const bounds = { leftM: 0, bottomM: 0, widthM, heightM };
  const surface = { id: SURFACE, frame, blocks: false, outline, openings: [], bounds };
  return {
    document,
    setup: document.setups.find((setup) => setup.id === SETUP)!,
    surfaces: new Map([[SURFACE, surface]]),
    sources,
    layers,
    hardEdges: [],
    openings: [],
  };
}

const FLOOR: Frame = { origin: [0, 0, 0], right: [1, 0, 0], up: [0, 1, 0], forward: [0, 0, 1] };

/** @throws {RangeError} if the file knows no such workload */
export function publishedWorkload(id: string): Workload {
  const data = file.workloads[id];
  const expected = file.expected[id];
  if (!data || !expected || typeof expected === 'string') throw new RangeError(`no workload "${id}"`);
  const { width, height } = file.receiver;
  const scene = sceneOn(FLOOR, width, height, data.sources.map(sourceOf), layersOf(data.modifiers));
  return { id, scene, surfaceId: SURFACE, columns: data.nx, rows: data.ny, expected };
}
