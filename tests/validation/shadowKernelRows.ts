/** Rows 3 and 8: shadow edges, umbrae, growth and nets, found by solving scene documents on a wall (the plane x = 0). */
import type { Lamp, Modifier, Source } from '../../src/scene/schema';
import { toDegrees } from '../../src/scene/geometry/frames';
import type { Vec3 } from '../../src/scene/geometry/vector';
import { checkValue, input, rowOf, type Row, type Tolerance } from './row';
import { crossing, facing, glowing, meterOf, pointLamp, sheetAcrossX, sunTowardsX } from './scenes';

const METER: Tolerance = { type: 'rel', value: 0.005 };
const WALL: Vec3 = [1, 0, 0];
const OPAQUE = { kind: 'opaque' } as const;
/** Where a half-shadow is taken to begin and end: this share of the light. */
const TRACE = 1e-6;
const LONG_M = 40;

type Values = (name: string) => number;
const solve = (id: string, of: (value: Values) => number, tolerance = METER): Row => {
  const { inputs } = checkValue(id);
  return rowOf(
    id,
    of((name) => input(inputs, name)),
    'kernel',
    tolerance,
  );
};

/** Share of the open light that reaches the wall at (0, y, 0) past the modifiers. */
function shareAlong(source: Source, modifiers: Record<string, Modifier>, normal = WALL, along: Vec3 = [0, 1, 0]) {
  const open = meterOf({ sources: { lamp: source } });
  const shaded = meterOf({ sources: { lamp: source }, modifiers });
  return (y: number): number => {
    const probe = { at: [y * along[0], y * along[1], y * along[2]] as Vec3, normal };
    return shaded(probe) / open(probe);
  };
}

/** A flag that covers y < 0 in the plane x = `distanceM`. */
const halfPlane = (distanceM: number): Modifier => sheetAcrossX([distanceM, -LONG_M / 2, 0], LONG_M, LONG_M, OPAQUE);
/** An upright strip about y = 0. */
const strip = (distanceM: number, widthM: number): Modifier => sheetAcrossX([distanceM, 0, 0], widthM, LONG_M, OPAQUE);
/** A panel of width D across the edge, square to the wall's normal. */
const panel = (distanceM: number, widthM: number): Lamp =>
  glowing(facing([distanceM, 0, 0], 270, 0), { shape: 'rectangle', widthM, heightM: 0.02 }, 10_000);

/** Full width of the half-shadow of an edge on the axis, from first light to all of it. */
function fullWidth(share: (y: number) => number, reachM: number): number {
  return crossing(share, 1 - TRACE, -reachM, reachM) - crossing(share, TRACE, -reachM, reachM);
}

function edgeRows(): Row[] {
  return [
    solve('3.2a', (v) => fullWidth(shareAlong(sunTowardsX(v('a_deg')), { flag: halfPlane(v('b_m')) }), 0.02)),
    ...['3.2b', '3.2c'].map((id) =>
      solve(id, (v) => {
        const [a, b] = [v('a_source_to_edge_m'), v('b_edge_to_wall_m')];
        return fullWidth(shareAlong(panel(a + b, v('D_m')), { flag: halfPlane(b) }), 0.5);
      }),
    ),
    // An oblique wall: tilted about the edge, square-on width as the check value gives it.
    solve('3.5e', (v) => {
      const tilt = (v('i_deg') * Math.PI) / 180;
      const sun = sunTowardsX(toDegrees(2 * Math.atan(v('w_m') / 6)));
      const normal: Vec3 = [Math.cos(tilt), -Math.sin(tilt), 0];
      const along: Vec3 = [Math.sin(tilt), Math.cos(tilt), 0];
      return fullWidth(shareAlong(sun, { flag: halfPlane(3) }, normal, along), 0.1);
    }),
  ];
}

function stripRows(): Row[] {
  const umbra = (v: Values) => {
    const [a, b] = [v('a_m'), v('b_m')];
    const share = shareAlong(panel(a + b, v('D_m')), { strip: strip(b, v('W_m')) });
    return { share, reachM: v('W_m') * (1 + b / a) + v('D_m') };
  };
  return [
    ...['3.3a', '3.3c'].map((id) =>
      solve(id, (v) => {
        const { share, reachM } = umbra(v);
        return crossing(share, TRACE, 0, reachM) - crossing(share, TRACE, -reachM, 0);
      }),
    ),
    ...['3.3b', '3.3d'].map((id) =>
      solve(id, (v) => {
        const { share, reachM } = umbra(v);
        return crossing(share, 1 - TRACE, 0, reachM) - crossing(share, 1 - TRACE, -reachM, 0);
      }),
    ),
    // How far behind the strip its middle first gets light.
    solve('3.3e', (v) => {
      const share = (b: number) => shareAlong(panel(v('a_m') + b, v('D_m')), { strip: strip(b, v('W_m')) })(0);
      return crossing(share, TRACE, 0.1, 2);
    }),
    solve('3.3f', (v) => {
      const share = (b: number) => shareAlong(sunTowardsX(v('a_deg')), { strip: strip(b, v('W_m')) })(0);
      return crossing(share, TRACE, 2, 9);
    }),
  ];
}

function fractionRows(): Row[] {
  // A sun of 1 degree and an edge 1 m off: the half-shadow's half-width is tan(0.5 degrees).
  const sunEdge = shareAlong(sunTowardsX(1), { flag: halfPlane(1) });
  const halfWidthM = Math.tan(Math.PI / 360);
  // A square of 10 cm at 20 m, an edge 10 m before the wall: half-widths 5 cm along, 5 sqrt 2 cm across the diagonal.
  const squareEdge = (rollDeg: number) =>
    shareAlong(
      glowing(facing([20, 0, 0], 270, 0, rollDeg), { shape: 'rectangle', widthM: 0.1, heightM: 0.1 }, 10_000),
      { flag: halfPlane(10) },
    );
  return [
    ...['3.4a', '3.4b', '3.4c', '3.4d'].map((id) => solve(id, (v) => sunEdge(v('t') * halfWidthM))),
    solve('3.4e', () => {
      const reachM = 2 * halfWidthM;
      return (crossing(sunEdge, 0.9, -reachM, reachM) - crossing(sunEdge, 0.1, -reachM, reachM)) / (2 * halfWidthM);
    }),
    solve('3.4f', (v) => squareEdge(0)(v('x_over_w') * 0.1)),
    solve('3.4g', (v) => squareEdge(45)(v('t') * 0.05 * Math.SQRT2)),
  ];
}

function tellRows(): Row[] {
  return [
    solve('3.5a', (v) => {
      const share = shareAlong(pointLamp([v('a_m') + v('b_m'), 0, 0], 1000), { strip: strip(v('b_m'), 1) });
      return crossing(share, 0.5, 0, 3) - crossing(share, 0.5, -3, 0);
    }),
    solve('3.5b', (v) => {
      const lux = (distanceM: number) =>
        meterOf({ sources: { lamp: pointLamp([distanceM, 0, 0], 1000) } })({ at: [0, 0, 0], normal: WALL });
      return Math.log2(lux(v('a_m')) / lux(v('a_m') + v('depth_m')));
    }),
  ];
}

/** Nets between a point lamp and the wall; `tiltDeg` turns the net about its upright. */
function throughNets(grades: readonly number[], weave: 'plain' | 'woven', tiltDeg = 0): number {
  const nets = grades.map((stops, i): [string, Modifier] => [
    `net${i}`,
    {
      ...sheetAcrossX([1 + 0.1 * i, 0, 0], 1, 1, { kind: 'net', stops, weave }),
      pose: facing([1 + 0.1 * i, 0, 0], 90 + tiltDeg, 0),
    },
  ]);
  return shareAlong(pointLamp([3, 0, 0], 1000), Object.fromEntries(nets))(0);
}

function netRows(): Row[] {
  const meshStops = (v: Values) => -2 * Math.log2(1 - v('wire') / v('pitch'));
  return [
    solve('8.1a', (v) => throughNets([v('stops')], 'plain'), checkValue('8.1a').tolerance),
    solve('8.3a', () => throughNets([0.5, 1], 'plain'), checkValue('8.3a').tolerance),
    solve('8.3b', (v) => v('E_in_lx') * throughNets([1, 1, 0.5], 'plain'), checkValue('8.3b').tolerance),
    solve('8.4a', (v) => throughNets([meshStops(v)], 'woven'), checkValue('8.4a').tolerance),
    solve('8.4b', (v) => throughNets([meshStops(v)], 'woven', v('tilt_deg')), checkValue('8.4b').tolerance),
  ];
}

export const shadowKernelRows = (): Row[] => [
  ...edgeRows(),
  ...stripRows(),
  ...fractionRows(),
  ...tellRows(),
  ...netRows(),
];
