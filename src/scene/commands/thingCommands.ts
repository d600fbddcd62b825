/** Commands on one thing: add, replace, patch, remove, move, aim. */
import { withoutLooseDimensions } from '../dimensions';
import { plainJson } from '../jsonText';
import { collectIds } from '../references';
import type { Aim, Lamp, Point3, SceneDocument } from '../schema';
import {
  fieldSchemasOf,
  findThing,
  missingHome,
  nameOf,
  NOUNS,
  pathOf,
  schemaOf,
  thingProblems,
  withThing,
} from './things';
import { refuse, type CommandResult, type ReadCommand, type Thing, type ThingRef } from './types';
import { acceptIfSound, judge, patched } from './values';

type Read<T extends ReadCommand['type']> = Extract<ReadCommand, { type: T }>;

const noSuch = (at: ThingRef): CommandResult => refuse(`There is no ${NOUNS[at.kind]} ${at.id}.`);
const isLocked = (thing: Thing): boolean => 'locked' in thing && thing.locked === true;
const lockedFault = (document: SceneDocument, at: ThingRef): CommandResult =>
  refuse(`${nameOf(document, at)} is locked. Unlock it first.`);

/** The document with the thing as given, if it is sound there. */
function placed(document: SceneDocument, at: ThingRef, thing: Thing): CommandResult {
  const next = withThing(document, at, thing);
  return acceptIfSound(next, thingProblems(next, at));
}

export function putThing(document: SceneDocument, command: Read<'add'> | Read<'replace'>): CommandResult {
  const { at, value, type } = command;
  const missing = missingHome(document, at);
  if (missing !== null) return refuse(missing);
  const exists = findThing(document, at) !== undefined;
  if (type === 'add' && exists) return refuse(`There is a ${NOUNS[at.kind]} ${at.id} already.`);
  if (type === 'replace' && !exists) return noSuch(at);
  const judged = judge(schemaOf(at.kind), value, pathOf(document, at));
  return judged.ok ? placed(document, at, judged.value) : refuse(judged.fault);
}

export function patchThing(document: SceneDocument, { at, fields, clear }: Read<'patch'>): CommandResult {
  const thing = findThing(document, at);
  if (thing === undefined) return noSuch(at);
  const judged = patched(thing, fieldSchemasOf(at.kind, thing), fields, clear ?? [], pathOf(document, at));
  return judged.ok ? placed(document, at, judged.value) : refuse(judged.fault);
}

/** A lamp without what its kit entry or its circuit was, where that is gone; the same lamp otherwise. */
function withoutLostLinks(lamp: Lamp, kit: ReadonlySet<string>, circuits: ReadonlySet<string>): Lamp {
  let result = lamp;
  if (lamp.kitId !== undefined && !kit.has(lamp.kitId)) {
    const { kitId: _lost, ...rest } = result;
    result = rest;
  }
  if (lamp.power?.circuitId !== undefined && !circuits.has(lamp.power.circuitId)) {
    const { circuitId: _lost, ...power } = lamp.power;
    result = { ...result, power };
  }
  return result;
}

/** The record with every value put through `change`; the same record if none changed. */
function mapRecord<T>(record: Readonly<Record<string, T>>, change: (value: T) => T): Record<string, T> {
  const entries = Object.entries(record).map(([id, value]) => [id, value, change(value)] as const);
  if (entries.every(([, before, after]) => before === after)) return record;
  return Object.fromEntries(entries.map(([id, , after]) => [id, after]));
}
/** The same list if nothing is filtered out of it. */
const keep = <T>(list: readonly T[], test: (item: T) => boolean): T[] =>
  list.every(test) ? (list as T[]) : list.filter(test);

/**
 * The document without what points at things that are gone: who plays the sun on what, the key meter, members of
 * groups, links to kit and circuits. Everything that loses nothing keeps its reference.
 */
export function withoutDangling(document: SceneDocument): SceneDocument {
  const ids = collectIds(document);
  const anything = [ids.surfaces, ids.meters, ids.marks, ids.sources, ids.modifiers];
  const setups = document.setups.map((setup) => {
    const sources = mapRecord(setup.sources, (source) =>
      source.type === 'lamp' ? withoutLostLinks(source, ids.kit, ids.circuits) : source,
    );
    const modifiers = mapRecord(setup.modifiers, (modifier) => {
      if (modifier.kitId === undefined || ids.kit.has(modifier.kitId)) return modifier;
      const { kitId: _lost, ...rest } = modifier;
      return rest;
    });
    return sources === setup.sources && modifiers === setup.modifiers ? setup : { ...setup, sources, modifiers };
  });
  let result = document;
  if (setups.some((setup, index) => setup !== document.setups[index])) result = { ...result, setups };
  const { story, groups, kit } = document;
  if (story !== undefined) result = withStory(result, ids.sources, ids.surfaces, ids.meters);
  if (groups !== undefined) {
    const kept = mapRecord(groups, (group) => {
      const memberIds = keep(group.memberIds, (id) => anything.some((known) => known.has(id)));
      return memberIds === group.memberIds ? group : { ...group, memberIds };
    });
    if (kept !== groups) result = { ...result, groups: kept };
  }
  if (kit !== undefined) {
    const kept = mapRecord(kit, (entry) => {
      const power = entry.lamp?.power;
      if (entry.lamp === undefined || power?.circuitId === undefined || ids.circuits.has(power.circuitId)) return entry;
      const { circuitId: _lost, ...rest } = power;
      return { ...entry, lamp: { ...entry.lamp, power: rest } };
    });
    if (kept !== kit) result = { ...result, kit: kept };
  }
  return withoutLooseDimensions(result);
}

type Ids = ReadonlySet<string>;
function withStory(document: SceneDocument, sources: Ids, surfaces: Ids, meters: Ids): SceneDocument {
  let story = document.story ?? {};
  const { playsSun, keyMeterId } = story;
  if (playsSun !== undefined) {
    const kept = keep(playsSun, (pair) => sources.has(pair.sourceId) && surfaces.has(pair.surfaceId));
    if (kept !== playsSun) story = { ...story, playsSun: kept };
  }
  if (keyMeterId !== undefined && !meters.has(keyMeterId)) {
    const { keyMeterId: _lost, ...rest } = story;
    story = rest;
  }
  return story === document.story || document.story === undefined ? document : { ...document, story };
}

/** Names of the things that take their light from a photometric file. */
function usersOfWeb(document: SceneDocument, webId: string): string[] {
  const uses = (distribution: Lamp['distribution'] | undefined): boolean =>
    distribution?.kind === 'web' && distribution.webId === webId;
  const lamps = document.setups.flatMap((setup) => Object.values(setup.sources));
  const entries = Object.values(document.kit ?? {});
  return [
    ...lamps.filter((source) => source.type === 'lamp' && uses(source.distribution)).map((source) => source.name),
    ...entries.filter((entry) => uses(entry.lamp?.distribution)).map((entry) => entry.name),
  ];
}

export function removeThing(document: SceneDocument, { at }: Read<'remove'>): CommandResult {
  const thing = findThing(document, at);
  if (thing === undefined) return noSuch(at);
  if (isLocked(thing)) return lockedFault(document, at);
  const users = at.kind === 'web' ? usersOfWeb(document, at.id) : [];
  if (users.length > 0) {
    return refuse(`${nameOf(document, at)} gives ${users[0]} its light. Give that lamp another distribution first.`);
  }
  return acceptIfSound(withoutDangling(withThing(document, at, undefined)), []);
}

/** A posed thing or a meter or mark with another place or aim; null where it has neither. */
function withPlace(thing: Thing, change: { positionM: Point3 } | { aim: Aim }): Thing | null {
  if ('pose' in thing) return { ...thing, pose: { ...thing.pose, ...change } } as Thing;
  if ('positionM' in thing && ('aim' in thing || 'positionM' in change)) return { ...thing, ...change } as Thing;
  return null;
}

export function placeThing(document: SceneDocument, command: Read<'move'> | Read<'aim'>): CommandResult {
  const { at } = command;
  const thing = findThing(document, at);
  if (thing === undefined) return noSuch(at);
  if (isLocked(thing)) return lockedFault(document, at);
  // The values were judged with the command's form; plain JSON has no -0.
  const change =
    command.type === 'move'
      ? { positionM: plainJson(command.positionM) as Point3 }
      : { aim: plainJson(command.aim) as Aim };
  const next = withPlace(thing, change);
  if (next !== null) return placed(document, at, next);
  return refuse(`${nameOf(document, at)} has no ${command.type === 'move' ? 'position' : 'aim'} of its own.`);
}
