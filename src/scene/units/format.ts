/**
 * From SI numbers to what people read. A real minus sign, a thin space before units except ° and ′ ″, a decimal point.
 * What has no number prints as "-".
 */
import { footcandlesFromLux, METRES_PER_INCH, type IlluminanceUnit, type LengthUnit } from './convert';

const MINUS = '\u2212';
const THIN = '\u2009';
const NONE = '-';
const THIRDS = ['', '1/3', '2/3'] as const;
const QUARTERS = ['', '1/4', '1/2', '3/4'] as const;

const signed = (text: string, negative: boolean): string => (negative ? `${MINUS}${text}` : text);
/** Digits in threes with thin spaces, from 10 000 on. */
const grouped = (digits: string): string => (digits.length < 5 ? digits : digits.replace(/\B(?=(\d{3})+$)/g, THIN));
/** A whole number and a fraction: "20", "2/3", "2 2/3". */
const mixed = (whole: number, fraction: string): string =>
  fraction === '' ? String(whole) : whole === 0 ? fraction : `${whole} ${fraction}`;

/** `value` to some significant figures, without an exponent; never with more than three decimals. */
function significant(value: number, figures: number): string {
  // Rounded before its size is taken: 9.97 to two figures is 10, not 10.0.
  const rounded = Number(value.toPrecision(figures));
  const decimals = figures - 1 - Math.floor(Math.log10(rounded));
  return decimals > 0 ? rounded.toFixed(Math.min(3, decimals)) : grouped(rounded.toFixed(0));
}

function luxText(illuminanceLx: number): string {
  if (illuminanceLx === 0) return '0';
  if (illuminanceLx < 0.0005) return 'under 0.001';
  return significant(illuminanceLx, illuminanceLx < 100 ? 2 : 3);
}
function footcandleText(footcandles: number): string {
  if (footcandles === 0) return '0';
  if (footcandles < 0.05) return 'under 0.1';
  return footcandles < 9.95 ? footcandles.toFixed(1) : grouped(String(Math.round(footcandles)));
}

/** Illuminance: "1060 lx", "99 lx", "12 300 lx"; footcandles whole from 10: "99 fc", "3.2 fc". */
export function formatIlluminance(illuminanceLx: number, unit: IlluminanceUnit): string {
  if (!Number.isFinite(illuminanceLx) || illuminanceLx < 0) return NONE;
  return unit === 'lux'
    ? `${luxText(illuminanceLx)}${THIN}lx`
    : `${footcandleText(footcandlesFromLux(illuminanceLx))}${THIN}fc`;
}

/** Exposure in thirds of a stop, with its sign: "+2 2/3", "−1/3", "0". */
export function formatStops(stops: number): string {
  if (!Number.isFinite(stops)) return NONE;
  const thirds = Math.round(Math.abs(stops) * 3);
  if (thirds === 0) return '0';
  return `${stops < 0 ? MINUS : '+'}${mixed(Math.floor(thirds / 3), THIRDS[thirds % 3] ?? '')}`;
}

/** Engraved number of a full stop, counted from T1: 0 is 1, 1 is 1.4, 5 is 5.6, 9 is 22 (series of ISO 517). */
function fullStopText(stopsFromOne: number): string {
  const exact = 2 ** (stopsFromOne / 2);
  if (stopsFromOne % 2 === 0) return String(exact);
  // The series cuts its odd members to two figures; it does not round them (5.657 is 5.6, 22.63 is 22).
  const step = 10 ** (Math.floor(Math.log10(exact)) - 1);
  return String(Number((Math.floor(exact / step) * step).toPrecision(2)));
}
/** Below this no lens is made, and the figures of a dark place would be many. */
const LEAST_T_STOP = 0.1;
/** T-stop as full stop and thirds: "T5.6 2/3", "T4"; "under T0.1" below that. */
export function formatTStop(tStop: number): string {
  if (!Number.isFinite(tStop) || tStop <= 0) return NONE;
  if (tStop < LEAST_T_STOP) return `under T${LEAST_T_STOP}`;
  const thirds = Math.round(6 * Math.log2(tStop));
  const full = Math.floor(thirds / 3);
  const fraction = THIRDS[thirds - full * 3] ?? '';
  return `T${fullStopText(full)}${fraction === '' ? '' : ` ${fraction}`}`;
}

function feetText(lengthM: number): string {
  const quarters = Math.round(Math.abs(lengthM) / (METRES_PER_INCH / 4));
  const feet = Math.floor(quarters / 48);
  const inches = Math.floor((quarters % 48) / 4);
  const fraction = QUARTERS[quarters % 4] ?? '';
  const inchText = inches === 0 && fraction === '' ? '' : `${mixed(inches, fraction)}″`;
  const text = feet === 0 ? inchText || '0″' : inchText === '' ? `${feet}′` : `${feet}′ ${inchText}`;
  return signed(text, lengthM < 0 && quarters > 0);
}

/**
 * Length: "6.24 m", or "72 mm" for walls and edges (`fine`); "20′ 5 3/4″" in feet, to a quarter inch.
 */
export function formatLength(lengthM: number, unit: LengthUnit, fine = false): string {
  if (!Number.isFinite(lengthM)) return NONE;
  if (unit === 'feet') return feetText(lengthM);
  const text = fine ? Math.round(Math.abs(lengthM) * 1000).toFixed(0) : Math.abs(lengthM).toFixed(2);
  const digits = signed(fine ? grouped(text) : text, lengthM < 0 && Number(text) > 0);
  return `${digits}${THIN}${fine ? 'mm' : 'm'}`;
}

/** Angle: to a tenth in fields ("26.0°"), to a degree in verdicts ("14°"). */
export function formatAngle(angleDeg: number, use: 'field' | 'verdict' = 'field'): string {
  if (!Number.isFinite(angleDeg)) return NONE;
  const text = Math.abs(angleDeg).toFixed(use === 'field' ? 1 : 0);
  return signed(`${text}°`, angleDeg < 0 && Number(text) > 0);
}

/** Colour temperature to 10 K: "4380 K". */
export const formatCct = (cctK: number): string =>
  Number.isFinite(cctK) && cctK > 0 ? `${grouped(String(Math.round(cctK / 10) * 10))}${THIN}K` : NONE;

/** Mired difference, whole, with its sign: "+72 mired". */
export function formatMired(mired: number): string {
  if (!Number.isFinite(mired)) return NONE;
  const whole = Math.round(Math.abs(mired));
  return `${whole === 0 ? '' : mired < 0 ? MINUS : '+'}${whole}${THIN}mired`;
}

/** Duv to three decimals with its sign: "+0.002". */
export function formatDuv(duv: number): string {
  if (!Number.isFinite(duv)) return NONE;
  const text = Math.abs(duv).toFixed(3);
  return `${Number(text) === 0 ? '' : duv < 0 ? MINUS : '+'}${text}`;
}

/** Share as a whole percentage: "50 %". */
export const formatPercent = (share: number): string =>
  Number.isFinite(share) ? `${signed(Math.abs(share * 100).toFixed(0), share * 100 <= -0.5)}${THIN}%` : NONE;
