/** A sheet without its renderer: what it shows, where the view is, and what lies under a point. */
import { localFromWorld, worldFromLocal } from '../scene/geometry/frames';
import type { Vec3 } from '../scene/geometry/vector';
import {
  fitCamera,
  panCamera,
  resizeCamera,
  screenFromSheet,
  sheetFromScreen,
  zoomCamera,
  type Camera,
  type Margins,
  type ScreenPoint,
  type SheetBounds,
} from './camera';
import type { FieldPicture, Hit, Sheet, SheetKind, SheetState } from './contract';
import { drawElevation, elevationBounds, elevationMargins } from './elevationSheet';
import { insideRings } from './geometry2d';
import { pickTarget } from './hitTest';
import type { MeasureText } from './labels';
import { isSmallSheet, Memo, type Picture, type SheetContext } from './picture';
import { readingLayer } from './drawThings';
import { isSameButReading, isSamePart } from './sameState';
import { drawPlan, planBounds, planMargins } from './planSheet';
import {
  elevationProjection,
  PLAN_PROJECTION,
  sectionProjection,
  sheetFromWorld,
  worldFromSheet,
  type Projection,
} from './projections';
import { createThingsCache, type SceneThings, type SurfaceThing } from './sceneThings';
import { drawSection, sectionBounds, sectionLamp, sectionMargins, sunBounds, sunCut } from './sectionSheet';
import { INKS } from './tokens';

type View = Pick<
  Sheet,
  'hitTest' | 'worldFromScreen' | 'screenFromWorld' | 'surfacePointAt' | 'panBy' | 'zoomAt' | 'fit' | 'metresPerPixel'
>;

export interface SheetModel extends View {
  setState(state: SheetState): void;
  resize(widthPx: number, heightPx: number): void;
  /** The picture of the present state; the same object while nothing changed. Null before the first state. */
  picture(): Picture | null;
  /** What the picture was drawn with has changed: lettering has new widths. */
  invalidate(): void;
  groundColour(): number;
  /** Levels of the present state. */
  field(): FieldPicture | null;
}

const START_CAMERA: Camera = { centre: { u: 0, v: 0 }, pixelsPerMetre: 50, widthPx: 600, heightPx: 400 };
const DRAW = { plan: drawPlan, elevation: drawElevation, section: drawSection } as const;

/** @param measure widths of lettering, CSS pixels */
export function createSheetModel(kind: SheetKind, measure: MeasureText): SheetModel {
  const memo = new Memo();
  const thingsOf = createThingsCache();
  let state: SheetState | null = null;
  let camera = START_CAMERA;
  let projection = PLAN_PROJECTION;
  let isMovedByHand = false;
  let fittedFor: readonly unknown[] = [];
  let drawn: Picture | null = null;
  let withReading: Picture | null = null;

  const things = (): SceneThings | null => (state ? thingsOf(state.document, state.setupId) : null);
  const change = (next: Camera): void => {
    camera = next;
    forget();
  };
  const forget = (): void => {
    drawn = null;
    withReading = null;
  };
  const refit = (): void => {
    const scene = things();
    if (!state || !scene) return;
    const context = { isSmall: isSmallSheet(camera.widthPx, camera.heightPx) };
    const bounds = boundsFor(kind, scene, state, projection);
    // Room for the legend is kept from the start: the levels arrive after the first fit.
    const withLegend = scene.surfaces.some((thing) => thing.isLevel && thing.id === state?.surfaceId);
    if (bounds) change(fitCamera(bounds, camera.widthPx, camera.heightPx, marginsFor(kind, context, withLegend)));
  };
  const isInView = (): boolean => {
    const scene = things();
    const bounds = state && scene && boundsFor(kind, scene, state, projection);
    if (!bounds) return true;
    const low = screenFromSheet(camera, { u: bounds.minU, v: bounds.minV });
    const high = screenFromSheet(camera, { u: bounds.maxU, v: bounds.maxV });
    return (
      Math.min(low.x, high.x) >= 0 &&
      Math.max(low.x, high.x) <= camera.widthPx &&
      Math.min(low.y, high.y) >= 0 &&
      Math.max(low.y, high.y) <= camera.heightPx
    );
  };
  const current = (): Picture | null => {
    const scene = things();
    if (withReading || !state || !scene) return withReading;
    const context: SheetContext = {
      state,
      camera,
      projection,
      things: scene,
      thingsFor: thingsOf,
      inks: INKS[state.theme],
      measure,
      memo,
      isSmall: isSmallSheet(camera.widthPx, camera.heightPx),
    };
    drawn ??= DRAW[kind](context);
    withReading = { ...drawn, layers: [...drawn.layers, readingLayer(context, drawn.mapRings ?? null)] };
    return withReading;
  };

  return {
    setState(next) {
      const before = state;
      state = next;
      if (before && isSameButReading(before, next)) {
        if (!isSamePart(before.reading, next.reading)) withReading = null;
        return;
      }
      forget();
      projection = memo.get('projection', projectionKey(kind, next), () => projectionFor(kind, next, thingsOf));
      const subject = fitSubject(kind, next, projection);
      const isNewSubject = subject.some((part, i) => !Object.is(part, fittedFor[i]));
      // Another setup, or a wall that was carried, may lie where the view does not reach.
      const isElsewhere =
        before !== null &&
        (before.setupId !== next.setupId || (kind === 'plan' && before.document.surfaces !== next.document.surfaces));
      const isLetGo = before?.ghost?.object.kind === 'surface' && !next.ghost;
      const isCutOff = (isElsewhere || isLetGo) && !next.ghost && !isMovedByHand && !isInView();
      // The view stays put under a drag, and where the user has moved it.
      if (isCutOff) refit();
      if (fittedFor.length === 0 || (isNewSubject && !next.ghost && (!isMovedByHand || subject[0] !== fittedFor[0]))) {
        fittedFor = subject;
        isMovedByHand = false;
        refit();
      }
    },
    resize(widthPx, heightPx) {
      if (widthPx === camera.widthPx && heightPx === camera.heightPx) return;
      change(resizeCamera(camera, widthPx, heightPx));
      if (!isMovedByHand) refit();
    },
    picture: current,
    invalidate: forget,
    field: () => state?.field ?? null,
    groundColour: () => INKS[state?.theme ?? 'dark'].sheet,
    hitTest: (screen, coarse): Hit | null => {
      const picture = current();
      return picture && pickTarget(picture.targets, screen.x, screen.y, coarse, picture.keptTargets);
    },
    worldFromScreen: (screen, through) => worldFromSheet(projection, sheetFromScreen(camera, screen), through),
    screenFromWorld: (world) => screenFromSheet(camera, sheetFromWorld(projection, world)),
    surfacePointAt: (screen) => {
      const scene = things();
      return state && scene ? surfacePoint(kind, scene, state, camera, screen) : null;
    },
    panBy(deltaX, deltaY) {
      isMovedByHand = true;
      change(panCamera(camera, deltaX, deltaY));
    },
    zoomAt(screen, factor) {
      isMovedByHand = true;
      change(zoomCamera(camera, screen, factor));
    },
    fit() {
      isMovedByHand = false;
      refit();
    },
    metresPerPixel: () => 1 / camera.pixelsPerMetre,
  };
}

function marginsFor(kind: SheetKind, context: { isSmall: boolean }, withLegend: boolean): Margins {
  if (kind === 'plan') return planMargins(context, withLegend);
  return kind === 'elevation' ? elevationMargins(context) : sectionMargins(context);
}

function boundsFor(
  kind: SheetKind,
  things: SceneThings,
  state: SheetState,
  projection: Projection,
): SheetBounds | null {
  if (kind === 'plan') return planBounds(things);
  if (kind === 'elevation') return elevationBounds(things.surfaces.find((thing) => thing.id === state.surfaceId));
  const lamp = sectionLamp(things, state.sourceId);
  if (projection.kind !== 'section') return null;
  return lamp ? sectionBounds(things, projection, lamp) : sunBounds(things, projection);
}

/** What a view is fitted to: another subject (first), or other walls round it, ask for another fit. */
function fitSubject(kind: SheetKind, state: SheetState, projection: Projection): readonly unknown[] {
  if (kind === 'plan') {
    // Ids, not shapes: a wall that is carried does not pull the view along.
    const idsOf = (record: object = {}): string => Object.keys(record).join();
    return [state.document.name, idsOf(state.document.surfaces), idsOf(state.document.pictures)];
  }
  if (kind === 'elevation')
    return [state.surfaceId, state.document.surfaces[state.surfaceId]?.shape, state.document.name];
  return [state.sourceId, projection, state.document.surfaces];
}

/** The document whose lamp a section is cut through: while it is dragged, the one from before, so that the cut stands still. */
const sectionDocument = (state: SheetState): SheetState['document'] => state.ghost?.document ?? state.document;

function projectionKey(kind: SheetKind, state: SheetState): readonly unknown[] {
  if (kind === 'plan') return [];
  if (kind === 'elevation') return [state.document.surfaces[state.surfaceId]?.pose];
  const setup = sectionDocument(state).setups.find((one) => one.id === state.setupId);
  const source = state.sourceId ? setup?.sources[state.sourceId] : undefined;
  return [source?.type === 'lamp' ? source.pose : setup?.sources];
}

function projectionFor(kind: SheetKind, state: SheetState, thingsOf: ReturnType<typeof createThingsCache>): Projection {
  if (kind === 'plan') return PLAN_PROJECTION;
  if (kind === 'elevation') {
    const surface = state.document.surfaces[state.surfaceId];
    return surface ? elevationProjection(surface.pose) : PLAN_PROJECTION;
  }
  const scene = thingsOf(sectionDocument(state), state.setupId);
  const lamp = sectionLamp(scene, state.sourceId);
  return lamp ? sectionProjection(lamp.lamp.pose) : (sunCut(scene) ?? PLAN_PROJECTION);
}

/** Point of the lit surface under a screen point: on the plan the solved floor, else the highest one that faces up. */
function surfacePoint(
  kind: SheetKind,
  things: SceneThings,
  state: SheetState,
  camera: Camera,
  screen: ScreenPoint,
): { surfaceId: string; atM: Vec3 } | null {
  const { u, v } = sheetFromScreen(camera, screen);
  const onSurface = (thing: SurfaceThing, right: number, up: number): boolean =>
    insideRings(thing.rings, right, up) && !thing.openings.some(({ ring }) => insideRings([ring], right, up));
  if (kind === 'section') return null;
  if (kind === 'elevation') {
    const thing = things.surfaces.find((one) => one.id === state.surfaceId);
    if (!thing || !onSurface(thing, u, v)) return null;
    return { surfaceId: thing.id, atM: worldFromLocal(thing.frame, [u, v]) };
  }
  const solved = state.field?.result.surfaceId;
  const floors = things.surfaces
    .filter((thing) => thing.isLevel && thing.frame.forward[2] > 0)
    .sort((a, b) => Number(b.id === solved) - Number(a.id === solved) || b.frame.origin[2] - a.frame.origin[2]);
  for (const thing of floors) {
    const world: Vec3 = [u, v, thing.frame.origin[2]];
    const { right, up } = localFromWorld(thing.frame, world);
    if (onSurface(thing, right, up)) return { surfaceId: thing.id, atM: world };
  }
  return null;
}
