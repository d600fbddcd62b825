/**
 * The drill hall against an independent program (tests/reference/drill-hall-falloff.json): closed forms for points, held to
 * 1e-6; the soft square integrated, held to 0.1 %; the rake of the customs office, good to 5e-5, held to 1e-3.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { formatFault, loadScene } from '../../src/scene/load';
import { saveScene } from '../../src/scene/save';
import type { SceneDocument } from '../../src/scene/schema';
import { tStopForIlluminance } from '../../src/sim/exposure/exposure';
import { buildReport } from '../../src/sim/report';
import { compileScene } from '../../src/sim/solve/compileScene';
import { readMeter, readPoint } from '../../src/sim/solve/solvePoint';
import reference from '../reference/drill-hall-falloff.json';

const FILE = 'scenes-demo/drill-hall-falloff.json';
const text = readFileSync(FILE, 'utf8');
function loaded(): SceneDocument {
  const result = loadScene(text, FILE);
  if (!result.ok) throw new Error(result.faults.map(formatFault).join('\n'));
  return result.document;
}
const document = loaded();
const { setups, distancesM } = reference.scene;
const idOf = (metres: number): string => String(metres).replace('.', '-');

/** Relative error of a figure against the reference's, which is printed to some digits: half of its last one is allowed. */
function expectNear(actual: number, expected: number, relative: number, what: string): void {
  const decimals = String(expected).split('.')[1]?.length ?? 0;
  const room = relative * expected + 0.5 * 10 ** -decimals;
  expect(Math.abs(actual - expected), `${what}: ${actual} against ${expected}`).toBeLessThanOrEqual(room);
}

test('the file is as the app would save it, and loads whole', () => {
  expect(saveScene(document)).toBe(text);
  expect(document.setups.map(({ id }) => id)).toEqual([
    'open-face',
    'soft-square',
    'focused-beam',
    'raked-row',
    'rake-bare',
    'rake-netted',
    'lamp',
    'sun',
  ]);
});

describe.each([
  ['open-face', setups['open-face'].luxExpected, 1e-6],
  ['soft-square', setups['soft-1.2m'].luxExpected, 1e-3],
  ['focused-beam', setups['focused-beam'].luxExpected, 1e-6],
] as const)('%s: the walk down the axis', (setupId, expected, relative) => {
  const scene = compileScene(document, setupId);
  test.each(distancesM.map((metres, i) => [metres, expected[i]!]))('%d m', (metres, lux) => {
    expectNear(readMeter(scene, `axis-${idOf(metres)}`).illuminanceLx, lux, relative, `${metres} m`);
  });
});

test('T-stops of the open face', () => {
  const scene = compileScene(document, 'open-face');
  distancesM.forEach((metres, i) => {
    const lux = readMeter(scene, `axis-${idOf(metres)}`).illuminanceLx;
    expectNear(tStopForIlluminance(lux, document.camera), setups['open-face']['tStopAt_ISO800_1/48_C250'][i]!, 0, 'T');
  });
});

test('the raked row, and the stops along it', () => {
  const scene = compileScene(document, 'raked-row');
  const row = setups['raked-row'];
  const lux = row.metersAtX.map((x) => readMeter(scene, `wall-${idOf(x)}`).illuminanceLx);
  lux.forEach((value, i) => expectNear(value, row.luxExpected[i]!, 1e-6, `x ${row.metersAtX[i]!}`));
  const [one, four, eight] = [lux[0]!, lux[4]!, lux[6]!];
  expectNear(Math.log2(one / four), row.stops_1_to_4, 0, '1 to 4');
  expectNear(Math.log2(four / eight), row.stops_4_to_8, 0, '4 to 8');
});

test('the tilted card', () => {
  const scene = compileScene(document, 'open-face');
  const card = setups['tilted-card'];
  card.tiltDeg.forEach((tilt, i) => {
    const id = tilt === 0 ? 'axis-2' : `card-${tilt}`;
    expectNear(readMeter(scene, id).illuminanceLx, card.luxExpected[i]!, 1e-6, `${tilt} degrees`);
  });
});

describe('the rake of the customs office, mirrored and without its window', () => {
  const { line, metersAtX, z, bareLux, nettedLux } = reference.rake;
  const at = (setupId: string, x: number): number =>
    readPoint(compileScene(document, setupId), { pointM: [x, 0, z], normal: [0, 1, 0] }).illuminanceLx;
  test.each(metersAtX.map((x, i) => [x, bareLux[i]!, nettedLux[i]!]))('meter at x %d', (x, bare, netted) => {
    expectNear(at('rake-bare', x), bare, 1e-3, 'bare');
    expectNear(at('rake-netted', x), netted, 1e-3, 'netted');
  });
  test('the row, but for what lay in the shadow of the window’s bars', () => {
    line.x.forEach((x, i) => {
      if (line.inShadowOfTheBarX.includes(x)) return;
      expectNear(at('rake-bare', x), line.bareLux[i]!, 1e-3, `bare ${x}`);
      expectNear(at('rake-netted', x), line.nettedLux[i]!, 1e-3, `netted ${x}`);
    });
  });
});

test('the report reads the same', () => {
  const [report] = buildReport(document, { setupId: 'open-face' }).setups;
  expect(report?.meters.find(({ id }) => id === 'axis-4')?.illuminanceLx).toBeCloseTo(337.5, 6);
});
