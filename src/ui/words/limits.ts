/** Limits in numerals and in words, derived from the judgement's own, so that no screen can show another limit. */
import type { Limits } from '../../sim/judgement/limits';

export interface ScaleLimits {
  readonly good: readonly number[];
  readonly passable: readonly number[];
  /** Numerals beside the scale, by their place on it. */
  readonly numerals: readonly { readonly at: number; readonly text: string }[];
}

const FRACTIONS: readonly (readonly [number, string])[] = [
  [1 / 4, '1/4'],
  [1 / 3, '1/3'],
  [1 / 2, '1/2'],
  [2 / 3, '2/3'],
  [3 / 4, '3/4'],
];
/** A limit as the trade says it: a plain fraction where it is one, else its shortest decimals. */
export function limitText(value: number): string {
  const fraction = FRACTIONS.find(([size]) => Math.abs(size - value) < 1e-9);
  return fraction ? fraction[1] : String(Number(value.toFixed(4)));
}

/** Limits of a figure that counts from 0. `mark` stands after each numeral: "4°". */
export function limitsFrom({ good, passable }: Limits, mark = ''): ScaleLimits {
  const numeral = (at: number) => ({ at, text: `${limitText(at).replace(/^0\.0/, '.0')}${mark}` });
  return { good: [good], passable: [passable], numerals: [numeral(good), numeral(passable)] };
}

/** Limits of a ratio to the sun's: from `low` to `high` on both sides of 1. The lowest numeral has no room and is left out. */
export function ratioLimits(low: Limits, high: Limits): ScaleLimits {
  const numeral = (at: number) => ({ at, text: limitText(at) });
  return {
    good: [low.good, high.good],
    passable: [low.passable, high.passable],
    numerals: [low.good, high.good, high.passable].map(numeral),
  };
}

/** "reads as sun up to 1/3 stop apart, passable up to 2/3" */
export const upToWords = ({ good, passable }: Limits, unit: string): string =>
  `reads as sun up to ${limitText(good)} ${unit}, passable up to ${limitText(passable)}`;
