/**
 * Colour maps for fields of numbers, as stops from dark to light. Even steps in OKLab; lightness rises all the way, for
 * simulated protan, deutan and tritan sight too. Colour between two stops is mixed in linear light.
 */
export type ColourMap = readonly string[];

/** Light level, on a log scale. */
// prettier-ignore
export const TIDE: ColourMap = [
  '#060b18', '#0b172a', '#10243d', '#133250', '#134262', '#13536f', '#176479', '#217582', '#318788', '#45988c', '#5ea88f',
  '#78b791', '#95c593', '#b3d395', '#d2df9d', '#ecebb4', '#fdf8d6',
];
/** Stops off a reference; the neutral in the middle is zero. */
// prettier-ignore
export const BALANCE: ColourMap = [
  '#1a153e', '#25224d', '#312f5d', '#3d3c6d', '#494a7d', '#545a84', '#616a87', '#717889', '#878683', '#9b907f', '#af9b7c',
  '#c4a577', '#d9af72', '#e6bf7b', '#eed08b', '#f7e19d', '#fff2af',
];
/** One source's part of the light, 0 to 1. */
// prettier-ignore
export const SHARE: ColourMap = [
  '#171614', '#30291e', '#4b3d27', '#69522f', '#876839', '#a58146', '#c29a54', '#e0b562', '#fed071',
];
/** Angle of incidence from square on (pale) to grazing (dark). */
// prettier-ignore
export const INCIDENCE: ColourMap = [
  '#e8f0f4', '#c0c8cd', '#99a2a8', '#747d84', '#515a62', '#313942', '#141b24',
];

export type Rgb = readonly [red: number, green: number, blue: number];

const CURVE_START = 0.0031308;
const SRGB_START = 0.04045;

/** Linear light 0..1 of an sRGB component 0..255 (IEC 61966-2-1). */
export function linearFromSrgb(component: number): number {
  const s = component / 255;
  return s <= SRGB_START ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
}
/** sRGB component 0..255, not rounded, of linear light 0..1 (IEC 61966-2-1). */
export function srgbFromLinear(light: number): number {
  return 255 * (light <= CURVE_START ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055);
}

/** sRGB components 0..255 of "#rrggbb". */
export function rgbFromHex(hex: string): Rgb {
  const packed = Number.parseInt(hex.slice(1), 16);
  return [(packed >> 16) & 255, (packed >> 8) & 255, packed & 255];
}
/** "#rrggbb" of sRGB components 0..255. */
export function hexFromRgb(rgb: Rgb): string {
  return `#${rgb.map((component) => Math.round(component).toString(16).padStart(2, '0')).join('')}`;
}

/**
 * Colour of a map at a place along it, sRGB 0..255, rounded.
 * @param place 0 is the first stop, 1 the last; held to the ends outside, NaN to the first
 */
export function colourAt(map: ColourMap, place: number): Rgb {
  const held = place > 0 ? Math.min(place, 1) : 0;
  const along = held * (map.length - 1);
  const index = Math.min(Math.floor(along), map.length - 2);
  const low = rgbFromHex(map[index] ?? '#000000');
  const high = rgbFromHex(map[index + 1] ?? '#000000');
  const mixed = low.map((component, channel) => {
    const from = linearFromSrgb(component);
    const to = linearFromSrgb(high[channel] ?? component);
    return Math.round(srgbFromLinear(from + (to - from) * (along - index)));
  });
  return [mixed[0] ?? 0, mixed[1] ?? 0, mixed[2] ?? 0];
}

/** A map cut into even steps, packed red, green, blue, alpha 255: for textures and pictures. */
export function colourTable(map: ColourMap, steps: number): Uint8Array {
  const table = new Uint8Array(steps * 4);
  for (let step = 0; step < steps; step += 1) {
    table.set([...colourAt(map, steps > 1 ? step / (steps - 1) : 0), 255], step * 4);
  }
  return table;
}

/** Range of a log scale in whole half-decades (1, 3.16, 10, 31.6 ...) around the content, lux. */
export interface LogRange {
  readonly minimum: number;
  readonly maximum: number;
}

/** Deepest and shallowest range: four decades and one. Anything darker reads as the map's dark end. */
const MOST_HALF_DECADES = 8;
const LEAST_HALF_DECADES = 2;

/** Part of the lit values that may fall under the foot: the thin tails of shadow edges would else eat the map. */
const TAIL_SHARE = 0.02;

/**
 * Range in half-decades around the positive values of a field; 1 to 10 when there are none.
 * At least one decade, at most four; the dimmest 2 % of the lit values may fall under its foot.
 */
export function logRangeAround(values: ArrayLike<number>): LogRange {
  const lit = Float64Array.from(values)
    .filter((value) => value > 0 && Number.isFinite(value))
    .sort();
  const least = lit[Math.floor(TAIL_SHARE * lit.length)];
  const most = lit.at(-1);
  if (least === undefined || most === undefined) return { minimum: 1, maximum: 10 };
  // A hair of slack keeps a content that ends on a half-decade inside it.
  const top = Math.ceil(2 * Math.log10(most) - 1e-9);
  const foot = Math.floor(2 * Math.log10(least) + 1e-9);
  const bottom = Math.max(top - MOST_HALF_DECADES, Math.min(top - LEAST_HALF_DECADES, foot));
  return { minimum: 10 ** (bottom / 2), maximum: 10 ** (top / 2) };
}

/** Place 0..1 of a value on a log scale; values at or under the foot are 0. */
export function placeOnLog(value: number, range: LogRange): number {
  if (!(value > range.minimum)) return 0;
  return Math.min(1, Math.log(value / range.minimum) / Math.log(range.maximum / range.minimum));
}

/** Half-decade ticks of a range, rounded as they are written: 10, 32, 100, 320, 1000. */
export function halfDecadeTicks(range: LogRange): { readonly value: number; readonly label: number }[] {
  const first = Math.round(2 * Math.log10(range.minimum));
  const last = Math.round(2 * Math.log10(range.maximum));
  return Array.from({ length: last - first + 1 }, (_, step) => {
    const value = 10 ** ((first + step) / 2);
    return { value, label: Number(value.toPrecision(2)) };
  });
}

/** Contour levels a third of a stop apart, ten a decade: 100 125 160 200 250 320 400 500 630 800. */
const CONTOURS_IN_A_DECADE = [1, 1.25, 1.6, 2, 2.5, 3.2, 4, 5, 6.3, 8] as const;

/** Contour levels inside (not on the ends of) a range, lux; whole ones (1, 2, 5 in each decade) are drawn heavier. */
export function contourLevels(range: LogRange): { readonly valueLx: number; readonly heavy: boolean }[] {
  const levels: { valueLx: number; heavy: boolean }[] = [];
  for (let decade = Math.floor(Math.log10(range.minimum)); 10 ** decade < range.maximum; decade += 1) {
    for (const step of CONTOURS_IN_A_DECADE) {
      const valueLx = Number((step * 10 ** decade).toPrecision(3));
      if (valueLx > range.minimum && valueLx < range.maximum) {
        levels.push({ valueLx, heavy: step === 1 || step === 2 || step === 5 });
      }
    }
  }
  return levels;
}
