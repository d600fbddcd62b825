/**
 * Plan symbols: 24-unit box, middle at 12, 12, light leaves upward. Each part has the ink it is drawn in; threads of nets
 * run one way for a single and cross for a double, so that the grade never rests on the rim's colour alone.
 */
import type { Lamp } from '../scene/schema';
import { flattenSvgPath, type FlatPath } from './svgPath';
import type { InkRole } from './tokens';

export interface SymbolPart {
  readonly role: InkRole;
  readonly paths: readonly FlatPath[];
  readonly filled: boolean;
  /** Line weight in the symbol's units' own pixels; 1.5 if absent. */
  readonly widthPx?: number;
}
export type PlanSymbol = readonly SymbolPart[];

const stroke = (role: InkRole, data: string, widthPx?: number): SymbolPart => ({
  role,
  paths: flattenSvgPath(data),
  filled: false,
  ...(widthPx === undefined ? {} : { widthPx }),
});
const fill = (role: InkRole, data: string): SymbolPart => ({ role, paths: flattenSvgPath(data), filled: true });
const disc = (role: InkRole, x: number, y: number, r: number): SymbolPart =>
  fill(role, `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`);
const ring = 'M4 12a8 8 0 1 0 16 0a8 8 0 1 0-16 0';

export const LAMP_SYMBOLS: Readonly<Record<NonNullable<Lamp['symbol']>, PlanSymbol>> = {
  point: [stroke('lamp', 'M7 12a5 5 0 1 0 10 0a5 5 0 1 0-10 0M8.5 4.5L12 2l3.5 2.5'), disc('lamp', 12, 12, 1.5)],
  lensedSpot: [stroke('lamp', 'M7 21V9h10v12zM7 9C8.5 4 15.5 4 17 9')],
  projectionSpot: [stroke('lamp', 'M7 22v-8h10v8zM9 14V4h6v10M8 4h8M6 11.5h3M15 11.5h3')],
  panel: [stroke('lamp', 'M2.5 10h19v5h-19z'), fill('lamp', 'M2.5 8.5h19v2.5h-19z')],
  tube: [stroke('lamp', 'M3.5 10.5h17a1.5 1.5 0 0 1 0 3h-17a1.5 1.5 0 0 1 0-3zM5 10.5v3M19 10.5v3')],
  mat: [stroke('lamp', 'M2 9h20M2 9v4q2.5 3.5 5 0t5 0t5 0t5 0V9')],
  sphere: [stroke('lamp', `${ring}M12 4C7 9 7 15 12 20M12 4C17 9 17 15 12 20`)],
  openFace: [stroke('lamp', 'M4 7C4.5 22 19.5 22 20 7M9.5 11h5M4 7L2.5 5.5M20 7l1.5-1.5')],
  discharge: [
    stroke('lamp', 'M7.5 21L5 15l2.5-8h9L19 15l-2.5 6zM7.5 7C9 4 15 4 16.5 7M9 14.5q3-4 6 0'),
    disc('lamp', 9, 14.5, 1.1),
    disc('lamp', 15, 14.5, 1.1),
  ],
  strip: [stroke('lamp', 'M2 9.5h20V15H2zM8.7 9.5V15M15.3 9.5V15M4 7.5h2.6M10.7 7.5h2.6M17.4 7.5H20')],
};

export const SUN_SYMBOL: PlanSymbol = [stroke('sun', 'M5 12V2.5M12 12V2.5M19 12V2.5'), disc('sun', 12, 18.5, 4)];
export const METER_DOME_SYMBOL: PlanSymbol = [stroke('meter', 'M6 12a6 6 0 0 1 12 0zM12 12v9M9 21h6')];
export const METER_FLAT_SYMBOL: PlanSymbol = [stroke('meter', 'M5 11h14M12 11v10M9 21h6M12 8V3M10 5l2-2l2 2')];
export const CAMERA_SYMBOL: PlanSymbol = [stroke('camera', 'M7 13h10v8H7zM9.5 13L6 4h12l-3.5 9')];
export const MARK_SYMBOL: PlanSymbol = [stroke('ink1', 'M4 7h16M12 7v13', 3)];
export const STAND_SYMBOL: PlanSymbol = [
  stroke('grip', 'M12 12l8 4.6M12 12l-8 4.6M12 12V4.5'),
  disc('grip', 12, 12, 1.7),
];

/** Symbol of a lamp: the one it names, else the one that its emitter and distribution suggest. */
export function lampSymbolKind(lamp: Lamp): NonNullable<Lamp['symbol']> {
  if (lamp.symbol) return lamp.symbol;
  if (lamp.distribution.kind === 'projection') return 'projectionSpot';
  if (lamp.distribution.kind === 'lensed') return 'lensedSpot';
  switch (lamp.emitter.shape) {
    case 'rectangle':
      return Math.max(lamp.emitter.widthM, lamp.emitter.heightM) > 0.9 ? 'mat' : 'panel';
    case 'tube':
      return 'tube';
    case 'sphere':
      return 'sphere';
    case 'disc':
      return lamp.distribution.kind === 'beam' ? 'lensedSpot' : 'openFace';
    case 'point':
      return 'point';
  }
}
