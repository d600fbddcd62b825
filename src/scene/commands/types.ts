/** The commands: plain data that can be logged, sent and done again. What they do is in the files beside this one. */
import { z } from 'zod';
import {
  type Aim,
  type Camera,
  type KitEntry,
  type Meter,
  type Modifier,
  type Opening,
  type Point3,
  type SceneDocument,
  type Setup,
  type Source,
  type Story,
  type Surface,
} from '../schema';
import { aimSchema, idSchema, point3 } from '../schemaParts';
import type { Dimension, PlanPicture } from '../schemaPlan';

const sceneThing = z.enum(['surface', 'meter', 'mark', 'group', 'kitEntry', 'circuit', 'web', 'picture', 'dimension']);
const refSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: sceneThing, id: idSchema }),
  z.strictObject({ kind: z.literal('opening'), surfaceId: idSchema, id: idSchema }),
  z.strictObject({ kind: z.enum(['source', 'modifier']), setupId: idSchema, id: idSchema }),
]);
/** Which thing in a document: those of a setup by setup and id, openings by wall and id, the rest by id. */
export type ThingRef = z.infer<typeof refSchema>;
export type ThingKind = ThingRef['kind'];

type RecordValue<K extends 'marks' | 'groups' | 'circuits' | 'webs'> = NonNullable<SceneDocument[K]>[string];
export type Thing =
  | Surface
  | Opening
  | Meter
  | Source
  | Modifier
  | KitEntry
  | RecordValue<'marks'>
  | RecordValue<'groups'>
  | RecordValue<'circuits'>
  | RecordValue<'webs'>
  | PlanPicture
  | Dimension;

/** Any of the fields of any thing; a command with a field that its thing does not have is refused. */
type AllFields<T> = T extends unknown ? { [K in keyof T]?: T[K] } : never;
export type Fields = AllFields<Thing>;
interface SceneFields {
  name?: string;
  production?: string;
  notes?: string;
  northDeg?: number;
  mendWork?: NonNullable<SceneDocument['mendWork']>;
}
interface PartFields {
  camera: Partial<Camera>;
  story: Story;
  display: NonNullable<SceneDocument['display']>;
  titleBlock: NonNullable<SceneDocument['titleBlock']>;
  scene: SceneFields;
}
export type ScenePart = keyof PartFields;
type PatchPart = {
  [P in ScenePart]: { type: 'patchScene'; part: P; fields: PartFields[P]; clear?: readonly string[] };
}[ScenePart];

export type SingleCommand =
  /** Puts in a new thing; refused where the id is taken. */
  | { type: 'add'; at: ThingRef; value: Thing }
  /** Puts a whole thing in the place of the one with this id. */
  | { type: 'replace'; at: ThingRef; value: Thing }
  /** Sets some fields of a thing and empties others (`clear`, optional fields only). */
  | { type: 'patch'; at: ThingRef; fields: Fields; clear?: readonly string[] }
  /** Takes a thing out, and whatever in the scene only pointed at it. */
  | { type: 'remove'; at: ThingRef }
  | { type: 'move'; at: ThingRef; positionM: Point3 }
  | { type: 'aim'; at: ThingRef; aim: Aim }
  /** Sets fields of the camera, the story, the units shown, the title block, or the scene's own. */
  | PatchPart
  | { type: 'addSetup'; setup: Setup; index?: number }
  | { type: 'copySetup'; setupId: string; id: string; name: string }
  | { type: 'removeSetup'; setupId: string }
  | { type: 'patchSetup'; setupId: string; fields: { name?: string; notes?: string }; clear?: readonly string[] }
  /** Puts a setup at another place in the order, counted from 0. */
  | { type: 'moveSetup'; setupId: string; index: number };
/** Several commands done as one step: all of them, or none. */
export interface SequenceCommand {
  type: 'sequence';
  label: string;
  commands: readonly SingleCommand[];
}
export type Command = SingleCommand | SequenceCommand;

const fields = z.record(z.string().max(100), z.unknown());
const clear = z.array(z.string().max(100)).max(100).optional();
const index = z.int().min(0).max(100);
const singleSchemas = [
  z.strictObject({ type: z.literal('add'), at: refSchema, value: z.unknown() }),
  z.strictObject({ type: z.literal('replace'), at: refSchema, value: z.unknown() }),
  z.strictObject({ type: z.literal('patch'), at: refSchema, fields, clear }),
  z.strictObject({ type: z.literal('remove'), at: refSchema }),
  z.strictObject({ type: z.literal('move'), at: refSchema, positionM: point3 }),
  z.strictObject({ type: z.literal('aim'), at: refSchema, aim: aimSchema }),
  z.strictObject({
    type: z.literal('patchScene'),
    part: z.enum(['camera', 'story', 'display', 'titleBlock', 'scene']),
    fields,
    clear,
  }),
  z.strictObject({ type: z.literal('addSetup'), setup: z.unknown(), index: index.optional() }),
  z.strictObject({ type: z.literal('copySetup'), setupId: idSchema, id: idSchema, name: z.string().max(2000) }),
  z.strictObject({ type: z.literal('removeSetup'), setupId: idSchema }),
  z.strictObject({ type: z.literal('patchSetup'), setupId: idSchema, fields, clear }),
  z.strictObject({ type: z.literal('moveSetup'), setupId: idSchema, index }),
] as const;
/** The form of a command; the values inside are judged when it is applied. */
export const singleCommandSchema = z.discriminatedUnion('type', singleSchemas);
export const commandSchema = z.discriminatedUnion('type', [
  ...singleSchemas,
  z.strictObject({
    type: z.literal('sequence'),
    label: z.string().max(200),
    commands: z.array(singleCommandSchema).max(1000),
  }),
]);
/** A command of the right form whose values nobody has judged yet. */
export type ReadCommand = z.infer<typeof singleCommandSchema>;

export type CommandResult =
  { readonly ok: true; readonly document: SceneDocument } | { readonly ok: false; readonly fault: string };
export const refuse = (fault: string): CommandResult => ({ ok: false, fault });
export const accept = (document: SceneDocument): CommandResult => ({ ok: true, document });
