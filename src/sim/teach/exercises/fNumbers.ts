import { axisOutput, lawOnAxis } from '../axisOutput';
import { axisMarks, axisReader, curveOf, ladder, stopsLost } from '../bench';
import type { Bench, Exercise, Judgement, Reveal, Round } from '../lesson';
import { compileScene } from '../../solve/compileScene';
import { tStopForIlluminance } from '../../exposure/exposure';
import { formatTStop } from '../../../scene/units/format';

const SETUP = 'open-face';
const LAMP = 'l1';
/** Full stops of a lens (series of ISO 517), here as distances in metres. */
export const MARKS_M = [1, 1.4, 2, 2.8, 4, 5.6, 8, 11] as const;
const FROM_M = 2;
/** Nearer than this to the answer in stops is right: a meter's third. */
const NEAR_ENOUGH_STOPS = 0.34;
/** Nearer than this to one stop, by the light at the guessed place. */
const ONE_STOP_WITHIN = 0.1;

const nearestMark = (value: number): number =>
  MARKS_M.reduce((best, mark) => (Math.abs(mark - value) < Math.abs(best - value) ? mark : best));
const marksBetween = (fromM: number, toM: number): number =>
  MARKS_M.indexOf(nearestMark(toM) as (typeof MARKS_M)[number]) -
  MARKS_M.indexOf(nearestMark(fromM) as (typeof MARKS_M)[number]);

function judgeCount(guess: number, lost: number, toM: number, bench: Bench): Judgement {
  const near = (value: number): boolean => Math.abs(guess - value) <= NEAR_ENOUGH_STOPS;
  const marks = marksBetween(FROM_M, toM);
  if (near(lost)) {
    return {
      isRight: true,
      reason: `Each mark back is one stop, and you crossed ${marks}. The light says ${bench.say.stops(lost)}.`,
    };
  }
  if (near(2 * lost)) {
    return {
      isRight: false,
      reason: `Two stops are a doubling, and that takes two marks. One mark is one stop: ${marks}.`,
    };
  }
  if (near(lost / 2)) {
    return {
      isRight: false,
      reason:
        'You counted a stop for each doubling of the distance. A doubling is two stops, for the light spreads both ways.',
      misconception: 'doubling-is-one-stop',
    };
  }
  if (near(toM / FROM_M)) {
    return {
      isRight: false,
      reason: `${bench.say.length(toM)} is ${(toM / FROM_M).toFixed(1)} times as far; that is a ratio, not stops. Count the marks: ${marks}.`,
    };
  }
  if (near(0))
    return { isRight: false, reason: 'The level does change: square on, only the same distance gives the same level.' };
  return {
    isRight: false,
    reason: `Count the marks of the lens barrel between the two distances: ${marks}, one stop each.`,
  };
}

function count(bench: Bench): Round {
  const { document, say } = bench;
  const toM = nearestMark(bench.value);
  const level = axisReader(document, SETUP, LAMP);
  const lost = stopsLost(level(FROM_M), level(toM));
  return {
    id: 'count',
    question: `The meter walks from ${say.length(FROM_M)} to ${say.length(toM)}. How many stops darker is it there? Read the distances as if they stood on a lens: 2, 2.8, 4, 5.6, 8.`,
    ask: {
      kind: 'number',
      label: 'Stops darker',
      quantity: 'stops',
      right: lost,
      judge: (guess) => judgeCount(guess, lost, toM, bench),
    },
    reveal: () => countReveal(bench, level, toM, lost),
  };
}

function countReveal({ document, say }: Bench, level: (m: number) => number, toM: number, lost: number): Reveal {
  const law = lawOnAxis(axisOutput(compileScene(document, SETUP), LAMP));
  const marks = MARKS_M.filter((mark) => mark >= FROM_M && mark <= Math.max(toM, 8));
  const stopAt = (distanceM: number): string => formatTStop(tStopForIlluminance(level(distanceM), document.camera));
  return {
    words: [
      `${say.lux(level(FROM_M))} at ${say.length(FROM_M)}, ${say.lux(level(toM))} at ${say.length(toM)}: ${say.stops(lost)}. The camera would go from ${stopAt(FROM_M)} to ${stopAt(toM)}.`,
      'The marks are cut short (1.4 for 1.414), so single steps come out at 0.97 and 1.03; on the meter that is a stop.',
    ],
    rows: marks.map((mark) => ({
      words: say.length(mark),
      quantity: 'illuminance',
      computed: level(mark),
      law: law(mark),
    })),
    lawWords: 'candela / distance²',
    chart: {
      along: 'length',
      alongWords: 'Distance from the lamp',
      firstView: 'stops',
      series: [
        { id: 'curve', name: 'this lamp', kind: 'curve', points: curveOf(ladder(0.8, 12, 48), level) },
        { id: 'dots', name: 'marks', kind: 'dots', points: curveOf(marks, level) },
      ],
    },
  };
}

/** Where on the axis the light is `stops` over its level at `fromM`, nearer than that; by bisection. */
function placeOf(level: (m: number) => number, fromM: number, stops: number): number {
  const wantedLx = level(fromM) * 2 ** stops;
  let [near, far] = [fromM / 8, fromM];
  for (let step = 0; step < 50; step++) {
    const middle = (near + far) / 2;
    if (level(middle) > wantedLx) near = middle;
    else far = middle;
  }
  return (near + far) / 2;
}

function oneStopNearer(bench: Bench): Round {
  const { document, say } = bench;
  const fromM = nearestMark(bench.value);
  const level = axisReader(document, SETUP, LAMP);
  const rightM = placeOf(level, fromM, 1);
  const judge = (guessM: number): Judgement => {
    if (!(guessM > 0)) return { isRight: false, reason: 'A distance is above 0.' };
    const gained = stopsLost(level(guessM), level(fromM));
    const said = `At ${say.length(guessM)} you gain ${say.stops(gained)}`;
    if (guessM >= fromM)
      return {
        isRight: false,
        reason: `${say.length(guessM)} is not nearer: ${gained < -0.01 ? `it is ${say.stops(gained)} darker` : 'it is the same place'}.`,
      };
    if (Math.abs(gained - 1) <= ONE_STOP_WITHIN) {
      return {
        isRight: true,
        reason: `${said}. One mark in: 0.71 of the distance.`,
      };
    }
    if (Math.abs(guessM / fromM - 0.75) < 0.012) {
      return {
        isRight: false,
        reason: `"A quarter closer" is in print, but it is not a stop. ${said}. A stop takes 0.71 of the distance.`,
        misconception: 'quarter-closer-doubles',
      };
    }
    if (Math.abs(guessM / fromM - 0.5) < 0.02) {
      return {
        isRight: false,
        reason: `${said}: half the distance is two stops, four times the light.`,
        misconception: 'doubling-is-one-stop',
      };
    }
    return { isRight: false, reason: `${said}. Go one mark in: ${say.length(rightM)}.` };
  };
  return {
    id: 'one-stop-nearer',
    question: `The meter stands at ${say.length(fromM)}. The camera wants one stop more. How far from the lamp do you go?`,
    ask: { kind: 'number', label: 'Distance from the lamp', quantity: 'length', right: rightM, judge },
    reveal: () => {
      const law = lawOnAxis(axisOutput(compileScene(document, SETUP), LAMP));
      const places = [
        ['half the distance', fromM / 2],
        ['one mark in, 0.71', rightM],
        ['a quarter closer', 0.75 * fromM],
        ['where you stood', fromM],
        ['a quarter farther', 1.25 * fromM],
        ['one mark back, 1.41', Math.SQRT2 * fromM],
      ] as const;
      const base = level(fromM);
      return {
        words: [
          `One stop more is at ${say.length(rightM)}. A quarter closer gives ${say.stops(stopsLost(level(0.75 * fromM), base))}, a quarter farther takes ${say.stops(stopsLost(base, level(1.25 * fromM)))}.`,
        ],
        rows: places.map(([words, distanceM]) => ({
          words: `${words}: ${say.length(distanceM)}`,
          quantity: 'stops',
          computed: Math.log2(level(distanceM) / base),
          law: Math.log2(law(distanceM) / law(fromM)),
        })),
        lawWords: '2 log2 of the distances’ ratio',
        chart: {
          along: 'length',
          alongWords: 'Distance from the lamp',
          firstView: 'stops',
          series: [
            { id: 'curve', name: 'this lamp', kind: 'curve', points: curveOf(ladder(fromM / 3, 2 * fromM, 40), level) },
            {
              id: 'dots',
              name: 'places',
              kind: 'dots',
              points: curveOf(
                places.map(([, m]) => m),
                level,
              ),
            },
          ],
        },
      };
    },
  };
}

export const fNumbers: Exercise = {
  id: 'f-numbers',
  title: 'F-numbers as distances',
  base: 'drill-hall',
  needs: [{ setupId: SETUP, sourceIds: [LAMP] }],
  misconceptions: ['doubling-is-one-stop', 'quarter-closer-doubles'],
  look: 'The marks of a lens double as distances: 2, 2.8, 4, 5.6, 8 metres, or feet, or paces. Count them as you walk.',
  slider: {
    words: 'Walk to',
    quantity: 'length',
    least: 2.8,
    most: 8,
    step: 0.1,
    first: 5.6,
    rests: MARKS_M.slice(3, 7),
  },
  build: (document) => ({ document, setupId: SETUP }),
  view: 'side',
  marks: (bench) =>
    axisMarks(
      bench,
      SETUP,
      LAMP,
      MARKS_M.filter((mark) => mark >= FROM_M && mark <= nearestMark(bench.value)),
    ),
  roundCount: 2,
  rounds: (bench) => [count(bench), oneStopNearer(bench)],
  takeAway: 'Read the f-numbers as distances: one mark back is one stop down, 0.71 in is one stop up.',
  caution: 'Walk with the meter in front of you and the cable behind; no looking into the lamp.',
};
