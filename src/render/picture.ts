/** What a sheet shows at one moment: layers from the ground up, each kept until something it was drawn from changes. */
import type { SceneDocument } from '../scene/schema';
import type { SheetState } from './contract';
import type { Camera } from './camera';
import { screenFromSheet } from './camera';
import type { HitTarget, TargetLot } from './hitTest';
import type { Box } from './labelGrid';
import type { MeasureText } from './labels';
import { sheetFromWorld, type Projection } from './projections';
import type { SceneThings } from './sceneThings';
import type { RasterOp, ShapeOp, TextOp } from './sketch';
import type { Inks } from './tokens';
import type { Path, Shift } from './geometry2d';
import type { Vec3 } from '../scene/geometry/vector';

export interface Layer {
  readonly name: string;
  /** Where the layer lies on the sheet; at its corner if absent. */
  readonly shift?: Shift;
  readonly rasters: readonly RasterOp[];
  readonly shapes: readonly ShapeOp[];
  readonly texts: readonly TextOp[];
}
export interface Picture {
  readonly layers: readonly Layer[];
  readonly targets: readonly HitTarget[];
  /** More targets, placed for another view. */
  readonly keptTargets?: TargetLot;
  /** Where a heat map lies on the screen; lines change their inks there. */
  readonly mapRings?: readonly Path[] | null;
}

/** Keeps each value until one of the things it was made from is another (compared by identity). */
export class Memo {
  private readonly kept = new Map<string, { deps: readonly unknown[]; value: unknown }>();

  /** Puts another value in the place of the one kept. */
  renew<T>(name: string, deps: readonly unknown[], value: T): T {
    this.kept.set(name, { deps, value });
    return value;
  }

  get<T>(name: string, deps: readonly unknown[], make: () => T): T {
    const old = this.kept.get(name);
    if (old && old.deps.length === deps.length && old.deps.every((dep, i) => Object.is(dep, deps[i]))) {
      return old.value as T;
    }
    const value = make();
    this.kept.set(name, { deps, value });
    return value;
  }
}

/** Everything that the drawing code of a sheet reads. */
export interface SheetContext {
  readonly state: SheetState;
  readonly camera: Camera;
  readonly projection: Projection;
  readonly things: SceneThings;
  /** Things of another document, for the place before a drag. */
  readonly thingsFor: (document: SceneDocument, setupId: string) => SceneThings;
  readonly inks: Inks;
  readonly measure: MeasureText;
  readonly memo: Memo;
  /** A strip beside the front sheet: geometry and unit numbers only. */
  readonly isSmall: boolean;
}

/**
 * What a layer that is kept over shifts of the view draws: as much beside the sheet as the sheet is large, in the pixels of
 * the view that it is drawn for.
 */
export const keptBox = ({ widthPx, heightPx }: Camera): Box => ({
  left: -widthPx,
  top: -heightPx,
  right: 2 * widthPx,
  bottom: 2 * heightPx,
});

const SMALL_WIDTH_PX = 360;
const SMALL_HEIGHT_PX = 210;
export const isSmallSheet = (widthPx: number, heightPx: number): boolean =>
  widthPx < SMALL_WIDTH_PX || heightPx < SMALL_HEIGHT_PX;

/** Screen point of a world point, CSS pixels. */
export function toScreen(context: SheetContext, world: Vec3): readonly [x: number, y: number] {
  const { x, y } = screenFromSheet(context.camera, sheetFromWorld(context.projection, world));
  return [x, y];
}

/** A path of sheet metres on the screen. */
export function pathToScreen(camera: Camera, path: Path): number[] {
  const placed: number[] = [];
  for (let i = 0; i < path.length; i += 2) {
    const { x, y } = screenFromSheet(camera, { u: path[i]!, v: path[i + 1]! });
    placed.push(x, y);
  }
  return placed;
}

export const shapesLayer = (name: string, shapes: readonly ShapeOp[], texts: readonly TextOp[] = []): Layer => ({
  name,
  rasters: [],
  shapes,
  texts,
});
