/** Demo scenes that the exercises are played on where the open scene has not what they need. */
import backdropText from '../../../scenes-demo/harbour-backdrop.json?raw';
import hallText from '../../../scenes-demo/drill-hall-falloff.json?raw';
import { loadScene } from '../../scene/load';
import type { SceneDocument } from '../../scene/schema';
import { isPlayedOn, type Exercise } from '../../sim/teach/lesson';

const TEXTS = { 'drill-hall': hallText, 'harbour-backdrop': backdropText } as const;
const FILE_NAMES = { 'drill-hall': 'drill-hall-falloff.json', 'harbour-backdrop': 'harbour-backdrop.json' } as const;
const loaded = new Map<Exercise['base'], SceneDocument>();

function baseOf(base: Exercise['base']): SceneDocument {
  const known = loaded.get(base);
  if (known) return known;
  const result = loadScene(TEXTS[base], FILE_NAMES[base]);
  if (!result.ok) throw new Error(`${FILE_NAMES[base]} cannot be opened`);
  loaded.set(base, result.document);
  return result.document;
}

export interface Stage {
  readonly document: SceneDocument;
  readonly isOpenScene: boolean;
}
/** The open scene where the exercise can be played on it, else the demo scene in the open scene's units. */
export function stageFor(exercise: Exercise, open: SceneDocument): Stage {
  if (isPlayedOn(exercise, open)) return { document: open, isOpenScene: true };
  const base = baseOf(exercise.base);
  return { document: open.display ? { ...base, display: open.display } : base, isOpenScene: false };
}
export const fileNameOf = ({ base }: Exercise): string => FILE_NAMES[base];
