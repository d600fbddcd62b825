/** Whether a sheet has anything new to show: states are compared part by part, small parts by what they hold. */
import type { SheetState } from './contract';

/** Same identity, or plain objects and lists whose own members are identical. */
export function isSamePart(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const [entries, others] = [Object.entries(a), Object.entries(b)];
  return (
    entries.length === others.length && entries.every(([key, value]) => Object.is(value, b[key as keyof typeof b]))
  );
}

/** The parts that the stores make anew at each asking; all others are kept by identity. */
const SMALL_PARTS: readonly (keyof SheetState)[] = [
  'units',
  'field',
  'twinChecks',
  'selection',
  'hover',
  'ghost',
  'drawing',
];

/** True when the two states differ at most in the cross of the reading, which lies in a layer of its own. */
export function isSameButReading(a: SheetState, b: SheetState): boolean {
  return (Object.keys(b) as (keyof SheetState)[]).every((part) => {
    if (part === 'reading') return true;
    return SMALL_PARTS.includes(part) ? isSamePart(a[part], b[part]) : Object.is(a[part], b[part]);
  });
}
