/** The words after a command: one scene file and options. */
import { parseArgs } from 'node:util';
import { onOneLine } from '../scene/faults';
import { callFault } from './call';

export type OptionKinds = Readonly<Record<string, 'text' | 'flag'>>;
export interface Words {
  readonly sceneFile: string;
  /** All files named, as many as were asked for. */
  readonly files: readonly string[];
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
 * @param wanted what each file is, in words, where it is not one scene file
 * @throws {CommandFault} call at fault: an unknown option, a missing value, too few files or too many
 */
export function readWords(
  words: readonly string[],
  options: OptionKinds,
  wanted: readonly string[] = ['the scene file'],
): Words {
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
  const files = parsed.positionals;
  const missing = wanted[files.length];
  if (missing !== undefined) throw callFault(`${missing} is missing`);
  const surplus = files[wanted.length];
  if (surplus !== undefined) {
    const most = wanted.length === 1 ? `${wanted[0]!.replace(/^the /, 'one ')} at a time` : `${wanted.length} files`;
    throw callFault(`${most}; ${onOneLine(surplus)} is one too many`);
  }
  return {
    sceneFile: files[0]!,
    files,
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
