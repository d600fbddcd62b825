/** Where each kind of thing lives in a document, what it must fit, and how it is put there without touching the rest. */
import type { z } from 'zod';
import type { Path, Problem } from '../faults';
import {
  kitEntryProblems,
  meterProblems,
  modifierProblems,
  sourceProblems,
  surfaceProblems,
  webProblems,
} from '../invariants';
import {
  circuitSchema,
  groupSchema,
  kitEntrySchema,
  markSchema,
  meterSchema,
  modifierSchema,
  openingSchema,
  surfaceSchema,
  webSchema,
  type KitEntry,
  type Web,
  type Meter,
  type Modifier,
  type SceneDocument,
  type Setup,
  type Source,
} from '../schema';
import { dimensionSchema, planPictureSchema } from '../schemaPlan';
import { lampSchema, sourceSchema, sunSchema } from '../schemaSources';
import type { Thing, ThingKind, ThingRef } from './types';

const RECORDS = {
  surface: 'surfaces',
  meter: 'meters',
  mark: 'marks',
  group: 'groups',
  kitEntry: 'kit',
  circuit: 'circuits',
  web: 'webs',
  picture: 'pictures',
  dimension: 'dimensions',
  source: 'sources',
  modifier: 'modifiers',
} as const;
export const NOUNS: Readonly<Record<ThingKind, string>> = {
  surface: 'surface',
  opening: 'opening',
  meter: 'meter',
  mark: 'mark',
  group: 'group',
  kitEntry: 'kit entry',
  circuit: 'circuit',
  web: 'photometric file',
  picture: 'plan picture',
  dimension: 'dimension',
  source: 'source',
  modifier: 'modifier',
};
const SCHEMAS: Readonly<Record<ThingKind, z.ZodType<Thing>>> = {
  surface: surfaceSchema,
  opening: openingSchema,
  meter: meterSchema,
  mark: markSchema,
  group: groupSchema,
  kitEntry: kitEntrySchema,
  circuit: circuitSchema,
  web: webSchema,
  picture: planPictureSchema,
  dimension: dimensionSchema,
  source: sourceSchema,
  modifier: modifierSchema,
};
/** Schema of a whole thing of this kind. */
export const schemaOf = (kind: ThingKind): z.ZodType<Thing> => SCHEMAS[kind];

type Shape = Readonly<Record<string, z.ZodType>>;
const SHAPES: Readonly<Record<Exclude<ThingKind, 'source'>, Shape>> = {
  surface: surfaceSchema.shape,
  opening: openingSchema.shape,
  meter: meterSchema.shape,
  mark: markSchema.shape,
  group: groupSchema.shape,
  kitEntry: kitEntrySchema.shape,
  circuit: circuitSchema.shape,
  web: webSchema.shape,
  picture: planPictureSchema.shape,
  dimension: dimensionSchema.shape,
  modifier: modifierSchema.shape,
};
/** Schemas of the fields of this thing; a source has those of a lamp or of a sun. */
export function fieldSchemasOf(kind: ThingKind, thing: Thing): Shape {
  if (kind !== 'source') return SHAPES[kind];
  return 'type' in thing && thing.type === 'sun' ? sunSchema.shape : lampSchema.shape;
}

type ThingRecord = Readonly<Record<string, Thing>>;
const ownThing = (record: ThingRecord | undefined, id: string): Thing | undefined =>
  record !== undefined && Object.hasOwn(record, id) ? record[id] : undefined;
const setupOf = (document: SceneDocument, setupId: string): Setup | undefined =>
  document.setups.find((setup) => setup.id === setupId);

/** The record that holds the thing; undefined where the setup or the wall is not there, or the record is absent. */
function recordOf(document: SceneDocument, at: ThingRef): ThingRecord | undefined {
  if (at.kind === 'source' || at.kind === 'modifier') return setupOf(document, at.setupId)?.[RECORDS[at.kind]];
  if (at.kind !== 'opening') return document[RECORDS[at.kind]];
  return Object.hasOwn(document.surfaces, at.surfaceId) ? document.surfaces[at.surfaceId]?.openings : undefined;
}
/** The thing itself, or undefined. */
export const findThing = (document: SceneDocument, at: ThingRef): Thing | undefined =>
  ownThing(recordOf(document, at), at.id);

/** Says what is missing above the thing (its setup or its wall), or null when it can be put there. */
export function missingHome(document: SceneDocument, at: ThingRef): string | null {
  if ('setupId' in at && setupOf(document, at.setupId) === undefined) return `There is no setup ${at.setupId}.`;
  if (at.kind === 'opening' && !Object.hasOwn(document.surfaces, at.surfaceId)) {
    return `There is no surface ${at.surfaceId}.`;
  }
  return null;
}

/** Path of a thing in the document, for fault sentences. */
export function pathOf(document: SceneDocument, at: ThingRef): Path {
  if (at.kind === 'opening') return ['surfaces', at.surfaceId, 'openings', at.id];
  if (!('setupId' in at)) return [RECORDS[at.kind], at.id];
  const index = document.setups.findIndex((setup) => setup.id === at.setupId);
  return ['setups', index, RECORDS[at.kind], at.id];
}

function withEntry(record: ThingRecord | undefined, id: string, value: Thing | undefined): ThingRecord {
  if (value !== undefined) return { ...record, [id]: value };
  return Object.fromEntries(Object.entries(record ?? {}).filter(([key]) => key !== id));
}

/** The document with the thing put in, or taken out when `value` is undefined; all else keeps its reference. */
export function withThing(document: SceneDocument, at: ThingRef, value: Thing | undefined): SceneDocument {
  const record = withEntry(recordOf(document, at), at.id, value);
  if (at.kind === 'opening') {
    const surface = document.surfaces[at.surfaceId];
    return {
      ...document,
      surfaces: { ...document.surfaces, [at.surfaceId]: { ...surface, openings: record } },
    } as SceneDocument;
  }
  if (at.kind === 'source' || at.kind === 'modifier') {
    const key = RECORDS[at.kind];
    const setups = document.setups.map((setup) => (setup.id === at.setupId ? { ...setup, [key]: record } : setup));
    return { ...document, setups } as SceneDocument;
  }
  return { ...document, [RECORDS[at.kind]]: record } as SceneDocument;
}

/** What is wrong with the thing as it stands in the document, beyond its schema. */
export function thingProblems(document: SceneDocument, at: ThingRef): Problem[] {
  const thing = findThing(document, at);
  const path = pathOf(document, at);
  if (thing === undefined) return [];
  switch (at.kind) {
    case 'surface':
    case 'opening': {
      const id = at.kind === 'opening' ? at.surfaceId : at.id;
      const surface = document.surfaces[id];
      return surface === undefined ? [] : surfaceProblems(surface, ['surfaces', id]);
    }
    case 'meter':
      return meterProblems(thing as Meter, path);
    case 'source':
      return sourceProblems(thing as Source, path);
    case 'modifier':
      return modifierProblems(thing as Modifier, path);
    case 'kitEntry':
      return kitEntryProblems(thing as KitEntry, path);
    case 'web':
      return webProblems(thing as Web, path);
    default:
      return [];
  }
}

/** What people call the thing: its name, or its id where it has none. */
export function nameOf(document: SceneDocument | undefined, at: ThingRef): string {
  const thing = document === undefined ? undefined : findThing(document, at);
  return thing !== undefined && 'name' in thing && thing.name !== undefined && thing.name !== '' ? thing.name : at.id;
}
