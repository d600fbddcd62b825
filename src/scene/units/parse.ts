/**
 * From what people type to SI numbers. Every reader takes sums of terms ("6.2+0.3", "20ft 6in + 1.5m"), a decimal comma
 * or point, fractions ("11 3/4"), and what the printers of format.ts write. Wrong input is a value with one sentence.
 */
import { LUX_PER_FOOTCANDLE, METRES_PER_FOOT, METRES_PER_INCH, METRES_PER_YARD } from './convert';
import type { IlluminanceUnit, LengthUnit } from './convert';

export type Parsed = { readonly ok: true; readonly value: number } | { readonly ok: false; readonly fault: string };
const fail = (fault: string): Parsed => ({ ok: false, fault });

/** A unit as typed: what one of it is worth, and the unit of a bare number that follows it ("20ft 6"). */
interface Unit {
  readonly factor: number;
  readonly then?: Unit;
}
type Units = Readonly<Record<string, Unit>>;

interface Reader {
  /** What is being read, for sentences: "a length such as 6.2 m". */
  readonly what: string;
  readonly units: Units;
  readonly bare: Unit;
}

type Token =
  { readonly kind: 'number'; readonly value: number } | { readonly kind: 'unit' | 'sign'; readonly text: string };

const VULGAR: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅓': '1/3',
  '⅔': '2/3',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};
const NUMBER = String.raw`\d+(?:[.,]\d+)?|[.,]\d+`;
const TOKEN = new RegExp(String.raw`\s*(?:(\d+)\s+(\d+)/(\d+)|(\d+)/(\d+)|(${NUMBER})|([+-])|(''|"|'|[a-z%°µ]+))`, 'y');
const MAX_TYPED = 200;

/** Typed text in one spelling: real minus, primes, thin spaces between digits, vulgar fractions. */
function oneSpelling(typed: string): string {
  return typed
    .toLowerCase()
    .replace(/[−–]/g, '-')
    .replace(/[″”“]/g, '"')
    .replace(/[′’‘]/g, "'")
    .replace(/(\d)[\u2009\u202f](?=\d{3}(?!\d))/g, '$1')
    .replace(/[½¼¾⅓⅔⅛⅜⅝⅞]/g, (mark) => ` ${VULGAR[mark] ?? ''}`)
    .trim();
}
const numberFrom = (text: string): number => Number(text.replace(',', '.'));

function tokensOf(text: string): Token[] | null {
  const tokens: Token[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < text.length) {
    const [match, whole, top, bottom, aloneTop, aloneBottom, number, sign, unit] = TOKEN.exec(text) ?? [];
    if (match === undefined) return null;
    if (top !== undefined) tokens.push({ kind: 'number', value: Number(whole) + Number(top) / Number(bottom) });
    else if (aloneTop !== undefined) tokens.push({ kind: 'number', value: Number(aloneTop) / Number(aloneBottom) });
    else if (number !== undefined) tokens.push({ kind: 'number', value: numberFrom(number) });
    else if (sign !== undefined) tokens.push({ kind: 'sign', text: sign });
    else tokens.push({ kind: 'unit', text: unit === "''" ? '"' : (unit ?? '') });
  }
  return tokens;
}

/** Tokens cut at their signs: each term is a sign and at least one number with or without its unit. */
function termsOf(tokens: readonly Token[]): { sign: number; parts: Token[] }[] | null {
  const terms: { sign: number; parts: Token[] }[] = [];
  let current: { sign: number; parts: Token[] } = { sign: 1, parts: [] };
  let signs = 0;
  for (const token of tokens) {
    if (token.kind !== 'sign') {
      current.parts.push(token);
      signs = 0;
      continue;
    }
    signs++;
    if (signs > 2 || (signs === 2 && current.parts.length > 0)) return null;
    if (current.parts.length > 0) terms.push(current);
    const before = signs === 2 ? current.sign : 1;
    current = { sign: before * (token.text === '-' ? -1 : 1), parts: [] };
  }
  if (current.parts.length === 0) return null;
  return [...terms, current];
}

/** Sum of one term's parts in SI, or what is wrong with it. */
function termValue(parts: readonly Token[], reader: Reader): Parsed {
  let value = 0;
  let follow: Unit | undefined = reader.bare;
  for (let index = 0; index < parts.length;) {
    const number = parts[index];
    if (number?.kind !== 'number') return fail(`Write ${reader.what}.`);
    const next = parts[index + 1];
    const unit: Unit | undefined = next?.kind === 'unit' ? own(reader.units, next.text) : follow;
    if (next?.kind === 'unit' && unit === undefined) return fail(`${next.text} is no unit here. Write ${reader.what}.`);
    if (unit === undefined) return fail(`Say the unit of ${number.value}. Write ${reader.what}.`);
    value += number.value * unit.factor;
    follow = unit.then;
    index += next?.kind === 'unit' ? 2 : 1;
  }
  return { ok: true, value };
}
const own = (units: Units, name: string): Unit | undefined => (Object.hasOwn(units, name) ? units[name] : undefined);

function read(typed: string, reader: Reader): Parsed {
  const tokens = typed.length > MAX_TYPED ? null : tokensOf(oneSpelling(typed));
  const terms = tokens === null ? null : termsOf(tokens);
  if (terms === null) return fail(`Write ${reader.what}.`);
  let sum = 0;
  for (const { sign, parts } of terms) {
    const term = termValue(parts, reader);
    if (!term.ok) return term;
    sum += sign * term.value;
  }
  return Number.isFinite(sum) ? { ok: true, value: sum === 0 ? 0 : sum } : fail(`Write ${reader.what}.`);
}

const INCH: Unit = { factor: METRES_PER_INCH };
const FOOT: Unit = { factor: METRES_PER_FOOT, then: INCH };
const METRE: Unit = { factor: 1 };
const YARD: Unit = { factor: METRES_PER_YARD };
const CENTIMETRE: Unit = { factor: 0.01 };
const MILLIMETRE: Unit = { factor: 0.001 };
const LENGTH_UNITS: Units = {
  m: METRE,
  metre: METRE,
  metres: METRE,
  cm: CENTIMETRE,
  mm: MILLIMETRE,
  ft: FOOT,
  foot: FOOT,
  feet: FOOT,
  "'": FOOT,
  in: INCH,
  inch: INCH,
  inches: INCH,
  '"': INCH,
  yd: YARD,
  yard: YARD,
  yards: YARD,
};
const NOT_BARE_THEN = (unit: Unit): Unit => ({ factor: unit.factor });

/** Length in metres. A bare number is in `unit`; a bare number after feet is inches. */
export const parseLength = (typed: string, unit: LengthUnit): Parsed =>
  unit === 'metres'
    ? read(typed, { what: 'a length such as 6.2 or 20 ft 6', units: LENGTH_UNITS, bare: METRE })
    : read(typed, { what: 'a length such as 20 ft 6 or 6.2 m', units: LENGTH_UNITS, bare: NOT_BARE_THEN(FOOT) });

const DEGREE: Unit = { factor: 1 };
/** Angle in degrees. */
export const parseAngle = (typed: string): Parsed =>
  read(typed, {
    what: 'an angle in degrees such as 26',
    units: { '°': DEGREE, deg: DEGREE, degrees: DEGREE },
    bare: DEGREE,
  });

const LUX: Unit = { factor: 1 };
const FOOTCANDLE: Unit = { factor: LUX_PER_FOOTCANDLE };
const LIGHT_UNITS: Units = {
  lx: LUX,
  lux: LUX,
  klx: { factor: 1000 },
  fc: FOOTCANDLE,
  footcandle: FOOTCANDLE,
  footcandles: FOOTCANDLE,
};
/** Illuminance in lux, 0 or above. A bare number is in `unit`. */
export function parseIlluminance(typed: string, unit: IlluminanceUnit): Parsed {
  const what = unit === 'lux' ? 'a level such as 1060 or 99 fc' : 'a level such as 99 or 1060 lx';
  const parsed = read(typed, { what, units: LIGHT_UNITS, bare: unit === 'lux' ? LUX : FOOTCANDLE });
  return parsed.ok && parsed.value < 0 ? fail('A level cannot be below 0.') : parsed;
}

const PERCENT: Unit = { factor: 0.01 };
/** Share 0..1 from a percentage: "50" and "50 %" are both a half. */
export function parsePercent(typed: string): Parsed {
  const parsed = read(typed, { what: 'a percentage such as 50', units: { '%': PERCENT }, bare: PERCENT });
  return parsed.ok && (parsed.value < 0 || parsed.value > 1) ? fail('A percentage goes from 0 to 100.') : parsed;
}
