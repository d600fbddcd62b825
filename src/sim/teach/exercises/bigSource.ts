import type { Emitter } from '../../../scene/schema';
import { rectangleFactorParallel } from '../../photometry/closedForms';
import { compileScene } from '../../solve/compileScene';
import { axisOutput, lawOnAxis } from '../axisOutput';
import { axisMarks, axisReader, choicesAmong, curveOf, ladder, lampOf, stopsApart, stopsLost } from '../bench';
import type { Bench, Exercise, Judgement, Round } from '../lesson';

const SETUP = 'soft-square';
const LAMP = 'l1';
/** Between these over-readings of the law a distance is a good answer to "from where does it hold". */
const LAW_HOLDS = { most: 0.015, needless: 0.004 };

/** Widest size of a face: a rectangle's diagonal, a disc's diameter; m. */
function widestM(emitter: Emitter): number {
  if (emitter.shape === 'rectangle') return Math.hypot(emitter.widthM, emitter.heightM);
  if (emitter.shape === 'point') return 0;
  return emitter.shape === 'tube' ? emitter.lengthM : emitter.diameterM;
}

/** Level before the middle of a rectangle by closed form, four corner rectangles; null for other shapes. */
function faceLaw(emitter: Emitter, candela: number): ((distanceM: number) => number) | null {
  if (emitter.shape !== 'rectangle') return null;
  const { widthM, heightM } = emitter;
  const luminance = candela / (widthM * heightM);
  return (distanceM) => Math.PI * luminance * 4 * rectangleFactorParallel(widthM / 2, heightM / 2, distanceM);
}

function readings({ document }: Bench) {
  const lamp = lampOf(document, SETUP, LAMP);
  const level = axisReader(document, SETUP, LAMP);
  const output = axisOutput(compileScene(document, SETUP), LAMP);
  const law = lawOnAxis(output);
  const overReads = (distanceM: number): number => law(distanceM) / level(distanceM) - 1;
  return { lamp, level, law, overReads, face: faceLaw(lamp.emitter, output.candela) };
}

function backOff(bench: Bench): Round {
  const { value, say } = bench;
  const { level, law, face, overReads } = readings(bench);
  const lost = stopsLost(level(value), level(2 * value));
  const isLaw = Math.abs(lost - 2) < 0.03;
  const answer = (id: string, stops: number, words: string, reason: string) => ({ id, value: stops, words, reason });
  return {
    id: 'back-off',
    question: `A soft square, ${say.length(value)} away, gives ${say.lux(level(value))}. You back off to ${say.length(2 * value)}. How much does it lose?`,
    ask: {
      kind: 'choice',
      choices: choicesAmong(
        answer(
          'right',
          lost,
          say.stops(lost),
          isLaw
            ? 'So far off, the big face is a point like any other: two stops.'
            : 'Up close the edges of the face are farther off than its middle and shine at a slant, so near readings are lower than the law says, and the fall is gentler.',
        ),
        [
          {
            ...answer(
              'law',
              2,
              'two stops, by the law',
              `The law is for a point. At ${say.length(value)} it says ${say.percent(overReads(value))} more than the meter reads.`,
            ),
            misconception: 'law-at-any-distance',
          },
          {
            ...answer(
              'none',
              0.05,
              'next to nothing: soft light does not fall off',
              'It does, once you are a face’s width or two away. Soft means soft shadows, not an even level.',
            ),
            misconception: 'soft-does-not-fall-off',
          },
          answer(
            'one',
            1,
            'one stop, half the light',
            'One stop per doubling is for a long line of light. This face is as high as it is wide.',
          ),
          answer(
            'more',
            3,
            'three stops',
            'Nothing falls off faster than the law on its axis; a big face falls more gently.',
          ),
        ],
        stopsApart,
      ),
    },
    reveal: () => {
      const marks = [value, 2 * value, 4 * value];
      const at = ladder(0.3, 12, 48);
      return {
        words: [
          `${say.lux(level(value))} at ${say.length(value)}, ${say.lux(level(2 * value))} at ${say.length(2 * value)}, ${say.lux(level(4 * value))} at ${say.length(4 * value)}: first ${say.stops(lost)}, then ${say.stops(stopsLost(level(2 * value), level(4 * value)))}.`,
          'On the log-log chart the curve lies down near the lamp and joins the straight line of the law farther off.',
        ],
        rows: marks.map((m) => ({
          words: say.length(m),
          quantity: 'illuminance',
          computed: level(m),
          law: (face ?? law)(m),
        })),
        lawWords: face ? 'closed form of the face' : 'candela / distance²',
        chart: {
          along: 'length',
          alongWords: 'Distance from the lamp',
          firstView: 'logLog',
          series: [
            { id: 'curve', name: 'this lamp', kind: 'curve', points: curveOf(at, level) },
            { id: 'law', name: 'the law', kind: 'law', points: curveOf(at, law) },
            { id: 'dots', name: 'read', kind: 'dots', points: curveOf(marks, level) },
          ],
        },
      };
    },
  };
}

function fiveTimes(bench: Bench): Round {
  const { say } = bench;
  const { lamp, level, law, overReads } = readings(bench);
  const wideM = widestM(lamp.emitter);
  const judge = (guessM: number): Judgement => {
    if (!(guessM > 0)) return { isRight: false, reason: 'A distance is above 0.' };
    const over = overReads(guessM);
    const said = `At ${say.length(guessM)} the law says ${say.percent(over)} more than the meter reads`;
    if (over > LAW_HOLDS.most) {
      return {
        isRight: false,
        reason: `${said}. Five times the widest size, corner to corner, is ${say.length(5 * wideM)}.`,
        misconception: 'law-at-any-distance',
      };
    }
    if (over < LAW_HOLDS.needless)
      return {
        isRight: false,
        reason: `True there, but you walked farther than you need: ${said.replace('At', 'at')}. ${say.length(5 * wideM)} will do.`,
      };
    return { isRight: true, reason: `${said}. Five times the widest size is ${say.length(5 * wideM)}.` };
  };
  return {
    id: 'five-times',
    question: `The face is ${say.length(wideM)} from corner to corner. From how far away may you trust the law to one part in a hundred?`,
    ask: { kind: 'number', label: 'Distance from the face', quantity: 'length', right: 5 * wideM, judge },
    reveal: () => {
      const times = [1, 2, 3, 5, 10];
      return {
        words: [
          `Five times the widest size is ${say.length(5 * wideM)}: there the law over-reads by ${say.percent(overReads(5 * wideM))}. At one size it over-reads by ${say.percent(overReads(wideM))}.`,
          `A candela figure taken at 1 m would be ${say.candela(level(1))}; taken at ${say.length(5 * wideM)} it is ${say.candela(level(5 * wideM) * (5 * wideM) ** 2)}.`,
        ],
        rows: times.map((time) => ({
          words: `${time} x, ${say.length(time * wideM)}`,
          quantity: 'percent',
          computed: overReads(time * wideM),
          law: overByFace(lamp.emitter, time * wideM),
        })),
        lawWords: 'closed form: how much the law over-reads',
        chart: {
          along: 'length',
          alongWords: 'Distance from the lamp',
          firstView: 'logLog',
          series: [
            { id: 'curve', name: 'this lamp', kind: 'curve', points: curveOf(ladder(0.3, 20, 48), level) },
            { id: 'law', name: 'the law', kind: 'law', points: curveOf(ladder(0.3, 20, 48), law) },
            {
              id: 'dots',
              name: 'times its size',
              kind: 'dots',
              points: curveOf(
                times.map((time) => time * wideM),
                level,
              ),
            },
          ],
        },
      };
    },
  };
}

/** Over-reading of the law before a rectangle, from the closed form alone. */
function overByFace(emitter: Emitter, distanceM: number): number | null {
  const face = faceLaw(emitter, 1);
  return face && 1 / distanceM ** 2 / face(distanceM) - 1;
}

export const bigSource: Exercise = {
  id: 'big-source',
  title: 'A big source up close',
  base: 'drill-hall',
  needs: [{ setupId: SETUP, sourceIds: [LAMP] }],
  misconceptions: ['soft-does-not-fall-off', 'law-at-any-distance'],
  look: 'A soft mat, 1.2 by 1.2 m. The meter starts within reach of it and backs away.',
  slider: { words: 'First reading at', quantity: 'length', least: 0.5, most: 6, step: 0.1, first: 1 },
  build: (document) => ({ document, setupId: SETUP }),
  view: 'side',
  marks: (bench) => axisMarks(bench, SETUP, LAMP, [bench.value, 2 * bench.value]),
  roundCount: 2,
  rounds: (bench) => [backOff(bench), fiveTimes(bench)],
  takeAway: 'Within five times its widest size a soft source falls off more gently than the law; beyond, it obeys.',
  caution: 'A soft mat on a stand is a sail: two bags, and somebody at the stand near doors and outdoors.',
};
