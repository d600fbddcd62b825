/** Limits in numerals and in words, derived from the judgement's own, so that no screen can show another limit. */
import { limitText } from '../../sim/judgement/figureWords';
import type { Limits } from '../../sim/judgement/limits';

export interface ScaleLimits {
  readonly good: readonly number[];
  readonly passable: readonly number[];
  /** Numerals beside the scale, by their place on it. */
  readonly numerals: readonly { readonly at: number; readonly text: string }[];
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
