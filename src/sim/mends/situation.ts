/** The rig before any mend: what is judged, how it stands, and what a mend must keep to. */
import { withSetup } from '../../scene/withSetup';
import type { Lamp, SceneDocument, Setup } from '../../scene/schema';
import { judgePairs } from '../judgement/judgeSun';
import { sunPairs, type SunPair } from '../judgement/sunPairs';
import { findPatch, type Effort, type Patch } from '../judgement/patch';
import type { ScoredFigure, SunCheck } from '../results';
import type { CompiledScene, CompiledSource } from '../solve/compiled';
import { compileScene } from '../solve/compileScene';
import type { Scores } from '../judgement/limits';
import type { Pace } from './search';
import type { MendOptions } from './mend';

/** Least level of a wall or floor patch over key where the story types no target, stops (common practice, no source). */
export const USUAL_OVER_KEY_STOPS = 1.5;

/** One lamp that plays the sun on one surface: the check before, and its patch. */
export interface JudgedPair {
  readonly pair: SunPair;
  readonly check: SunCheck;
  readonly patch: Patch;
}

export interface Situation {
  readonly document: SceneDocument;
  readonly setup: Setup;
  readonly scene: CompiledScene;
  readonly lampId: string;
  readonly lamp: Lamp;
  readonly source: CompiledSource;
  readonly judged: readonly JudgedPair[];
  /** The pair with the highest score: words, level and the middle of the patch are of this one. */
  readonly main: JudgedPair;
  /** Mean illuminance of the lamp on the main patch at level 1, lx. */
  readonly meanLx: number;
  readonly least: { readonly meanLx: number; readonly words: string };
  readonly scoreBefore: number;
  readonly options: MendOptions;
  readonly pace: Pace;
}

export const highestOf = (scores: Scores, figures?: readonly ScoredFigure[]): number =>
  Math.max(
    0,
    ...Object.entries(scores).flatMap(([figure, score]) =>
      figures === undefined || figures.includes(figure as ScoredFigure) ? [score] : [],
    ),
  );
export const sumOf = (scores: Scores): number => Object.values(scores).reduce((sum, score) => sum + score, 0);

/** Each figure at its worst over several checks. */
export function worstOf(all: readonly Scores[]): Scores {
  const worst: Scores = {};
  for (const scores of all) {
    for (const [figure, score] of Object.entries(scores) as [ScoredFigure, number][]) {
      worst[figure] = Math.max(worst[figure] ?? 0, score);
    }
  }
  return worst;
}

/** Area mean of what reaches the lit cells at level 1, lx. */
export function patchMeanLx(patch: Patch): number {
  let [sum, area] = [0, 0];
  patch.cells.forEach((cell, i) => {
    sum += patch.areaM2[i]! * patch.sums.allLx[cell]!;
    area += patch.areaM2[i]!;
  });
  return sum / area;
}

/** Pairs of the setup that the story says play the sun, lamps only. */
export function lampPairs(scene: CompiledScene): SunPair[] {
  return sunPairs(scene).filter(({ source }) => source.source.type === 'lamp');
}

/** Checks of one lamp on its surfaces, judged together with every other lamp that plays the sun. */
export function judgeLamp(document: SceneDocument, setup: Setup, lampId: string, effort: Effort): SunCheck[] {
  const scene = compileScene(withSetup(document, setup), setup.id);
  return judgePairs(scene, lampPairs(scene), effort).filter((check) => check.sourceId === lampId);
}

/**
 * What the patch must keep, as mean illuminance of the lamp at full: the typed target over key, else the usual least of
 * a sun patch; a rig that is already below it keeps what it has. Light of other sources counts towards it.
 */
function leastLevel(
  check: SunCheck,
  meanLx: number,
  level: number,
  options: MendOptions,
  document: SceneDocument,
): Situation['least'] {
  if (options.leastMeanLx !== undefined) return { meanLx: options.leastMeanLx, words: 'the level asked for' };
  const typed = document.story?.targetOverKeyStops;
  const target = typed ?? USUAL_OVER_KEY_STOPS;
  if (check.overKeyStops === null) return { meanLx: level * meanLx, words: 'the level it has' };
  const lampShare = check.overAmbienceStops === null ? 1 : 1 - 2 ** -check.overAmbienceStops;
  const onLx = (level * meanLx) / Math.max(1e-9, lampShare);
  const wantedLx = onLx * 2 ** (target - check.overKeyStops) - (onLx - level * meanLx);
  if (wantedLx > level * meanLx) return { meanLx: level * meanLx, words: 'the level it has' };
  return { meanLx: Math.max(0, wantedLx), words: `${target} stops over key` };
}

/**
 * @returns the rig of one lamp before any mend; a sentence where there is nothing to mend
 * @throws {RangeError} if the setup does not exist
 */
export function situationOf(
  document: SceneDocument,
  setup: Setup,
  lampId: string,
  options: MendOptions,
  pace: Pace,
): Situation | string {
  const scene = compileScene(document, setup.id);
  const pairs = lampPairs(scene);
  const effort = options.effort ?? 'full';
  const checks = judgePairs(scene, pairs, effort);
  const judged = pairs.flatMap((pair, i): JudgedPair[] => {
    if (pair.source.id !== lampId || Object.keys(checks[i]!.scores).length === 0) return [];
    const patch = findPatch(scene, pair.source, pair.surface, effort);
    return typeof patch === 'string' ? [] : [{ pair, check: checks[i]!, patch }];
  });
  const lamp = setup.sources[lampId];
  if (judged.length === 0 || lamp?.type !== 'lamp') {
    return checks.find((check) => check.sourceId === lampId)?.sentence ?? 'Nothing of this lamp is judged.';
  }
  const main = judged.reduce((a, b) => (highestOf(b.check.scores) > highestOf(a.check.scores) ? b : a));
  const { source } = main.pair;
  const meanLx = patchMeanLx(main.patch);
  const level = source.level > 0 ? source.level : 1;
  return {
    document,
    setup,
    scene,
    lampId,
    lamp,
    source,
    judged,
    main,
    meanLx,
    least: leastLevel(main.check, meanLx, level, options, document),
    scoreBefore: highestOf(worstOf(judged.map(({ check }) => check.scores))),
    options,
    pace,
  };
}

/** The setup with the lamp changed; raised, if it is dimmed, as far as the patch loses. */
export function withLamp(setup: Setup, lampId: string, lamp: Lamp, costStops = 0): Setup {
  const level = lamp.level ?? 1;
  const raised = costStops > 0 && level < 1 && level > 0 ? { level: Math.min(1, level * 2 ** costStops) } : {};
  return { ...setup, sources: { ...setup.sources, [lampId]: { ...lamp, ...raised } } };
}
