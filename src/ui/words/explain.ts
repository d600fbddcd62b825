/** Each figure of the judgement in one plain sentence: what it is, what the sun does, what mends it. */
import type { SunCheck, SunFigure, UncertainInput } from '../../sim/results';
import { listed } from './format';
import type { FigureRow } from './figures';

interface Explained {
  /** What the figure is, to stand before "here ...". */
  readonly what: string;
  readonly sun: string;
  readonly mends: string;
}

const WINDOWS = {
  what: 'How far two windows disagree about where their light comes from',
  sun: 'comes the same way through both',
  mends: 'one lamp for both windows, or lamps set parallel and far off, mend it',
};
const LEVEL = { sun: 'has no level of its own here', mends: 'the lamp’s level, or the room’s, mends it' };
const COLOUR = { sun: 'sets the colour that is asked for', mends: 'gel or the lamp’s own colour mends it' };

const EXPLAINED: Partial<Record<SunFigure, Explained>> = {
  falloffStops: {
    what: 'How much hotter the hot end of the patch is than the cold end',
    sun: 'is so far away that it has none',
    mends: 'more throw, nets in from the hot end, a half scrim or feathering mend it',
  },
  apparentDistanceM: {
    what: 'How far away a bare point would stand that falls off as much',
    sun: 'is beyond measuring',
    mends: 'whatever mends the fall-off lengthens it',
  },
  lineFanDeg: {
    what: 'How far the shadow lines run apart on the surface',
    sun: 'keeps them parallel',
    mends: 'only more throw, or a window square to the wall, mends it',
  },
  fanDeg: {
    what: 'How far the light’s direction turns from one end of the patch to the other',
    sun: 'comes from one direction',
    mends: 'only more throw mends it',
  },
  edgeRatio: {
    what: 'How wide a shadow’s edge is against the sun’s edge in the same place',
    sun: 'has 1, by its own half degree',
    mends: 'a smaller lens or more throw crispens it; a larger source softens it',
  },
  stepStopsPer10cm: {
    what: 'The sharpest change within a hand’s width that no window explains',
    sun: 'throws no such line',
    mends: 'the net or scrim nearer to the lamp blends it',
  },
  fill: {
    what: 'How much of the opening the beam fills, down to a tenth of its peak',
    sun: 'fills all of it',
    mends: 'a wider beam, more throw or a better aim mends it',
  },
  shadowCount: {
    what: 'How many shadows a thing in this light throws',
    sun: 'throws one',
    mends: 'flag the other lamp off the patch, take it down or make it larger',
  },
  altitudeOffDeg: {
    what: 'How much higher the light comes in than the story’s sun stands',
    sun: 'stands where the hour puts it',
    mends: 'raise or lower the lamp, or change the hour',
  },
  windowSpreadDeg: WINDOWS,
  windowLevelStops: {
    what: 'How far the patches of two windows differ in level',
    sun: 'lights both alike',
    mends: 'trim the lamps to each other, or light both windows with one',
  },
  cctOffMired: { what: 'How far the colour is from the sun’s at this height, warm or blue', ...COLOUR },
  duvOff: { what: 'How far the colour is from the sun’s at this height, green or pink', ...COLOUR },
  hazeDeg: {
    what: 'How far the sides of the shaft spread in the haze, from above or from the side',
    sun: 'has sides that stay parallel',
    mends: 'only more throw, or a narrower opening, mends it',
  },
  growthNear: {
    what: 'How much larger a bar’s shadow is than the bar, where it grows least',
    sun: 'throws it at its true size',
    mends: 'more throw mends it',
  },
  growthFar: {
    what: 'How much larger a bar’s shadow is than the bar, where it grows most',
    sun: 'throws it at its true size',
    mends: 'more throw mends it',
  },
  overAmbienceStops: { what: 'How far the patch stands over the room without the lamp', ...LEVEL },
  overKeyStops: { what: 'How bright the surface looks against mid-grey at key', ...LEVEL },
};

/** The sentence under a chosen figure; one that has no value says why. Empty for what needs no words. */
export function explainFigure(row: Pick<FigureRow, 'key' | 'text' | 'unit' | 'reason' | 'remark'>): string {
  const found = EXPLAINED[row.key];
  if (!found) return '';
  if (row.reason !== null) return `${found.what}: not judged here, ${row.reason}.`;
  const unit = ['stops', 'mired'].includes(row.unit) ? ` ${row.unit}` : '';
  const remark = row.remark === null ? '' : `, ${row.remark}`;
  return `${found.what}: here ${row.text}${unit}${remark}; the sun ${found.sun}; ${found.mends}.`;
}

const INPUT_WORDS: Readonly<Record<UncertainInput, string>> = {
  place: 'the lamp’s place, ±\u20095\u2009cm',
  beam: 'the beam’s angle and shape',
  emitter: 'the size of the lens',
  nets: 'the nets’ real grade, ±\u20090.1 stop',
  otherLamps: 'the levels of the other lamps, ±\u20091 stop',
  lampColour: 'the lamp’s colour, ±\u20095\u2009%',
  sunColour: 'the sun’s colour, ±\u200910\u2009%',
};

/** How sure the verdict is, and what would change it; null where there is no verdict. */
export function confidenceWords({ confidence, doubts }: Pick<SunCheck, 'confidence' | 'doubts'>): string | null {
  if (confidence === null) return null;
  const inputs = listed(doubts.map((input) => INPUT_WORDS[input]));
  if (confidence === 'sure') return 'Sure: no input could change the class within what is known of it.';
  const word = confidence === 'likely' ? 'Likely' : 'Unsure';
  return `${word}: ${inputs} could change the class. Measure or set ${doubts.length > 1 ? 'them' : 'it'} to be sure.`;
}
