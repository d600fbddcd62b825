/** Check values 5, 8.1 to 8.4 and 8.7: exposure, filters, nets and egg crates. */
import { footcandlesFromLux, luxFromFootcandles } from '../../src/scene/units/convert';
import {
  exposureValue,
  illuminanceFromExposureValue,
  impliedIncidentConstant,
  impliedReflectance,
  incidentIlluminanceLx,
  matteLuminance,
  receptorResponse,
  reflectedLuminanceCdM2,
  shutterTimeS,
  stopForIlluminance,
  tStopFromFNumber,
} from '../../src/sim/exposure/exposure';
import { cosDeg, frameFromPose, sinDeg, toDegrees, toRadians } from '../../src/scene/geometry/frames';
import { cellShare, cutOffRad, diagonalCutOffRad, eggCrateOf, mattFluxShare } from '../../src/sim/photometry/eggCrate';
import {
  stopsFromDensity,
  stopsFromTransmittance,
  transmittanceFromStops,
  wireShareFromStops,
  wovenTransmittance,
} from '../../src/sim/photometry/filters';
import { bound, each } from './photometryLaws';

const FORTY_EIGHTH_S = 1 / 48;
const EXACT_F28 = 2 * Math.SQRT2;

export const exposureLaws = (): Record<string, () => number> =>
  bound({
    '5.1a': (v) => incidentIlluminanceLx(v('N'), FORTY_EIGHTH_S, v('ISO'), v('C')),
    ...each(['5.1b', '5.1c'], (v) => incidentIlluminanceLx(EXACT_F28, FORTY_EIGHTH_S, v('ISO'), v('C'))),
    ...each(['5.2a', '5.2b', '5.2c', '5.2d'], (v) =>
      stopForIlluminance(luxFromFootcandles(v('E_fc')), shutterTimeS(v('fps'), v('shutter_deg')), v('ISO'), v('C')),
    ),
    '5.2e': (v) => impliedIncidentConstant(luxFromFootcandles(v('E_fc')), EXACT_F28, FORTY_EIGHTH_S, 100),
    // The trade form fc = 25 T²/(ISO t), worked at T 1, ISO 1, 1 s.
    '5.2f': () => impliedIncidentConstant(luxFromFootcandles(25), 1, 1, 1),
    '5.2g': (v) => footcandlesFromLux(incidentIlluminanceLx(v('T'), FORTY_EIGHTH_S, v('ISO'), luxFromFootcandles(25))),
    '5.3a': (v) => exposureValue(v('E_lx'), v('ISO'), v('C')),
    '5.3b': (v) => illuminanceFromExposureValue(v('EV'), v('C')),
    // Sunny 16: f/16 at 1/ISO seconds.
    '5.3c': (v) => incidentIlluminanceLx(16, 1 / 100, 100, v('C')),
    '5.4a': (v) => reflectedLuminanceCdM2(v('N'), FORTY_EIGHTH_S, v('ISO'), v('K')),
    ...each(['5.4b', '5.4c', '5.4d'], (v) => impliedReflectance(v('K'), v('C'))),
    '5.4e': (v) => matteLuminance(v('rho'), v('E_lx')),
    '5.5a': (v) => exposureValue(v('E1_lx'), 100, 250) - exposureValue(v('E2_lx'), 100, 250),
    '5.5b': (v) => shutterTimeS(v('fps'), v('shutter_deg')),
    '5.5c': (v) => tStopFromFNumber(v('N'), v('tau')),
    '5.5d': (v) => footcandlesFromLux(v('E_lx')),
    '5.5e': (v) => receptorResponse('dome', cosDeg(v('angle_deg'))),
  });

const NET = frameFromPose({ positionM: [0, 0, 0], aim: { panDeg: 0, tiltDeg: 0 } });
/** Loss of the mesh whose wires cover `share` of the pitch. */
const meshStops = (share: number): number => stopsFromTransmittance((1 - share) ** 2);
const GRADE = { single: 0.5, double: 1 } as const;
const stackStops = (stack: unknown): number =>
  (stack as (keyof typeof GRADE)[]).reduce((sum, grade) => sum + GRADE[grade], 0);

export const filterLaws = (): Record<string, () => number> =>
  bound({
    ...each(['8.1a', '8.1b'], (v) => transmittanceFromStops(v('stops'))),
    '8.1c': (v) => stopsFromTransmittance(v('tau')),
    '8.1d': (v) => 1 / transmittanceFromStops(v('stops')),
    ...each(['8.2a', '8.2b', '8.2c'], (v) => stopsFromDensity(v('D'))),
    '8.3a': (_v, inputs) => transmittanceFromStops(stackStops(inputs.stack)),
    '8.3b': (v, inputs) => v('E_in_lx') * transmittanceFromStops(stackStops(inputs.stack)),
    '8.4a': (v) => wovenTransmittance(meshStops(v('wire') / v('pitch')), [0, 1, 0], NET),
    '8.4b': (v) =>
      wovenTransmittance(meshStops(v('wire') / v('pitch')), [sinDeg(v('tilt_deg')), cosDeg(v('tilt_deg')), 0], NET),
    '8.4c': (v) => wireShareFromStops(v('stops')),
    '8.7a': (v) => toDegrees(cutOffRad(v('depth_m') / v('cell_w_m'))),
    '8.7b': (v) => toDegrees(diagonalCutOffRad(v('depth_m') / v('cell_w_m'))),
    '8.7c': (v) => 2 * toDegrees(cutOffRad(v('depth_m') / v('cell_w_m'))),
    ...each(['8.7d', '8.7e', '8.7f'], (v) => {
      const lean = Math.tan(toRadians(v('theta_deg')));
      return cellShare(v('depth_m') / v('cell_w_m'), lean * cosDeg(v('phi_deg')), lean * sinDeg(v('phi_deg')));
    }),
    ...each(['8.7g', '8.7h', '8.7i'], (v) => mattFluxShare(1 / v('w_over_d'))),
    '8.7j': (v) => eggCrateOf(v('w_mm') / 1000, 0, v('t_mm') / 1000).open,
  });
