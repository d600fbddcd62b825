/** What the screens hand to the three drawings, and what the drawings answer. The drawings read; they decide nothing. */
import type { SceneDocument } from '../scene/schema';
import type { Vec3 } from '../scene/geometry/vector';
import type { GridResult, SunCheck, SunFigure } from '../sim/results';

export type SheetKind = 'plan' | 'elevation' | 'section';
export type Quantity = 'illuminance' | 'stopsOff' | 'lampOverSun';
export type Theme = 'dark' | 'dim' | 'light';

/** A thing of the scene that can be pointed at. `surfaceId` is set for an opening: the wall that it pierces. */
export interface ObjectRef {
  readonly kind: 'source' | 'modifier' | 'surface' | 'opening' | 'meter' | 'mark' | 'camera' | 'picture' | 'dimension';
  readonly id: string;
  readonly surfaceId?: string;
}
/** body: the thing itself; aim: the point that its axis meets; turn: the stalk behind it; shutter: where one cuts. */
export type Handle = 'body' | 'aim' | 'turn' | 'shutter';
export interface Hit {
  readonly object: ObjectRef;
  readonly handle: Handle;
  /** Which shutter, by its place in the lamp's list, and where on the surface its handle lies. */
  readonly shutter?: { readonly index: number; readonly atM: Vec3 };
}

export interface FieldPicture {
  readonly result: GridResult;
  /** Same grid for the sun twin; needed for lampOverSun. */
  readonly sunIlluminanceLx?: Float32Array;
  /** Results older than the scene are drawn at 55 % under a hatch. */
  readonly outOfDate: boolean;
  readonly rough: boolean;
  /** Counts the shown scenes: which of them the levels belong to. */
  readonly revision: number;
}

/** Where a drag has come to rest: on a thing, level with one, or square to a wall; `word` says so beside the pointer. */
export interface SnapMark {
  readonly kind: 'on' | 'level' | 'square';
  readonly atM: Vec3;
  /** level: the thing it is level with; square: where the axis starts. */
  readonly otherM?: Vec3;
  readonly word: string;
}

export interface SheetState {
  readonly document: SceneDocument;
  readonly setupId: string;
  /** Elevation: the surface shown face-on. Plan: the surface whose levels lie on the floor plan. */
  readonly surfaceId: string;
  /** Section: the source whose axis is cut along. */
  readonly sourceId: string | null;
  readonly selection: ObjectRef | null;
  readonly hover: ObjectRef | null;
  readonly theme: Theme;
  readonly units: { readonly length: 'metres' | 'feet'; readonly illuminance: 'lux' | 'footcandles' };
  readonly field: FieldPicture | null;
  readonly quantity: Quantity;
  /** How well the shown levels are known, in words ("± 1 stop"); stands with the legend. */
  readonly levelBand?: string;
  /** Zero of "stops off", and the wedge of the legend. */
  readonly referenceLx: number;
  readonly checks: readonly SunCheck[];
  readonly checksOutOfDate: boolean;
  /** Figure of the judgement that is being explained: marked where it arises. */
  readonly figure: SunFigure | null;
  readonly showTwin: boolean;
  /** True: `field` holds the lamp's levels and the twin's side by side, so that no contour or callout of either fits it. */
  readonly isSwiped: boolean;
  readonly twinChecks: readonly SunCheck[];
  /** World point under the pointer or pinned, drawn as a cross. */
  readonly reading: { readonly atM: Vec3; readonly pinned: boolean } | null;
  /** While dragging: the place before, drawn at 40 %. */
  readonly ghost: { readonly object: ObjectRef; readonly document: SceneDocument } | null;
  readonly snaps: readonly SnapMark[];
  /** What is chosen beside the selection. */
  readonly also?: readonly ObjectRef[];
  /** The frame that is drawn round things to choose them, screen pixels. */
  readonly frame?: readonly [{ x: number; y: number }, { x: number; y: number }] | null;
  /** Plan: pictures under it by id, as far as they are unpacked. */
  readonly planPixels?: Readonly<Record<string, PlanPixels>>;
  /** Plan: corners that are being drawn, or a length that is being measured. */
  readonly drawing?: DrawingPicture | null;
}

/** A picture of a plan, unpacked: opaque RGBA, rows from the top. `image` is what it was unpacked from. */
export interface PlanPixels {
  readonly image: string;
  readonly bytes: Uint8Array;
  readonly columns: number;
  readonly rows: number;
}

export interface DrawingPicture {
  /** Plan metres. */
  readonly corners: readonly (readonly [x: number, y: number])[];
  readonly at: readonly [x: number, y: number] | null;
  /** An outline: the last corner is joined to the first. */
  readonly isArea: boolean;
}

/** One drawing on the page. Screen points are CSS pixels from the host's top left. */
export interface Sheet {
  readonly kind: SheetKind;
  /** Resolves when the first frame can be drawn; rejects if the browser gives no WebGL. */
  attach(host: HTMLElement): Promise<void>;
  update(state: SheetState): void;
  /** Topmost thing within the pointer's (or finger's) reach. */
  hitTest(screen: { x: number; y: number }, coarse: boolean): Hit | null;
  /** World point on the sheet's own plane through `through`: what a drag at that depth means. */
  worldFromScreen(screen: { x: number; y: number }, through: Vec3): Vec3;
  screenFromWorld(world: Vec3): { x: number; y: number };
  /** Point of the lit surface under the pointer, or null off the surface (plan: the floor; section: null). */
  surfacePointAt(screen: { x: number; y: number }): { readonly surfaceId: string; readonly atM: Vec3 } | null;
  panBy(deltaX: number, deltaY: number): void;
  zoomAt(screen: { x: number; y: number }, factor: number): void;
  fit(): void;
  metresPerPixel(): number;
  destroy(): void;
}
