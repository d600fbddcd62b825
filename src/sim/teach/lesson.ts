/**
 * What a guided exercise is made of: a live scene that a slider changes, questions put before the answer is shown, a
 * judge that gives each mistake its own reason, and a reveal read off the light itself with the law beside it.
 * Plain data and pure functions; the page and the printed handout are written from the same.
 */
import type { Point3, SceneDocument } from '../../scene/schema';
import type { Vec3 } from '../../scene/geometry/vector';
import type { Quantity, Say } from './say';

/** Wrong beliefs that the exercises set right. */
export const MISCONCEPTIONS = [
  'light-tires',
  'air-eats-light',
  'watts-are-light',
  'doubling-is-one-stop',
  'quarter-closer-doubles',
  'tilt-in-proportion',
  'rake-is-distance-alone',
  'soft-does-not-fall-off',
  'law-at-any-distance',
  'beams-are-exempt',
  'parallel-beams-exist',
  'nets-work-anywhere',
  'half-scrim-everywhere',
  'lamp-falls-off-like-sun',
  'softness-from-diffusion',
  'aim-straight-ahead',
] as const;
export type MisconceptionId = (typeof MISCONCEPTIONS)[number];

export interface Choice {
  readonly id: string;
  readonly words: string;
  readonly isRight: boolean;
  /** Why it is right, or what went wrong in thinking it. */
  readonly reason: string;
  readonly misconception?: MisconceptionId;
}
export type Guess = string | number;
export interface Judgement {
  readonly isRight: boolean;
  readonly reason: string;
  readonly misconception?: MisconceptionId;
}

export type Ask =
  | { readonly kind: 'choice'; readonly choices: readonly Choice[] }
  | {
      readonly kind: 'number';
      readonly label: string;
      readonly quantity: 'stops' | 'length';
      /** In stops or metres. */
      readonly right: number;
      readonly judge: (guess: number) => Judgement;
    };

export interface RevealRow {
  readonly words: string;
  readonly quantity: Quantity;
  /** As the light computed it. */
  readonly computed: number;
  /** As the law alone has it, in closed form; null where no law says it. */
  readonly law: number | null;
}
export interface ChartSeries {
  readonly id: string;
  readonly name: string;
  /** A computed curve, the pure law, or single readings. */
  readonly kind: 'curve' | 'law' | 'dots';
  /** Distance in metres or angle in degrees against lux (or per cent); in the order of the distance. */
  readonly points: readonly (readonly [at: number, level: number])[];
}
export interface LessonChart {
  /** A distance from a lamp, a place on a surface, or an angle: a place has no log-log axes. */
  readonly along: 'length' | 'place' | 'angle';
  readonly alongWords: string;
  /** What is drawn upwards: lux, or a percentage; illuminance if absent. */
  readonly up?: 'percent';
  /** The view that shows best what it is about; linear if absent. */
  readonly firstView?: 'logLog' | 'stops';
  readonly series: readonly ChartSeries[];
}
export interface Reveal {
  /** What the light did, in a few sentences. */
  readonly words: readonly string[];
  readonly rows: readonly RevealRow[];
  readonly lawWords: string;
  /** Drawn beside the chart: the same light on one, four and nine squares. */
  readonly picture?: 'spread';
  readonly chart: LessonChart;
}

export interface Round {
  readonly id: string;
  readonly question: string;
  readonly ask: Ask;
  readonly reveal: () => Reveal;
}

export interface SliderSpec {
  readonly words: string;
  readonly quantity: 'length' | 'angle';
  readonly least: number;
  readonly most: number;
  readonly step: number;
  readonly first: number;
  /** The only places it rests at, where it has some. */
  readonly rests?: readonly number[];
}
/** A place on the drawing of the exercise where the meter is held. */
export interface Mark {
  readonly words: string;
  readonly atM: Point3;
  /** The way its disc looks. */
  readonly normal: Vec3;
}
/** What an exercise works on: the scene it is put to and where its slider stands. */
export interface Bench {
  readonly document: SceneDocument;
  readonly value: number;
  readonly say: Say;
}

export interface Exercise {
  readonly id: string;
  readonly title: string;
  /** Demo scene that it is played on. */
  readonly base: 'drill-hall' | 'harbour-backdrop';
  /** Setups and sources that the scene must have; another scene that has them will do. */
  readonly needs: readonly { readonly setupId: string; readonly sourceIds: readonly string[] }[];
  readonly surfaceIds?: readonly string[];
  readonly misconceptions: readonly MisconceptionId[];
  /** What to look for. */
  readonly look: string;
  readonly slider: SliderSpec;
  /** The scene with the slider's value in it, and the setup to show. */
  readonly build: (
    document: SceneDocument,
    value: number,
  ) => { readonly document: SceneDocument; readonly setupId: string };
  /** From the side with the lamp's axis to the right; from above; from above with the light from the left. */
  readonly view: 'side' | 'plan' | 'planFromNorth';
  /** Where the meter is held in that scene. */
  readonly marks: (bench: Bench) => readonly Mark[];
  /** How many rounds it has. */
  readonly roundCount: number;
  readonly rounds: (bench: Bench) => readonly Round[];
  /** One sentence to take away. */
  readonly takeAway: string;
  /** What can hurt somebody who does this with real lamps. */
  readonly caution: string;
}

/** @returns how a committed guess is judged; an unknown choice is a mistake of the caller's */
export function judgeGuess(round: Round, guess: Guess): Judgement {
  const { ask } = round;
  if (ask.kind === 'number') {
    if (typeof guess !== 'number') throw new RangeError(`${round.id} asks for a number`);
    return ask.judge(guess);
  }
  const choice = ask.choices.find(({ id }) => id === guess);
  if (!choice) throw new RangeError(`${round.id} has no choice "${guess}"`);
  const { isRight, reason, misconception } = choice;
  return { isRight, reason, ...(misconception && { misconception }) };
}

/** Whether an exercise can be played on a scene. */
export const isPlayedOn = (exercise: Exercise, document: SceneDocument): boolean =>
  (exercise.surfaceIds ?? []).every((id) => Object.hasOwn(document.surfaces, id)) &&
  exercise.needs.every(({ setupId, sourceIds }) => {
    const setup = document.setups.find(({ id }) => id === setupId);
    return setup !== undefined && sourceIds.every((id) => Object.hasOwn(setup.sources, id));
  });
