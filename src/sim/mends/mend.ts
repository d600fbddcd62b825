/** What a mend is: one change of the rig that makes a fake sun more convincing, with what it leaves and what it costs. */
import type { SceneDocument, Setup } from '../../scene/schema';
import type { SolveControl } from '../results';
import type { Effort } from '../judgement/patch';

export const MEND_KINDS = [
  'backOff',
  'swing',
  'feather',
  'halfScrim',
  'staggeredNets',
  'mirror',
  'narrowerSpot',
] as const;
export type MendKind = (typeof MEND_KINDS)[number];

/** Figures of the worst surface of a lamp, as the judgement has them. */
export interface MendFigures {
  readonly falloffStops: number | null;
  readonly stepStopsPer10cm: number | null;
  readonly lineFanDeg: number | null;
  readonly edgeRatio: number | null;
}

/** The distance at which the lines' fan reads as the sun's, and the edges there. */
export interface DistanceNeed {
  readonly limitDeg: number;
  /** From the lens to the window, or to the middle of the patch where there is none. */
  readonly distanceM: number;
  readonly from: 'window' | 'patch';
  readonly edgeRatio: number | null;
}

export interface Mend extends MendFigures {
  /** Unique within one answer: kind, pieces where several are offered, lamp. */
  readonly id: string;
  readonly kind: MendKind;
  readonly sourceId: string;
  /** What to do, where, what it leaves, what it costs; for a mend that cannot be had, what stands against it. */
  readonly sentence: string;
  /** What to do, as the verdict says it: kind, number, place; the same as `sentence` where it cannot be had. */
  readonly brief: string;
  /** What else should be known, cautions above all, whole sentences; empty for nothing. Part of `sentence` too. */
  readonly remark: string;
  /**
   * Figures of the worst surface before the mend. Those after it, re-simulated, are the mend's own: null where there is
   * nothing to simulate (see `why`).
   */
  readonly before: MendFigures;
  /** Mean light that the patch loses with the lamp full up, stops; negative where it gains. */
  readonly costStops: number | null;
  /** Highest score of all scored figures, before and after. */
  readonly scoreBefore: number;
  readonly scoreAfter: number | null;
  readonly possible: boolean;
  /** What bounds the mend, or what stands against it. */
  readonly why: string;
  /** Pieces of grip that it takes. */
  readonly pieces: number;
  /** Work to rig it: the scene's own figures, else typical ones. */
  readonly minutes: number;
  readonly hands: number;
  /** The changed setup; null where the mend cannot be tried. */
  readonly setup: Setup | null;
  /**
   * What distance alone would bring where the lines' fan is the worst figure, whatever level and space say; null where
   * another figure is, or nothing within 60 m does it.
   */
  readonly needs: DistanceNeed | null;
  /** Fall-off that the search foresaw, stops; the re-simulated figure stands beside it. */
  readonly predictedFalloffStops: number | null;
}

export interface MendOptions {
  readonly control?: SolveControl;
  /** The kinds to look for; all of them if absent. */
  readonly kinds?: readonly MendKind[];
  /** Grid of the re-simulation; `full` if absent. */
  readonly effort?: Effort;
  /** Least mean illuminance of the lamp on the patch, lx; from the story's target over key if absent. */
  readonly leastMeanLx?: number;
  /** Lets a swing go where the story's sun never stands. */
  readonly anyAzimuth?: boolean;
}

export interface MendWork {
  readonly minutes: number;
  readonly minutesEachPiece: number;
  readonly hands: number;
}
/**
 * Typical work of each mend for a trained crew, with the lamp already up; a scene's `mendWork` goes before it.
 * Common practice, no source.
 */
export const TYPICAL_WORK: Readonly<Record<MendKind, MendWork>> = {
  backOff: { minutes: 15, minutesEachPiece: 0, hands: 2 },
  swing: { minutes: 10, minutesEachPiece: 0, hands: 2 },
  feather: { minutes: 3, minutesEachPiece: 0, hands: 1 },
  halfScrim: { minutes: 3, minutesEachPiece: 1, hands: 1 },
  staggeredNets: { minutes: 4, minutesEachPiece: 5, hands: 2 },
  mirror: { minutes: 15, minutesEachPiece: 15, hands: 3 },
  narrowerSpot: { minutes: 25, minutesEachPiece: 0, hands: 2 },
};

/** The parts that the work of a mend is made up of: the scene's own where it has them, else typical. */
export function baseWorkOf({ mendWork }: Pick<SceneDocument, 'mendWork'>, kind: MendKind): MendWork {
  const [own, typical] = [mendWork?.[kind], TYPICAL_WORK[kind]];
  return {
    minutes: own?.minutes ?? typical.minutes,
    minutesEachPiece: own?.minutesEachPiece ?? typical.minutesEachPiece,
    hands: own?.hands ?? typical.hands,
  };
}

/** Work of a mend with so many pieces of grip: what the scene says of its kind, else what is typical. */
export function workOf(
  { mendWork }: Pick<SceneDocument, 'mendWork'>,
  kind: MendKind,
  pieces: number,
): { minutes: number; hands: number } {
  const { minutes, minutesEachPiece, hands } = baseWorkOf({ mendWork }, kind);
  return { minutes: minutes + pieces * minutesEachPiece, hands };
}

/** Mends as the command line and scripts read them: no setup, and a reason beside every figure that is null. */
export function mendsJson(mends: readonly Mend[]): Record<string, unknown>[] {
  return mends.map((mend) => {
    const { id, kind, sentence, scoreBefore, possible, why, minutes, hands } = mend;
    const figures: Record<string, unknown> = {};
    for (const key of [
      'falloffStops',
      'stepStopsPer10cm',
      'lineFanDeg',
      'edgeRatio',
      'costStops',
      'scoreAfter',
    ] as const) {
      figures[key] = mend[key];
      if (mend[key] === null) figures[`${key}Reason`] = mend.scoreAfter === null ? why : 'the judgement has none here';
      if (key === 'costStops') figures['scoreBefore'] = scoreBefore;
    }
    return { id, kind, sentence, ...figures, possible, why, minutes, hands };
  });
}
