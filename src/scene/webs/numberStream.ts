/** Numbers of a text one after another, wherever its lines break; each knows its line. */
import { FileFault, quoted } from './fileFault';

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const LONGEST_WORD = 60;

/** What a number stands for, in words, and its bounds. */
export interface Limits {
  readonly what: string;
  readonly min?: number;
  readonly max?: number;
}

const isBreak = (code: number): boolean => code === 10 || code === 13;

export class NumberStream {
  private readonly text: string;
  private readonly commaSeparates: boolean;
  private at: number;
  private atLine: number;
  /** Line of the number that was read last, from 1. */
  line: number;
  /** Whether that number was the first of its line. */
  opensLine = true;

  /** @param commaSeparates true where a comma parts numbers (LM-63); else it is a decimal comma (EULUMDAT) */
  constructor(text: string, at: number, line: number, commaSeparates: boolean) {
    this.text = text;
    this.at = at;
    this.atLine = line;
    this.line = line;
    this.commaSeparates = commaSeparates;
  }

  /** Most numbers that the rest of the text can hold. */
  get room(): number {
    return Math.ceil((this.text.length - this.at) / 2);
  }

  private separates(code: number): boolean {
    // Spaces, controls (tabs, line ends, the end mark of old systems), commas or semicolons, byte order marks.
    return code <= 32 || code === 127 || code === 0xa0 || code === 0xfeff || code === (this.commaSeparates ? 44 : 59);
  }

  private skip(): void {
    const { text } = this;
    this.opensLine = this.at === 0;
    while (this.at < text.length) {
      const code = text.charCodeAt(this.at);
      if (!this.separates(code)) return;
      if (isBreak(code)) {
        if (code === 13 && text.charCodeAt(this.at + 1) === 10) this.at += 1;
        this.atLine += 1;
        this.opensLine = true;
      }
      this.at += 1;
    }
  }

  /** The next word, or null at the end of the text. */
  word(): string | null {
    this.skip();
    this.line = this.atLine;
    if (this.at >= this.text.length) return null;
    const from = this.at;
    while (this.at < this.text.length && !this.separates(this.text.charCodeAt(this.at))) this.at += 1;
    return this.text.slice(from, this.at);
  }

  /** The next word with its line, left where it is. */
  peek(): { readonly word: string | null; readonly line: number } {
    const { at, atLine, line, opensLine } = this;
    const found = { word: this.word(), line: this.line };
    this.at = at;
    this.atLine = atLine;
    this.line = line;
    this.opensLine = opensLine;
    return found;
  }

  /** How many words are left; the stream is at its end then. */
  countRest(): number {
    let count = 0;
    while (this.word() !== null) count += 1;
    return count;
  }

  /**
   * The next number within its limits.
   * @throws {FileFault} at the end of the text, for a word that is no number, for one out of bounds
   */
  next(limits: Limits): number {
    const word = this.word();
    if (word === null) throw new FileFault(this.line, 'the end of the file', limits.what);
    return this.judge(word, limits);
  }

  /** The word just read as a number. @throws {FileFault} as `next` */
  judge(word: string, { what, min = -Infinity, max = Infinity }: Limits): number {
    const plain = this.commaSeparates ? word : word.replace(',', '.');
    const value = plain.length <= LONGEST_WORD && NUMBER.test(plain) ? Number(plain) : NaN;
    if (Number.isNaN(value)) throw new FileFault(this.line, quoted(word), `a number for ${what}`);
    if (value < min || value > max || !Number.isFinite(value)) {
      throw new FileFault(this.line, quoted(word), boundsWords(what, min, max));
    }
    return value + 0; // no -0
  }

  /**
   * The next whole number within its limits; "19" and "19.0" are both whole.
   * @throws {FileFault} as `next`, and for a broken number
   */
  whole(limits: Limits): number {
    const value = this.next(limits);
    if (!Number.isInteger(value)) throw new FileFault(this.line, String(value), `a whole number for ${limits.what}`);
    return value;
  }
}

function boundsWords(what: string, min: number, max: number): string {
  if (min === -Infinity) return `${what} of at most ${max}`;
  if (max === Infinity) return `${what} of at least ${min}`;
  return `${what} from ${min} to ${max}`;
}
