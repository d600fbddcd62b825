/** Levels turned into colour: which number each cell shows, the range of the map, and its bytes. */
import { BALANCE, TIDE, colourTable } from '../sim/colour/colourMaps';
import type { FieldPicture, Quantity } from './contract';
import { unitLx, type UnitChoice } from './format';

/**
 * What a map's colours mean. Tide: levels in `unit` lux or footcandles on a log scale. Balance: stops, 0 in the middle.
 */
export interface HeatScale {
  readonly map: 'tide' | 'balance';
  readonly minimum: number;
  readonly maximum: number;
}
export interface HeatValues {
  readonly quantity: Quantity;
  /** Level in the unit chosen, or stops; NaN where there is nothing to show; infinite stops where one side is dark. */
  readonly values: Float32Array;
  /** Stops by which the sun was taken down so that lamp and sun agree in the middle; 0 for other quantities. */
  readonly levelledStops: number;
}

/** Under this a cell counts as unlit when two levels are compared: a thousandth of the brighter field's peak. */
const DARK_SHARE = 1e-3;

/**
 * Number shown in each cell. Lamp over sun is a comparison of shapes, not of power: the sun is taken down by the median
 * of the stops between them over the cells that both light, and the legend says by how much.
 * @param referenceLx zero of "stops off"
 */
export function heatValues(
  field: FieldPicture,
  quantity: Quantity,
  referenceLx: number,
  units: UnitChoice,
): HeatValues {
  const { illuminanceLx, mask } = field.result;
  const cells = illuminanceLx.length;
  const values = new Float32Array(cells);
  const perUnit = unitLx(units);
  const sun = quantity === 'lampOverSun' ? field.sunIlluminanceLx : undefined;
  if (quantity === 'lampOverSun' && sun) return lampOverSun(illuminanceLx, sun, mask);
  for (let i = 0; i < cells; i++) {
    const lux = illuminanceLx[i]!;
    if (mask[i] !== 1 || Number.isNaN(lux)) values[i] = NaN;
    else if (quantity === 'illuminance') values[i] = lux / perUnit;
    else if (quantity === 'stopsOff') values[i] = Math.log2(lux / referenceLx);
    else values[i] = NaN;
  }
  return { quantity, values, levelledStops: 0 };
}

function lampOverSun(lamp: Float32Array, sun: Float32Array, mask: Uint8Array): HeatValues {
  const peak = (levels: Float32Array): number => levels.reduce((most, lux) => (lux > most ? lux : most), 0);
  const [lampFloor, sunFloor] = [peak(lamp) * DARK_SHARE, peak(sun) * DARK_SHARE];
  const values = new Float32Array(lamp.length).fill(NaN);
  const both: number[] = [];
  for (let i = 0; i < lamp.length; i++) {
    if (mask[i] !== 1) continue;
    const [byLamp, bySun] = [lamp[i]! > lampFloor, (sun[i] ?? 0) > sunFloor];
    if (byLamp && bySun) {
      values[i] = Math.log2(lamp[i]! / sun[i]!);
      both.push(values[i]!);
    } else if (byLamp) values[i] = Infinity;
    else if (bySun) values[i] = -Infinity;
  }
  both.sort((a, b) => a - b);
  const middle = both[both.length >> 1] ?? 0;
  return { quantity: 'lampOverSun', values: values.map((stops) => stops - middle), levelledStops: -middle };
}

/** Levels under a fiftieth of the peak are the dark round the light, not content that the range must show. */
const CONTENT_SHARE = 0.02;
const MOST_HALF_DECADES = 6;
const LEAST_HALF_DECADES = 2;

/**
 * Range of the map. Levels: whole half-decades around the content, one to three decades under the top (a deep shadow must
 * not eat the map); 1 to 10 without light. Stops: -4 to +4, differences -2 to +2.
 */
export function heatScale({ quantity, values }: HeatValues): HeatScale {
  if (quantity === 'stopsOff') return { map: 'balance', minimum: -4, maximum: 4 };
  if (quantity === 'lampOverSun') return { map: 'balance', minimum: -2, maximum: 2 };
  let [least, most] = [Infinity, 0];
  for (const value of values) {
    if (value > most) most = value;
  }
  if (most === 0) return { map: 'tide', minimum: 1, maximum: 10 };
  for (const value of values) {
    if (value > most * CONTENT_SHARE && value < least) least = value;
  }
  // A hair of slack keeps a content that ends on a half-decade inside it.
  const top = Math.ceil(2 * Math.log10(most) - 1e-6);
  const foot = Math.floor(2 * Math.log10(least) + 1e-6);
  const bottom = Math.max(top - MOST_HALF_DECADES, Math.min(top - LEAST_HALF_DECADES, foot));
  return { map: 'tide', minimum: 10 ** (bottom / 2), maximum: 10 ** (top / 2) };
}

/** Place of a value along the map, 0..1 inside the range, beyond it outside. */
export function placeOnScale(scale: HeatScale, value: number): number {
  if (scale.map === 'balance') return (value - scale.minimum) / (scale.maximum - scale.minimum);
  if (!(value > 0)) return -Infinity;
  return Math.log(value / scale.minimum) / Math.log(scale.maximum / scale.minimum);
}

/** Whether a value lies under (-1), in (0) or over (1) the range. */
export function sideOfScale(scale: HeatScale, value: number): -1 | 0 | 1 {
  const place = placeOnScale(scale, value);
  return place < -1e-6 ? -1 : place > 1 + 1e-6 ? 1 : 0;
}

const STEPS = 256;
const NOTHING_RGBA = [0x0a, 0x0b, 0x0d, 255];
const tables = { tide: colourTable(TIDE, STEPS), balance: colourTable(BALANCE, STEPS) };

/** Red, green, blue 0..255 of a place along a map, held to its ends. */
export function mapColour(map: HeatScale['map'], place: number): readonly [number, number, number] {
  const step = Math.round(Math.min(1, Math.max(0, place)) * (STEPS - 1)) * 4;
  const table = tables[map];
  return [table[step]!, table[step + 1]!, table[step + 2]!];
}

/**
 * RGBA bytes, premultiplied, row 0 first (the lowest). Off the surface: transparent. On it without a number (a comparison
 * where neither gives light): near black.
 * @param mask 1 on the surface
 * @param brightness 0..1, for the dim theme
 */
export function heatBytes(values: Float32Array, scale: HeatScale, mask: Uint8Array, brightness = 1): Uint8Array {
  const bytes = new Uint8Array(values.length * 4);
  const table = tables[scale.map];
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (mask[i] !== 1) continue;
    if (Number.isNaN(value)) {
      bytes.set(NOTHING_RGBA, 4 * i);
      continue;
    }
    const place = Math.min(1, Math.max(0, placeOnScale(scale, value)));
    const step = Math.round(place * (STEPS - 1)) * 4;
    bytes[4 * i] = table[step]! * brightness;
    bytes[4 * i + 1] = table[step + 1]! * brightness;
    bytes[4 * i + 2] = table[step + 2]! * brightness;
    bytes[4 * i + 3] = 255;
  }
  return bytes;
}
