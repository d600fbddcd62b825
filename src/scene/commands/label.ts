/** What the undo button says about a command. */
import type { SceneDocument } from '../schema';
import { nameOf } from './things';
import type { Command, SingleCommand } from './types';

type Patch = Extract<SingleCommand, { type: 'patch' }>;

/** Verb phrases for patches of one field; # stands for the thing. */
const FIELD_PHRASES: Readonly<Record<string, string>> = {
  name: 'Rename #',
  level: 'Set level of #',
  output: 'Set output of #',
  distribution: 'Set beam of #',
  emitter: 'Set emitter of #',
  colour: 'Set colour of #',
  accessories: 'Set accessories of #',
  control: 'Set address of #',
  power: 'Set power of #',
  pose: 'Place #',
  shape: 'Resize #',
  material: 'Set material of #',
  frame: 'Set frame of #',
  role: 'Set role of #',
  reflectance: 'Set reflectance of #',
  thicknessM: 'Set thickness of #',
  window: 'Set window of #',
  reading: 'Set reading of #',
  notes: 'Note on #',
  opacity: 'Fade #',
  metresPerPixel: 'Scale #',
  turnDeg: 'Turn #',
  offsetM: 'Shift #',
};
const SWITCH_PHRASES: Readonly<Record<string, readonly [on: string, off: string]>> = {
  off: ['Turn off #', 'Turn on #'],
  hidden: ['Hide #', 'Show #'],
  locked: ['Lock #', 'Unlock #'],
};
const PART_PHRASES = {
  camera: 'Change camera',
  story: 'Change story',
  display: 'Change units',
  titleBlock: 'Change title block',
} as const;

const own = <T>(record: Readonly<Record<string, T>>, key: string): T | undefined =>
  Object.hasOwn(record, key) ? record[key] : undefined;

function patchPhrase(command: Patch): string {
  const fields = Object.keys(command.fields);
  const keys = [...fields, ...(command.clear ?? [])];
  const [key] = keys;
  if (key !== undefined && keys.every((other) => ['altitudeDeg', 'azimuthDeg'].includes(other))) return 'Turn #';
  if (key !== undefined && keys.every((other) => ['leftM', 'sillM'].includes(other))) return 'Move #';
  if (keys.length !== 1 || key === undefined) return 'Change #';
  const phrases = own(SWITCH_PHRASES, key);
  if (phrases !== undefined) {
    return (command.fields as Readonly<Record<string, unknown>>)[key] === true ? phrases[0] : phrases[1];
  }
  return own(FIELD_PHRASES, key) ?? 'Change #';
}

function scenePhrase(command: Extract<SingleCommand, { type: 'patchScene' }>): string {
  if (command.part !== 'scene') return PART_PHRASES[command.part];
  const keys = [...Object.keys(command.fields), ...(command.clear ?? [])];
  if (keys.length !== 1) return 'Change scene';
  return keys[0] === 'northDeg' ? 'Turn north' : keys[0] === 'name' ? 'Rename scene' : 'Change scene';
}

/**
 * A short verb phrase: "Move L1".
 * @param document the document before the command, for the names of things; ids stand in without it
 */
export function labelOf(command: Command, document?: SceneDocument): string {
  const setupName = (id: string): string => document?.setups.find((setup) => setup.id === id)?.name ?? id;
  switch (command.type) {
    case 'add':
      return `Add ${('name' in command.value && command.value.name) || command.at.id}`;
    case 'replace':
      return `Replace ${nameOf(document, command.at)}`;
    case 'remove':
      return `Remove ${nameOf(document, command.at)}`;
    case 'move':
      return `Move ${nameOf(document, command.at)}`;
    case 'aim':
      return `Aim ${nameOf(document, command.at)}`;
    case 'patch':
      // A function, because a name may hold $ signs that a replacement text would read as its own.
      return patchPhrase(command).replace('#', () => nameOf(document, command.at));
    case 'patchScene':
      return scenePhrase(command);
    case 'addSetup':
      return `Add setup ${command.setup.name}`;
    case 'copySetup':
      return `Copy setup ${setupName(command.setupId)}`;
    case 'removeSetup':
      return `Remove setup ${setupName(command.setupId)}`;
    case 'patchSetup':
      return `${'name' in command.fields ? 'Rename' : 'Change'} setup ${setupName(command.setupId)}`;
    case 'moveSetup':
      return `Reorder setup ${setupName(command.setupId)}`;
    case 'sequence':
      return command.label;
  }
}
