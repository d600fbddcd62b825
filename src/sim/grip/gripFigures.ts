/** The figures that a helper is for, as the kernel and the judgement have them: before, and with its pieces in. */
import type { SceneDocument } from '../../scene/schema';
import { hotEndOf } from '../judgement/hotEnd';
import type { Region } from '../judgement/lightSums';
import { findPatch, towardsSource, type NoPatch } from '../judgement/patch';
import { trimmedSpread } from '../judgement/statistics';
import { largestStep } from '../judgement/step';
import { playingLight } from '../judgement/sunPairs';
import { patchMeanLx } from '../mends/situation';
import type { CompiledScene, CompiledSurface } from '../solve/compiled';
import { compileScene } from '../solve/compileScene';
import { lightOnPart, partsOf, wantedPart } from './flag';
import { judgedSurfaceOf, type GripRequest } from './gripRequest';

export interface PartLight {
  readonly meanLx: number;
  readonly peakLx: number;
}
export interface GripFigures {
  /** As the verdict's row has it; null without a patch. */
  readonly falloffStops: number | null;
  readonly stepStopsPer10cm: number | null;
  readonly hotEnd: string | null;
  /** Of the lamp on its patch at the level it is set to. */
  readonly meanLx: number | null;
  /** From the patch's middle to the lens, over the mirror where the light comes off one, m. */
  readonly throwM: number | null;
  readonly isOffMirror: boolean;
  /** Why there is no patch. */
  readonly reason: string | null;
  /** The lamp's light where it must be dark, and where it is wanted; for the flag only. */
  readonly dark: PartLight | null;
  readonly wanted: PartLight | null;
}

const NO_PATCH: Readonly<Record<NoPatch, string>> = {
  behind: 'The lamp does not shine towards this surface.',
  hidden: 'Nothing of the lamp reaches this surface past the set.',
  diffused: 'No shaft reaches this surface, only spread light.',
};

/** Direct light of one lamp on part of a surface, over all its ways there, at the level it is set to. */
function partLight(scene: CompiledScene, lampId: string, surface: CompiledSurface, region: Region): PartLight {
  const ways = scene.sources.filter(({ id }) => id === lampId);
  const all = ways.map((way) => ({ sums: lightOnPart(scene, way, surface, region), level: way.level }));
  const { areaM2 } = all[0]!.sums;
  let [sum, area, peakLx] = [0, 0, 0];
  areaM2.forEach((cellM2, cell) => {
    const lux = all.reduce((total, { sums, level }) => total + level * sums.allLx[cell]!, 0);
    sum += lux * cellM2;
    area += cellM2;
    if (cellM2 > 0) peakLx = Math.max(peakLx, lux);
  });
  return { meanLx: area > 0 ? sum / area : 0, peakLx };
}

function flagParts(scene: CompiledScene, request: GripRequest): Pick<GripFigures, 'dark' | 'wanted'> {
  if (request.helper !== 'flag') return { dark: null, wanted: null };
  const surface = scene.surfaces.get(request.dark.surfaceId);
  const region = surface && partsOf(surface, request.dark).dark;
  const wanted = wantedPart(scene, request);
  return {
    dark: surface && region ? partLight(scene, request.lampId, surface, region) : null,
    wanted: wanted && partLight(scene, request.lampId, wanted.surface, wanted.region),
  };
}

/**
 * Figures of the request's lamp in a setup of the document, on the judgement's full grid.
 * @throws {RangeError} if the setup does not exist
 */
export function gripFigures(document: SceneDocument, setupId: string, request: GripRequest): GripFigures {
  const scene = compileScene(document, setupId);
  const surface = scene.surfaces.get(judgedSurfaceOf(request));
  const source = surface && playingLight(scene, request.lampId, surface);
  const none = { falloffStops: null, stepStopsPer10cm: null, hotEnd: null, meanLx: null, throwM: null };
  if (!surface || !source) {
    const reason = 'The lamp or the surface is gone.';
    return { ...none, isOffMirror: false, reason, dark: null, wanted: null };
  }
  const parts = flagParts(scene, request);
  const isOffMirror = source.image !== null;
  const patch = findPatch(scene, source, surface, 'full');
  if (typeof patch === 'string') return { ...none, isOffMirror, reason: NO_PATCH[patch], ...parts };
  const logOpen = patch.openLx.map(Math.log2);
  return {
    falloffStops: Math.max(0, trimmedSpread(logOpen, patch.areaM2)),
    stepStopsPer10cm: largestStep(patch)?.stopsPer10cm ?? null,
    hotEnd: hotEndOf(scene, surface, patch, logOpen).words,
    meanLx: source.level * patchMeanLx(patch),
    throwM: towardsSource(source, patch.centroid).distanceM,
    isOffMirror,
    reason: null,
    ...parts,
  };
}
