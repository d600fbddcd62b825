/** From a setup as it is to one that a helper has planned: the fewest commands, done and taken back as one step. */
import type { Command, SingleCommand } from '../../scene/commands';
import type { Modifier, Setup, Source } from '../../scene/schema';

type Kind = 'source' | 'modifier';

/** True for equal plain data, whatever the order of its keys. */
export function isSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [own, other] = [a as Record<string, unknown>, b as Record<string, unknown>];
  const keys = Object.keys(own);
  return keys.length === Object.keys(other).length && keys.every((key) => isSame(own[key], other[key]));
}

function changes(
  kind: Kind,
  setupId: string,
  from: Readonly<Record<string, Source | Modifier>>,
  to: Readonly<Record<string, Source | Modifier>>,
): SingleCommand[] {
  const gone = Object.keys(from).filter((id) => !Object.hasOwn(to, id));
  return [
    ...gone.map((id): SingleCommand => ({ type: 'remove', at: { kind, setupId, id } })),
    ...Object.entries(to).flatMap(([id, value]): SingleCommand[] => {
      const at = { kind, setupId, id };
      const was = from[id];
      if (!was) return [{ type: 'add', at, value }];
      return isSame(was, value) ? [] : [{ type: 'replace', at, value }];
    }),
  ];
}

/** @returns null where nothing changes */
export function changeTo(from: Setup, to: Setup, label: string): Command | null {
  const commands = [
    ...changes('source', from.id, from.sources, to.sources),
    ...changes('modifier', from.id, from.modifiers, to.modifiers),
  ];
  return commands.length === 0 ? null : { type: 'sequence', label, commands };
}
