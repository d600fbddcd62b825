/**
 * The customs office against an independent brute-force program (tests/reference/demo-scenes.json). Levels there are good
 * to 5e-5, fall-off to 0.02 stop; the tolerances are those that the reference states.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { formatFault, loadScene } from '../../src/scene/load';
import { saveScene } from '../../src/scene/save';
import type { SceneDocument } from '../../src/scene/schema';
import { directNormalIlluminanceLx, sunColour } from '../../src/sim/colour/sunlight';
import { stopsFromCamera } from '../../src/sim/exposure/exposure';
import { frameFromPose, worldFromLocal } from '../../src/scene/geometry/frames';
import { distance, type Vec3 } from '../../src/scene/geometry/vector';
import { judgeSetup } from '../../src/sim/judgement/judgeSetup';
import type { SunCheck } from '../../src/sim/results';
import { compileScene } from '../../src/sim/solve/compileScene';
import { readMeter, readPoint } from '../../src/sim/solve/solvePoint';
import reference from '../reference/demo-scenes.json';

const FILE = 'scenes-demo/customs-office-shaft.json';
const text = readFileSync(FILE, 'utf8');

function loaded(): SceneDocument {
  const result = loadScene(text, FILE);
  if (!result.ok) throw new Error(result.faults.map(formatFault).join('\n'));
  return result.document;
}
const document = loaded();
const office = reference.scenes[0]!;
const expectedOf = office.expected;
type SetupId = 'bare' | 'netted' | 'real-sun' | 'nets-too-far' | 'backed-off' | 'mirror';
const SETUPS: readonly SetupId[] = ['bare', 'netted', 'real-sun', 'nets-too-far', 'backed-off', 'mirror'];

describe('the file', () => {
  test('holds the setups in the order of the story, as the app would save it', () => {
    expect(document.setups.map((setup) => setup.id)).toEqual(SETUPS);
    expect(saveScene(document)).toBe(text);
  });
  test.each([...office.nets.netted, ...office.nets['nets-too-far']])(
    'net $id has the corners of the reference',
    (net) => {
      const setup = document.setups.find((candidate) => candidate.modifiers[net.id]);
      const modifier = setup?.modifiers[net.id];
      if (modifier?.shape.kind !== 'rectangle') throw new Error(`no rectangle ${net.id}`);
      const { widthM, heightM } = modifier.shape;
      const frame = frameFromPose(modifier.pose);
      const corners = [-1, 1].flatMap((right) =>
        [-1, 1].map((up) => worldFromLocal(frame, [(right * widthM) / 2, (up * heightM) / 2])),
      );
      for (const vertex of net.vertices) {
        const nearest = Math.min(...corners.map((corner) => distance(corner, vertex as unknown as Vec3)));
        expect(nearest).toBeLessThan(1e-4);
      }
      expect(modifier.material).toMatchObject({ kind: 'net', weave: 'plain' });
      // The free edge, on the right seen from the lamp, is the reference's first corner.
      const freeEdge = worldFromLocal(frame, [widthM / 2, -heightM / 2]);
      expect(distance(freeEdge, net.vertices[0] as unknown as Vec3)).toBeLessThan(1e-4);
    },
  );
  test('the typed sun is that of the day and the sky it names', () => {
    const sun = document.setups.find((setup) => setup.id === 'real-sun')?.sources['sun'];
    if (sun?.type !== 'sun') throw new Error('no sun');
    // 18 October is day 291. IES 1984 clear sky.
    expect(sun.normalIlluminanceLx / directNormalIlluminanceLx(sun.altitudeDeg, 291)).toBeCloseTo(1, 4);
    const colour = sunColour(sun.altitudeDeg);
    expect(sun.colour).toEqual({ cctK: Math.round(colour?.cctK ?? 0), duv: Number(colour?.duv.toFixed(4)) });
  });
});

describe.each(SETUPS)('%s', (setupId) => {
  const scene = compileScene(document, setupId);
  const expected = expectedOf[setupId];

  test.each(Object.entries(expected.meters))('meter %s', (name, { lux, stopsFromCamera: stops }) => {
    const reading = readMeter(scene, name.toLowerCase());
    if (lux === 0) expect(reading.illuminanceLx).toBe(0);
    else expect(Math.abs(reading.illuminanceLx / lux - 1)).toBeLessThan(0.001);
    const off = stopsFromCamera(reading.illuminanceLx, document.camera);
    if (stops === null) expect(off).toBeNull();
    else expect(Math.abs((off ?? NaN) - stops)).toBeLessThan(0.002);
  });

  test('the row along the wall at 1.3 m', () => {
    const row = expected['line_z1.3'];
    row.x.forEach((x, index) => {
      const lux = row.lux[index] ?? NaN;
      const reading = readPoint(scene, { pointM: [x, 5, 1.3], normal: [0, -1, 0], surfaceId: 'plaster-wall' });
      if (lux === 0) expect(reading.illuminanceLx).toBe(0);
      else expect(Math.abs(reading.illuminanceLx / lux - 1), `x ${x}: ${reading.illuminanceLx}`).toBeLessThan(0.003);
    });
  });
});

function near(actual: number | null, expected: number, tolerance: number, what: string): void {
  expect(actual, what).not.toBeNull();
  expect(Math.abs((actual ?? NaN) - expected), `${what}: ${actual} against ${expected}`).toBeLessThanOrEqual(tolerance);
}

/** Right-hand span of the lit cells, metres along the wall. */
function litSpan(check: SunCheck): [number, number] {
  const grid = check.drawing?.grid;
  if (!grid) throw new Error('no drawing');
  const columns = [...grid.lit.entries()].filter(([, lit]) => lit === 1).map(([index]) => index % grid.columns);
  const cellM = grid.widthM / grid.columns;
  const least = columns.reduce((low, column) => Math.min(low, column), Infinity);
  const most = columns.reduce((high, column) => Math.max(high, column), -Infinity);
  return [grid.leftM + least * cellM, grid.leftM + (most + 1) * cellM];
}

describe('does it read as the sun', () => {
  const checks = new Map(SETUPS.map((setupId) => [setupId, judgeSetup(compileScene(document, setupId))]));
  const checkOf = (setupId: SetupId): SunCheck => {
    const [check] = checks.get(setupId) ?? [];
    if (!check) throw new Error(`no sun check in ${setupId}`);
    return check;
  };

  test.each(SETUPS)('%s has one check, of what plays the sun on the plaster wall', (setupId) => {
    expect(checks.get(setupId)).toHaveLength(1);
    expect(checkOf(setupId)).toMatchObject({
      surfaceId: 'plaster-wall',
      sourceId: setupId === 'real-sun' ? 'sun' : 'l1',
    });
  });

  test.each(['bare', 'netted', 'nets-too-far', 'backed-off', 'mirror'] as const)(
    '%s: figures of the lit patch',
    (setupId) => {
      const check = checkOf(setupId);
      const { patch } = expectedOf[setupId];
      near(check.falloffStops, patch.falloffStops, 0.03, 'fall-off');
      near(check.stepStopsPer10cm, patch.stepStopsPer10cm, 0.02, 'step');
      near(check.fanDeg, patch.fanDeg, 0.5, 'fan');
      near(check.lineFanDeg, patch.lineFanDeg, 0.6, 'line fan');
      near(check.altitudeOffDeg, patch.altitudeOffDeg, 0.3, 'altitude off');
      if (patch.apparentDistanceM !== null) {
        near(check.apparentDistanceM, patch.apparentDistanceM, 0.04 * patch.apparentDistanceM, 'apparent distance');
      }
      // The page gives the near and the far edge; the figure is the length-weighted median of all.
      const [nearRatio = NaN, farRatio = NaN] = patch.edgeRatioNearFar;
      expect(check.edgeRatio).toBeGreaterThan(nearRatio * 0.96);
      expect(check.edgeRatio).toBeLessThan(farRatio * 1.04);
      // The page's grid has cells of 5 cm.
      const [left, right] = litSpan(check);
      expect(Math.abs(left - (patch.litX[0] ?? NaN))).toBeLessThan(0.06);
      expect(Math.abs(right - (patch.litX[1] ?? NaN))).toBeLessThan(0.06);
    },
  );

  test('the real sun is the sun', () => {
    const check = checkOf('real-sun');
    expect(check.falloffStops).toBeLessThan(0.005);
    expect(check.apparentDistanceM).toBeNull();
    expect(check.reasons.apparentDistanceM).toMatch(/\w/);
    near(check.fanDeg, 0, 0.01, 'fan');
    near(check.stepStopsPer10cm, 0, 0.001, 'step');
    near(check.altitudeOffDeg, 0, 0.05, 'altitude off');
    near(check.edgeRatio, 1, 0.01, 'edge');
    expect(check.verdict).toBe('reads');
  });

  test('verdicts of the story', () => {
    expect(checkOf('bare')).toMatchObject({ verdict: 'givesAway', worst: 'fallOff' });
    // Nets mend the fall-off and leave no line, but they cannot mend the fan.
    const netted = checkOf('netted');
    expect(netted).toMatchObject({ verdict: 'givesAway', worst: 'lineFan' });
    expect(netted.scores.fallOff).toBeLessThanOrEqual(1);
    expect(netted.scores.step).toBeLessThanOrEqual(1);
    expect(netted.scores.edge).toBeGreaterThan(1);
    expect(netted.scores.edge).toBeLessThanOrEqual(2);
    expect(checkOf('nets-too-far').scores.step).toBeGreaterThan(2);
    const backedOff = checkOf('backed-off');
    expect(backedOff.scores.fallOff).toBeGreaterThan(2);
    expect(backedOff.scores.lineFan).toBeGreaterThan(2);
    expect(backedOff.scores.height).toBeLessThanOrEqual(1);
    const mirror = checkOf('mirror');
    expect(mirror.verdict).toBe('passable');
    expect(mirror.growthNear).toBeLessThan(expectedOf.mirror.patch.growthAtBars);
    expect(mirror.growthFar).toBeGreaterThan(expectedOf.mirror.patch.growthAtBars);
    expect(mirror.scores.edge).toBeLessThanOrEqual(1);
    expect(mirror.scores.height).toBeLessThanOrEqual(1);
  });
});
