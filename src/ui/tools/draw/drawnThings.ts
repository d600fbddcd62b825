/** From corners on the plan to the command that puts walls, planes, floors, openings or marks there. */
import type { Command, SingleCommand } from '../../../scene/commands';
import { toDegrees } from '../../../scene/geometry/frames';
import type { Opening, Point2, SceneDocument, Surface } from '../../../scene/schema';
import { openingRing, ringOf } from '../../../scene/invariants';
import { boundsOf } from '../../../scene/outlines';
import { isAreaKind, type DrawKind, type Made } from './drawing';
import { freshLabels, type Labels } from './ids';

/** What a drawn thing has besides its corners. Lengths in metres. */
export interface DrawSettings {
  readonly heightM: number;
  readonly thicknessM: number;
  /** Lit side of walls: inside the corner or, along a straight line, on the right of its direction. */
  readonly isTurned: boolean;
  readonly withFloor: boolean;
  /** Height above the ground of a table top, a ceiling or a plane. */
  readonly levelM: number;
  readonly openingWidthM: number;
  readonly openingHeightM: number;
  readonly sillM: number;
}
export const FIRST_SETTINGS: DrawSettings = {
  heightM: 3,
  thicknessM: 0.2,
  isTurned: false,
  withFloor: true,
  levelM: 0,
  openingWidthM: 1.2,
  openingHeightM: 1.5,
  sillM: 0.9,
};

export type Drawn = { readonly ok: true; readonly command: Command } | { readonly ok: false; readonly fault: string };
const fault = (words: string): Drawn => ({ ok: false, fault: words });

/** Twice the area inside the corners; above 0 where they run anti-clockwise. */
export function doubleArea(corners: readonly Point2[]): number {
  return corners.reduce((sum, [x, y], index) => {
    const [nextX, nextY] = corners[(index + 1) % corners.length]!;
    return sum + x * nextY - nextX * y;
  }, 0);
}

const plain = (value: number): number => Number(value.toFixed(9)) + 0;

/** An upright rectangle over the stretch from `a` to `b`, facing left or right of that direction. */
export function uprightSurface(
  [a, b]: readonly [Point2, Point2],
  facesLeft: boolean,
  heightM: number,
): Pick<Surface, 'pose' | 'shape'> {
  const widthM = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const turn = facesLeft ? 1 : -1;
  const [nx, ny] = [(-turn * (b[1] - a[1])) / widthM, (turn * (b[0] - a[0])) / widthM];
  // Seen from the lit side, right runs from its lower left corner: back along a stretch whose left side is lit.
  const [x, y] = facesLeft ? b : a;
  return {
    pose: { positionM: [plain(x), plain(y), 0], aim: { panDeg: plain(toDegrees(Math.atan2(nx, ny))), tiltDeg: 0 } },
    shape: { kind: 'rectangle', widthM: plain(widthM), heightM },
  };
}

/** A level surface over the corners; ceilings and lamps' ceilings look down, the rest look up. */
function levelSurface(corners: readonly Point2[], levelM: number, looksDown: boolean): Pick<Surface, 'pose' | 'shape'> {
  const left = Math.min(...corners.map(([x]) => x));
  const low = Math.min(...corners.map(([, y]) => y));
  const far = Math.max(...corners.map(([, y]) => y));
  // Looking up at a ceiling that faces pan 180, right is +x and up is -y: its lower left corner lies far on the plan.
  const outlineM = corners.map(([x, y]): [number, number] => [plain(x - left), plain(looksDown ? far - y : y - low)]);
  return {
    pose: {
      positionM: [plain(left), plain(looksDown ? far : low), levelM],
      aim: { panDeg: 180, tiltDeg: looksDown ? -90 : 90 },
    },
    shape: { kind: 'polygon', outlineM },
  };
}

const stretches = ({ corners, isClosed }: Made): [Point2, Point2][] =>
  corners.flatMap((corner, index): [Point2, Point2][] => {
    const next = corners[index + 1] ?? (isClosed ? corners[0] : undefined);
    return next ? [[corner, next]] : [];
  });

const add = (id: string, value: Surface): SingleCommand => ({ type: 'add', at: { kind: 'surface', id }, value });

function uprights(kind: DrawKind, made: Made, settings: DrawSettings, labels: Labels): SingleCommand[] {
  // A corner turns one way: its inside is lit. A straight line is lit on its right.
  const isAnticlockwise = doubleArea(made.corners) > 1e-9;
  const facesLeft = isAnticlockwise !== settings.isTurned;
  return stretches(made).map((stretch) => {
    const own = uprightSurface(stretch, facesLeft, settings.heightM);
    if (kind === 'walls') {
      const value: Surface = {
        name: labels.name('Wall'),
        kind: 'wall',
        ...own,
        reflectance: 0.6,
        ...(settings.thicknessM > 0 && { thicknessM: settings.thicknessM }),
      };
      return add(labels.id('wall'), value);
    }
    if (kind === 'backdrop') {
      return add(labels.id('backdrop'), { name: labels.name('Backdrop'), kind: 'backdrop', ...own, reflectance: 0.6 });
    }
    const { positionM, aim } = own.pose;
    const pose = { positionM: [positionM[0], positionM[1], settings.levelM] as [number, number, number], aim };
    return add(labels.id('plane'), { name: labels.name('Reading plane'), kind: 'readingPlane', ...own, pose });
  });
}

const AREA_WORDS = {
  floor: { kind: 'floor', stem: 'floor', name: 'Floor', reflectance: 0.2 },
  top: { kind: 'top', stem: 'top', name: 'Table top', reflectance: 0.3 },
  ceiling: { kind: 'ceiling', stem: 'ceiling', name: 'Ceiling', reflectance: 0.7 },
  levelPlane: { kind: 'readingPlane', stem: 'plane', name: 'Reading plane', reflectance: undefined },
} as const;

function level(
  kind: keyof typeof AREA_WORDS,
  corners: readonly Point2[],
  levelM: number,
  labels: Labels,
): SingleCommand {
  const words = AREA_WORDS[kind];
  return add(labels.id(words.stem), {
    name: labels.onlyName(words.name),
    kind: words.kind,
    ...levelSurface(corners, levelM, kind === 'ceiling'),
    ...(words.reflectance !== undefined && { reflectance: words.reflectance }),
  });
}

/** The ground that lamps may stand on, inside or outside, with one more outline. */
function lampSpace(scene: SceneDocument, kind: 'lampInside' | 'lampOutside', corners: readonly Point2[]): Command {
  const before = scene.story?.lampSpace ?? {};
  const key = kind === 'lampInside' ? 'insideM' : 'outsideM';
  const outline = corners.map(([x, y]): [number, number] => [x, y]);
  const space = { ...before, [key]: [...(before[key] ?? []), outline] };
  return { type: 'patchScene', part: 'story', fields: { lampSpace: space } };
}

/** The command for what was drawn by corners, or why there is none. */
export function drawnCommand(scene: SceneDocument, kind: DrawKind, made: Made, settings: DrawSettings): Drawn {
  const labels = freshLabels(scene);
  if (isAreaKind(kind)) {
    if (Math.abs(doubleArea(made.corners)) < 1e-6) return fault('These corners lie in one line. Set one beside it.');
    if (kind === 'lampInside' || kind === 'lampOutside') {
      return { ok: true, command: lampSpace(scene, kind, made.corners) };
    }
    return { ok: true, command: level(kind, made.corners, kind === 'floor' ? 0 : settings.levelM, labels) };
  }
  const commands = uprights(kind, made, settings, labels);
  const hasFloor = Object.values(scene.surfaces).some((surface) => surface.kind === 'floor');
  if (kind === 'walls' && made.isClosed && settings.withFloor && !hasFloor) {
    commands.push(level('floor', made.corners, 0, labels));
  }
  const [first] = commands;
  if (!first) return fault('Set two corners first.');
  const label = commands.length === 1 ? 'Draw a surface' : made.isClosed ? 'Draw a room' : 'Draw walls';
  return { ok: true, command: { type: 'sequence', label, commands } };
}

/** A mark on the ground, as an actor's place. */
export function markCommand(scene: SceneDocument, at: Point2): Command {
  const labels = freshLabels(scene);
  const value = { name: labels.name('Mark'), positionM: [at[0], at[1], 0] as [number, number, number] };
  return { type: 'add', at: { kind: 'mark', id: labels.id('mark') }, value };
}

// --- openings -----------------------------------------------------------------------------------------------------

/** Least wall left between an opening and the wall's edge or the next opening, metres. */
const LEAST_PIER_M = 0.05;

/**
 * Left edge for an opening of a width, nearest to where its middle was asked for, clear of the others.
 * @returns metres from the wall's left edge, or null where it fits nowhere
 */
export function freeLeftM(surface: Surface, widthM: number, middleM: number): number | null {
  const { leftM, rightM } = boundsOf(ringOf(surface.shape));
  const blocks = Object.values(surface.openings ?? {})
    .map((opening) => boundsOf(openingRing(opening)))
    .sort((a, b) => a.leftM - b.leftM);
  const edges = [leftM, ...blocks.flatMap((block) => [block.leftM, block.rightM]), rightM];
  let best: number | null = null;
  for (let index = 0; index + 1 < edges.length; index += 2) {
    const [from, to] = [edges[index]! + LEAST_PIER_M, edges[index + 1]! - LEAST_PIER_M - widthM];
    if (to < from - 1e-9) continue;
    const near = Math.min(Math.max(middleM - widthM / 2, from), Math.max(from, to));
    if (best === null || Math.abs(near - (middleM - widthM / 2)) < Math.abs(best - (middleM - widthM / 2))) best = near;
  }
  return best === null ? null : Number(best.toFixed(3));
}

/** Sill of an opening whose middle is to lie at a height, to whole centimetres, kept inside the wall. */
export function sillForMiddle(surface: Surface | undefined, upM: number, { openingHeightM }: DrawSettings): number {
  const highM = surface ? boundsOf(ringOf(surface.shape)).highM : Infinity;
  const most = Math.max(0, highM - LEAST_PIER_M - openingHeightM);
  return Number(Math.min(most, Math.max(0, upM - openingHeightM / 2)).toFixed(2));
}

/** An opening in a wall about `middleM` from the wall's left edge, seen from the lit side; made to fit the wall's height. */
export function openingCommand(
  scene: SceneDocument,
  surfaceId: string,
  kind: 'window' | 'door',
  middleM: number,
  settings: DrawSettings,
): Drawn {
  const surface = scene.surfaces[surfaceId];
  if (!surface) return fault('Press on a wall.');
  if (surface.kind !== 'wall') return fault(`${surface.name} is no wall: it has no windows or doors.`);
  const { highM } = boundsOf(ringOf(surface.shape));
  const sillM = kind === 'door' ? 0 : settings.sillM;
  const heightM = kind === 'door' ? Math.max(settings.openingHeightM, 2) : settings.openingHeightM;
  const fits = Number(Math.min(heightM, highM - sillM - LEAST_PIER_M).toFixed(3));
  if (fits <= 0) return fault(`The sill is at ${sillM} m and ${surface.name} is ${highM} m high. Lower the sill.`);
  const leftM = freeLeftM(surface, settings.openingWidthM, middleM);
  if (leftM === null) return fault(`There is no room on ${surface.name} for ${settings.openingWidthM} m more.`);
  const labels = freshLabels(scene);
  const value: Opening = {
    name: labels.name(kind === 'window' ? 'Window' : 'Door'),
    leftM,
    sillM,
    shape: { kind: 'rectangle', widthM: settings.openingWidthM, heightM: fits },
    ...(kind === 'window' && { window: { columns: 2, rows: 3, barWidthM: 0.03 } }),
  };
  const at = { kind: 'opening', surfaceId, id: labels.id(kind) } as const;
  return { ok: true, command: { type: 'add', at, value } };
}
