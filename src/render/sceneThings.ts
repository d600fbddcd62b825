/** What of a scene the drawings show, with frames worked out once per document: shared by the three sheets. */
import type {
  Lamp,
  Meter,
  Modifier,
  Point2,
  SceneDocument,
  Setup,
  Sun,
  Surface,
  Opening,
  Camera as SceneCamera,
} from '../scene/schema';
import { directionToSun, frameFromPose, panTiltFromAim, worldFromLocal, type Frame } from '../scene/geometry/frames';
import { distance, type Vec3 } from '../scene/geometry/vector';
import { modifierOutline, openingOutline, surfaceOutline } from '../sim/solve/shapes';
import type { Path } from './geometry2d';

/** A ball that holds a thing whole: what does not touch it cannot touch the thing. */
export interface Ball {
  readonly middle: Vec3;
  readonly radiusM: number;
}
export interface OpeningThing {
  readonly id: string;
  readonly opening: Opening;
  /** Outline in the wall's right/up metres. */
  readonly ring: Path;
  readonly leftM: number;
  readonly rightM: number;
  readonly sillM: number;
  readonly headM: number;
}
export interface SurfaceThing {
  readonly id: string;
  readonly surface: Surface;
  readonly frame: Frame;
  /** Outline and holes in right/up metres. */
  readonly rings: readonly Path[];
  readonly thicknessM: number;
  readonly openings: readonly OpeningThing[];
  readonly isUpright: boolean;
  readonly isLevel: boolean;
  readonly ball: Ball;
}
export interface LampThing {
  readonly id: string;
  readonly lamp: Lamp;
  readonly frame: Frame;
  readonly panDeg: number;
  readonly tiltDeg: number;
  readonly isLit: boolean;
}
export interface SunThing {
  readonly id: string;
  readonly sun: Sun;
  /** Unit vector towards the sun. */
  readonly towards: Vec3;
}
export interface ModifierThing {
  readonly id: string;
  readonly modifier: Modifier;
  readonly frame: Frame;
  readonly rings: readonly Path[];
  readonly corners: readonly Vec3[];
  readonly ball: Ball;
}
export interface MeterThing {
  readonly id: string;
  readonly meter: Meter;
  readonly facing: Vec3;
}
export interface SceneThings {
  readonly document: SceneDocument;
  readonly surfaces: readonly SurfaceThing[];
  readonly lamps: readonly LampThing[];
  readonly suns: readonly SunThing[];
  readonly modifiers: readonly ModifierThing[];
  readonly meters: readonly MeterThing[];
  readonly camera: { readonly camera: SceneCamera; readonly frame: Frame } | null;
  /** Direction to the story's sun, if the story names one or a real sun stands in the set-up. */
  readonly storySun: { readonly towards: Vec3; readonly altitudeDeg: number } | null;
}

const flat = (points: readonly Point2[]): number[] => points.flatMap(([x, y]) => [x, y]);

const ROUNDING_M = 1e-6;

function ballAround(points: readonly Vec3[]): Ball {
  const mean = (axis: 0 | 1 | 2): number => points.reduce((sum, point) => sum + point[axis], 0) / points.length;
  const middle: Vec3 = [mean(0), mean(1), mean(2)];
  return { middle, radiusM: Math.max(...points.map((point) => distance(point, middle))) + ROUNDING_M };
}

function surfaceThing(id: string, surface: Surface): SurfaceThing {
  const frame = frameFromPose(surface.pose);
  const shape = surfaceOutline(surface.shape);
  const thicknessM = surface.thicknessM ?? 0;
  const faces = [0, thicknessM].flatMap((depthM) =>
    shape.outline.map((corner) => worldFromLocal(frame, corner, depthM)),
  );
  return {
    id,
    surface,
    frame,
    ball: ballAround(faces),
    rings: [flat(shape.outline), ...shape.holes.map(flat)],
    thicknessM,
    openings: Object.entries(surface.openings ?? {}).map(([openingId, opening]) => openingThing(openingId, opening)),
    isUpright: Math.abs(frame.forward[2]) < 0.05,
    isLevel: Math.abs(frame.forward[2]) > 0.995,
  };
}

function openingThing(id: string, opening: Opening): OpeningThing {
  const ring = flat(openingOutline(opening));
  const rights = ring.filter((_, i) => i % 2 === 0);
  const ups = ring.filter((_, i) => i % 2 === 1);
  return {
    id,
    opening,
    ring,
    leftM: Math.min(...rights),
    rightM: Math.max(...rights),
    sillM: Math.min(...ups),
    headM: Math.max(...ups),
  };
}

function modifierThing(id: string, modifier: Modifier): ModifierThing {
  const frame = frameFromPose(modifier.pose);
  const shape = modifierOutline(modifier.shape);
  const corners = shape.outline.map((corner) => worldFromLocal(frame, corner));
  return {
    id,
    modifier,
    frame,
    rings: [flat(shape.outline), ...shape.holes.map(flat)],
    corners,
    ball: ballAround(corners),
  };
}

function lampThing(id: string, lamp: Lamp): LampThing {
  const { panDeg, tiltDeg } = panTiltFromAim(lamp.pose.aim, lamp.pose.positionM);
  const isLit = lamp.off !== true && (lamp.level ?? 1) > 0;
  return { id, lamp, frame: frameFromPose(lamp.pose), panDeg, tiltDeg, isLit };
}

const meterThing = (id: string, meter: Meter): MeterThing => ({
  id,
  meter,
  facing: frameFromPose({ positionM: meter.positionM, aim: meter.aim }).forward,
});

function storySunOf(document: SceneDocument, suns: readonly SunThing[]): SceneThings['storySun'] {
  const told = document.story?.sun;
  if (told) {
    const towards = directionToSun(told.altitudeDeg, told.azimuthDeg, document.northDeg ?? 0);
    return { towards, altitudeDeg: told.altitudeDeg };
  }
  const real = suns[0];
  return real ? { towards: real.towards, altitudeDeg: real.sun.altitudeDeg } : null;
}

const shown = <T extends { hidden?: boolean | undefined }>(record: Readonly<Record<string, T>>): [string, T][] =>
  Object.entries(record).filter(([, thing]) => thing.hidden !== true);

/** The same things for the same surfaces: a drag of a lamp leaves the walls and all that is drawn from them alone. */
const surfacesKept = new WeakMap<SceneDocument['surfaces'], readonly SurfaceThing[]>();

function surfaceThings(surfaces: SceneDocument['surfaces']): readonly SurfaceThing[] {
  const kept = surfacesKept.get(surfaces) ?? shown(surfaces).map(([id, surface]) => surfaceThing(id, surface));
  surfacesKept.set(surfaces, kept);
  return kept;
}

/** The same drawable thing for the same part of the document: what did not change keeps all that was worked out from it. */
function keeping<P extends object, T extends { readonly id: string }>(
  make: (id: string, part: P) => T,
): (entry: readonly [id: string, part: P]) => T {
  const kept = new WeakMap<P, T>();
  return ([id, part]) => {
    const known = kept.get(part);
    if (known?.id === id) return known;
    const made = make(id, part);
    kept.set(part, made);
    return made;
  };
}
const keptLamp = keeping(lampThing);
const keptModifier = keeping(modifierThing);
const keptMeter = keeping(meterThing);

/** Everything drawable of one set-up; hidden things are left out. */
export function thingsOf(document: SceneDocument, setup: Setup): SceneThings {
  const sources = shown(setup.sources);
  const suns = sources.flatMap(([id, source]) =>
    source.type === 'sun'
      ? [{ id, sun: source, towards: directionToSun(source.altitudeDeg, source.azimuthDeg, document.northDeg ?? 0) }]
      : [],
  );
  return {
    document,
    surfaces: surfaceThings(document.surfaces),
    lamps: sources.flatMap(([id, source]) => (source.type === 'lamp' ? [keptLamp([id, source])] : [])),
    suns,
    modifiers: shown(setup.modifiers).map(keptModifier),
    meters: shown(document.meters).map(keptMeter),
    camera: document.camera.pose ? { camera: document.camera, frame: frameFromPose(document.camera.pose) } : null,
    storySun: storySunOf(document, suns),
  };
}

/** Same answer for the same document and set-up, without working it out again. */
export function createThingsCache(): (document: SceneDocument, setupId: string) => SceneThings {
  const kept = new WeakMap<SceneDocument, Map<string, SceneThings>>();
  return (document, setupId) => {
    const setup = document.setups.find((one) => one.id === setupId) ?? document.setups[0]!;
    const bySetup = kept.get(document) ?? new Map<string, SceneThings>();
    kept.set(document, bySetup);
    const things = bySetup.get(setup.id) ?? thingsOf(document, setup);
    bySetup.set(setup.id, things);
    return things;
  };
}
