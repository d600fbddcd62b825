/** The command line without a process around it: words in, text and an exit code out. */
import { onOneLine } from '../scene/faults';
import { checkCommand } from './check';
import { CALL_AT_FAULT, CommandFault, GOOD, INPUT_AT_FAULT, type Command, type ExitCode, type Output } from './call';
import { convertCommand } from './convert';
import { distancesCommand } from './distances';
import { fieldCommand } from './field';
import { mendsCommand } from './mends';
import { placeCommand } from './place';
import { reportCommand } from './report';

const COMMANDS: readonly Command[] = [
  reportCommand,
  fieldCommand,
  mendsCommand,
  placeCommand,
  distancesCommand,
  convertCommand,
  checkCommand,
];
const HELP_WORDS = ['--help', '-h', 'help'];

const helpOf = (command: Command): string =>
  `farsun ${command.usage}\n${command.help
    .split('\n')
    .map((line) => `    ${line}`)
    .join('\n')}\n`;
const usageText = (): string =>
  `${COMMANDS.map(helpOf).join('\n')}\nExit codes: 0 good, 1 the input is at fault, 2 the call is at fault.\n`;

function tellFault(fault: CommandFault, output: Output): ExitCode {
  for (const line of fault.lines) output.err(`${line}\n`);
  return fault.exitCode;
}

/** A fault that no check foresaw, in one line: its words, never its stack. */
function tellUnforeseen(error: unknown, words: readonly string[], output: Output): ExitCode {
  const what = error instanceof Error ? error.message : String(error);
  output.err(`farsun ${words.map((word) => onOneLine(word)).join(' ')}: ${onOneLine(what, 300)}\n`);
  return INPUT_AT_FAULT;
}

/**
 * Runs one command line.
 * @param words what follows `farsun`
 * @returns 0 good, 1 the input is at fault, 2 the call is at fault; never throws
 */
export async function runCommandLine(words: readonly string[], output: Output): Promise<ExitCode> {
  const [name, ...rest] = words;
  if (name === undefined) {
    output.err(usageText());
    return CALL_AT_FAULT;
  }
  if (HELP_WORDS.includes(name)) {
    output.out(usageText());
    return GOOD;
  }
  const command = COMMANDS.find((candidate) => candidate.name === name);
  if (!command) {
    const known = COMMANDS.map((candidate) => candidate.name).join(', ');
    output.err(`farsun: no command "${onOneLine(name)}"; there are ${known}\n`);
    return CALL_AT_FAULT;
  }
  if (rest.includes('--help') || rest.includes('-h')) {
    output.out(helpOf(command));
    return GOOD;
  }
  try {
    return await command.run(rest, output);
  } catch (error) {
    return error instanceof CommandFault ? tellFault(error, output) : tellUnforeseen(error, words, output);
  }
}
