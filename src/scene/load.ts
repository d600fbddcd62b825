/** From the text of a scene file to a document, or to every fault in it. */
import { formatFault, pathText, type Fault, type Problem } from './faults';
import { problemsFromIssues } from './issues';
import { lineAndColumn, placeProblems, readJson, type TextProblem } from './jsonText';
import { migrate, MIGRATIONS, type Migration } from './migrations';
import { collectIds, documentProblems, type Checkable } from './references';
import {
  cameraSchema,
  kitEntrySchema,
  meterSchema,
  modifierSchema,
  SCENE_FORMAT,
  SCENE_FORMAT_VERSION,
  sceneSchema,
  storySchema,
  surfaceSchema,
  webSchema,
  groupSchema,
  type SceneDocument,
} from './schema';
import { sourceSchema } from './schemaSources';
import type { z } from 'zod';

export { formatFault };
export type { Fault };

/** So many faults are told one by one; then only how many more there are. */
export const MAX_FAULTS = 50;

export type LoadResult =
  { readonly ok: true; readonly document: SceneDocument } | { readonly ok: false; readonly faults: Fault[] };

type Json = Record<string, unknown>;
const isObject = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const own = (value: unknown, key: string): unknown =>
  isObject(value) && Object.hasOwn(value, key) ? value[key] : undefined;

function toFaults(text: string, fileName: string, problems: readonly TextProblem[]): Fault[] {
  const sorted = [...problems].sort((one, other) => (one.offset ?? -1) - (other.offset ?? -1));
  const faults = sorted.slice(0, MAX_FAULTS).map(({ offset, path, found, expected, sentence }): Fault => ({
    file: fileName,
    line: offset === null ? null : lineAndColumn(text, offset).line,
    path: pathText(path),
    found: found ?? 'nothing',
    expected,
    ...(sentence === undefined ? {} : { sentence }),
  }));
  if (sorted.length > MAX_FAULTS) {
    const sentence = `and ${sorted.length - MAX_FAULTS} more`;
    faults.push({ file: fileName, line: null, path: '', found: 'more faults', expected: 'none', sentence });
  }
  return faults;
}

/** What is wrong with the head of the file: then its rest cannot be judged by this version's rules. */
function headProblem(value: unknown, currentVersion: number): Problem | null {
  if (!isObject(value)) return { path: [], expected: 'a scene, which is an object' };
  const format = own(value, 'format');
  if (format !== SCENE_FORMAT) return { path: ['format'], expected: `"${SCENE_FORMAT}"` };
  const version = own(value, 'formatVersion');
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    return { path: ['formatVersion'], expected: `a whole number from 1 to ${currentVersion}` };
  }
  if (version <= currentVersion) return null;
  const sentence = `made by a newer Farsun (format ${version}; this one reads up to ${currentVersion}). Update, then open it again.`;
  return { path: ['formatVersion'], expected: `at most ${currentVersion}`, sentence };
}

function readable<S extends z.ZodType>(schema: S, value: unknown): Record<string, z.infer<S>> {
  const entries = Object.entries(isObject(value) ? value : {}).flatMap(([id, entry]) => {
    const parsed = schema.safeParse(entry);
    return parsed.success ? [[id, parsed.data] as const] : [];
  });
  return Object.fromEntries(entries);
}

/** Those parts of a faulty document that are of the right form, so that their own faults are told in the same go. */
function salvage(value: Json): Checkable {
  const setups = own(value, 'setups');
  const camera = cameraSchema.safeParse(own(value, 'camera'));
  const story = storySchema.safeParse(own(value, 'story'));
  return {
    surfaces: readable(surfaceSchema, own(value, 'surfaces')),
    meters: readable(meterSchema, own(value, 'meters')),
    groups: readable(groupSchema, own(value, 'groups')),
    kit: readable(kitEntrySchema, own(value, 'kit')),
    webs: readable(webSchema, own(value, 'webs')),
    setups: (Array.isArray(setups) ? setups : []).map((setup: unknown, index) => {
      const id = own(setup, 'id');
      return {
        // A setup without a readable id gets one that no other can have, as its own fault is told already.
        id: typeof id === 'string' ? id : `\n${index}`,
        name: '',
        sources: readable(sourceSchema, own(setup, 'sources')),
        modifiers: readable(modifierSchema, own(setup, 'modifiers')),
      };
    }),
    ...(camera.success ? { camera: camera.data } : {}),
    ...(story.success ? { story: story.data } : {}),
  };
}

/**
 * Reads a scene file: strict JSON, then its head, then older versions brought up to date, then the schema, then what
 * the schema cannot say.
 * @param fileName said in every fault; nothing is read from disk
 * @param migrations steps to the current version; only tests hand in others
 * @returns the document, or all faults in the order of their lines, at most MAX_FAULTS and a last one that counts the rest
 */
export function loadScene(text: string, fileName: string, migrations: readonly Migration[] = MIGRATIONS): LoadResult {
  const read = readJson(text);
  const refuse = (problems: readonly TextProblem[]): LoadResult => ({
    ok: false,
    faults: toFaults(text, fileName, problems),
  });
  if (!('value' in read)) return refuse(read.problems);
  const head = headProblem(read.value, migrations.length + 1);
  if (head !== null) return refuse(placeProblems(text, read.value, [head]));
  const original = read.value as Json;
  const value = migrate(original, original['formatVersion'] as number, migrations);
  const parsed = sceneSchema.safeParse({ ...value, formatVersion: SCENE_FORMAT_VERSION });
  const problems = parsed.success
    ? documentProblems(parsed.data)
    : [...problemsFromIssues(parsed.error.issues), ...documentProblems(salvage(value), collectIds(value))];
  if (parsed.success && problems.length === 0 && read.problems.length === 0) {
    return { ok: true, document: parsed.data };
  }
  return refuse([...read.problems, ...placeProblems(text, value, problems)]);
}
