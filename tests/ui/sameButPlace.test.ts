/** Fields of a thing that is carried: those that do not tell its place are drawn once, not at every step. */
import { expect, test } from 'vitest';
import { applyCommand, type Command } from '../../src/scene/commands';
import type { SceneDocument } from '../../src/scene/schema';
import { isSameButPlace } from '../../src/ui/panels/selected/sameButPlace';
import { unitsOf } from '../../src/ui/words/format';
import { largeScene } from '../large/largeScene';

const LAMP = { kind: 'source', setupId: 'a', id: 'lamp-5' } as const;
const start = largeScene(5);

function after(command: Command): SceneDocument {
  const result = applyCommand(start, command);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
}
const lampProps = (document: SceneDocument): object => ({
  thing: { kind: 'source', id: LAMP.id },
  lamp: document.setups[0]!.sources[LAMP.id],
  webs: document.webs,
  units: unitsOf(document),
});

test('a lamp that was carried or turned shows the same in all other fields', () => {
  const carried = after({ type: 'move', at: LAMP, positionM: [1, 2, 3] });
  expect(isSameButPlace(lampProps(start), lampProps(carried))).toBe(true);
});

test.each<readonly [string, Command]>([
  ['level', { type: 'patch', at: LAMP, fields: { level: 0.35 } }],
  ['name', { type: 'patch', at: LAMP, fields: { name: 'K1' } }],
  ['units', { type: 'patchScene', part: 'display', fields: { length: 'feet' } }],
])('another %s is another field', (_, command) => {
  expect(isSameButPlace(lampProps(start), lampProps(after(command)))).toBe(false);
});

test('a part that is not a placed thing may have a member named pose', () => {
  const webs = (text: string): object => ({ lamp: { name: 'L1' }, webs: { pose: text } });
  expect(isSameButPlace(webs('old'), webs('new'))).toBe(false);
  expect(isSameButPlace(webs('old'), webs('old'))).toBe(true);
  expect(isSameButPlace({ modifier: { pose: 1 } }, { modifier: { pose: 2, name: 'N1' } })).toBe(false);
});
