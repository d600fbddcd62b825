/** Dimensions of the plan: where their ends lie now, how long they are, and whether what they are tied to is there. */
import type { Path, Problem } from './faults';
import { frameFromPose, worldFromLocal } from './geometry/frames';
import { openingRing, ringOf } from './invariants';
import { boundsOf } from './outlines';
import type { Point2, Point3, SceneDocument, Surface } from './schema';
import { DIMENSION_OFFSET_M, type Dimension, type DimensionEnd, type TiedEnd } from './schemaPlan';

/** Nearer than this the two ends are one, and nothing is measured. */
const LEAST_LENGTH_M = 0.001;

export const isTied = (end: DimensionEnd): end is TiedEnd => 'kind' in end;
const own = <T>(record: Readonly<Record<string, T>> | undefined, id: string): T | undefined =>
  record !== undefined && Object.hasOwn(record, id) ? record[id] : undefined;

/** A place along a surface: its left or right edge, or its middle; at the foot of what is measured there. */
function alongSurface(surface: Surface, leftM: number, rightM: number, side: TiedEnd['side']): Point3 {
  const right = side === 'left' ? leftM : side === 'right' ? rightM : (leftM + rightM) / 2;
  return worldFromLocal(frameFromPose(surface.pose), [right, 0]);
}

function tiedPointM(document: SceneDocument, setupId: string, end: TiedEnd): Point3 | null {
  const setup = document.setups.find(({ id }) => id === setupId);
  switch (end.kind) {
    case 'source': {
      const source = own(setup?.sources, end.id);
      return source?.type === 'lamp' ? source.pose.positionM : null;
    }
    case 'modifier':
      return own(setup?.modifiers, end.id)?.pose.positionM ?? null;
    case 'meter':
      return own(document.meters, end.id)?.positionM ?? null;
    case 'mark':
      return own(document.marks, end.id)?.positionM ?? null;
    case 'surface': {
      const surface = own(document.surfaces, end.id);
      if (!surface) return null;
      const { leftM, rightM } = boundsOf(ringOf(surface.shape));
      return alongSurface(surface, leftM, rightM, end.side);
    }
    case 'opening': {
      const surface = own(document.surfaces, end.surfaceId ?? '');
      const opening = own(surface?.openings, end.id);
      if (!surface || !opening) return null;
      const { leftM, rightM } = boundsOf(openingRing(opening));
      return alongSurface(surface, leftM, rightM, end.side);
    }
  }
}

/** World point of an end in a setup, metres; null where what it is tied to does not stand in this setup. */
export const endPointM = (document: SceneDocument, setupId: string, end: DimensionEnd): Point3 | null =>
  isTied(end) ? tiedPointM(document, setupId, end) : end.atM;

export interface MeasuredDimension {
  readonly fromM: Point3;
  readonly toM: Point3;
  /** On the plan: heights do not count. */
  readonly lengthM: number;
}
/** A dimension as it lies in a setup; null where one of its ends does not stand there. */
export function measured(document: SceneDocument, setupId: string, dimension: Dimension): MeasuredDimension | null {
  const fromM = endPointM(document, setupId, dimension.from);
  const toM = endPointM(document, setupId, dimension.to);
  if (!fromM || !toM) return null;
  return { fromM, toM, lengthM: Math.hypot(toM[0] - fromM[0], toM[1] - fromM[1]) };
}

/**
 * The drawn line of a dimension on the plan, metres: its two ends, `offsetM` to the left of what they measure; null where
 * there is nothing to measure.
 */
export function dimensionLine(
  document: SceneDocument,
  setupId: string,
  dimension: Dimension,
): { readonly from: Point2; readonly to: Point2; readonly lengthM: number } | null {
  const found = measured(document, setupId, dimension);
  if (!found || found.lengthM < LEAST_LENGTH_M) return null;
  const { fromM, toM, lengthM } = found;
  const offsetM = dimension.offsetM ?? DIMENSION_OFFSET_M;
  const [nx, ny] = [-(toM[1] - fromM[1]) / lengthM, (toM[0] - fromM[0]) / lengthM];
  return {
    from: [fromM[0] + nx * offsetM, fromM[1] + ny * offsetM],
    to: [toM[0] + nx * offsetM, toM[1] + ny * offsetM],
    lengthM,
  };
}

type Held = Pick<SceneDocument, 'surfaces' | 'meters' | 'setups'> & Partial<Pick<SceneDocument, 'marks'>>;
/** Whether an end is free, or tied to something that stands in at least one setup. */
export function isEndThere(document: Held, end: DimensionEnd): boolean {
  if (!isTied(end)) return true;
  switch (end.kind) {
    case 'source':
      return document.setups.some(({ sources }) => Object.hasOwn(sources, end.id));
    case 'modifier':
      return document.setups.some(({ modifiers }) => Object.hasOwn(modifiers, end.id));
    case 'opening':
      return own(own(document.surfaces, end.surfaceId ?? '')?.openings, end.id) !== undefined;
    case 'surface':
      return Object.hasOwn(document.surfaces, end.id);
    case 'meter':
      return Object.hasOwn(document.meters, end.id);
    case 'mark':
      return own(document.marks, end.id) !== undefined;
  }
}

/** Ends that are tied to nothing that is there. */
export function dimensionProblems(
  document: Held & { readonly dimensions?: Readonly<Record<string, Dimension>> | undefined },
): Problem[] {
  return Object.entries(document.dimensions ?? {}).flatMap(([id, dimension]) =>
    (['from', 'to'] as const).flatMap((key): Problem[] => {
      const end = dimension[key];
      if (isEndThere(document, end) || !isTied(end)) return [];
      const path: Path = ['dimensions', id, key, 'id'];
      return [{ path, found: `"${end.id}"`, expected: `the id of a ${end.kind} in the scene` }];
    }),
  );
}

/** The document without dimensions that have lost an end; the same document where none has. */
export function withoutLooseDimensions(document: SceneDocument): SceneDocument {
  const entries = Object.entries(document.dimensions ?? {});
  const kept = entries.filter(([, { from, to }]) => isEndThere(document, from) && isEndThere(document, to));
  return kept.length === entries.length ? document : { ...document, dimensions: Object.fromEntries(kept) };
}
