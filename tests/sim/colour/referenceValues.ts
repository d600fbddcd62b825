import values from '../../reference/colour-values.json';

export interface ReferenceRow {
  readonly id: string;
  readonly source: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: number;
  readonly unit: string;
  readonly tolerance: { readonly type: string; readonly value: number };
}

const rows: readonly ReferenceRow[] = values.rows as unknown as ReferenceRow[];

/** Rows of the reference file whose id starts with `prefix`; throws when there is none, so that no check runs empty. */
export function referenceRows(prefix: string): readonly ReferenceRow[] {
  const found = rows.filter((row) => row.id.startsWith(prefix));
  if (found.length === 0) throw new Error(`No reference row starts with ${prefix}`);
  return found;
}

export function inputNumber(row: ReferenceRow, key: string): number {
  const value = row.inputs[key];
  if (typeof value !== 'number') throw new Error(`${row.id} has no number ${key}`);
  return value;
}

/** Largest difference that the row allows. */
export function allowedDifference(row: ReferenceRow): number {
  return row.tolerance.type === 'rel' ? Math.abs(row.expected) * row.tolerance.value : row.tolerance.value;
}

export const sunByAltitude = values.sunByAltitude;
