/** Check values 1 and 2: point sources, beams, Lambertian emitters. */
import { footcandlesFromLux, luxFromFootcandles } from '../../src/scene/units/convert';
import { toRadians } from '../../src/scene/geometry/frames';
import { normalise, type Vec3 } from '../../src/scene/geometry/vector';
import {
  coneSolidAngle,
  cosinePowerExponent,
  cosinePowerFlux,
  cosinePowerFluxWithin,
  cosinePowerHalfAngle,
  cosinePowerPeak,
  poolWidth,
  rectangleSolidAngle,
  uniformSpotIntensity,
} from '../../src/sim/photometry/beams';
import {
  discIlluminanceOnAxis,
  discIlluminanceParallel,
  discIlluminancePerpendicular,
  lineIlluminance,
  pointIlluminance,
  rectangleFactorParallel,
  rectangleFactorPerpendicular,
  sphereIlluminance,
  tubeIlluminance,
  uniformPolygonIlluminance,
  type LineCase,
} from '../../src/sim/photometry/closedForms';
import { checkValue, input, type Inputs } from './row';

type Law = (value: (name: string) => number, inputs: Inputs) => number;

/** Binds each law to the inputs of its check value. */
export function bound(laws: Readonly<Record<string, Law>>): Record<string, () => number> {
  return Object.fromEntries(
    Object.entries(laws).map(([id, law]) => {
      const { inputs } = checkValue(id);
      return [id, () => law((name) => input(inputs, name), inputs)];
    }),
  );
}
export const each = (ids: readonly string[], law: Law): Record<string, Law> =>
  Object.fromEntries(ids.map((id) => [id, law]));

const METRES_PER_FOOT = 0.3048;
const UP: Vec3 = [0, 0, 1];
const ORIGIN: Vec3 = [0, 0, 0];

const pointLaws: Record<string, Law> = {
  ...each(['1.1a', '1.1b'], (v) => pointIlluminance(v('I_cd'), v('d_m'), toRadians(v('incidence_deg')))),
  '1.1c': (v) => footcandlesFromLux(pointIlluminance(v('I_cd'), v('d_ft') * METRES_PER_FOOT, 0)),
  '1.1d': (v) => luxFromFootcandles(v('fc')),
  '1.2a': (v) => pointIlluminance(v('I_cd'), Math.hypot(v('h_m'), v('r_m')), Math.atan2(v('r_m'), v('h_m'))),
  '1.2b': (v) => pointIlluminance(v('I_cd'), Math.hypot(v('h_m'), v('r_m')), Math.atan2(v('h_m'), v('r_m'))),
  '1.2c': (v) => v('I_cd') * coneSolidAngle(Math.atan2(v('R_m'), v('h_m'))),
};

const beamLaws: Record<string, Law> = {
  ...each(['1.3a', '1.3b', '1.3c'], (v) => cosinePowerFlux(v('I0_cd'), v('n'))),
  '1.3d': (v) => cosinePowerExponent(toRadians(v('beam_full_angle_50pct_deg') / 2)),
  '1.3e': (v) => {
    const exponent = cosinePowerExponent(toRadians(v('beam_full_angle_50pct_deg') / 2));
    return (2 * cosinePowerHalfAngle(exponent, v('level')) * 180) / Math.PI;
  },
  '1.3f': (v) => cosinePowerPeak(v('flux_lm'), cosinePowerExponent(toRadians(v('beam_full_angle_50pct_deg') / 2))),
  '1.3g': (v) => cosinePowerFluxWithin(v('I0_cd'), v('n'), toRadians(v('cone_half_angle_deg'))),
  '1.4a': (v) => uniformSpotIntensity(v('flux_lm'), toRadians(v('cone_full_angle_deg') / 2)),
  '1.4b': (v) => rectangleSolidAngle(v('w_m'), v('h_m'), v('d_m')),
  '1.4c': (v) => poolWidth(v('d_m'), toRadians(v('full_angle_deg'))),
};

/** A w x h panel, parallel, seen from a foot point `offset` beside its centre: four corner rectangles. */
function panelFactor(widthM: number, heightM: number, distanceM: number, offsetM = 0): number {
  const part = (sideM: number) => Math.sign(sideM) * rectangleFactorParallel(Math.abs(sideM), heightM / 2, distanceM);
  return 2 * (part(widthM / 2 + offsetM) + part(widthM / 2 - offsetM));
}

const faceLaws: Record<string, Law> = {
  ...each(['2.1a', '2.1b', '2.1c', '2.1d'], (v) => discIlluminanceOnAxis(v('L_cd_m2'), v('R_m'), v('d_m'))),
  '2.1e': (v) => discIlluminanceOnAxis(v('L_cd_m2'), v('R_m'), v('d_m'), toRadians(v('tilt_deg'))),
  ...each(['2.2a', '2.2b', '2.2c'], (v) => discIlluminanceParallel(v('L_cd_m2'), v('R_m'), v('h_m'), v('r_m'))),
  ...each(['2.2d', '2.2e'], (v) => discIlluminancePerpendicular(v('L_cd_m2'), v('R_m'), v('h_m'), v('r_m'))),
  ...each(['2.3a', '2.3b', '2.3c'], (v) => rectangleFactorParallel(v('a_m'), v('b_m'), v('c_m'))),
  '2.3d': (v) => Math.PI * v('L_cd_m2') * panelFactor(v('w_m'), v('h_m'), v('d_m')),
  '2.3e': (v) => Math.PI * v('L_cd_m2') * panelFactor(v('w_m'), v('h_m'), v('d_m'), v('offset_x_m')),
  ...each(['2.4a', '2.4b', '2.4c'], (v) =>
    rectangleFactorPerpendicular(v('a_height_m'), v('b_width_m'), v('c_dist_m')),
  ),
  ...each(['2.5a', '2.5c', '2.5d'], (v, inputs) =>
    uniformPolygonIlluminance(v('L_cd_m2'), inputs.vertices_m as Vec3[], ORIGIN, UP),
  ),
  '2.5b': (v, inputs) =>
    uniformPolygonIlluminance(v('L_cd_m2'), inputs.vertices_m as Vec3[], ORIGIN, normalise([0.3, -0.2, 1])),
};

const roundLaws: Record<string, Law> = {
  ...each(['2.6a', '2.6b', '2.6c', '2.6d', '2.6e', '2.6f'], (v) => {
    const angle = toRadians(v('theta_deg'));
    const centre: Vec3 = [v('d_center_m') * Math.sin(angle), 0, v('d_center_m') * Math.cos(angle)];
    return sphereIlluminance(v('L_cd_m2'), centre, v('R_m'), ORIGIN, UP);
  }),
  ...Object.fromEntries(
    (
      [
        ['2.7a', 'facing'],
        ['2.7c', 'alongLine'],
        ['2.7e', 'facingIsotropic'],
      ] as [string, LineCase][]
    ).map(([id, lineCase]): [string, Law] => [
      id,
      (v) => lineIlluminance(v('Iprime_cd_per_m'), v('l_m'), v('d_m'), lineCase),
    ]),
  ),
  '2.7b': (v) => 2 * lineIlluminance(v('Iprime_cd_per_m'), v('l_m') / 2, v('d_m')),
  '2.7d': (v) => 2 * lineIlluminance(v('Iprime_cd_per_m'), Infinity, v('d_m')),
  ...each(['2.8a', '2.8b', '2.8c'], (v) => tubeIlluminance(v('L_cd_m2'), v('r_m'), v('l_m'), v('h_from_axis_m'))),
  '2.8d': (v) => 2 * tubeIlluminance(v('L_cd_m2'), v('r_m'), v('l_m') / 2, v('h_from_axis_m')),
};

/** By how much, in percent, I/d² over-reads a source whose illuminance is `illuminanceLx`. */
const overReading = (intensityCd: number, distanceM: number, illuminanceLx: number): number =>
  100 * (pointIlluminance(intensityCd, distanceM, 0) / illuminanceLx - 1);

const FIVE_TIMES = [1, 2, 3, 5, 10] as const;
const square = (distanceM: number): number => overReading(1, distanceM, Math.PI * panelFactor(1, 1, distanceM));
const fiveTimesLaws: Record<string, Law> = Object.fromEntries(
  FIVE_TIMES.flatMap((times): [string, Law][] => [
    [
      `2.9-disc-${times}`,
      (v) => overReading(Math.PI / 4, v('d_over_diameter'), discIlluminanceOnAxis(1, 0.5, v('d_over_diameter'))),
    ],
    [`2.9-square-${times}`, (v) => square(v('d_over_side'))],
    [`2.9-squarediag-${times}`, (v) => square(v('d_over_diagonal') * Math.SQRT2)],
    [`2.9-line-${times}`, (v) => overReading(1, v('d_over_length'), 2 * lineIlluminance(1, 0.5, v('d_over_length')))],
  ]),
);

export const photometryLaws = (): Record<string, () => number> =>
  bound({ ...pointLaws, ...beamLaws, ...faceLaws, ...roundLaws, ...fiveTimesLaws });
