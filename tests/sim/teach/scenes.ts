/** The demo scenes that exercises are played on. */
import { readFileSync } from 'node:fs';
import { formatFault, loadScene } from '../../../src/scene/load';
import type { SceneDocument } from '../../../src/scene/schema';
import {
  judgeGuess,
  type Exercise,
  type Guess,
  type Judgement,
  type Reveal,
  type Round,
} from '../../../src/sim/teach/lesson';
import { sayOf } from '../../../src/sim/teach/say';

function demo(file: string): SceneDocument {
  const result = loadScene(readFileSync(`scenes-demo/${file}`, 'utf8'), file);
  if (!result.ok) throw new Error(result.faults.map(formatFault).join('\n'));
  return result.document;
}
export const BASES: Readonly<Record<Exercise['base'], SceneDocument>> = {
  'drill-hall': demo('drill-hall-falloff.json'),
  'harbour-backdrop': demo('harbour-backdrop.json'),
};

export const roundsAt = (exercise: Exercise, value: number, document = BASES[exercise.base]): readonly Round[] =>
  exercise.rounds({ document, value, say: sayOf(document) });
export function roundAt(exercise: Exercise, id: string, value: number, document = BASES[exercise.base]): Round {
  const round = roundsAt(exercise, value, document).find((candidate) => candidate.id === id);
  if (!round) throw new Error(`no round ${id}`);
  return round;
}
export const judged = (exercise: Exercise, id: string, value: number, guess: Guess): Judgement =>
  judgeGuess(roundAt(exercise, id, value), guess);
/** Computed figure of a row that is named so, or begins so. */
export function rowOf(reveal: Reveal, words: string): number {
  const row = reveal.rows.find((candidate) => candidate.words.startsWith(words));
  if (!row) throw new Error(`no row ${words} among ${reveal.rows.map((each) => each.words).join(' | ')}`);
  return row.computed;
}
