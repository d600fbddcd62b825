/** Ways of changing one thing from its fields; each returns why it was refused, or null. */
import type { ObjectRef } from '../../../render/contract';
import type { Aim, Point3 } from '../../../scene/schema';
import type { Command, ThingRef } from '../../../scene/commands';
import { useApp, useSession } from '../../app';
import { thingRefOf } from '../../tools/commandFor';

type PatchFields = Extract<Command, { type: 'patch' }>['fields'];
export interface Edits {
  readonly patch: (fields: PatchFields, clear?: readonly string[]) => string | null;
  /** As `patch`; a refusal becomes a notice. For switches and choices, which have no line for it. */
  readonly patchLoud: (fields: PatchFields, clear?: readonly string[]) => void;
  readonly draftPatch: (fields: PatchFields) => void;
  readonly move: (positionM: Point3) => string | null;
  readonly aim: (aim: Aim) => string | null;
}

export function useEdits(ref: ObjectRef): Edits {
  const { actions } = useApp();
  const setupId = useSession((state) => state.setupId);
  const at = thingRefOf(setupId, ref) as ThingRef;
  const patchOf = (fields: PatchFields, clear?: readonly string[]): Command =>
    clear ? { type: 'patch', at, fields, clear } : { type: 'patch', at, fields };
  return {
    patch: (fields, clear) => actions.run(patchOf(fields, clear)),
    patchLoud: (fields, clear) => actions.runLoud(patchOf(fields, clear)),
    draftPatch: (fields) => actions.draft(patchOf(fields)),
    move: (positionM) => actions.run({ type: 'move', at, positionM: [...positionM] }),
    aim: (aim) => actions.run({ type: 'aim', at, aim }),
  };
}
