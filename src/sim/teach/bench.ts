/** Hands of the exercises: a lamp moved, a meter held, a row of readings taken. */
import { withSetup } from '../../scene/withSetup';
import type { Lamp, Modifier, Point3, SceneDocument, Setup } from '../../scene/schema';
import { frameFromPose, localFromWorld } from '../../scene/geometry/frames';
import { add, scale, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledScene } from '../solve/compiled';
import { compileScene } from '../solve/compileScene';
import { solveGrid } from '../solve/solveGrid';
import { readPoint } from '../solve/solvePoint';
import type { Bench, Choice, Mark, MisconceptionId } from './lesson';

/** @throws {RangeError} if the scene has no such setup */
export function setupOf(document: SceneDocument, setupId: string): Setup {
  const setup = document.setups.find(({ id }) => id === setupId);
  if (!setup) throw new RangeError(`no setup "${setupId}" in this scene`);
  return setup;
}
/** @throws {RangeError} if the setup has no such lamp */
export function lampOf(document: SceneDocument, setupId: string, lampId: string): Lamp {
  const source = setupOf(document, setupId).sources[lampId];
  if (source?.type !== 'lamp') throw new RangeError(`no lamp "${lampId}" in setup "${setupId}"`);
  return source;
}
export function withLamp(
  document: SceneDocument,
  setupId: string,
  lampId: string,
  change: Partial<Lamp>,
): SceneDocument {
  const setup = setupOf(document, setupId);
  const lamp = { ...lampOf(document, setupId, lampId), ...change };
  return withSetup(document, { ...setup, sources: { ...setup.sources, [lampId]: lamp } });
}
export function withModifiers(
  document: SceneDocument,
  setupId: string,
  modifiers: Readonly<Record<string, Modifier>>,
): SceneDocument {
  return withSetup(document, { ...setupOf(document, setupId), modifiers: { ...modifiers } });
}

/** A meter with a flat disc, held somewhere. */
export interface Held {
  readonly pointM: Vec3;
  readonly normal: Vec3;
}
export const read = (scene: CompiledScene, { pointM, normal }: Held): number =>
  readPoint(scene, { pointM, normal }).illuminanceLx;

/** A meter on a lamp's axis, `distanceM` from its front, facing it. */
export function onAxis(lamp: Lamp, distanceM: number): Held {
  const { origin, forward } = frameFromPose(lamp.pose);
  return { pointM: add(origin, scale(forward, distanceM)), normal: scale(forward, -1) };
}

/** Marks on a lamp's axis, named by their distance. */
export const axisMarks = ({ document, say }: Bench, setupId: string, lampId: string, at: readonly number[]): Mark[] =>
  at.map((distanceM) => {
    const { pointM, normal } = onAxis(lampOf(document, setupId, lampId), distanceM);
    return { words: say.length(distanceM), atM: [pointM[0], pointM[1], pointM[2]], normal };
  });

/** Levels on a lamp's axis, with all that shines in the setup. */
export function axisReader(document: SceneDocument, setupId: string, lampId: string): (distanceM: number) => number {
  const scene = compileScene(document, setupId);
  const lamp = lampOf(document, setupId, lampId);
  return (distanceM) => read(scene, onAxis(lamp, distanceM));
}

/** Levels on a wall that faces `normal`, at points of it. */
export function wallReader(document: SceneDocument, setupId: string, normal: Vec3): (pointM: Point3) => number {
  const scene = compileScene(document, setupId);
  return (pointM) => read(scene, { pointM, normal });
}

/**
 * Levels of a surface in an even row from one point to another of the same height, both ends in; lux.
 * @throws {RangeError} if the scene has no such surface
 */
export function levelsAlong(
  scene: CompiledScene,
  surfaceId: string,
  fromM: Point3,
  toM: Point3,
  count: number,
): number[] {
  const surface = scene.document.surfaces[surfaceId];
  if (!surface) throw new RangeError(`no surface "${surfaceId}" in this scene`);
  const frame = frameFromPose(surface.pose);
  const [from, to] = [localFromWorld(frame, fromM), localFromWorld(frame, toM)];
  const pitchM = Math.abs(to.right - from.right) / (count - 1);
  const leftM = Math.min(from.right, to.right) - pitchM / 2;
  const region = { leftM, bottomM: from.up - ROW_HEIGHT_M / 2, widthM: count * pitchM, heightM: ROW_HEIGHT_M };
  const levels = [...solveGrid(scene, { surfaceId, columns: count, rows: 1, region }).illuminanceLx];
  return to.right < from.right ? levels.toReversed() : levels;
}
const ROW_HEIGHT_M = 0.002;

/** From least to most in even ratios: a curve that is as smooth near as far. */
export const ladder = (least: number, most: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => least * (most / least) ** (i / (count - 1)));
/** From least to most in even steps. */
export const rungs = (least: number, most: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => least + ((most - least) * i) / (count - 1));

export const curveOf = (at: readonly number[], level: (at: number) => number): (readonly [number, number])[] =>
  at.map((each) => [each, level(each)] as const);

/** Stops lost from one level to another; positive where the second is darker. */
export const stopsLost = (fromLx: number, toLx: number): number => Math.log2(fromLx / toLx);

export interface Mistake {
  readonly id: string;
  readonly value: number;
  readonly words: string;
  readonly reason: string;
  readonly misconception?: MisconceptionId;
}
/**
 * The right answer among those that mistakes lead to, the greatest first. Mistakes that come out where the answer or
 * another mistake is, within `apart`, are left out: nobody could choose between them.
 */
export function choicesAmong(
  right: Omit<Mistake, 'misconception'>,
  mistakes: readonly Mistake[],
  apart: (a: number, b: number) => boolean,
): Choice[] {
  const kept: Mistake[] = [right];
  for (const mistake of mistakes) {
    if (kept.every(({ value }) => apart(value, mistake.value))) kept.push(mistake);
  }
  return kept
    .toSorted((a, b) => b.value - a.value)
    .map((each) => ({
      id: each.id,
      words: each.words,
      isRight: each === right,
      reason: each.reason,
      ...(each.misconception && { misconception: each.misconception }),
    }));
}
/** Two levels that an eye on a meter tells apart: a tenth of one another. */
export const levelsApart = (a: number, b: number): boolean => Math.abs(Math.log2(a / b)) > 0.15;
export const stopsApart = (a: number, b: number): boolean => Math.abs(a - b) > 0.15;
