/**
 * Spread of lamps without a file: candela by direction against the kernel read far away, lumens and angles against closed
 * forms (elementary integrals; check values 1.3, 8.7 and 4 atan of a rectangle's solid angle).
 */
import { describe, expect, test } from 'vitest';
import type { Distribution, Emitter, Lamp, Output } from '../../src/scene/schema';
import { lampSpread } from '../../src/sim/solve/farField';
import { shareTowards } from '../../src/sim/solve/lensedSpot';
import { checkValue, input } from '../validation/row';
import { facing, lamp, meterOf } from '../validation/scenes';

type Accessories = NonNullable<Lamp['accessories']>;
const DISC: Emitter = { shape: 'disc', diameterM: 0.1 };
const PANEL: Emitter = { shape: 'rectangle', widthM: 0.2, heightM: 0.1 };
const TUBE: Emitter = { shape: 'tube', lengthM: 0.3, diameterM: 0.03 };
const CANDELA = { kind: 'candela', candela: 1000 } as const;
const MATT: Distribution = { kind: 'lambertian' };
const LENS: Distribution = {
  kind: 'lensed',
  lensDiameterM: 0.2,
  focalLengthM: 0.3,
  sourceDiameterM: 0.03,
  lampToLensM: 0.26,
  beamAngleDeg: 40,
};
const FLAT_FIELD: Distribution = { kind: 'projection', fieldAngleDeg: 36, edgeWidthDeg: 0.001 };
const of = (
  emitter: Emitter,
  distribution: Distribution,
  accessories: Accessories = [],
  output: Output = CANDELA,
): Lamp => ({
  // Looks along +x: from behind, right is -y and up is z.
  ...lamp(facing([0, 0, 0], 90, 0), emitter, distribution, output),
  accessories,
});
const spread = (one: Lamp) => lampSpread(one, {})!;
const figures = (one: Lamp) => spread(one).figures;
const angleOf = (one: Lamp, which: 'beam' | 'field', plane = 0): number => {
  const { fromDeg, toDeg } = figures(one).planes[plane]![which]!;
  return toDeg - fromDeg;
};

const KINDS: readonly (readonly [string, Lamp])[] = [
  ['point the same all round', of({ shape: 'point' }, { kind: 'uniform' })],
  ['face the same all round', of(DISC, { kind: 'uniform' })],
  ['matt disc', of(DISC, MATT)],
  ['matt panel with a gel', of(PANEL, MATT, [{ kind: 'gel', transmittance: 0.4 }])],
  ['power of cosine', of(PANEL, { kind: 'cosinePower', exponent: 9 })],
  ['beam', of(DISC, { kind: 'beam', beamAngleDeg: 26, fieldAngleDeg: 50, virtualOriginM: 0.2 })],
  ['egg crate', of(PANEL, MATT, [{ kind: 'eggCrate', cellM: 0.05, depthM: 0.04, wallM: 0.001 }])],
  ['lensed spot', of(DISC, LENS)],
  ['lensed spot with a black ring', of(DISC, LENS, [{ kind: 'blackEdges', ringM: 0.03 }])],
  [
    'projection spot with shutters and slats',
    of(DISC, {
      kind: 'projection',
      fieldAngleDeg: 40,
      edgeWidthDeg: 3,
      peaking: 0.7,
      shutters: [
        { offsetDeg: 9, turnDeg: 10, edgeWidthDeg: 2 },
        { offsetDeg: 12, turnDeg: 100, edgeWidthDeg: 1 },
      ],
      pattern: { kind: 'slats', slats: 5, openShare: 0.6, edgeWidthDeg: 0.5 },
    }),
  ],
  ['tube', of(TUBE, MATT)],
  ['tube lit over 100 degrees', of({ ...TUBE, litSectorDeg: 100 } as Emitter, MATT)],
  ['tube lit over 250 degrees', of({ ...TUBE, litSectorDeg: 250 } as Emitter, MATT)],
  ['globe', of({ shape: 'sphere', diameterM: 0.2 }, MATT)],
  [
    'strip of cells with black edges',
    of({ ...PANEL, cells: { count: 5, glowShare: 0.8, levels: [1, 0.2, 0, 1, 0.6] } } as Emitter, MATT, [
      { kind: 'blackEdges', leftM: 0.03, rightM: 0.05 },
    ]),
  ],
];

describe('candela by direction is what the kernel gives far away', () => {
  const FAR_M = 4000;
  test.each(KINDS)('%s', (_, one) => {
    const meter = meterOf({ sources: { one } });
    const { grid, figures: told } = spread(one);
    const { anglesRad } = grid.rows;
    let compared = 0;
    let lit = 0;
    for (let row = 0; row < anglesRad.length; row += 7) {
      const angle = anglesRad[row]!;
      // Straight aside a face is a step, or next to none.
      if (Math.abs(angle - Math.PI / 2) < 0.02) continue;
      for (let plane = 0; plane < 4; plane++) {
        const turn = (plane * Math.PI) / 2;
        const [along, out] = [Math.cos(angle), Math.sin(angle)];
        const towards = [along, -out * Math.cos(turn), out * Math.sin(turn)] as const;
        const at = towards.map((part) => part * FAR_M) as [number, number, number];
        const normal = towards.map((part) => -part) as [number, number, number];
        const candela = meter({ at, normal }) * FAR_M * FAR_M;
        const drawn = grid.values[row * 5 + plane]!;
        expect(Math.abs(candela - drawn) / told.peakCd, `${(angle * 180) / Math.PI} deg, ${plane}`).toBeLessThan(0.002);
        compared += 1;
        if (drawn > 0.05 * told.peakCd) lit += 1;
      }
    }
    expect(compared).toBeGreaterThan(200);
    expect(lit).toBeGreaterThan(15);
  });
});

describe('lumens', () => {
  const flux = (one: Lamp): number => figures(one).fluxLm;
  test.each([0, 1, 4, 40, 300])('power %d of the cosine: 2 pi I / (n + 1)', (exponent) => {
    expect(flux(of(DISC, { kind: 'cosinePower', exponent })) / ((2000 * Math.PI) / (exponent + 1))).toBeCloseTo(1, 9);
  });
  test('check value 1.3a, and faces, globes and tubes by their luminance', () => {
    const v = checkValue('1.3a');
    const one = of(DISC, { kind: 'cosinePower', exponent: input(v.inputs, 'n') }, [], {
      kind: 'candela',
      candela: input(v.inputs, 'I0_cd'),
    });
    expect(flux(one) / v.expected).toBeCloseTo(1, 6);
    // A matt skin of luminance L gives pi L lumens from each square metre.
    const bright: Output = { kind: 'luminance', luminanceCdM2: 2000 };
    const lit = (areaM2: number): number => Math.PI * 2000 * areaM2;
    expect(flux(of(PANEL, MATT, [], bright)) / lit(0.02)).toBeCloseTo(1, 9);
    expect(flux(of({ shape: 'sphere', diameterM: 0.2 }, MATT, [], bright)) / lit(Math.PI * 0.04)).toBeCloseTo(1, 9);
    expect(flux(of(TUBE, MATT, [], bright)) / lit(Math.PI * 0.03 * 0.3)).toBeCloseTo(1, 9);
    expect(flux(of({ shape: 'point' }, { kind: 'uniform' })) / (4000 * Math.PI)).toBeCloseTo(1, 9);
  });
  test.each([60, 100, 180, 250, 359])('a tube lit over %d degrees: pi L times the lit skin', (litSectorDeg) => {
    // The strips send 2 R l L sin(half) towards the aim, at most 2 R l L.
    const half = (litSectorDeg * Math.PI) / 360;
    const perSkin = 1000 / (2 * 0.015 * 0.3 * Math.sin(Math.min(half, Math.PI / 2)));
    const expected = Math.PI * perSkin * 2 * half * 0.015 * 0.3;
    expect(flux(of({ ...TUBE, litSectorDeg } as Emitter, MATT)) / expected).toBeCloseTo(1, 9);
  });
  test.each(['8.7g', '8.7h', '8.7i'])('an egg crate before a matt face, check value %s', (id) => {
    const overDepth = input(checkValue(id).inputs, 'w_over_d');
    const crate = { kind: 'eggCrate', cellM: 0.05, depthM: 0.05 / overDepth } as const;
    expect(flux(of(PANEL, MATT, [crate])) / flux(of(PANEL, MATT)) / checkValue(id).expected).toBeCloseTo(1, 3);
  });
  test('a flat field: 2 pi I (1 - cos a); two shutters: 4 atan of a slot less than the field', () => {
    const cone = 2000 * Math.PI * (1 - Math.cos(Math.PI / 10));
    expect(flux(of(DISC, FLAT_FIELD)) / cone).toBeCloseTo(1, 4);
    // Four cuts within the field leave a square of half a tangent each: 4 atan(w h / (2 d √(4 d² + w² + h²))).
    const t = Math.tan(Math.PI / 18);
    const shutters = [0, 90, 180, 270].map((turnDeg) => ({ offsetDeg: 10, turnDeg, edgeWidthDeg: 0.001 }));
    const square = 4000 * Math.atan((4 * t * t) / (2 * Math.sqrt(4 + 8 * t * t)));
    expect(flux(of(DISC, { ...FLAT_FIELD, shutters } as Distribution)) / square).toBeCloseTo(1, 2);
  });
  test('stated lumens come back', () => {
    for (const distribution of [MATT, FLAT_FIELD, { kind: 'beam', beamAngleDeg: 30, fieldAngleDeg: 55 } as const]) {
      expect(flux(of(DISC, distribution, [], { kind: 'lumens', lumens: 4321 }))).toBeCloseTo(4321, 6);
    }
  });
  test('a lens wide enough cuts nothing; a narrow one only takes', () => {
    const beam: Distribution = { kind: 'beam', beamAngleDeg: 40 };
    const wide = of(DISC, { ...LENS, lensDiameterM: 400 } as Distribution);
    expect(flux(wide) / flux(of(DISC, beam))).toBeCloseTo(1, 3);
    expect(angleOf(of(DISC, LENS), 'beam')).toBeLessThan(40);
  });
});

describe('beam and field angles', () => {
  test.each([1, 3, 20])('power %d of the cosine: 2 acos of the root of the share', (exponent) => {
    const one = of(DISC, { kind: 'cosinePower', exponent });
    const full = (share: number): number => (2 * Math.acos(share ** (1 / exponent)) * 180) / Math.PI;
    expect(angleOf(one, 'beam')).toBeCloseTo(full(0.5), 1);
    expect(angleOf(one, 'beam') - full(0.5)).toBeLessThan(0.01);
    expect(Math.abs(angleOf(one, 'field') - full(0.1))).toBeLessThan(0.01);
  });
  test.each([
    [4, 7],
    [26, 42],
    [60, 100],
  ])('a beam of %d and %d degrees says so', (beamAngleDeg, fieldAngleDeg) => {
    const one = of(DISC, { kind: 'beam', beamAngleDeg, fieldAngleDeg });
    expect(Math.abs(angleOf(one, 'beam') - beamAngleDeg)).toBeLessThan(0.01);
    expect(Math.abs(angleOf(one, 'field') - fieldAngleDeg)).toBeLessThan(0.01);
  });
  test('a projection spot has half its level at the field angle; a shutter narrows one plane', () => {
    const one: Distribution = { kind: 'projection', fieldAngleDeg: 30, edgeWidthDeg: 2 };
    expect(Math.abs(angleOf(of(DISC, one), 'beam') - 30)).toBeLessThan(0.01);
    const cut = of(DISC, { ...one, shutters: [{ offsetDeg: 5, turnDeg: 0, edgeWidthDeg: 1 }] } as Distribution);
    expect(Math.abs(figures(cut).planes[0]!.beam!.toDeg - 5)).toBeLessThan(0.02);
    expect(Math.abs(angleOf(cut, 'beam', 1) - 30)).toBeLessThan(0.01);
  });
  test('a tube: a cosine across its length, the same all round it', () => {
    const { planes } = figures(of(TUBE, MATT));
    expect(Math.abs(planes[0]!.beam!.toDeg - 60)).toBeLessThan(0.01);
    expect(planes[1]!.beam).toBeNull();
  });
});

describe('the part of a disc that a lens shows', () => {
  test.each([
    [0.1, 0.2, 1.5],
    [0.2, 0.1, 1.5],
    [0.15, 0.15, 0.7],
  ])('R %d, r %d, v %d: as counted by rings and turns', (lensRadiusM, radiusM, behindM) => {
    for (let tangent = 0; tangent < 0.4; tangent += 0.05) {
      const [rings, turns] = [400, 720];
      let seen = 0;
      for (let i = 0; i < rings; i++) {
        const out = radiusM * Math.sqrt((i + 0.5) / rings);
        for (let j = 0; j < turns; j++) {
          const turn = ((j + 0.5) * 2 * Math.PI) / turns;
          if (Math.hypot(out * Math.cos(turn) + behindM * tangent, out * Math.sin(turn)) <= lensRadiusM) seen += 1;
        }
      }
      expect(shareTowards({ lensRadiusM, radiusM, behindM }, tangent)).toBeCloseTo(seen / rings / turns, 2);
    }
  });
});

test('a lamp without light has no spread', () => {
  expect(lampSpread(of(DISC, MATT, [], { kind: 'candela', candela: 0 }), {})).toBeNull();
});
