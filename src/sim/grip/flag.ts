/** A solid flag that keeps a lamp's light off a surface, or off the part of it beyond a line. */
import { worldFromLocal } from '../../scene/geometry/frames';
import type { Modifier, Point2, SceneDocument, Setup } from '../../scene/schema';
import { add, distance, scale, type Vec3 } from '../../scene/geometry/vector';
import type { LightSums, Region } from '../judgement/lightSums';
import { sumLight } from '../judgement/lightSums';
import { metres } from '../mends/words';
import type { CompiledScene, CompiledSource, CompiledSurface } from '../solve/compiled';
import { compileScene } from '../solve/compileScene';
import { flagCentre, placeFlag, rimOfEmitter, type FlagPlace } from './flagPlace';
import { fineLength, length, refused, type GripPlan } from './gripPlan';
import type { DarkPart, FlagRequest } from './gripRequest';
import { setupIn } from './stage';
import { flagsToHand } from './toHand';

/** Light fainter than this beside the lamp's brightest on the two parts counts as dark: ten stops under. */
const DARK_SHARE = 2 ** -10;
const ACROSS = 48;
const NEAREST_M = 0.1;
/** Room between flag and the nearest place that it shades, m. */
const CLEAR_M = 0.05;

/** Part of the surface that the request wants dark, and the rest of it; null where the line leaves nothing. */
export function partsOf(
  { bounds }: CompiledSurface,
  { side, lineM }: DarkPart,
): { dark: Region | null; rest: Region | null } {
  const { leftM, bottomM, widthM, heightM } = bounds;
  const box = (x0: number, x1: number, y0: number, y1: number): Region | null =>
    x1 - x0 < 1e-6 || y1 - y0 < 1e-6
      ? null
      : { leftM: leftM + x0, bottomM: bottomM + y0, widthM: x1 - x0, heightM: y1 - y0 };
  if (side === 'all') return { dark: box(0, widthM, 0, heightM), rest: null };
  const isAcross = side === 'left' || side === 'right';
  const line = Math.max(0, Math.min(isAcross ? widthM : heightM, lineM));
  const before = isAcross ? box(0, line, 0, heightM) : box(0, widthM, 0, line);
  const beyond = isAcross ? box(line, widthM, 0, heightM) : box(0, widthM, line, heightM);
  return side === 'right' || side === 'above' ? { dark: beyond, rest: before } : { dark: before, rest: beyond };
}

/** The region whose light is wanted; null for none. */
export function wantedPart(
  scene: CompiledScene,
  request: FlagRequest,
): { surface: CompiledSurface; region: Region } | null {
  const { dark, wantedSurfaceId } = request;
  const surface = scene.surfaces.get(wantedSurfaceId);
  if (!surface) return null;
  const region = wantedSurfaceId === dark.surfaceId ? partsOf(surface, dark).rest : surface.bounds;
  return region && { surface, region };
}

/** The lamp's light on part of a surface, cells of about the same size both ways. */
export function lightOnPart(
  scene: CompiledScene,
  source: CompiledSource,
  surface: CompiledSurface,
  region: Region,
  across = ACROSS,
): LightSums {
  const cell = Math.max(region.widthM, region.heightM) / across;
  const count = (size: number): number => Math.max(2, Math.round(size / cell));
  return sumLight(scene, source, surface, region, count(region.widthM), count(region.heightM));
}

const peakOf = ({ allLx }: LightSums): number => allLx.reduce((most, lux) => Math.max(most, lux), 0);

/** Corners of the cells that get more than `least`, world. */
function cornersLit(surface: CompiledSurface, sums: LightSums, least: number): Vec3[] {
  const { columns, cellWidthM, cellHeightM, xs, ys, allLx } = sums;
  const corners = new Map<string, Vec3>();
  allLx.forEach((lux, cell) => {
    if (lux <= least) return;
    const [column, row] = [cell % columns, Math.floor(cell / columns)];
    for (const [dx, dy] of [
      [0, 0],
      [1, 0],
      [0, 1],
      [1, 1],
    ] as const) {
      const key = `${column + dx} ${row + dy}`;
      if (corners.has(key)) continue;
      const at: Point2 = [xs[column]! + (dx - 0.5) * cellWidthM, ys[row]! + (dy - 0.5) * cellHeightM];
      corners.set(key, worldFromLocal(surface.frame, at));
    }
  });
  return [...corners.values()];
}

/** Straight borders of the dark part: the line, or the edges of the whole surface. */
function bordersOf({ frame, bounds }: CompiledSurface, { side }: DarkPart, dark: Region): (readonly [Vec3, Vec3])[] {
  const [x0, x1, y0, y1] = [dark.leftM, dark.leftM + dark.widthM, dark.bottomM, dark.bottomM + dark.heightM];
  const at = (x: number, y: number): Vec3 => worldFromLocal(frame, [x, y]);
  const edge = { right: x0, left: x1, above: y0, below: y1, all: bounds.leftM }[side];
  if (side === 'left' || side === 'right') return [[at(edge, y0), at(edge, y1)]];
  if (side === 'above' || side === 'below') return [[at(x0, edge), at(x1, edge)]];
  return [
    [at(x0, y0), at(x0, y1)],
    [at(x1, y0), at(x1, y1)],
    [at(x0, y0), at(x1, y0)],
    [at(x0, y1), at(x1, y1)],
  ];
}

interface Fitted {
  readonly widthM: number;
  readonly heightM: number;
  readonly kitId: string | null;
}
/** The smallest flag that covers the place, either way up; null for none. */
function fittingFlag(document: SceneDocument, setup: Setup, place: FlagPlace): Fitted | null {
  const [width, height] = [place.rightM - place.leftM, place.topM - place.bottomM];
  for (const { widthM, heightM, kitId } of flagsToHand(document, setup)) {
    if (widthM >= width && heightM >= height) return { widthM, heightM, kitId };
    if (heightM >= width && widthM >= height) return { widthM: heightM, heightM: widthM, kitId };
  }
  return null;
}

function freshName(setup: Setup): { id: string; name: string } {
  const names = new Set(Object.values(setup.modifiers).map(({ name }) => name));
  let count = 1;
  while (names.has(`Flag ${count}`) || Object.hasOwn(setup.modifiers, `flag-${count}`)) count += 1;
  return { id: `flag-${count}`, name: `Flag ${count}` };
}

/** The dark part and the wanted one as places that the lamp lights. */
function litPlaces(
  scene: CompiledScene,
  source: CompiledSource,
  request: FlagRequest,
): { dark: Vec3[]; wanted: Vec3[]; borders: (readonly [Vec3, Vec3])[] } | string {
  const surface = scene.surfaces.get(request.dark.surfaceId);
  const region = surface && partsOf(surface, request.dark).dark;
  if (!surface || !region) return 'Nothing of the surface lies beyond that line.';
  const sums = lightOnPart(scene, source, surface, region);
  const part = wantedPart(scene, request);
  const kept = part && lightOnPart(scene, source, part.surface, part.region);
  const least = Math.max(peakOf(sums), kept ? peakOf(kept) : 0) * DARK_SHARE;
  const dark = cornersLit(surface, sums, least);
  if (dark.length === 0) return 'The lamp’s light does not reach there: nothing to flag.';
  return {
    dark,
    wanted: part && kept ? cornersLit(part.surface, kept, least) : [],
    borders: bordersOf(surface, request.dark, region),
  };
}

/**
 * Puts a flag between the lamp and what must stay dark.
 * @throws {RangeError} if the setup does not exist
 * @remarks Light that arrives over a mirror, through diffusion or off a bounce goes its own way round the flag.
 */
export function planFlag(document: SceneDocument, setupId: string, request: FlagRequest): GripPlan {
  const setup = setupIn(document, setupId);
  const scene = compileScene(document, setupId);
  const source = scene.sources.find(({ id, image }) => id === request.lampId && image === null);
  if (source?.source.type !== 'lamp') return refused('The lamp is gone from this setup.');
  const lit = litPlaces(scene, source, request);
  if (typeof lit === 'string') return refused(lit);
  const lens = source.frame.origin;
  const nearest = Math.min(...lit.dark.map((place) => distance(place, lens)));
  if (request.distanceM < NEAREST_M || request.distanceM > nearest - CLEAR_M) {
    return refused(`The flag stands ${metres(NEAREST_M)} to ${metres(nearest - CLEAR_M)} from the lens.`);
  }
  const rim = request.edge === 'dark' ? rimOfEmitter(source) : [lens];
  const place = placeFlag(lens, rim, lit.dark, lit.wanted, lit.borders, request.distanceM);
  if (place === null) return refused('Part of what must be dark lies nearer to the lamp than the flag: bring it in.');
  const flag = fittingFlag(document, setup, place);
  if (flag === null) return refused(noFlagWords(document, setup, place));
  return flagged(setup, request, place, flag, lit.dark);
}

function noFlagWords(document: SceneDocument, setup: Setup, place: FlagPlace): string {
  const largest = flagsToHand(document, setup).at(-1);
  const size = (width: number, height: number): string => `${width.toFixed(2)} x ${height.toFixed(2)} m`;
  const has = largest ? `the largest free one is ${size(largest.widthM, largest.heightM)}` : 'the kit has none';
  return `It takes a flag of ${size(place.rightM - place.leftM, place.topM - place.bottomM)}; ${has}. Nearer to the lens a smaller one does.`;
}

function flagged(
  setup: Setup,
  request: FlagRequest,
  place: FlagPlace,
  { widthM, heightM, kitId }: Fitted,
  dark: readonly Vec3[],
): GripPlan {
  const [x, y, z] = flagCentre(place, widthM, heightM);
  const { id, name } = freshName(setup);
  const { panDeg, tiltDeg, rollDeg, cutSide, roomM } = place;
  const turned = Math.abs(rollDeg) < 1e-6 ? {} : { rollDeg };
  const modifier: Modifier = {
    name,
    pose: { positionM: [x, y, z], aim: { panDeg, tiltDeg, ...turned } },
    shape: { kind: 'rectangle', widthM, heightM },
    material: { kind: 'opaque' },
    ...(kitId === null ? {} : { kitId }),
  };
  const middle = scale(dark.reduce(add, [0, 0, 0] as Vec3), 1 / dark.length);
  const remarks = [`Its ${cutSide} edge, seen from the lamp, makes the cut.`];
  if (roomM < 0) remarks.push('The flag reaches into the wanted light: see what is lost.');
  return {
    ok: true,
    setup: { ...setup, modifiers: { ...setup.modifiers, [id]: modifier } },
    pieceIds: [id],
    remarks,
    facts: [
      fineLength('Flag, width', widthM),
      fineLength('Flag, height', heightM),
      length('Height of its middle', z),
      length('Flag to what stays dark', distance(middle, [x, y, z])),
    ],
  };
}
