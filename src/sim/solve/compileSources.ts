/** From a source of the document to peak candela and a profile. */
import type { Colour, Distribution, Emitter, Lamp, SceneDocument, Source } from '../../scene/schema';
import { sunColour } from '../colour/sunlight';
import { cosDeg, directionToSun, frameFromPose, sinDeg, toDegrees, toRadians } from '../../scene/geometry/frames';
import { addScaled, cross, scale, type Vec3 } from '../../scene/geometry/vector';
import { axesAcross } from './emitterFace';
import type { CompiledSource, EmitterShape, Profile } from './compiled';
import { dressed } from './lampAccessories';
import { outletM } from './lampFront';
import { shareOnAxis, virtualDisc } from './lensedSpot';
import { candelaByReadings, virtualOriginOf } from './readingsOutput';
import { axisShare, compileWeb, type CompiledWeb } from './compileWeb';
import { compilePattern } from '../photometry/gatePattern';
import { openGate, profileShare } from './profile';
import { webFlux } from '../photometry/web/flux';
import { tiltFactor } from '../photometry/web/tilt';

type Tube = Extract<Emitter, { shape: 'tube' }>;
const isPartlyLit = (emitter: Tube): emitter is Tube & { litSectorDeg: number } =>
  emitter.litSectorDeg !== undefined && emitter.litSectorDeg < 360;

/**
 * A tube lit over more than half of its round can show two lit strips with the dark one between them: it is two sources, a
 * half each, that go by one id. Others are themselves.
 */
export function inConvexParts(source: CompiledSource): CompiledSource[] {
  const { shape, frame } = source;
  if (shape.kind !== 'tube' || shape.lit === null || shape.lit.halfRad <= Math.PI / 2) return [source];
  const { middle, halfRad } = shape.lit;
  const aside = cross(frame.right, middle);
  return [-1, 1].map((side) => {
    const turned = addScaled(scale(middle, Math.cos(halfRad / 2)), aside, side * Math.sin(halfRad / 2));
    return { ...source, shape: { ...shape, lit: { middle: turned, halfRad: halfRad / 2 } } };
  });
}

/** @param forward the lamp's aim, about which the lit part of a tube's round lies */
function shapeOf(emitter: Emitter, forward: Vec3): EmitterShape {
  switch (emitter.shape) {
    case 'point':
      return { kind: 'point' };
    case 'disc':
      return { kind: 'disc', radiusM: emitter.diameterM / 2 };
    case 'rectangle':
      return { kind: 'rectangle', halfWidthM: emitter.widthM / 2, halfHeightM: emitter.heightM / 2 };
    case 'tube':
      return {
        kind: 'tube',
        halfLengthM: emitter.lengthM / 2,
        radiusM: emitter.diameterM / 2,
        lit: isPartlyLit(emitter) ? { middle: forward, halfRad: toRadians(emitter.litSectorDeg / 2) } : null,
      };
    case 'sphere':
      return { kind: 'sphere', radiusM: emitter.diameterM / 2 };
  }
}

/** Steepness k of I = I0 exp(-ln 2 (θ/θ50)^k) that passes 10 % at the half field angle; 2 (a bell) without one. */
export function beamSteepness(beamAngleDeg: number, fieldAngleDeg: number | undefined): number {
  if (fieldAngleDeg === undefined || fieldAngleDeg <= beamAngleDeg) return 2;
  return Math.log(Math.LN10 / Math.LN2) / Math.log(fieldAngleDeg / beamAngleDeg);
}

function profileOf(distribution: Exclude<Distribution, { kind: 'web' }>, shape: EmitterShape): Profile {
  // Tubes and spheres are treated as evenly bright all over, whatever the profile asked for.
  if (shape.kind === 'tube' || shape.kind === 'sphere') return { kind: 'cosine', exponent: 1 };
  switch (distribution.kind) {
    case 'uniform':
      return { kind: 'flat' };
    case 'lambertian':
      return { kind: 'cosine', exponent: 1 };
    case 'cosinePower':
      return { kind: 'cosine', exponent: distribution.exponent };
    case 'beam':
    case 'lensed': {
      const { beamAngleDeg, fieldAngleDeg } = distribution;
      const steepness = beamSteepness(beamAngleDeg, fieldAngleDeg);
      return { kind: 'beam', halfBeamRad: toRadians(beamAngleDeg / 2), steepness };
    }
    case 'projection':
      return {
        kind: 'projection',
        halfFieldRad: toRadians(distribution.fieldAngleDeg / 2),
        edgeWidthRad: toRadians(distribution.edgeWidthDeg),
        peaking: distribution.peaking ?? 0,
        perFocusM: distribution.focusM === undefined ? 0 : 1 / distribution.focusM,
        cuts: (distribution.shutters ?? []).map((cut) => ({
          right: cosDeg(cut.turnDeg),
          up: sinDeg(cut.turnDeg),
          offset: Math.tan(toRadians(cut.offsetDeg)),
          edgeWidthRad: toRadians(cut.edgeWidthDeg),
        })),
        pattern: distribution.pattern ? compilePattern(distribution.pattern, distribution.fieldAngleDeg) : null,
      };
  }
}

/**
 * Intensity towards the aim as a share of that of the same lamp glowing all over: what its face shows there. A tube's strips
 * send cos of their turn; of a strip of cells the gaps are dark.
 */
function glowingShare(emitter: Emitter, shape: EmitterShape): number {
  if (shape.kind === 'tube' && shape.lit) return Math.sin(Math.min(shape.lit.halfRad, Math.PI / 2));
  return emitter.shape === 'rectangle' ? (emitter.cells?.glowShare ?? 1) : 1;
}

const SHARE_STEPS = 400;

/**
 * Flux of a source of unit peak intensity, lm per cd: the profile integrated over the directions it sends to. Stated lumens
 * are those of the open gate: what shutters and a pattern take away leaves the rest as bright.
 */
export function fluxPerCandela(asSet: Profile, shape: EmitterShape): number {
  const profile = openGate(asSet);
  if (profile.kind === 'web') return webFlux(profile.grid);
  if (shape.kind === 'sphere') return 4 * Math.PI;
  if (shape.kind === 'tube') return shape.lit ? Math.PI * shape.lit.halfRad : Math.PI ** 2;
  if (profile.kind === 'flat') return shape.kind === 'point' ? 4 * Math.PI : 2 * Math.PI;
  if (profile.kind === 'cosine') return (2 * Math.PI) / (profile.exponent + 1);
  // In stretches between the profile's bends, so that a narrow field edge is not stepped over.
  const bends = [0, Math.PI / 2];
  if (profile.kind === 'projection') {
    const { halfFieldRad, edgeWidthRad } = profile;
    bends.splice(1, 1, halfFieldRad - edgeWidthRad / 2, halfFieldRad + edgeWidthRad / 2);
  }
  const ends = bends.map((bend) => Math.max(0, Math.min(Math.PI / 2, bend)));
  let flux = 0;
  for (let stretch = 0; stretch + 1 < ends.length; stretch++) {
    const step = (ends[stretch + 1]! - ends[stretch]!) / SHARE_STEPS;
    for (let i = 0; i < SHARE_STEPS; i++) {
      const angle = ends[stretch]! + (i + 0.5) * step;
      flux += 2 * Math.PI * profileShare(profile, Math.cos(angle), Math.tan(angle), 0) * Math.sin(angle) * step;
    }
  }
  return flux;
}

/** Area that the emitter shows along its axis, m²; 0 for a point. */
function projectedAreaM2(shape: EmitterShape): number {
  switch (shape.kind) {
    case 'disc':
    case 'sphere':
      return Math.PI * shape.radiusM ** 2;
    case 'rectangle':
      return 4 * shape.halfWidthM * shape.halfHeightM;
    case 'tube':
      return 4 * shape.halfLengthM * shape.radiusM;
    default:
      return 0;
  }
}

/**
 * Candela of the whole face that make the stated output.
 * @param shareAt share of the face that a lens's rim leaves to a point on the axis so far before it, m or Infinity
 */
function peakCandela(
  lamp: Lamp,
  profile: Profile,
  shape: EmitterShape,
  virtualOriginM: number,
  shareAt: (distanceM: number) => number = () => 1,
): number {
  const { output } = lamp;
  switch (output.kind) {
    case 'candela':
      return output.candela / shareAt(Infinity);
    case 'file':
      throw new RangeError('the output of a file without one');
    case 'lumens': {
      const flux = fluxPerCandela(profile, shape);
      const glowing = shape.kind === 'rectangle' ? shareAt(Infinity) : 1;
      return flux > 0 ? output.lumens / (flux * glowing) : 0;
    }
    case 'luxAt':
      return (output.illuminanceLx * (output.distanceM + virtualOriginM) ** 2) / shareAt(output.distanceM);
    case 'luminance':
      return output.luminanceCdM2 * projectedAreaM2(shape);
    case 'readings':
      return (
        candelaByReadings(lamp, output.readings) / shareAt(Math.max(...output.readings.map((one) => one.distanceM)))
      );
  }
}

/** A lamp whose light a photometric file tells: its own opening stands in for a point. */
function compileWebLamp(id: string, lamp: Lamp, level: number, web: CompiledWeb): CompiledSource {
  const { profile, opening, tilt } = web;
  const virtualOriginM = virtualOriginOf(lamp);
  const front = frameFromPose(lamp.pose);
  const own = shapeOf(lamp.emitter.shape === 'point' ? opening : lamp.emitter, front.forward);
  const shape: EmitterShape = own.kind === 'tube' ? { ...own, lit: null } : own;
  const frame = { ...front, origin: addScaled(front.origin, front.forward, -virtualOriginM) };
  // Straight down is the position that the file's figures are for.
  const tilted = tilt ? tiltFactor(tilt, toDegrees(Math.acos(Math.max(-1, Math.min(1, -frame.forward[2]))))) : 1;
  const onAxis = (): number => peakCandela(lamp, profile, shape, virtualOriginM);
  const perAxis = lamp.output.kind === 'lumens' ? 1 : axisShare(profile);
  const glowing = glowingShare(lamp.emitter, shape);
  const candela =
    (lamp.output.kind === 'file' ? web.peakCandela * tilted * (lamp.output.factor ?? 1) : onAxis() / perAxis) / glowing;
  const source: CompiledSource = {
    id,
    source: lamp,
    level,
    frame,
    shape,
    profile,
    peakCandela: candela,
    outletM: 0, // a web tells the light all round its lamp
    colour: lamp.colour ?? null,
    image: null,
  };
  return dressed(source, lamp);
}

function compileLamp(id: string, lamp: Lamp, level: number, webs: SceneDocument['webs']): CompiledSource {
  const { distribution } = lamp;
  if (distribution.kind === 'web') return compileWebLamp(id, lamp, level, compileWeb(webs, distribution.webId));
  const disc = distribution.kind === 'lensed' ? virtualDisc(distribution) : null;
  const lens = frameFromPose(lamp.pose);
  const shape: EmitterShape = disc ? { kind: 'disc', radiusM: disc.radiusM } : shapeOf(lamp.emitter, lens.forward);
  const profile = profileOf(distribution, shape);
  const virtualOriginM = virtualOriginOf(lamp);
  const frame = { ...lens, origin: addScaled(lens.origin, lens.forward, -virtualOriginM) };
  const glowing = glowingShare(lamp.emitter, shape);
  const shareAt = (distanceM: number): number => (disc ? shareOnAxis(disc, distanceM) : glowing);
  const candela = peakCandela(lamp, profile, shape, virtualOriginM, shareAt);
  const outlet = virtualOriginM + outletM(lamp);
  const colour = lamp.colour ?? null;
  return dressed(
    { id, source: lamp, level, frame, shape, profile, peakCandela: candela, outletM: outlet, colour, image: null },
    lamp,
  );
}

export const DEFAULT_SUN_DIAMETER_DEG = 0.533;

/** @param document whose north and whose photometric files count */
export function compileSource(
  id: string,
  source: Source,
  { northDeg = 0, webs }: Pick<SceneDocument, 'northDeg' | 'webs'>,
): CompiledSource {
  const level = source.off === true ? 0 : (source.level ?? 1);
  if (source.type === 'lamp') return compileLamp(id, source, level, webs);
  const halfAngleRad = toRadians((source.angularDiameterDeg ?? DEFAULT_SUN_DIAMETER_DEG) / 2);
  const towards = directionToSun(source.altitudeDeg, source.azimuthDeg, northDeg);
  const [right, up] = axesAcross(towards);
  return {
    id,
    source,
    level,
    frame: { origin: scale(towards, 1), right, up, forward: scale(towards, -1) },
    shape: { kind: 'sun', tangentRadius: Math.tan(halfAngleRad) },
    profile: { kind: 'cosine', exponent: 1 },
    // A uniform disc of half-angle a and luminance L gives π L sin² a square to its rays.
    peakCandela: source.normalIlluminanceLx / (Math.PI * Math.sin(halfAngleRad) ** 2),
    outletM: 0,
    colour: source.colour ?? sunColourAt(source.altitudeDeg),
    image: null,
  };
}

/** Colour of the clear-sky sun at an altitude; null below the horizon. */
function sunColourAt(altitudeDeg: number): Colour | null {
  const colour = sunColour(altitudeDeg);
  return colour && { x: colour.x, y: colour.y };
}
