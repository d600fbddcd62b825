/** Lists of angles and tables of candela, read from a stream of numbers and judged on the way. */
import { countFault, FileFault } from './fileFault';
import type { NumberStream } from './numberStream';

/** Most angles of one list: a quarter of a degree all round and more. */
export const MOST_ANGLES = 4000;
/** No lamp on earth: a searchlight has some 1e9. */
export const MOST_CANDELA = 1e12;

/** How many angles a file promises. @throws {FileFault} for a number that the rest of the file cannot hold */
export function readCount(stream: NumberStream, what: string, least: number): number {
  const count = stream.whole({ what: `number of ${what}`, min: least, max: MOST_ANGLES });
  if (count <= stream.room) return count;
  const sentence = `${count} ${what} promised, and the file ends before`;
  throw new FileFault(stream.line, `${count} ${what}`, 'as many as the file holds', sentence);
}

export interface AngleList {
  readonly count: number;
  /** "vertical angle" */
  readonly what: string;
  readonly min: number;
  readonly max: number;
}

/**
 * Rising angles within limits.
 * @throws {FileFault} where they do not rise; told as a wrong count where the list seems to end early: the angle starts
 *   again from below, on a line of its own
 */
export function readAngles(stream: NumberStream, { count, what, min, max }: AngleList): number[] {
  const angles: number[] = [];
  for (let i = 0; i < count; i++) {
    const { line } = stream; // of the angle before: where a list ends that is too short
    const angle = stream.next({ what: `a ${what}`, ...(i === 0 ? { min, max } : {}) });
    const before = angles[i - 1];
    if (before !== undefined) {
      const startsAgain = angle <= angles[0]! || angle > max;
      if (stream.opensLine && startsAgain) throw countFault(line, count, i, `${what}s`);
      if (angle > max) throw new FileFault(stream.line, String(angle), `a ${what} from ${min} to ${max}`);
      if (angle <= before) throw new FileFault(stream.line, `${angle} after ${before}`, `${what}s that rise`);
    }
    angles.push(angle);
  }
  return angles;
}

/**
 * `count` values of candela, times `factor`, and nothing after them.
 * @throws {FileFault} for a negative value, a value of no lamp, too few or too many
 */
export function readCandela(stream: NumberStream, count: number, factor: number, what: string): Float64Array {
  if (count > stream.room) {
    const left = stream.countRest();
    throw countFault(stream.line, count, left, `${what} values`);
  }
  const candela = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const word = stream.word();
    if (word === null) throw countFault(stream.line, count, i, `${what} values`);
    const value = stream.judge(word, { what, min: 0, max: MOST_CANDELA });
    candela[i] = value * factor;
    if (!(candela[i]! <= MOST_CANDELA)) {
      throw new FileFault(stream.line, `${candela[i]} cd`, `at most ${MOST_CANDELA} cd`);
    }
  }
  const { line } = stream;
  const surplus = stream.word();
  if (surplus === null) return candela;
  const at = stream.line;
  const rest = 1 + stream.countRest();
  if (/^[+-]?[\d.]/.test(surplus)) throw countFault(at, count, count + rest, `${what} values`);
  throw new FileFault(at, `text after the last value (line ${line})`, 'the end of the file');
}
