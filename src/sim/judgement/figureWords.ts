/** The scored figures in words, for sentences and screens alike. */
import type { ScoredFigure } from '../results';

export const FIGURE_WORDS: Readonly<Record<ScoredFigure, string>> = {
  fallOff: 'fall-off',
  fan: 'fan',
  lineFan: 'line fan',
  edge: 'edge',
  step: 'step',
  fill: 'fill',
  shadows: 'shadows',
  height: 'height',
  windowSpread: 'several windows, direction',
  windowLevel: 'several windows, level',
  colour: 'colour',
  haze: 'haze',
};

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
