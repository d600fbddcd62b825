/**
 * Typical pieces of grip by their trade sizes, in metres. Sizes and stops: common practice, no source; transmittances of
 * cloth and board are middles of their class. Not anybody's inventory.
 */
import type { Modifier } from '../schema';

export interface GripClass {
  readonly id: string;
  readonly name: string;
  /** First letter of the names that its pieces get. */
  readonly letter: 'F' | 'N' | 'D' | 'B' | 'R' | 'C';
  readonly piece: Pick<Modifier, 'shape' | 'material' | 'frame'>;
}

const flat = (widthM: number, heightM: number) => ({ kind: 'rectangle', widthM, heightM }) as const;
const ROD = { rodWidthM: 0.01 } as const;
const OPEN_LEFT = { ...ROD, openSides: ['left' as const] };
const flag = (id: string, name: string, widthM: number, heightM: number): GripClass => ({
  id,
  name,
  letter: 'F',
  piece: { shape: flat(widthM, heightM), material: { kind: 'opaque' } },
});
const net = (id: string, name: string, stops: number, widthM: number, heightM: number): GripClass => ({
  id,
  name,
  letter: 'N',
  piece: { shape: flat(widthM, heightM), material: { kind: 'net', stops }, frame: OPEN_LEFT },
});
const sheet = (id: string, name: string, sideM: number, direct: number, diffuse: number): GripClass => ({
  id,
  name,
  letter: 'D',
  piece: {
    shape: flat(sideM, sideM),
    material: { kind: 'diffusion', directTransmittance: direct, diffuseTransmittance: diffuse },
  },
});

export const GRIP_CLASSES: readonly GripClass[] = [
  net('net-single', 'Net, single, open end, 0.6 x 0.9 m', 0.5, 0.6, 0.9),
  net('net-double', 'Net, double, open end, 0.6 x 0.9 m', 1, 0.6, 0.9),
  net('net-single-large', 'Net, single, open end, 1.2 x 1.2 m', 0.5, 1.2, 1.2),
  net('net-double-large', 'Net, double, open end, 1.2 x 1.2 m', 1, 1.2, 1.2),
  flag('flag-small', 'Flag, 0.45 x 0.6 m', 0.45, 0.6),
  flag('flag', 'Flag, 0.6 x 0.9 m', 0.6, 0.9),
  flag('flag-large', 'Flag, 1.2 x 1.2 m', 1.2, 1.2),
  flag('cutter', 'Cutter, 0.25 x 1.05 m', 0.25, 1.05),
  flag('finger', 'Finger, 0.05 x 0.3 m', 0.05, 0.3),
  {
    id: 'dot',
    name: 'Dot, 0.15 m',
    letter: 'F',
    piece: { shape: { kind: 'disc', diameterM: 0.15 }, material: { kind: 'opaque' } },
  },
  {
    id: 'cucoloris',
    name: 'Cucoloris, 0.6 x 0.9 m',
    letter: 'C',
    piece: {
      shape: { kind: 'pattern', widthM: 0.6, heightM: 0.9, seed: 7, holes: 12 },
      material: { kind: 'opaque' },
    },
  },
  sheet('frost', 'Diffusion, light frost, 1.2 x 1.2 m', 1.2, 0.35, 0.5),
  sheet('white', 'Diffusion, full white, 1.2 x 1.2 m', 1.2, 0, 0.35),
  sheet('white-large', 'Diffusion, full white, 2.4 x 2.4 m', 2.4, 0, 0.35),
  {
    id: 'bounce',
    name: 'Bounce board, white, 1.2 x 1.2 m',
    letter: 'B',
    piece: { shape: flat(1.2, 1.2), material: { kind: 'bounce', reflectance: 0.85 } },
  },
  {
    id: 'mirror',
    name: 'Mirror, 0.6 x 0.9 m',
    letter: 'R',
    piece: { shape: flat(0.6, 0.9), material: { kind: 'mirror', reflectance: 0.88 } },
  },
];
