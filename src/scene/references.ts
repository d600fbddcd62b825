/** What runs between objects: ids that must lead somewhere, and setups that must be told apart. */
import type { Path, Problem } from './faults';
import { dimensionProblems } from './dimensions';
import {
  cameraProblems,
  kitEntryProblems,
  meterProblems,
  modifierProblems,
  sourceProblems,
  storyProblems,
  surfaceProblems,
  webProblems,
} from './invariants';
import type { SceneDocument } from './schema';

/** The parts of a document that are checked here; a loader may hand over only those that it could read. */
export type Checkable = Pick<SceneDocument, 'surfaces' | 'meters' | 'setups'> &
  Partial<Pick<SceneDocument, 'camera' | 'story' | 'marks' | 'groups' | 'kit' | 'circuits' | 'webs' | 'dimensions'>>;

/** Which ids a document has, by kind; `sources` and `modifiers` over all setups. */
export interface IdIndex {
  readonly surfaces: ReadonlySet<string>;
  readonly meters: ReadonlySet<string>;
  readonly marks: ReadonlySet<string>;
  readonly sources: ReadonlySet<string>;
  readonly modifiers: ReadonlySet<string>;
  readonly kit: ReadonlySet<string>;
  readonly circuits: ReadonlySet<string>;
  readonly webs: ReadonlySet<string>;
}

const own = (value: unknown, key: string): unknown =>
  typeof value === 'object' && value !== null && Object.hasOwn(value, key)
    ? (value as Record<string, unknown>)[key]
    : undefined;
const keysOf = (value: unknown): string[] =>
  typeof value === 'object' && value !== null && !Array.isArray(value) ? Object.keys(value) : [];

/** The ids in a document, or in anything that was meant to be one. */
export function collectIds(document: unknown): IdIndex {
  const setups = own(document, 'setups');
  const over = (key: string): Set<string> =>
    new Set(Array.isArray(setups) ? setups.flatMap((setup) => keysOf(own(setup, key))) : []);
  const top = (key: string): Set<string> => new Set(keysOf(own(document, key)));
  return {
    surfaces: top('surfaces'),
    meters: top('meters'),
    marks: top('marks'),
    sources: over('sources'),
    modifiers: over('modifiers'),
    kit: top('kit'),
    circuits: top('circuits'),
    webs: top('webs'),
  };
}

function lookUp(id: string | undefined, known: ReadonlySet<string>, path: Path, what: string): Problem[] {
  return id === undefined || known.has(id) ? [] : [{ path, found: `"${id}"`, expected: `the id of ${what}` }];
}

function setupReferences(document: Checkable, ids: IdIndex): Problem[] {
  const problems: Problem[] = [];
  const firstWith = new Map<string, number>();
  document.setups.forEach((setup, index) => {
    const path: Path = ['setups', index];
    const earlier = firstWith.get(setup.id);
    if (earlier === undefined) firstWith.set(setup.id, index);
    else {
      const found = `"${setup.id}", the id of setups[${earlier}] too`;
      problems.push({ path: [...path, 'id'], found, expected: 'an id of its own' });
    }
    for (const [id, source] of Object.entries(setup.sources)) {
      if (source.type !== 'lamp') continue;
      const here = [...path, 'sources', id];
      problems.push(...lookUp(source.kitId, ids.kit, [...here, 'kitId'], 'a kit entry'));
      problems.push(...lookUp(source.power?.circuitId, ids.circuits, [...here, 'power', 'circuitId'], 'a circuit'));
      const webId = source.distribution.kind === 'web' ? source.distribution.webId : undefined;
      problems.push(...lookUp(webId, ids.webs, [...here, 'distribution', 'webId'], 'a photometric file'));
    }
    for (const [id, modifier] of Object.entries(setup.modifiers)) {
      problems.push(...lookUp(modifier.kitId, ids.kit, [...path, 'modifiers', id, 'kitId'], 'a kit entry'));
    }
  });
  return problems;
}

function kitReferences(document: Checkable, ids: IdIndex): Problem[] {
  return Object.entries(document.kit ?? {}).flatMap(([id, { lamp }]) => {
    const here: Path = ['kit', id, 'lamp'];
    const webId = lamp?.distribution.kind === 'web' ? lamp.distribution.webId : undefined;
    return [
      ...lookUp(webId, ids.webs, [...here, 'distribution', 'webId'], 'a photometric file'),
      ...lookUp(lamp?.power?.circuitId, ids.circuits, [...here, 'power', 'circuitId'], 'a circuit'),
    ];
  });
}

/** Every id in the document that leads nowhere, and every setup that has the id of an earlier one. */
export function referenceProblems(document: Checkable, ids: IdIndex): Problem[] {
  const problems = [...setupReferences(document, ids), ...kitReferences(document, ids)];
  (document.story?.playsSun ?? []).forEach(({ sourceId, surfaceId }, index) => {
    const path: Path = ['story', 'playsSun', index];
    problems.push(...lookUp(sourceId, ids.sources, [...path, 'sourceId'], 'a source in a setup'));
    problems.push(...lookUp(surfaceId, ids.surfaces, [...path, 'surfaceId'], 'a surface'));
  });
  problems.push(...lookUp(document.story?.keyMeterId, ids.meters, ['story', 'keyMeterId'], 'a meter'));
  const anything = new Set([...ids.surfaces, ...ids.meters, ...ids.marks, ...ids.sources, ...ids.modifiers]);
  for (const [id, group] of Object.entries(document.groups ?? {})) {
    group.memberIds.forEach((memberId, index) =>
      problems.push(...lookUp(memberId, anything, ['groups', id, 'memberIds', index], 'a thing in the scene')),
    );
  }
  return [...problems, ...dimensionProblems(document)];
}

/** Everything that is wrong with a document of the right form: each object in itself, then what runs between them. */
export function documentProblems(document: Checkable, ids: IdIndex = collectIds(document)): Problem[] {
  const problems: Problem[] = [];
  const each = <T>(record: Readonly<Record<string, T>> | undefined, path: Path, check: Check<T>): void => {
    for (const [id, value] of Object.entries(record ?? {})) problems.push(...check(value, [...path, id]));
  };
  if (document.camera !== undefined) problems.push(...cameraProblems(document.camera, ['camera']));
  if (document.story !== undefined) problems.push(...storyProblems(document.story, ['story']));
  each(document.surfaces, ['surfaces'], surfaceProblems);
  each(document.meters, ['meters'], meterProblems);
  document.setups.forEach((setup, index) => {
    each(setup.sources, ['setups', index, 'sources'], sourceProblems);
    each(setup.modifiers, ['setups', index, 'modifiers'], modifierProblems);
  });
  each(document.kit, ['kit'], kitEntryProblems);
  each(document.webs, ['webs'], webProblems);
  return [...problems, ...referenceProblems(document, ids)];
}
type Check<T> = (value: T, path: Path) => Problem[];
