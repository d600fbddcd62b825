/** Seeded draws: numbers, outlines, lamps and grip for random scenes. */
import type { Distribution, Emitter, Lamp, Material, Modifier, ModifierShape, Output } from '../../src/scene/schema';
import { seeded } from './vectors';

export interface Draw {
  readonly between: (low: number, high: number) => number;
  readonly whole: (low: number, high: number) => number;
  readonly chance: (share: number) => boolean;
  readonly one: <T>(options: readonly T[]) => T;
}

export function drawFrom(seed: number): Draw {
  const next = seeded(Math.imul(seed, 2654435761) ^ 0x5bd1e995);
  const between = (low: number, high: number) => low + (high - low) * next();
  const whole = (low: number, high: number) => Math.min(high, Math.floor(between(low, high + 1)));
  return {
    between,
    whole,
    chance: (share) => next() < share,
    one: (options) => options[whole(0, options.length - 1)]!,
  };
}

type Outline = [number, number][];

/** A star-shaped outline, usually concave, about a centre. */
function star(draw: Draw, corners: number, centre: readonly [number, number], low: number, high: number): Outline {
  const turn = draw.between(0, 1);
  return Array.from({ length: corners }, (_, i) => {
    const angle = ((i + turn + draw.between(-0.3, 0.3)) / corners) * 2 * Math.PI;
    const radius = draw.between(low, high);
    return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
  });
}

/** A concave outline with up to three holes that neither meet each other nor the rim. */
function polygon(draw: Draw): ModifierShape {
  const reach = draw.between(0.15, 0.7);
  const holes = draw.whole(0, 3);
  // The rim never comes nearer than 0.7 reach cos(pi/corners...) when holes must fit inside; else it may be deeply cut.
  const outlineM =
    holes === 0
      ? star(draw, draw.whole(5, 11), [0, 0], 0.25 * reach, reach)
      : star(draw, draw.whole(9, 12), [0, 0], 0.75 * reach, reach);
  const holesM = Array.from({ length: holes }, (_, i) => {
    const angle = ((i + draw.between(0.2, 0.3)) / holes) * 2 * Math.PI;
    const middle: [number, number] =
      holes === 1 ? [0, 0] : [0.3 * reach * Math.cos(angle), 0.3 * reach * Math.sin(angle)];
    return star(draw, draw.whole(3, 7), middle, 0.08 * reach, 0.22 * reach);
  });
  return { kind: 'polygon', outlineM, ...(holes > 0 ? { holesM } : {}) };
}

export function randomMaterial(draw: Draw): Material {
  const kind = draw.one(['opaque', 'opaque', 'opaque', 'opaque', 'net', 'net', 'wireScrim', 'gel'] as const);
  if (kind === 'opaque') return { kind };
  if (kind === 'gel') return { kind, transmittance: draw.between(0.2, 0.9) };
  return { kind, stops: draw.one([0.5, 1, 1.5]), weave: draw.one(['plain', 'woven'] as const) };
}

export function randomShape(draw: Draw): ModifierShape {
  const kind = draw.one(['rectangle', 'rectangle', 'disc', 'polygon', 'polygon'] as const);
  if (kind === 'disc') return { kind, diameterM: draw.between(0.08, 0.7) };
  if (kind === 'rectangle') return { kind, widthM: draw.between(0.06, 1.2), heightM: draw.between(0.06, 1.2) };
  return polygon(draw);
}

export function randomFrame(draw: Draw, shape: ModifierShape, material: Material): Pick<Modifier, 'frame'> {
  if (shape.kind !== 'rectangle' || material.kind === 'opaque' || draw.chance(0.4)) return {};
  const openSides = (['left', 'right', 'top', 'bottom'] as const).filter(() => draw.chance(0.3));
  const rodWidthM = draw.between(0.06, 0.24) * Math.min(shape.widthM, shape.heightM);
  return { frame: { rodWidthM, openSides } };
}

export function randomEmitter(draw: Draw, area: boolean): Emitter {
  const shape = draw.one(
    area
      ? (['disc', 'rectangle', 'tube', 'sphere', 'disc'] as const)
      : (['point', 'disc', 'rectangle', 'tube', 'sphere'] as const),
  );
  switch (shape) {
    case 'point':
      return { shape };
    case 'disc':
      return { shape, diameterM: draw.between(0.08, 0.9) };
    case 'rectangle':
      return { shape, widthM: draw.between(0.1, 1.2), heightM: draw.between(0.1, 1.2) };
    case 'tube':
      return { shape, lengthM: draw.between(0.4, 1.5), diameterM: draw.between(0.02, 0.08) };
    case 'sphere':
      return { shape, diameterM: draw.between(0.1, 0.6) };
  }
}

function randomProjection(draw: Draw): Extract<Distribution, { kind: 'projection' }> {
  const fieldAngleDeg = draw.between(18, 50);
  const shutters = Array.from({ length: draw.whole(0, 3) }, () => ({
    offsetDeg: draw.between(-0.1, 0.45) * fieldAngleDeg,
    turnDeg: draw.between(0, 360),
    edgeWidthDeg: draw.between(0.3, 3),
  }));
  return {
    kind: 'projection',
    fieldAngleDeg,
    edgeWidthDeg: draw.between(0.4, 4),
    peaking: draw.between(0, 1.5),
    ...(draw.chance(0.6) ? { focusM: draw.between(2, 9) } : {}),
    ...(shutters.length > 0 ? { shutters } : {}),
  };
}

function randomDistribution(draw: Draw, emitter: Emitter): Distribution {
  if (emitter.shape === 'tube') return { kind: 'lambertian' };
  if (emitter.shape === 'sphere') return { kind: 'uniform' };
  const kind = draw.one(
    emitter.shape === 'rectangle'
      ? (['lambertian', 'cosinePower', 'uniform', 'beam'] as const)
      : (['lambertian', 'cosinePower', 'uniform', 'beam', 'projection'] as const),
  );
  if (kind === 'cosinePower') return { kind, exponent: draw.between(0.5, 12) };
  if (kind === 'projection') return randomProjection(draw);
  if (kind !== 'beam') return { kind };
  const beamAngleDeg = draw.between(15, 60);
  return {
    kind,
    beamAngleDeg,
    ...(draw.chance(0.6) ? { fieldAngleDeg: beamAngleDeg * draw.between(1.3, 2.2) } : {}),
    ...(draw.chance(0.3) ? { virtualOriginM: draw.between(0.1, 0.8) } : {}),
  };
}

function randomOutput(draw: Draw, emitter: Emitter, distribution: Distribution): Output {
  const cut = distribution.kind === 'projection' && distribution.shutters !== undefined;
  const kind = draw.one(
    emitter.shape === 'point'
      ? (['candela', 'lumens', 'luxAt'] as const)
      : (['candela', 'lumens', 'luxAt', 'luminance'] as const),
  );
  // Flux of a shuttered gate depends on the shutters; leave it to a test of its own.
  if (kind === 'candela' || cut) return { kind: 'candela', candela: draw.between(2000, 60000) };
  if (kind === 'lumens') return { kind, lumens: draw.between(2000, 40000) };
  if (kind === 'luxAt') return { kind, illuminanceLx: draw.between(200, 3000), distanceM: draw.between(2, 6) };
  return { kind, luminanceCdM2: draw.between(5000, 90000) };
}

export function randomLamp(draw: Draw, area: boolean): Omit<Lamp, 'pose' | 'name'> {
  const emitter = randomEmitter(draw, area);
  const distribution = randomDistribution(draw, emitter);
  // A scrim in a slot covers the front of a lamp; one that shines all round would be half covered.
  const oneSided =
    emitter.shape === 'disc' ||
    emitter.shape === 'rectangle' ||
    (emitter.shape === 'point' && distribution.kind !== 'uniform');
  const accessories =
    oneSided && draw.chance(0.3) ? { accessories: [{ kind: 'wireScrim' as const, stops: draw.one([0.5, 1]) }] } : {};
  return { type: 'lamp', emitter, distribution, output: randomOutput(draw, emitter, distribution), ...accessories };
}
