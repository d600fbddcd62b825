/** The other way round: what is asked when a sun is wanted and the lamp is still on the truck. */
import type { KitEntry, Lamp, SceneDocument, Setup } from '../../scene/schema';
import { directionToSun } from '../../scene/geometry/frames';
import { add, addScaled, dot, scale, type Vec3 } from '../../scene/geometry/vector';
import { MID_GREY_REFLECTANCE } from '../exposure/exposure';
import { ASSUMED_REFLECTANCE, keyLx } from '../judgement/levels';
import type { CompiledOpening, CompiledScene, CompiledSurface } from '../solve/compiled';
import { compileScene } from '../solve/compileScene';
import { USUAL_OVER_KEY_STOPS } from '../mends/situation';

export interface PlaceRequest {
  readonly document: SceneDocument;
  /** Setup that the lamp joins; lamps that play the sun on the surface, and real suns, are taken out of it. */
  readonly setupId: string;
  readonly surfaceId: string;
  /** "surface/opening" that the light comes through. */
  readonly openingId: string;
  /** Greatest distance of the lens from the middle of the opening, m. */
  readonly farthestM: number;
  /** The story's sun if absent. */
  readonly sun?: { readonly altitudeDeg: number; readonly azimuthDeg: number };
  /** Greatest height of the lens over the ground under it, m; no limit if absent. */
  readonly highestLensM?: number;
  /** Lamps of the kit by id; all that are free if absent. */
  readonly kitIds?: readonly string[];
  /** In place of the scene's own; then the camera alone sets key. */
  readonly camera?: { readonly iso?: number; readonly tStop?: number };
  /** Level of the patch over key; the story's target if absent. */
  readonly overKeyStops?: number;
  /** Also look for nets of the kit; true if absent. */
  readonly nets?: boolean;
}

/** A lamp of the kit that is free. */
export interface LampChoice {
  readonly kitId: string;
  readonly name: string;
  readonly lamp: Omit<Lamp, 'pose'>;
}

/** The request made ready: the setup without its suns, the light's way in, the level that is needed. */
export interface PlaceTask {
  readonly request: PlaceRequest;
  readonly document: SceneDocument;
  readonly setup: Setup;
  readonly lampId: string;
  readonly lamps: readonly LampChoice[];
  readonly scene: CompiledScene;
  readonly opening: CompiledOpening;
  readonly surface: CompiledSurface;
  /** Middle of the opening, half way through its wall. */
  readonly pivot: Vec3;
  readonly sun: { readonly altitudeDeg: number; readonly azimuthDeg: number };
  /** Mean illuminance that the lamp owes the patch, lx, and the stops over key behind it. */
  readonly neededLx: number;
  readonly overKeyStops: number;
}

export const PLACED_NAME = 'Sun lamp';

function freeLamps({ kit = {} }: SceneDocument, setup: Setup, kitIds: readonly string[] | undefined): LampChoice[] {
  const inUse = (kitId: string): number =>
    Object.values(setup.sources).filter((source) => source.type === 'lamp' && source.kitId === kitId).length;
  const choice = (kitId: string, entry: KitEntry): LampChoice[] => {
    if (!entry.lamp || entry.count - inUse(kitId) <= 0) return [];
    const lamp = { ...entry.lamp, type: 'lamp' as const, name: PLACED_NAME, unit: entry.name, kitId };
    return [{ kitId, name: entry.name, lamp }];
  };
  return Object.entries(kit).flatMap(([kitId, entry]) =>
    kitIds === undefined || kitIds.includes(kitId) ? choice(kitId, entry) : [],
  );
}

/** The setup without real suns and without the lamps that play the sun on the surface. */
function emptied(document: SceneDocument, setup: Setup, surfaceId: string): Setup {
  const playing = (document.story?.playsSun ?? []).filter((pair) => pair.surfaceId === surfaceId);
  const gone = new Set(playing.map(({ sourceId }) => sourceId));
  const kept = Object.entries(setup.sources).filter(([id, { type }]) => type !== 'sun' && !gone.has(id));
  return { ...setup, sources: Object.fromEntries(kept) };
}

function freeId(setup: Setup): string {
  for (let i = 1; ; i++) {
    const id = i === 1 ? 'sun-lamp' : `sun-lamp-${i}`;
    if (!Object.hasOwn(setup.sources, id)) return id;
  }
}

/** The scene as it is asked about: its one setup emptied, its sun, camera and target those of the request. */
function askedScene(request: PlaceRequest, setup: Setup, lampId: string): SceneDocument {
  const { document, surfaceId, sun, camera, overKeyStops } = request;
  const { keyLx: typedKey, keyMeterId, ...story } = document.story ?? {};
  const key = { ...(typedKey === undefined ? {} : { keyLx: typedKey }), ...(keyMeterId ? { keyMeterId } : {}) };
  return {
    ...document,
    camera: { ...document.camera, ...camera },
    story: {
      ...story,
      ...(camera === undefined ? key : {}),
      ...(sun === undefined ? {} : { sun }),
      ...(overKeyStops === undefined ? {} : { targetOverKeyStops: overKeyStops }),
      playsSun: [{ sourceId: lampId, surfaceId }],
    },
    setups: [setup],
  };
}

/**
 * @returns the task; a sentence where the sun itself cannot come this way, or there is nothing to place
 * @throws {RangeError} if setup, surface or opening do not exist
 */
export function placeTask(request: PlaceRequest): PlaceTask | string {
  const { surfaceId, openingId } = request;
  const asked = request.document.setups.find(({ id }) => id === request.setupId);
  if (!asked) throw new RangeError(`no setup "${request.setupId}" in this scene`);
  const setup = emptied(request.document, asked, surfaceId);
  const lampId = freeId(setup);
  const document = askedScene(request, setup, lampId);
  const scene = compileScene(document, setup.id);
  const surface = scene.surfaces.get(surfaceId);
  const opening = scene.openings.find(({ id }) => id === openingId);
  if (!surface) throw new RangeError(`no surface "${surfaceId}" in this scene`);
  if (!opening) throw new RangeError(`no opening "${openingId}" in this scene`);
  const sun = document.story?.sun;
  if (!sun) return 'The story has no sun: type its altitude and azimuth.';
  if (sun.altitudeDeg <= 0) return 'The story’s sun is below the horizon.';
  const towards = directionToSun(sun.altitudeDeg, sun.azimuthDeg, document.northDeg ?? 0);
  if (dot(towards, opening.frame.forward) >= 0) {
    return 'The story’s sun stands on the room’s side of this window: none of it comes in.';
  }
  if (dot(towards, surface.frame.forward) <= 0) return 'The story’s sun stands behind this surface.';
  const lamps = freeLamps(document, setup, request.kitIds);
  if (lamps.length === 0) return 'The kit has no lamp free.';
  const middle = scale(opening.corners.reduce(add, [0, 0, 0] as Vec3), 1 / opening.corners.length);
  const thicknessM = document.surfaces[opening.surfaceId]?.thicknessM ?? 0;
  const overKeyStops = document.story?.targetOverKeyStops ?? USUAL_OVER_KEY_STOPS;
  const reflectance = document.surfaces[surfaceId]?.reflectance ?? ASSUMED_REFLECTANCE;
  const wantedLx = (MID_GREY_REFLECTANCE * keyLx(scene) * 2 ** overKeyStops) / Math.max(1e-3, reflectance);
  return {
    request,
    document,
    setup,
    lampId,
    lamps,
    scene,
    opening,
    surface,
    pivot: addScaled(middle, opening.frame.forward, -thicknessM / 2),
    sun,
    neededLx: Math.max(0, wantedLx - (document.story?.ambienceLx ?? 0)),
    overKeyStops,
  };
}
