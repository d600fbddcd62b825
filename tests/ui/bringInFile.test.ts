/** A photometric file brought into a scene: for a lamp or a new one, taken back in one step. */
import { describe, expect, test } from 'vitest';
import { applyCommand, type Command } from '../../src/scene/commands';
import type { Lamp, SceneDocument } from '../../src/scene/schema';
import { readPhotometricText } from '../../src/scene/webs/readPhotometricText';
import { bringIn, type OpenedWeb } from '../../src/ui/bringInFile';
import { lm63, steps } from '../files/photometry/compose';
import { sampleScene } from '../scene/sample';

function opened(fileName: string, peak: number): OpenedWeb {
  const text = lm63({ verticalDeg: steps(0, 90, 10), horizontalDeg: [0], intensity: (g) => peak * (1 - g / 90) });
  const read = readPhotometricText(text, fileName);
  if (!read.ok) throw new Error(read.fault.found);
  return { fileName, text, file: read.file };
}
function done(scene: SceneDocument, command: Command): SceneDocument {
  const result = applyCommand(scene, command);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
}
const lampOf = (scene: SceneDocument, id: string): Lamp => scene.setups[0]!.sources[id] as Lamp;
const LIGHT = { output: { kind: 'file' }, emitter: { shape: 'point' }, basis: 'file' };

describe('a file', () => {
  test('for a lamp: stored in the scene, and the lamp’s light, output, opening and band come from it', () => {
    const scene = sampleScene();
    const { command, lampId, said } = bringIn(scene, 'a', null, 'key-lamp', opened('quay.ies', 9000));
    const next = done(scene, command);
    expect(lampId).toBe('key-lamp');
    expect(lampOf(next, 'key-lamp')).toMatchObject({ ...LIGHT, distribution: { kind: 'web', webId: 'web-1' } });
    expect(lampOf(next, 'key-lamp').pose).toEqual(lampOf(scene, 'key-lamp').pose);
    expect(next.webs?.['web-1']).toMatchObject({ name: 'quay spot, invented', fileName: 'quay.ies' });
    expect(said).toMatch(/^Brought in: quay\.ies, [\d\u2009]+ lm, peak 9000 cd\. L1 has it\.$/);
  });

  test('for nobody: a new lamp before the wall has it', () => {
    const scene = sampleScene();
    const { command, lampId } = bringIn(scene, 'a', 'west', null, opened('quay.ies', 9000));
    expect(lampOf(done(scene, command), lampId)).toMatchObject({ ...LIGHT, unit: 'quay spot, invented' });
    expect(lampId in scene.setups[0]!.sources).toBe(false);
  });

  test('the same text is stored once; a file that nobody uses any more goes', () => {
    const first = opened('one.ies', 5000);
    let scene = done(sampleScene(), bringIn(sampleScene(), 'a', null, 'key-lamp', first).command);
    const again = bringIn(scene, 'a', null, null, { ...first, fileName: 'copy.ies' });
    scene = done(scene, again.command);
    expect(Object.keys(scene.webs ?? {})).toEqual(['old', 'web-1']);
    scene = done(scene, bringIn(scene, 'a', null, 'key-lamp', opened('two.ies', 6000)).command);
    expect(Object.keys(scene.webs ?? {})).toEqual(['old', 'web-1', 'web-2']);
    scene = done(scene, bringIn(scene, 'a', null, again.lampId, opened('two.ies', 6000)).command);
    expect(Object.keys(scene.webs ?? {})).toEqual(['old', 'web-2']);
  });
});
