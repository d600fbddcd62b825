/** What a command is given and what it answers with; how a wrong call and a wrong input are told apart. */
import { readFileSync } from 'node:fs';
import { formatFault, loadScene } from '../scene/load';
import { onOneLine } from '../scene/faults';
import type { SceneDocument } from '../scene/schema';

export const GOOD = 0;
export const INPUT_AT_FAULT = 1;
export const CALL_AT_FAULT = 2;
export type ExitCode = typeof GOOD | typeof INPUT_AT_FAULT | typeof CALL_AT_FAULT;

/** Where a command writes: whole lines or text, without a terminal behind it in tests. */
export interface Output {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
}

/** One of the commands; `run` gets what follows the command's name. */
export interface Command {
  readonly name: string;
  readonly usage: string;
  readonly help: string;
  readonly run: (words: readonly string[], output: Output) => Promise<ExitCode> | ExitCode;
}

/** A fault to be told in one line and answered with its exit code. */
export class CommandFault extends Error {
  override readonly name = 'CommandFault';
  readonly exitCode: ExitCode;
  readonly lines: readonly string[];

  constructor(exitCode: ExitCode, lines: readonly string[]) {
    super(lines.join('\n'));
    this.exitCode = exitCode;
    this.lines = lines;
  }
}
export const callFault = (sentence: string): CommandFault => new CommandFault(CALL_AT_FAULT, [`farsun: ${sentence}`]);

/** Why a file cannot be read or written, in plain words; the system's own code where we know none. */
export function fileTrouble(error: unknown): string {
  const code = (error as { code?: unknown }).code;
  switch (code) {
    case 'ENOENT':
      return 'no such file or folder';
    case 'EISDIR':
      return 'is a folder';
    case 'EACCES':
    case 'EPERM':
      return 'no permission';
    default:
      return typeof code === 'string' ? `the system says ${code}` : 'it cannot be used';
  }
}

/**
 * The scene in a file.
 * @throws {CommandFault} input at fault: one line for each fault, with file, line and path
 */
export function readScene(fileName: string): SceneDocument {
  let text: string;
  try {
    text = readFileSync(fileName, 'utf8');
  } catch (error) {
    throw new CommandFault(INPUT_AT_FAULT, [`${onOneLine(fileName, 200)}: cannot be read, ${fileTrouble(error)}`]);
  }
  const loaded = loadScene(text, fileName);
  if (!loaded.ok) throw new CommandFault(INPUT_AT_FAULT, loaded.faults.map(formatFault));
  return loaded.document;
}

const listed = (ids: readonly string[]): string => (ids.length > 0 ? ids.join(', ') : 'none');

/**
 * Id of a setup of the scene: the one asked for, else the first.
 * @throws {CommandFault} call at fault when the scene has no such setup
 */
export function setupIdOf(document: SceneDocument, asked: string | undefined): string {
  const ids = document.setups.map((setup) => setup.id);
  if (asked === undefined) return ids[0] ?? '';
  if (!ids.includes(asked)) throw callFault(`no setup "${onOneLine(asked)}" in this scene; it has ${listed(ids)}`);
  return asked;
}

/**
 * Id of a surface of the scene.
 * @throws {CommandFault} call at fault when none is asked for or the scene has no such surface
 */
export function surfaceIdOf(document: SceneDocument, asked: string | undefined): string {
  const ids = Object.keys(document.surfaces);
  if (asked === undefined) throw callFault(`--surface is missing; the scene has ${listed(ids)}`);
  if (!ids.includes(asked)) throw callFault(`no surface "${onOneLine(asked)}" in this scene; it has ${listed(ids)}`);
  return asked;
}
