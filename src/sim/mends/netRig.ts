/** Nets in front of a lamp: upright planes across its light, free edges staggered, as the search sees them and as documents. */
import type { Modifier, Setup } from '../../scene/schema';
import { frameFromPose, panTiltFromDirection, type Frame } from '../../scene/geometry/frames';
import { addScaled, dot, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import { correlation } from '../judgement/statistics';
import type { NetEntry, NetGrade } from './netStock';
import type { MeanRay } from './placing';
import type { HalfPlane } from './sheets';
import type { Situation } from './situation';

/** From one net to the next down the beam: room for two frames, m. */
export const NET_PITCH_M = 0.05;
const ROD_M = 0.012;
/** Cloth beyond the light that it must cover, m. */
const MARGIN_M = 0.02;

/** The light as it passes the nets: places on their planes as tangents, metres across at one metre from the lens. */
export interface NetField {
  readonly frame: Frame;
  readonly rollDeg: number;
  /** From the lens down the middle ray. */
  readonly lens: Vec3;
  readonly down: Vec3;
  readonly lensRadiusM: number;
  /** Extent of the patch's light across (along `frame.right`) and up. */
  readonly low: number;
  readonly high: number;
  readonly bottom: number;
  readonly top: number;
  /** +1 where the hot end lies towards `frame.right`, -1 where it lies the other way: the nets come in from there. */
  readonly side: 1 | -1;
  /** How well the light's logarithm goes with the place across, 0..1. */
  readonly fit: number;
}

function lensRadius({ source }: Situation): number {
  const { shape } = source;
  switch (shape.kind) {
    case 'disc':
    case 'sphere':
      return shape.radiusM;
    case 'rectangle':
      return Math.hypot(shape.halfWidthM, shape.halfHeightM);
    case 'tube':
      return Math.hypot(shape.halfLengthM, shape.radiusM);
    default:
      return 0;
  }
}

/** The field with the nets turned by `rollDeg` (0: free edges upright) about the middle ray. */
export function netField(situation: Situation, ray: MeanRay, rollDeg: number): NetField {
  const { source, main } = situation;
  const down = scale(ray.towards, -1);
  const { panDeg } = panTiltFromDirection(ray.towards);
  const frame = frameFromPose({ positionM: [0, 0, 0], aim: { panDeg, tiltDeg: 0, rollDeg } });
  const lens = source.frame.origin;
  const perDepth = 1 / dot(down, frame.forward);
  const [across, ups]: [number[], number[]] = [[], []];
  for (const point of main.patch.points) {
    const run = subtract(point, lens);
    // On the plane one metre down the ray, beside the ray's own crossing.
    const at = subtract(scale(run, 1 / (dot(run, frame.forward) * perDepth)), down);
    across.push(dot(at, frame.right));
    ups.push(dot(at, frame.up));
  }
  const fit = correlation(across, main.patch.openLx.map(Math.log2), main.patch.areaM2);
  return {
    frame,
    rollDeg,
    lens,
    down,
    lensRadiusM: lensRadius(situation),
    low: Math.min(...across),
    high: Math.max(...across),
    bottom: Math.min(...ups),
    top: Math.max(...ups),
    side: fit >= 0 ? 1 : -1,
    fit: Math.abs(fit),
  };
}

/** One net: how far down the ray its plane crosses it, where its free edge stands, what it is of. */
export interface NetPlace {
  readonly distanceM: number;
  /** Tangent of the free edge across the light. */
  readonly edge: number;
  readonly grade: NetGrade;
}

const crossingOf = (field: NetField, { distanceM }: NetPlace): Vec3 => addScaled(field.lens, field.down, distanceM);

export function netSheet(field: NetField, place: NetPlace): HalfPlane {
  const { frame, side } = field;
  return {
    edge: addScaled(crossingOf(field, place), frame.right, place.edge * place.distanceM),
    along: frame.up,
    cover: scale(frame.right, side),
    stops: place.grade.stops,
    weave: place.grade.woven ? frame : null,
  };
}

/** Cloth that a net needs to shade everything on its side, m. */
export function neededCloth(field: NetField, { distanceM, edge }: NetPlace): { widthM: number; heightM: number } {
  const beyond = field.side > 0 ? field.high - edge : edge - field.low;
  return {
    widthM: Math.max(0, beyond) * distanceM + field.lensRadiusM + MARGIN_M,
    heightM: (field.top - field.bottom) * distanceM + 2 * (field.lensRadiusM + MARGIN_M),
  };
}

/** The smallest free net of the grade that is large enough; null for none. `taken` counts what other nets use. */
export function fittingEntry(
  field: NetField,
  place: NetPlace,
  taken: ReadonlyMap<NetEntry, number> = new Map(),
): NetEntry | null {
  const { widthM, heightM } = neededCloth(field, place);
  return (
    place.grade.entries.find(
      (entry) => entry.free > (taken.get(entry) ?? 0) && entry.widthM >= widthM && entry.heightM >= heightM,
    ) ?? null
  );
}

/** The net as a modifier: open end on the free edge, rods outside the light on the other three sides. */
export function netModifier(field: NetField, place: NetPlace, entry: NetEntry, name: string): Modifier {
  const { frame, side, rollDeg } = field;
  const middleUp = ((field.bottom + field.top) / 2) * place.distanceM;
  const middleRight = place.edge * place.distanceM + (side * entry.widthM) / 2;
  const centre = addScaled(addScaled(crossingOf(field, place), frame.right, middleRight), frame.up, middleUp);
  const { panDeg } = panTiltFromDirection(frame.forward);
  return {
    name,
    pose: { positionM: [centre[0], centre[1], centre[2]], aim: { panDeg, tiltDeg: 0, rollDeg } },
    shape: { kind: 'rectangle', widthM: entry.widthM, heightM: entry.heightM },
    material: { kind: 'net', stops: place.grade.stops, weave: place.grade.woven ? 'woven' : 'plain' },
    frame: { rodWidthM: ROD_M, openSides: [side > 0 ? 'left' : 'right'] },
    ...(entry.kitId === null ? {} : { kitId: entry.kitId }),
  };
}

/** A letter that no net of the setup has: A, B ... */
function freeLetter(setup: Setup): string {
  const names = new Set(Object.values(setup.modifiers).map(({ name }) => name));
  const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';
  return [...letters].find((letter) => !names.has(`Net ${letter}1`)) ?? 'Z';
}

/** The setup with the nets in it; null where the shop has not enough of them. */
export function hangNets(setup: Setup, field: NetField, places: readonly NetPlace[]): Setup | null {
  const letter = freeLetter(setup);
  const taken = new Map<NetEntry, number>();
  const modifiers = { ...setup.modifiers };
  for (const [i, place] of places.entries()) {
    const entry = fittingEntry(field, place, taken);
    if (entry === null) return null;
    taken.set(entry, (taken.get(entry) ?? 0) + 1);
    let id = `net-${letter.toLowerCase()}${i + 1}`;
    while (Object.hasOwn(modifiers, id)) id = `${id}-x`;
    modifiers[id] = netModifier(field, place, entry, `Net ${letter}${i + 1}`);
  }
  return { ...setup, modifiers };
}
