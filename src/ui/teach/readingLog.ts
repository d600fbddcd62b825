/** The reading log as it is typed: kept in this browser, so that a walk with the meter survives a closed page. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import { z } from 'zod';
import type { Shelf } from './progress';

const KEY = 'farsun-reading-log';
const figure = z.number().positive().max(1e9).nullable();
const logSchema = z.strictObject({
  version: z.literal(1),
  name: z.string().max(200),
  beamAngleDeg: z.number().gt(0).lt(180),
  lensDiameterM: z.number().positive().max(100),
  rows: z
    .array(z.strictObject({ distanceM: figure, illuminanceLx: figure }))
    .min(1)
    .max(100),
});
export type ReadingLog = Omit<z.infer<typeof logSchema>, 'version'>;
export type LogRow = ReadingLog['rows'][number];
export type ReadingLogStore = StoreApi<ReadingLog>;

export const MOST_ROWS = 100;
const BLANK: LogRow = { distanceM: null, illuminanceLx: null };
export const blankLog = (): ReadingLog => ({
  name: 'Metered lamp',
  beamAngleDeg: 20,
  lensDiameterM: 0.15,
  rows: Array.from({ length: 7 }, () => BLANK),
});
export const withBlankRow = ({ rows }: ReadingLog): Pick<ReadingLog, 'rows'> => ({ rows: [...rows, BLANK] });

function read(shelf: Shelf): ReadingLog {
  try {
    const text = shelf?.getItem(KEY);
    const parsed = logSchema.safeParse(text ? JSON.parse(text) : null);
    if (!parsed.success) return blankLog();
    const { version: _version, ...log } = parsed.data;
    return log;
  } catch {
    return blankLog(); // a text that is no log is as good as none
  }
}

export function createReadingLog(shelf: Shelf): ReadingLogStore {
  const store = createStore<ReadingLog>()(() => read(shelf));
  store.subscribe((log) => {
    try {
      shelf?.setItem(KEY, JSON.stringify({ version: 1, ...log }));
    } catch {
      // A full or forbidden storage: the log holds while the page is open.
    }
  });
  return store;
}

export interface FullRow {
  /** Place in the log. */
  readonly index: number;
  readonly distanceM: number;
  readonly illuminanceLx: number;
}
/** Rows that have both figures. */
export const fullRows = ({ rows }: ReadingLog): FullRow[] =>
  rows.flatMap(({ distanceM, illuminanceLx }, index) =>
    distanceM !== null && illuminanceLx !== null ? [{ index, distanceM, illuminanceLx }] : [],
  );
