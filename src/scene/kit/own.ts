/** Own lamps: kit entries made from a lamp that stands in the scene or from a data sheet, and lamps made from an entry. */
import type { Distribution, KitEntry, Lamp } from '../schema';

type KitLamp = NonNullable<KitEntry['lamp']>;

/** The light of a lamp that stands in the scene, as an own kit entry: what is measured or read goes with it. */
export function entryFromLamp(lamp: Lamp, name: string): KitEntry {
  const { emitter, distribution, output, colour, basis, power } = lamp;
  const { circuitId: _socket, ...own } = power ?? {};
  return {
    name,
    kind: 'lamp',
    count: 1,
    ...((basis ?? 'typical') === 'typical' ? { typical: true } : {}),
    lamp: {
      emitter,
      distribution,
      output,
      ...(colour && { colour }),
      ...(basis && { basis }),
      ...(power && { power: own }),
    },
  };
}

export interface SheetFigures {
  readonly name: string;
  readonly illuminanceLx: number;
  readonly distanceM: number;
  /** Full angle at half of the peak. */
  readonly beamAngleDeg: number;
  /** Full angle at a tenth; where the sheet has none it is left out. */
  readonly fieldAngleDeg?: number;
  readonly lensDiameterM: number;
}

/**
 * An own kit entry from the figures of a data sheet: a level at a distance and the beam angle.
 * @remarks A sheet is a maker's word on a class of lamps; until it is metered it counts as typical.
 */
export function entryFromSheet(figures: SheetFigures): KitEntry {
  const { name, illuminanceLx, distanceM, beamAngleDeg, fieldAngleDeg, lensDiameterM } = figures;
  const distribution: Distribution = {
    kind: 'beam',
    beamAngleDeg,
    ...(fieldAngleDeg === undefined ? {} : { fieldAngleDeg }),
  };
  return {
    name,
    kind: 'lamp',
    count: 1,
    typical: true,
    lamp: {
      emitter: { shape: 'disc', diameterM: lensDiameterM },
      distribution,
      output: { kind: 'luxAt', illuminanceLx, distanceM },
      basis: 'typical',
    },
  };
}

export interface MeteredFigures {
  readonly name: string;
  readonly readings: readonly { readonly distanceM: number; readonly illuminanceLx: number }[];
  /** Full angle at half of the peak. */
  readonly beamAngleDeg: number;
  readonly lensDiameterM: number;
}

/** An own kit entry from the crew's meter readings on the axis: output and origin are fitted to them wherever it is used. */
export function entryFromReadings({ name, readings, beamAngleDeg, lensDiameterM }: MeteredFigures): KitEntry {
  return {
    name,
    kind: 'lamp',
    count: 1,
    lamp: {
      emitter: { shape: 'disc', diameterM: lensDiameterM },
      distribution: { kind: 'beam', beamAngleDeg },
      output: { kind: 'readings', readings: readings.map((reading) => ({ ...reading })) },
      basis: 'metered',
    },
  };
}

/** What a lamp takes from a kit entry; its place and name are its own. */
export function lightFromEntry(entry: KitEntry & { readonly lamp: KitLamp }): KitLamp & { readonly unit: string } {
  return { ...entry.lamp, unit: entry.name };
}

/** Letters alone, small: "Point LED, 600 W" and "point led 600w" are then found by each other's words. */
const plain = (text: string): string => text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, ' ');

/** Whether every word of a search is in a name; an empty search finds all. */
export function nameMatches(name: string, search: string): boolean {
  const within = plain(name);
  return plain(search)
    .split(' ')
    .every((word) => within.includes(word));
}
