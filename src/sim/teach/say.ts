/** Figures inside the sentences of a lesson, in the units that its scene is shown in. */
import type { SceneDocument } from '../../scene/schema';
import { formatAngle, formatIlluminance, formatLength } from '../../scene/units/format';

const MINUS = '\u2212';
const THIN = '\u2009';

/** What a figure counts, so that it can be shown in the units of the scene. */
export type Quantity = 'illuminance' | 'stops' | 'length' | 'fineLength' | 'candela' | 'angle' | 'percent' | 'step';

export interface Say {
  readonly lux: (illuminanceLx: number) => string;
  readonly length: (lengthM: number) => string;
  readonly fine: (lengthM: number) => string;
  /** "2.79 stops", without a sign. */
  readonly stops: (stops: number) => string;
  readonly candela: (candela: number) => string;
  readonly angle: (angleDeg: number) => string;
  readonly percent: (share: number) => string;
  readonly quantity: (quantity: Quantity, value: number) => string;
}

/** A number with a real minus and thin spaces from 10 000 on. */
export function decimal(value: number, decimals: number): string {
  const [whole = '', part] = Math.abs(value).toFixed(decimals).split('.');
  const digits = whole.length < 5 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, THIN);
  const text = part === undefined ? digits : `${digits}.${part}`;
  return value < 0 && /[1-9]/.test(text) ? `${MINUS}${text}` : text;
}

/** Stops to two decimals: a lesson tells 0.97 from 1. */
function stopsText(stops: number): string {
  const size = Math.abs(stops);
  if (size > 1e-9 && size < 0.005) return `under 0.01${THIN}stop`;
  return `${decimal(size, 2)}${THIN}${size < 1.005 ? 'stop' : 'stops'}`;
}

/** How figures of this scene are said. */
export function sayOf({ display }: SceneDocument): Say {
  const length = (lengthM: number): string => formatLength(lengthM, display?.length ?? 'metres');
  const fine = (lengthM: number): string => formatLength(lengthM, display?.length ?? 'metres', true);
  const lux = (illuminanceLx: number): string => formatIlluminance(illuminanceLx, display?.illuminance ?? 'lux');
  const candela = (value: number): string => `${decimal(value, value < 100 ? 1 : 0)}${THIN}cd`;
  const percent = (share: number): string => `${decimal(100 * share, 1)}${THIN}%`;
  const angle = (angleDeg: number): string => formatAngle(angleDeg, 'verdict');
  const step = (stops: number): string => `${decimal(stops, 2)} in 10${THIN}cm`;
  const by: Readonly<Record<Quantity, (value: number) => string>> = {
    illuminance: lux,
    stops: (stops) => (stops < 0 ? MINUS : '') + stopsText(stops),
    length,
    fineLength: fine,
    candela,
    angle,
    percent,
    step,
  };
  return {
    lux,
    length,
    fine,
    stops: stopsText,
    candela,
    angle,
    percent,
    quantity: (quantity, value) => by[quantity](value),
  };
}
