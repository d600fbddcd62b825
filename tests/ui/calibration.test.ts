/** Calibration by a metering grid: every lamp by one factor, a lamp of a photometric file too. */
import { expect, test } from 'vitest';
import { applyCommand } from '../../src/scene/commands';
import { loadScene } from '../../src/scene/load';
import type { Lamp, SceneDocument } from '../../src/scene/schema';
import { compileScene } from '../../src/sim/solve/compileScene';
import { readPoint } from '../../src/sim/solve/solvePoint';
import { calibrationCommand } from '../../src/ui/coverage/commands';
import { referenceText } from '../validation/fileLaws';
import { facing, lamp, pointLamp, sceneOf, SETUP } from '../validation/scenes';

const fileLamp = (): Lamp =>
  lamp(facing([0, 0, 0], 90, 0), { shape: 'point' }, { kind: 'web', webId: 'file' }, { kind: 'file' });
const document: SceneDocument = sceneOf({
  sources: { 'of-file': fileLamp(), plain: pointLamp([0, 1, 0], 500) },
  webs: { file: referenceText('A') },
});
const levelOf = (scene: SceneDocument): number =>
  readPoint(compileScene(scene, SETUP), { pointM: [4, 0, 0], normal: [-1, 0, 0] }).illuminanceLx;

test('a lamp of a file keeps its file and gives so much more; twice is the product', () => {
  let scene = document;
  for (const factor of [1.25, 0.5]) {
    const before = levelOf(scene);
    const applied = applyCommand(scene, calibrationCommand(scene.setups[0]!, factor)!);
    if (!applied.ok) throw new Error(applied.fault);
    scene = applied.document;
    expect(levelOf(scene) / before).toBeCloseTo(factor, 9);
  }
  expect(scene.setups[0]!.sources['of-file']).toMatchObject({
    distribution: { kind: 'web', webId: 'file' },
    output: { kind: 'file', factor: 0.625 },
    basis: 'metered',
  });
});
test('nothing is on: nothing to calibrate', () => {
  const setup = { ...document.setups[0]!, sources: { 'of-file': { ...fileLamp(), off: true } } };
  expect(calibrationCommand(setup, 2)).toBeNull();
});
test('a factor of 0 is no factor', () => {
  const scene = structuredClone(document) as unknown as { setups: { sources: Record<string, { output: object }> }[] };
  scene.setups[0]!.sources['of-file']!.output = { kind: 'file', factor: 0 };
  expect(loadScene(JSON.stringify(scene), 'scene').ok).toBe(false);
});
