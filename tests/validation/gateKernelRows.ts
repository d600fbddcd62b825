/** Rows for what shapes a lamp's own light: patterns at a gate and their focus, tubes lit over a sector, strips of cells. */
import type { Distribution, Emitter, Lamp, Output } from '../../src/scene/schema';
import type { Vec3 } from '../../src/scene/geometry/vector';
import { makeRow, type Row, type Tolerance } from './row';
import { crossing, facing, lamp, meterOf, reading, type Probe } from './scenes';

const TOPIC = '4 Gate patterns, lit sectors and strips';
const FACING_LAMP: Vec3 = [-1, 0, 0];
const METER: Tolerance = { type: 'rel', value: 0.005 };
const WIDTH: Tolerance = { type: 'rel', value: 0.02 };
type Projection = Extract<Distribution, { kind: 'projection' }>;
type Pattern = NonNullable<Projection['pattern']>;

const row = (id: string, expected: number, measured: number, unit: string, tolerance: Tolerance, source: string): Row =>
  makeRow({ id, topic: TOPIC, source, unit, expected, measured, tolerance, tests: 'kernel' });
const tan = (degrees: number): number => Math.tan((degrees * Math.PI) / 180);
const sin = (degrees: number): number => Math.sin((degrees * Math.PI) / 180);

const FIELD_DEG = 30;
const LENS_RADIUS_M = 0.05;
const gate = (pattern: Pattern, focusM?: number): Projection => ({
  kind: 'projection',
  fieldAngleDeg: FIELD_DEG,
  edgeWidthDeg: 1,
  pattern: { edgeWidthDeg: 0.02, ...pattern },
  ...(focusM === undefined ? {} : { focusM }),
});
/** At the origin, looking along +x: from behind, right is -y and up is z. */
const spot = (distribution: Distribution, emitter: Emitter): Lamp =>
  lamp(facing([0, 0, 0], 90, 0), emitter, distribution, { kind: 'candela', candela: 50_000 });
const onWall = (distanceM: number, right: number, up = 0): Probe => ({
  at: [distanceM, -right, up],
  normal: FACING_LAMP,
});
/** Share that a pattern leaves of the light of the open gate. */
function shareOf(pattern: Pattern, emitter: Emitter, focusM?: number) {
  const { pattern: _none, ...open } = gate(pattern, focusM);
  const [whole, cut] = [open, gate(pattern, focusM)].map((one) => meterOf({ sources: { lamp: spot(one, emitter) } }));
  return (distanceM: number, right: number, up = 0): number =>
    cut!(onWall(distanceM, right, up)) / whole!(onWall(distanceM, right, up));
}

function patternRows(): Row[] {
  const source = 'similar triangles at the gate; area of a chord of the lens disc (closed form)';
  const radius = tan(FIELD_DEG / 2);
  const lens: Emitter = { shape: 'disc', diameterM: 2 * LENS_RADIUS_M };
  const panes: Pattern = { kind: 'panes', columns: 2, rows: 2, barShare: 0.2 };
  // Half the window is radius / √2 wide; a pane begins half a bar, a tenth of a pane, beside its middle.
  const inner = (radius / Math.SQRT2) * 0.1;
  const point = shareOf(panes, { shape: 'point' });
  const edgeAt = crossing((right) => point(4, right, 0.3), 0.5, 0, 4 * inner * 3);
  // One bar across the middle of two tall slats: the lens point o sees the picture at (x - o) / D, focus far away.
  const slats = (openShare: number): Pattern => ({ kind: 'slats', slats: 2, openShare, turnDeg: 90 });
  const barHalf = (openShare: number): number => (radius * (1 - openShare)) / 2;
  const throwM = 6;
  const strip = (share: number): number => (2 / Math.PI) * (Math.asin(share) + share * Math.sqrt(1 - share * share));
  const segment = (share: number): number => (Math.acos(share) - share * Math.sqrt(1 - share * share)) / Math.PI;
  const thin = 0.98;
  const seen = (barHalf(thin) * throwM) / LENS_RADIUS_M;
  const wide = 0.6;
  const beside = barHalf(wide) * throwM - 0.4 * LENS_RADIUS_M;
  // Off its focus f the lens blurs an edge over 2 R |D / f - 1|.
  const blurred = shareOf(slats(wide), lens, 4);
  const edgeM = barHalf(wide) * 8;
  const at = (level: number): number => crossing((right) => blurred(8, right), level, edgeM - 0.2, edgeM + 0.2);
  const chord = (level: number): number => crossing((x) => segment(x), level, -1, 1);
  return [
    row('P1', 4 * inner, edgeAt, 'm', { type: 'rel', value: 1e-4 }, source),
    row('P2', 1, point(4, 0.3, 0.3), '1', { type: 'rel', value: 1e-9 }, source),
    row('P3', 0, point(4, 0, 0.3), '1', { type: 'abs', value: 1e-9 }, source),
    row('P4', 1 - strip(seen), shareOf(slats(thin), lens)(throwM, 0), '1', METER, source),
    row('P5', segment(0.4), shareOf(slats(wide), lens)(throwM, beside), '1', METER, source),
    row('P6', LENS_RADIUS_M * (chord(0.1) - chord(0.9)), at(0.9) - at(0.1), 'm', WIDTH, source),
    row(
      'P7',
      1,
      reading(openOf(panes), onWall(4, 0.3, 0.3)) / reading(lumensOf(panes), onWall(4, 0.3, 0.3)),
      '1',
      METER,
      'stated lumens are those of the open gate',
    ),
  ];
}
const withLumens = (distribution: Distribution): Lamp => ({
  ...spot(distribution, { shape: 'point' }),
  output: { kind: 'lumens', lumens: 3000 },
});
const lumensOf = (pattern: Pattern): Lamp => withLumens(gate(pattern));
function openOf(pattern: Pattern): Lamp {
  const { pattern: _none, ...open } = gate(pattern);
  return withLumens(open);
}

/** A short slim tube far off, its axis level and square to every ray: the strips of its skin send the cosine of their turn. */
function sectorRows(): Row[] {
  const source = 'matt skin lit over a sector, far away: ∫ cos(t - φ) dt over the lit and seen turns (closed form)';
  const farM = 20;
  const tube = (litSectorDeg: number, output: Output): Lamp => ({
    ...lamp(
      facing([0, 0, 0], 90, 0),
      { shape: 'tube', lengthM: 0.05, diameterM: 0.02, litSectorDeg },
      { kind: 'lambertian' },
      output,
    ),
  });
  // The tube lies along y; a receiver goes round it in the plane of x and z.
  const round = (turnDeg: number): Probe => {
    const towards: Vec3 = [Math.cos((turnDeg * Math.PI) / 180), 0, sin(turnDeg)];
    return { at: [farM * towards[0], 0, farM * towards[2]], normal: [-towards[0], 0, -towards[2]] };
  };
  const lit = (from: number, to: number, turn: number): number => Math.max(0, sin(to - turn) - sin(from - turn));
  const expected = (half: number, turn: number): number =>
    lit(Math.max(-half, turn - 90), Math.min(half, turn + 90), turn) +
    (360 - half < turn + 90 ? lit(360 - half, turn + 90, turn) : 0);
  const luminance = { kind: 'luminance', luminanceCdM2: 1e6 } as const;
  const level = (half: number, turn: number): number => (1e6 * 0.01 * 0.05 * expected(half, turn)) / farM ** 2;
  const cases = [
    [60, 0],
    [60, 45],
    [60, 120],
    [30, 80],
    [120, 180],
    [150, 180],
    [150, 100],
  ] as const;
  const candela = reading(tube(80, { kind: 'candela', candela: 40 }), round(0)) * farM ** 2;
  const lumens = reading(tube(120, { kind: 'lumens', lumens: 500 }), round(0)) * farM ** 2;
  const skin = 'flux of a matt skin π L A against L R l ∫ cos t dt (closed form)';
  return [
    ...cases.map(([half, turn], i) =>
      row(`T${i + 1}`, level(half, turn), reading(tube(2 * half, luminance), round(turn)), 'lx', METER, source),
    ),
    row('T8', 40, candela, 'cd', METER, source),
    row('T9', (500 / (Math.PI * ((120 * Math.PI) / 180))) * 2 * sin(60), lumens, 'cd', METER, skin),
  ];
}

/** Illuminance of a matt rectangle on a parallel face opposite one of its corners, over π L. @source check-values 2.3 */
function cornerFactor(a: number, b: number): number {
  const [x, y] = [Math.sqrt(1 + a * a), Math.sqrt(1 + b * b)];
  return ((a / x) * Math.atan(b / x) + (b / y) * Math.atan(a / y)) / (2 * Math.PI);
}

function stripRows(): Row[] {
  const source = 'sum of the rectangles of check-values 2.3, one a cell (closed form)';
  const [widthM, heightM, farM] = [1.2, 0.1, 0.5];
  const strip = (cells: { count: number; glowShare?: number; levels?: number[] }, output: Output): Lamp =>
    lamp(facing([0, 0, 0], 90, 0), { shape: 'rectangle', widthM, heightM, cells }, { kind: 'lambertian' }, output);
  const luminance = { kind: 'luminance', luminanceCdM2: 5000 } as const;
  /** Of cells from the left, seen from behind, on a point of the facing plane level with the strip's left end. */
  const expected = (count: number, glowShare: number, levels: readonly number[]): number => {
    const upTo = (metres: number): number =>
      2 * Math.sign(metres) * cornerFactor(Math.abs(metres) / farM, heightM / 2 / farM);
    const pitch = widthM / count;
    const light = levels.map((one, cell) => {
      const from = pitch * (cell + (1 - glowShare) / 2);
      return one * (upTo(from + pitch * glowShare) - upTo(from));
    });
    return Math.PI * 5000 * light.reduce((sum, one) => sum + one, 0);
  };
  const leftEnd = onWall(farM, -widthM / 2);
  const cases = [
    [4, 1, [1, 0.5, 0, 0.25]],
    [3, 0.5, [1, 1, 1]],
    [6, 0.8, [0, 0, 1, 0.3, 0.3, 1]],
  ] as const;
  const total = reading(strip({ count: 5, glowShare: 0.4 }, { kind: 'candela', candela: 90 }), onWall(60, 0)) * 3600;
  return [
    ...cases.map(([count, glowShare, levels], i) => {
      const measured = reading(strip({ count, glowShare, levels: [...levels] }, luminance), leftEnd);
      return row(`S${i + 1}`, expected(count, glowShare, levels), measured, 'lx', METER, source);
    }),
    row('S4', 90, total, 'cd', METER, 'stated candela are those of all cells at full (definition)'),
  ];
}

export const gateKernelRows = (): Row[] => [...patternRows(), ...sectorRows(), ...stripRows()];
