/**
 * Colours of the drawings, one place for all three themes. Numbers are 0xrrggbb for the renderer; `cssTokens` gives the
 * same values as CSS text for whoever draws the rest of the page.
 */
import type { Theme } from './contract';

export const INK_ROLES = [
  'table',
  'sheet',
  'panel',
  'raised',
  'well',
  'lineGrid',
  'line',
  'lineStrong',
  'ink1',
  'ink2',
  'ink3',
  'accent',
  'accentFill',
  'onAccent',
  'accentWash',
  'lamp',
  'sun',
  'camera',
  'meter',
  'wall',
  'grip',
  'netSingle',
  'netDouble',
  'reads',
  'passable',
  'gives',
  'caution',
  'fault',
] as const;
export type InkRole = (typeof INK_ROLES)[number];
export type Inks = Readonly<Record<InkRole, number>>;

const dark: Inks = {
  table: 0x0a0b0d,
  sheet: 0x111315,
  panel: 0x181a1c,
  raised: 0x222527,
  well: 0x0a0b0d,
  lineGrid: 0x202326,
  line: 0x34373a,
  lineStrong: 0x72767c,
  ink1: 0xededea,
  ink2: 0xbabec1,
  ink3: 0x979ca0,
  accent: 0x76c4f6,
  accentFill: 0x7dc7f7,
  onAccent: 0x071117,
  accentWash: 0x1b2e3b,
  lamp: 0xf6b95c,
  sun: 0xf3ec9c,
  camera: 0xcda5e6,
  meter: 0x84dcdd,
  wall: 0xd8d7d3,
  grip: 0xabb2b8,
  netSingle: 0x54c57a,
  netDouble: 0xf05b54,
  reads: 0x6dd8b9,
  passable: 0xeece6a,
  gives: 0xf6825f,
  caution: 0xfca953,
  fault: 0xfb7475,
};

/** Stage dim: the dark grounds with the inks down, for a screen beside the camera. */
const dim: Inks = {
  ...dark,
  ink1: 0xb6b6b3,
  ink2: 0x989c9f,
  ink3: 0x7e8286,
  accent: 0x5a9ac3,
  accentFill: 0x5a9ac3,
  lamp: 0xc59449,
  wall: 0xa8a7a4,
  gives: 0xce6d4f,
  reads: 0x57aa92,
  passable: 0xbca352,
};

const light: Inks = {
  table: 0xd8dde0,
  sheet: 0xf9fcfc,
  panel: 0xedf1f2,
  raised: 0xfeffff,
  well: 0xfeffff,
  lineGrid: 0xe2e7e9,
  line: 0xc5cccf,
  lineStrong: 0x737a7f,
  ink1: 0x181c20,
  ink2: 0x42484e,
  ink3: 0x575d63,
  accent: 0x0e629a,
  accentFill: 0x005b92,
  onAccent: 0xfbfcfd,
  accentWash: 0xcee3f2,
  lamp: 0x9b590b,
  sun: 0x73630a,
  camera: 0x784196,
  meter: 0x02717a,
  wall: 0x1e2226,
  grip: 0x4a5157,
  netSingle: 0x187a3b,
  netDouble: 0xc22826,
  reads: 0x086c56,
  passable: 0x866500,
  gives: 0x922210,
  caution: 0x9c5300,
  fault: 0xb3222b,
};

export const INKS: Readonly<Record<Theme, Inks>> = { dark, dim, light };

/** Inks for whatever lies on a heat map, the same in every theme: the map itself does not change with the theme. */
export const ON_MAP_INKS: Inks = { ...dark, ink1: 0xf6f6f2, ink2: 0xf6f6f2, ink3: 0xf6f6f2, wall: 0xf6f6f2 };
export const ON_MAP_TEXT = 0xf6f6f2;
export const CASING = { colour: 0x0a0b0d, lineAlpha: 0.6, textAlpha: 0.8, lineExtraPx: 2, textHaloPx: 3.5 } as const;

/** Share of brightness that heat maps keep: the dim theme takes them down with the inks. */
export const MAP_BRIGHTNESS: Readonly<Record<Theme, number>> = { dark: 1, dim: 0.8, light: 1 };

/** First choice of drawing lettering, then the system's own. Narrow: 86 % wide where the font has a width axis. */
export const DRAWING_FONT = "'Archivo Variable', system-ui, sans-serif";

/** 0xrrggbb as CSS "#rrggbb". */
export const cssColour = (colour: number): string => `#${colour.toString(16).padStart(6, '0')}`;

/** The inks of a theme as CSS custom properties, e.g. `--ink-1: #ededea`. */
export function cssTokens(theme: Theme): Readonly<Record<`--${string}`, string>> {
  const entries = INK_ROLES.map((role): [`--${string}`, string] => {
    const name = role.replace(/([a-z])([A-Z0-9])/g, '$1-$2').toLowerCase();
    return [`--${name}`, cssColour(INKS[theme][role])];
  });
  return Object.fromEntries(entries);
}
