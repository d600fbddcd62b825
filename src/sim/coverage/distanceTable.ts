/** What a lamp or a group gives from distance to distance: every row is simulated with grip and walls. */
import { localFromWorld, toDegrees, worldFromLocal } from '../../scene/geometry/frames';
import { dot, normalise, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { SceneDocument } from '../../scene/schema';
import { fanDeg } from '../judgement/fan';
import { mayStand } from '../mends/space';
import type { CompiledScene, CompiledSource } from '../solve/compiled';
import { compileScene } from '../solve/compileScene';
import { footprintOf, type Footprint } from './closedForms';
import { coverageArea, solveArea, type CoverageArea, type Evenness, type SolvedArea } from './evenness';
import { BEAM_SHARE, FIELD_SHARE, halfAngleDeg } from './fieldAngle';
import { lampsAt, rigOf, sceneWithOnly, type Rig } from './rig';

export interface LampFootprint {
  readonly sourceId: string;
  /** At half the peak intensity, and at a tenth; null for light that has no such edge this side of the horizon. */
  readonly beam: Footprint | null;
  readonly field: Footprint | null;
}
export interface DistanceRow extends Evenness {
  readonly distanceM: number;
  /** Level at the middle of the area, lux. */
  readonly middleLx: number;
  /** Largest angle between arrival directions over the area, of the lamp with the widest; degrees. */
  readonly fanDeg: number;
  /** Place of the lamp; of a group the middle of its lamps. World metres. */
  readonly lampPosition: Vec3;
  readonly lampPositions: Readonly<Record<string, Vec3>>;
  readonly footprints: readonly LampFootprint[];
  /** False where the space drawn for lamps does not reach. */
  readonly inSpace: boolean;
}

/** A lamp or group against an area, ready to be moved. */
export interface Throw {
  readonly document: SceneDocument;
  readonly rig: Rig;
  readonly area: CoverageArea;
}
/** @throws {RangeError} as `rigOf` */
export function throwOf(document: SceneDocument, setupId: string, sourceId: string, surfaceId: string): Throw {
  return {
    document,
    rig: rigOf(document, setupId, sourceId, surfaceId),
    area: coverageArea(document, surfaceId),
  };
}

/** The corners of the area's box, world. */
function cornersOf(scene: CompiledScene, { surfaceId, request }: CoverageArea): Vec3[] {
  const { frame } = scene.surfaces.get(surfaceId)!;
  const { leftM, bottomM, widthM, heightM } = request.region!;
  const at = (right: number, up: number): Vec3 =>
    worldFromLocal(frame, [leftM + right * widthM, bottomM + up * heightM]);
  return [at(0, 0), at(1, 0), at(1, 1), at(0, 1)];
}

/** The lamps themselves, without what mirrors show of them. */
const ownSources = (scene: CompiledScene): CompiledSource[] => scene.sources.filter(({ image }) => image === null);
const fanOver = (source: CompiledSource, corners: readonly Vec3[]): number =>
  fanDeg(corners.map((corner) => normalise(subtract(source.frame.origin, corner))));

function footprintsOf(scene: CompiledScene, surfaceId: string): LampFootprint[] {
  const { frame } = scene.surfaces.get(surfaceId)!;
  return ownSources(scene).map((source) => {
    const { origin, forward } = source.frame;
    const cosine = -dot(forward, frame.forward);
    const { above } = localFromWorld(frame, origin);
    const edge = (halfDeg: number | null): Footprint | null =>
      halfDeg === null || halfDeg >= 90 || cosine <= 1e-6
        ? null
        : footprintOf(halfDeg, above / cosine, Math.min(89.999, toDegrees(Math.acos(Math.min(1, cosine)))));
    return {
      sourceId: source.id,
      beam: edge(halfAngleDeg(source, BEAM_SHARE)),
      field: edge(halfAngleDeg(source, FIELD_SHARE)),
    };
  });
}

/** Mean of the cells about the middle: one, two or four of them, so that the middle itself is read. */
function middleLx({ grid }: SolvedArea): number {
  const about = (count: number): number[] => (count % 2 === 1 ? [(count - 1) / 2] : [count / 2 - 1, count / 2]);
  const cells = about(grid.rows).flatMap((row) => about(grid.columns).map((column) => row * grid.columns + column));
  return cells.reduce((sum, cell) => sum + grid.illuminanceLx[cell]!, 0) / cells.length;
}

/**
 * The light of the rig's own lamps over the area with its throw at `distanceM`, at the lamps' levels; other lamps left out.
 * @throws {RangeError} if that is nearer than a lamp may come
 */
export function solveThrow(
  { document, rig, area }: Throw,
  distanceM: number,
): { readonly scene: CompiledScene; readonly solved: SolvedArea } {
  const scene = compileScene(sceneWithOnly(document, rig.setup, lampsAt(rig, distanceM)), rig.setup.id);
  return { scene, solved: solveArea(scene, area) };
}

/** One row of the table. @throws {RangeError} as `solveThrow` */
export function distanceRow(given: Throw, distanceM: number): DistanceRow {
  const { scene, solved } = solveThrow(given, distanceM);
  const corners = cornersOf(scene, given.area);
  const places = lampsAt(given.rig, distanceM).map(({ id, lamp }) => [id, lamp.pose.positionM] as const);
  const mean = (axis: 0 | 1 | 2): number => places.reduce((sum, [, place]) => sum + place[axis], 0) / places.length;
  return {
    ...solved.evenness,
    distanceM,
    middleLx: middleLx(solved),
    fanDeg: Math.max(...ownSources(scene).map((source) => fanOver(source, corners))),
    lampPosition: [mean(0), mean(1), mean(2)],
    lampPositions: Object.fromEntries(places),
    footprints: footprintsOf(scene, given.area.surfaceId),
    inSpace: places.every(([, place]) => mayStand(given.document, place)),
  };
}

/**
 * Distances from `fromM` to at most `toM`, `stepM` apart.
 * @throws {RangeError} if one is not a positive number, they run backwards, or there would be more than 2000
 */
export function distancesBetween(fromM: number, toM: number, stepM: number): number[] {
  if (!(fromM > 0 && toM >= fromM && stepM > 0 && Number.isFinite(toM / stepM))) {
    throw new RangeError(`distances from ${fromM} to ${toM} m by ${stepM} m`);
  }
  const count = Math.floor((toM - fromM) / stepM + 1e-9) + 1;
  if (count > 2000) throw new RangeError(`${count} distances are more than 2000`);
  // Rounded to a micrometre, so that 1.2 + 6 x 0.4 is 3.6.
  return Array.from({ length: count }, (_, i) => Math.round((fromM + i * stepM) * 1e6) / 1e6);
}
