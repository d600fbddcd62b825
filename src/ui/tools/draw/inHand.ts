/** A thing of the kit in hand. */
import type { GripClass } from '../../../scene/kit/gripClasses';
import type { Lamp } from '../../../scene/schema';
import type { LampEntry } from '../../kitCommands';

/** What the next press on the plan puts down. */
export type InHand =
  | {
      readonly kind: 'lamp';
      readonly entry: LampEntry;
      readonly kitId: string | null;
      readonly symbol?: Lamp['symbol'];
    }
  | { readonly kind: 'grip'; readonly piece: GripClass };

export const nameInHand = (thing: InHand): string => (thing.kind === 'lamp' ? thing.entry.name : thing.piece.name);
