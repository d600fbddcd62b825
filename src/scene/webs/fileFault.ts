/** One fault in a photometric file, thrown inside the readers and told by `readPhotometricText`. */
import { onOneLine } from '../faults';

/** Longest text of a photometric file that is read; the scene stores no longer one either. */
export const LONGEST_FILE = 2_000_000;

export class FileFault extends Error {
  override readonly name = 'FileFault';
  readonly line: number | null;
  readonly found: string;
  readonly expected: string;
  readonly sentence: string | undefined;

  /** @param sentence said instead of "found, expected" where those two words do not fit */
  constructor(line: number | null, found: string, expected: string, sentence?: string) {
    super(sentence ?? `found ${found}, expected ${expected}`);
    this.line = line;
    this.found = found;
    this.expected = expected;
    this.sentence = sentence;
  }
}

/** "37 vertical angles promised, 36 found". */
export const countFault = (line: number | null, promised: number, found: number, what: string): FileFault =>
  new FileFault(line, `${found} ${what}`, `${promised}`, `${promised} ${what} promised, ${found} found`);

/** A word of the file in quotation marks, cut to a length that can be told. */
export const quoted = (word: string): string => `"${onOneLine(word.slice(0, 100))}"`;
