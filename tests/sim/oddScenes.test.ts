/** Scenes that open with a caution must still solve to finite levels, never below zero. */
import { expect, test } from 'vitest';
import type { Lamp, Modifier, SceneDocument, Surface } from '../../src/scene/schema';
import { findCautions } from '../../src/scene/cautions';
import { loadScene } from '../../src/scene/load';
import { saveScene } from '../../src/scene/save';
import { buildReport, reportJson } from '../../src/sim/report';
import { facing, lamp, sceneOf, SETUP } from '../validation/scenes';

const wall: Surface = {
  name: 'North wall',
  kind: 'wall',
  pose: facing([0, 3, 0], 180, 0),
  shape: { kind: 'rectangle', widthM: 4, heightM: 3 },
  thicknessM: 0.3,
};
const panel = (at: [number, number, number], tiltDeg = 0): Lamp =>
  lamp(
    facing(at, 0, tiltDeg),
    { shape: 'rectangle', widthM: 0.6, heightM: 0.3 },
    { kind: 'lambertian' },
    { kind: 'candela', candela: 500 },
  );
const net = (at: [number, number, number]): Modifier => ({
  name: 'Net',
  pose: facing(at, 0, 0),
  shape: { kind: 'rectangle', widthM: 1, heightM: 1 },
  material: { kind: 'net', stops: 1 },
});

function scene(lampPart: Lamp, modifiers: Record<string, Modifier> = {}): SceneDocument {
  const plain = sceneOf({ sources: { key: lampPart }, modifiers, surfaces: { wall } });
  return {
    ...plain,
    story: { playsSun: [{ sourceId: 'key', surfaceId: 'wall' }] },
    meters: {
      'on-wall': { name: 'On the wall', positionM: [2, 3, 1.5], receptor: 'flat', aim: { panDeg: 180, tiltDeg: 0 } },
      dome: { name: 'Dome', positionM: [2, 2, 1.5], receptor: 'dome', aim: { panDeg: 180, tiltDeg: 0 } },
    },
  };
}

function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return value !== null && typeof value === 'object' ? Object.values(value).flatMap(numbersIn) : [];
}

const odd: [string, SceneDocument, string | null][] = [
  ['a lamp inside the wall', scene(panel([2, 3.15, 1.5])), 'insideWall'],
  ['a lamp in the plane of the wall', scene(panel([2, 3, 1.5])), null],
  ['a lamp that cuts through the wall', scene(panel([2, 2.95, 1.5], 60)), null],
  ['a net in the plane of the wall', scene(panel([2, 0, 1.5]), { net: net([2, 3, 1.5]) }), 'inPlaneOfSurface'],
  ['a net through the lamp', scene(panel([2, 0, 1.5]), { net: net([2, 0, 1.5]) }), null],
  ['a net on a meter', scene(panel([2, 0, 1.5]), { net: net([2, 2, 1.5]) }), null],
  ['a lamp aimed away: nothing lit', scene({ ...panel([2, 0, 1.5]), pose: facing([2, 0, 1.5], 180, 0) }), null],
  ['a lamp at level 0', scene({ ...panel([2, 0, 1.5]), level: 0 }), null],
  ['a lamp without output', scene({ ...panel([2, 0, 1.5]), output: { kind: 'candela', candela: 0 } }), null],
  ['a meter inside the lamp', scene({ ...panel([2, 2, 1.5]), emitter: { shape: 'sphere', diameterM: 0.8 } }), null],
];

test.each(odd)('%s opens, solves finite and loads again', (_, document, caution) => {
  const again = loadScene(saveScene(document), 'odd.json');
  expect(again).toMatchObject({ ok: true });
  const kinds = findCautions(document, SETUP).map(({ kind }) => kind);
  if (caution !== null) expect(kinds).toContain(caution);
  const report = buildReport(document);
  for (const number of numbersIn(reportJson(report))) expect(Number.isFinite(number)).toBe(true);
  for (const { illuminanceLx } of report.setups[0]!.meters) expect(illuminanceLx).toBeGreaterThanOrEqual(0);
  for (const { minLx } of report.setups[0]!.surfaces) expect(minLx).toBeGreaterThanOrEqual(0);
});

test('a net in the wall plane dims neither the wall nor a meter on it', () => {
  const bare = buildReport(scene(panel([2, 0, 1.5]))).setups[0]!;
  const netted = buildReport(scene(panel([2, 0, 1.5]), { net: net([2, 3, 1.5]) })).setups[0]!;
  expect(netted.meters[0]!.illuminanceLx).toBe(bare.meters[0]!.illuminanceLx);
  expect(netted.surfaces[0]!.meanLx).toBe(bare.surfaces[0]!.meanLx);
});
