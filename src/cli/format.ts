/** What the tables of the command line need beside the house's own number formats. */
import type { Setup } from '../scene/schema';

export const NONE = '-';

/** A figure to so many decimals, with a real minus sign. */
export function decimalText(value: number, decimals: number): string {
  const digits = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(digits) !== 0 ? `\u2212${digits}` : digits;
}

const BANDS = { typical: '± 1 stop', metered: '± 15 %', file: '± 10 %' } as const;

/** How well the levels of a setup are known: the widest band of the lamps that shine; null where none does. */
export function levelBand(setup: Setup): string | null {
  const bases = Object.values(setup.sources).flatMap((source) =>
    source.type === 'lamp' && !source.off && source.level !== 0 ? [source.basis ?? 'typical'] : [],
  );
  const widest = (['typical', 'metered', 'file'] as const).find((basis) => bases.includes(basis));
  return widest ? BANDS[widest] : null;
}

/** Columns side by side, padded to their widest cell; numbers to the right where asked for. */
export function columnsText(rows: readonly (readonly string[])[], rightAligned: readonly boolean[]): string[] {
  const widths = rightAligned.map((_, column) => Math.max(...rows.map((row) => [...(row[column] ?? '')].length)));
  return rows.map((row) =>
    row
      .map((cell, column) => {
        const fill = ' '.repeat((widths[column] ?? 0) - [...cell].length);
        return rightAligned[column] ? fill + cell : cell + fill;
      })
      .join('  ')
      .trimEnd(),
  );
}
