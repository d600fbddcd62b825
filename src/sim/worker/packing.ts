/**
 * Scenes on their way to the worker: what it already has of them is named by a number instead of being copied again. A
 * document's members, and the sources and modifiers of its setups, are such parts; documents are immutable, so that the
 * same object is the same part. Both sides forget what none of the last few documents holds.
 */
import type { SceneDocument, Setup } from '../../scene/schema';
import type { SolverEndpoint } from './client';
import type { Task, ToWorker } from './protocol';

type Members = Readonly<Record<string, unknown>>;
interface PackedSetup {
  readonly plain: Members;
  readonly sources: number;
  readonly modifiers: number;
}
interface PackedDocument {
  /** Number of the document itself. */
  readonly id: number;
  /** Numbers of all that it holds, and what it holds itself; absent where the worker has the document already. */
  readonly held?: {
    readonly members: Readonly<Record<string, number>>;
    readonly plain: Members;
    readonly setups: readonly PackedSetup[];
    /** The parts that the worker has not got yet. */
    readonly fresh: readonly (readonly [id: number, part: unknown])[];
  };
}
type PackedTask = Omit<Task, 'document'> & { readonly document: PackedDocument };
export type PackedToWorker = ToWorker | (Omit<ToWorker & { type: 'start' }, 'task'> & { readonly packed: PackedTask });

/** So many documents are remembered: the scene before and after a step, and its sun's twin. */
export const REMEMBERED_DOCUMENTS = 4;

const partsOf = ({ held }: PackedDocument): number[] =>
  held
    ? [...Object.values(held.members), ...held.setups.flatMap(({ sources, modifiers }) => [sources, modifiers])]
    : [];

/** Documents by number in the order in which they came, each with its parts. The same on both sides. */
class Remembered {
  private readonly documents: { readonly id: number; readonly parts: readonly number[] }[] = [];

  /** @returns numbers of documents and parts that are forgotten now */
  add(document: PackedDocument): number[] {
    this.documents.push({ id: document.id, parts: partsOf(document) });
    if (this.documents.length <= REMEMBERED_DOCUMENTS) return [];
    const oldest = this.documents.shift()!;
    const inUse = new Set(this.documents.flatMap(({ parts }) => parts));
    return [oldest.id, ...oldest.parts.filter((part) => !inUse.has(part))];
  }
}

const isPart = (value: unknown): value is object => typeof value === 'object' && value !== null;

/**
 * @param firstId number before that of the first part
 * @returns the sender's side for one worker: turns each message into one that says nothing twice
 */
export function createPacker(firstId = 0): (message: ToWorker) => PackedToWorker {
  const ids = new Map<object, number>();
  const byId = new Map<number, object>();
  const remembered = new Remembered();
  let lastId = firstId;

  const numbered = (part: object): number => {
    lastId += 1;
    ids.set(part, lastId);
    byId.set(lastId, part);
    return lastId;
  };
  const pack = (document: SceneDocument): PackedDocument => {
    const known = ids.get(document);
    if (known !== undefined) return { id: known };
    const fresh: [number, unknown][] = [];
    const partId = (part: object): number => {
      const before = ids.get(part);
      if (before !== undefined) return before;
      const id = numbered(part);
      fresh.push([id, part]);
      return id;
    };
    const { setups, ...rest } = document;
    const entries = Object.entries(rest);
    const held = {
      members: Object.fromEntries(entries.flatMap(([key, value]) => (isPart(value) ? [[key, partId(value)]] : []))),
      plain: Object.fromEntries(entries.filter(([, value]) => !isPart(value))),
      setups: setups.map(({ sources, modifiers, ...plain }) => ({
        plain,
        sources: partId(sources),
        modifiers: partId(modifiers),
      })),
      fresh,
    };
    const packed = { id: numbered(document), held };
    for (const id of remembered.add(packed)) {
      ids.delete(byId.get(id)!);
      byId.delete(id);
    }
    return packed;
  };
  return (message) => {
    if (message.type !== 'start' || !('document' in message.task)) return message;
    const { task, ...rest } = message;
    return { ...rest, packed: { ...task, document: pack(message.task.document) } };
  };
}

class PartMissing extends Error {}

/**
 * @returns the worker's side: gives back what was packed, with the same object for the same part; null where a part has
 *   not arrived
 */
export function createUnpacker(): (message: PackedToWorker) => ToWorker | null {
  const parts = new Map<number, unknown>();
  const remembered = new Remembered();

  const part = (id: number): unknown => {
    if (!parts.has(id)) throw new PartMissing();
    return parts.get(id);
  };
  const unpack = (packed: PackedDocument): SceneDocument => {
    const { id, held } = packed;
    if (!held) return part(id) as SceneDocument;
    for (const [freshId, fresh] of held.fresh) parts.set(freshId, fresh);
    const members = Object.entries(held.members).map(([key, partId]) => [key, part(partId)]);
    const setups = held.setups.map(
      ({ plain, sources, modifiers }) => ({ ...plain, sources: part(sources), modifiers: part(modifiers) }) as Setup,
    );
    const document = { ...held.plain, ...Object.fromEntries(members), setups } as SceneDocument;
    parts.set(id, document);
    for (const gone of remembered.add(packed)) parts.delete(gone);
    return document;
  };
  return (message) => {
    if (!('packed' in message)) return message;
    const { packed, ...rest } = message;
    try {
      return { ...rest, task: { ...packed, document: unpack(packed.document) } as Task };
    } catch (thrown) {
      if (thrown instanceof PartMissing) return null;
      throw thrown;
    }
  };
}

/** More numbers than a worker is ever given. */
const ROUND = 2 ** 32;

/** A worker that scenes go to in parts; at its other end `createUnpacker` puts them together. */
export function withPacking(worker: SolverEndpoint): SolverEndpoint {
  let pack = createPacker();
  let rounds = 0;
  const post = worker.postMessage.bind(worker) as (message: PackedToWorker) => void;
  worker.postMessage = (message) => post(pack(message));
  worker.forgetSent = () => {
    // Numbers go on from where no number has been.
    rounds += 1;
    pack = createPacker(rounds * ROUND);
  };
  return worker;
}
