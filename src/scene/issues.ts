/** From the schema library's issues to problems in our words: one short line each, never a dump. */
import type { z } from 'zod';
import { describe, type Path, type PathPart, type Problem } from './faults';

type Issue = z.core.$ZodIssue;

export const ID_WORDS = 'an id of small letters, digits and hyphens, a letter first, at most 64 long';
const FORMAT_WORDS: readonly (readonly [startsLike: string, words: string])[] = [
  ['/^[a-z]', ID_WORDS],
  ['/^\\d{4}-', 'a date like 2025-10-18'],
  ['/^\\d{2}:', 'a time like 16:30'],
  ['/^data:image', 'a PNG, JPEG or WebP picture as a data URL'],
];
const TYPE_WORDS = new Map<string, string>([
  ['number', 'a number'],
  ['int', 'a whole number'],
  ['string', 'text'],
  ['boolean', 'true or false'],
  ['object', 'an object'],
  ['record', 'an object'],
  ['array', 'a list'],
  ['tuple', 'a list of numbers'],
]);

const listWords = (values: readonly unknown[]): string => {
  const shown = values.map((value) => JSON.stringify(value) ?? String(value));
  return shown.length === 1 ? (shown[0] ?? '') : `one of ${shown.join(', ')}`;
};

function sizeWords(issue: Issue & { code: 'too_small' | 'too_big' }): string {
  const limit = issue.code === 'too_small' ? issue.minimum : issue.maximum;
  const inclusive = issue.inclusive ?? true;
  const bound = issue.code === 'too_small' ? (inclusive ? 'at least' : 'above') : inclusive ? 'at most' : 'below';
  if (issue.origin === 'array' || issue.origin === 'tuple') return `a list of ${bound} ${limit}`;
  if (issue.origin === 'string') return `${bound} ${limit} characters`;
  const noun = issue.origin === 'int' ? 'a whole number' : 'a number';
  return inclusive ? `${noun} of ${bound} ${limit}` : `${noun} ${bound} ${limit}`;
}

function expectedWords(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type': {
      const received = (issue as { received?: unknown }).received;
      if (received === 'NaN' || received === 'Infinity') return 'a finite number';
      return TYPE_WORDS.get(issue.expected) ?? `a ${issue.expected}`;
    }
    case 'too_small':
    case 'too_big':
      return sizeWords(issue);
    case 'invalid_value':
      return listWords(issue.values);
    case 'invalid_format':
      return FORMAT_WORDS.find(([start]) => issue.pattern?.startsWith(start))?.[1] ?? 'text of another form';
    default:
      return 'another value';
  }
}

const weight = (issues: readonly Issue[]): number =>
  issues.reduce((sum, issue) => sum + (issue.code === 'unrecognized_keys' ? issue.keys.length : 1), 0);

/** The branch of a union that the value comes nearest to: the one with the fewest things wrong. */
function nearestBranch(branches: readonly (readonly Issue[])[]): readonly Issue[] {
  return branches.reduce((best, branch) => (weight(branch) < weight(best) ? branch : best), branches[0] ?? []);
}

/**
 * Problems for the issues of one parse.
 * @param base path of the parsed value in the document, put before each issue's own path
 */
export function problemsFromIssues(issues: readonly Issue[], base: Path = []): Problem[] {
  return issues.flatMap((issue): Problem[] => {
    const path = [...base, ...(issue.path as PathPart[])];
    switch (issue.code) {
      case 'unrecognized_keys':
        return issue.keys.map((key) => ({
          path: [...path, key],
          found: 'an unknown field',
          expected: 'no field of this name',
        }));
      case 'invalid_key':
        return [{ path, found: `${describe(path.at(-1))} as an id`, expected: ID_WORDS }];
      case 'invalid_union': {
        if ('options' in issue && Array.isArray(issue.options)) return [{ path, expected: listWords(issue.options) }];
        return problemsFromIssues(nearestBranch(issue.errors), path);
      }
      default:
        return [{ path, expected: expectedWords(issue) }];
    }
  });
}
