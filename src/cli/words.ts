/** The words after a command: one scene file and options. */
import { parseArgs } from 'node:util';
import { onOneLine } from '../scene/faults';
import { callFault } from './call';

export type OptionKinds = Readonly<Record<string, 'text' | 'flag'>>;
export interface Words {
  readonly sceneFile: string;
  readonly text: (name: string) => string | undefined;
  readonly flag: (name: string) => boolean;
}

function optionFault(error: unknown, known: readonly string[]): Error {
  const code = (error as { code?: unknown }).code;
  // The library's sentences run over several lines and name its own functions; say it in one of ours.
  const option = /'(-[^' ]*)/.exec(error instanceof Error ? error.message : '')?.[1] ?? '';
  const names = known.map((name) => `--${name}`).join(', ');
  if (code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION') {
    return callFault(`no option ${onOneLine(option)} here; there are ${names}`);
  }
  return callFault(`option ${onOneLine(option)} is given wrongly; text options need a value, others take none`);
}

/**
 * Reads the words after a command's name.
 * @throws {CommandFault} call at fault: an unknown option, a missing value, no scene file or more than one
 */
export function readWords(words: readonly string[], options: OptionKinds): Words {
  let parsed: { values: Record<string, unknown>; positionals: string[] };
  try {
    parsed = parseArgs({
      args: [...words],
      allowPositionals: true,
      strict: true,
      options: Object.fromEntries(
        Object.entries(options).map(([name, kind]) => [
          name,
          { type: kind === 'flag' ? 'boolean' : 'string' } as const,
        ]),
      ),
    });
  } catch (error) {
    throw optionFault(error, Object.keys(options));
  }
  const [sceneFile, ...others] = parsed.positionals;
  if (sceneFile === undefined) throw callFault('the scene file is missing');
  if (others.length > 0) throw callFault(`one scene file at a time; ${onOneLine(others[0] ?? '')} is one too many`);
  return {
    sceneFile,
    text: (name) => (typeof parsed.values[name] === 'string' ? parsed.values[name] : undefined),
    flag: (name) => parsed.values[name] === true,
  };
}

/**
 * A whole number of an option, or undefined where it is not given.
 * @throws {CommandFault} call at fault when it is not a whole number from 1 to `most`
 */
export function wholeNumber(words: Words, name: string, most: number): number | undefined {
  const given = words.text(name);
  if (given === undefined) return undefined;
  const value = Number(given);
  if (!/^\d+$/.test(given) || value < 1 || value > most) {
    throw callFault(`--${name} must be a whole number from 1 to ${most}, not "${onOneLine(given)}"`);
  }
  return value;
}

/**
 * A number of an option, or undefined where it is not given.
 * @throws {CommandFault} call at fault when it is no number from `least` to `most`
 */
export function numberOf(words: Words, name: string, least: number, most: number): number | undefined {
  const given = words.text(name);
  if (given === undefined) return undefined;
  const value = Number(given);
  if (given.trim() === '' || !(value >= least && value <= most)) {
    throw callFault(`--${name} must be a number from ${least} to ${most}, not "${onOneLine(given)}"`);
  }
  return value;
}
