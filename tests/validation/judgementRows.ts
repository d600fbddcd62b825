/** Rows J1 to J10, J12 and J13: the judgement's figures on scene documents, beside independent values. */
import judgementValues from '../reference/judgement-values.json';
import type { Lamp, Material, Modifier } from '../../src/scene/schema';
import { sunColour } from '../../src/sim/colour/sunlight';
import { gateEdgeWidthM, discEdgeShare } from '../../src/sim/judgement/edgeWidths';
import { scoreAgainst, scoreEdge, scoreShadows, DEFAULT_LIMITS } from '../../src/sim/judgement/limits';
import { hazeWedge } from '../../src/sim/judgement/haze';
import { judgePairs, judgeSun } from '../../src/sim/judgement/judgeSun';
import { stopsOverAmbience, stopsOverKey } from '../../src/sim/judgement/levels';
import { growthAt } from '../../src/sim/judgement/lineFan';
import { SUN_WIDTH_PER_M } from '../../src/sim/judgement/shadowEdges';
import type { Vec3 } from '../../src/scene/geometry/vector';
import { compileScene } from '../../src/sim/solve/compileScene';
import { makeRow, type Row, type RowKind, type Tolerance } from './row';
import { crossing, facing, glowing, lamp, meterOf, pointLamp, SETUP, sheetAcrossX } from './scenes';
import {
  disc,
  discOnAxis,
  halfCovered,
  isotropic,
  judged,
  judgedScene,
  netsOfN,
  plainNetAcrossY,
  sceneM,
  sceneN,
  strip,
  sunOfN,
  wallWithOpeningY0,
  WALL_ID,
  wallX0,
} from './judgementScenes';

interface JudgementValue {
  readonly id: string;
  readonly figure: string;
  readonly geometry: string;
  readonly expected: number;
  readonly unit: string;
  readonly tolerance: Tolerance;
  readonly how: string;
}
const VALUES = judgementValues as unknown as readonly JudgementValue[];
const SOURCE = 'closed form or independent integrator';

/** The row of a judgement value; `tests` says whether a formula or a solved scene was measured. */
function row(id: string, measured: number | null, tests: RowKind = 'judgement'): Row {
  const value = VALUES.find((candidate) => candidate.id === id);
  if (!value) throw new RangeError(`no judgement value ${id}`);
  const { figure, expected, unit, tolerance, how } = value;
  const source = `${SOURCE}: ${how.split(';')[0]!}`;
  return makeRow({
    id,
    topic: `Judgement: ${figure}`,
    source,
    unit,
    expected,
    measured: measured ?? NaN,
    tolerance,
    tests,
  });
}

const DOUBLE: Material = { kind: 'net', stops: 1, weave: 'plain' };
const SINGLE: Material = { kind: 'net', stops: 0.5, weave: 'plain' };
const OPAQUE: Material = { kind: 'opaque' };

function strips() {
  const raked = (modifiers: Record<string, Modifier> = {}) =>
    judged({ source: isotropic([1.2, 0, 0]), wall: strip(4.4, 6.8), modifiers });
  // A net in the plane y = 1 whose free edge throws its line at y = line; it covers the near side.
  const netTo = (line: number, stops: number) => ({ net: plainNetAcrossY(1, 0.1, 1.2 * (1 - 1 / line), stops) });
  return {
    squareOn: judged({ source: isotropic([4.5, 0, 0]), wall: strip(-1.1, 1.1) }),
    raked: raked(),
    halfRaked: judged({ source: isotropic([2.6, 0, 0]), wall: strip(1, 3.2) }),
    footInside: judged({ source: isotropic([2, 0, 0]), wall: strip(-0.4, 1.6) }),
    rectangle: judged({ source: isotropic([1.7, -3.9, 3.1]), wall: wallX0(0, 2.6, 0.9, 2) }),
    underDouble: raked(netTo(5.4, 1)),
    underSingle: raked(netTo(5.2, 0.5)),
  };
}

function fallOffRows(): Row[] {
  const s = strips();
  const sun = judged(sunOfN());
  // The nets of the worked optimum: two doubles in planes y = -3.3 and -3.25.
  const mended = judged(sceneM({ a: plainNetAcrossY(-3.3, -2, 1.33, 1), b: plainNetAcrossY(-3.25, -2, 1.293478, 1) }));
  const bare = judged(sceneM());
  return [
    row('J1a', s.squareOn.falloffStops),
    row('J1a-full', s.squareOn.drawing?.fullRangeStops ?? null),
    row('J1b', s.raked.falloffStops),
    row('J1b-full', s.raked.drawing?.fullRangeStops ?? null),
    row('J1c', s.halfRaked.falloffStops),
    row('J1d', s.footInside.falloffStops),
    row('J1e', s.rectangle.falloffStops),
    row('J1e-full', s.rectangle.drawing?.fullRangeStops ?? null),
    row('J1f', s.underDouble.falloffStops),
    row('J1g', s.underSingle.falloffStops),
    row('J1h', sun.falloffStops),
    row('J2a', s.squareOn.apparentDistanceM),
    row('J2b', s.raked.apparentDistanceM),
    row('J2c', s.halfRaked.apparentDistanceM),
    row('J2d', s.footInside.apparentDistanceM),
    row('J2e', s.rectangle.apparentDistanceM),
    row('J2f', mended.apparentDistanceM),
    row('J3a', s.squareOn.fanDeg),
    row('J3b', s.raked.fanDeg),
    row('J3c', s.rectangle.fanDeg),
    row('J3d', sun.fanDeg),
    row('J5e', sun.growthFar),
    row('J6e', sun.edgeRatio),
    row('J8e', sun.stepStopsPer10cm),
    row('J12', bare.falloffStops),
  ];
}

function lineRows(): Row[] {
  const floor = {
    name: 'Floor',
    kind: 'floor' as const,
    pose: facing([-3, -0.99, 0], 180, 90),
    shape: { kind: 'rectangle' as const, widthM: 6, heightM: 6 },
  };
  const upright = { ...wallWithOpeningY0(-0.5, 0.5, 0.5, 3, false), pose: facing([10, -1, -10], 0, 0) };
  const onFloor = judged({ source: isotropic([0, -5, 4]), wall: floor, surfaces: { upright } });
  const rails = judged(sceneN({}, false));
  const flag = (x0: number, x1: number): Modifier => ({
    name: 'Flag',
    pose: facing([(x0 + x1) / 2, 0, 0], 0, 0),
    shape: { kind: 'rectangle', widthM: x1 - x0, heightM: 40 },
    material: OPAQUE,
  });
  const uprights = judged({
    ...sceneN(),
    surfaces: {},
    modifiers: { left: flag(-20, 0.25), right: flag(0.95, 20) },
  });
  return [row('J4a', onFloor.lineFanDeg), row('J4b', rails.lineFanDeg), row('J4c', uprights.lineFanDeg)];
}

function growthRows(): Row[] {
  const parts = sceneN();
  const scene = compileScene(judgedScene(parts), SETUP);
  const at = (point: Vec3) => growthAt(scene.sources[0]!, scene.openings[0]!, point);
  const facingWindow = judged({
    source: disc([0.6, -6, 1.7], [0.6, 0, 1.7], 0.05, 1000),
    wall: { ...wallX0(0, 3, 0, 3), pose: facing([-0.9, 3, 0.2], 180, 0) },
    surfaces: { 'window-wall': wallWithOpeningY0(0.55, 0.65, 1.6, 1.8, false) },
  });
  // The parallel wall y = 3 faces -y: right is +x, so it starts left of the shaft.
  return [
    row('J5a', facingWindow.growthFar),
    row('J5b', at([0, 0.5, 1.01818182]), 'law'),
    row('J5c', at([0, 2.54878049, 0.27317073]), 'law'),
    row('J5d', at([0, 1.534, 1.282]), 'law'),
  ];
}

function edgeRows(): Row[] {
  const square = judged(halfCovered(discOnAxis(8.6, 0.16), 2.2, OPAQUE, 0.5));
  // Raked: an upright edge 1.3 m before (0, 1, 1.5) on the ray from the lamp.
  const [dx, dy] = [1.9 / Math.hypot(1.9, 7), -7 / Math.hypot(1.9, 7)];
  const flagPan = (Math.atan2(dx, dy) * 180) / Math.PI;
  const flag: Modifier = {
    name: 'Flag',
    pose: facing([1.3 * dx + 0.25 * dy, 1 + 1.3 * dy - 0.25 * dx, 1.5], flagPan, 0),
    shape: { kind: 'rectangle', widthM: 0.5, heightM: 0.4 },
    material: OPAQUE,
  };
  const raked = judged({
    source: disc([1.9, -6, 1.5], [0, 1, 1.5], 0.16, 1000),
    wall: wallX0(0.5, 1.5, 1.48, 1.52),
    modifiers: { flag },
  });
  const middle = raked.drawing?.edges[Math.floor(raked.drawing.edges.length / 2)];
  const turned = (lampParts: Lamp) => judged(halfCovered(lampParts, 1.5, OPAQUE, 0.5));
  const panel = lamp(
    facing([7.5, 0, 0], 270, 0, 30),
    { shape: 'rectangle', widthM: 0.3, heightM: 0.1 },
    { kind: 'lambertian' },
    { kind: 'candela', candela: 1000 },
  );
  return [
    row('J6a', square.edgeRatio),
    row('J6b', raked.edgeRatio),
    row('J6b-width', middle?.widthM ?? null),
    row('J6c', turned(panel).edgeRatio),
    row('J6d', turned(discOnAxis(6.5, 0.24, 50)).edgeRatio),
  ];
}

/** A projection spot 6.8 m before the wall, its right half cut off by a shutter through the axis. */
const cutSpot = (focusM: number | null, edgeWidthDeg: number): Lamp =>
  lamp(
    facing([6.8, 0, 0], 270, 0),
    { shape: 'disc', diameterM: 0.1 },
    {
      kind: 'projection',
      fieldAngleDeg: 30,
      edgeWidthDeg: 1,
      shutters: [{ offsetDeg: 0, turnDeg: 0, edgeWidthDeg }],
      ...(focusM === null ? {} : { focusM }),
    },
    { kind: 'candela', candela: 50_000 },
  );

function gateRows(): Row[] {
  const cases: [id: string, focusM: number | null, edgeWidthDeg: number][] = [
    ['J7a-width', null, 0.5],
    ['J7b-width', 6.8, 0.5],
    ['J7c-width', 4.2, 0.5],
    ['J7d-width', 12, 0.5],
    ['J7e-width', null, 0.02],
  ];
  const rows: Row[] = [];
  for (const [id, focusM, widthDeg] of cases) {
    rows.push(row(id, gateEdgeWidthM(0.05, 6.8, focusM === null ? 0 : 1 / focusM, (widthDeg * Math.PI) / 180), 'law'));
    const light = meterOf({ sources: { lamp: cutSpot(focusM, widthDeg) } });
    const at = (y: number) => light({ at: [0, y, 0], normal: [1, 0, 0] });
    const full = Math.max(at(-0.4), at(0.4));
    const place = (share: number) => crossing((y) => at(y) / full, share, -0.4, 0.4);
    rows.push(row(id, Math.abs(place(0.9) - place(0.1)), 'kernel'));
  }
  const story = { edgeDistanceM: 3 };
  const wall = wallX0(-0.5, 0.5, -0.3, 0.3);
  rows.push(row('J7a', judged({ source: cutSpot(null, 0.5), wall, story }).edgeRatio));
  rows.push(row('J7b', judged({ source: cutSpot(6.8, 0.5), wall, story }).edgeRatio));
  const open = lamp(
    facing([6.8, 0, 0], 270, 0),
    { shape: 'disc', diameterM: 0.1 },
    { kind: 'projection', fieldAngleDeg: 40, edgeWidthDeg: 0.5 },
    { kind: 'candela', candela: 50_000 },
  );
  rows.push(row('J7f', judged(halfCovered(open, 2, OPAQUE, 0.5)).edgeRatio));
  rows.push(row('J7f', (discEdgeShare * 0.1) / 4.8 / (discEdgeShare * SUN_WIDTH_PER_M), 'law'));
  return rows;
}

function stepRows(): Row[] {
  const lens = discOnAxis(5, 0.06);
  const scrim = { kind: 'wireScrim', stops: 1, weave: 'plain' } as const;
  const halfScrim = halfCovered(lens, 5 - 0.12, scrim, 1);
  const bare = meterOf({ sources: { lamp: lens } });
  const scrimmed = meterOf({ sources: { lamp: lens }, modifiers: halfScrim.modifiers! });
  const factorAt = (covered: number) => {
    const probe = { at: [0, -covered, 0] as Vec3, normal: [1, 0, 0] as Vec3 };
    return scrimmed(probe) / bare(probe);
  };
  const stepOf = (lampM: number, diameterM: number, netM: number, material: Material) =>
    judged(halfCovered(discOnAxis(lampM, diameterM), netM, material, 0.8)).stepStopsPer10cm;
  return [
    row('J8a', judged(halfScrim).stepStopsPer10cm),
    ...[-0.8, -0.4, 0, 0.4, 0.8].map((covered) =>
      row(`J8a${covered < 0 ? '' : '+'}${covered.toFixed(1)}`, factorAt(covered), 'kernel'),
    ),
    row('J8b', stepOf(5.5, 0.05, 3, DOUBLE)),
    row('J8c', stepOf(5.5, 0.05, 3, SINGLE)),
    row('J8d', stepOf(5.5, 0.25, 4.3, DOUBLE)),
  ];
}

function windowRows(): Row[] {
  const bare = judged(sceneN());
  const netted = judged(sceneN(netsOfN()));
  const arrival = bare.drawing?.arrival ?? [0, 0, NaN];
  // Bars of 40 mm at 300 mm before a disc of 1.2 m: the greatest share of it that any place sees.
  const soft = discOnAxis(7.5, 1.2);
  const bars = Object.fromEntries(
    Array.from({ length: 41 }, (_, i) => [
      `bar-${i}`,
      { ...sheetAcrossX([2.5, 0.3 * (i - 20), 0], 0.04, 20, OPAQUE), role: 'set' as const },
    ]),
  );
  const open = meterOf({ sources: { lamp: soft } });
  const barred = meterOf({ sources: { lamp: soft }, modifiers: bars });
  const seen = Array.from({ length: 46 }, (_, i) => {
    const probe = { at: [0, i * 0.01, 0] as Vec3, normal: [1, 0, 0] as Vec3 };
    return barred(probe) / open(probe);
  });
  const beam = (halfAngleDeg: number) =>
    judged({
      source: lamp(
        facing([0.5, -6, 1.5], 0, 0),
        { shape: 'point' },
        { kind: 'projection', fieldAngleDeg: 2 * halfAngleDeg, edgeWidthDeg: 0.02 },
        { kind: 'candela', candela: 50_000 },
      ),
      wall: { ...wallX0(0, 3, 0, 3), pose: facing([-1, 2, 0], 180, 0) },
      surfaces: { 'window-wall': wallWithOpeningY0(0, 1, 1, 2, false) },
    }).fill;
  return [
    row('J9a', bare.falloffStops),
    row('J9b', bare.apparentDistanceM),
    row('J9c', bare.fanDeg),
    row('J9d', bare.edgeRatio),
    row('J9e', netted.falloffStops),
    row('J9f', (Math.asin(arrival[2]) * 180) / Math.PI),
    row('J9g', bare.drawing?.patchAreaM2 ?? null),
    row('J9m', Math.max(...seen), 'kernel'),
    row('J10p', beam(3)),
    row('J10q', beam(8)),
  ];
}

/** Two windows 1.0 x 1.2 m centred at x = -1.3 and 1.3 in the plane y = 0, and the wall y = 4 behind them. */
function twoWindowRows(): Row[] {
  const opening = (x: number) => ({
    leftM: 10 - (x + 0.5),
    sillM: 11,
    shape: { kind: 'rectangle' as const, widthM: 1, heightM: 1.2 },
  });
  const plain = wallWithOpeningY0(-1.8, -0.8, 1, 2.2, false);
  const windows = { ...plain, openings: { left: opening(-1.3), right: opening(1.3) } };
  const wall = { ...wallX0(0, 12, 0, 4), pose: facing([-6, 4, -1.5], 180, 0) };
  const check = judged({ source: isotropic([0.4, -9, 3]), wall, surfaces: { windows } });
  const document = judgedScene({ source: isotropic([-0.8, -9, 3]), wall, surfaces: { windows } });
  const second = { ...isotropic([1.8, -9, 3]) };
  // Each lamp lights both windows; a flag between them keeps it to its own.
  const screen: Modifier = {
    name: 'Screen',
    pose: facing([0.5, -4.5, 0], 90, 0),
    shape: { kind: 'rectangle', widthM: 8.8, heightM: 40 },
    material: OPAQUE,
  };
  const setup = document.setups[0]!;
  const scene = compileScene(
    { ...document, setups: [{ ...setup, sources: { ...setup.sources, second }, modifiers: { screen } }] },
    SETUP,
  );
  const surface = scene.surfaces.get(WALL_ID)!;
  const pairs = scene.sources.map((source) => ({ source, surface }));
  return [
    row('J10f', check.windowSpreadDeg),
    row('J10g', check.windowLevelStops),
    row('J10h', judgePairs(scene, pairs)[0]!.windowSpreadDeg),
  ];
}

/** A patch under a lamp with other light on it, levels measured by the judgement itself. */
function levelRows(): Row[] {
  const wall = { ...wallX0(-0.5, 0.5, -0.5, 0.5), reflectance: 0.6 };
  const hard = (candela: number, y: number): Lamp => pointLamp([10, y, 0], candela);
  const withOther = (other: Lamp, lampLx = 400) => {
    const document = judgedScene({ source: hard(lampLx * 100, 0), wall });
    const setup = document.setups[0]!;
    const scene = compileScene({ ...document, setups: [{ ...setup, sources: { ...setup.sources, other } }] }, SETUP);
    return judgeSun(scene, scene.sources[0]!, scene.surfaces.get(WALL_ID)!);
  };
  // A metre beside the axis at 10 m the level falls by 1.5 %: the counts stand well clear of the line.
  const frame = glowing(facing([3, 1, 0], 270, 0), { shape: 'rectangle', widthM: 1.2, heightM: 1.2 }, 400);
  return [
    row('J10a', withOther(hard(6000, 1)).shadowCount),
    row('J10b', withOther(hard(4000, 1)).shadowCount),
    row('J10c', withOther(frame).shadowCount),
    row('J10i', stopsOverAmbience(960, 60), 'law'),
    row('J10j', stopsOverKey(0.6, 960, 400), 'law'),
  ];
}

function storyRows(): Row[] {
  const lampAt = (cctK: number, duv: number): Lamp => ({ ...isotropic([4, 0, 0]), colour: { cctK, duv } });
  const wall = wallX0(-0.5, 0.5, -0.5, 0.5);
  const colourOff = (lampParts: Lamp, altitudeDeg: number) =>
    judged({ source: lampParts, wall, story: { sun: { altitudeDeg, azimuthDeg: 90 } } });
  const high = judged({ ...sceneM(), story: { sun: { altitudeDeg: 20, azimuthDeg: 164 } } });
  const N = sceneN();
  const scene = compileScene(judgedScene(N), SETUP);
  const wedge = hazeWedge(scene.sources[0]!, scene.openings[0]!);
  // A lamp 33 degrees up, as the wall's middle sees it, against the sun of the published position (check value 6.1).
  const upright = { ...isotropic([4, 0, 4 * Math.tan((33 * Math.PI) / 180)]) };
  const lower = judged({ source: upright, wall, story: { sun: { altitudeDeg: 39.8884, azimuthDeg: 90 } } });
  // The worked case has the sun's Duv at 10 degrees rounded to 0.0036; the colour tests hold it to that.
  const pink = colourOff(lampAt(3840, -0.004), 10).duvOff ?? NaN;
  const roundedOff = sunColour(10)!.duv - 0.0036;
  return [
    row('J10d', Math.abs(high.altitudeOffDeg ?? NaN)),
    row('J10e', Math.abs(lower.altitudeOffDeg ?? NaN)),
    row('J10m', pink + roundedOff),
    row('J10k', colourOff(lampAt(5600, 0), 10).cctOffMired),
    row('J10l', colourOff(lampAt(3200, 0), 5).cctOffMired),
    row('J10n', wedge.planDeg, 'law'),
    row('J10o', wedge.uprightDeg, 'law'),
  ];
}

function scoreRows(): Row[] {
  return [
    row('J13a', scoreAgainst(0.3, DEFAULT_LIMITS.fallOff), 'law'),
    row('J13b', scoreAgainst(0.5, DEFAULT_LIMITS.fallOff), 'law'),
    row('J13c', scoreAgainst(1.097, DEFAULT_LIMITS.fallOff), 'law'),
    row('J13d', scoreAgainst(9.67826, DEFAULT_LIMITS.lineFan), 'law'),
    row('J13e', scoreEdge(3.13), 'law'),
    row('J13f', scoreEdge(0.4), 'law'),
    row('J13g', scoreShadows(2), 'law'),
  ];
}

/** Figures of the sun judgement on scene documents, and the formulas behind them. */
export function judgementRows(): Row[] {
  return [
    ...fallOffRows(),
    ...lineRows(),
    ...growthRows(),
    ...edgeRows(),
    ...gateRows(),
    ...stepRows(),
    ...windowRows(),
    ...twoWindowRows(),
    ...levelRows(),
    ...storyRows(),
    ...scoreRows(),
  ];
}
