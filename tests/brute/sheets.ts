/** Everything thin that light can meet, as plane sheets with outlines, straight from the scene document. */
import type { Material, Modifier, Opening, SceneDocument, Setup, Surface } from '../../src/scene/schema';
import { axesOf, onFace, type Axes } from './poses';
import { inner, outer, plus, RADIAN, size, type Triple } from './vectors';

/** Glass of the document: index 1.52, 4 mm and clear where it does not say. */
type Bulk = Pick<
  NonNullable<NonNullable<Opening['window']>['glass']>,
  'refractiveIndex' | 'absorptionPerM' | 'thicknessM'
>;

export interface Sheet {
  readonly axes: Axes;
  /** n . origin, so that n . x - offset is the height above the sheet. */
  readonly offset: number;
  /** Outlines in (right, up), flat x0, y0, x1, y1...; covered where an odd number of them encloses the point. */
  readonly rings: readonly Float64Array[];
  /** Instead of rings: a disc about the origin. */
  readonly discRadiusM: number | null;
  readonly box: readonly [left: number, bottom: number, right: number, top: number];
  /** A sphere round the covered part. */
  readonly centre: Triple;
  readonly reachM: number;
  readonly transmittance: number;
  /** Share of the pitch covered by wire of a woven sheet; null where the loss is the same at any angle. */
  readonly wireShare: number | null;
  /** Glass by what it is made of, in place of a transmittance; null for everything else. */
  readonly pane: Bulk | null;
  /** The surface whose lit face this is. */
  readonly faceOf: string | null;
  /** Of a mirror, on the side that `out` points to; 0 for everything else. */
  readonly reflectance: number;
}

type Ring = readonly (readonly [number, number])[];
const box = (left: number, bottom: number, width: number, height: number): Ring => [
  [left, bottom],
  [left + width, bottom],
  [left + width, bottom + height],
  [left, bottom + height],
];

interface Stuff {
  readonly transmittance: number;
  readonly wireShare: number | null;
  readonly pane?: Bulk;
  readonly faceOf?: string;
  readonly reflectance?: number;
}
const OPAQUE: Stuff = { transmittance: 0, wireShare: null };

function sheet(axes: Axes, rings: readonly Ring[], stuff: Stuff, discRadiusM: number | null = null): Sheet {
  const corners =
    discRadiusM === null ? rings.flat() : box(-discRadiusM, -discRadiusM, 2 * discRadiusM, 2 * discRadiusM);
  const left = Math.min(...corners.map((c) => c[0]));
  const right = Math.max(...corners.map((c) => c[0]));
  const bottom = Math.min(...corners.map((c) => c[1]));
  const top = Math.max(...corners.map((c) => c[1]));
  return {
    axes,
    offset: inner(axes.out, axes.origin),
    rings: rings.map((ring) => Float64Array.from(ring.flat())),
    discRadiusM,
    box: [left, bottom, right, top],
    centre: onFace(axes, (left + right) / 2, (bottom + top) / 2),
    reachM: Math.hypot(right - left, top - bottom) / 2,
    transmittance: stuff.transmittance,
    wireShare: stuff.wireShare,
    pane: stuff.pane ?? null,
    faceOf: stuff.faceOf ?? null,
    reflectance: stuff.reflectance ?? 0,
  };
}

function ringOf(shape: Surface['shape']): Ring {
  return shape.kind === 'rectangle' ? box(0, 0, shape.widthM, shape.heightM) : shape.outlineM;
}
function surfaceRings(shape: Surface['shape']): Ring[] {
  return shape.kind === 'polygon' ? [shape.outlineM, ...(shape.holesM ?? [])] : [ringOf(shape)];
}
function openingRing(opening: Opening): Ring {
  return ringOf(opening.shape).map(([x, y]) => [x + opening.leftM, y + opening.sillM] as const);
}

const behind = (axes: Axes, depthM: number): Axes => ({ ...axes, origin: plus(axes.origin, axes.out, -depthM) });

/** Bars and glass of a window: the opening filled, panes cut out, at the depth of the bars. */
function windowSheets(opening: Opening, axes: Axes, thicknessM: number): Sheet[] {
  const { window } = opening;
  if (!window) return [];
  const ring = openingRing(opening);
  const left = Math.min(...ring.map((c) => c[0]));
  const bottom = Math.min(...ring.map((c) => c[1]));
  const width = Math.max(...ring.map((c) => c[0])) - left;
  const height = Math.max(...ring.map((c) => c[1])) - bottom;
  const frame = window.frameWidthM ?? 0;
  const paneWidth = (width - 2 * frame - (window.columns - 1) * window.barWidthM) / window.columns;
  const paneHeight = (height - 2 * frame - (window.rows - 1) * window.barWidthM) / window.rows;
  const panes: Ring[] = [];
  for (let column = 0; column < window.columns; column++)
    for (let row = 0; row < window.rows; row++)
      panes.push(
        box(
          left + frame + column * (paneWidth + window.barWidthM),
          bottom + frame + row * (paneHeight + window.barWidthM),
          paneWidth,
          paneHeight,
        ),
      );
  const at = behind(axes, window.barDepthM ?? thicknessM / 2);
  const bars = sheet(at, [ring, ...panes], OPAQUE);
  const { transmittance, ...bulk } = window.glass ?? {};
  const glass: Stuff | null =
    Object.keys(bulk).length > 0
      ? { transmittance: 0.999, wireShare: null, pane: { ...bulk } }
      : transmittance === undefined
        ? null
        : { transmittance, wireShare: null };
  return [
    bars,
    ...(glass ? [sheet(at, [ring], glass)] : []),
    ...slatSheets(window.blind, axes, left, bottom, width, height),
  ];
}

/**
 * A blind's slats: level sheets across the opening, the first half a pitch under its head, none that would hang wholly
 * beside it, the last no lower than the sill. Tilted, the outer edge rises and the room's edge sinks.
 */
function slatSheets(
  blind: NonNullable<Opening['window']>['blind'],
  wall: Axes,
  left: number,
  bottom: number,
  width: number,
  height: number,
): Sheet[] {
  if (!blind) return [];
  const { pitchM, slatWidthM, tiltDeg, depthM = slatWidthM / 2 } = blind;
  const [level, rise] = [Math.cos(tiltDeg * RADIAN), Math.sin(tiltDeg * RADIAN)];
  // From the room outwards along the slat; its own face looks up where it lies level.
  const outwards = plus(plus([0, 0, 0], wall.out, -level), wall.up, rise);
  const slats: Sheet[] = [];
  for (let hungM = pitchM / 2; hungM < height + pitchM / 2 - 1e-9; hungM += pitchM) {
    const origin = onFace(wall, left, Math.max(bottom, bottom + height - hungM), depthM);
    const axes: Axes = { origin, right: wall.right, up: outwards, out: outer(wall.right, outwards) };
    slats.push(sheet(axes, [box(0, -slatWidthM / 2, width, slatWidthM)], OPAQUE));
  }
  return slats;
}

function surfaceSheets(id: string, surface: Surface): Sheet[] {
  if (surface.kind === 'readingPlane') return [];
  const axes = axesOf(surface.pose);
  const thicknessM = surface.thicknessM ?? 0;
  const openings = Object.values(surface.openings ?? {});
  const rings = [...surfaceRings(surface.shape), ...openings.map(openingRing)];
  return [
    sheet(axes, rings, { ...OPAQUE, faceOf: id }),
    ...(thicknessM > 0 ? [sheet(behind(axes, thicknessM), rings, OPAQUE)] : []),
    ...openings.flatMap((opening) => windowSheets(opening, axes, thicknessM)),
  ];
}

function stuffOf(material: Material): Stuff {
  switch (material.kind) {
    case 'opaque':
      return OPAQUE;
    case 'mirror':
      return { ...OPAQUE, reflectance: material.reflectance };
    case 'gel':
      return { transmittance: material.transmittance, wireShare: null };
    case 'net':
    case 'wireScrim': {
      const transmittance = Math.pow(0.5, material.stops);
      const weave = material.weave ?? (material.kind === 'net' ? 'woven' : 'plain');
      // Two crossed families of wire each pass the square root of what the mesh passes square-on.
      return { transmittance, wireShare: weave === 'plain' ? null : 1 - Math.sqrt(transmittance) };
    }
    default:
      throw new Error(`brute force does not cover ${material.kind}`);
  }
}

function modifierSheets(modifier: Modifier): Sheet[] {
  const axes = axesOf(modifier.pose);
  const { shape } = modifier;
  const stuff = stuffOf(modifier.material);
  if (shape.kind === 'pattern') throw new Error('brute force does not know what a seed cuts');
  if (shape.kind === 'disc') {
    if (modifier.frame) throw new Error('brute force covers frames on rectangles only');
    return [sheet(axes, [], stuff, shape.diameterM / 2)];
  }
  if (shape.kind === 'polygon') {
    if (modifier.frame) throw new Error('brute force covers frames on rectangles only');
    return [sheet(axes, [shape.outlineM, ...(shape.holesM ?? [])], stuff)];
  }
  const { widthM, heightM } = shape;
  const cloth = box(-widthM / 2, -heightM / 2, widthM, heightM);
  if (!modifier.frame) return [sheet(axes, [cloth], stuff)];
  const { rodWidthM, openSides = [] } = modifier.frame;
  const rod = (side: 'left' | 'right' | 'top' | 'bottom') => (openSides.includes(side) ? 0 : rodWidthM);
  // The outline is the cloth; rods lie round it.
  const round = box(
    -widthM / 2 - rod('left'),
    -heightM / 2 - rod('bottom'),
    widthM + rod('left') + rod('right'),
    heightM + rod('bottom') + rod('top'),
  );
  return [sheet(axes, [cloth], stuff), sheet(axes, [round, cloth], OPAQUE)];
}

/** All sheets of a setup: walls (both faces), bars, glass, grip. */
export function sheetsOf(document: SceneDocument, setup: Setup): Sheet[] {
  return [
    ...Object.entries(document.surfaces).flatMap(([id, surface]) => surfaceSheets(id, surface)),
    ...Object.values(setup.modifiers).flatMap(modifierSheets),
  ].filter((one) => one.transmittance < 1);
}

/** True where the point (right, up) of the sheet's plane is covered: odd number of crossings to its right. */
export function covers(one: Sheet, x: number, y: number): boolean {
  if (x < one.box[0] || x > one.box[2] || y < one.box[1] || y > one.box[3]) return false;
  if (one.discRadiusM !== null) return x * x + y * y < one.discRadiusM * one.discRadiusM;
  let inside = false;
  for (const ring of one.rings) {
    let px = ring[ring.length - 2]!;
    let py = ring[ring.length - 1]!;
    for (let i = 0; i < ring.length; i += 2) {
      const qx = ring[i]!;
      const qy = ring[i + 1]!;
      if (qy > y !== py > y && x < qx + ((px - qx) * (y - qy)) / (py - qy)) inside = !inside;
      px = qx;
      py = qy;
    }
  }
  return inside;
}

/**
 * Light through a pane: Snell's law, Fresnel's sine and tangent formulas, and the light that comes out at last counted
 * pass by pass.
 */
function throughPane({ refractiveIndex = 1.52, absorptionPerM = 0, thicknessM = 0.004 }: Bulk, slant: number): number {
  const angle = Math.max(slant, 1e-7);
  const bent = Math.asin(Math.sin(angle) / refractiveIndex);
  const kept = Math.exp((-absorptionPerM * thicknessM) / Math.cos(bent));
  const back = [
    (Math.sin(angle - bent) / Math.sin(angle + bent)) ** 2,
    (Math.tan(angle - bent) / Math.tan(angle + bent)) ** 2,
  ];
  let out = 0;
  for (const reflected of back) {
    let inside = (1 - reflected) * kept;
    for (let pass = 0; pass < 400 && inside > 1e-12; pass++) {
      out += (inside * (1 - reflected)) / 2;
      inside *= (reflected * kept) ** 2;
    }
  }
  return out;
}

/** Transmittance of the covered sheet for light along `(dx, dy, dz)`. */
export function passes(one: Sheet, dx: number, dy: number, dz: number): number {
  if (one.pane) {
    const { out } = one.axes;
    const cosine = Math.abs(dx * out[0] + dy * out[1] + dz * out[2]) / Math.sqrt(dx * dx + dy * dy + dz * dz);
    return throughPane(one.pane, Math.acos(Math.min(1, cosine)));
  }
  if (one.wireShare === null) return one.transmittance;
  const { right, up, out } = one.axes;
  const across = dx * right[0] + dy * right[1] + dz * right[2];
  const along = dx * up[0] + dy * up[1] + dz * up[2];
  const through = Math.abs(dx * out[0] + dy * out[1] + dz * out[2]);
  // Each family of wires is seen under the slant within the plane square to it.
  const betweenUpright = 1 - (one.wireShare * Math.sqrt(across * across + through * through)) / through;
  const betweenLevel = 1 - (one.wireShare * Math.sqrt(along * along + through * through)) / through;
  return Math.max(0, betweenUpright) * Math.max(0, betweenLevel);
}

export const distanceBetween = (a: Triple, b: Triple): number => size(plus(a, b, -1));
