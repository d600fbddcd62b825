/** One line of the validation table: what the code gives against what a source outside the project says. */
import checkValues from '../reference/check-values.json';

export interface Tolerance {
  readonly type: 'rel' | 'abs';
  readonly value: number;
}
/** 'law': a formula that the app calls; 'kernel': a scene document solved; 'judgement': a figure of the sun judgement. */
export type RowKind = 'law' | 'kernel' | 'judgement';
export interface Row {
  readonly id: string;
  readonly topic: string;
  readonly source: string;
  readonly unit: string;
  readonly expected: number;
  readonly measured: number;
  readonly tolerance: Tolerance;
  readonly pass: boolean;
  readonly tests: RowKind;
}

export type Inputs = Readonly<Record<string, unknown>>;
export interface CheckValue {
  readonly id: string;
  readonly topic: string;
  readonly source: string;
  readonly inputs: Inputs;
  readonly expected: number;
  readonly unit: string;
  readonly tolerance: Tolerance;
  readonly note?: string;
}
export const CHECK_VALUES = checkValues as unknown as readonly CheckValue[];
const byId = new Map(CHECK_VALUES.map((entry) => [entry.id, entry]));

/** @throws {RangeError} for an id that no source has */
export function checkValue(id: string): CheckValue {
  const entry = byId.get(id);
  if (!entry) throw new RangeError(`no check value ${id}`);
  return entry;
}

/** A number among the inputs of a check value. @throws {TypeError} if it is missing or no number */
export function input(inputs: Inputs, name: string): number {
  const value = inputs[name];
  if (typeof value !== 'number') throw new TypeError(`input ${name} is ${String(value)}, not a number`);
  return value;
}

/** Difference as a share of the tolerance: up to 1 passes. A figure that is no number never passes. */
export function shareOfTolerance(row: Pick<Row, 'expected' | 'measured' | 'tolerance'>): number {
  const allowed = row.tolerance.type === 'rel' ? row.tolerance.value * Math.abs(row.expected) : row.tolerance.value;
  const difference = Math.abs(row.measured - row.expected);
  if (!Number.isFinite(difference)) return Infinity;
  return difference === 0 ? 0 : difference / allowed;
}

export function makeRow(row: Omit<Row, 'pass'>): Row {
  return { ...row, pass: shareOfTolerance(row) <= 1 };
}

/** The row of a check value; its own tolerance unless another is given. */
export function rowOf(id: string, measured: number, tests: RowKind, tolerance?: Tolerance): Row {
  const { topic, source, unit, expected, tolerance: own } = checkValue(id);
  return makeRow({ id, topic, source, unit, expected, measured, tolerance: tolerance ?? own, tests });
}
