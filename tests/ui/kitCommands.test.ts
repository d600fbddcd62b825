/** Lamps placed from the kit and kept in it. */
import { expect, test } from 'vitest';
import { applyCommand, type Command } from '../../src/scene/commands';
import { KIT_CLASSES } from '../../src/scene/kit/classes';
import { entryFromLamp } from '../../src/scene/kit/own';
import type { Lamp, SceneDocument } from '../../src/scene/schema';
import { keepInKit, placeFromKit, type LampEntry } from '../../src/ui/kitCommands';
import { sampleScene } from '../scene/sample';

function done(scene: SceneDocument, command: Command): SceneDocument {
  const result = applyCommand(scene, command);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
}
const PLACE = { setupId: 'a', surfaceId: 'west' };

test('every typical class can be placed; its light is the class’s, its place the wall’s', () => {
  for (const { entry, symbol } of KIT_CLASSES) {
    const scene = sampleScene();
    const { command, lampId } = placeFromKit(scene, PLACE, entry, null, symbol);
    const lamp = done(scene, command).setups[0]!.sources[lampId] as Lamp;
    expect(lamp).toMatchObject({ ...entry.lamp, unit: entry.name, symbol });
    expect(lamp.kitId).toBeUndefined();
  }
});

test('a lamp kept as own is placed again with its light, and knows its entry', () => {
  const scene = sampleScene();
  const lamp = scene.setups[0]!.sources['key-lamp'] as Lamp;
  const kept = done(scene, keepInKit(scene, entryFromLamp(lamp, 'Our quay spot')));
  expect(kept.kit?.['own-1']).toMatchObject({ name: 'Our quay spot', count: 1 });
  const { command, lampId } = placeFromKit(kept, PLACE, kept.kit!['own-1'] as LampEntry, 'own-1');
  const again = done(kept, command).setups[0]!.sources[lampId] as Lamp;
  expect(again).toMatchObject({ kitId: 'own-1', unit: 'Our quay spot', output: lamp.output, emitter: lamp.emitter });
  // Another one gets another id.
  expect(Object.keys(done(kept, keepInKit(kept, entryFromLamp(lamp, 'Second'))).kit ?? {})).toContain('own-2');
});
