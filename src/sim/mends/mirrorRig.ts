/** A mirror in a lamp's light: where it stands and looks, how large it must be, and the rig with it. */
import type { Lamp, Modifier, SceneDocument, Setup } from '../../scene/schema';
import { frameFromPose, panTiltFromDirection, type Frame } from '../../scene/geometry/frames';
import { add, addScaled, cross, dot, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { MeanRay } from './placing';
import { aimedAt } from './placing';
import { emitterWidthM } from './sheets';
import { withLamp, type Situation } from './situation';

/** Glass beyond the light that it must turn, m. */
const MARGIN_M = 0.02;
const AROUND = 32;

export interface GlassSize {
  readonly widthM: number;
  readonly heightM: number;
}
export interface MirrorEntry extends GlassSize {
  readonly kitId: string | null;
  readonly reflectance: number;
}
/** The mirror of a small shop where the scene lists no kit (common practice, no source). */
const USUAL_MIRROR: MirrorEntry = { kitId: null, widthM: 1.2, heightM: 1.2, reflectance: 0.88 };

/** Flat rectangular mirrors that are free, smallest first. */
export function mirrorStock(document: SceneDocument, setup: Setup): readonly MirrorEntry[] {
  if (document.kit === undefined) return [USUAL_MIRROR];
  return Object.entries(document.kit)
    .flatMap(([kitId, { grip, count }]): MirrorEntry[] => {
      if (grip?.material.kind !== 'mirror' || grip.shape.kind !== 'rectangle') return [];
      const used = Object.values(setup.modifiers).filter((modifier) => modifier.kitId === kitId).length;
      const { widthM, heightM } = grip.shape;
      return count > used ? [{ kitId, widthM, heightM, reflectance: grip.material.reflectance }] : [];
    })
    .sort((a, b) => a.widthM * a.heightM - b.widthM * b.heightM);
}

/** A path bent once: down the middle ray to the mirror, from there to the lamp. */
export interface Fold {
  /** From the patch's middle to the mirror, and from the mirror to the lens, m. */
  readonly patchLegM: number;
  readonly lampLegM: number;
  /** Unit direction from the mirror to the lamp. */
  readonly towardsLamp: Vec3;
}

const mirrorAt = ({ middle, towards }: MeanRay, { patchLegM }: Fold): Vec3 => addScaled(middle, towards, patchLegM);
export const lensAt = (ray: MeanRay, fold: Fold): Vec3 =>
  addScaled(mirrorAt(ray, fold), fold.towardsLamp, fold.lampLegM);

/**
 * Places that the light of the patch passes, a few that stand for all: on the window's plane what passes a window, else
 * on the surface; those farthest out across the middle ray every way.
 */
export function rimOfLight({ main, scene, source }: Situation, { towards }: MeanRay): Vec3[] {
  const { patch, pair } = main;
  const { right, up } = pair.surface.frame;
  const [x, y] = [patch.sums.cellWidthM / 2, patch.sums.cellHeightM / 2];
  const corners = [
    [-x, -y],
    [x, -y],
    [-x, y],
    [x, y],
  ] as const;
  const places = patch.points.flatMap((point, i) => {
    const opening = scene.openings[patch.window[i]!];
    return corners.map(([dx, dy]) => {
      const corner = addScaled(addScaled(point, right, dx), up, dy);
      if (!opening) return corner;
      const run = subtract(source.frame.origin, corner);
      const { forward } = opening.frame;
      return addScaled(corner, run, dot(forward, subtract(opening.corners[0]!, corner)) / dot(forward, run));
    });
  });
  const { right: across, up: over } = squareTo(towards);
  const rim = new Set<Vec3>();
  for (let i = 0; i < AROUND; i++) {
    const angle = (2 * Math.PI * i) / AROUND;
    const way = add(scale(across, Math.cos(angle)), scale(over, Math.sin(angle)));
    let farthest = places[0]!;
    for (const place of places) if (dot(place, way) > dot(farthest, way)) farthest = place;
    rim.add(farthest);
  }
  return [...rim];
}

/** Axes square to a direction: level, and up. */
function squareTo(towards: Vec3): { right: Vec3; up: Vec3 } {
  const { right, up } = frameFromPose({ positionM: [0, 0, 0], aim: panTiltFromDirection(towards) });
  return { right, up };
}

interface Extent {
  readonly low: number;
  readonly high: number;
}
const extentOf = (values: readonly number[]): Extent => ({ low: Math.min(...values), high: Math.max(...values) });
const sizeOf = ({ low, high }: Extent): number => high - low;

/** How much of the lens' own width the light still has at the mirror: all at the lens, none at the patch. */
const lensShare = ({ patchLegM, lampLegM }: Fold): number => patchLegM / (patchLegM + lampLegM);

/**
 * Clear opening that a mirror needs, measured square to the ray, m: the light as seen from the lamp's image, and the
 * lens' own width by the share of the path that lies behind the mirror.
 * @source judgement definition 6, mirror
 */
export function clearOpening(situation: Situation, ray: MeanRay, rim: readonly Vec3[], fold: Fold): GlassSize {
  const { right, up } = squareTo(ray.towards);
  const image = addScaled(ray.middle, ray.towards, fold.patchLegM + fold.lampLegM);
  const size = (axis: Vec3): number => {
    const seen = rim.map((place) => {
      const run = subtract(place, image);
      return (-dot(run, axis) / dot(run, ray.towards)) * fold.lampLegM;
    });
    return sizeOf(extentOf(seen)) + emitterWidthM(situation.source, axis) * lensShare(fold);
  };
  return { widthM: size(right), heightM: size(up) };
}

/** The mirror as it must stand: its plane, and what of the plane the light crosses. */
export interface NeededGlass extends GlassSize {
  readonly frame: Frame;
  readonly centre: Vec3;
}

/** Glass that a fold needs, in the mirror's own plane. */
export function neededGlass(situation: Situation, ray: MeanRay, rim: readonly Vec3[], fold: Fold): NeededGlass {
  const at = mirrorAt(ray, fold);
  const normal = normalise(subtract(fold.towardsLamp, ray.towards));
  const frame = frameFromPose({ positionM: [...at], aim: panTiltFromDirection(normal) });
  const image = addScaled(at, ray.towards, fold.lampLegM);
  const crossings = rim.map((place) => {
    const run = subtract(place, image);
    return subtract(addScaled(image, run, dot(normal, subtract(at, image)) / dot(normal, run)), at);
  });
  const slant = 1 / Math.abs(dot(normal, ray.towards));
  const lens = Math.max(...[frame.right, frame.up].map((axis) => emitterWidthM(situation.source, axis)));
  const more = lens * lensShare(fold) * slant + 2 * MARGIN_M;
  const [across, over] = [frame.right, frame.up].map((axis) => extentOf(crossings.map((place) => dot(place, axis))));
  const middle = ({ low, high }: Extent): number => (low + high) / 2;
  return {
    frame,
    centre: addScaled(addScaled(at, frame.right, middle(across!)), frame.up, middle(over!)),
    widthM: sizeOf(across!) + more,
    heightM: sizeOf(over!) + more,
  };
}

/** The smallest mirror of the stock that is large enough, either way up; null for none. */
export function fittingMirror(stock: readonly MirrorEntry[], needed: GlassSize): MirrorEntry | null {
  const isUpright = ({ widthM, heightM }: MirrorEntry): boolean => widthM >= needed.widthM && heightM >= needed.heightM;
  for (const entry of stock) {
    if (isUpright(entry)) return entry;
    const turned = { ...entry, widthM: entry.heightM, heightM: entry.widthM };
    if (isUpright(turned)) return turned;
  }
  return null;
}

/** The lamp at its place on the fold, aimed at the mirror. */
export function lampOnFold(situation: Situation, ray: MeanRay, fold: Fold): Lamp {
  const [x, y, z] = lensAt(ray, fold);
  const { lamp } = situation;
  return aimedAt({ ...lamp, pose: { ...lamp.pose, positionM: [x, y, z] } }, mirrorAt(ray, fold));
}

/** The setup with the mirror put up and the lamp turned on it. */
export function mirrorSetup(
  situation: Situation,
  ray: MeanRay,
  fold: Fold,
  needed: NeededGlass,
  entry: MirrorEntry,
  costStops = 0,
): Setup {
  const { setup, lampId } = situation;
  let id = 'mirror';
  while (Object.hasOwn(setup.modifiers, id)) id = `${id}-x`;
  const { centre, frame } = needed;
  const mirror: Modifier = {
    name: 'Mirror',
    pose: { positionM: [centre[0], centre[1], centre[2]], aim: panTiltFromDirection(frame.forward) },
    shape: { kind: 'rectangle', widthM: entry.widthM, heightM: entry.heightM },
    material: { kind: 'mirror', reflectance: entry.reflectance },
    ...(entry.kitId === null ? {} : { kitId: entry.kitId }),
  };
  const moved = withLamp(setup, lampId, lampOnFold(situation, ray, fold), costStops);
  return { ...moved, modifiers: { ...setup.modifiers, [id]: mirror } };
}

/** How far the lamp stands out of the light that leaves the mirror, m; negative where it stands in it. */
export function clearanceM({ middle, towards }: MeanRay, rim: readonly Vec3[], fold: Fold): number {
  const back = -dot(fold.towardsLamp, towards) * fold.lampLegM;
  const aside = Math.hypot(...cross(fold.towardsLamp, towards)) * fold.lampLegM;
  if (back <= 0) return aside;
  const path = fold.patchLegM + fold.lampLegM;
  // Half width of the light where the lamp stands beside it, as the rim spans it from the lamp's image.
  const image = addScaled(middle, towards, path);
  const widest = Math.max(
    ...rim.map((place) => {
      const run = subtract(place, image);
      const along = -dot(run, towards);
      return Math.hypot(...addScaled(run, towards, along)) / along;
    }),
  );
  return aside - widest * (fold.lampLegM + back);
}
