/** What a grip helper answers: the setup with the pieces in it, where they stand in figures, what to mind. */
import type { Setup } from '../../scene/schema';

/** One figure of the rig, for the form to print in the scene's units. */
export interface GripFact {
  readonly name: string;
  readonly kind: 'length' | 'fineLength' | 'angle';
  readonly value: number;
}
export type GripPlan =
  | {
      readonly ok: true;
      readonly setup: Setup;
      /** Modifiers that the helper has put in. */
      readonly pieceIds: readonly string[];
      readonly facts: readonly GripFact[];
      /** What the light does that the figures alone do not tell, whole sentences. */
      readonly remarks: readonly string[];
    }
  | { readonly ok: false; readonly sentence: string };

export const refused = (sentence: string): GripPlan => ({ ok: false, sentence });
export const length = (name: string, value: number): GripFact => ({ name, kind: 'length', value });
export const fineLength = (name: string, value: number): GripFact => ({ name, kind: 'fineLength', value });
export const angle = (name: string, value: number): GripFact => ({ name, kind: 'angle', value });
