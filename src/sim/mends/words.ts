/** Mends in words: what to do, where, what it leaves, what it costs. */
import type { SunCheck } from '../results';

/** Lengths to a decimal metre. */
export const metres = (value: number): string => `${value.toFixed(1)} m`;
export const centimetres = (value: number): string => `${Math.round(value * 100)} cm`;
export const degrees = (value: number): string => `${Math.round(value)}°`;
/** Stops to a decimal: "0.6 stop", "1.7 stops". */
export const stops = (value: number): string =>
  `${value.toFixed(1)} ${Number(value.toFixed(1)) > 1 ? 'stops' : 'stop'}`;

const FRACTIONS: readonly (readonly [number, string])[] = [
  [1 / 3, '1/3 stop'],
  [0.5, '1/2 stop'],
  [2 / 3, '2/3 stop'],
];
/** A grade or a limit as the trade writes it: "1/2 stop", "1 stop", "1 1/2 stops". */
export function gradeWords(value: number): string {
  const found = FRACTIONS.find(([fraction]) => Math.abs(value - fraction) < 1e-6);
  if (found) return found[1];
  if (Math.abs(value - 1) < 1e-6) return '1 stop';
  if (Math.abs(value - 1.5) < 1e-6) return '1 1/2 stops';
  return stops(value);
}

export function costWords(costStops: number): string {
  if (costStops > 0.05) return `costs ${stops(costStops)}`;
  return costStops < -0.05 ? `gains ${stops(-costStops)}` : 'costs no light';
}

/** What the mend leaves, of the worst surface: fall-off first, then how the lines or the light fan. */
export function leavesWords(check: SunCheck, fallOffBefore: number | null): string {
  const falloff = check.falloffStops;
  const before = fallOffBefore === null ? '' : ` of ${stops(fallOffBefore)}`;
  const left = falloff === null ? '' : fallOffBefore === null ? stops(falloff) : `${falloff.toFixed(1)}${before}`;
  if (check.lineFanDeg !== null) return `leaves ${left}, the lines fan ${degrees(check.lineFanDeg)}`;
  return check.fanDeg === null ? `leaves ${left}` : `leaves ${left}, the light fans ${degrees(check.fanDeg)}`;
}

export const counted = (count: number): string => ['No', 'One', 'Two', 'Three', 'Four'][count] ?? String(count);
