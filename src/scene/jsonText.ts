/** The text of a scene file before anything is known of its form: is it JSON, and where does each thing stand. */
import { parseTree, visit, type Node, type ParseError, type ParseErrorCode } from 'jsonc-parser';
import { describe, onOneLine, valueAt, type Path, type Problem } from './faults';

/** A file may have this many characters: far more than any scene, few enough not to stall a tablet. */
export const MAX_TEXT_LENGTH = 20_000_000;
/** Scenes nest about ten deep; a file that goes past this was not made as a scene. */
export const MAX_DEPTH = 64;

/** A problem with a place in the text. */
export interface TextProblem extends Problem {
  readonly offset: number | null;
}

/** What one must have meant where the parser stumbles, by its error code. */
const SYNTAX_WORDS: Readonly<Record<ParseErrorCode, string>> = {
  1: 'a value as JSON writes it',
  2: 'a number as JSON writes it',
  3: 'a field name in double quotes',
  4: 'a value',
  5: 'a colon after the field name',
  6: 'a comma',
  7: 'a closing brace',
  8: 'a closing bracket',
  9: 'the end of the file',
  10: 'no comments',
  11: 'no comments',
  12: 'a closing double quote on the same line',
  13: 'more digits of the number',
  14: 'four hexadecimal digits after \\u',
  15: 'an escape that JSON knows',
  16: 'no control characters in text',
};

/** Line (from 1) and column (from 1) of an offset; lines end with a line feed. */
export function lineAndColumn(text: string, offset: number): { line: number; column: number } {
  let line = 1;
  let lineStart = 0;
  for (let next = text.indexOf('\n'); next !== -1 && next < offset; next = text.indexOf('\n', next + 1)) {
    line++;
    lineStart = next + 1;
  }
  return { line, column: offset - lineStart + 1 };
}

/** Offset of the bracket that goes one deeper than allowed, or null. Brackets inside text do not count. */
function tooDeepAt(text: string): number | null {
  let depth = 0;
  let inText = false;
  for (let offset = 0; offset < text.length; offset++) {
    const mark = text[offset];
    if (inText) {
      if (mark === '\\') offset++;
      else if (mark === '"') inText = false;
    } else if (mark === '"') inText = true;
    else if (mark === '{' || mark === '[') {
      depth++;
      if (depth > MAX_DEPTH) return offset;
    } else if (mark === '}' || mark === ']') depth--;
  }
  return null;
}

/** Pieces that do not show. */
const NAMED_PIECES = new Map([
  ['', 'the end of the file'],
  ['\ufeff', 'a byte order mark'],
  ['\u00a0', 'a space that JSON does not know'],
]);

function syntaxProblem(text: string): TextProblem {
  const errors: ParseError[] = [];
  parseTree(text, errors, { disallowComments: true });
  const first = errors[0];
  if (first === undefined) return { path: [], offset: null, found: 'text that is not JSON', expected: 'JSON' };
  const { column } = lineAndColumn(text, first.offset);
  const piece = text.slice(first.offset, first.offset + Math.max(1, first.length));
  const found = NAMED_PIECES.get(piece) ?? onOneLine(piece, 24);
  const sentence = `not JSON at column ${column}: found ${found}, expected ${SYNTAX_WORDS[first.error]}`;
  return { path: [], offset: first.offset, expected: 'JSON', found, sentence };
}

/** Field names that stand twice in one object, and the one name that no object may have. */
function nameProblems(text: string): TextProblem[] {
  const problems: TextProblem[] = [];
  const open: Set<string>[] = [];
  visit(text, {
    onObjectBegin: () => {
      open.push(new Set());
    },
    onObjectEnd: () => {
      open.pop();
    },
    onObjectProperty: (name, offset, _length, _line, _character, pathTo) => {
      const names = open.at(-1);
      // Paths cost time, and nobody reads the thousandth fault; it is still counted.
      const path = (): Path => (problems.length < 1000 ? [...pathTo(), name] : [name]);
      if (name === '__proto__') {
        problems.push({ path: path(), offset, found: 'an unknown field', expected: 'no field of this name' });
      } else if (names?.has(name)) {
        problems.push({ path: path(), offset, found: 'this name a second time', expected: 'each name once' });
      }
      names?.add(name);
    },
  });
  return problems;
}

/** Plain JSON copied without `__proto__` fields, and -0 made 0, so that what is saved is what is loaded. */
export function plainJson(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(plainJson);
  if (typeof value === 'number') return value === 0 ? 0 : value;
  if (typeof value !== 'object' || value === null) return value;
  const copy: Record<string, unknown> = {};
  for (const [key, inner] of Object.entries(value)) {
    if (key !== '__proto__' && inner !== undefined) copy[key] = plainJson(inner);
  }
  return copy;
}

export type ReadJson =
  | { readonly value: unknown; readonly problems: TextProblem[] }
  | { readonly value?: never; readonly problems: TextProblem[] };

/** Parses text as strict JSON. Without `value` the text could not be read at all; `problems` then says why. */
export function readJson(text: string): ReadJson {
  if (text.length > MAX_TEXT_LENGTH) {
    const found = `${Math.ceil(text.length / 1e5) / 10} MB`;
    return { problems: [{ path: [], offset: null, found, expected: `at most ${MAX_TEXT_LENGTH / 1e6} MB` }] };
  }
  const deep = tooDeepAt(text);
  if (deep !== null) {
    const found = `brackets nested more than ${MAX_DEPTH} deep`;
    return { problems: [{ path: [], offset: deep, found, expected: `at most ${MAX_DEPTH}` }] };
  }
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { problems: [syntaxProblem(text)] };
  }
  return { value: plainJson(value), problems: nameProblems(text) };
}

/** Finds nodes by path; the fields of an object are indexed once, as files may have very many faults. */
function nodeFinder(tree: Node | undefined): (path: Path) => Node | undefined {
  const fields = new Map<Node, Map<string, Node>>();
  const fieldsOf = (object: Node): Map<string, Node> => {
    const known = fields.get(object);
    if (known !== undefined) return known;
    // Where a name stands twice the later property wins, as it does for JSON.parse.
    const index = new Map((object.children ?? []).map((property) => [String(property.children?.[0]?.value), property]));
    fields.set(object, index);
    return index;
  };
  return (path) => {
    let place = tree;
    for (const part of path) {
      const holder = place?.type === 'property' ? place.children?.[1] : place;
      const next = holder?.type === 'object' ? fieldsOf(holder).get(String(part)) : holder?.children?.[Number(part)];
      // The place of a missing thing is the one that should have held it.
      if (next === undefined) return place;
      place = next;
    }
    return place;
  };
}

/** Gives each problem its place in the text, and what was found there as it was written (1e999 stays 1e999). */
export function placeProblems(text: string, value: unknown, problems: readonly Problem[]): TextProblem[] {
  if (problems.length === 0) return [];
  const find = nodeFinder(parseTree(text));
  return problems.map((problem) => {
    const node = find(problem.path);
    const offset = node?.offset ?? null;
    if (problem.found !== undefined) return { ...problem, offset };
    const there = valueAt(value, problem.path);
    const number = node?.type === 'property' ? node.children?.[1] : node;
    const found =
      typeof there === 'number' && number?.type === 'number'
        ? onOneLine(text.slice(number.offset, number.offset + number.length), 24)
        : describe(there);
    return { ...problem, found, offset };
  });
}
