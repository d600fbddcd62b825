/** Emitters of the document as samples: where light leaves, and how many candela each sample sends to a receiver. */
import type { Distribution, Lamp, Output, SceneDocument, Source, Sun } from '../../src/scene/schema';
import { underFoil } from './blackEdges';
import { frontOf, type Front } from './lampFronts';
import { gatePattern } from './gatePatterns';
import { axesOf, looking, type Axes } from './poses';
import { bruteWeb, type BruteWeb } from './webs';
import { inner, outer, plus, RADIAN, size, unit, type Triple } from './vectors';

/** Samples of one emitter towards one receiver. For the sun x, y, z is the direction to the sample. */
export interface Samples {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  /** Candela of the sample towards the receiver; for the sun luminance times solid angle, lux. */
  readonly candela: Float64Array;
  /** Share of the way from the receiver to the sample that lies outside the lamp. */
  readonly outside: Float64Array;
}
export interface BruteSource {
  readonly id: string;
  readonly level: number;
  readonly isSun: boolean;
  /** A sphere round the emitter. */
  readonly centre: Triple;
  readonly reachM: number;
  readonly fill: (receiver: Triple, square: Float64Array, into: Samples) => void;
}

/** Candela towards a direction as a share of the peak; `ox`, `oy` metres on the lens, right and up seen from behind. */
type Profile = (cosine: number, right: number, up: number, ox: number, oy: number) => number;

const ramp = (t: number): number => (t <= 0 ? 0 : t >= 1 ? 1 : t * t * (3 - 2 * t));

function projectionProfile(distribution: Extract<Distribution, { kind: 'projection' }>): Profile {
  const pattern = distribution.pattern && gatePattern(distribution.pattern, distribution);
  const halfFieldDeg = distribution.fieldAngleDeg / 2;
  const { edgeWidthDeg, peaking = 0, focusM, shutters = [] } = distribution;
  return (cosine, right, up, ox, oy) => {
    if (cosine <= 0) return 0;
    const x = right / cosine + (focusM === undefined ? 0 : ox / focusM);
    const y = up / cosine + (focusM === undefined ? 0 : oy / focusM);
    const angleDeg = Math.atan(Math.sqrt(x * x + y * y)) / RADIAN;
    let share = Math.exp(-peaking * (angleDeg / halfFieldDeg) ** 2);
    share *= ramp((halfFieldDeg + edgeWidthDeg / 2 - angleDeg) / edgeWidthDeg);
    for (const shutter of shutters) {
      const turn = shutter.turnDeg * RADIAN;
      const beyond = x * Math.cos(turn) + y * Math.sin(turn) - Math.tan(shutter.offsetDeg * RADIAN);
      share *= ramp((shutter.edgeWidthDeg / 2 - Math.atan(beyond) / RADIAN) / shutter.edgeWidthDeg);
    }
    return pattern ? share * pattern(x, y) : share;
  };
}

function profileOf(distribution: Distribution, allRound: boolean): Profile {
  switch (distribution.kind) {
    case 'uniform':
      return (cosine) => (allRound || cosine > 0 ? 1 : 0);
    case 'lambertian':
      return (cosine) => Math.max(0, cosine);
    case 'cosinePower':
      return (cosine) => (cosine > 0 ? Math.pow(cosine, distribution.exponent) : 0);
    case 'beam':
    case 'lensed': {
      const { beamAngleDeg, fieldAngleDeg } = distribution;
      const power =
        fieldAngleDeg === undefined ? 2 : Math.log(Math.log(10) / Math.log(2)) / Math.log(fieldAngleDeg / beamAngleDeg);
      return (cosine) => {
        if (cosine <= 0) return 0;
        const relative = Math.acos(Math.min(1, cosine)) / RADIAN / (beamAngleDeg / 2);
        return Math.pow(0.5, Math.pow(relative, power));
      };
    }
    case 'projection':
      return projectionProfile(distribution);
    default:
      throw new Error(`brute force does not cover ${distribution.kind}`);
  }
}

function withOpenGate(distribution: Distribution): Distribution {
  if (distribution.kind !== 'projection') return distribution;
  const { shutters: _out, pattern: _none, ...open } = distribution;
  return open;
}

/** Flux of unit peak candela: the profile summed over rings and turns of the sphere. */
function fluxOf(profile: Profile): number {
  const rings = 20000;
  const turns = 8;
  let sum = 0;
  for (let ring = 0; ring < rings; ring++) {
    const angle = ((ring + 0.5) / rings) * Math.PI;
    for (let turn = 0; turn < turns; turn++) {
      const around = ((turn + 0.5) / turns) * 2 * Math.PI;
      const level = Math.sin(angle);
      sum += profile(Math.cos(angle), level * Math.cos(around), level * Math.sin(around), 0, 0) * level;
    }
  }
  return (sum * 2 * Math.PI * Math.PI) / (rings * turns);
}

/** Share of the face that a point on the axis sees past the rim of a lens, ring by ring; `farM` from the lens. */
function seenShare({ distribution }: Lamp, faceRadiusM: number, behindM: number, farM: number): number {
  if (distribution.kind !== 'lensed') return 1;
  const rings = 4000;
  let seen = 0;
  for (let i = 0; i < rings; i++) {
    const ring = ((i + 0.5) / rings) * faceRadiusM;
    if (ring <= (distribution.lensDiameterM / 2) * (1 + behindM / farM)) seen += (2 * (i + 0.5)) / rings / rings;
  }
  return seen;
}

function peakOf(
  output: Output,
  fluxPerCandela: () => number,
  shownAreaM2: number,
  virtualOriginM: number,
  seen: (farM: number) => number = () => 1,
): number {
  switch (output.kind) {
    case 'candela':
      return output.candela / seen(Infinity);
    case 'lumens':
      return output.lumens / fluxPerCandela();
    case 'luxAt':
      return (output.illuminanceLx * (output.distanceM + virtualOriginM) ** 2) / seen(output.distanceM);
    case 'luminance':
      return output.luminanceCdM2 * shownAreaM2;
    default:
      throw new Error(`brute force does not cover an output by ${output.kind}`);
  }
}

/** Where along a panel a share of its glowing length lies: its cells stand in the middles of equal parts of it. */
function alongCells({ widthM, cells }: Extract<Lamp['emitter'], { shape: 'rectangle' }>, share: number): number {
  if (!cells) return (share - 0.5) * widthM;
  const cell = Math.min(cells.count - 1, Math.floor(share * cells.count));
  const within = (share * cells.count - cell - 0.5) * (cells.glowShare ?? 1);
  return ((cell + 0.5 + within) / cells.count - 0.5) * widthM;
}

/** Level of the cell that a share of the glowing length lies in. */
function cellLevel(emitter: Lamp['emitter'], share: number): number {
  if (emitter.shape !== 'rectangle' || !emitter.cells) return 1;
  const { count, levels } = emitter.cells;
  return levels?.[Math.min(count - 1, Math.floor(share * count))] ?? 1;
}

/** Places of the samples on a flat face, metres right (seen from behind) and up: x0, y0, x1, y1... */
function placesOnFace(emitter: Lamp['emitter'], square: Float64Array): Float64Array {
  const places = new Float64Array(square.length);
  for (let i = 0; i < square.length; i += 2) {
    if (emitter.shape === 'rectangle') {
      places[i] = alongCells(emitter, square[i]!);
      places[i + 1] = (square[i + 1]! - 0.5) * emitter.heightM;
    } else if (emitter.shape === 'disc') {
      const radius = (emitter.diameterM / 2) * Math.sqrt(square[i]!);
      places[i] = radius * Math.cos(2 * Math.PI * square[i + 1]!);
      places[i + 1] = radius * Math.sin(2 * Math.PI * square[i + 1]!);
    }
  }
  return places;
}

/** A flat face: every element sends its share of the peak candela by the profile, if the lamp's front lets it out. */
function flatFace(axes: Axes, lamp: Lamp, peak: number, profile: Profile, front: Front): BruteSource['fill'] {
  const { origin, up, out } = axes;
  const behindRight = plus([0, 0, 0], axes.right, -1);
  let placed: { square: Float64Array; places: Float64Array } | null = null;
  return (receiver, square, into) => {
    if (placed?.square !== square) placed = { square, places: placesOnFace(faceOf(lamp), square) };
    const { places } = placed;
    const count = into.x.length;
    for (let i = 0; i < count; i++) {
      const a = places[2 * i]!;
      const b = places[2 * i + 1]!;
      const x = origin[0] + a * behindRight[0] + b * up[0];
      const y = origin[1] + a * behindRight[1] + b * up[1];
      const z = origin[2] + a * behindRight[2] + b * up[2];
      const wx = receiver[0] - x;
      const wy = receiver[1] - y;
      const wz = receiver[2] - z;
      const far = Math.sqrt(wx * wx + wy * wy + wz * wz);
      const cosine = (wx * out[0] + wy * out[1] + wz * out[2]) / far;
      const toRight = (wx * behindRight[0] + wy * behindRight[1] + wz * behindRight[2]) / far;
      const toUp = (wx * up[0] + wy * up[1] + wz * up[2]) / far;
      into.x[i] = x;
      into.y[i] = y;
      into.z[i] = z;
      const to: Triple = [far * toRight, far * toUp, far * cosine];
      into.outside[i] = front.outsideOf(to[2]);
      const level = cellLevel(lamp.emitter, square[2 * i]!);
      into.candela[i] = peak * level * profile(cosine, toRight, toUp, a, b) * front.passes(a, b, to);
    }
  };
}

/** Writes one sample of a glowing skin: a place with its outward normal, seen from the receiver. */
function putSkin(into: Samples, i: number, receiver: Triple, at: Triple, normal: Triple, lumination: number): void {
  const wx = receiver[0] - at[0];
  const wy = receiver[1] - at[1];
  const wz = receiver[2] - at[2];
  const cosine = (wx * normal[0] + wy * normal[1] + wz * normal[2]) / Math.sqrt(wx * wx + wy * wy + wz * wz);
  into.x[i] = at[0];
  into.y[i] = at[1];
  into.z[i] = at[2];
  into.candela[i] = cosine > 0 ? lumination * cosine : 0;
}

/** The side of a glowing cylinder that the receiver can see: an arc on either hand of the nearest line. */
function tubeFill(axes: Axes, radius: number, lengthM: number, luminance: number): BruteSource['fill'] {
  return (receiver, square, into) => {
    const offset = plus(receiver, axes.origin, -1);
    const aside = plus(offset, axes.right, -inner(offset, axes.right));
    const away = size(aside);
    if (away <= radius) {
      into.candela.fill(0);
      return;
    }
    const arc = Math.acos(radius / away);
    const near = unit(aside);
    const hand = outer(axes.right, near);
    const lumination = luminance * 2 * arc * radius * lengthM;
    for (let i = 0; i < into.x.length; i++) {
      const turn = arc * (2 * square[2 * i + 1]! - 1);
      const c = Math.cos(turn);
      const s = Math.sin(turn);
      const normal: Triple = [c * near[0] + s * hand[0], c * near[1] + s * hand[1], c * near[2] + s * hand[2]];
      const along = plus(axes.origin, axes.right, (square[2 * i]! - 0.5) * lengthM);
      putSkin(into, i, receiver, plus(along, normal, radius), normal, lumination);
    }
  };
}

type Tube = Extract<Lamp['emitter'], { shape: 'tube' }>;

/** Luminance of a tube lit over a sector about its aim: by the strips of its skin that send light along the aim, or in all. */
function sectorLuminance(output: Output, { lengthM, diameterM }: Tube, litSectorDeg: number): number {
  const strips = 20000;
  let alongAimM = 0;
  for (let i = 0; i < strips; i++) {
    const turn = ((i + 0.5) / strips - 0.5) * litSectorDeg * RADIAN;
    alongAimM += (Math.max(0, Math.cos(turn)) * (diameterM / 2) * litSectorDeg * RADIAN) / strips;
  }
  const skinM2 = (diameterM / 2) * litSectorDeg * RADIAN * lengthM;
  // A matt skin of luminance L gives pi L lumens from each square metre.
  if (output.kind === 'lumens') return output.lumens / (Math.PI * skinM2);
  return peakOf(output, () => 1, alongAimM * lengthM, 0) / (alongAimM * lengthM);
}

/** Skin of a tube lit over a sector about its aim, all of it sampled; what faces away from the receiver sends nothing. */
function sectorFill(axes: Axes, { lengthM, diameterM }: Tube, luminance: number, litDeg: number): BruteSource['fill'] {
  const radius = diameterM / 2;
  const skinM2 = radius * litDeg * RADIAN * lengthM;
  return (receiver, square, into) => {
    for (let i = 0; i < into.x.length; i++) {
      const turn = (square[2 * i + 1]! - 0.5) * litDeg * RADIAN;
      const c = Math.cos(turn);
      const s = Math.sin(turn);
      const normal: Triple = [
        c * axes.out[0] + s * axes.up[0],
        c * axes.out[1] + s * axes.up[1],
        c * axes.out[2] + s * axes.up[2],
      ];
      const along = plus(axes.origin, axes.right, (square[2 * i]! - 0.5) * lengthM);
      putSkin(into, i, receiver, plus(along, normal, radius), normal, luminance * skinM2);
    }
  };
}

/** The cap of a glowing sphere that the receiver can see. */
function sphereFill(centre: Triple, radius: number, luminance: number): BruteSource['fill'] {
  return (receiver, square, into) => {
    const offset = plus(receiver, centre, -1);
    const far = size(offset);
    if (far <= radius) {
      into.candela.fill(0);
      return;
    }
    const axis = unit(offset);
    const one = unit(outer(axis, Math.abs(axis[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0]));
    const two = outer(axis, one);
    const capHeight = 1 - radius / far;
    const lumination = luminance * 2 * Math.PI * radius * radius * capHeight;
    for (let i = 0; i < into.x.length; i++) {
      const h = 1 - square[2 * i]! * capHeight;
      const level = Math.sqrt(1 - h * h);
      const c = level * Math.cos(2 * Math.PI * square[2 * i + 1]!);
      const s = level * Math.sin(2 * Math.PI * square[2 * i + 1]!);
      const normal: Triple = [
        c * one[0] + s * two[0] + h * axis[0],
        c * one[1] + s * two[1] + h * axis[1],
        c * one[2] + s * two[2] + h * axis[2],
      ];
      putSkin(into, i, receiver, plus(centre, normal, radius), normal, lumination);
    }
  };
}

function sunFill(sun: Sun, northDeg: number): BruteSource['fill'] {
  const axis = looking(sun.azimuthDeg + northDeg, sun.altitudeDeg);
  const one = unit(outer(axis, Math.abs(axis[2]) < 0.7 ? [0, 0, 1] : [1, 0, 0]));
  const two = outer(axis, one);
  const sine = Math.sin(((sun.angularDiameterDeg ?? 0.533) / 2) * RADIAN);
  let filled: Samples | null = null;
  return (_receiver, square, into) => {
    if (filled === into) return;
    filled = into;
    for (let i = 0; i < into.x.length; i++) {
      // Seen along the axis the disc of directions is a flat disc; dω = dA / cos of the angle off the axis.
      const radius = sine * Math.sqrt(square[2 * i]!);
      const turn = 2 * Math.PI * square[2 * i + 1]!;
      const height = Math.sqrt(1 - radius * radius);
      const w = plus(plus(plus([0, 0, 0], axis, height), one, radius * Math.cos(turn)), two, radius * Math.sin(turn));
      into.x[i] = w[0];
      into.y[i] = w[1];
      into.z[i] = w[2];
      into.candela[i] = sun.normalIlluminanceLx / height;
    }
  };
}

/** Share that accessories over the whole beam let through. */
function accessoryShare(lamp: Lamp): number {
  const flat = lamp.emitter.shape !== 'tube' && lamp.emitter.shape !== 'sphere';
  let share = 1;
  for (const accessory of lamp.accessories ?? []) {
    if (accessory.kind === 'gel') share *= accessory.transmittance;
    else if (accessory.kind === 'wireScrim' && !accessory.half) share *= Math.pow(0.5, accessory.stops);
    else if (!flat && accessory.kind !== 'blackEdges')
      throw new Error(`brute force does not cover ${accessory.kind} on a tube or a globe`);
  }
  return share;
}

/** The face that shines: of a lens what it shows of the source behind it, as large as the magnification makes it. */
function faceOf({ emitter, distribution }: Lamp): Lamp['emitter'] {
  if (distribution.kind !== 'lensed') return emitter;
  const { lampToLensM: u, focalLengthM: f } = distribution;
  return { shape: 'disc', diameterM: (distribution.sourceDiameterM * f) / (f - u) };
}

/** How far behind the posed front the shining face stands. */
function behindFrontM({ distribution }: Lamp): number {
  if (distribution.kind === 'lensed') {
    // 1/u = 1/f + 1/v
    return 1 / (1 / distribution.lampToLensM - 1 / distribution.focalLengthM);
  }
  return distribution.kind === 'beam' ? (distribution.virtualOriginM ?? 0) : 0;
}

/** A ball with a web: the disc through its circle of tangents, evenly, each spot sending the web's candela. */
function webBall(axes: Axes, radius: number, peak: number, profile: Profile): BruteSource['fill'] {
  const behindRight = plus([0, 0, 0], axes.right, -1);
  return (receiver, square, into) => {
    const offset = plus(receiver, axes.origin, -1);
    const far = size(offset);
    const axis = unit(offset);
    const one = unit(outer(axis, Math.abs(axis[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0]));
    const two = outer(axis, one);
    const rim = radius * Math.sqrt(1 - (radius / far) ** 2);
    const centre = plus(axes.origin, axis, (radius * radius) / far);
    for (let i = 0; i < into.x.length; i++) {
      const out = rim * Math.sqrt(square[2 * i]!);
      const turn = 2 * Math.PI * square[2 * i + 1]!;
      const at = plus(plus(centre, one, out * Math.cos(turn)), two, out * Math.sin(turn));
      const ray = unit(plus(receiver, at, -1));
      into.x[i] = at[0];
      into.y[i] = at[1];
      into.z[i] = at[2];
      into.candela[i] = peak * profile(inner(ray, axes.out), inner(ray, behindRight), inner(ray, axes.up), 0, 0);
    }
  };
}

/** A lamp with a photometric file; a point takes the file's rectangle (positive sizes) or disc (negative). */
function webSource(lamp: Lamp, web: BruteWeb): Omit<BruteSource, 'id' | 'level' | 'isSun'> {
  const axes = axesOf(lamp.pose);
  const profile: Profile = (along, right, up) => web.candela(along, right, up) / web.peak;
  const [width, length] = web.opening;
  const opening: Lamp['emitter'] =
    width === 0
      ? { shape: 'point' }
      : width < 0
        ? { shape: 'disc', diameterM: -width }
        : { shape: 'rectangle', widthM: length, heightM: width };
  const emitter = lamp.emitter.shape === 'point' ? opening : lamp.emitter;
  const axis = profile(1, 0, 0, 0, 0) || 1;
  const { output } = lamp;
  const peak = output.kind === 'file' ? web.peak : peakOf(output, () => fluxOf(profile), 0, 0) / axis;
  if (emitter.shape === 'sphere') {
    const radius = emitter.diameterM / 2;
    return { centre: axes.origin, reachM: radius, fill: webBall(axes, radius, peak, profile) };
  }
  const reachM =
    emitter.shape === 'disc'
      ? emitter.diameterM / 2
      : emitter.shape === 'rectangle'
        ? Math.hypot(emitter.widthM, emitter.heightM) / 2
        : 0;
  const fill = flatFace(axes, { ...lamp, emitter }, peak, profile, frontOf(lamp, 0));
  return { centre: axes.origin, reachM, fill: underFoil(fill, emitter, lamp, axes) };
}

function lampSource(lamp: Lamp, webs: Webs): Omit<BruteSource, 'id' | 'level' | 'isSun'> {
  if (lamp.distribution.kind === 'web') return webSource(lamp, bruteWeb(webs, lamp.distribution.webId));
  const { distribution, output } = lamp;
  const emitter = faceOf(lamp);
  const virtualOriginM = behindFrontM(lamp);
  const posed = axesOf(lamp.pose);
  const axes = { ...posed, origin: plus(posed.origin, posed.out, -virtualOriginM) };
  const share = accessoryShare(lamp);
  if (emitter.shape === 'sphere') {
    const radius = emitter.diameterM / 2;
    const area = Math.PI * radius * radius;
    const peak = share * peakOf(output, () => 4 * Math.PI, area, virtualOriginM);
    return { centre: axes.origin, reachM: radius, fill: sphereFill(axes.origin, radius, peak / area) };
  }
  if (emitter.shape === 'tube') {
    const radius = emitter.diameterM / 2;
    const area = emitter.diameterM * emitter.lengthM;
    const reachM = Math.hypot(emitter.lengthM / 2, radius);
    const { litSectorDeg } = emitter;
    if (litSectorDeg !== undefined) {
      const luminance = share * sectorLuminance(output, emitter, litSectorDeg);
      const fill = sectorFill(axes, emitter, luminance, litSectorDeg);
      return { centre: axes.origin, reachM, fill: underFoil(fill, emitter, lamp, axes) };
    }
    const peak = share * peakOf(output, () => Math.PI * Math.PI, area, virtualOriginM);
    const fill = tubeFill(axes, radius, emitter.lengthM, peak / area);
    return { centre: axes.origin, reachM, fill: underFoil(fill, emitter, lamp, axes) };
  }
  const profile = profileOf(distribution, emitter.shape === 'point');
  const area =
    emitter.shape === 'disc'
      ? Math.PI * (emitter.diameterM / 2) ** 2
      : emitter.shape === 'rectangle'
        ? emitter.widthM * emitter.heightM * (emitter.cells?.glowShare ?? 1)
        : 0;
  const seen = (farM: number) => seenShare(lamp, Math.sqrt(area / Math.PI), virtualOriginM, farM);
  // Stated lumens are measured with the shutters out and no pattern in.
  const flux = (): number => fluxOf(profileOf(withOpenGate(distribution), emitter.shape === 'point'));
  const peak = share * peakOf(output, flux, area, virtualOriginM, seen);
  const reachM =
    emitter.shape === 'disc'
      ? emitter.diameterM / 2
      : emitter.shape === 'rectangle'
        ? Math.hypot(emitter.widthM, emitter.heightM) / 2
        : 0;
  const front = frontOf(lamp, virtualOriginM);
  const fill = flatFace(axes, lamp, peak, profile, front);
  return { centre: axes.origin, reachM, fill: underFoil(fill, emitter, lamp, axes) };
}

type Webs = Pick<SceneDocument, 'webs'>;
export function bruteSource(id: string, source: Source, northDeg: number, webs: Webs): BruteSource {
  const level = source.off ? 0 : (source.level ?? 1);
  if (source.type === 'sun') {
    const centre = looking(source.azimuthDeg + northDeg, source.altitudeDeg);
    return { id, level, isSun: true, centre, reachM: 0, fill: sunFill(source, northDeg) };
  }
  return { id, level, isSun: false, ...lampSource(source, webs) };
}
