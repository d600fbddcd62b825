/** Figures as the panels say them, beyond what src/scene/units letters. */
import type { Basis, SceneDocument, Source } from '../../scene/schema';
import type { IlluminanceUnit, LengthUnit } from '../../scene/units/convert';
import { formatLength } from '../../scene/units/format';
import type { Vec3 } from '../../scene/geometry/vector';

const MINUS = '\u2212';
const THIN = '\u2009';

export interface Units {
  readonly length: LengthUnit;
  readonly illuminance: IlluminanceUnit;
}
export const METRIC: Units = { length: 'metres', illuminance: 'lux' };
/** Units that the scene is shown in; metres and lux where it names none. */
export const unitsOf = ({ display }: SceneDocument): Units => ({
  length: display?.length ?? METRIC.length,
  illuminance: display?.illuminance ?? METRIC.illuminance,
});

/** A number with a real minus; -0 is 0. */
export function fixed(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) > 0 ? `${MINUS}${text}` : text;
}
/** As `fixed`, with a plus above 0. */
export const signedFixed = (value: number, decimals: number): string =>
  Number(value.toFixed(decimals)) > 0 ? `+${value.toFixed(decimals)}` : fixed(value, decimals);

/** Band of a level by what it rests on: a class figure is good to a stop, a file to 10 %, a metered lamp to 15 %. */
const BANDS: Readonly<Record<Basis, string>> = {
  typical: '± 1 stop',
  file: `± 10${THIN}%`,
  metered: `± 15${THIN}%`,
};
const WIDEST_FIRST: readonly Basis[] = ['typical', 'metered', 'file'];

/** Basis of a source's level; a lamp that names none is typical, and so is a sun from a sky model. */
export const basisOf = (source: Source): Basis => (source.type === 'lamp' ? (source.basis ?? 'typical') : 'typical');

/** The widest band among the sources that give light here; the class band if none is known. */
export function bandOf(sources: readonly Source[]): string {
  const bases = new Set(sources.map(basisOf));
  return BANDS[WIDEST_FIRST.find((basis) => bases.has(basis)) ?? 'typical'];
}

/** The band of what a map shows: the widest among the setup's sources that are on. */
export function levelBandOf(document: SceneDocument, setupId: string): string {
  const sources = Object.values(document.setups.find(({ id }) => id === setupId)?.sources ?? {});
  return bandOf(sources.filter(({ off, level }) => off !== true && level !== 0));
}

/** How far a drag has gone: "0.35 m east, 0.10 m up". Steps under half a millimetre are left out. */
export function formatTravel(deltaM: Vec3, units: Units): string {
  const directions = [
    ['to +x', 'to −x'],
    ['to +y', 'to −y'],
    ['up', 'down'],
  ] as const;
  const parts = deltaM.flatMap((delta, axis) => {
    const names = directions[axis];
    if (!names || Math.abs(delta) < 5e-4) return [];
    return [`${formatLength(Math.abs(delta), units.length)} ${delta > 0 ? names[0] : names[1]}`];
  });
  return parts.length > 0 ? parts.join(', ') : 'back where it was';
}

/** Where a thing stands: "x −3.50 m, y 1.15 m, h 2.60 m". */
export const formatPlace = (atM: Vec3, units: Units): string =>
  ['x', 'y', 'h'].map((axis, index) => `${axis} ${formatLength(atM[index] ?? 0, units.length)}`).join(', ');

/** Letter in a setup's tab, by its place in the order. */
export const setupLetter = (index: number): string => String.fromCharCode(65 + (index % 26));

/** "a", "a and b", "a, b and c". */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** Three figures, with a thin space from 10 000: "9420", "41 200". */
export function formatNumber(value: number): string {
  const rounded = Number(value.toPrecision(3));
  const text = String(rounded);
  return rounded >= 10_000 ? text.replace(/\B(?=(\d{3})+(?!\d))/g, THIN) : text;
}

/** A name within a sentence. */
export const lowerFirst = (text: string): string => `${text.charAt(0).toLowerCase()}${text.slice(1)}`;
