/** What differs between two setups as one crew member tells another. */
import type { Change, SetupChange } from '../../scene/setupDiff';
import type { Lamp, Modifier, Source } from '../../scene/schema';
import {
  formatAngle,
  formatCct,
  formatLength,
  formatMired,
  formatPercent,
  formatStops,
} from '../../scene/units/format';
import { formatTravel, listed, type Units } from './format';

type Accessory = NonNullable<Lamp['accessories']>[number];

const DOUBLE_STOPS = 0.75;
const gradeWord = (stops: number): string => {
  const usual = Math.abs(stops - 0.5) < 0.01 || Math.abs(stops - 1) < 0.01;
  const name = stops < DOUBLE_STOPS ? 'single' : 'double';
  return usual ? name : `${name} of ${Number(stops.toFixed(2))} stop`;
};

function accessoryWords(accessory: Accessory): string {
  switch (accessory.kind) {
    case 'wireScrim':
      return `${accessory.half ? 'half ' : ''}${gradeWord(accessory.stops)} scrim`;
    case 'barnDoors':
      return 'barn doors';
    case 'snoot':
      return 'snoot';
    case 'eggCrate':
      return 'egg crate';
    case 'blackEdges':
      return 'black edges';
    case 'gel':
      return accessory.name === undefined || /gel/i.test(accessory.name)
        ? (accessory.name ?? 'gel')
        : `gel ${accessory.name}`;
  }
}

export function materialWords(material: Modifier['material']): string {
  switch (material.kind) {
    case 'opaque':
      return 'solid';
    case 'net':
      return `${gradeWord(material.stops)} net`;
    case 'wireScrim':
      return `${gradeWord(material.stops)} scrim`;
    case 'diffusion':
      return 'diffusion';
    case 'gel':
      return 'gel';
    case 'bounce':
      return 'bounce';
    case 'mirror':
      return 'mirror';
  }
}

function shapeWords(shape: Modifier['shape'], units: Units): string {
  switch (shape.kind) {
    case 'rectangle':
    case 'pattern':
      return `${formatLength(shape.widthM, units.length)} x ${formatLength(shape.heightM, units.length)}`;
    case 'disc':
      return `${formatLength(shape.diameterM, units.length)} round`;
    case 'polygon':
      return `outline of ${shape.outlineM.length} corners`;
  }
}

function colourWords(colour: Source['colour']): string {
  if (!colour) return 'no colour given';
  return 'cctK' in colour ? formatCct(colour.cctK) : `x ${colour.x.toFixed(3)}, y ${colour.y.toFixed(3)}`;
}

function colourChange(from: Source['colour'], to: Source['colour']): string {
  const words = `colour ${colourWords(from)} to ${colourWords(to)}`;
  if (!from || !to || !('cctK' in from) || !('cctK' in to)) return words;
  const mired = 1e6 / to.cctK - 1e6 / from.cctK;
  // The same temperature with another Duv is another colour still.
  return Math.abs(mired) < 0.5 ? `${words}, Duv ${from.duv ?? 0} to ${to.duv ?? 0}` : `${words}, ${formatMired(mired)}`;
}

/** Parts of the scene's own naming in crew's words; others are told by that name. */
const PART_WORDS: Readonly<Record<string, string>> = {
  unit: 'lamp type',
  symbol: 'symbol',
  emitter: 'size of the source',
  distribution: 'beam',
  output: 'output',
  basis: 'what the level rests on',
  kitId: 'kit entry',
  power: 'power',
  control: 'control',
  stand: 'stand',
  notes: 'notes',
  locked: 'lock',
  hidden: 'shown or hidden',
  frame: 'frame',
  role: 'role',
  angularDiameterDeg: 'size of the sun',
  normalIlluminanceLx: 'level of the sun',
};

const MINUTE_DEG = 0.05;
function turnWords(parts: readonly (readonly [deg: number, more: string, less: string])[]): string {
  return listed(
    parts.flatMap(([deg, more, less]) =>
      Math.abs(deg) < MINUTE_DEG ? [] : [`${formatAngle(Math.abs(deg))} ${deg > 0 ? more : less}`],
    ),
  );
}

function levelWords(from: number, to: number): string {
  if (to === 0) return 'dimmed out';
  const shares = `${formatPercent(from)} to ${formatPercent(to)}`;
  if (from === 0) return `level ${shares}`;
  const stops = Math.log2(to / from);
  if (formatStops(stops) === '0') return `level ${shares}, under 1/6 stop`;
  return `level ${shares}, ${formatStops(stops)} ${Math.abs(stops) < 7 / 6 ? 'stop' : 'stops'}`;
}

/** One change, as the end of a sentence that begins with the thing. */
export function changeWords(change: Change, units: Units): string {
  switch (change.what) {
    case 'moved':
      return `moved ${formatTravel(change.byM, units)}`;
    case 'turned':
      return `turned ${turnWords([
        [change.panDeg, 'clockwise', 'anticlockwise'],
        [change.tiltDeg, 'up', 'down'],
        [change.rollDeg, 'of roll clockwise', 'of roll anticlockwise'],
      ])}`;
    case 'sunMoved':
      return `stands ${turnWords([
        [change.altitudeDeg, 'higher', 'lower'],
        [change.azimuthDeg, 'clockwise', 'anticlockwise'],
      ])}`;
    case 'switched':
      return change.isOn ? 'switched on' : 'switched off';
    case 'level':
      return levelWords(change.from, change.to);
    case 'colour':
      return colourChange(change.from, change.to);
    case 'putOn':
      return `${accessoryWords(change.accessory)} put on`;
    case 'takenOff':
      return `${accessoryWords(change.accessory)} taken off`;
    case 'reset': {
      const [from, to] = [accessoryWords(change.from), accessoryWords(change.to)];
      return from === to ? `${to} set otherwise` : `${from} changed for ${to}`;
    }
    case 'material':
      return change.from.kind === change.to.kind && materialWords(change.from) === materialWords(change.to)
        ? `${materialWords(change.to)} of another grade`
        : `${materialWords(change.from)} changed for ${materialWords(change.to)}`;
    case 'shape':
      return `size ${shapeWords(change.from, units)} to ${shapeWords(change.to, units)}`;
    case 'renamed':
      return `was called ${change.from}`;
    case 'other':
      return `other ${listed(change.parts.map((part) => PART_WORDS[part] ?? part))}`;
  }
}

/** What differs with one thing: one line where it came or went, else one a change. */
export function thingLines({ idBefore, idAfter, changes }: SetupChange, units: Units): string[] {
  if (idBefore === null) return ['put in'];
  if (idAfter === null) return ['taken out'];
  return changes.map((change) => changeWords(change, units));
}
