/** From values that nobody has judged to values that fit their schema, or to one sentence why not. */
import type { z } from 'zod';
import { describe, pathText, problemSentence, valueAt, type Path, type Problem } from '../faults';
import { problemsFromIssues } from '../issues';
import { plainJson } from '../jsonText';
import { collectIds, referenceProblems } from '../references';
import type { SceneDocument } from '../schema';
import { accept, refuse, type CommandResult } from './types';

export type Judged<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly fault: string };

/** Sentence for the first of some problems with a value that stands, or would stand, at `base`. */
function firstFault(problems: readonly Problem[], value: unknown, base: Path): string {
  const first = problems[0] ?? { path: base, expected: 'another value' };
  const found = first.found ?? describe(valueAt(value, first.path.slice(base.length)));
  return problemSentence({ ...first, found }, undefined);
}

/** A copy of `value` that fits the schema; the caller's own object never becomes part of a document. */
export function judge<T>(schema: z.ZodType<T>, value: unknown, base: Path): Judged<T> {
  const parsed = schema.safeParse(value);
  if (parsed.success) return { ok: true, value: plainJson(parsed.data) as T };
  return { ok: false, fault: firstFault(problemsFromIssues(parsed.error.issues, base), value, base) };
}

/**
 * An object with some fields set and others emptied; fields that are not named keep their reference.
 * A field set to undefined counts as emptied.
 */
export function patched<T extends object>(
  object: T,
  shape: Readonly<Record<string, z.ZodType>>,
  fields: Readonly<Record<string, unknown>>,
  clear: readonly string[],
  base: Path,
): Judged<T> {
  const result: Record<string, unknown> = { ...(object as Record<string, unknown>) };
  const changes = [...Object.entries(fields), ...clear.map((key) => [key, undefined] as const)];
  for (const [key, value] of changes) {
    const schema = Object.hasOwn(shape, key) ? shape[key] : undefined;
    const path = [...base, key];
    if (schema === undefined) return { ok: false, fault: `${pathText(path)}: there is no field of this name.` };
    const judged = judge(schema, value, path);
    if (!judged.ok) return judged;
    if (judged.value === undefined) delete result[key];
    else result[key] = judged.value;
  }
  return { ok: true, value: result as T };
}

/** Accepts the document if its touched part and all its ids are in order, else says the first thing that is not. */
export function acceptIfSound(document: SceneDocument, touched: readonly Problem[]): CommandResult {
  const first = touched[0] ?? referenceProblems(document, collectIds(document))[0];
  return first === undefined ? accept(document) : refuse(problemSentence(first, document));
}
