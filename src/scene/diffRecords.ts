/** What differs between two documents, told by reference: what commands share is the same. */
import type { SceneDocument, Setup } from './schema';

/** Ids of one kind of thing. */
export interface RecordDiff {
  readonly added: readonly string[];
  readonly removed: readonly string[];
  readonly changed: readonly string[];
}
export interface SetupDiff {
  readonly sources: RecordDiff;
  readonly modifiers: RecordDiff;
}
const RECORD_KINDS = [
  'surfaces',
  'meters',
  'marks',
  'groups',
  'kit',
  'circuits',
  'webs',
  'pictures',
  'dimensions',
] as const;
const WHOLE_PARTS = ['camera', 'story', 'display', 'titleBlock', 'name', 'production', 'notes', 'northDeg'] as const;
type RecordKind = (typeof RECORD_KINDS)[number];
export type WholePart = (typeof WHOLE_PARTS)[number];

export interface DocumentDiff extends Readonly<Record<RecordKind, RecordDiff>> {
  readonly setups: RecordDiff;
  /** Whether the setups that both documents have stand in another order. */
  readonly setupsReordered: boolean;
  /** What changed inside each setup that both documents have, by id; setups that are the same are left out. */
  readonly withinSetups: ReadonlyMap<string, SetupDiff>;
  /** Parts that have no ids and are not the same. */
  readonly parts: readonly WholePart[];
}

type AnyRecord = Readonly<Record<string, unknown>>;

function diffRecord(before: AnyRecord = {}, after: AnyRecord = {}): RecordDiff {
  if (before === after) return { added: [], removed: [], changed: [] };
  return {
    added: Object.keys(after).filter((id) => !Object.hasOwn(before, id)),
    removed: Object.keys(before).filter((id) => !Object.hasOwn(after, id)),
    changed: Object.keys(after).filter((id) => Object.hasOwn(before, id) && before[id] !== after[id]),
  };
}
const byId = (setups: readonly Setup[]): Map<string, Setup> => new Map(setups.map((setup) => [setup.id, setup]));

/** Ids added, removed and changed from `before` to `after`, kind by kind. */
export function diffRecords(before: SceneDocument, after: SceneDocument): DocumentDiff {
  const [old, now] = [byId(before.setups), byId(after.setups)];
  const withinSetups = new Map<string, SetupDiff>();
  for (const [id, setup] of now) {
    const was = old.get(id);
    if (was === undefined || was === setup) continue;
    withinSetups.set(id, {
      sources: diffRecord(was.sources, setup.sources),
      modifiers: diffRecord(was.modifiers, setup.modifiers),
    });
  }
  const kept = [...old.keys()].filter((id) => now.has(id));
  const keptNow = [...now.keys()].filter((id) => old.has(id));
  const records = Object.fromEntries(
    RECORD_KINDS.map((kind) => [kind, diffRecord(before[kind], after[kind])]),
  ) as Record<RecordKind, RecordDiff>;
  return {
    ...records,
    setups: diffRecord(Object.fromEntries(old), Object.fromEntries(now)),
    setupsReordered: kept.some((id, index) => keptNow[index] !== id),
    withinSetups,
    parts: WHOLE_PARTS.filter((part) => before[part] !== after[part]),
  };
}
