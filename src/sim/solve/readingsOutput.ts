/** Output of a lamp from the crew's own meter readings, and the virtual origin that goes with it. */
import type { Emitter, Lamp } from '../../scene/schema';
import { fitReadings, type FitResult, type Reading } from '../photometry/fitReadings';
import { virtualDisc } from './lensedSpot';

/** Readings nearer than this many times the emitter's widest size do not follow the law. */
const NEAR_ZONE = 5;

function widestM(emitter: Emitter): number {
  switch (emitter.shape) {
    case 'point':
      return 0;
    case 'rectangle':
      return Math.hypot(emitter.widthM, emitter.heightM);
    case 'tube':
      return emitter.lengthM;
    default:
      return emitter.diameterM;
  }
}

/** Beams and webs come from optics that may have their origin behind the front; an evenly bright face has not. */
const mayHaveOrigin = ({ distribution }: Pick<Lamp, 'distribution'>): boolean =>
  distribution.kind === 'web' || (distribution.kind === 'beam' && distribution.virtualOriginM === undefined);

/** Virtual origin that the lamp itself tells: as typed, or by its lens; m. */
function givenOriginM({ distribution }: Pick<Lamp, 'distribution'>): number | undefined {
  if (distribution.kind === 'lensed') return virtualDisc(distribution).behindM;
  return distribution.kind === 'beam' ? distribution.virtualOriginM : undefined;
}

const known = new WeakMap<Lamp, FitResult>();

/**
 * The fit of a lamp's readings; null where its output is told otherwise.
 * Readings in the near zone of a bare face are left out where there are others beyond it.
 * @source five-times rule: ANSI/IES LS-1, photometric distance
 */
export function fitOfLamp(lamp: Lamp): FitResult | null {
  if (lamp.output.kind !== 'readings') return null;
  let fit = known.get(lamp);
  if (!fit) {
    const { readings } = lamp.output;
    if (mayHaveOrigin(lamp)) fit = fitReadings(readings);
    else {
      const far = readings.filter(({ distanceM }) => distanceM >= NEAR_ZONE * widestM(lamp.emitter));
      const originM = givenOriginM(lamp) ?? 0;
      fit = fitReadings(far.length > 0 ? far : readings, { originM });
    }
    known.set(lamp, fit);
  }
  return fit;
}

/** Candela on the axis by the readings. Where they rise with distance the farthest speaks: there the law holds best. */
export function candelaByReadings(lamp: Lamp, readings: readonly Reading[]): number {
  const fit = fitOfLamp(lamp);
  if (fit?.ok) return fit.candela.value;
  const far = readings.reduce((a, b) => (b.distanceM > a.distanceM ? b : a));
  return far.illuminanceLx * far.distanceM ** 2;
}

/** Distance of a lamp's virtual origin behind its lens, m: given, or fitted to its readings. */
export function virtualOriginOf(lamp: Lamp): number {
  const given = givenOriginM(lamp);
  if (given !== undefined) return given;
  const fit = mayHaveOrigin(lamp) ? fitOfLamp(lamp) : null;
  return fit?.ok ? fit.originM.value : 0;
}
