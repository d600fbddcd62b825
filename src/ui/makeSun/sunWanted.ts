/** What the form asks for: the sun that is wanted, where from, with what; as a request, and what becomes of its answer. */
import type { Command, SingleCommand } from '../../scene/commands';
import type { SceneDocument, Setup, Story } from '../../scene/schema';
import { sunPosition } from '../../sim/photometry/sunPosition';
import { USUAL_OVER_KEY_STOPS } from '../../sim/mends/situation';
import type { Placement } from '../../sim/place/placeAnswer';
import type { PlaceRequest } from '../../sim/place/placeRequest';

export interface SunWanted {
  readonly surfaceId: string;
  /** "surface/opening". */
  readonly openingId: string;
  /** Hour of the story's day; null where altitude and azimuth are typed. */
  readonly clock: string | null;
  readonly altitudeDeg: number;
  readonly azimuthDeg: number;
  readonly farthestM: number;
  readonly highestLensM: number | null;
  readonly kitIds: readonly string[];
  readonly iso: number;
  readonly tStop: number;
  readonly overKeyStops: number;
  readonly nets: boolean;
}

const USUAL_SUN = { altitudeDeg: 20, azimuthDeg: 225 };
const USUAL_FARTHEST_M = 7;

export interface Named {
  readonly value: string;
  readonly name: string;
}
/** Windows that light can come through, by "surface/opening". */
export const windowsOf = ({ surfaces }: SceneDocument): Named[] =>
  Object.entries(surfaces).flatMap(([surfaceId, { name, openings = {} }]) =>
    Object.keys(openings).map((id) => ({
      value: `${surfaceId}/${id}`,
      name: `${name}, ${id.replace(/-/g, ' ')}`,
    })),
  );
/** Lamps of the kit, free or not. */
export const lampsOf = ({ kit = {} }: SceneDocument): Named[] =>
  Object.entries(kit).flatMap(([value, { kind, lamp, name }]) => (kind === 'lamp' && lamp ? [{ value, name }] : []));

/** Where the sun stands at an hour of the story's day; null where the story says no place, day or clock zone. */
export function sunAtHour(story: Story | undefined, clock: string): { altitudeDeg: number; azimuthDeg: number } | null {
  const { place, date, utcOffsetHours, pressureHPa, temperatureC } = story ?? {};
  if (!place || date === undefined || utcOffsetHours === undefined) return null;
  const { altitudeDeg, azimuthDeg } = sunPosition({
    latitudeDeg: place.latitudeDeg,
    longitudeDeg: place.longitudeDeg,
    date,
    clock,
    utcOffsetHours,
    ...(pressureHPa === undefined ? {} : { pressureHPa }),
    ...(temperatureC === undefined ? {} : { temperatureC }),
  });
  return { altitudeDeg, azimuthDeg };
}

/** The form as it opens: the story's sun, the wall that is shown, all that the kit has. */
export function firstWanted(scene: SceneDocument, surfaceId: string | null): SunWanted {
  const { story, camera } = scene;
  const windows = windowsOf(scene);
  const playing = story?.playsSun?.find((pair) => scene.surfaces[pair.surfaceId])?.surfaceId;
  const sun = story?.sun ?? USUAL_SUN;
  const hour = story?.clock !== undefined && sunAtHour(story, story.clock) !== null ? story.clock : null;
  return {
    surfaceId: surfaceId ?? playing ?? Object.keys(scene.surfaces)[0] ?? '',
    openingId: windows[0]?.value ?? '',
    clock: hour,
    ...sun,
    farthestM: USUAL_FARTHEST_M,
    highestLensM: null,
    kitIds: lampsOf(scene).map(({ value }) => value),
    iso: camera.iso,
    tStop: camera.tStop,
    overKeyStops: story?.targetOverKeyStops ?? USUAL_OVER_KEY_STOPS,
    nets: true,
  };
}

export function requestOf(document: SceneDocument, setupId: string, wanted: SunWanted): PlaceRequest {
  const { surfaceId, openingId, farthestM, kitIds, overKeyStops, nets, altitudeDeg, azimuthDeg, iso, tStop } = wanted;
  const ownCamera = iso === document.camera.iso && tStop === document.camera.tStop;
  return {
    document,
    setupId,
    surfaceId,
    openingId,
    farthestM,
    sun: { altitudeDeg, azimuthDeg },
    ...(wanted.highestLensM === null ? {} : { highestLensM: wanted.highestLensM }),
    kitIds,
    // The scene's own key counts as long as nobody asks for another camera.
    ...(ownCamera ? {} : { camera: { iso, tStop } }),
    overKeyStops,
    nets,
  };
}

/** What of the scene, beside the new setup, has to change for the answer to hold: shared by all setups. */
export function sharedChanges(scene: SceneDocument, { sun, camera }: PlaceRequest): string[] {
  const own = scene.story?.sun;
  const isOwnSun = sun === undefined || (own?.altitudeDeg === sun.altitudeDeg && own.azimuthDeg === sun.azimuthDeg);
  return [...(isOwnSun ? [] : ['the story’s sun']), ...(camera === undefined ? [] : ['the camera'])];
}

/** The answer's rig as a setup of its own, playing the sun, with the sun and the camera that were asked for. */
export function placementCommand(
  scene: SceneDocument,
  request: PlaceRequest,
  placement: Placement,
  made: { readonly id: string; readonly name: string; readonly notes: string; readonly index: number },
): Command {
  const { id, name, notes, index } = made;
  const setup: Setup = { ...placement.setup, id, name, notes };
  const pair = { sourceId: placement.lampId, surfaceId: request.surfaceId };
  const playing = scene.story?.playsSun ?? [];
  const isPlaying = playing.some((one) => one.sourceId === pair.sourceId && one.surfaceId === pair.surfaceId);
  const shared = sharedChanges(scene, request);
  const story = {
    ...(isPlaying ? {} : { playsSun: [...playing, pair] }),
    ...(request.sun && shared.includes('the story’s sun') ? { sun: { ...request.sun } } : {}),
  };
  const commands: SingleCommand[] = [{ type: 'addSetup', setup, index }];
  if (Object.keys(story).length > 0) commands.push({ type: 'patchScene', part: 'story', fields: story });
  if (request.camera) commands.push({ type: 'patchScene', part: 'camera', fields: { ...request.camera } });
  return { type: 'sequence', label: `Make a sun: ${placement.lampName}`, commands };
}
