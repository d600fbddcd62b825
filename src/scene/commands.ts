/** The only way a document changes: a command goes in, a new document or a refusal comes out. */
import { describe, pathText, valueAt } from './faults';
import { problemsFromIssues } from './issues';
import type { SceneDocument } from './schema';
import { patchScene } from './commands/sceneCommands';
import { addSetup, changeSetup, copySetup } from './commands/setupCommands';
import { patchThing, placeThing, putThing, removeThing } from './commands/thingCommands';
import { accept, commandSchema, refuse, type Command, type CommandResult, type ReadCommand } from './commands/types';

export type {
  Command,
  CommandResult,
  Fields,
  SequenceCommand,
  SingleCommand,
  Thing,
  ThingKind,
  ThingRef,
} from './commands/types';
export { labelOf } from './commands/label';

function applyOne(document: SceneDocument, command: ReadCommand): CommandResult {
  switch (command.type) {
    case 'add':
    case 'replace':
      return putThing(document, command);
    case 'patch':
      return patchThing(document, command);
    case 'remove':
      return removeThing(document, command);
    case 'move':
    case 'aim':
      return placeThing(document, command);
    case 'patchScene':
      return patchScene(document, command);
    case 'addSetup':
      return addSetup(document, command);
    case 'copySetup':
      return copySetup(document, command);
    case 'removeSetup':
    case 'patchSetup':
    case 'moveSetup':
      return changeSetup(document, command);
  }
}

/**
 * The document after a command. What the command does not touch keeps its reference; nothing is ever changed in place.
 * @param document a valid document: from loadScene, emptyScene or an earlier command
 * @returns the new document, or one sentence why the command was refused; then the old document stands
 */
export function applyCommand(document: SceneDocument, command: Command): CommandResult {
  const read = commandSchema.safeParse(command);
  if (!read.success) {
    const problem = problemsFromIssues(read.error.issues)[0] ?? { path: [], expected: 'a command' };
    const found = problem.found ?? describe(valueAt(command, problem.path));
    return refuse(`${pathText(problem.path) || 'command'}: found ${found}, expected ${problem.expected}.`);
  }
  if (read.data.type !== 'sequence') return applyOne(document, read.data);
  let current = document;
  for (const single of read.data.commands) {
    const result = applyOne(current, single);
    if (!result.ok) return result;
    current = result.document;
  }
  return accept(current);
}
