/** Kinds of exact entry: how a figure is read from what is typed, how it is shown, and what an arrow key adds. */
import { formatAngle, formatIlluminance, formatLength } from '../../scene/units/format';
import { METRES_PER_INCH } from '../../scene/units/convert';
import { parseAngle, parseIlluminance, parseLength, parsePercent, type Parsed } from '../../scene/units/parse';
import { fixed, type Units } from '../words/format';

export interface QuantityKind {
  readonly parse: (typed: string) => Parsed;
  /** The figure without its unit, as it stands in the field. */
  readonly print: (value: number) => string;
  /** Said at the right, inside the field; empty where the figure carries its own marks. */
  readonly unit: string;
  /** One step of an arrow key: the last shown digit, in the unit of the document. */
  readonly step: number;
}

const TERM = /^\s*([+\-−]?)\s*(\d+(?:[.,]\d+)?|[.,]\d+)/;

/** A plain number or a sum of plain numbers: "120000", "6.2+0.3", decimal comma or point. */
export function parseNumber(typed: string): Parsed {
  const fault = { ok: false, fault: 'Write a number such as 6.2.' } as const;
  let rest = typed.replace(/[\u2009\u202f]/g, '').trim();
  let sum = 0;
  for (let first = true; rest !== ''; first = false) {
    const [whole, sign, digits] = TERM.exec(rest) ?? [];
    if (whole === undefined || digits === undefined || (!first && sign === '')) return fault;
    sum += (sign === '-' || sign === '−' ? -1 : 1) * Number(digits.replace(',', '.'));
    rest = rest.slice(whole.length).trim();
  }
  return typed.trim() === '' ? fault : { ok: true, value: sum };
}

const withoutUnit = (text: string): string => text.replace(/\s*(m|mm|lx|fc|°|%)$/u, '');

export const lengthKind = (units: Units): QuantityKind => ({
  parse: (typed) => parseLength(typed, units.length),
  print: (value) => withoutUnit(formatLength(value, units.length)),
  unit: units.length === 'metres' ? 'm' : '',
  step: units.length === 'metres' ? 0.01 : METRES_PER_INCH / 4,
});
/** Walls, bars and edges: millimetres, or feet and inches. A bare number is in millimetres. */
export const fineLengthKind = (units: Units): QuantityKind =>
  units.length === 'feet'
    ? lengthKind(units)
    : {
        parse: (typed) => (parseNumber(typed).ok ? parseLength(`${typed} mm`, 'metres') : parseLength(typed, 'metres')),
        print: (value) => fixed(value * 1000, 0),
        unit: 'mm',
        step: 0.001,
      };
export const ANGLE: QuantityKind = {
  parse: parseAngle,
  print: (value) => withoutUnit(formatAngle(value)),
  unit: '°',
  step: 0.1,
};
export const PERCENT: QuantityKind = {
  parse: parsePercent,
  print: (value) => fixed(value * 100, 0),
  unit: '%',
  step: 0.01,
};
export const illuminanceKind = (units: Units): QuantityKind => ({
  parse: (typed) => parseIlluminance(typed, units.illuminance),
  print: (value) => withoutUnit(formatIlluminance(value, units.illuminance)),
  unit: units.illuminance === 'lux' ? 'lx' : 'fc',
  step: 1,
});
export const numberKind = (unit: string, decimals: number, step = 10 ** -decimals): QuantityKind => ({
  parse: parseNumber,
  print: (value) => fixed(value, decimals),
  unit,
  step,
});

/** The value after an arrow key; Shift is ten steps, Alt a tenth. Rounded to a whole number of the smallest step. */
export function stepped(
  value: number,
  kind: QuantityKind,
  direction: 1 | -1,
  keys: { shiftKey: boolean; altKey: boolean },
): number {
  const by = kind.step * (keys.shiftKey ? 10 : keys.altKey ? 0.1 : 1);
  return Number((value + direction * by).toFixed(9));
}
