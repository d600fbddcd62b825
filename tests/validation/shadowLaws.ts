/** Check values 3: penumbra, and the tells of a near "sun". */
import { toDegrees, toRadians } from '../../src/scene/geometry/frames';
import {
  diamondVisibleFraction,
  discVisibleFraction,
  distanceForShaftFallOff,
  limbDarkenedVisibleFraction,
  openingDivergence,
  outerShadowWidth,
  patternGrowth,
  penumbraRatio,
  penumbraWidth,
  rectangleVisibleFraction,
  shaftFallOffStops,
  sunLikeDistance,
  sunPenumbraWidth,
  sunUmbraLength,
  tenToNinetyShare,
  tiltedPenumbraWidth,
  umbraLength,
  umbraWidth,
} from '../../src/sim/photometry/penumbra';
import { angularDiameterOfSphere, discSolidAngle, solarAngularDiameter } from '../../src/sim/photometry/solarDisc';
import { bound, each } from './photometryLaws';

/** The mean sun of check value 3.1a, used where an entry names no angle. */
const MEAN_SUN_RAD = solarAngularDiameter(1);

export const shadowLaws = (): Record<string, () => number> =>
  bound({
    ...each(['3.1a', '3.1b', '3.1c'], (v) => toDegrees(solarAngularDiameter(v('r_au'), v('semidiameter_arcsec')))),
    '3.1d': (v) => toDegrees(angularDiameterOfSphere(v('R_sun_km'), v('d_km'))),
    '3.1e': (v) => discSolidAngle(toRadians(v('diameter_deg'))),
    '3.2a': (v) => sunPenumbraWidth(toRadians(v('a_deg')), v('b_m')),
    ...each(['3.2b', '3.2c'], (v) => penumbraWidth(v('D_m'), v('a_source_to_edge_m'), v('b_edge_to_wall_m'))),
    '3.2d': (v) => sunLikeDistance(v('D_m'), MEAN_SUN_RAD),
    '3.2e': (v) => penumbraRatio(v('D_m'), v('a_m'), MEAN_SUN_RAD),
    '3.2f': (v) => Math.log2(penumbraRatio(v('D_m'), v('a_m'), MEAN_SUN_RAD)),
    ...each(['3.3a', '3.3c'], (v) => umbraWidth(v('W_m'), v('D_m'), v('a_m'), v('b_m'))),
    ...each(['3.3b', '3.3d'], (v) => outerShadowWidth(v('W_m'), v('D_m'), v('a_m'), v('b_m'))),
    '3.3e': (v) => umbraLength(v('W_m'), v('D_m'), v('a_m')),
    '3.3f': (v) => sunUmbraLength(v('W_m'), toRadians(v('a_deg'))),
    ...each(['3.4a', '3.4b', '3.4c', '3.4d'], (v) => discVisibleFraction(v('t'))),
    '3.4e': () => tenToNinetyShare(discVisibleFraction),
    '3.4f': (v) => rectangleVisibleFraction(2 * v('x_over_w')),
    '3.4g': (v) => diamondVisibleFraction(v('t')),
    '3.4h': (v) => limbDarkenedVisibleFraction(v('t'), v('u')),
    '3.4i': (v) => tenToNinetyShare((t) => limbDarkenedVisibleFraction(t, v('u'))),
    '3.5a': (v) => patternGrowth(v('a_m'), v('b_m')),
    '3.5b': (v) => shaftFallOffStops(v('a_m'), v('depth_m')),
    '3.5c': (v) => toDegrees(openingDivergence(v('W_m'), v('a_m'))),
    '3.5d': (v) => distanceForShaftFallOff(v('depth_m'), v('stops')),
    '3.5e': (v) => tiltedPenumbraWidth(v('w_m'), toRadians(v('i_deg'))),
  });
