/** Commands on whole setups. */
import type { Path, Problem } from '../faults';
import { modifierProblems, sourceProblems } from '../invariants';
import { setupSchema, type SceneDocument, type Setup } from '../schema';
import { withoutDangling } from './thingCommands';
import { refuse, type CommandResult, type ReadCommand } from './types';
import { acceptIfSound, judge, patched } from './values';

const MAX_SETUPS = 100;
type Read<T extends ReadCommand['type']> = Extract<ReadCommand, { type: T }>;

const inserted = (setups: readonly Setup[], setup: Setup, index: number): Setup[] => [
  ...setups.slice(0, index),
  setup,
  ...setups.slice(index),
];
const isFull = (document: SceneDocument): boolean => document.setups.length >= MAX_SETUPS;
const fullFault = (): CommandResult => refuse(`A scene holds at most ${MAX_SETUPS} setups.`);
const idTaken = (document: SceneDocument, id: string): boolean => document.setups.some((setup) => setup.id === id);

function insideProblems(setup: Setup, path: Path): Problem[] {
  return [
    ...Object.entries(setup.sources).flatMap(([id, source]) => sourceProblems(source, [...path, 'sources', id])),
    ...Object.entries(setup.modifiers).flatMap(([id, it]) => modifierProblems(it, [...path, 'modifiers', id])),
  ];
}

export function addSetup(document: SceneDocument, { setup, index }: Read<'addSetup'>): CommandResult {
  if (isFull(document)) return fullFault();
  const place = Math.min(index ?? document.setups.length, document.setups.length);
  const judged = judge(setupSchema, setup, ['setups', place]);
  if (!judged.ok) return refuse(judged.fault);
  if (idTaken(document, judged.value.id)) return refuse(`There is a setup ${judged.value.id} already.`);
  const next = { ...document, setups: inserted(document.setups, judged.value, place) };
  return acceptIfSound(next, insideProblems(judged.value, ['setups', place]));
}

export function copySetup(document: SceneDocument, { setupId, id, name }: Read<'copySetup'>): CommandResult {
  const index = document.setups.findIndex((setup) => setup.id === setupId);
  const original = document.setups[index];
  if (original === undefined) return refuse(`There is no setup ${setupId}.`);
  if (isFull(document)) return fullFault();
  if (idTaken(document, id)) return refuse(`There is a setup ${id} already.`);
  return acceptIfSound({ ...document, setups: inserted(document.setups, { ...original, id, name }, index + 1) }, []);
}

/** Commands on a setup that is there: remove it, patch its own fields, put it elsewhere in the order. */
export function changeSetup(
  document: SceneDocument,
  command: Read<'removeSetup'> | Read<'patchSetup'> | Read<'moveSetup'>,
): CommandResult {
  const index = document.setups.findIndex((setup) => setup.id === command.setupId);
  const setup = document.setups[index];
  if (setup === undefined) return refuse(`There is no setup ${command.setupId}.`);
  const others = document.setups.filter((other) => other !== setup);
  if (command.type === 'removeSetup') {
    if (others.length === 0) return refuse('A scene keeps at least one setup.');
    return acceptIfSound(withoutDangling({ ...document, setups: others }), []);
  }
  if (command.type === 'moveSetup') {
    return acceptIfSound({ ...document, setups: inserted(others, setup, command.index) }, []);
  }
  const { name, notes } = setupSchema.shape;
  const judged = patched(setup, { name, notes }, command.fields, command.clear ?? [], ['setups', index]);
  if (!judged.ok) return refuse(judged.fault);
  const setups = document.setups.map((other) => (other === setup ? judged.value : other));
  return acceptIfSound({ ...document, setups }, []);
}
