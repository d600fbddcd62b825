/** Whether fields that do not tell of a thing's place would show what they showed before. */

type Members = Readonly<Record<string, unknown>>;

/** Names of the members of both that are not identical. */
const changedMembers = (a: Members, b: Members): string[] =>
  [...new Set([...Object.keys(a), ...Object.keys(b)])].filter((key) => !Object.is(a[key], b[key]));
const isRecord = (value: unknown): value is Members => typeof value === 'object' && value !== null;

/**
 * For `memo`: true where every prop holds what it held, but for where the lamp or the modifier stands. Units and
 * references are made anew at each drawing, so that they are compared by their members.
 */
export function isSameButPlace(before: object, after: object): boolean {
  const [from, to] = [before as Members, after as Members];
  return changedMembers(from, to).every((prop) => {
    const [a, b] = [from[prop], to[prop]];
    if (!isRecord(a) || !isRecord(b)) return false;
    const isPlaced = prop === 'lamp' || prop === 'modifier';
    return changedMembers(a, b).every((member) => isPlaced && member === 'pose');
  });
}
