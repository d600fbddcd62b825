/** How a fault in a scene is told: where, what was found, what was expected, always on one line. */

export type PathPart = string | number;
export type Path = readonly PathPart[];

/** Something wrong at a place in a document; `found` is read from the document when absent. */
export interface Problem {
  readonly path: Path;
  readonly found?: string;
  readonly expected: string;
  /** Said instead of "found, expected" where those two words do not fit. */
  readonly sentence?: string;
}
/** A problem in a file. `line` counts from 1; null when the fault has no place. */
export interface Fault {
  readonly file: string;
  readonly line: number | null;
  readonly path: string;
  readonly found: string;
  readonly expected: string;
  readonly sentence?: string;
}

const MAX_SHOWN = 60;
const PLAIN_KEY = /^[A-Za-z_$][\w$-]*$/;
/** Text made fit for one line: controls, line ends and direction marks become escapes, the rest is cut to length. */
export function onOneLine(text: string, longest = MAX_SHOWN): string {
  const safe = text.replace(
    /[\p{Cc}\p{Zl}\p{Zp}\p{Cf}\p{Cs}]/gu,
    (mark) => `\\u${(mark.codePointAt(0) ?? 0).toString(16).padStart(4, '0')}`,
  );
  const letters = [...safe];
  return letters.length > longest ? `${letters.slice(0, longest).join('')}…` : safe;
}
const quote = (text: string): string => `"${onOneLine(text)}"`;

/** A value in a few words: numbers and short text as they are, the rest by kind. */
export function describe(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null || typeof value === 'boolean' || typeof value === 'number') return String(value);
  if (typeof value === 'string') return quote(value);
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : `a list of ${value.length}`;
  return typeof value === 'object' ? 'an object' : `a ${typeof value}`;
}

/** A path as one writes it: `setups[0].sources.key-lamp.pose.positionM[1]`. */
export function pathText(path: Path): string {
  return path
    .map((part, index) => {
      if (typeof part === 'number') return `[${part}]`;
      if (!PLAIN_KEY.test(part)) return `[${quote(part)}]`;
      return index === 0 ? onOneLine(part) : `.${onOneLine(part)}`;
    })
    .join('');
}

/** The value at a path, own properties only; undefined where there is none. */
export function valueAt(root: unknown, path: Path): unknown {
  let value = root;
  for (const part of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, part)) return undefined;
    value = (value as Record<PathPart, unknown>)[part];
  }
  return value;
}

/** "found 3, expected a number below 2", or the problem's own sentence. */
const told = (problem: { found: string; expected: string; sentence?: string | undefined }): string =>
  problem.sentence ?? `found ${problem.found}, expected ${problem.expected}`;

/** One line for the log and the command line: `shaft.json, line 14, surfaces.north.thicknessM: found -0.2, expected …`. */
export function formatFault(fault: Fault): string {
  const line = fault.line === null ? '' : `, line ${fault.line}`;
  const path = fault.path === '' ? '' : `, ${fault.path}`;
  return `${onOneLine(fault.file, 200)}${line}${path}: ${told(fault)}`;
}

/** One sentence for a refused command; the place is the path in the document. */
export function problemSentence(problem: Problem, root: unknown): string {
  const found = problem.found ?? describe(valueAt(root, problem.path));
  const place = pathText(problem.path);
  return `${place === '' ? '' : `${place}: `}${told({ ...problem, found })}.`.replace(/\.\.$/, '.');
}
