/** Mends in the words of the panel: what each is called, and its figures before and after. */
import type { Mend, MendFigures, MendKind } from '../../sim/mends/mend';
import { fixed } from './format';

export const MEND_WORDS: Readonly<Record<MendKind, string>> = {
  backOff: 'Back off',
  swing: 'Swing',
  feather: 'Feather',
  halfScrim: 'Half scrim',
  staggeredNets: 'Stagger nets',
  mirror: 'Mirror',
  narrowerSpot: 'Narrower spot',
};

export interface MendFigure {
  readonly key: keyof MendFigures;
  readonly name: string;
  readonly unit: string;
  readonly before: string;
  readonly after: string;
}

type Described = Pick<MendFigure, 'key' | 'name' | 'unit'> & { readonly text: (value: number) => string };
const FIGURES: readonly Described[] = [
  { key: 'falloffStops', name: 'Fall-off', unit: 'stops', text: (value) => fixed(value, 2) },
  { key: 'lineFanDeg', name: 'Line fan', unit: '', text: (value) => `${fixed(value, 0)}°` },
  { key: 'stepStopsPer10cm', name: 'Step', unit: '/10 cm', text: (value) => fixed(value, 2) },
  { key: 'edgeRatio', name: 'Edge', unit: 'width', text: (value) => `×${fixed(value, 1)}` },
];

const said = (value: number | null, text: (value: number) => string): string => (value === null ? '-' : text(value));

/** Figures of the worst surface before and after a mend. */
export const mendFigures = (before: MendFigures, after: MendFigures): MendFigure[] =>
  FIGURES.map(({ key, name, unit, text }) => ({
    key,
    name,
    unit,
    before: said(before[key], text),
    after: said(after[key], text),
  }));

/** Light that a mend costs, to a tenth as its own sentence says it: "costs 1.5 stops", "gains 0.4 stop". */
export function costWords(costStops: number): string {
  const tenths = fixed(Math.abs(costStops), 1);
  if (tenths === '0.0') return 'costs no light';
  const amount = Number(tenths) > 1 ? `${tenths} stops` : `${tenths} stop`;
  return costStops > 0 ? `costs ${amount}` : `gains ${amount}`;
}

/** "2 hands, 15 min" */
export const workWords = ({ hands, minutes }: { readonly hands: number; readonly minutes: number }): string =>
  `${hands === 1 ? '1 hand' : `${hands} hands`}, ${fixed(minutes, 0)}\u2009min`;

/** The order without what it leaves and costs, which stand beside it as figures: "Back off to 13.5 m, lens at 3.4 m". */
export const orderWords = ({ sentence }: Pick<Mend, 'sentence'>): string =>
  sentence.split(/: (?:leaves|no use)/)[0] ?? sentence;
