/**
 * Typical classes of lamps as a small shop has them: invented figures of the middle of each class, for a first plan.
 * All of them are from memory and good to about a stop; a lamp's own file, data sheet or meter readings replace them.
 */
import type { Distribution, Emitter, KitEntry, Lamp } from '../schema';

export type LampSymbol = NonNullable<Lamp['symbol']>;
export interface KitClass {
  readonly id: string;
  readonly symbol: LampSymbol;
  readonly entry: KitEntry & { readonly lamp: NonNullable<KitEntry['lamp']> };
}

/** The distance that class levels are told at, m. */
const TOLD_AT_M = 3;
const DAYLIGHT_K = 5600;
const TUNGSTEN_K = 3200;
export const TYPICAL_NOTE =
  'Typical of its class, ± 1 stop. Replace it with a file, a data sheet or your own readings.';

const disc = (diameterM: number): Emitter => ({ shape: 'disc', diameterM });
const rectangle = (widthM: number, heightM: number): Emitter => ({ shape: 'rectangle', widthM, heightM });
const tube = (lengthM: number): Emitter => ({ shape: 'tube', lengthM, diameterM: 0.045 });
const MATT: Distribution = { kind: 'lambertian' };
/** Full angle at half of the peak; the tenth lies at about 1.7 times that (common practice, no source). */
const FIELD_OVER_BEAM = 1.7;
const beam = (beamAngleDeg: number): Distribution => ({
  kind: 'beam',
  beamAngleDeg,
  fieldAngleDeg: Math.min(170, Math.round(FIELD_OVER_BEAM * beamAngleDeg)),
});
const gate = (fieldAngleDeg: number): Distribution => ({
  kind: 'projection',
  fieldAngleDeg,
  edgeWidthDeg: 1.5,
  peaking: 0.4,
});

type Row = readonly [
  id: string,
  name: string,
  symbol: LampSymbol,
  emitter: Emitter,
  distribution: Distribution,
  luxAt3m: number,
  mainsW: number,
  cctK: number,
];

/** Bare, with a reflector and with a lens: the same head. */
const pointHead = (
  id: string,
  name: string,
  emitterM: number,
  mainsW: number,
  [bareLx, reflectorLx, reflectorDeg, lensLx, lensDeg]: readonly [number, number, number, number, number],
): Row[] => [
  [`${id}-bare`, `${name}, bare`, 'point', disc(emitterM), MATT, bareLx, mainsW, DAYLIGHT_K],
  [
    `${id}-reflector`,
    `${name}, reflector ${reflectorDeg}°`,
    'point',
    disc(0.16),
    beam(reflectorDeg),
    reflectorLx,
    mainsW,
    DAYLIGHT_K,
  ],
  [`${id}-lens`, `${name}, lens at ${lensDeg}°`, 'lensedSpot', disc(0.18), beam(lensDeg), lensLx, mainsW, DAYLIGHT_K],
];
/** A focusing lantern at both ends of its travel. */
const lantern = (
  id: string,
  name: string,
  symbol: LampSymbol,
  lensM: number,
  mainsW: number,
  cctK: number,
  [floodLx, floodDeg, spotLx, spotDeg]: readonly [number, number, number, number],
): Row[] => [
  [`${id}-flood`, `${name}, flood`, symbol, disc(lensM), beam(floodDeg), floodLx, mainsW, cctK],
  [`${id}-spot`, `${name}, spot`, symbol, disc(lensM), beam(spotDeg), spotLx, mainsW, cctK],
];

const ROWS: readonly Row[] = [
  ['pocket-led', 'Pocket LED', 'panel', rectangle(0.1, 0.06), MATT, 25, 10, DAYLIGHT_K],
  ...pointHead('point-led-80', 'Small point LED, 60–100 W', 0.025, 100, [370, 2700, 50, 6500, 22]),
  ...pointHead('point-led-250', 'Point LED, 200–300 W', 0.035, 310, [1350, 7000, 50, 27_000, 15]),
  ...pointHead('point-led-600', 'Point LED, 600 W', 0.045, 700, [2500, 14_000, 45, 47_000, 16]),
  ...pointHead('point-led-1300', 'Point LED, 1.2–1.5 kW', 0.06, 1500, [5000, 32_000, 32, 70_000, 18]),
  ['soft-panel-1x1', 'Soft panel, 1 × 1 ft', 'panel', rectangle(0.3, 0.3), MATT, 320, 100, DAYLIGHT_K],
  ['hard-panel-1x1', 'Panel with lenses, 1 × 1 ft', 'panel', rectangle(0.3, 0.3), beam(30), 1700, 100, DAYLIGHT_K],
  ['soft-panel-2x1', 'Soft panel, 2 × 1 ft', 'panel', rectangle(0.6, 0.3), MATT, 700, 250, DAYLIGHT_K],
  ['soft-panel-4x1', 'Soft panel, 4 × 1 ft', 'panel', rectangle(1.2, 0.3), MATT, 1200, 450, DAYLIGHT_K],
  ['mat-2x2', 'Flexible mat, 2 × 2 ft', 'mat', rectangle(0.6, 0.6), MATT, 500, 200, DAYLIGHT_K],
  ['mat-4x4', 'Flexible mat, 4 × 4 ft', 'mat', rectangle(1.2, 1.2), MATT, 1300, 500, DAYLIGHT_K],
  ['tube-06', 'Tube, 0.6 m', 'tube', tube(0.6), MATT, 27, 25, DAYLIGHT_K],
  ['tube-12', 'Tube, 1.2 m', 'tube', tube(1.2), MATT, 60, 50, DAYLIGHT_K],
  ['profile-led-19', 'Profile spot LED, 150–300 W, 19°', 'projectionSpot', disc(0.15), gate(19), 8000, 260, DAYLIGHT_K],
  ['profile-led-26', 'Profile spot LED, 150–300 W, 26°', 'projectionSpot', disc(0.13), gate(26), 5500, 260, DAYLIGHT_K],
  ['profile-led-36', 'Profile spot LED, 150–300 W, 36°', 'projectionSpot', disc(0.11), gate(36), 3000, 260, DAYLIGHT_K],
  [
    'projection-led-19',
    'Point LED 300 W with projection lens, 19°',
    'projectionSpot',
    disc(0.15),
    gate(19),
    11_000,
    380,
    DAYLIGHT_K,
  ],
  [
    'projection-led-36',
    'Point LED 300 W with projection lens, 36°',
    'projectionSpot',
    disc(0.11),
    gate(36),
    5000,
    380,
    DAYLIGHT_K,
  ],
  [
    'profile-tungsten-19',
    'Tungsten profile, 575–750 W, 19°',
    'projectionSpot',
    disc(0.16),
    gate(19),
    29_000,
    750,
    TUNGSTEN_K,
  ],
  [
    'profile-tungsten-26',
    'Tungsten profile, 575–750 W, 26°',
    'projectionSpot',
    disc(0.15),
    gate(26),
    20_000,
    750,
    TUNGSTEN_K,
  ],
  [
    'profile-tungsten-36',
    'Tungsten profile, 575–750 W, 36°',
    'projectionSpot',
    disc(0.15),
    gate(36),
    11_000,
    750,
    TUNGSTEN_K,
  ],
  [
    'profile-tungsten-50',
    'Tungsten profile, 575–750 W, 50°',
    'projectionSpot',
    disc(0.13),
    gate(50),
    4600,
    750,
    TUNGSTEN_K,
  ],
  ...lantern('tungsten-1k', 'Tungsten lens, 500–1000 W', 'lensedSpot', 0.18, 1000, TUNGSTEN_K, [1300, 50, 9500, 13]),
  ...lantern('tungsten-2k', 'Tungsten lens, 2 kW', 'lensedSpot', 0.25, 2000, TUNGSTEN_K, [4000, 50, 25_000, 12]),
  ...lantern('tungsten-5k', 'Tungsten lens, 5 kW', 'lensedSpot', 0.29, 5000, TUNGSTEN_K, [9000, 50, 60_000, 12]),
  ...lantern('tungsten-10k', 'Tungsten lens, 10 kW', 'lensedSpot', 0.45, 10_000, TUNGSTEN_K, [16_000, 50, 130_000, 11]),
  ...lantern('tungsten-20k', 'Tungsten lens, 20 kW', 'lensedSpot', 0.6, 20_000, TUNGSTEN_K, [30_000, 50, 250_000, 11]),
  ['sealed-wide', 'Sealed beam 1 kW, wide', 'openFace', disc(0.2), beam(40), 4400, 1000, TUNGSTEN_K],
  ['sealed-medium', 'Sealed beam 1 kW, medium', 'openFace', disc(0.2), beam(20), 14_000, 1000, TUNGSTEN_K],
  ['sealed-narrow', 'Sealed beam 1 kW, narrow', 'openFace', disc(0.2), beam(11), 40_000, 1000, TUNGSTEN_K],
  ...lantern(
    'discharge-800',
    'Daylight discharge, 575–800 W',
    'discharge',
    0.165,
    950,
    DAYLIGHT_K,
    [9500, 45, 65_000, 9],
  ),
  ...lantern(
    'discharge-1k8',
    'Daylight discharge, 1.2–1.8 kW',
    'discharge',
    0.21,
    1800,
    DAYLIGHT_K,
    [15_000, 45, 95_000, 9],
  ),
  ...lantern('discharge-4k', 'Daylight discharge, 4 kW', 'discharge', 0.32, 4400, DAYLIGHT_K, [35_000, 45, 270_000, 8]),
  ...lantern(
    'discharge-18k',
    'Daylight discharge, 9–18 kW',
    'discharge',
    0.5,
    14_000,
    DAYLIGHT_K,
    [70_000, 45, 550_000, 8],
  ),
];

/** All classes, in the order of the list. */
export const KIT_CLASSES: readonly KitClass[] = ROWS.map(
  ([id, name, symbol, emitter, distribution, illuminanceLx, mainsW, cctK]): KitClass => ({
    id,
    symbol,
    entry: {
      name: `${name} (typical)`,
      kind: 'lamp',
      count: 1,
      typical: true,
      lamp: {
        emitter,
        distribution,
        output: { kind: 'luxAt', illuminanceLx, distanceM: TOLD_AT_M },
        colour: { cctK },
        basis: 'typical',
        power: { mainsW },
      },
      notes: TYPICAL_NOTE,
    },
  }),
);
