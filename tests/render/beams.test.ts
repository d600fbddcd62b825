import { describe, expect, it } from 'vitest';
import { beamFigure, halfAnglesOf, litFans, returnedRays } from '../../src/render/beamGeometry';
import { castRay, type RayHit } from '../../src/render/raycast';
import { dot, normalise, subtract } from '../../src/scene/geometry/vector';
import { lm63, steps } from '../files/photometry/compose';
import { room, thingsOfRoom, withFlag, withLamp } from './scene';

const figureOf = (things = thingsOfRoom()): ReturnType<typeof beamFigure> =>
  beamFigure(things, things.lamps[0]!, things.lamps[0]!.frame.right, 20);

describe('half angles', () => {
  it('of a bare cosine source: 50 % at acos(0.5), the 10 % edge too wide to draw', () => {
    expect(halfAnglesOf({ kind: 'lambertian' })!.beamDeg).toBeCloseTo(60, 9);
    expect(halfAnglesOf({ kind: 'lambertian' })!.fieldDeg).toBeNull();
  });
  it('of cos n: acos(s^(1/n))', () => {
    // cos^4: 0.5^(1/4) = 0.840896, acos 32.765°; 0.1^(1/4) = 0.562341, acos 55.783°.
    const angles = halfAnglesOf({ kind: 'cosinePower', exponent: 4 })!;
    expect(angles.beamDeg).toBeCloseTo(32.765, 3);
    expect(angles.fieldDeg).toBeCloseTo(55.783, 2);
  });
  it('of a beam and of a projection spot: half of the full angles as they are typed', () => {
    expect(halfAnglesOf({ kind: 'beam', beamAngleDeg: 26, fieldAngleDeg: 40 })).toEqual({ beamDeg: 13, fieldDeg: 20 });
    expect(halfAnglesOf({ kind: 'projection', fieldAngleDeg: 36, edgeWidthDeg: 1.5 })).toEqual({
      beamDeg: 18,
      fieldDeg: null,
    });
  });
  it('are none for light that leaves evenly', () => {
    expect(halfAnglesOf({ kind: 'uniform' })).toBeNull();
  });
});

describe('a photometric file', () => {
  // In the level plane 100 cd at 20 degrees to the right (seen from behind), 4 a degree less off it: half at 7.5 and 32.5,
  // a tenth at -2.5 and 42.5. Upright: 20 cd at most, so a field and no beam.
  const text = lm63({
    type: 2,
    verticalDeg: [-90, -45, -20, 0, 20, 45, 90],
    horizontalDeg: steps(-90, 90, 2.5),
    intensity: (v, h) => Math.max(0, 100 - 4 * Math.abs(h - 20)) * Math.max(0, 1 - Math.abs(v) / 45),
  });
  const withWeb = {
    ...withLamp({ distribution: { kind: 'web', webId: 'quay' } }),
    webs: { quay: { name: 'Quay', text } },
  };
  const things = thingsOfRoom(withWeb);
  const lamp = things.lamps[0]!;
  const anglesOf = (ends: readonly RayHit[]): number[] =>
    ends.map(({ atM }) => {
      const ray = normalise(subtract(atM, lamp.lamp.pose.positionM));
      // The frame's right is as seen by somebody who looks at the lamp: the other way round.
      return (Math.atan2(-dot(ray, lamp.frame.right), dot(ray, lamp.frame.forward)) * 180) / Math.PI;
    });
  it('draws each side at its own angle, to the right as seen from behind', () => {
    const figure = beamFigure(things, lamp, lamp.frame.right, 20);
    expect(anglesOf(figure.beam).sort((a, b) => a - b)).toEqual([expect.closeTo(7.5, 6), expect.closeTo(32.5, 6)]);
    expect(anglesOf(figure.field).sort((a, b) => a - b)).toEqual([expect.closeTo(-2.5, 6), expect.closeTo(42.5, 6)]);
    expect(figure.halfBeamDeg).toBeCloseTo(32.5, 9);
    expect(figure.cone).toHaveLength(81);
  });
  it('draws no beam in a plane that never reaches half of the peak', () => {
    const figure = beamFigure(things, lamp, lamp.frame.up, 20);
    expect(figure.beam).toEqual([]);
    expect(figure.cone).toEqual([]);
    expect(figure.field).toHaveLength(2);
  });
});

describe('beams stop at what blocks them', () => {
  it('the axis goes through the window to the far wall, the edges end on the outer face', () => {
    const figure = figureOf();
    expect(figure.axis.surfaceId).toBe('east');
    expect(figure.axis.atM[0]).toBeCloseTo(9, 9);
    expect(figure.axis.passed).toEqual(['west/window']);
    for (const edge of figure.beam) {
      expect(edge.surfaceId).toBe('west');
      expect(edge.atM[0]).toBeCloseTo(-0.3, 9);
    }
    // 20° beside the axis, 3.7 m off: 3.7 tan 20° = 1.347 m.
    expect(figure.beam.map((edge) => Math.abs(edge.atM[1] - 2.6))).toEqual([
      expect.closeTo(1.347, 3),
      expect.closeTo(1.347, 3),
    ]);
  });
  it('a ray that enters the window at a slant ends on the reveal', () => {
    const things = thingsOfRoom();
    // Crosses the outer face 0.05 m inside the north jamb (y = 3.2) going 45° north: meets the jamb 0.05 m deeper.
    const hit = castRay(things, [-1.3, 2.15, 1.5], [Math.SQRT1_2, Math.SQRT1_2, 0], 20);
    expect(hit.surfaceId).toBe('west');
    expect(hit.atM[0]).toBeCloseTo(-0.25, 9);
    expect(hit.atM[1]).toBeCloseTo(3.2, 9);
  });
  it('the filled cone is only what passes the window', () => {
    const fans = litFans(figureOf());
    expect(fans).toHaveLength(1);
    for (const ray of fans[0]!) expect(ray.atM[0]).toBeGreaterThan(-0.3);
  });
  it('a flag stops the axis, a net would not', () => {
    expect(figureOf(thingsOfRoom(withFlag())).axis.modifierId).toBe('flag');
    const setup = withFlag().setups[0]!;
    const net = { ...setup.modifiers['flag']!, material: { kind: 'net' as const, stops: 1 } };
    const netted = { ...withFlag(), setups: [{ ...setup, modifiers: { flag: net } }] };
    expect(figureOf(thingsOfRoom(netted)).axis.modifierId).toBeNull();
  });
  it('a lamp that is off has an axis but no beam', () => {
    const figure = figureOf(thingsOfRoom(withLamp({ off: true })));
    expect(figure.beam).toHaveLength(0);
    expect(figure.cone).toHaveLength(0);
    expect(figure.axis.surfaceId).toBe('east');
  });
});

describe('a mirror in the beam', () => {
  const facing = (panDeg: number): ReturnType<typeof thingsOfRoom> => {
    const setup = withFlag().setups[0]!;
    const flag = setup.modifiers['flag']!;
    const material = { kind: 'mirror' as const, reflectance: 0.9 };
    const pose = { ...flag.pose, aim: { panDeg, tiltDeg: 0 } };
    return thingsOfRoom({ ...room, setups: [{ ...setup, modifiers: { flag: { ...flag, pose, material } } }] });
  };
  it('sends the axis on by the law of reflection: 45° turns east to south', () => {
    const things = facing(225);
    const { axis, edges } = returnedRays(things, figureOf(things), 20);
    expect(axis!.fromM).toEqual([expect.closeTo(-3, 9), expect.closeTo(2.6, 9), expect.anything()]);
    expect(axis!.atM[0]).toBeCloseTo(-3, 9);
    expect(axis!.atM[1]).toBeCloseTo(2.6 - 20, 9);
    expect(edges).toHaveLength(2);
    // The outer rays start on the glass, 0.2 m wide, and part as they did before it: never nearer than at the glass.
    const gap = (end: 'fromM' | 'atM'): number => Math.abs(edges[0]![end][0] - edges[1]![end][0]);
    expect(gap('fromM')).toBeLessThanOrEqual(0.2);
    expect(gap('atM')).toBeGreaterThan(gap('fromM'));
  });
  it('sends nothing on from its back, nor does a flag', () => {
    const back = facing(45);
    expect(returnedRays(back, figureOf(back), 20)).toEqual({ axis: null, edges: [] });
    const flagged = thingsOfRoom(withFlag());
    expect(returnedRays(flagged, figureOf(flagged), 20)).toEqual({ axis: null, edges: [] });
  });
});
