/**
 * Rows for a window's slats: a wall at x = 0 that faces a window wall at x = 2, sources beyond it at larger x. Bands of light
 * and shadow lie where similar triangles put them; a far source is shut out from the cut-off angle on.
 */
import type { Blind } from '../../src/scene/geometry/blindSlats';
import type { Source, Surface } from '../../src/scene/schema';
import type { Vec3 } from '../../src/scene/geometry/vector';
import { checkValue, input, makeRow, rowOf, type Row } from './row';
import { crossing, facing, meterOf, pointLamp, sunTowardsX } from './scenes';

const RADIAN = Math.PI / 180;
const TOPIC = '3 Slatted blinds';
const WALL: Vec3 = [1, 0, 0];
const WINDOW_X_M = 2;
const SILL_M = 1;
const HEAD_M = 2;

/** A window 1 m square, 0.3 m deep in its wall, whose blind it is; the wall faces -x, so that its depth runs along +x. */
export function windowWall(blind: Blind | null, thicknessM = 0.3): Surface {
  const shape = { kind: 'rectangle', widthM: 1, heightM: HEAD_M - SILL_M } as const;
  const window = { columns: 1, rows: 1, barWidthM: 0, ...(blind && { blind }) };
  return {
    name: 'Window wall',
    kind: 'wall',
    pose: facing([WINDOW_X_M, 3, 0], 270, 0),
    shape: { kind: 'rectangle', widthM: 6, heightM: 4 },
    thicknessM,
    openings: { one: { leftM: 2.5, sillM: SILL_M, shape, window } },
  };
}

/** Share of the light through the bare window that reaches the wall at height z behind the blind. */
export function shareBehind(source: Source, blind: Blind, thicknessM?: number): (z: number) => number {
  const through = (hung: Blind | null) =>
    meterOf({ sources: { lamp: source }, surfaces: { window: windowWall(hung, thicknessM) } });
  const [bare, shaded] = [through(null), through(blind)];
  return (z) => {
    const probe = { at: [0, 0, z] as Vec3, normal: WALL };
    return shaded(probe) / bare(probe);
  };
}

/** A sun so small that its edges are sharp, `altitudeDeg` over the horizon square on to the window. */
export const sharpSun = (altitudeDeg: number): Source => ({ ...sunTowardsX(1e-6), altitudeDeg });

const LAMP_X_M = 7;
const LAMP_Z_M = 2.4;

/** Where a slat's edge at (x, z) throws its shadow from the point lamp on the wall, by similar triangles. */
const thrown = (x: number, z: number): number => LAMP_Z_M - ((LAMP_Z_M - z) * LAMP_X_M) / (LAMP_X_M - x);

/** Level slats 60 mm wide, 100 mm apart, their middles 0.1 m deep: the fifth hangs 0.45 m under the head. */
function bandRows(): Row[] {
  const blind = { pitchM: 0.1, slatWidthM: 0.06, tiltDeg: 0, depthM: 0.1 };
  const share = shareBehind(pointLamp([LAMP_X_M, 0, LAMP_Z_M], 1000), blind);
  const slatZ = HEAD_M - 0.45;
  const x = WINDOW_X_M + blind.depthM;
  const [far, near] = [thrown(x + 0.03, slatZ), thrown(x - 0.03, slatZ)];
  const shut = (far + near) / 2;
  const source = 'similar triangles, lamp over edge; the ray back from the wall meets the slat between its edges';
  const row = (id: string, measured: number, expected: number): Row =>
    makeRow({
      id,
      topic: TOPIC,
      source,
      unit: 'm',
      measured,
      expected,
      tolerance: { type: 'abs', value: 1e-6 },
      tests: 'kernel',
    });
  return [
    row('slat shadow, lower edge', crossing(share, 0.5, shut - 0.03, shut), Math.min(far, near)),
    row('slat shadow, upper edge', crossing(share, 0.5, shut, shut + 0.03), Math.max(far, near)),
  ];
}

/**
 * Cut-off angles: light that comes down more steeply is shut out. A channel between two slats is the same seen from either
 * end, so that the last ray to pass goes through its middle; tan a = (p + w sin t) / (w cos t).
 */
function cutOffRows(): Row[] {
  return [
    { tiltDeg: 0, pitchM: 0.045 },
    { tiltDeg: 20, pitchM: 0.03 },
    { tiltDeg: -25, pitchM: 0.05 },
  ].map(({ tiltDeg, pitchM }) => {
    const blind = { pitchM, slatWidthM: 0.06, tiltDeg, depthM: 0.1 };
    const gapZ = HEAD_M - 10 * pitchM;
    const passes = (altitudeDeg: number): number => {
      const fallM = (WINDOW_X_M + blind.depthM) * Math.tan(altitudeDeg * RADIAN);
      return shareBehind(sharpSun(altitudeDeg), blind)(gapZ - fallM);
    };
    const expected = Math.atan2(pitchM + 0.06 * Math.sin(tiltDeg * RADIAN), 0.06 * Math.cos(tiltDeg * RADIAN)) / RADIAN;
    return makeRow({
      id: `cut-off, slats tilted ${tiltDeg}`,
      topic: TOPIC,
      source: 'parallel slats: w sin(a - t) = p cos a, and from the corners of a channel (p + w sin t)/(w cos t)',
      unit: 'deg',
      measured: crossing(passes, 0.5, expected - 5, expected + 5),
      expected,
      tolerance: { type: 'abs', value: 0.001 },
      tests: 'kernel',
    });
  });
}

/** The sun past one slat's edge: the share of its disc that is left, by the check values of a disc behind an edge. */
function sunRows(): Row[] {
  const blind = { pitchM: 0.2, slatWidthM: 0.1, tiltDeg: 90, depthM: 0.1 };
  const share = shareBehind(sunTowardsX(0.533), blind);
  // Upright slats, the sun level: the second's lower edge is 0.35 m under the head, 2.1 m before the wall.
  const halfWidthM = (WINDOW_X_M + blind.depthM) * Math.tan(0.2665 * RADIAN);
  return ['3.4a', '3.4b', '3.4c', '3.4d'].map((id) => {
    const measured = share(HEAD_M - 0.35 - input(checkValue(id).inputs, 't') * halfWidthM);
    return { ...rowOf(id, measured, 'kernel', { type: 'rel', value: 0.005 }), id: `${id} at a slat`, topic: TOPIC };
  });
}

export const blindRows = (): Row[] => [...bandRows(), ...cutOffRows(), ...sunRows()];
