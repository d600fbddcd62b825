/**
 * Steps from one format version to the next. Each is pure, takes the plain JSON of its version and gives that of the
 * version after it; the step at index 0 leads from version 1 to version 2. Version 1 is the current one, so the list
 * is empty; a step is added, never changed, when the format changes.
 */
export type Migration = (document: Readonly<Record<string, unknown>>) => Record<string, unknown>;

export const MIGRATIONS: readonly Migration[] = [];

/**
 * The document brought up from `fromVersion` by every later step, its `formatVersion` set after each.
 * @throws {RangeError} if `fromVersion` is not a version that the steps know; callers check that first
 */
export function migrate(
  document: Readonly<Record<string, unknown>>,
  fromVersion: number,
  migrations: readonly Migration[] = MIGRATIONS,
): Record<string, unknown> {
  if (!Number.isInteger(fromVersion) || fromVersion < 1 || fromVersion > migrations.length + 1) {
    throw new RangeError(`no step leads on from format version ${fromVersion}`);
  }
  return migrations
    .slice(fromVersion - 1)
    .reduce<Record<string, unknown>>(
      (current, step, index) => ({ ...step(current), formatVersion: fromVersion + index + 1 }),
      { ...document },
    );
}
